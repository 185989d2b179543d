"""Minutes in the cut: one pass, and all of them, with the way of the tool said."""

from dataclasses import dataclass

from crib.desk.keeping.sources import cite
from crib.trade.cutting.drilling import STANDARD_POINT_DEG, drilling_way_mm, point_mm
from crib.trade.cutting.passes import pass_minutes

APPROACH_MM = 4.0  # before and behind a hole together: 1 to 3 mm each is usual
SOURCE = "why_definitions"


@dataclass(frozen=True, slots=True, kw_only=True)
class CutTime:
    """Minutes in the cut.

    Attributes:
        way_mm: way of the tool in one pass.
        way_said: what it is made of.
        extra_mm: part of it beyond the length told: a drill's point and approach.
        f_mm, n_rev_min: feed and spindle speed.
        passes: how many.
        each_min: one pass.
        total_min: all of them; tool changes, measuring and going back are not in it.
        source: of the sum.
    """

    way_mm: float
    way_said: str
    extra_mm: float
    f_mm: float
    n_rev_min: float
    passes: int
    each_min: float
    total_min: float
    source: tuple[str, ...]


def time_of(
    operation: str,
    *,
    length_mm: float | None,
    d_mm: float | None,
    depth_mm: float | None,
    f_mm: float | None,
    n_rev_min: float | None,
    passes: int = 1,
) -> CutTime | None:
    """Give the minutes of a cut; None where its way, feed or spindle speed is not known.

    Args:
        operation: as the tables call it.
        length_mm: length of the cut as told; None when not told.
        d_mm: where it cuts: a face or a parting cut goes to its centre where no length is told.
        depth_mm: of the hole, the groove or the parting cut; None when not told.
        f_mm: feed per revolution.
        n_rev_min: spindle speed.
        passes: how many.
    """
    way, said, extra = _way(operation, length_mm, d_mm, depth_mm)
    if way is None or f_mm is None or n_rev_min is None:
        return None
    each = pass_minutes(way, f_mm, n_rev_min)
    return CutTime(
        way_mm=way,
        way_said=said,
        extra_mm=extra,
        f_mm=f_mm,
        n_rev_min=n_rev_min,
        passes=passes,
        each_min=each,
        total_min=passes * each,
        source=(cite(SOURCE),),
    )


def _way(
    operation: str, length_mm: float | None, d_mm: float | None, depth_mm: float | None
) -> tuple[float | None, str, float]:
    """Give the way of the tool, what it is made of, and what of it stands beyond the length told."""
    if operation == "drilling" and d_mm and depth_mm:
        extra = point_mm(d_mm) + APPROACH_MM
        way = drilling_way_mm(depth_mm, d_mm, clearance_mm=APPROACH_MM)
        return way, f"depth, the {STANDARD_POINT_DEG:g}° point and {APPROACH_MM:g} mm of approach", extra
    if operation == "reaming" and depth_mm:
        return depth_mm + APPROACH_MM, f"depth and {APPROACH_MM:g} mm of approach", APPROACH_MM
    if length_mm:
        return length_mm, "length as told", 0.0
    if operation in ("parting", "grooving") and depth_mm:
        return depth_mm, "depth as told", 0.0
    if operation in ("facing", "parting") and d_mm:
        return d_mm / 2.0, "from the outside to the centre", 0.0
    return None, "", 0.0
