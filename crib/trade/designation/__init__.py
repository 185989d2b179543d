"""Reading the codes of inserts, turning holders and boring bars.

`read(text, Letters(tables.rows))` gives an InsertReading, a HolderReading or a BarReading, or raises
BadDesignation. Imported on their own: `fit` tells whether an insert goes into a holder, `encode` writes codes
from dimensions, `iso513` reads what grades are meant for.
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
