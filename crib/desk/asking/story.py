"""Everything on record about one tool, and what happened to it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from crib.desk import lookup
from crib.desk.asking.ask import Asker, FoundItem
from crib.store.read import Reader, reading
from crib.store.rows import BarRow, BitRow, GaugeRow, HolderRow, InsertRow, ItemRow, LedgerRow, RotaryRow
from crib.units import Kind, show

Detail = HolderRow | BarRow | BitRow | InsertRow | RotaryRow | GaugeRow
# fact -> how it is printed; a kind of quantity, or None for plain text
FACTS: dict[str, Kind | None] = {
    "kapr_deg": Kind.ANGLE,
    "h_mm": Kind.LENGTH,
    "b_mm": Kind.LENGTH,
    "lf_mm": Kind.LENGTH,
    "dmin_mm": Kind.LENGTH,
    "dcon_mm": Kind.LENGTH,
    "reach_mm": Kind.LENGTH,
    "shank_mm": Kind.LENGTH,
    "re_mm": Kind.LENGTH,
    "s_mm": Kind.LENGTH,
    "dc_mm": Kind.LENGTH,
    "rake_deg": Kind.ANGLE,
    "clearance_deg": Kind.ANGLE,
    "inclination_deg": Kind.ANGLE,
    "low_mm": Kind.LENGTH,
    "high_mm": Kind.LENGTH,
    "resolution_mm": Kind.LENGTH,
    "shank_material": None,
    "tool_material": None,
    "application": None,
    "grade": None,
    "chipbreaker": None,
    "cedc": None,
    "what": None,
    "measures": None,
}
FACT_WORDS = {
    "kapr_deg": "entering angle",
    "h_mm": "shank height",
    "b_mm": "shank width",
    "lf_mm": "length",
    "dmin_mm": "smallest bore",
    "dcon_mm": "bar diameter",
    "reach_mm": "reach",
    "shank_mm": "shank",
    "re_mm": "nose radius",
    "s_mm": "thickness",
    "dc_mm": "diameter",
    "rake_deg": "rake",
    "clearance_deg": "clearance",
    "inclination_deg": "inclination",
    "low_mm": "from",
    "high_mm": "to",
    "resolution_mm": "reads to",
    "cedc": "edges each",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerLine:
    """One thing that happened to a tool, in words."""

    at: str
    who: str | None
    what: str
    how_many: int
    edges: int | None
    from_: str | None
    to: str | None
    why: str | None
    told: str | None = None
    act: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemStory:
    """One tool: what is on record of it, and what happened to it, oldest first."""

    item: FoundItem
    facts: tuple[tuple[str, str], ...]
    ledger: tuple[LedgerLine, ...]


def story(address: str, tag: str) -> ItemStory:
    """Tell all about one tool.

    Args:
        address: the store.
        tag: the shop's own number for it, or what else it is called.

    Raises:
        UnknownName: nothing is called so.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        row = lookup.item(reader, tag)
        desk = Asker(reader)
        system = desk.settings.get("units", "metric")
        lines = reader.ledger_of(row.id)
        return ItemStory(
            item=desk.shown(row),
            facts=(*_facts(row, reader.detail(row.id), system), *since(reader, lines)),
            ledger=tuple(_line(line, system) for line in lines),
        )


def since(reader: Reader, lines: Sequence[LedgerRow]) -> Iterable[tuple[str, str]]:
    """Tell since when a tool is where it is, who put it there, and what went with it."""
    undone = {line.corrects_id for line in lines}
    for line in reversed(lines):
        went = line.to_place or line.to_held_by or line.what == "returned"
        if went and line.id not in undone and line.what != "corrected":
            who = f" by {line.actor}" if line.actor else ""
            others = reader.tags_of_act(line.act, but=line.item_id) if line.act else ()
            along = f", together with {', '.join(others)}" if others else ""
            yield "there since", f"{line.at.astimezone().date()}: {line.what}{who}{along}"
            return


def _facts(row: ItemRow, detail: Detail | None, system: str) -> Iterable[tuple[str, str]]:
    for name, kind in FACTS.items():
        value = getattr(detail, name, None)
        if value is not None:
            words = FACT_WORDS.get(name, name.replace("_", " "))
            yield words, str(value) if kind is None else show(value, kind, system)
    if isinstance(detail, GaugeRow):
        yield from _gauge_facts(detail, system)
    if row.lacks:
        yield "missing", row.lacks
    for name, text in (("serial", row.serial), ("in the other system", row.equivalent), ("note", row.note)):
        if text:
            yield name, text


def _gauge_facts(gauge: GaugeRow, system: str) -> Iterable[tuple[str, str]]:
    for rod in gauge.rods:
        owner = f", {rod.owner}'s" if rod.owner and rod.owner != gauge.item.owner else ""
        yield "rod", show(rod.length_mm, Kind.LENGTH, system) + owner + ("" if rod.present else ", MISSING")
    if check := gauge.last_check:
        yield "last check", f"{check.on_date}: {check.result}" + (f", due {check.due}" if check.due else "")
    else:
        yield "last check", "none on record"


def _line(line: LedgerRow, system: str) -> LedgerLine:
    def size(word: str, value: float | None) -> str | None:
        return None if value is None else f"{word} {show(value, Kind.LENGTH, system)}"

    sides = (
        (line.from_place, line.to_place),
        (line.from_held_by, line.to_held_by),
        (line.from_condition, line.to_condition),
        (line.from_owner, line.to_owner),
        (size("diameter", line.from_dc_mm), size("diameter", line.to_dc_mm)),
        (size("length", line.from_lf_mm), size("length", line.to_lf_mm)),
    )
    changed = [side for side in sides if side[0] != side[1]]
    return LedgerLine(
        at=line.at.isoformat(timespec="minutes"),
        who=line.actor,
        what=line.what,
        how_many=line.quantity_change,
        edges=line.edges_change,
        from_=", ".join(side[0] for side in changed if side[0]) or None,
        to=", ".join(side[1] for side in changed if side[1]) or None,
        why=line.why,
        told=line.told,
        act=line.act,
    )
