"""What wears out: edges used, a new state, scrap, and a fresh count of one box."""

from collections.abc import Sequence

from crib.desk import lookup
from crib.desk.doings import reground
from crib.desk.doings.batch import edges_of_part, one_batch, tools_named
from crib.desk.doings.doing import Doing, Done, doing, done
from crib.desk.doings.state import condition_of
from crib.errors import InputError, NotPossible
from crib.store.models import Item
from crib.store.read import reading
from crib.store.rows import ItemRow
from crib.units.counts import many


def use(address: str, tag: str, *, edges: int = 1, gone: int = 0, job: str = "", why: str = "") -> Done:
    """Record that fresh edges of a box were used; with the last one the box is worn.

    Args:
        address: the store.
        tag: the box.
        edges: how many edges.
        gone: pieces that left the box with it, spent or broken.
        job: which job or cut it was for.
        why: what is to be said of it.

    Raises:
        UnknownName: no such tool.
        NotPossible: there are not so many edges, or they were never counted; nothing was recorded.
        StoreError: the store can't be used.
    """
    if edges < 1:
        raise InputError(f"{edges} edges can't be used", "say one or more")
    with reading(address) as reader:
        row = lookup.item(reader, tag)
    if row.kind != "insert":
        raise NotPossible(
            f"{row.tag} {row.label} has no edges to count",
            f"record its state instead: crib regrade {row.tag}",
        )
    with doing(address) as do:
        item = do.item(row.id)
        if item.held_by_id is not None:
            raise NotPossible(f"{item.tag} is lent to {row.held_by}", "record its return first")
        if item.edges_left is not None:
            _refuse_impossible(item, item.quantity - gone, item.edges_left - edges)
        is_last = item.edges_left == edges
        do.record(
            row.id, "edge used", edges_change=-edges, quantity_change=-gone, cut_ref=job.strip() or None,
            why=why.strip() or None, to_condition="worn" if is_last and item.condition != "worn" else None,
        )  # fmt: skip
        left = do.item(row.id).edges_left or 0
    name = f"{row.tag} {row.designation or row.label}"
    word = "edge" if edges == 1 else "edges"
    pieces = f", {gone} piece{'s' * (gone > 1)} gone" if gone else ""
    detail = f"{left} fresh edges are left." if left > 1 else "One fresh edge is left."
    if not left:
        detail = f"That was the last edge: the box is worn now. crib scrap {row.tag} when it goes."
    return done(address, do, f"Used {edges} {word} of {name}{pieces}.", detail)


def regrade(
    address: str,
    tags: Sequence[str],
    to: str = "",
    *,
    diameter: str = "",
    length: str = "",
    why: str = "",
) -> Done:
    """Record that tools are in another state now, or were ground to a new size; all of them or none.

    Args:
        address: the store.
        tags: which tools.
        to: new, good, worn, damaged, or shop talk for one; as before if only a size is told.
        diameter: what a regrind left of it, as typed; goes with one tool.
        length: likewise.
        why: what is to be said of it.

    Raises:
        UnknownName: no such tool or state.
        InputError: a size that can't be read, or nothing is told.
        NotPossible: one is in that state or of that size already, or "scrap" was said.
        StoreError: the store can't be used.
    """
    state = condition_of(to)
    with reading(address) as reader:
        rows = lookup.items(reader, tags)
        new = reground.reground(reader, rows, diameter, length)
    if state == "scrap" or (state is None and new is None):
        raise InputError(
            "say the state: new, good, worn, damaged",
            "crib scrap writes tools off" if state else "or what a regrind left: its diameter, its length",
        )
    for row in rows:
        if row.condition == state and new is None:
            raise NotPossible(f"{row.tag} is {state} already", "nothing changes by it")
    with doing(address) as do:
        do.hold(row.id for row in rows)
        for row in rows:
            if state is not None and row.condition != state:
                do.record(row.id, "regraded", to_condition=state, why=why.strip() or None)
            reground.record(do, row.id, new, why)
    verdict = f"Now {state}: {tools_named(rows)}." if state else f"Ground: {tools_named(rows)}."
    told = [_was(rows)] * bool(state) + ([new.told] if new else [])
    return done(address, do, verdict, " ".join(told))


def scrap(
    address: str, tags: Sequence[str], *, why: str, pieces: int | None = None, edges: int | None = None
) -> Done:
    """Write tools off, with the reason; they stay on record. All of them or none.

    Args:
        address: the store.
        tags: which tools.
        why: what happened.
        pieces: only so many of a batch; goes with one tool.
        edges: fresh edges that go with those pieces, where not all are alike.

    Raises:
        UnknownName: no such tool.
        InputError: no reason is given.
        NotPossible: one is scrap already, or lent out; nothing was recorded.
        StoreError: the store can't be used.
    """
    if not why.strip():
        raise InputError("the reason is missing", 'say what happened: --why "two flutes chipped off"')
    with reading(address) as reader:
        rows = lookup.items(reader, tags)
    one_batch(rows, pieces, edges)
    with doing(address) as do:
        do.hold(row.id for row in rows)
        for row in rows:
            item = do.item(row.id)
            if item.condition == "scrap":
                raise NotPossible(f"{item.tag} is scrap already", "nothing changes by it")
            if item.held_by_id is not None:
                raise NotPossible(f"{item.tag} is lent to {row.held_by}", "record its return first")
            _scrap(do, item, pieces, edges, why.strip())
    mine = [row for row in rows if row.owner_id == do.me_id]
    detail = "If the shop owes you for it, a claim can be made from this." if mine else ""
    return done(address, do, f"Scrapped: {tools_named(rows, pieces)} ({why.strip()}).", detail)


def _scrap(do: Doing, item: Item, pieces: int | None, edges: int | None, why: str) -> None:
    if pieces is None or pieces == item.quantity:
        left = item.edges_left
        do.record(item.id, "scrapped", to_condition="scrap", edges_change=-left if left else None, why=why)
        return
    if not 0 < pieces < item.quantity:
        raise NotPossible(
            f"{pieces} of {item.tag} can't go: {item.quantity} are there", "count it first: crib count"
        )
    lost = edges_of_part(item, pieces, edges)
    do.record(
        item.id, "scrapped", quantity_change=-pieces, edges_change=None if lost is None else -lost, why=why
    )


def count(address: str, tag: str, pieces: int, *, edges: int | None = None, why: str = "") -> Done:
    """Record a fresh count of one box: what is there wins over the books.

    Args:
        address: the store.
        tag: the box.
        pieces: pieces that are there.
        edges: fresh edges on them; as recorded if not told.
        why: what is to be said of it.

    Raises:
        UnknownName: no such tool.
        InputError: a count below nothing.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        row = lookup.item(reader, tag)
    if edges is not None and row.kind != "insert":
        raise InputError(f"{row.tag} {row.label} has no edges to count", "leave them out")
    with doing(address) as do:
        item = do.item(row.id)
        was = (item.quantity, item.edges_left)
        each = item.insert.cedc if item.insert else None
        record_count(do, item, pieces, edges, why.strip() or None)
    minds = []
    if edges is not None and each is not None and edges > each * pieces:
        minds.append(f"that is more than {each} edges a piece, as the code has them; your word stands")
    if edges is None and was[1] is not None and was[0] != pieces:
        minds.append(f"its edges, {was[1]} by the books, were not counted again (--edges N)")
    return done(
        address, do, f"Counted {row.tag} {row.designation or row.label}: {told_count(was, (pieces, edges))}.",
        ("Mind: " + "; ".join(minds) + ".") if minds else "",
    )  # fmt: skip


def record_count(do: Doing, item: Item, pieces: int, edges: int | None, why: str | None) -> None:
    """Append the line of a count to a doing."""
    if pieces < 0 or (edges is not None and edges < 0):
        raise InputError("a count below nothing can't be", "a whole number from 0 on")
    if pieces == 0 and edges:
        raise InputError(f"{edges} edges on no piece can't be", "count pieces and edges again")
    if pieces == 0 and item.edges_left:
        edges = 0
    do.record(
        item.id, "counted", quantity_change=pieces - item.quantity,
        edges_change=None if edges is None else edges - (item.edges_left or 0), why=why,
    )  # fmt: skip


def told_count(was: tuple[int, int | None], now: tuple[int, int | None]) -> str:
    """Say what a count found against the books: "9 pieces, 36 edges; the books said 10 and 40"."""
    pieces, edges = now
    found = f"{pieces} piece{'s' * (pieces != 1)}" + ("" if edges is None else f", {many(edges, 'edge')}")
    if pieces == was[0] and (edges is None or edges == was[1]):
        return f"{found}, as in the books"
    said = str(was[0])
    if edges is not None:
        said += f" and {'no count of edges' if was[1] is None else was[1]}"
    return f"{found}; the books said {said}"


def _refuse_impossible(item: Item, pieces: int, edges: int) -> None:
    """Refuse pieces that go where the edges left could not be on those that stay."""
    each = item.insert.cedc if item.insert else None
    if pieces < 0:
        raise NotPossible(f"only {item.quantity} of {item.tag} are there", "count them first: crib count")
    if edges > 0 and (pieces == 0 or (each is not None and edges > each * pieces)):
        raise NotPossible(
            f"{edges} fresh edges can't be on {pieces} pieces of {item.tag}",
            f"count what is there: crib count {item.tag} PIECES --edges N",
        )


def _was(rows: Sequence[ItemRow]) -> str:
    return "Before: " + ", ".join(f"{row.tag} {row.condition}" for row in rows[:5]) + "."
