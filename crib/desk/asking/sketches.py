"""A drawing of what a code means: the reading brought together with the tables that drawing needs."""

from functools import cache

from crib.desk.asking.codes import designations
from crib.trade import tables
from crib.trade.designation.reading import InsertReading, Reading
from crib.trade.designation.sketch import Sketch, insert_sketch
from crib.trade.designation.tool_sketch import ToolStyle, tool_sketch


def sketch(reading: Reading, longest_mm: float | None = None) -> Sketch:
    """Draw an insert, a holder or a bar to scale.

    Args:
        reading: what `decode` gave.
        longest_mm: length from which on a shank is shortened; None for a picture that fits a screen.
    """
    shape = designations().shapes[reading.SC]
    if isinstance(reading, InsertReading):
        return insert_sketch(reading, shape)
    return tool_sketch(reading, shape, _styles()[reading.style], longest_mm)


@cache
def _styles() -> dict[str, ToolStyle]:
    """Give what each style letter says of shank and cutting side."""
    return {
        row["code"]: ToolStyle(cutting=row["cutting"], shank=row["shank"])
        for row in tables.rows("holder_style")
    }
