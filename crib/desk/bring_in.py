"""What did I bring in? Recording tools brought from home, and taken home again."""

from collections.abc import Sequence
from datetime import UTC, datetime

from crib.desk.ask import Asker, FoundItem
from crib.desk.story import item_of
from crib.errors import NotPossible, UnknownName
from crib.store import ledger
from crib.store.read import reading
from crib.store.writing import writing


def bring_in(address: str, tags: Sequence[str], *, to: str = "", why: str = "") -> tuple[FoundItem, ...]:
    """Record that tools came from home to the site we are at; all of them or none.

    Args:
        address: the store.
        tags: the shop's own numbers of the tools.
        to: the place where they lie now; the site itself if not told.
        why: the job they came for.

    Returns:
        The tools as they are on record now.

    Raises:
        UnknownName: no such tag or place.
        NotPossible: one is here already, or lent out; or the site we are at is not set.
        StoreError: the store can't be used.
    """
    now = datetime.now(UTC)
    with reading(address) as reader:
        asker = Asker(reader)
        place_id = _place(asker, to)
        rows = list({row.id: row for row in (item_of(reader, tag) for tag in tags)}.values())
        me = asker.names().me
        for row in rows:
            if row.held_by:
                raise NotPossible(f"{row.tag} is lent to {row.held_by}", "nothing was recorded")
            if row.site_id == asker.here():
                raise NotPossible(f"{row.tag} is on site already, at {row.place}", "nothing was recorded")
    with writing(address) as session:
        for row in rows:
            entry = ledger.Entry(
                item_id=row.id, what="brought in", at=now, actor_id=me, to_place_id=place_id, why=why or None
            )
            ledger.record(session, entry)
    with reading(address) as reader:
        asker = Asker(reader)
        return tuple(asker.shown(item_of(reader, row.tag)) for row in rows)


def _place(asker: Asker, to: str) -> int:
    """Give the place that the tools come to: on the site we are at."""
    here = asker.here_or_refuse()
    if not to:
        return here
    paths = asker.names().places
    path = paths.get(to.lower())
    for place in asker.places:
        if place.path == path:
            if place.site_id != here:
                raise NotPossible(f"{place.path} is not on this site", "nothing was recorded")
            return place.id
    raise UnknownName("place", to, tuple(known for known in paths if to.lower() in known)[:3])
