"""The ledger: what happened to items, appended; what is true now, changed with it in the same transaction.

`record` and `add` are the only ways to change what the ledger governs (models.GOVERNED). `replay` folds the
same `lines.apply` over all lines from the first; `differences` compares that with what stands beside it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, fields
from datetime import date, datetime
from functools import cache
from typing import Any, cast

from sqlalchemy import ColumnElement, Connection, Row, Table, bindparam, func, insert, select, update
from sqlalchemy.orm import Session
from sqlalchemy.orm.util import identity_key

from crib.errors import NotPossible
from crib.store.lines import BrokenLine, Change, State, apply, as_told
from crib.store.models import GOVERNED_SIZES, Item, LedgerLine, Party, Place, RotaryDetail
from crib.store.prepared import Prepared
from crib.store.rules import Entry, Names, change_of, refuse_if_wrong
from crib.store.writing import WriteSession, index

__all__ = [
    "Difference", "Entry", "Recorded", "Start", "State", "Told",
    "add", "differences", "items_of_act", "latest_acts", "record", "replay", "told_of",
]  # fmt: skip

_ITEM = cast(Table, Item.__table__)
_LEDGER = cast(Table, LedgerLine.__table__)
_ROTARY = cast(Table, RotaryDetail.__table__)


def _column(name: str) -> ColumnElement[Any]:
    """Give what is stored of a field of State: beside the item, its sizes in its detail."""
    if name not in GOVERNED_SIZES:
        return _ITEM.c[name]
    return select(_ROTARY.c[name]).where(_ROTARY.c.item_id == _ITEM.c.id).scalar_subquery().label(name)


_STATE = [_column(field.name) for field in fields(State)]
_STATE_NAMES = [field.name for field in fields(State)]
_CHANGE = [_LEDGER.c[field.name] for field in fields(Change)]

_LOAD = Prepared(
    select(_ITEM.c.tag, _ITEM.c.label, *_STATE).where(_ITEM.c.id == bindparam("item")).with_for_update()
)
_BY_KEY = Prepared(
    select(_LEDGER.c.id, _LEDGER.c.item_id, _LEDGER.c.what).where(_LEDGER.c.key == bindparam("asked"))
)
_SITE = select(Place.site_id).where(Place.id == bindparam("place"))
_APPEND = Prepared(
    insert(_LEDGER)
    .values({column.name: bindparam(column.name) for column in _LEDGER.c if column is not _LEDGER.c.id})
    .returning(_LEDGER.c.id)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """How an item comes on record: the first line of its story.

    Attributes:
        at: when, with its time zone.
        owner_id: whose it is.
        place_id: where it belongs.
        condition: one of words.CONDITIONS.
        quantity: pieces.
        edges_left: fresh cutting edges; None where not counted.
        held_by_id: to whom it is lent just now.
        due_back: when it should be back.
        actor_id: who says so.
        why: in words.
        other_item_id: the batch that it was split from.
        act: the same word on all lines of one doing.
        told: who was told of it, and how.
        key: makes a repeated entry fail instead of doubling the item.
    """

    at: datetime
    owner_id: int
    place_id: int
    condition: str
    quantity: int = 1
    edges_left: int | None = None
    held_by_id: int | None = None
    due_back: date | None = None
    actor_id: int | None = None
    why: str | None = None
    other_item_id: int | None = None
    act: str | None = None
    told: str | None = None
    key: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded:
    """What an entry did.

    Attributes:
        line_id: number of the line.
        before: the item before it.
        after: the item after it.
        repeated: the line was there already (same key); nothing was changed.
    """

    line_id: int
    before: State
    after: State
    repeated: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """Where what is stored and what the ledger says differ.

    Attributes:
        item_id: the item.
        field: the field, or "ledger" when its lines don't follow from one another.
        stored: what stands beside the ledger.
        replayed: what the ledger gives, or why it gives nothing.
    """

    item_id: int
    field: str
    stored: object
    replayed: object


def add(session: WriteSession, item: Item, start: Start) -> None:
    """Put a new item on record with the first line of its story; written at the next flush.

    Args:
        session: of a write transaction.
        item: new, with its detail.
        start: whose, where, how many.

    Raises:
        NotPossible: what is said of it can't be (a place or count that isn't one).
    """
    change = Change(
        what="added",
        quantity_change=start.quantity,
        edges_change=start.edges_left,
        to_owner_id=start.owner_id,
        to_place_id=start.place_id,
        to_held_by_id=start.held_by_id,
        to_condition=start.condition,
        due_back=start.due_back,
    )
    try:
        state = apply(None, change)
    except BrokenLine as error:
        raise NotPossible(
            f"{item.tag} {item.label} can't be added: {error}", "look at its counts and dates"
        ) from error
    for name in _STATE_NAMES:
        if name not in GOVERNED_SIZES:  # a size is as its detail says, until a regrind
            setattr(item, name, getattr(state, name))
    item.site_id = _site_of(session, state.place_id)
    session.admit(item)
    session.add(
        LedgerLine(
            item=item,
            at=start.at,
            actor_id=start.actor_id,
            why=start.why,
            key=start.key,
            other_item_id=start.other_item_id,
            act=start.act,
            told=start.told,
            **_values(change),
        )
    )


def record(session: WriteSession, entry: Entry) -> Recorded:
    """Append a line and change the item with it.

    Args:
        session: of a write transaction.
        entry: what happened.

    Raises:
        NotPossible: the item's state doesn't allow it; nothing was written.
    """
    session.flush()
    connection = session.in_hand()
    if entry.key is not None:
        known = _BY_KEY.first(connection, {"asked": entry.key})
        if known is not None:
            return _repeated(connection, entry, known)
    name, state = _load(connection, entry.item_id)
    refuse_if_wrong(state, entry, _names(session, name))
    change = change_of(state, entry)
    after = apply(state, change)
    line = {
        "item_id": entry.item_id, "at": entry.at, "actor_id": entry.actor_id, "why": entry.why,
        "cut_ref": entry.cut_ref, "key": entry.key, "other_item_id": entry.other_item_id,
        "corrects_id": entry.corrects_id, "act": entry.act, "told": entry.told, **_values(change),
    }  # fmt: skip
    was, new = _values(state), _values(after)
    changed = {name: value for name, value in new.items() if value != was[name]}
    if sizes := {name: changed.pop(name) for name in GOVERNED_SIZES if name in changed}:
        _resize(session, entry.item_id, sizes)  # may refuse, so it comes before the line
    written = _APPEND.first(connection, line)
    assert written is not None
    if "place_id" in changed:
        changed["site_id"] = _site_of(session, after.place_id)
    if changed:
        _keep(tuple(changed)).first(connection, {"item": entry.item_id, **changed})
    stale = session.identity_map.get(identity_key(Item, entry.item_id))
    if stale is not None:
        session.expire(stale)
    return Recorded(line_id=written[0], before=state, after=after)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One line as it stands in an item's story.

    Attributes:
        id: number of the line.
        at: when.
        what: one of words.HAPPENINGS.
        act: the doing that it belongs to.
        corrects_id: the line that it puts right.
        before: the item before it; None before its first line.
        after: the item after it.
    """

    id: int
    at: datetime
    what: str
    act: str | None
    corrects_id: int | None
    before: State | None
    after: State


def told_of(session: WriteSession, item_id: int) -> list[Told]:
    """Give an item's story, oldest line first; the item is held until the transaction ends.

    Raises:
        BrokenLine: its lines don't follow from one another; `crib audit` says where.
    """
    session.flush()
    connection = session.connection()
    _load(connection, item_id)
    lines = select(_LEDGER.c.id, _LEDGER.c.at, _LEDGER.c.act, _LEDGER.c.corrects_id, *_CHANGE)
    found: list[Told] = []
    state: State | None = None
    for row in connection.execute(lines.where(_LEDGER.c.item_id == item_id).order_by(_LEDGER.c.id)):
        after = _next(state, row)
        if isinstance(after, BrokenLine):
            raise after
        state = None if state is None else as_told(state, _change(row))
        own = {"id": row.id, "at": row.at, "what": row.what, "act": row.act, "corrects_id": row.corrects_id}
        found.append(Told(**own, before=state, after=after))
        state = after
    return found


def items_of_act(session: Session, act: str) -> list[int]:
    """Give the items that a doing touched, in order of their numbers: so that no two wait for each other."""
    asked = select(_LEDGER.c.item_id).where(_LEDGER.c.act == act).distinct().order_by(_LEDGER.c.item_id)
    return list(session.connection().execute(asked).scalars())


def latest_acts(session: Session, actor_id: int | None, most: int) -> list[str]:
    """Give the last doings that were no corrections, the latest first.

    Args:
        session: any.
        actor_id: of that party only; None for all.
        most: as many at most.
    """
    asked = select(_LEDGER.c.act).where(_LEDGER.c.act.is_not(None), _LEDGER.c.what != "corrected")
    if actor_id is not None:
        asked = asked.where(_LEDGER.c.actor_id == actor_id)
    asked = asked.group_by(_LEDGER.c.act).order_by(func.max(_LEDGER.c.id).desc()).limit(most)
    return [act for act in session.connection().execute(asked).scalars() if act is not None]


def replay(session: Session) -> dict[int, State]:
    """Give the state of every item as the ledger alone has it.

    Raises:
        BrokenLine: the lines of an item don't follow from one another; `differences` says which.
    """
    found = {}
    for item_id, state in _fold(session):
        if isinstance(state, BrokenLine):
            raise state
        found[item_id] = state
    return found


def differences(session: Session) -> list[Difference]:
    """Give every difference between what is stored of items and what the ledger gives, by item."""
    replayed = dict(_fold(session))
    found: list[Difference] = []
    home = select(Place.site_id).where(Place.id == _ITEM.c.place_id).scalar_subquery()
    stored = select(_ITEM.c.id, _ITEM.c.site_id, home.label("home"), *_STATE).order_by(_ITEM.c.id)
    for row in session.connection().execute(stored):
        told = replayed.get(row.id)
        if told is None or isinstance(told, BrokenLine):
            why = "no line tells of it" if told is None else str(told)
            found.append(Difference(item_id=row.id, field="ledger", stored=None, replayed=why))
            continue
        if row.site_id != row.home:
            found.append(Difference(item_id=row.id, field="site_id", stored=row.site_id, replayed=row.home))
        found += [
            Difference(item_id=row.id, field=name, stored=getattr(row, name), replayed=value)
            for name, value in _values(told).items()
            if getattr(row, name) != value and not (value is None and name in GOVERNED_SIZES)
        ]
    return found


def _fold(session: Session) -> Iterator[tuple[int, State | BrokenLine]]:
    session.flush()
    lines = select(_LEDGER.c.item_id, _LEDGER.c.id, *_CHANGE).order_by(_LEDGER.c.item_id, _LEDGER.c.id)
    current, state = 0, cast(State | BrokenLine | None, None)
    for row in session.connection().execute(lines):
        if row.item_id != current and state is not None:
            yield current, state
            state = None
        current = row.item_id
        if not isinstance(state, BrokenLine):
            state = _next(state, row)
    if state is not None:
        yield current, state


@cache
def _keep(names: tuple[str, ...]) -> Prepared:
    """Give the update of an item: of what changed only, because each column written rewrites its indexes."""
    return Prepared(
        update(_ITEM).where(_ITEM.c.id == bindparam("item")).values({n: bindparam(n) for n in names})
    )


def _resize(session: WriteSession, item_id: int, sizes: dict[str, Any]) -> None:
    """Keep new sizes in the detail of an item, and write its search words anew."""
    done = session.connection().execute(
        update(_ROTARY).where(_ROTARY.c.item_id == item_id).values(sizes).returning(_ROTARY.c.item_id)
    )
    item = session.get_one(Item, item_id)
    if done.first() is None:
        raise NotPossible(
            f"{item.tag} {item.label} has no size on record that a regrind could change", "look at its kind"
        )
    session.refresh(item, ["rotary"])
    if item.rotary is not None:
        session.refresh(item.rotary)
    index(item)
    session.flush()


def _next(state: State | None, row: "Row[*tuple[object, ...]]") -> State | BrokenLine:
    try:
        return apply(state, _change(row))
    except BrokenLine as error:
        return BrokenLine(f"line {row.id}: {error}")


def _change(row: "Row[*tuple[object, ...]]") -> Change:
    return Change(**{column.name: getattr(row, column.name) for column in _CHANGE})


def _values(told: State | Change) -> dict[str, Any]:
    return {name: getattr(told, name) for name in told.__slots__}


def _names(session: Session, item: str) -> Names:
    def party(party_id: int) -> str:
        return session.scalar(select(Party.name).where(Party.id == party_id)) or f"party {party_id}"

    def place(place_id: int) -> str:
        return session.scalar(select(Place.path).where(Place.id == place_id)) or f"place {place_id}"

    return Names(item, party, place)


def _load(connection: Connection, item_id: int) -> tuple[str, State]:
    row = _LOAD.first(connection, {"item": item_id})
    if row is None:
        raise NotPossible(f"there is no item number {item_id}", "look it up with `crib find`")
    tag, label, *state = row
    return f"{tag} ({label})", State(**dict(zip(_STATE_NAMES, state, strict=True)))


def _repeated(connection: Connection, entry: Entry, known: tuple[Any, ...]) -> Recorded:
    line_id, *said = known
    if said != [entry.item_id, entry.what]:
        raise NotPossible(
            f"the key {entry.key!r} was used for another entry", "give each entry a key of its own"
        )
    state = _load(connection, entry.item_id)[1]
    return Recorded(line_id=line_id, before=state, after=state, repeated=True)


def _site_of(session: Session, place_id: int) -> int:
    site = session.scalar(_SITE, {"place": place_id})
    if site is None:
        raise NotPossible(f"there is no place number {place_id}", "record the place first")
    return site
