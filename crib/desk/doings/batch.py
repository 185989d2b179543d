"""Batches: part of one goes its own way, and like ones that meet become one again."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import inspect, select

from crib.desk.doings.doing import Doing
from crib.errors import InputError, NotPossible
from crib.store import ledger
from crib.store.models import GOVERNED, InsertDetail, Item, LedgerLine
from crib.store.rows import ItemRow
from crib.store.search import compact
from crib.units.counts import many

MERGING_KINDS = ("insert", "spare")  # of other kinds each has its own tag for good
MOST_NAMED = 5
_SUFFIXES = "bcdefghijklmnopqrstuvwxyz"
_SEARCH = ("norm", "tok", "code", "tag_code")


def part(do: Doing, item_id: int, pieces: int | None, edges: int | None = None) -> int:
    """Give the item that is to go: the whole batch, or a part of it split off.

    Args:
        do: the doing.
        item_id: the batch.
        pieces: how many go; None for all.
        edges: fresh edges on those that go; None where they are all alike.

    Raises:
        InputError: fewer than one piece, or edges that can't be.
        NotPossible: there are not so many, or it isn't known how the edges are spread.
    """
    item = do.item(item_id)
    if pieces is None:
        return item_id
    if pieces < 1:
        raise InputError(f"{pieces} pieces can't go", "say one or more")
    if pieces == item.quantity:
        return item_id
    if pieces > item.quantity:
        raise NotPossible(
            f"{pieces} of {item.tag} ({item.label}) can't go: only {item.quantity} are there",
            "if there are more, record the count first",
        )
    if item.held_by_id is not None:
        raise NotPossible(f"{item.tag} is out", "record its return first")
    go_along = edges_of_part(item, pieces, edges)
    return _split(do, item, pieces, go_along)


def edges_of_part(item: Item, pieces: int, edges: int | None) -> int | None:
    """Give the fresh edges on so many pieces of a batch: as told, or shared evenly where all are alike.

    Raises:
        InputError: more edges than there are.
        NotPossible: they were never counted, or not all pieces are alike.
    """
    if item.edges_left is None:
        if edges is not None:
            raise NotPossible(
                f"the edges of {item.tag} were never counted", f"count them first: crib count {item.tag}"
            )
        return None
    if edges is None:
        each, rest = divmod(item.edges_left, item.quantity)
        if rest:
            there = many(item.edges_left, "edge")
            raise NotPossible(
                f"{item.tag} has {there} on {item.quantity} pieces: not all are alike",
                "say how many fresh edges go along: --edges N",
            )
        return each * pieces
    if not 0 <= edges <= item.edges_left:
        raise InputError(f"{edges} edges can't go along: {item.tag} has {item.edges_left}", "say 0 or more")
    return edges


def _split(do: Doing, item: Item, pieces: int, edges: int | None) -> int:
    change = {"quantity_change": -pieces, "edges_change": None if edges is None else -edges}
    gone = {"quantity_change": pieces, "edges_change": edges}
    if (shell := _empty_part(do, item)) is not None:
        do.record(item.id, "split", other_item_id=shell.id, **change)
        do.record(shell.id, "split", other_item_id=item.id, **gone)
        if shell.place_id != item.place_id:
            do.record(shell.id, "moved", to_place_id=item.place_id)
        return shell.id
    new = copy_of(item, _next_tag(do, item.tag))
    start = ledger.Start(
        at=do.at, owner_id=item.owner_id, place_id=item.place_id, condition=item.condition, quantity=pieces,
        edges_left=edges, actor_id=do.me_id, why=f"part of {item.tag}", other_item_id=item.id, act=do.act,
    )  # fmt: skip
    ledger.add(do.session, new, start)
    do.session.flush()
    do.record(item.id, "split", other_item_id=new.id, **change)
    do.touched.append(new.id)
    return new.id


def _empty_part(do: Doing, item: Item) -> Item | None:
    """Give a part that was split off once and came back whole: its tag serves again."""
    parts = select(LedgerLine.other_item_id).where(LedgerLine.item_id == item.id, LedgerLine.what == "split")
    asked = select(Item).where(
        Item.id.in_(parts), Item.quantity == 0, Item.held_by_id.is_(None), Item.condition == item.condition,
        Item.owner_id == item.owner_id,
    )  # fmt: skip
    if item.edges_left is None:
        asked = asked.where(Item.edges_left.is_(None))
    else:
        asked = asked.where(Item.edges_left == 0)
    found = do.session.scalars(asked.order_by(Item.id))
    return next((shell for shell in found if _size(shell) == _size(item)), None)


def _next_tag(do: Doing, tag: str) -> str:
    """Give the next free tag with a letter behind: a number would be read together with the tag's own."""
    base = tag.rstrip(_SUFFIXES) if tag[-1:].islower() and tag[:-1] else tag
    for count in range(1, 100):
        for sign in _SUFFIXES:
            wanted = base + sign * count
            if do.session.scalar(select(Item.id).where(Item.tag_code == compact(wanted))) is None:
                return wanted
    raise NotPossible(f"{tag} was split too often", "merge its parts first")


def copy_of(item: Item, tag: str) -> Item:
    """Give a new item like another, under its own tag: what it is, not whose, where or how many."""
    facts: dict[str, Any] = {
        name: getattr(item, name) for name in _columns(item) if name not in ("id", "tag", *GOVERNED, *_SEARCH)
    }
    for name in ("insert", "holder", "bar", "bit", "rotary", "gauge"):
        if (detail := getattr(item, name)) is not None:
            own = {column: getattr(detail, column) for column in _columns(detail) if column != "item_id"}
            facts[name] = type(detail)(**own)
    return Item(tag=tag, **facts)


def _columns(row: object) -> list[str]:
    return [column.key for column in inspect(type(row)).column_attrs]


def merge_if_like(do: Doing, item_id: int) -> int | None:
    """Put a batch to a like one that lies where it now lies; give that one, or None where there is none.

    Like are: kind, code or label, grade, chipbreaker, size, owner, condition and mark; edges counted in both,
    or in neither; none lent out, none with a serial number. Pieces that were split off go back to their batch
    whatever they are.
    """
    item = do.item(item_id)
    if item.quantity == 0 or item.held_by_id is not None or item.serial:
        return None
    asked = select(Item).where(
        Item.id != item.id, Item.place_id == item.place_id, Item.owner_id == item.owner_id,
        Item.kind == item.kind, Item.condition == item.condition, Item.held_by_id.is_(None),
        Item.quantity > 0, Item.norm == item.norm, Item.serial.is_(None),
    )  # fmt: skip
    for other in do.session.scalars(asked.order_by(Item.id)):
        if _are_like(do, item, other):
            pieces, edges = item.quantity, item.edges_left
            do.record(
                item.id, "merged", other_item_id=other.id, quantity_change=-pieces,
                edges_change=None if edges is None else -edges,
            )  # fmt: skip
            do.record(other.id, "merged", other_item_id=item.id, quantity_change=pieces, edges_change=edges)
            return other.id
    return None


def _are_like(do: Doing, one: Item, other: Item) -> bool:
    if (one.edges_left is None) != (other.edges_left is None) or one.mark != other.mark:
        return False
    if _of_insert(one.insert) != _of_insert(other.insert) or _size(one) != _size(other):
        return False
    if one.kind in MERGING_KINDS:
        return True
    split = select(LedgerLine.id).where(
        LedgerLine.what == "split",
        LedgerLine.item_id.in_((one.id, other.id)),
        LedgerLine.other_item_id.in_((one.id, other.id)),
    )
    return do.session.scalars(split.limit(1)).first() is not None


def _size(item: Item) -> tuple[float | None, ...]:
    """Give what a regrind may have changed of one part and not of the other."""
    return (item.rotary.dc_mm, item.rotary.lf_mm) if item.rotary else ()


def _of_insert(detail: InsertDetail | None) -> tuple[object, ...]:
    if detail is None:
        return ()
    return (detail.grade, detail.chipbreaker, detail.tool_material, detail.application, detail.coating)


def one_batch(rows: Sequence[ItemRow], pieces: int | None, edges: int | None) -> None:
    """Refuse a number of pieces or edges that is said of several tools at once.

    Raises:
        InputError: it is.
    """
    if (pieces is not None or edges is not None) and len(rows) != 1:
        raise InputError("a number of pieces or edges goes with one tool", "record the others by themselves")
    if edges is not None and pieces is None:
        raise InputError("edges go with a number of pieces", "say how many pieces go: --pieces N")


def tools_named(rows: Sequence[ItemRow], pieces: int | None = None) -> str:
    """Give tools by tag and code, or tag and label, for one line."""
    named = [f"{row.tag} {row.designation or row.label}" for row in rows[:MOST_NAMED]]
    more = f" and {len(rows) - MOST_NAMED} more" if len(rows) > MOST_NAMED else ""
    return (f"{pieces} of " if pieces is not None else "") + ", ".join(named) + more
