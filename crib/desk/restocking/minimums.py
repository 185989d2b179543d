"""How many of what there should be: minimums by code and grade on a site."""

from dataclasses import dataclass
from typing import Any

from crib.desk import lookup
from crib.desk.asking.ask import Asker
from crib.desk.asking.codes import readable
from crib.errors import InputError, NotPossible, UnknownName
from crib.store import stocking
from crib.store.filters import Filters
from crib.store.read import Reader, reading
from crib.store.search import compact, normalise
from crib.store.stocking import MinimumRow
from crib.store.words import COUNTED_IN
from crib.units.money import Money, read_money
from crib.units.spans import read_days

MOST = 1_000_000
LONGEST = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Minimum:
    """How many of a code there should be.

    Attributes:
        id: its number.
        what: the code or name.
        grade: of that grade only; empty for any.
        site: where.
        least: fewer are too few.
        up_to: buy up to this; None for `least`.
        counted_in: pieces or edges.
        lead_days: from order to delivery; None where not told.
        payer: who pays; None where not told. Only the payer's own pieces count then.
        price: what one piece cost last; None where not told.
        note: why it is wanted, and anything else.
    """

    id: int
    what: str
    grade: str
    site: str
    least: int
    up_to: int | None
    counted_in: str
    lead_days: int | None
    payer: str | None
    price: str | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MinimumSaved:
    """A minimum as it is now; `added` where it is new."""

    minimum: Minimum
    added: bool


def minimums(address: str) -> tuple[Minimum, ...]:
    """Give every minimum, by site and code."""
    with reading(address) as reader:
        return tuple(as_minimum(row) for row in stocking.minimums(reader))


def set_minimum(
    address: str,
    code: str,
    *,
    least: int | None = None,
    up_to: int | None = None,
    grade: str = "",
    counted_in: str = "",
    lead: str = "",
    payer: str = "",
    price: str = "",
    site: str = "",
    note: str = "",
) -> MinimumSaved:
    """Set how many of a code there should be; of one that is set, only what is told changes.

    Args:
        address: the store.
        code: a code, a tag of such a tool, or the name under which it is on record.
        least: fewer are too few.
        up_to: buy up to this.
        grade: of that grade only.
        counted_in: pieces or edges; edges for an insert's code and pieces for all else if not told.
        lead: from order to delivery: "5 days", "2 weeks".
        payer: who pays: a name, a mark, company.
        price: of one piece: "8.50 EUR".
        site: where; the site we are at if not told.
        note: anything.

    Raises:
        InputError: a count, span, price or word that can't be.
        UnknownName: no such payer or site.
        NotPossible: which site we are at is not set.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        norm, what, kind = meant(reader, code)
        site_id = _site(reader, site)
        known = _known(reader, norm, grade, site_id)
        if known is None and least is None:
            raise InputError(f"how many of {what} there should be at least is missing", "--least N")
        values: dict[str, Any] = {
            "least": least,
            "up_to": up_to,
            "counted_in": _counted_in(counted_in, kind, new=known is None),
            "lead_days": read_days(lead) if lead else None,
            "payer_id": lookup.party(reader, payer).id if payer else None,
            "note": note or None,
        }
        if price:
            money = read_money(price, reader.settings().get("currency", ""))
            values |= {"price": money.amount, "currency": money.currency}
    given = {name: value for name, value in values.items() if value is not None}
    _check(known, given)
    saved = _save(address, known.id if known else None, norm, what, grade.strip(), site_id, given)
    found = next(one for one in minimums(address) if one.id == saved)
    return MinimumSaved(minimum=found, added=known is None)


def drop_minimum(address: str, code: str, *, grade: str = "", site: str = "") -> Minimum:
    """Ask no longer for a minimum, and give it as it was.

    Raises:
        UnknownName: none is set for that code and grade there.
    """
    from crib.store.models import Minimum as Kept
    from crib.store.writing import writing

    with reading(address) as reader:
        norm, what, _ = meant(reader, code)
        found = _known(reader, norm, grade, _site(reader, site))
        if found is None:
            names = [f"{one.what} {one.grade}".strip() for one in stocking.minimums(reader)]
            raise UnknownName("minimum", f"{what} {grade}".strip(), names[:5])
    with writing(address) as session:
        session.delete(session.get_one(Kept, found.id))
    return as_minimum(found)


def as_minimum(row: MinimumRow) -> Minimum:
    """Put a row as answers show it."""
    price = None if row.price is None else str(Money(row.price, row.currency or "").rounded())
    return Minimum(
        id=row.id,
        what=row.what,
        grade=row.grade,
        site=row.site,
        least=row.least,
        up_to=row.up_to,
        counted_in=row.counted_in,
        lead_days=row.lead_days,
        payer=row.payer,
        price=price,
        note=row.note,
    )


def meant(reader: Reader, code: str) -> tuple[str, str, str | None]:
    """Give what is meant: its normal form as items keep it, how it is shown, the kind of tool if known."""
    typed = " ".join(code.split())
    if not compact(typed):
        raise InputError("no code or tool is named", "a code such as WNMG080408, a tag, or a name")
    if len(typed) > LONGEST:
        raise InputError(f"a code or name of {len(typed)} signs is too long", f"{LONGEST} signs are the most")
    for row in reader.find_items(Filters(tag=typed, limit=1)).rows:
        typed = row.designation or row.label
        return normalise(typed), typed, row.kind
    if read := readable(typed):
        return normalise(read.designation), read.designation, read.kind
    return normalise(typed), typed, None


def _site(reader: Reader, site: str) -> int:
    if not site:
        return Asker(reader).here_or_refuse()
    place = lookup.place(reader, site)
    if place.kind != "site":
        raise NotPossible(f"{place.path} is not a site", "a minimum is set for a whole site")
    return place.id


def _known(reader: Reader, norm: str, grade: str, site_id: int) -> MinimumRow | None:
    same = (norm, grade.strip().lower(), site_id)
    rows = stocking.minimums(reader)
    return next((row for row in rows if (row.norm, row.grade.lower(), row.site_id) == same), None)


def _counted_in(typed: str, kind: str | None, *, new: bool) -> str | None:
    if typed and typed.lower() not in COUNTED_IN:
        raise InputError(f"{typed!r} is nothing to count in", "one of: " + ", ".join(COUNTED_IN))
    usual = "edges" if kind == "insert" else "pieces"
    return typed.lower() or (usual if new else None)


def _check(known: MinimumRow | None, given: dict[str, Any]) -> None:
    least = given.get("least", known.least if known else 0)
    up_to = given.get("up_to", known.up_to if known else None)
    for name, count in (("least", least), ("up_to", up_to)):
        if count is not None and not 0 <= count <= MOST:
            raise InputError(
                f"{count} can't be counted up to", f"--{name.replace('_', '-')} from 0 to {MOST}"
            )
    if up_to is not None and up_to < least:
        raise InputError(
            f"buying up to {up_to} leaves fewer than the least, {least}", "--up-to at least that"
        )


def _save(
    address: str, known: int | None, norm: str, what: str, grade: str, site_id: int, given: dict[str, Any]
) -> int:
    from crib.store.models import Minimum as Kept
    from crib.store.writing import writing

    with writing(address) as session:
        if known is None:
            made = Kept(norm=norm, what=what, grade=grade, site_id=site_id, **given)
            session.add(made)
            session.flush()
            return made.id
        kept = session.get_one(Kept, known)
        for name, value in given.items():
            setattr(kept, name, value)
        return known
