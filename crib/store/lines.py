"""One line of the ledger and what it does to an item: pure, the same for writing and for replay."""

from dataclasses import dataclass, replace
from datetime import date


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """What the ledger says of one item now.

    Attributes:
        owner_id: party.
        place_id: where it belongs, also while it is lent out.
        condition: one of words.CONDITIONS.
        quantity: pieces in the batch.
        edges_left: fresh cutting edges in the batch; None where never counted.
        held_by_id: the party it is lent to.
        due_back: when the holder should bring it back.
    """

    owner_id: int
    place_id: int
    condition: str
    quantity: int
    edges_left: int | None = None
    held_by_id: int | None = None
    due_back: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What one line changes: a pair from → to for each thing it touches, both None where it doesn't.

    Attributes:
        what: one of words.HAPPENINGS.
        quantity_change: pieces more or less.
        edges_change: edges more or less; None where edges are not touched.
        edges_unknown: the edges are uncounted again.
        due_back: goes with the holder.
    """

    what: str
    quantity_change: int = 0
    edges_change: int | None = None
    edges_unknown: bool | None = None
    from_owner_id: int | None = None
    to_owner_id: int | None = None
    from_place_id: int | None = None
    to_place_id: int | None = None
    from_held_by_id: int | None = None
    to_held_by_id: int | None = None
    from_condition: str | None = None
    to_condition: str | None = None
    due_back: date | None = None


class BrokenLine(ValueError):
    """A line that can't follow the ones before it; says why."""


def apply(state: State | None, change: Change) -> State:
    """Give an item's state after one line.

    Args:
        state: before the line; None when the item has no line yet.
        change: the line.

    Raises:
        BrokenLine: the line doesn't fit the state: a bug, or a ledger that was tampered with.
    """
    if state is None:
        return _first(change)
    if change.what == "added":
        raise BrokenLine("the item was added before")
    _check_from(state, change)
    after = replace(
        state,
        owner_id=state.owner_id if change.to_owner_id is None else change.to_owner_id,
        place_id=state.place_id if change.to_place_id is None else change.to_place_id,
        condition=change.to_condition or state.condition,
        quantity=state.quantity + change.quantity_change,
    )
    if change.edges_change is not None:
        after = replace(after, edges_left=(state.edges_left or 0) + change.edges_change)
    if change.edges_unknown:
        after = replace(after, edges_left=None)
    if change.from_held_by_id is not None or change.to_held_by_id is not None:
        after = replace(after, held_by_id=change.to_held_by_id, due_back=change.due_back)
    return _checked(after)


def _first(change: Change) -> State:
    if change.what != "added":
        raise BrokenLine(f"the first line says {change.what!r}, not 'added'")
    if change.to_owner_id is None or change.to_place_id is None or change.to_condition is None:
        raise BrokenLine("the first line lacks owner, place or condition")
    return _checked(
        State(
            owner_id=change.to_owner_id,
            place_id=change.to_place_id,
            condition=change.to_condition,
            quantity=change.quantity_change,
            edges_left=change.edges_change,
            held_by_id=change.to_held_by_id,
            due_back=change.due_back,
        )
    )


def _check_from(state: State, change: Change) -> None:
    for name in ("owner_id", "place_id", "condition"):
        if getattr(change, f"to_{name}") is not None and getattr(change, f"from_{name}") != getattr(
            state, name
        ):
            raise BrokenLine(
                f"it says from_{name} {getattr(change, f'from_{name}')}, not {getattr(state, name)}"
            )
    touched = change.from_held_by_id is not None or change.to_held_by_id is not None
    if touched and change.from_held_by_id != state.held_by_id:
        raise BrokenLine(f"it says from_held_by_id {change.from_held_by_id}, not {state.held_by_id}")


def _checked(state: State) -> State:
    if state.quantity < 0 or (state.edges_left or 0) < 0:
        raise BrokenLine("a count falls below zero")
    if state.due_back is not None and state.held_by_id is None:
        raise BrokenLine("there is a day to bring it back, but nobody has it")
    return state
