"""Who gets what, until when, and back again: lending to people, sending out for regrind, returns."""

from collections.abc import Sequence

from crib.desk import dates, lookup
from crib.desk.doings import reground
from crib.desk.doings.batch import merge_if_like, one_batch, part, tools_named
from crib.desk.doings.doing import Done, doing, done
from crib.desk.doings.state import condition_of
from crib.desk.owed.claimed import is_live, lines_by_item
from crib.errors import InputError, NotPossible
from crib.store.models import Item
from crib.store.read import Reader, reading
from crib.store.rows import ItemRow

_NO_DAY = "No day is promised: it never comes on the overdue list."


def lend(
    address: str,
    tags: Sequence[str],
    to: str,
    *,
    back: str = "",
    pieces: int | None = None,
    edges: int | None = None,
    why: str = "",
    what: str = "lent",
) -> Done:
    """Record that tools are lent, or sent out for work on them; all of them or none.

    Args:
        address: the store.
        tags: which tools.
        to: who gets them.
        back: the day on which they are promised back, as typed.
        pieces: only so many of a batch; goes with one tool.
        edges: fresh edges on those pieces, where not all are alike.
        why: what for.
        what: "lent" or "sent out".

    Raises:
        UnknownName: no such tool or person.
        BadDate: the day can't be read.
        NotPossible: one is lent already, or scrap, or its owner's own; nothing was recorded.
        StoreError: the store can't be used.
    """
    day = dates.read_day(back, on=dates.today()) if back.strip() else None
    if day is not None and day < dates.today():
        raise InputError(f"{dates.show_day(day)} is past", "say the day on which it is promised back")
    with reading(address) as reader:
        rows = lookup.items(reader, tags)
        who = lookup.party(reader, to)
        claimed = _claimed(reader, rows) if what == "sent out" else ()
    if who.gone_on is not None:
        left = dates.show_day(who.gone_on)
        raise NotPossible(f"{who.name} left on {left}", f'back again? crib party "{who.name}" --back')
    one_batch(rows, pieces, edges)
    with doing(address) as do:
        do.hold(row.id for row in rows)
        for row in rows:
            item_id = part(do, row.id, pieces, edges)
            do.record(item_id, what, to_held_by_id=who.id, due_back=day, why=why or None)
    until = f", back by {dates.show_day(day)}" if day else ""
    word = "Lent to" if what == "lent" else "Sent out to"
    return done(
        address,
        do,
        f"{word} {who.name}: {tools_named(rows, pieces)}{until}.",
        " ".join([*claimed, *([] if day else [_NO_DAY])]),
    )


def _claimed(reader: Reader, rows: Sequence[ItemRow]) -> list[str]:
    """Warn of tools in a claim that something may still come of: work on them changes what is claimed."""
    lines = lines_by_item(reader)
    return [
        f"MIND: {row.tag} is on claim {claim.number}, line {line.line_no} ({now.state}): "
        "whoever pays may want to see it as it is."
        for row in rows
        for claim, line, now in lines.get(row.id, ())
        if is_live(claim, now)
    ]


def give_back(
    address: str,
    tags: Sequence[str],
    *,
    to: str = "",
    condition: str = "",
    pieces: int | None = None,
    edges: int | None = None,
    diameter: str = "",
    length: str = "",
    why: str = "",
) -> Done:
    """Record that tools came back, from a person or from regrind; all of them or none.

    Args:
        address: the store.
        tags: which tools.
        to: where they lie now; where they belong if not told.
        condition: what state they are in now; as before if not told.
        pieces: so many came back of a batch; the rest stays out with whoever has it.
        edges: fresh edges on those pieces, where not all are alike.
        diameter: what a regrind left of it, as typed; goes with one tool.
        length: likewise.
        why: what is to be said of it.

    Raises:
        UnknownName: no such tool or place.
        InputError: a size that can't be read.
        NotPossible: one is not lent out, or has no size that a regrind changes; nothing was recorded.
        StoreError: the store can't be used.
    """
    state = condition_of(condition)
    with reading(address) as reader:
        rows = lookup.items(reader, tags)
        place = lookup.place(reader, to) if to.strip() else None
        new = reground.reground(reader, rows, diameter, length, pieces)
        unsized = [] if new else _from_the_grinder(reader, rows)
    one_batch(rows, pieces, edges)
    with doing(address) as do:
        do.hold(row.id for row in rows)
        for row in rows:
            item = do.item(row.id)
            holder_id, due, out = item.held_by_id, item.due_back, item.quantity
            if pieces is not None and not 0 < pieces <= out:
                raise NotPossible(f"{out} of {item.tag} are out, not {pieces}", "say how many came back")
            moved = place is not None and place.id != item.place_id
            changed = state if state != item.condition else None
            do.record(
                row.id, "returned", to_place_id=place.id if place and moved else None,
                to_condition=changed, why=why or None,
            )  # fmt: skip
            if pieces is not None and pieces < out:
                rest = part(do, row.id, out - pieces, None if edges is None else _rest(item, edges))
                do.record(rest, "lent", to_held_by_id=holder_id, due_back=due, why="still out")
            reground.record(do, row.id, new, why)
            merge_if_like(do, row.id)
    where = place.path if place else "; ".join(dict.fromkeys(row.place for row in rows))
    verdict = f"Back: {tools_named(rows, pieces)}; now at {where}."
    minds = [_last_had(rows), new.told if new else "", *unsized]
    return done(address, do, verdict, " ".join(mind for mind in minds if mind))


def _from_the_grinder(reader: Reader, rows: Sequence[ItemRow]) -> list[str]:
    """Ask for the new size of what was sent out and may have been ground."""
    found = []
    for row in rows:
        went = (line.what for line in reversed(reader.ledger_of(row.id)) if line.to_held_by)
        if row.kind == "rotary" and next(went, "") == "sent out":
            found.append(f"Was {row.tag} ground? crib regrade {row.tag} --diameter … --length … keeps it.")
    return found


def _rest(item: Item, edges: int) -> int:
    """Give the edges that stay out, where so many came back."""
    if item.edges_left is None or not 0 <= edges <= item.edges_left:
        raise InputError(f"{edges} edges can't be back: {item.tag} has {item.edges_left}", "say 0 or more")
    return item.edges_left - edges


def _last_had(rows: Sequence[ItemRow]) -> str:
    names = ", ".join(dict.fromkeys(row.held_by for row in rows if row.held_by))
    return f"It was with {names}." if names else ""
