"""Taking a doing back: nothing is deleted, correcting lines put everything as it was before it."""

from collections.abc import Sequence

from crib.desk.doings.doing import Doing, Done, doing, done
from crib.desk.doings.stocktake import refuse_counted_twice, reopen
from crib.errors import InputError, NotPossible
from crib.store import ledger
from crib.store.ledger import State, Told
from crib.store.lines import BrokenLine
from crib.store.models import GOVERNED_SIZES, Item

MOST_BACK = 200  # as many doings are looked through for one that still stands
_OF_CLAIMS = ("claimed", "replaced")


def undo(address: str, act: str = "") -> Done:
    """Take a doing back by correcting lines; all of it or nothing. An undo can be taken back likewise.

    Args:
        address: the store.
        act: the word of the doing; empty for the last one of whoever asks that still stands.

    Raises:
        InputError: there is no such doing.
        NotPossible: it was taken back already, or later lines stand on it, or it is part of a claim.
        StoreError: the store can't be used.
    """
    with doing(address) as do:
        act = act.strip().lower() or _last(do)
        items = ledger.items_of_act(do.session, act)
        if not items:
            raise InputError(
                f"there is no doing called {act!r}", "the word stands behind each doing: crib undo WORD"
            )
        stories = [(item_id, _story(do, item_id)) for item_id in items]
        told = [f"{what} {_name(do, item_id)}" for item_id, what in _what(stories, act)]
        for item_id, story in stories:
            _refuse(do, item_id, story, act)
        for item_id, story in stories:
            own = [line for line in story if line.act == act]
            known = {line.id: line for line in story}
            for line in own:
                if line.corrects_id is not None:
                    refuse_counted_twice(do, item_id, known[line.corrects_id].at)
            for line in reversed(own):
                _put_back(do, item_id, line)
        again = reopen(do, next(line.at for line in stories[0][1] if line.act == act))
    many = f" and {len(told) - 3} more" if len(told) > 3 else ""
    return done(
        address,
        do,
        f"Taken back: {'; '.join(told[:3])}{many}.",
        f"Everything is as before; {act} stays in the ledger."
        + (f" The count of {again} is open again." if again else ""),
    )


def _last(do: Doing) -> str:
    for act in ledger.latest_acts(do.session, do.me_id, MOST_BACK):
        item_id = ledger.items_of_act(do.session, act)[0]
        if not _is_undone(_story(do, item_id), act):
            return act
    raise NotPossible("there is nothing of yours to take back", "name the doing: crib undo WORD")


def _story(do: Doing, item_id: int) -> list[Told]:
    try:
        return ledger.told_of(do.session, item_id)
    except BrokenLine as error:
        raise NotPossible(
            f"the ledger of item {item_id} is broken: {error}", "crib audit says where"
        ) from error


def _what(stories: Sequence[tuple[int, Sequence[Told]]], act: str) -> list[tuple[int, str]]:
    """Say of each item what the doing did to it: its first line that is more than a split."""
    found = []
    for item_id, story in stories:
        whats = [line.what for line in story if line.act == act]
        found.append((item_id, next((what for what in whats if what not in ("split", "added")), whats[0])))
    return found


def _is_undone(story: Sequence[Told], act: str) -> bool:
    """Tell whether the doing's lines are put right by lines that still stand."""
    cancelled: set[int] = set()
    for line in reversed(story):
        if line.id not in cancelled and line.corrects_id is not None:
            cancelled.add(line.corrects_id)
    return all(line.id in cancelled for line in story if line.act == act)


def _refuse(do: Doing, item_id: int, story: Sequence[Told], act: str) -> None:
    """Refuse to take back what no longer stands, what others stand on, and what a claim is made of."""
    if _is_undone(story, act):
        raise NotPossible(f"{act} was taken back already", "nothing changes by it")
    own = [line for line in story if line.act == act]
    for line in own:
        if line.what in _OF_CLAIMS:
            raise NotPossible(f"{_name(do, item_id)} is part of a claim by it", "change the claim instead")
    later = [line for line in story if line.id > own[0].id and line.act != act]
    cancelled: set[int] = set()
    ids = {line.id for line in later}
    for line in reversed(later):
        if line.id in cancelled:
            continue
        if line.corrects_id not in ids or line.corrects_id is None:
            word = f"crib undo {line.act}" if line.act else "it was no doing that can be taken back"
            raise NotPossible(
                f"{_name(do, item_id)} was {line.what} since then, and that stands on it",
                f"take that back first: {word}",
            )
        cancelled.add(line.corrects_id)


def _put_back(do: Doing, item_id: int, line: Told) -> None:
    """Put an item as it was before one line."""
    after = line.after
    before = line.before or State(
        owner_id=after.owner_id,
        place_id=after.place_id,
        condition=after.condition,
        quantity=0,
        edges_left=None if after.edges_left is None else 0,
    )
    facts: dict[str, object] = {"quantity_change": before.quantity - after.quantity}
    if before.edges_left != after.edges_left:
        facts["edges_change"] = (before.edges_left or 0) - (after.edges_left or 0)
        facts["edges_unknown"] = before.edges_left is None
    for name in GOVERNED_SIZES:
        if getattr(before, name) != getattr(after, name):
            facts[f"to_{name}"] = getattr(before, name)
    unknown = tuple(name for name in GOVERNED_SIZES if facts.get(f"to_{name}", 0) is None)
    for name in ("owner_id", "place_id", "condition"):
        if getattr(before, name) != getattr(after, name):
            facts[f"to_{name}"] = getattr(before, name)
    if (before.held_by_id, before.due_back) != (after.held_by_id, after.due_back):
        if before.held_by_id is None:
            facts["clear_holder"] = True
        else:
            facts |= {"to_held_by_id": before.held_by_id, "due_back": before.due_back}
    why = f"undo of {line.act}: {line.what}"
    do.record(item_id, "corrected", corrects_id=line.id, clear_sizes=unknown, why=why, **facts)


def _name(do: Doing, item_id: int) -> str:
    item = do.session.get_one(Item, item_id)
    return f"{item.tag} {item.designation or item.label}"
