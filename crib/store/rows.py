"""What reading gives: plain named tuples, cheap to import and make; columns as ordered in crib.store.sql.

Here are the rows of a search; all others are in crib.store.record_rows, and are loaded when first named.
"""

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from crib.store.record_rows import BarRow as BarRow
    from crib.store.record_rows import BitRow as BitRow
    from crib.store.record_rows import CheckRow as CheckRow
    from crib.store.record_rows import CutRow as CutRow
    from crib.store.record_rows import GaugeRow as GaugeRow
    from crib.store.record_rows import HolderRow as HolderRow
    from crib.store.record_rows import InsertRow as InsertRow
    from crib.store.record_rows import LedgerRow as LedgerRow
    from crib.store.record_rows import MachineRow as MachineRow
    from crib.store.record_rows import OutRow as OutRow
    from crib.store.record_rows import ProvenRow as ProvenRow
    from crib.store.record_rows import RecentRow as RecentRow
    from crib.store.record_rows import RodRow as RodRow
    from crib.store.record_rows import RotaryRow as RotaryRow
    from crib.store.record_rows import SetupPointRow as SetupPointRow
    from crib.store.record_rows import SetupRow as SetupRow
    from crib.store.record_rows import StocktakeRow as StocktakeRow
    from crib.store.record_rows import Tooling as Tooling


class ItemRow(NamedTuple):
    """One item with the names of its owner, place and holder; `lacks` is a recorded part that is gone."""

    id: int
    tag: str
    kind: str
    label: str
    designation: str | None
    equivalent: str | None
    hand: str | None
    sc: str | None
    an_deg: float | None
    ic_mm: float | None
    l_mm: float | None
    owner_id: int
    owner: str
    owner_mark: str | None
    place_id: int
    place: str
    site_id: int
    site: str
    held_by_id: int | None
    held_by: str | None
    due_back: date | None
    condition: str
    quantity: int
    edges_left: int | None
    mark: str | None
    serial: str | None
    note: str | None
    lacks: str | None = None


class Found(NamedTuple):
    """One page of a search, and how many there are in all."""

    rows: tuple[ItemRow, ...]
    total: int


class PartyRow(NamedTuple):
    """A person or company."""

    id: int
    name: str
    kind: str
    mark: str | None
    note: str | None
    gone_on: date | None


class PlaceRow(NamedTuple):
    """One place of the tree."""

    id: int
    name: str
    kind: str
    path: str
    parent_id: int | None
    site_id: int


def __getattr__(name: str) -> object:
    """Load the other rows when one is first named."""
    if not name.startswith("_"):  # the import system asks for __path__
        from crib.store import record_rows

        if name in vars(record_rows):
            return vars(record_rows)[name]
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
