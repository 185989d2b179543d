"""One doing at the crib: what it writes to the ledger hangs together, is told in one line, and can be undone.

with doing(address) as do:
    do.record(item_id, "moved", to_place_id=…)
"""

import secrets
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from crib.desk import dates, lookup
from crib.desk.asking.ask import Asker, FoundItem
from crib.store import ledger
from crib.store.models import Item
from crib.store.read import reading
from crib.store.writing import WriteSession, writing

_BEGAN = datetime(2025, 1, 1, tzinfo=UTC)
_SIGNS = "23456789abcdefghjkmnpqrstuvwxyz"  # none that is taken for another


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """What a doing recorded.

    Attributes:
        act: the word on all its lines.
        verdict: what was recorded, in one line.
        detail: what it means, or what to mind; may be empty.
        undo: the command that takes it back.
        items: the tools that it touched, as they are now.
    """

    act: str
    verdict: str
    detail: str
    undo: str
    items: tuple[FoundItem, ...]


class Doing:
    """One doing inside one write transaction.

    Args:
        session: of the transaction.
        me_id: who does it; None where that is not set.
    """

    def __init__(self, session: WriteSession, me_id: int | None) -> None:
        self.session = session
        self.me_id = me_id
        self.at = dates.now()
        self.act = new_act(self.at)
        self.touched: list[int] = []

    def item(self, item_id: int) -> Item:
        """Give an item as it is inside the transaction: others wait until this doing is over."""
        self.session.flush()  # what was set on it and not yet written would be read over
        return self.session.get_one(Item, item_id, with_for_update=True, populate_existing=True)

    def hold(self, item_ids: Iterable[int]) -> None:
        """Take hold of items in the order of their numbers, so that no two doings wait for each other."""
        for item_id in sorted(item_ids):
            self.item(item_id)

    def record(self, item_id: int, what: str, **facts: Any) -> ledger.Recorded:
        """Append a line of this doing.

        Args:
            item_id: the item.
            what: one of words.HAPPENINGS.
            facts: further fields of ledger.Entry.

        Raises:
            NotPossible: the item's state doesn't allow it; nothing of the doing is kept.
        """
        if item_id not in self.touched:
            self.touched.append(item_id)
        facts.setdefault("actor_id", self.me_id)
        entry = ledger.Entry(item_id=item_id, what=what, at=self.at, act=self.act, **facts)
        return ledger.record(self.session, entry)


@contextmanager
def doing(address: str, *, by: str = "") -> Iterator[Doing]:
    """Open a write transaction for one doing: all its lines are kept, or none.

    Args:
        address: the store.
        by: who does it; the setting `me` if not told.

    Raises:
        UnknownName: nobody is called so.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        who = lookup.party(reader, by) if by else lookup.me(reader)
    with writing(address) as session:
        yield Doing(session, who.id if who else None)


def done(address: str, do: Doing, verdict: str, detail: str = "") -> Done:
    """Tell what a doing recorded, once its transaction is over."""
    return Done(
        act=do.act,
        verdict=verdict,
        detail=detail,
        undo=f"crib undo {do.act}",
        items=shown(address, do.touched),
    )


def shown(address: str, item_ids: Sequence[int]) -> tuple[FoundItem, ...]:
    """Give items as answers show them, as they are now."""
    with reading(address) as reader:
        asker = Asker(reader)
        rows = (reader.item(item_id) for item_id in item_ids)
        return tuple(asker.shown(row) for row in rows if row is not None)


def new_act(at: datetime) -> str:
    """Make the word for one doing: the second in which it was begun, and three signs by chance."""
    seconds, signs = int((at - _BEGAN).total_seconds()), ""
    while seconds:
        seconds, digit = divmod(seconds, len(_SIGNS))
        signs = _SIGNS[digit] + signs
    return signs + "".join(secrets.choice(_SIGNS) for _ in range(3))
