"""Counting a whole place against the books: begun, counted as one walks along, closed with its differences.

What is counted is kept as it is typed, so that a crash or a tea break loses nothing. Only closing changes the
books: one 'counted' line for each item counted. What was not counted is told, and stays as it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from crib.desk import dates, lookup
from crib.desk.asking.ask import Asker, FoundItem
from crib.desk.doings.doing import Doing, Done, doing, done
from crib.desk.doings.wear import record_count
from crib.errors import InputError, NotPossible
from crib.store import ledger
from crib.store.filters import Filters
from crib.store.models import Place, Stocktake, StocktakeCount
from crib.store.read import Reader, reading
from crib.store.rows import PlaceRow, StocktakeRow
from crib.store.words import PATH_JOINT
from crib.store.writing import writing

MOST_ITEMS = 5000


@dataclass(frozen=True, slots=True, kw_only=True)
class CountLine:
    """One item of a stocktake.

    Attributes:
        item: as the books have it now.
        pieces: as counted; None where it was not yet.
        edges: fresh edges as counted; None where they were not.
        differs: counted, and not as in the books.
        elsewhere: by the books it is not at this place, but was found here.
    """

    item: FoundItem
    pieces: int | None
    edges: int | None
    differs: bool
    elsewhere: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """A stocktake under way.

    Attributes:
        id: its number.
        place: the path of the place.
        begun: the day on which it was begun.
        by: who began it.
        lines: its items: by place and code, those found here though they belong elsewhere last.
        counted: how many items were counted.
        differing: how many of them differ from the books.
    """

    id: int
    place: str
    begun: str
    by: str | None
    lines: tuple[CountLine, ...]
    counted: int
    differing: int

    @property
    def left(self) -> tuple[CountLine, ...]:
        """Items not counted yet."""
        return tuple(line for line in self.lines if line.pieces is None)


def open_counts(address: str) -> tuple[tuple[str, str], ...]:
    """Give the stocktakes under way: place and the day on which each was begun."""
    with reading(address) as reader:
        return tuple((row.place, row.begun_at.astimezone().date().isoformat()) for row in reader.stocktakes())


def begin(address: str, place: str) -> Count:
    """Begin to count a place with all below it, or go on with the count that is under way there.

    Args:
        address: the store.
        place: its name, path or the end of its path.

    Raises:
        UnknownName: no such place.
        NotPossible: a place above or below is being counted.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        found = _place(reader, place)
        who = lookup.me(reader)
        for row in reader.stocktakes():
            if row.place_id == found.id:
                return _count(reader, row)
            if _is_in(row.place, found.path) or _is_in(found.path, row.place):
                raise NotPossible(f"{row.place} is being counted already", "close that one first")
    with writing(address) as session:
        # of two who begin at once the second finds the first one's
        session.get_one(Place, found.id, with_for_update=True)
        known = select(Stocktake.id).where(Stocktake.place_id == found.id, Stocktake.closed_at.is_(None))
        if session.scalar(known) is None:
            session.add(Stocktake(place_id=found.id, begun_at=dates.now(), by_id=who.id if who else None))
    return show(address, found.path)


def show(address: str, place: str = "") -> Count:
    """Give the stocktake under way at a place, or the only one there is.

    Raises:
        UnknownName: no such place.
        NotPossible: none is under way there.
        InputError: several are, and none was named.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        return _count(reader, _under_way(reader, place))


def enter(address: str, tag: str, pieces: int, *, edges: int | None = None, place: str = "") -> Count:
    """Keep what was counted of one item; counted again, the newest counts.

    Args:
        address: the store.
        tag: the item.
        pieces: pieces that are there.
        edges: fresh edges on them; None where they were not counted.
        place: where several stocktakes are under way, which.

    Raises:
        UnknownName: no such tool or place.
        NotPossible: no stocktake is under way there.
        InputError: a count that can't be.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        under_way = _under_way(reader, place)
        item = lookup.item(reader, tag)
    if edges is not None and item.kind != "insert":
        raise InputError(f"{item.tag} {item.label} has no edges to count", "leave them out")
    if pieces == 0 and edges:
        raise InputError(f"{edges} edges on no piece can't be", "count pieces and edges again")
    with writing(address) as session:
        taken = session.get_one(Stocktake, under_way.id, with_for_update=True)
        if taken.closed_at is not None:
            raise NotPossible(f"the count of {under_way.place} was closed just now", "begin a new one")
        taken.counts.append(
            StocktakeCount(item_id=item.id, at=dates.now(), quantity=pieces, edges_left=edges)
        )
    return show(address, under_way.place)


def close(address: str, place: str = "", *, rest_is_missing: bool = False) -> Done:
    """Close a stocktake: write its differences to the ledger, as one doing.

    What the books changed after an item was counted stays counted: an edge used since then is still used.

    Args:
        address: the store.
        place: where several are under way, which.
        rest_is_missing: what was not counted is not there: counted as none. Else it stays as it is.

    Raises:
        NotPossible: none is under way, or nothing was counted.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        under_way = _under_way(reader, place)
        count = _count(reader, under_way)
        missing = [line for line in count.left if not line.item.held_by]
    if not count.counted:
        raise NotPossible(f"nothing was counted at {count.place}", "crib stocktake count TAG PIECES")
    with doing(address) as do:
        taken = do.session.get_one(Stocktake, count.id, with_for_update=True)
        if taken.closed_at is not None:
            raise NotPossible(f"the count of {count.place} was closed just now", "nothing changes by it")
        newest = {one.item_id: one for one in taken.counts}
        for item_id in sorted(newest):
            _settle(do, newest[item_id], under_way)
        if rest_is_missing:
            for line in sorted(missing, key=lambda line: line.item.id):
                record_count(do, do.item(line.item.id), 0, None, f"not found when {count.place} was counted")
        taken.closed_at = do.at
    return done(address, do, *_told(count, missing, rest_is_missing))


def drop(address: str, place: str = "") -> str:
    """Leave a stocktake without writing anything to the ledger; give its place."""
    with reading(address) as reader:
        under_way = _under_way(reader, place)
    with writing(address) as session:
        session.get_one(Stocktake, under_way.id).closed_at = dates.now()
    return under_way.place


def reopen(do: Doing, at: datetime) -> str:
    """Open a stocktake again whose closing is being taken back; give its place, or nothing where none was.

    Args:
        do: the doing that takes it back.
        at: when the lines that are taken back were written: a stocktake is closed with its lines.

    Raises:
        NotPossible: its place is being counted anew.
    """
    closed = select(Stocktake).where(Stocktake.closed_at == at).with_for_update()
    if (taken := do.session.scalars(closed).first()) is None:
        return ""
    path = do.session.get_one(Place, taken.place_id).path
    under_way = select(Place.path).join(Stocktake).where(Stocktake.closed_at.is_(None))
    for other in do.session.scalars(under_way):
        if _is_in(other, path) or _is_in(path, other):
            raise NotPossible(
                f"it closed the count of {path}, and {other} is being counted anew",
                f'close or drop that one first: crib stocktake drop "{other}"',
            )
    taken.closed_at = None
    return path


def refuse_counted_twice(do: Doing, item_id: int, at: datetime) -> None:
    """Refuse to bring a count back into the books that an open stocktake will write when it is closed.

    Raises:
        NotPossible: one holds a count of the item from before that moment.
    """
    waiting = (
        select(Place.path)
        .join(Stocktake)
        .join(StocktakeCount)
        .where(Stocktake.closed_at.is_(None), StocktakeCount.item_id == item_id, StocktakeCount.at <= at)
    )
    if path := do.session.scalars(waiting).first():
        raise NotPossible(
            f"the count of {path} is open and holds that", f'close it instead: crib stocktake close "{path}"'
        )


def _told(count: Count, missing: Sequence[CountLine], rest_is_missing: bool) -> tuple[str, str]:
    verdict = f"Closed the count of {count.place}: {count.counted} counted, {count.differing} differ."
    if not missing:
        return verdict, "Everything there was counted."
    with_names = ", ".join(line.item.tag for line in missing[:6]) + (" …" if len(missing) > 6 else "")
    if rest_is_missing:
        return verdict, f"Not found, counted as none: {len(missing)} ({with_names})."
    return verdict, f"NOT COUNTED, left as they are: {len(missing)} ({with_names})."


def _settle(do: Doing, counted: StocktakeCount, under_way: StocktakeRow) -> None:
    """Write one count: against what the books said when it was counted."""
    story = ledger.told_of(do.session, counted.item_id)
    then = next((line.after for line in reversed(story) if line.at <= counted.at), None) or story[0].after
    item = do.item(counted.item_id)
    pieces = item.quantity + counted.quantity - then.quantity
    edges = None
    if counted.edges_left is not None:
        edges = (item.edges_left or 0) + counted.edges_left - (then.edges_left or 0)
    if pieces < 0 or (edges or 0) < 0:
        raise NotPossible(
            f"{item.tag} changed since it was counted, and the count no longer fits",
            f"count it again: {item.tag}",
        )
    why = f"counted with {under_way.place}"
    if item.held_by_id is not None and item.held_by_id == then.held_by_id and counted.quantity:
        do.record(item.id, "returned", why=f"found at {under_way.place}")
    record_count(do, do.item(item.id), pieces, edges, why)
    inside = _is_in(do.session.get_one(Place, item.place_id).path, under_way.place)
    if not inside and pieces and do.item(item.id).held_by_id is None:
        do.record(item.id, "moved", to_place_id=under_way.place_id, why=f"found at {under_way.place}")


def _place(reader: Reader, typed: str) -> PlaceRow:
    return lookup.place(reader, typed, site_id=Asker(reader).site_id)


def _under_way(reader: Reader, place: str) -> StocktakeRow:
    rows = reader.stocktakes()
    if place.strip():
        found = _place(reader, place)
        rows = tuple(row for row in rows if row.place_id == found.id)
        if not rows:
            raise NotPossible(f"{found.path} is not being counted", f'crib stocktake begin "{found.path}"')
    if not rows:
        raise NotPossible("nothing is being counted", "crib stocktake begin PLACE")
    if len(rows) > 1:
        places = "; ".join(row.place for row in rows)
        raise InputError(f"{len(rows)} places are being counted", f"say which: {places}")
    return rows[0]


def _count(reader: Reader, row: StocktakeRow) -> Count:
    asker = Asker(reader)
    counts = reader.stocktake_counts(row.id)
    here = reader.find_items(Filters(place=row.place, limit=MOST_ITEMS)).rows
    known = {item.id for item in here}
    strays = [item for number in counts if number not in known and (item := reader.item(number)) is not None]
    listed = [item for item in here if item.quantity or item.id in counts]
    listed.sort(key=lambda item: (item.place, item.designation or item.label, item.id))
    lines = []
    for item in (*listed, *strays):
        pieces, edges = counts.get(item.id, (None, None))
        elsewhere = item.id not in known
        differs = pieces is not None and (
            pieces != item.quantity or (edges is not None and edges != item.edges_left) or elsewhere
        )
        lines.append(
            CountLine(
                item=asker.shown(item), pieces=pieces, edges=edges, differs=differs, elsewhere=elsewhere
            )
        )
    return Count(
        id=row.id,
        place=row.place,
        begun=row.begun_at.astimezone().date().isoformat(),
        by=row.by,
        lines=tuple(lines),
        counted=sum(line.pieces is not None for line in lines),
        differing=sum(line.differs for line in lines),
    )


def _is_in(path: str, above: str) -> bool:
    return path == above or path.startswith(above + PATH_JOINT)
