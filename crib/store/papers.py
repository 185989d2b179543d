"""Reading what proves, values and claims: the papers beside the items. Plain SQL, as in read."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any, NamedTuple, TypeVar

from crib.store.read import Reader, as_day, as_moment


class ProofRow(NamedTuple):
    """What a file is evidence of, and what is known of the file."""

    id: int
    evidence_id: int
    kind: str
    at: datetime
    item_id: int | None
    claim_line_id: int | None
    on_date: date | None
    by: str | None
    says: str | None
    withdrawn_at: datetime | None
    withdrawn_why: str | None
    name: str
    media_type: str
    size: int
    sha256: str


class OriginRow(NamedTuple):
    """How an item was come by."""

    id: int
    item_id: int
    at: datetime
    how: str
    by: str | None
    on_date: date | None
    from_whom: str | None
    maker: str | None
    receipt: str | None
    paid: Decimal | None
    currency: str | None
    note: str | None


class WorthRow(NamedTuple):
    """What one piece of an item is worth, by one basis."""

    id: int
    item_id: int
    at: datetime
    on_date: date
    basis: str
    amount: Decimal
    currency: str
    by: str | None
    life_years: float | None
    source: str | None


class ClaimRow(NamedTuple):
    """One claim."""

    id: int
    number: str
    claimant_id: int
    claimant: str
    payer_id: int
    payer: str
    made_on: date
    currency: str
    state: str
    rules: str | None
    clause: str | None
    place_of_work: str | None
    note: str | None


class ClaimLineRow(NamedTuple):
    """One tool of a claim, as it was entered."""

    id: int
    claim_id: int
    line_no: int
    item_id: int
    event: str
    basis: str
    amount: Decimal
    quantity: int
    ledger_id: int | None
    on_date: date | None
    what_happened: str | None
    job: str | None
    machine: str | None
    seen_by: str | None
    asked_by: str | None
    worked_out: str | None
    old_piece: str | None
    already_had: Decimal | None


class ClaimStepRow(NamedTuple):
    """One thing that happened to a claim, or to one of its lines."""

    id: int
    claim_id: int
    at: datetime
    to_state: str
    claim_line_id: int | None
    on_date: date | None
    amount: Decimal | None
    by: str | None
    to_whom: str | None
    why: str | None
    replacement_item_id: int | None


class SignedRow(NamedTuple):
    """One line of the ledger by which a tool was brought in, or taken home."""

    id: int
    at: datetime
    item_id: int
    place: str
    told: str | None
    act: str | None
    why: str | None


_PROOFS = """SELECT proof.id, evidence_id, proof.kind, proof.at, item_id, claim_line_id, on_date, party.name,
says, withdrawn_at, withdrawn_why, evidence.name, media_type, size, sha256
FROM proof JOIN evidence ON evidence.id = evidence_id LEFT JOIN party ON party.id = proof.by_id
{where} ORDER BY proof.id"""
_CONTENT = "SELECT content FROM evidence WHERE id = :id"
_ORIGINS = """SELECT origin.id, item_id, at, how, party.name, on_date, from_whom, maker, receipt, paid,
currency, origin.note FROM origin LEFT JOIN party ON party.id = by_id {where} ORDER BY origin.id"""
_WORTHS = """SELECT worth.id, item_id, at, on_date, basis, amount, currency, party.name, life_years, source
FROM worth LEFT JOIN party ON party.id = by_id {where} ORDER BY on_date, worth.id"""
_CLAIMS = """SELECT claim.id, number, claimant_id, claimant.name, payer_id, payer.name, made_on,
currency, state, rules, clause, place_of_work, claim.note
FROM claim JOIN party AS claimant ON claimant.id = claimant_id JOIN party AS payer ON payer.id = payer_id
{where} ORDER BY claim.id"""
_CLAIM_LINES = """SELECT id, claim_id, line_no, item_id, event, basis, amount, quantity, ledger_id, on_date,
what_happened, job, machine, seen_by, asked_by, worked_out, old_piece, already_had
FROM claim_line {where} ORDER BY claim_id, line_no"""
_CLAIM_STEPS = """SELECT claim_step.id, claim_id, at, to_state, claim_line_id, on_date, amount, party.name,
to_whom, why, replacement_item_id FROM claim_step LEFT JOIN party ON party.id = by_id
{where} ORDER BY claim_step.id"""

_SIGNED = """SELECT line.id, line.at, line.item_id, place.path, line.told, line.act, line.why
FROM ledger AS line LEFT JOIN place ON place.id = line.to_place_id WHERE line.what = :what ORDER BY line.id"""

_FEWER = """SELECT DISTINCT line.item_id FROM ledger AS line JOIN item ON item.id = line.item_id
WHERE item.owner_id = :owner AND (line.what = 'edge used'
OR (line.what = 'counted' AND (line.quantity_change < 0 OR line.edges_change < 0))) ORDER BY line.item_id"""

_Made = TypeVar("_Made")
# cells that the engines keep in their own ways
_TURNED: Mapping[str, Callable[[Any], object]] = {
    **dict.fromkeys(("on_date", "made_on"), as_day),
    **dict.fromkeys(("at", "withdrawn_at"), as_moment),
    **dict.fromkeys(("amount", "paid", "already_had"), Decimal),
}


def proofs(
    reader: Reader,
    *,
    item_ids: Sequence[int] | None = None,
    line_ids: Sequence[int] | None = None,
    number: int | None = None,
) -> tuple[ProofRow, ...]:
    """Give what is evidence of items or lines of claims, oldest first; withdrawn ones too.

    Args:
        reader: of the store.
        item_ids: of these items.
        line_ids: and of these lines of claims.
        number: the one of that number.
    """
    tests = []
    if item_ids is not None:
        tests.append(_among("item_id", item_ids))
    if line_ids is not None:
        tests.append(_among("claim_line_id", line_ids))
    if number is not None:
        tests.append(f"proof.id = {number:d}")
    where = "WHERE " + " OR ".join(tests) if tests else ""
    return _rows(reader, _PROOFS.format(where=where), ProofRow)


def content(reader: Reader, evidence_id: int) -> bytes:
    """Give the content of a file that is on record."""
    return bytes(reader.ask(_CONTENT, {"id": evidence_id})[0][0])


def origins(reader: Reader, item_ids: Sequence[int] | None = None) -> tuple[OriginRow, ...]:
    """Give how items were come by, the newest entry last; of all items if none are named."""
    return _rows(reader, _ORIGINS.format(where=_of(item_ids)), OriginRow)


def worths(reader: Reader, item_ids: Sequence[int] | None = None) -> tuple[WorthRow, ...]:
    """Give what items are worth, by day, the newest last; of all items if none are named."""
    return _rows(reader, _WORTHS.format(where=_of(item_ids)), WorthRow)


def claims(reader: Reader, number: str = "") -> tuple[ClaimRow, ...]:
    """Give all claims, oldest first, or the one of a number."""
    where = "WHERE lower(number) = :number" if number else ""
    found = reader.ask(_CLAIMS.format(where=where), {"number": number.lower()} if number else {})
    return tuple(_made(ClaimRow, row) for row in found)


def claim_lines(reader: Reader, claim_id: int | None = None) -> tuple[ClaimLineRow, ...]:
    """Give the lines of a claim, or of all."""
    return _rows(reader, _CLAIM_LINES.format(where=_of_claim(claim_id)), ClaimLineRow)


def claim_steps(reader: Reader, claim_id: int | None = None) -> tuple[ClaimStepRow, ...]:
    """Give what happened to a claim, or to all, oldest first."""
    return _rows(reader, _CLAIM_STEPS.format(where=_of_claim(claim_id)), ClaimStepRow)


def signed(reader: Reader, what: str) -> tuple[SignedRow, ...]:
    """Give the lines by which tools were "brought in", or "taken home", oldest first."""
    return tuple(_made(SignedRow, row) for row in reader.ask(_SIGNED, {"what": what}))


def used_or_fewer(reader: Reader, owner_id: int) -> tuple[int, ...]:
    """Give the items of an owner of which edges were used, or a count found fewer than the books had."""
    return tuple(item_id for (item_id,) in reader.ask(_FEWER, {"owner": owner_id}))


def _of(item_ids: Sequence[int] | None) -> str:
    return "" if item_ids is None else "WHERE " + _among("item_id", item_ids)


def _of_claim(claim_id: int | None) -> str:
    return "" if claim_id is None else f"WHERE claim_id = {claim_id:d}"


def _among(column: str, numbers: Sequence[int]) -> str:
    """Test that a column is one of our own row numbers."""
    return f"{column} IN ({', '.join(f'{number:d}' for number in numbers) or 'NULL'})"


def _rows(reader: Reader, text: str, row_type: type[_Made]) -> tuple[_Made, ...]:
    return tuple(_made(row_type, row) for row in reader.ask(text))


def _made(row_type: Any, row: Sequence[Any]) -> Any:
    cells = zip(row_type._fields, row, strict=True)
    return row_type(*(_TURNED[n](v) if v is not None and n in _TURNED else v for n, v in cells))
