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
        dc_mm: diameter; by the ledger alone None until a regrind changed it.
        lf_mm: length, likewise.
    """

    owner_id: int
    place_id: int
    condition: str
    quantity: int
    edges_left: int | None = None
    held_by_id: int | None = None
    due_back: date | None = None
    dc_mm: float | None = None
    lf_mm: float | None = None


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
    from_dc_mm: float | None = None
    to_dc_mm: float | None = None
    from_lf_mm: float | None = None
    to_lf_mm: float | None = None
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
    state = as_told(state, change)
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
    if _is_of(change, "held_by_id"):
        after = replace(after, held_by_id=change.to_held_by_id, due_back=change.due_back)
    if _is_of(change, "dc_mm"):
        after = replace(after, dc_mm=change.to_dc_mm)
    if _is_of(change, "lf_mm"):
        after = replace(after, lf_mm=change.to_lf_mm)
    return _checked(after)


def as_told(state: State, change: Change) -> State:
    """Give the state before a line with what that line is the first to tell: the size before a regrind."""
    return replace(
        state,
        dc_mm=change.from_dc_mm if state.dc_mm is None else state.dc_mm,
        lf_mm=change.from_lf_mm if state.lf_mm is None else state.lf_mm,
    )


def _is_of(change: Change, name: str) -> bool:
    """Tell whether a line touches what may also become unknown again."""
    return getattr(change, f"from_{name}") is not None or getattr(change, f"to_{name}") is not None


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
    for name in ("held_by_id", "dc_mm", "lf_mm"):
        said, stands = getattr(change, f"from_{name}"), getattr(state, name)
        if _is_of(change, name) and said != stands:
            raise BrokenLine(f"it says from_{name} {said}, not {stands}")


def _checked(state: State) -> State:
    if state.quantity < 0 or (state.edges_left or 0) < 0:
        raise BrokenLine("a count falls below zero")
    if any(size is not None and size <= 0 for size in (state.dc_mm, state.lf_mm)):
        raise BrokenLine("a size is not above zero")
    if state.due_back is not None and state.held_by_id is None:
        raise BrokenLine("there is a day to bring it back, but nobody has it")
    return state
