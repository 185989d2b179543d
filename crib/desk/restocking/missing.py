"""What is out of use because a small part is gone, and where that part might be had."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from crib.desk import lookup
from crib.desk.asking.ask import Asker
from crib.errors import InputError, UnknownName
from crib.store import stocking
from crib.store.filters import Filters
from crib.store.read import Reader, reading
from crib.store.rows import GaugeRow, ItemRow, RodRow
from crib.store.search import compact, query_tokens
from crib.store.stocking import SpareRow
from crib.trade.tables import rows
from crib.units import Kind, read, show
from crib.units.counts import many

LONGEST = 120
MOST_SOURCES = 4
MOST_SPARES = 2000
SAME_ROD_mm = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where a part might be had: a spare on record, or another tool that has one; `sure` by its number."""

    tag: str
    label: str
    owner: str
    place: str
    count: int
    on_site: bool
    sure: bool
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lack:
    """A tool that can't be used, and the part that it needs.

    Attributes:
        tag: of the tool.
        label: what it is.
        designation: its code.
        owner: whose.
        place: where.
        on_site: it is here and not lent out.
        part: what is gone.
        code: number of the part; None where not recorded.
        note: anything.
        sources: where one might be had, the surest first.
    """

    tag: str
    label: str
    designation: str | None
    owner: str
    place: str
    on_site: bool
    part: str
    code: str | None
    note: str | None
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """Everything that is out of use for want of a part."""

    verdict: str
    detail: str
    next_step: str
    lacks: tuple[Lack, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of a tool: what, its number, whether it is there."""

    what: str
    code: str | None
    present: bool
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """The parts of one tool, as recorded."""

    tag: str
    label: str
    parts: tuple[Part, ...]


def missing(address: str) -> Missing:
    """Say what can't be used because a part is gone.

    Raises:
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        asker = Asker(reader)
        spares = stocking.spares(reader)
        drawer = reader.find_items(Filters(kinds=("spare",), limit=MOST_SPARES)).rows
        finder = _Finder(reader, asker, spares, drawer)
        lacks = tuple(finder.lacks())
    tools = len({lack.tag for lack in lacks})
    if not lacks:
        step = "crib spare TAG --missing shim records one."
        return Missing(
            verdict="Nothing on record lacks a part.",
            detail="Only parts that were written down are known.",
            next_step=step,
            lacks=(),
        )
    had = sum(bool(lack.sources) for lack in lacks)
    lacking = many(tools, "tool lacks", "tools lack")
    return Missing(
        verdict=f"{lacking} a part; {had} of the {many(len(lacks), 'part')} may be had here.",
        detail="By number it is sure to fit; by name or size alone, look before you fit it.",
        next_step="crib spare TAG --there PART when it is back in.",
        lacks=lacks,
    )


def parts_of(address: str, tag: str) -> Parts:
    """Give the parts of a tool, as recorded.

    Raises:
        UnknownName: no such tool.
    """
    with reading(address) as reader:
        item = lookup.item(reader, tag)
        system = Asker(reader).settings.get("units", "metric")
        own = [row for row in stocking.spares(reader) if row.item_id == item.id]
        parts = [Part(what=row.what, code=row.code, present=row.present, note=row.note) for row in own]
        parts += [
            Part(what=rod_name(rod, system), code=None, present=rod.present, note=None)
            for rod in _rods(reader, item)
        ]
    return Parts(tag=item.tag, label=item.label, parts=tuple(parts))


def set_parts(
    address: str,
    tag: str,
    *,
    missing: Sequence[str] = (),
    there: Sequence[str] = (),
    code: str = "",
    note: str = "",
) -> Parts:
    """Record that parts of a tool are gone, or there; a set's rod is named by its length: "8 in rod".

    Args:
        address: the store.
        tag: the tool.
        missing: parts that are gone.
        there: parts that are there.
        code: number of the part, where one is named.
        note: anything, where one is named.

    Raises:
        InputError: nothing named, a name that is too long, or a number for several parts.
        UnknownName: no such tool, or no rod of that length.
        StoreError: the store can't be used.
    """
    from crib.store.writing import writing

    named = [(_name(what), False) for what in missing] + [(_name(what), True) for what in there]
    if not named:
        raise InputError("which part is meant is missing", "--missing shim, or --there shim")
    if (code or note) and len(named) > 1:
        raise InputError("a number or note goes with one part", "record the parts one by one")
    with reading(address) as reader:
        item = lookup.item(reader, tag)
        rods = _rods(reader, item)
        system = Asker(reader).settings.get("units", "metric")
    with writing(address) as session:
        for what, present in named:
            if rods and what.lower().endswith("rod"):
                _set_rod(session, item.tag, rods, what, present, system)
            else:
                _set_part(session, item.id, what, present, code.strip(), note.strip())
    return parts_of(address, item.tag)


def lacking(reader: Reader) -> dict[int, tuple[str, ...]]:
    """Give what each tool lacks: recorded parts that are gone, and rods that are not there."""
    system = reader.settings().get("units", "metric")
    found: dict[int, list[str]] = {}
    for row in stocking.spares(reader):
        if not row.present:
            found.setdefault(row.item_id, []).append(row.what)
    for gauge in reader.gauges():
        gone = [rod_name(rod, system) for rod in gauge.rods if not rod.present]
        if gone:
            found.setdefault(gauge.item.id, []).extend(gone)
    return {item: tuple(parts) for item, parts in found.items()}


def rod_name(rod: RodRow, system: str) -> str:
    """Give a rod's name: its length in the units of the user."""
    return f"{show(rod.length_mm, Kind.LENGTH, system)} rod"


class _Finder:
    """Finds where missing parts might be had, on one open reader."""

    def __init__(
        self, reader: Reader, asker: Asker, spares: Sequence[SpareRow], drawer: Sequence[ItemRow]
    ) -> None:
        self.reader = reader
        self.asker = asker
        self.spares = spares
        self.drawer = [row for row in drawer if row.quantity and row.condition not in ("damaged", "scrap")]
        self.system = asker.settings.get("units", "metric")

    def lacks(self) -> Iterable[Lack]:
        for row in self.spares:
            item = self.reader.item(row.item_id) if not row.present else None
            if item is not None and item.quantity:
                yield self.lack(item, row.what, row.code, row.note, self.for_part(item, row))
        gauges = self.reader.gauges()
        for gauge in gauges:
            for rod in gauge.rods:
                if not rod.present:
                    yield self.lack(
                        gauge.item, rod_name(rod, self.system), None, None, self.for_rod(gauge, rod, gauges)
                    )

    def lack(
        self, item: ItemRow, part: str, code: str | None, note: str | None, sources: Iterable[Source]
    ) -> Lack:
        ordered = sorted(sources, key=lambda one: (not one.sure, not one.on_site, -len(one.why), one.tag))
        shown = self.asker.shown(item)
        return Lack(
            tag=item.tag,
            label=item.label,
            designation=item.designation,
            owner=item.owner,
            place=item.place,
            on_site=shown.on_site,
            part=part,
            code=code,
            note=note,
            sources=tuple(ordered[:MOST_SOURCES]),
        )

    def for_part(self, item: ItemRow, part: SpareRow) -> Iterable[Source]:
        """Give spares in the drawers that are the part or sound like it, and tools that have the same one."""
        wanted = compact(part.code or "")
        words = set(query_tokens(part.what))
        size = set(query_tokens(f"{item.ic_mm:g}")) if item.ic_mm else set()
        for row in self.drawer:
            if wanted and compact(row.designation or "") == wanted:
                yield self.source(row, row.quantity, sure=True, why="the same number")
                continue
            said = set(query_tokens(f"{row.label} {row.designation or ''}"))
            shapes = _shapes_named(said)
            if words <= said and not (shapes and item.sc and item.sc not in shapes):
                alike = ["the shape of its seat"] * bool(shapes) + ["its size"] * bool(size and size <= said)
                why = "its name, " + " and ".join(alike) if alike else "its name alone"
                yield self.source(row, row.quantity, sure=False, why=why)
        for other in self.spares:
            same = wanted and compact(other.code or "") == wanted
            if same and other.present and other.item_id != item.id:
                holder = self.reader.item(other.item_id)
                if holder is not None and holder.quantity:
                    yield self.source(holder, 1, sure=True, why=f"has the same {other.what} in it")

    def for_rod(self, gauge: GaugeRow, rod: RodRow, gauges: Sequence[GaugeRow]) -> Iterable[Source]:
        """Give sets that have a rod of the same length; whether it screws in is not on record."""
        for other in gauges:
            count = sum(
                one.present and abs(one.length_mm - rod.length_mm) < SAME_ROD_mm for one in other.rods
            )
            if count and other.item.id != gauge.item.id:
                yield self.source(other.item, count, sure=False, why="a rod of the same length")

    def source(self, row: ItemRow, count: int, *, sure: bool, why: str) -> Source:
        on_site = row.site_id == self.asker.site_id and row.held_by is None
        return Source(
            tag=row.tag,
            label=row.label,
            owner=row.owner,
            place=f"{row.place}, lent to {row.held_by}" if row.held_by else row.place,
            count=count,
            on_site=on_site,
            sure=sure,
            why=why,
        )


def _shapes_named(said: set[str]) -> set[str]:
    """Give the insert shapes that words name: trigon, or the corner of a rhombic one, as 55 for D."""
    named = {row["word"]: set(row["shapes"]) for row in rows("shape_word")}
    corners = {row["EPSR_deg"]: {row["code"]} for row in rows("insert_shape") if row["form"] == "rhombic"}
    found = [named[word] for word in said if word in named]
    by_corner = [corners[word] for word in said if word in corners]
    return set().union(*(by_corner or found))


def _rods(reader: Reader, item: ItemRow) -> tuple[RodRow, ...]:
    detail = reader.detail(item.id) if item.kind == "gauge" else None
    return detail.rods if isinstance(detail, GaugeRow) else ()


def _name(what: str) -> str:
    text = " ".join(what.split())
    if not any(sign.isalnum() for sign in text) or len(text) > LONGEST:
        raise InputError("the name of a part is empty or too long", "for example shim, screw, key, 8 in rod")
    return text


def _set_part(session: object, item_id: int, what: str, present: bool, code: str, note: str) -> None:
    from sqlalchemy import func, select
    from sqlalchemy.orm import Session

    from crib.store.models import SparePart

    assert isinstance(session, Session)
    same = (SparePart.item_id == item_id, func.lower(SparePart.what) == what.lower())
    kept = session.scalars(select(SparePart).where(*same)).one_or_none()
    if kept is None:
        kept = SparePart(item_id=item_id, what=what)
        session.add(kept)
    kept.present = present
    kept.code = code or kept.code
    kept.note = note or kept.note


def _set_rod(
    session: object, tag: str, rods: Sequence[RodRow], what: str, present: bool, system: str
) -> None:
    from sqlalchemy.orm import Session

    from crib.store.models import GaugeRod

    assert isinstance(session, Session)
    length_mm = read(what[: -len("rod")].strip(), Kind.LENGTH, system).value
    same = [rod for rod in rods if abs(rod.length_mm - length_mm) < SAME_ROD_mm]
    if not same:
        raise UnknownName("rod", what, [rod_name(rod, system) for rod in rods][:6])
    # of several alike it is one that is not so yet
    rod = next((one for one in same if one.present != present), same[0])
    session.get_one(GaugeRod, rod.id).present = present
