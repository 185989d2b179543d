"""What did I bring in? Recording tools brought from home, and taken home again."""

from collections.abc import Sequence

from crib.desk import lookup
from crib.desk.asking.ask import Asker
from crib.desk.doings.batch import merge_if_like, one_batch, part, tools_named
from crib.desk.doings.doing import Doing, Done, doing, done
from crib.desk.doings.state import condition_of
from crib.errors import InputError, NotPossible
from crib.store.read import Reader, reading
from crib.store.rows import ItemRow, PlaceRow

LONGEST_MARK = 60


def bring_in(
    address: str,
    tags: Sequence[str],
    *,
    to: str = "",
    why: str = "",
    told: str = "",
    mark: str = "",
    serial: str = "",
    condition: str = "",
    pieces: int | None = None,
    edges: int | None = None,
) -> Done:
    """Record that tools came from home to the site we are at; all of them or none.

    Args:
        address: the store.
        tags: which tools.
        to: the place where they lie now; the site itself if not told.
        why: the job they came for.
        told: who was told of it, and how.
        mark: what is engraved on it; goes with one tool.
        serial: its serial number; goes with one tool.
        condition: what state it is in; as recorded if not told.
        pieces: only so many of a batch; goes with one tool.
        edges: fresh edges on those pieces, where not all are alike.

    Raises:
        UnknownName: no such tool or place.
        NotPossible: one is here already, or lent out; or the site we are at is not set.
        StoreError: the store can't be used.
    """
    state = condition_of(condition)
    with reading(address) as reader:
        asker = Asker(reader)
        here = asker.here_or_refuse()
        place = _here(reader, here, to)
        rows = lookup.items(reader, tags)
        for row in rows:
            _refuse_lent(row)
            if row.site_id == here:
                raise NotPossible(f"{row.tag} is on site already, at {row.place}", "nothing was recorded")
    one_batch(rows, pieces, edges)
    _one_tool(rows, mark, serial)
    with doing(address) as do:
        do.hold(row.id for row in rows)
        for row in rows:
            item_id = part(do, row.id, pieces, edges)
            reason = "; ".join(filter(None, (why.strip(), _engraved(do, item_id, mark, serial))))
            do.record(
                item_id, "brought in", to_place_id=place.id, why=reason or None, told=told.strip() or None,
                to_condition=state if state != do.item(item_id).condition else None,
            )  # fmt: skip
            merge_if_like(do, item_id)
    return done(
        address, do, f"Brought in: {tools_named(rows, pieces)}; now at {place.path}.",
        f"{told.strip()} was told." if told.strip() else "Nobody is recorded as told of it (--told NAME).",
    )  # fmt: skip


def take_home(
    address: str,
    tags: Sequence[str],
    *,
    to: str = "",
    why: str = "",
    told: str = "",
    pieces: int | None = None,
    edges: int | None = None,
) -> Done:
    """Record that tools went home from the site we are at; all of them or none.

    Args:
        address: the store.
        tags: which tools.
        to: the place at home; else where each was brought in from, or its owner's home.
        why: what for.
        told: who was told of it, and how.
        pieces: only so many of a batch; goes with one tool.
        edges: fresh edges on those pieces, where not all are alike.

    Raises:
        UnknownName: no such tool or place.
        NotPossible: one is lent out or not here, or it is not known where its home is.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        here = Asker(reader).here_or_refuse()
        rows = lookup.items(reader, tags)
        for row in rows:
            _refuse_lent(row)
            if row.site_id != here:
                raise NotPossible(f"{row.tag} is not here, but at {row.place}", "nothing was recorded")
        homes = [_away(reader, here, to) if to.strip() else home_of(reader, row, here) for row in rows]
    one_batch(rows, pieces, edges)
    with doing(address) as do:
        do.hold(row.id for row in rows)
        for row, home in zip(rows, homes, strict=True):
            item_id = part(do, row.id, pieces, edges)
            do.record(
                item_id, "taken home", to_place_id=home.id, why=why.strip() or None, told=told.strip() or None
            )
            merge_if_like(do, item_id)
    where = "; ".join(dict.fromkeys(home.path for home in homes))
    others = [row for row in rows if row.owner_id != do.me_id]
    mind = "; ".join(f"{row.tag} is {row.owner}'s" for row in others[:3])
    return done(
        address,
        do,
        f"Taken home: {tools_named(rows, pieces)}; now at {where}.",
        f"Mind: {mind}." if mind else "",
    )


def home_of(reader: Reader, row: ItemRow, here: int) -> PlaceRow:
    """Give where a tool is kept when it is not here: where it came from last, or its owner's home.

    Raises:
        NotPossible: neither is on record.
    """
    places = {place.path: place for place in reader.places()}
    for line in reversed(reader.ledger_of(row.id)):
        if line.what == "brought in" and line.from_place and places[line.from_place].site_id != here:
            return places[line.from_place]
    first = row.owner.split()[0].lower()
    homes = [
        place
        for place in places.values()
        if place.kind == "site" and place.id != here and first in place.name.lower().replace("'s", "").split()
    ]
    if len(homes) != 1:
        raise NotPossible(f"where {row.tag} is kept at home is not on record", "say it: --to PLACE")
    return homes[0]


def _here(reader: Reader, here: int, to: str) -> PlaceRow:
    """Give the place that the tools come to: on the site we are at."""
    if not to.strip():
        return next(place for place in reader.places() if place.id == here)
    place = lookup.place(reader, to, site_id=here)
    if place.site_id != here:
        raise NotPossible(f"{place.path} is not on this site", "nothing was recorded")
    return place


def _away(reader: Reader, here: int, to: str) -> PlaceRow:
    """Give the place that the tools go to: on another site."""
    place = lookup.place(reader, to)
    if place.site_id == here:
        raise NotPossible(f"{place.path} is on this site", "crib move records a change of place here")
    return place


def _refuse_lent(row: ItemRow) -> None:
    if row.held_by:
        raise NotPossible(f"{row.tag} is lent to {row.held_by}", "record its return first")


def _one_tool(rows: Sequence[ItemRow], mark: str, serial: str) -> None:
    if (mark.strip() or serial.strip()) and len(rows) != 1:
        raise InputError("a mark or serial number goes with one tool", "bring the others in by themselves")
    if max(len(mark), len(serial)) > LONGEST_MARK:
        raise InputError(
            f"a mark or serial number has {LONGEST_MARK} signs at most", "a longer text is for the note"
        )


def _engraved(do: Doing, item_id: int, mark: str, serial: str) -> str:
    """Put mark and serial number on record; say in words what is new of them."""
    item, said = do.item(item_id), []
    for name, words, now in (("mark", "marked", mark.strip()), ("serial", "serial number", serial.strip())):
        was = getattr(item, name)
        if now and now != was:
            setattr(item, name, now)
            said.append(f"{words} {now}" + (f" (recorded before: {was})" if was else ""))
    return ", ".join(said)
