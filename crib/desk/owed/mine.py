"""How do I show that this one is mine? What is on record that shows it, and what is missing."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from crib.desk import lookup
from crib.desk.asking.ask import Asker, FoundItem
from crib.desk.dates import today
from crib.desk.owed import evidence
from crib.desk.owed.evidence import Proof
from crib.desk.owed.worth import CameFrom, Value, came_from, values
from crib.store import papers
from crib.store.filters import Filters
from crib.store.read import Reader, reading
from crib.store.rows import ItemRow
from crib.store.search import compact, query_tokens

MOST_ALIKE = 200

# what shows ownership, the strongest first (common practice); 32 CFR 751.9(c) asks claimants for the like
STRENGTH = (
    "a receipt in its owner's name",
    "a photo that shows its mark, with a day",
    "a statement of the giver, or of somebody who has seen it for years",
    "a list that names it, filed before anything happened",
    "a mark or serial number on record",
    "a line in the ledger: brought in, and somebody told",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One thing that shows whose it is.

    Attributes:
        what: in words.
        strength: 1 is the strongest; its place in STRENGTH.
        on: its day.
        number: of the evidence.
    """

    what: str
    strength: int
    on: date | None
    number: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mine:
    """What shows whose a tool is.

    Attributes:
        item: the tool.
        marks: every mark and number of it, and its owner's mark.
        origin: how it was come by.
        shown: what is on record, the strongest first.
        missing: what would show it better, the strongest first.
        alike: other tools on record with the same mark: mind.
        values: of one piece.
    """

    item: FoundItem
    marks: tuple[str, ...]
    origin: CameFrom | None
    shown: tuple[Shown, ...]
    missing: tuple[str, ...]
    alike: tuple[str, ...]
    values: tuple[Value, ...]


def mine(address: str, tag: str) -> Mine:
    """Tell what shows whose a tool is, and what is missing.

    Raises:
        UnknownName: no such tool.
    """
    with reading(address) as reader:
        row = lookup.item(reader, tag)
        proofs = [
            evidence.shown(one, row.tag)
            for one in papers.proofs(reader, item_ids=[row.id])
            if one.withdrawn_at is None
        ]
        shown = sorted(_shown(reader, row, proofs), key=lambda one: (one.strength, one.on or date.max))
        there = {one.strength for one in shown}
        return Mine(
            item=Asker(reader).shown(row),
            marks=tuple(_marks(row)),
            origin=came_from(reader, [row.id]).get(row.id),
            shown=tuple(shown),
            missing=tuple(what for n, what in enumerate(STRENGTH, 1) if n not in there),
            alike=tuple(f"{one.tag} ({one.owner})" for one in _alike(reader, row)),
            values=values(reader, [row.id], on=today())[row.id],
        )


def _marks(row: ItemRow) -> Iterable[str]:
    if row.mark:
        yield f"marked {row.mark}"
    if row.serial:
        yield f"serial number {row.serial}"
    if row.owner_mark:
        yield f"{row.owner} marks tools {row.owner_mark}"


def _shown(reader: Reader, row: ItemRow, proofs: Iterable[Proof]) -> Iterable[Shown]:
    for proof in proofs:
        strength = {"receipt": 1, "photo": 2, "statement": 3, "list": 4}.get(proof.kind)
        if proof.kind == "photo" and proof.on is None:
            strength = None
        what = f"{proof.kind} no. {proof.number}" + (f": {proof.says}" if proof.says else "")
        note = ", but without a day" if proof.kind == "photo" and proof.on is None else ""
        yield Shown(
            what=what + note, strength=strength or len(STRENGTH) + 1, on=proof.on, number=proof.number
        )
    if row.mark or row.serial:
        yield Shown(what="; ".join(_marks(row)), strength=5, on=None)
    for line in reader.ledger_of(row.id):
        day = line.at.astimezone().date()
        if line.what == "added":
            whose = f" as {line.to_owner}'s" if line.to_owner else ""
            yield Shown(what=f"taken into these records{whose}", strength=4, on=day)
        elif line.what == "brought in":
            told = f"; {line.told} was told" if line.told else ""
            yield Shown(what=f"brought in to {line.to_place}{told}", strength=6, on=day)


def _alike(reader: Reader, row: ItemRow) -> Iterable[ItemRow]:
    if not row.mark:
        return []
    found = reader.find_items(Filters(tokens=tuple(query_tokens(row.mark)), limit=MOST_ALIKE)).rows
    mark = compact(row.mark)  # T.A and TA look alike on steel
    return [one for one in found if one.id != row.id and one.mark and compact(one.mark) == mark]
