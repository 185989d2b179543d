"""Reading the codes of inserts, turning holders and boring bars.

`read(text, Letters.load(tables.rows))` gives an InsertReading, a HolderReading or a BarReading, or raises
BadDesignation. `fit` (imported on its own) tells whether an insert goes into a holder.
"""

from crib.trade.designation.letters import Letters
from crib.trade.designation.reading import (
    BarReading,
    Fixing,
    HolderReading,
    InsertReading,
    PositionReading,
    Reading,
    Tolerance,
    edges_per_insert,
)
from crib.trade.designation.resolve import read

__all__ = [
    "BarReading",
    "Fixing",
    "HolderReading",
    "InsertReading",
    "Letters",
    "PositionReading",
    "Reading",
    "Tolerance",
    "edges_per_insert",
    "read",
]
