"""Is what the store says now what its ledger says? Rebuild everything and compare."""

from dataclasses import dataclass

from crib.store import ledger
from crib.store.writing import writing


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One field of one item that the ledger does not bear out."""

    item_id: int
    field: str
    stored: str
    by_ledger: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Audit:
    """What the audit found; no differences is what is wanted."""

    items: int
    differences: tuple[Difference, ...]


def audit(address: str) -> Audit:
    """Replay the whole ledger and compare with what is stored; nothing is changed.

    Raises:
        StoreError: the store can't be used.
    """
    with writing(address) as session:
        items = len(ledger.replay(session))
        found = tuple(
            Difference(
                item_id=one.item_id, field=one.field, stored=str(one.stored), by_ledger=str(one.replayed)
            )
            for one in ledger.differences(session)
        )
        session.rollback()
    return Audit(items=items, differences=found)
