"""Is what the store says now what its ledger says, and is the store sound? Rebuild everything and compare."""

from dataclasses import dataclass

from crib.store import ledger, soundness
from crib.store.writing import writing
from crib.units.counts import many


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One field of one item that the ledger does not bear out."""

    item_id: int
    field: str
    stored: str
    by_ledger: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Audit:
    """What the audit found; no differences and no troubles is what is wanted.

    Attributes:
        items: how many were rebuilt.
        differences: between what is stored and what the ledger gives.
        file: what SQLite finds wrong with the file; always empty for a server, which looks after its own.
        parents: references to rows that are not there.
        evidence: files that are damaged or belong to nothing.
    """

    items: int
    differences: tuple[Difference, ...]
    file: tuple[str, ...]
    parents: tuple[str, ...]
    evidence: tuple[str, ...]

    @property
    def sound(self) -> bool:
        """Say whether nothing at all was found."""
        return not any(troubles for _, troubles in self.checks)

    @property
    def verdict(self) -> str:
        """Say how much differs."""
        differ = many(len(self.differences), "difference")
        return f"{differ} in {many(self.items, 'item')} rebuilt from the ledger."

    @property
    def checks(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Give each thing that was looked at, as it should be, and what is wrong with it."""
        differ = tuple(
            f"item {one.item_id}: {one.field} is {one.stored}, by the ledger {one.by_ledger}"
            for one in self.differences
        )
        return (
            ("Everything is as the ledger says", differ),
            ("The file is sound", self.file),
            ("Every row has what it refers to", self.parents),
            ("Every piece of evidence is whole and belongs to something", self.evidence),
        )


def audit(address: str) -> Audit:
    """Look through the whole store, replay the ledger and compare with what is stored; nothing is changed.

    Raises:
        StoreError: the store can't be used.
    """
    with writing(address) as session:
        file = soundness.file_troubles(session)
        items = len(ledger.replay(session))
        found = tuple(
            Difference(
                item_id=one.item_id, field=one.field, stored=str(one.stored), by_ledger=str(one.replayed)
            )
            for one in ledger.differences(session)
        )
        parents = soundness.lost_parents(session)
        evidence = soundness.damaged_evidence(session) + soundness.unused_evidence(session)
        session.rollback()
    return Audit(
        items=items,
        differences=found,
        file=tuple(file),
        parents=tuple(parents),
        evidence=tuple(evidence),
    )
