"""What the records allow: each refusal says why and what would be right. Pure; names come from a function."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime

from crib.errors import NotPossible
from crib.store.lines import Change, State
from crib.store.words import CONDITIONS, HAPPENINGS

_MOVES = ("moved", "brought in", "taken home")
_LENDS = ("lent", "sent out")
_TOUCHES = {
    "moved": {"place"},
    "brought in": {"place", "condition"},
    "taken home": {"place", "condition"},
    "split": {"quantity", "edges"},
    "merged": {"quantity", "edges"},
    "lent": {"holder"},
    "sent out": {"holder"},
    "returned": {"place", "condition", "quantity", "edges"},
    "regraded": {"condition"},
    "reground": {"size"},
    "edge used": {"edges", "quantity", "condition"},
    "counted": {"quantity", "edges"},
    "claimed": set[str](),
    "replaced": {"condition", "quantity", "edges", "owner"},
    "scrapped": {"condition", "quantity", "edges"},
    "corrected": {"place", "holder", "owner", "condition", "quantity", "edges", "size"},
}
_NEEDS = {
    "moved": "place",
    "brought in": "place",
    "taken home": "place",
    "split": "quantity",
    "merged": "quantity",
    "lent": "holder",
    "sent out": "holder",
    "regraded": "condition",
    "reground": "size",
    "edge used": "edges",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What is to be recorded; the sides "from" are filled in from what is on record.

    Attributes:
        item_id: which item.
        what: one of words.HAPPENINGS but "added".
        at: when, with its time zone.
        actor_id: who did it.
        quantity_change: pieces more or less.
        edges_change: edges more or less; None where edges are not touched.
        edges_unknown: with "corrected": the edges were never counted after all.
        to_owner_id: new owner.
        to_place_id: new place.
        to_held_by_id: who gets it lent.
        to_condition: new condition.
        to_dc_mm: new diameter.
        to_lf_mm: new length.
        clear_sizes: with "corrected": of dc_mm and lf_mm those that were not on record before.
        due_back: when it should be back; goes with to_held_by_id.
        clear_holder: with "corrected": nobody has it after all.
        why: in words.
        cut_ref: which cut or job it was for.
        other_item_id: the batch that pieces went to or came from; goes with "split" and "merged".
        corrects_id: the line that this one puts right; goes with "corrected".
        act: the same word on all lines of one doing, so that they can be told and undone together.
        told: who was told of it, and how.
        key: makes a repeated entry harmless.
    """

    item_id: int
    what: str
    at: datetime
    actor_id: int | None = None
    quantity_change: int = 0
    edges_change: int | None = None
    edges_unknown: bool = False
    to_owner_id: int | None = None
    to_place_id: int | None = None
    to_held_by_id: int | None = None
    to_condition: str | None = None
    to_dc_mm: float | None = None
    to_lf_mm: float | None = None
    clear_sizes: tuple[str, ...] = ()
    due_back: date | None = None
    clear_holder: bool = False
    why: str | None = None
    cut_ref: str | None = None
    other_item_id: int | None = None
    corrects_id: int | None = None
    act: str | None = None
    told: str | None = None
    key: str | None = None

    def __post_init__(self) -> None:
        """Refuse an entry that makes no sense whatever the item: a fault of the caller, not of the user."""
        if self.at.tzinfo is None:
            raise ValueError("an entry needs a time with its zone")
        if self.what not in HAPPENINGS or self.what == "added":
            raise ValueError(f"no entry is called {self.what!r}")
        if self.to_condition is not None and self.to_condition not in CONDITIONS:
            raise ValueError(f"no condition is called {self.to_condition!r}")
        if self.due_back is not None and self.to_held_by_id is None:
            raise ValueError("a day to bring it back goes with a holder")
        touched = self._touched()
        if touched - _TOUCHES[self.what] or _NEEDS.get(self.what) not in {None, *touched}:
            raise ValueError(f"{self.what!r} can't touch just {sorted(touched)}")
        if self.what == "edge used" and (self.edges_change or 0) >= 0:
            raise ValueError("'edge used' takes edges away")
        if (self.other_item_id is not None) != (self.what in ("split", "merged")):
            raise ValueError("'split' and 'merged' name the other batch, and nothing else does")
        if self.corrects_id is not None and self.what != "corrected":
            raise ValueError("only 'corrected' puts a line right")
        if (self.edges_unknown or self.clear_sizes) and self.what != "corrected":
            raise ValueError("only 'corrected' forgets a count of edges, or a size")

    def _touched(self) -> set[str]:
        given = {
            "place": self.to_place_id is not None,
            "holder": self.to_held_by_id is not None or self.clear_holder,
            "owner": self.to_owner_id is not None,
            "condition": self.to_condition is not None,
            "quantity": self.quantity_change != 0,
            "edges": self.edges_change is not None,
            "size": bool(self.clear_sizes) or (self.to_dc_mm, self.to_lf_mm) != (None, None),
        }
        return {name for name, is_given in given.items() if is_given}


@dataclass(frozen=True, slots=True)
class Names:
    """How an item, a party and a place are called in a refusal."""

    item: str
    party: Callable[[int], str]
    place: Callable[[int], str]


def change_of(state: State, entry: Entry) -> Change:
    """Give the ledger's line for an entry: the sides "from" filled in."""
    told = {"dc_mm": entry.to_dc_mm, "lf_mm": entry.to_lf_mm}
    sizes = {name for name, size in told.items() if size is not None or name in entry.clear_sizes}
    touches_holder = entry.to_held_by_id is not None or entry.clear_holder or entry.what == "returned"
    return Change(
        what=entry.what,
        quantity_change=entry.quantity_change,
        edges_change=entry.edges_change,
        edges_unknown=entry.edges_unknown or None,
        from_owner_id=None if entry.to_owner_id is None else state.owner_id,
        to_owner_id=entry.to_owner_id,
        from_place_id=None if entry.to_place_id is None else state.place_id,
        to_place_id=entry.to_place_id,
        from_held_by_id=state.held_by_id if touches_holder else None,
        to_held_by_id=entry.to_held_by_id,
        from_condition=None if entry.to_condition is None else state.condition,
        to_condition=entry.to_condition,
        from_dc_mm=state.dc_mm if "dc_mm" in sizes else None,
        to_dc_mm=entry.to_dc_mm,
        from_lf_mm=state.lf_mm if "lf_mm" in sizes else None,
        to_lf_mm=entry.to_lf_mm,
        due_back=entry.due_back,
    )


def refuse_if_wrong(state: State, entry: Entry, names: Names) -> None:
    """Refuse an entry that the item's state does not allow.

    Raises:
        NotPossible: with the reason and what would be right.
    """
    _refuse_counts(state, entry, names)
    _refuse_lending(state, entry, names)
    if entry.what in _MOVES:
        _refuse_move(state, entry, names)
    if entry.what in (*_LENDS, "edge used") and state.condition == "scrap":
        raise NotPossible(f"{names.item} is scrap", "if it is not, record its condition first")
    if entry.what in (*_MOVES, *_LENDS, "edge used") and state.quantity == 0:
        raise NotPossible(f"none is left of {names.item}", "if there is one, record the count first")


def _refuse_counts(state: State, entry: Entry, names: Names) -> None:
    if state.quantity + entry.quantity_change < 0:
        raise NotPossible(
            f"{-entry.quantity_change} of {names.item} can't go: only {state.quantity} left",
            "if there are more, record the count first",
        )
    if entry.edges_change is None:
        return
    if state.edges_left is None and entry.edges_change < 0:
        raise NotPossible(
            f"the edges of {names.item} were never counted",
            "count them first: crib count TAG PIECES --edges N, or a stocktake",
        )
    if (state.edges_left or 0) + entry.edges_change < 0:
        raise NotPossible(
            f"{-entry.edges_change} edges of {names.item} can't go: only {state.edges_left} left",
            "if there are more, record the count first",
        )


def _refuse_lending(state: State, entry: Entry, names: Names) -> None:
    if entry.what == "returned" and state.held_by_id is None:
        raise NotPossible(f"{names.item} is not lent out", f"it should be at {names.place(state.place_id)}")
    if entry.what not in _LENDS or entry.to_held_by_id is None:
        return
    if state.held_by_id is not None and state.held_by_id != entry.to_held_by_id:
        raise NotPossible(
            f"{names.item} is lent to {names.party(state.held_by_id)} already", "record its return first"
        )
    if state.held_by_id == entry.to_held_by_id and state.due_back == entry.due_back:
        raise NotPossible(
            f"{names.item} is lent to {names.party(entry.to_held_by_id)} already", "nothing changes by it"
        )
    if entry.to_held_by_id == state.owner_id:
        raise NotPossible(
            f"{names.item} belongs to {names.party(state.owner_id)}, who can't borrow it",
            "record it as taken home instead",
        )


def _refuse_move(state: State, entry: Entry, names: Names) -> None:
    if state.held_by_id is not None:
        raise NotPossible(
            f"{names.item} is lent to {names.party(state.held_by_id)}", "record its return first"
        )
    if entry.to_place_id == state.place_id:
        raise NotPossible(
            f"{names.item} is at {names.place(state.place_id)} already", "nothing changes by it"
        )
