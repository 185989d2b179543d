"""From one place to another: whole tools, or part of a batch; like batches that meet become one."""

from collections.abc import Sequence

from crib.desk import lookup
from crib.desk.asking.ask import Asker
from crib.desk.doings.batch import merge_if_like, one_batch, part, tools_named
from crib.desk.doings.doing import Done, doing, done
from crib.errors import NotPossible
from crib.store.read import reading


def move(
    address: str,
    tags: Sequence[str],
    to: str,
    *,
    pieces: int | None = None,
    edges: int | None = None,
    why: str = "",
) -> Done:
    """Record that tools lie at another place now; all of them or none.

    Args:
        address: the store.
        tags: which tools.
        to: where they lie now.
        pieces: only so many of a batch; goes with one tool.
        edges: fresh edges on those pieces, where not all are alike.
        why: what for.

    Raises:
        UnknownName: no such tool or place.
        NotPossible: one is lent out, or is there already; nothing was recorded.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        rows = lookup.items(reader, tags)
        place = lookup.place(reader, to, site_id=Asker(reader).site_id)
        for row in rows:
            if row.place_id == place.id:
                raise NotPossible(f"{row.tag} is at {place.path} already", "nothing was recorded")
    one_batch(rows, pieces, edges)
    with doing(address) as do:
        do.hold(row.id for row in rows)
        merged = []
        for row in rows:
            item_id = part(do, row.id, pieces, edges)
            do.record(item_id, "moved", to_place_id=place.id, why=why.strip() or None)
            if (other := merge_if_like(do, item_id)) is not None:
                merged.append(f"{row.tag} went to {do.item(other).tag}, which is like it")
    crossed = [row for row in rows if row.site_id != place.site_id]
    mind = "It changed sites; crib bring and crib take-home also record who was told." if crossed else ""
    return done(
        address,
        do,
        f"Moved: {tools_named(rows, pieces)} to {place.path}.",
        "; ".join(merged) + "." * bool(merged) or mind,
    )
