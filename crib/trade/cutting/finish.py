"""The surface that feed and corner leave behind: theoretical roughness, exact for arc and straight edges.

Over one feed the surface is the envelope of the corner: an arc of radius RE that runs tangentially into
the major edge at KAPR on one side and into the minor edge at KAPR1 on the other. Rz here is the
theoretical peak-to-valley height, Ra the mean deviation of that same profile, both in closed form. A real
surface is rougher: built-up edge, tearing, vibration and wear come on top.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import asin, cos, radians, sin, sqrt, tan
from typing import NamedTuple

from crib.errors import InputError, NotPossible

Row = Mapping[str, str]

_STEPS = 60
"""Halvings of the interval when a feed is sought: below any feed's last digit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Roughness:
    """Theoretical roughness of one feed and corner.

    Attributes:
        Rz_um: peak-to-valley height in micrometres.
        Ra_um: mean deviation from the mean line in micrometres.
        made_by: "arc", "arc and minor edge", "arc and major edge" or "both edges".
    """

    Rz_um: float
    Ra_um: float
    made_by: str


class FeedLimit(NamedTuple):
    """Largest feed that a corner stands.

    Attributes:
        f_mm: feed in mm/rev.
        of_RE: that feed as a part of the corner radius.
        source: source keys, separated by blanks.
    """

    f_mm: float
    of_RE: float
    source: str


def minor_edge_deg(EPSR_deg: float, KAPR_deg: float) -> float:
    """Give the angle of the minor edge: KAPR1 = 180 - EPSR - KAPR.

    Args:
        EPSR_deg: included angle of the corner in degrees.
        KAPR_deg: entering angle of the major edge in degrees.

    Raises:
        NotPossible: the minor edge would rub on the finished surface.
    """
    KAPR1_deg = 180.0 - EPSR_deg - KAPR_deg
    if KAPR1_deg < 0:
        raise NotPossible(
            f"a {EPSR_deg:g}° corner entered at {KAPR_deg:g}° trails at {KAPR1_deg:g}°: it would rub",
            f"the entering angle must be at most {180.0 - EPSR_deg:g}°",
        )
    return KAPR1_deg


def roughness(f_mm: float, RE_mm: float, KAPR_deg: float = 90.0, KAPR1_deg: float = 90.0) -> Roughness:
    """Give the theoretical roughness of a turned or bored surface.

    Args:
        f_mm: feed in mm/rev.
        RE_mm: corner radius in mm; 0 for a sharp corner, half the diameter for a round insert.
        KAPR_deg: entering angle of the major edge; above 90 counts as 90, the overhang leaves no trace.
        KAPR1_deg: angle of the minor edge; 90 with the radius alone in play.

    Raises:
        InputError: a feed that isn't positive, a negative radius, an angle outside 0 … 180 degrees, or two
            square edges with a corner too small to overlap at this feed.

    Source: geometry; the arc alone gives the shop formulas Rt = f2 / (8 RE) and Ra = f2 / (18 sqrt(3) RE).
    """
    if not f_mm > 0:
        raise InputError(f"a feed of {f_mm:g} mm/rev can't be", "it must be more than zero")
    if RE_mm < 0:
        raise InputError(f"a corner radius of {RE_mm:g} mm can't be", "give 0 for a sharp corner")
    for angle in (KAPR_deg, KAPR1_deg):
        if not 0.0 <= angle < 180.0:
            raise InputError(f"an edge angle of {angle:g}° can't be", "it lies between 0 and 180°")
    major, minor = radians(min(KAPR_deg, 90.0)), radians(min(KAPR1_deg, 90.0))
    flat, steep = sorted((major, minor))
    if flat == 0.0:
        return Roughness(Rz_um=0.0, Ra_um=0.0, made_by="minor edge" if minor <= major else "major edge")
    height, straight = _height(f_mm, RE_mm, flat, steep)
    names = ("arc", "arc and minor edge" if minor <= major else "arc and major edge", "both edges")
    return Roughness(
        Rz_um=height * 1000.0,
        Ra_um=_mean_deviation(f_mm, RE_mm, flat, steep, height) * 1000.0,
        made_by=names[straight],
    )


def feed_for_Ra_mm(Ra_um: float, RE_mm: float, KAPR_deg: float = 90.0, KAPR1_deg: float = 90.0) -> float:
    """Give the largest feed in mm/rev whose theoretical Ra isn't above the wanted one.

    Args:
        Ra_um: wanted Ra in micrometres.
        RE_mm: corner radius in mm.
        KAPR_deg: entering angle in degrees.
        KAPR1_deg: angle of the minor edge in degrees.

    Raises:
        InputError: a roughness that isn't positive, or a corner that leaves no roughness at all.
    """
    if not Ra_um > 0:
        raise InputError(f"a roughness Ra of {Ra_um:g} µm can't be", "it must be more than zero")
    if min(KAPR_deg, KAPR1_deg) <= 0:
        raise InputError(
            "an edge along the work leaves no roughness to reckon with", "choose the feed otherwise"
        )
    low, high = 0.0, 1.0
    if min(KAPR_deg, KAPR1_deg) >= 90:  # square on both sides: the corner can't overlap beyond its own width
        high = 2.0 * RE_mm
        if roughness(high, RE_mm, KAPR_deg, KAPR1_deg).Ra_um <= Ra_um:
            return high
    while roughness(high, RE_mm, KAPR_deg, KAPR1_deg).Ra_um < Ra_um:
        low, high = high, high * 2.0
    for _ in range(_STEPS):
        middle = (low + high) / 2.0
        if middle <= 0.0 or roughness(middle, RE_mm, KAPR_deg, KAPR1_deg).Ra_um <= Ra_um:
            low = middle
        else:
            high = middle
    return low


def feed_ceiling(SC: str, RE_mm: float, cut: str, rows: Callable[[str], tuple[Row, ...]]) -> FeedLimit:
    """Give the largest feed for a corner radius.

    Args:
        SC: shape symbol of the insert; any other shape takes the general rule.
        RE_mm: corner radius in mm.
        cut: "finish", or anything else for roughing.
        rows: reader of one table by name.

    Raises:
        InputError: a radius that isn't positive.
    """
    if not RE_mm > 0:
        raise InputError(f"a corner radius of {RE_mm:g} mm sets no feed", "give the corner radius in mm")
    part, source = _feed_part(SC, cut == "finish", rows)
    return FeedLimit(f_mm=part * RE_mm, of_RE=part, source=source)


@lru_cache(maxsize=64)
def _feed_part(SC: str, finish: bool, rows: Callable[[str], tuple[Row, ...]]) -> tuple[float, str]:
    """Give the largest feed as a part of the corner radius, and its source."""
    table = {row["SC"]: row for row in rows("feed_limits")}
    row = table.get(SC, table["*"])
    return float(row["finish_of_RE" if finish else "rough_of_RE"]), row["source"]


def _height(f: float, r: float, flat: float, steep: float) -> tuple[float, int]:
    """Give the height in mm where the two sides are one feed apart, and how many straight edges reach it."""
    if f <= 2.0 * r * sin(flat):
        half = f / 2.0
        return half * half / (r + sqrt(r * r - half * half)), 0
    # The flatter edge meets the next turn's arc at the angle t on it: r (1 - cos(t + flat)) = f sin(flat).
    half_chord = f * sin(flat) / (2.0 * r) if r > 0.0 else 2.0
    if half_chord <= 1.0:
        on_arc = 2.0 * asin(sqrt(half_chord)) - flat
        if on_arc <= steep:
            return r * (1.0 - cos(on_arc)), 1
    rest = f - r * (tan(flat / 2.0) + tan(steep / 2.0))
    slopes = _cot(flat) + _cot(steep)
    if slopes < 1e-12:
        raise InputError(
            "a feed wider than the corner of two square edges leaves no even surface",
            "take a smaller feed, or check the angles",
        )
    return rest / slopes, 2


def _mean_deviation(f: float, r: float, flat: float, steep: float, height: float) -> float:
    """Give Ra in mm: twice the area below the mean line, over the feed."""
    mean = (_area(height, r, flat) + _area(height, r, steep)) / f
    below = mean * (_reach(mean, r, flat) + _reach(mean, r, steep))
    below -= _area(mean, r, flat) + _area(mean, r, steep)
    return 2.0 * below / f


def _reach(h: float, r: float, k: float) -> float:
    """How far one side of the corner reaches sideways at height h, in mm."""
    tangent = r * (1.0 - cos(k))
    if h <= tangent:
        return sqrt(max(0.0, h * (2.0 * r - h)))
    return r * sin(k) + (h - tangent) * _cot(k)


def _area(h: float, r: float, k: float) -> float:
    """Area between the profile of one side and the level of its lowest point, out to height h, in mm2."""
    tangent = r * (1.0 - cos(k))
    low = min(h, tangent)
    x = sqrt(max(0.0, low * (2.0 * r - low)))
    angle = asin(min(1.0, x / r)) if r > 0.0 else 0.0
    area = r * x - (x * (r - low) + r * r * angle) / 2.0
    if h > tangent:
        area += (h - tangent) * _cot(k) * (h + tangent) / 2.0
    return area


def _cot(k: float) -> float:
    return cos(k) / sin(k)
