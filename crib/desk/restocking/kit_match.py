"""Which tools answer the needs of a kit: have, borrow, fetch from home, ask back, or missing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from crib.desk.asking.ask import Asker, kind_of_code
from crib.desk.asking.codes import readable
from crib.desk.asking.talk import Wanted, understand, vocabulary
from crib.desk.restocking.kits import kit_row
from crib.desk.restocking.missing import lacking
from crib.desk.restocking.substitutes import costs
from crib.errors import CribError
from crib.store.filters import Filters
from crib.store.read import Reader, reading
from crib.store.rows import ItemRow
from crib.store.search import compact
from crib.store.stocking import KitLineRow
from crib.store.words import PATH_JOINT
from crib.trade import tables
from crib.trade.designation.reading import Reading
from crib.units.counts import many

MOST_ROWS = 200
MOST_SUBSTITUTES = 3
# how a tool can be had, the easiest first
HAVE, BORROW, HOME, OUT = "have", "borrow", "at home", "out"
ORDER = (HAVE, BORROW, HOME, OUT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Got:
    """A tool that answers a need: how it can be had, and how many of it are taken."""

    tag: str
    label: str
    designation: str | None
    owner: str
    place: str
    site: str
    how: str
    from_: str | None
    count: int
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Substitute:
    """What else would do: the tool, and what using it costs."""

    tool: Got
    costs: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """One need and what answers it.

    Attributes:
        line_no: its number.
        need: as typed.
        quantity: how many.
        state: have, borrow, at home, out or missing: the hardest of what is taken.
        got: what is taken.
        short: how many are missing.
        why: what keeps others out, or why the need can't be read; may be empty.
        substitutes: what else would do; given where it is short.
    """

    line_no: int
    need: str
    quantity: int
    state: str
    got: tuple[Got, ...]
    short: int
    why: str
    substitutes: tuple[Substitute, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trip:
    """One place to go to, and the tags to bring from there."""

    place: str
    tags: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KitMatch:
    """A kit matched to what is on record."""

    name: str
    note: str | None
    verdict: str
    detail: str
    next_step: str
    lines: tuple[Match, ...]
    trips: tuple[Trip, ...]


def match(address: str, name: str) -> KitMatch:
    """Match every need of a kit to real tools; a piece is taken once.

    Args:
        address: the store.
        name: the kit.

    Raises:
        UnknownName: there is no such kit.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        row = kit_row(reader, name)
        matcher = _Matcher(reader)
        # what was chosen by hand is taken first, whatever stands above it
        order = sorted(row.lines, key=lambda line: (line.item_id is None, line.line_no))
        found = {line.line_no: matcher.line(line) for line in order}
        lines = tuple(found[line.line_no] for line in row.lines)
        trips = matcher.trips(got for line in lines for got in line.got)
    verdict, detail, step = _said(row.name, lines, trips)
    return KitMatch(
        name=row.name, note=row.note, verdict=verdict, detail=detail, next_step=step, lines=lines, trips=trips
    )


class _Found(NamedTuple):
    rows: Sequence[ItemRow]
    wanted: Wanted
    why: str


class _Matcher:
    """Matches needs on one open reader; what is taken for one is not there for the next."""

    def __init__(self, reader: Reader) -> None:
        self.reader = reader
        self.asker = Asker(reader)
        self.names = self.asker.names()
        self.words = vocabulary(tables.rows("shop_words"))
        self.taken: dict[int, int] = {}
        self.lacks = lacking(reader)

    def line(self, line: KitLineRow) -> Match:
        found = self.find(line)
        got: list[Got] = []
        left = line.quantity
        for row in sorted(filter(self.fit, found.rows), key=self.ease):
            free = row.quantity - self.taken.get(row.id, 0)
            if left and free > 0:
                count = min(left, free)
                self.taken[row.id] = self.taken.get(row.id, 0) + count
                left -= count
                got.append(self.got(row, count))
        state = "missing" if left else max((one.how for one in got), key=ORDER.index)
        return Match(
            line_no=line.line_no,
            need=line.need,
            quantity=line.quantity,
            state=state,
            got=tuple(got),
            short=left,
            why=found.why or (self.unfit(found.rows, {one.tag for one in got}) if left else ""),
            substitutes=self.substitutes(found, left) if left else (),
        )

    def find(self, line: KitLineRow) -> _Found:
        """Give what answers a need, wherever it is."""
        chosen = self.reader.item(line.item_id) if line.item_id is not None else None
        try:
            wanted = understand(line.need, self.names, self.words, kind_of_code)
            wanted = wanted._replace(where=None)
            if chosen is not None:
                return _Found((chosen,), wanted, "")
            if wanted == Wanted(said=wanted.said):
                return _Found((), wanted, "nothing in it says what is needed")
            rows, total = self.asker.rows(wanted, MOST_ROWS, 0)
            if not total and wanted.tokens and (mended := self.asker.mend_slips(wanted)):
                wanted = mended
                rows, _ = self.asker.rows(wanted, MOST_ROWS, 0)
            return _Found(rows, wanted, "")
        except CribError as error:
            return _Found((), Wanted(), error.message)

    def fit(self, row: ItemRow) -> bool:
        return self.whole(row) and row.id not in self.lacks

    def whole(self, row: ItemRow) -> bool:
        return row.condition not in ("damaged", "scrap") and row.quantity > 0 and row.edges_left != 0

    def ease(self, row: ItemRow) -> tuple[int, bool, str]:
        return ORDER.index(self.how(row)), row.condition == "worn", row.tag

    def how(self, row: ItemRow) -> str:
        if row.held_by_id is not None:
            return HAVE if row.held_by_id == self.names.me else OUT
        if row.site_id != self.asker.site_id:
            return HOME
        return HAVE if row.owner_id in (self.names.me, *self.names.companies) else BORROW

    def got(self, row: ItemRow, count: int) -> Got:
        how = self.how(row)
        return Got(
            tag=row.tag,
            label=row.label,
            designation=row.designation,
            owner=row.owner,
            place=row.place,
            site=row.site,
            how=how,
            from_=row.held_by if how == OUT else row.owner if how in (BORROW, HOME) else None,
            count=count,
            note=row.note,
        )

    def unfit(self, rows: Iterable[ItemRow], taken: set[str]) -> str:
        """Say what keeps tools out that would answer."""
        told = [f"there are no more of {tag}" for tag in sorted(taken)]
        for row in rows:
            if row.tag in taken:
                continue
            if row.id in self.lacks:
                told.append(f"{row.tag} lacks its {', '.join(self.lacks[row.id])}")
            elif row.condition in ("damaged", "scrap"):
                told.append(f"{row.tag} is {row.condition}")
            elif not row.quantity or row.edges_left == 0:
                told.append(f"{row.tag} is used up")
            elif self.taken.get(row.id, 0) >= row.quantity:
                told.append(f"{row.tag} is taken already")
        return "; ".join(told[:3])

    # -- what else would do -------------------------------------------------------------------------------

    def substitutes(self, found: _Found, count: int) -> tuple[Substitute, ...]:
        """Give what else would do, the cheapest to use first."""
        gaps = {row.id for row in found.rows if row.id in self.lacks}
        seen = {row.id for row in found.rows if row.id not in self.lacks}
        offers = []
        near = [(row, self.gap(row)) for row in found.rows if row.id in self.lacks]
        for row, cost in (*near, *self.near(found.wanted)):
            usable = self.whole(row) and (row.id in gaps or row.id not in self.lacks)
            free = row.quantity - self.taken.get(row.id, 0)
            if row.id not in seen and usable and free > 0:
                seen.add(row.id)
                offers.append(Substitute(tool=self.got(row, min(free, count)), costs=cost))
        offers.sort(key=lambda offer: (ORDER.index(offer.tool.how), len(offer.costs)))
        return tuple(offers[:MOST_SUBSTITUTES])

    def gap(self, row: ItemRow) -> tuple[str, ...]:
        """Say what using a tool costs whose part is gone."""
        rest = "see that the rest reaches" if row.kind == "gauge" else "put it in first (crib missing)"
        return (f"its {', '.join(self.lacks[row.id])} is missing: {rest}",)

    def near(self, wanted: Wanted) -> Iterable[tuple[ItemRow, tuple[str, ...]]]:
        system = self.asker.settings.get("units", "metric")
        code = readable(wanted.code) if wanted.code else None
        if code is not None:
            for row in self.like(code):
                other = readable(row.designation)
                cost = costs(code, other, system) if other is not None else None
                if cost is not None:
                    yield row, cost or ("nothing in the codes tells them apart",)
        elif wanted.tokens and wanted._replace(tokens=(), said=()) != Wanted():
            rows, _ = self.asker.rows(wanted._replace(tokens=()), MOST_ROWS, 0)
            for row in rows:
                yield row, (f"its record does not say {' '.join(wanted.tokens)}",)

    def like(self, code: Reading) -> Sequence[ItemRow]:
        """Give what is like a code: inserts for the same seat, holders and bars of the same hand."""
        same = Filters(kinds=(code.kind,), limit=MOST_ROWS)
        if code.kind == "insert":
            same = same._replace(sc=code.SC, an_deg=code.AN_deg, ic_mm=code.IC_mm)
        elif code.HAND:
            same = same._replace(hands=(code.HAND,), sc=code.SC)
        rows = self.reader.find_items(same).rows
        return [row for row in rows if compact(row.designation or "") != compact(code.designation)]

    # -- where to go --------------------------------------------------------------------------------------

    def trips(self, got: Iterable[Got]) -> tuple[Trip, ...]:
        """Give the places to go to: a cabinet with all its drawers is one, a home is one."""
        kinds = {place.path: place.kind for place in self.asker.places}
        found: dict[str, list[str]] = {}
        for one in got:
            place = one.place
            if one.how == OUT:
                place = f"{one.from_} has it"
            elif one.how == HOME:
                place = one.site
            elif kinds.get(place) == "drawer":
                place = place.rpartition(PATH_JOINT)[0]
            if one.tag not in found.setdefault(place, []):
                found[place].append(one.tag)
        return tuple(Trip(place=place, tags=tuple(tags)) for place, tags in sorted(found.items()))


def _said(name: str, lines: Sequence[Match], trips: Sequence[Trip]) -> tuple[str, str, str]:
    if not lines:
        return f"{name} has no needs yet.", "From the records.", f"crib kit add {name!r} NEED"
    short = [line for line in lines if line.short]
    counts = {how: sum(line.state == how for line in lines) for how in ORDER}
    words = {HAVE: "here", BORROW: "to borrow", HOME: "at home", OUT: "to ask back"}
    parts = [f"{count} {words[how]}" for how, count in counts.items() if count]
    parts += [f"{len(short)} short"] * bool(short)
    verdict = f"{name}: of {len(lines)} needs " + ", ".join(parts) + "."
    detail = f"{many(len(trips), 'place')} to go to. From the records; nothing is set aside by this."
    if short:
        return verdict, detail, "crib kit choose KIT LINE TAG takes a substitute."
    return verdict, detail, "Fetch them; crib kit choose KIT LINE TAG takes another."
