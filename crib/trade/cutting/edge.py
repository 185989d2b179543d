"""The engaged edge: which part of a round-nosed tool cuts, and how thick the uncut chip is along it.

Picture the cut in the plane of the tool's face: feed to the right, depth upwards from the finished
surface. The tool is a nose arc that runs into a straight flank at the entering angle. The chip is what
this profile takes now, less what the same profile took one feed earlier. A point of the edge is named by
its local entering angle kappa: 0 at the bottom of the nose, KAPR on the flank; the outward normal there
is (sin kappa, -cos kappa), so a push along it is all passive force at 0° and all feed force at 90°.

On the arc the thickness is measured along the true normal, to the arc or flank of the pass before or to
the free surface. On the flank it is f sin(KAPR), and the flank's chip width is what the arc leaves of the
exact cross-section: at r = 0 that is the book's b = ap / sin(KAPR).
"""

from math import acos, asin, atan2, cos, inf, pi, radians, sin, sqrt
from typing import NamedTuple

from crib.errors import InputError

# Gauss-Legendre nodes and weights on 0..1 (Abramowitz & Stegun, Handbook of Mathematical Functions,
# table 25.4, moved from -1..1). Eight over the nose and four over its clipped end hold forces to 1e-3.
_NOSE_NODES = (
    (0.019855071751232, 0.050614268145188),
    (0.101666761293187, 0.111190517226687),
    (0.237233795041836, 0.156853322938944),
    (0.408282678752175, 0.181341891689181),
    (0.591717321247825, 0.181341891689181),
    (0.762766204958164, 0.156853322938944),
    (0.898333238706813, 0.111190517226687),
    (0.980144928248768, 0.050614268145188),
)
_END_NODES = (
    (0.069431844202974, 0.173927422568727),
    (0.330009478207572, 0.326072577431273),
    (0.669990521792428, 0.326072577431273),
    (0.930568155797026, 0.173927422568727),
)

# Behind 30° the trailing edge, not the nose, bounds the chip; it is reached only when the feed exceeds
# the nose radius, where the cusp is held at its size for f = r. Modelling choice of our own.
_TRAILING_LIMIT_RAD = pi / 6

Node = tuple[float, float, float, float, float, float]


class Piece(NamedTuple):
    """One short piece of the engaged edge.

    Attributes:
        kappa_rad: local entering angle.
        sin_kappa, cos_kappa: its sine and cosine, by which every force on it is resolved.
        h_mm: uncut chip thickness along the local normal.
        db_mm: width of chip this piece stands for (at mid-thickness), so that h db is its area.
        dl_mm: length of edge it stands for.
    """

    kappa_rad: float
    sin_kappa: float
    cos_kappa: float
    h_mm: float
    db_mm: float
    dl_mm: float

    @property
    def dA_mm2(self) -> float:
        """Area of chip, h db."""
        return self.h_mm * self.db_mm


class EngagedEdge(NamedTuple):
    """The whole engaged edge, cut into pieces.

    Attributes:
        nodes: the pieces as plain tuples, in the order of the fields of `Piece`: sums run over these.
        chord_angle_rad: entering angle of the chord from one end of the engaged edge to the other; the
            chip of the whole edge tends to leave square to it (Colwell).
        area_mm2: exact chip cross-section, cusp left behind already taken off.
        length_mm: engaged edge length.
        start_rad: local entering angle at which the arc's engagement starts, behind the lowest point.
        end_rad: the same where it ends: at the flank or the free surface.
        flank_mm: length of the straight part.
        nose_only: the depth ends inside the nose arc: the entering angle has no say.
    """

    nodes: tuple[Node, ...]
    chord_angle_rad: float
    area_mm2: float
    length_mm: float
    start_rad: float
    end_rad: float
    flank_mm: float
    nose_only: bool

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The pieces, from the trailing end of the nose to the free surface."""
        return tuple(Piece(*node) for node in self.nodes)

    @property
    def h_max_mm(self) -> float:
        """The greatest chip thickness over the pieces."""
        return max(piece.h_mm for piece in self.pieces)


def engage(ap_mm: float, f_mm: float, RE_mm: float, KAPR_deg: float) -> EngagedEdge:
    """Cut the engaged edge of one depth and feed into pieces.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        RE_mm: nose radius; 0 for a sharp corner. A round insert has half its diameter.
        KAPR_deg: entering angle of the straight flank.

    Raises:
        InputError: a depth, feed or radius that can't be, or an entering angle outside 1°..150°.

    Source: geometry of two equal profiles one feed apart; terms of ISO 3002-1 and ISO 3002-3.
    """
    _check(ap_mm, f_mm, RE_mm, KAPR_deg)
    r, kappa = RE_mm, radians(KAPR_deg)
    nose_height = r * (1.0 - cos(kappa))
    nose_only = ap_mm < nose_height
    start, end = _arc_ends(ap_mm, f_mm, r, kappa)
    sin_end, cos_end = sin(end), cos(end)
    nodes, taken = _arc_nodes(ap_mm, f_mm, r, start, end) if r > 0.0 else ([], 0.0)
    area = chip_area_mm2(ap_mm, f_mm, r)
    flank = 0.0 if nose_only else (ap_mm - nose_height) / sin(kappa)
    flank_h = f_mm * sin_end
    left = max(0.0, area - taken) if flank_h > 0.0 else 0.0
    if left > 0.0 or flank > 0.0:
        nodes.append((end, sin_end, cos_end, flank_h, left / flank_h, flank))
    # the chord from one end of the engaged edge to the other
    across = r * (sin_end - sin(start)) + flank * cos_end
    up = r * (cos(start) - cos_end) + flank * sin_end
    return EngagedEdge(
        nodes=tuple(nodes),
        chord_angle_rad=atan2(up, across) if up or across else end,
        area_mm2=area,
        length_mm=r * (end - start) + flank,
        start_rad=start,
        end_rad=end,
        flank_mm=flank,
        nose_only=nose_only,
    )


def chip_area_mm2(ap_mm: float, f_mm: float, RE_mm: float) -> float:
    """Give the exact chip cross-section: f ap less the cusp that the nose leaves between two feeds.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        RE_mm: nose radius.

    Returns:
        Area in mm². A depth below the cusp height gives the whole segment under that depth.

    Source: circle segments one feed apart.
    """
    r = RE_mm
    if r <= 0.0:
        return f_mm * ap_mm
    cusp = cusp_mm(f_mm, r)
    if ap_mm <= cusp:
        return _segment(r, ap_mm)
    return _segment(r, cusp) + f_mm * (ap_mm - cusp)


def cusp_mm(f_mm: float, RE_mm: float) -> float:
    """Give the height of the cusp that the nose leaves between two feeds: r - sqrt(r² - f²/4).

    Args:
        f_mm: feed per revolution; past the nose radius it counts as that.
        RE_mm: nose radius, above 0.
    """
    half_chord = min(f_mm, RE_mm) / 2.0
    # written so that a small feed on a big nose keeps its digits
    return half_chord * half_chord / (RE_mm + sqrt(RE_mm * RE_mm - half_chord * half_chord))


def _segment(r: float, height: float) -> float:
    """Give the area of a circle segment of the given height, not above the centre."""
    half = sqrt(height * (2.0 * r - height))
    return r * r * atan2(half, r - height) - (r - height) * half


def _check(ap_mm: float, f_mm: float, RE_mm: float, KAPR_deg: float) -> None:
    for name, value in (("depth of cut", ap_mm), ("feed", f_mm)):
        if not 0.0 < value < inf:
            raise InputError(f"{name} {value:g} mm can't cut", "give a figure above 0")
    if not 0.0 <= RE_mm < inf:
        raise InputError(f"nose radius {RE_mm:g} mm can't be", "give 0 or more")
    if not 1.0 <= KAPR_deg <= 150.0:
        raise InputError(f"entering angle {KAPR_deg:g}° can't be", "give 1° to 150°")


def _arc_ends(ap_mm: float, f_mm: float, r: float, kappa: float) -> tuple[float, float]:
    """Give the local entering angles at which the arc's engagement starts and ends."""
    if r <= 0.0:
        return 0.0, kappa
    top = acos(max(-1.0, 1.0 - ap_mm / r))  # the free surface on the arc, were it a full circle
    start = -min(asin(min(f_mm / (2.0 * r), 1.0)), _TRAILING_LIMIT_RAD, top)
    return start, min(kappa, top)


def _arc_nodes(ap: float, f: float, r: float, start: float, end: float) -> tuple[list[Node], float]:
    """Cut the nose arc into pieces, and give their area in mm² too.

    A second panel takes the part that ends at flank or free surface. The thickness is measured towards the
    nose centre: to the arc one feed earlier or its flank, or to the free surface.
    """
    nodes, taken = [], 0.0
    bend = atan2(r * sin(end) - f, r * cos(end))  # seen from the nose centre: where the old arc ends
    bend = min(max(bend, start), end)
    old_flank, free = r - f * sin(end), r - ap  # seen from the nose centre, square to each
    rr, ff = r * r, f * f
    for low, span, table in ((start, bend - start, _NOSE_NODES), (bend, end - bend, _END_NODES)):
        if span <= 0.0:
            continue
        for place, weight in table:
            kappa = low + span * place
            s, c = sin(kappa), cos(kappa)
            inside = rr - ff * c * c
            inner = sqrt(inside) - f * s if inside > 0.0 else 0.0
            if inside <= 0.0 or atan2(inner * s + f, inner * c) > end:  # past the old arc: its flank
                inner = old_flank / cos(end - kappa)
            if inner * c < free and c > 0.0:
                inner = free / c
            inner = inner if inner > 0.0 else 0.0
            h = r - inner
            if h > 0.0:
                length = span * weight
                width = 0.5 * (r + inner) * length
                taken += h * width
                nodes.append((kappa, s, c, h, width, r * length))
    return nodes, taken
