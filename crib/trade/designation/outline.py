"""The outline of an insert in its own plane: straight edges about the inscribed circle, and nose arcs.

Only what the standards settle is drawn. What a code leaves open stays open and is told in the notes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import acos, atan2, ceil, cos, hypot, pi, radians, sin, tan

from crib.trade.designation.letters import MM_PER_INCH
from crib.trade.designation.symbols import Shape

Point = tuple[float, float]
FINE_mm = 0.005  # how far a flattened arc may stray: below what a print at 1:1 shows
SIXTY_FOURTH_mm = MM_PER_INCH / 64.0
OPEN_SIDE = 0.4  # how much of the side that is not coded is drawn, of the one that is


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """One corner.

    Attributes:
        at_mm: its sharp, theoretical point.
        angle_deg: included angle.
        facing_deg: where its bisector points, outwards, counted from the x axis.
        RE_mm: its radius; 0 where it is sharp.
    """

    at_mm: Point
    angle_deg: float
    facing_deg: float
    RE_mm: float

    def arc(self, tolerance_mm: float = FINE_mm) -> tuple[Point, ...]:
        """Give the rounded corner as points, counter-clockwise; one point where it is sharp.

        Args:
            tolerance_mm: how far a chord may stand off the arc.
        """
        if self.RE_mm <= 0.0:
            return (self.at_mm,)
        back_mm = self.RE_mm / sin(radians(self.angle_deg / 2.0))
        facing = radians(self.facing_deg)
        centre = (self.at_mm[0] - back_mm * cos(facing), self.at_mm[1] - back_mm * sin(facing))
        half = radians(180.0 - self.angle_deg) / 2.0
        return arc(centre, self.RE_mm, facing - half, facing + half, tolerance_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """An insert seen from above.

    Attributes:
        corners: counter-clockwise; none for a round insert. The first one points up, towards +y.
        IC_mm: inscribed circle about the origin; None where the code has none.
        closed: False where a side is not coded: then the line ends there.
        notes: what the code leaves open.
    """

    corners: tuple[Corner, ...]
    IC_mm: float | None
    closed: bool
    notes: tuple[str, ...]

    def points(self, tolerance_mm: float = FINE_mm) -> tuple[Point, ...]:
        """Give the outline as points, counter-clockwise, arcs flattened.

        Args:
            tolerance_mm: how far a chord may stand off its arc.
        """
        if not self.corners:
            return () if self.IC_mm is None else circle((0.0, 0.0), self.IC_mm / 2.0, tolerance_mm)
        return tuple([point for corner in self.corners for point in corner.arc(tolerance_mm)])


def arc(
    centre: Point, radius_mm: float, start_rad: float, end_rad: float, tolerance_mm: float = FINE_mm
) -> tuple[Point, ...]:
    """Give an arc as points on it, counter-clockwise from start to end.

    Args:
        centre: in mm.
        radius_mm: of the arc.
        start_rad: where it begins, counted from the x axis.
        end_rad: where it ends.
        tolerance_mm: how far a chord may stand off the arc.
    """
    widest = 2.0 * acos(max(1.0 - tolerance_mm / radius_mm, 0.0))
    steps = max(1, ceil((end_rad - start_rad) / widest))
    turns = [start_rad + (end_rad - start_rad) * step / steps for step in range(steps + 1)]
    return tuple([(centre[0] + radius_mm * cos(t), centre[1] + radius_mm * sin(t)) for t in turns])


def circle(centre: Point, radius_mm: float, tolerance_mm: float = FINE_mm) -> tuple[Point, ...]:
    """Give a circle as points, the first one not repeated."""
    return arc(centre, radius_mm, 0.0, 2.0 * pi, tolerance_mm)[:-1]


def angles_deg(shape: Shape) -> tuple[float, ...]:
    """Give the included angles of a shape's corners in turn, the cutting corner first.

    Returns:
        Nothing for round; for oblong shapes the coded corner only.

    Source: ISO 1832 position 1 (a trigon has six sides: corners of 80 and of 160 degrees in turn).
    """
    if shape.EPSR_deg is None or shape.corners is None:
        return ()
    if shape.form == "regular":
        return (shape.EPSR_deg,) * shape.corners
    if shape.form == "rhombic":
        return (shape.EPSR_deg, 180.0 - shape.EPSR_deg) * 2
    if shape.form == "trigon":
        return (shape.EPSR_deg, 240.0 - shape.EPSR_deg) * 3
    return (shape.EPSR_deg,)


def edge_length_mm(shape: Shape, IC_mm: float) -> float | None:
    """Give the theoretical edge length, to the sharp corners.

    Args:
        shape: of the insert.
        IC_mm: inscribed circle.

    Returns:
        The length; the diameter for round; None for oblong shapes.
    """
    return None if shape.edge_per_IC is None else IC_mm * shape.edge_per_IC


def corner_height_mm(shape: Shape, IC_mm: float, RE_mm: float) -> float | None:
    """Give the corner height m by which an insert is gauged.

    With an even number of sides it reaches from the inscribed circle to the rounded corner (measured over a
    ball or roller that has the circle's diameter); with an odd number from the side opposite to the corner.

    Args:
        shape: of the insert.
        IC_mm: inscribed circle.
        RE_mm: corner radius; for inch-based inserts the true one (`true_radius_mm`).

    Returns:
        m; None for round and oblong shapes.

    Source: ISO 1832 position 3 (m of the tolerance classes); values of ISO 3364, as in GOST 24248-80.
    """
    angles = angles_deg(shape)
    if len(angles) < 3:
        return None
    radius = IC_mm / 2.0
    reach_mm = (radius - RE_mm) / sin(radians(angles[0] / 2.0)) + RE_mm  # centre to the rounded corner
    return reach_mm + radius if len(angles) % 2 else reach_mm - radius


def area_mm2(shape: Shape, IC_mm: float, RE_mm: float) -> float | None:
    """Give the area inside the outline, exactly; None for oblong shapes.

    Args:
        shape: of the insert.
        IC_mm: inscribed circle.
        RE_mm: radius of every corner.
    """
    angles = angles_deg(shape)
    if not angles:
        return pi * IC_mm**2 / 4.0
    if len(angles) == 1:
        return None
    sharp = sum(_cot_half(angle) for angle in angles)
    rounded = sum(radians(180.0 - angle) / 2.0 for angle in angles)
    return (IC_mm / 2.0) ** 2 * sharp - RE_mm**2 * (sharp - rounded)


def true_radius_mm(IC_mm: float, RE_mm: float) -> float:
    """Give the radius that an insert has where its code only states it in tenths of a millimetre.

    Args:
        IC_mm: inscribed circle.
        RE_mm: as coded.

    Returns:
        n/64 in for inserts of inch size whose coded radius is that, rounded; else as coded.

    Source: ISO 3364 and ISO 883, whose corner heights m hold for 0.397, 0.794, 1.191, 1.588 mm and so on.
    """
    halves = IC_mm / (2.0 * SIXTY_FOURTH_mm)
    if abs(halves - round(halves)) > 1e-6:
        return RE_mm
    exact_mm = round(RE_mm / SIXTY_FOURTH_mm) * SIXTY_FOURTH_mm
    return exact_mm if abs(exact_mm - RE_mm) <= 0.01 * RE_mm else RE_mm


def outline(shape: Shape, IC_mm: float, RE_mm: float | None) -> Outline:
    """Give the outline of an insert that has an inscribed circle.

    Args:
        shape: of the insert.
        IC_mm: inscribed circle.
        RE_mm: corner radius; None where the code states none (wiper corners, holders).
    """
    angles = angles_deg(shape)
    if not angles:
        return Outline(corners=(), IC_mm=IC_mm, closed=True, notes=())
    radius = IC_mm / 2.0
    notes: list[str] = []
    nose_mm = RE_mm or 0.0
    if nose_mm > radius:
        notes.append(
            f"a nose of {nose_mm:g} mm does not go on an inscribed circle of {IC_mm:g} mm: drawn sharp"
        )
        nose_mm = 0.0
    elif nose_mm and len(set(angles)) > 1:
        notes.append("the code states one radius: the blunt corners are drawn with it too")
    facing, corners = 90.0, []
    for angle, following in zip(angles, (*angles[1:], angles[0]), strict=True):
        reach = radius / sin(radians(angle / 2.0))
        at = (reach * cos(radians(facing)), reach * sin(radians(facing)))
        corners.append(Corner(at_mm=at, angle_deg=angle, facing_deg=facing, RE_mm=nose_mm))
        facing += 180.0 - (angle + following) / 2.0
    return Outline(corners=tuple(corners), IC_mm=IC_mm, closed=True, notes=tuple(notes))


def oblong_outline(shape: Shape, edge_mm: float, RE_mm: float | None) -> Outline:
    """Give what a code settles of a rectangle or parallelogram: its corner, and the longer edge.

    Args:
        shape: of the insert.
        edge_mm: the longer edge in whole millimetres, as coded.
        RE_mm: corner radius; None where the code states none.

    Returns:
        An open line: the longer edge, the corner (at the origin, pointing up), a piece of the other side.
    """
    (angle,) = angles_deg(shape)
    half = radians(angle / 2.0)
    ends = [(sin(turn) * length, -cos(turn) * length) for turn, length in
            ((half, OPEN_SIDE * edge_mm), (-half, edge_mm))]  # fmt: skip
    nose_mm = min(RE_mm or 0.0, OPEN_SIDE * edge_mm * tan(half))
    middle = Corner(at_mm=(0.0, 0.0), angle_deg=angle, facing_deg=90.0, RE_mm=nose_mm)
    loose = [Corner(at_mm=end, angle_deg=180.0, facing_deg=90.0, RE_mm=0.0) for end in ends]
    note = f"the code gives the longer edge only ({edge_mm:g} mm and a fraction): the width is left open"
    return Outline(corners=(loose[0], middle, loose[1]), IC_mm=None, closed=False, notes=(note,))


def side_view(width_mm: float, S_mm: float, AN_deg: float | None) -> tuple[Point, ...]:
    """Give the section across the inscribed circle, the cutting face at y = 0 and the seat below.

    Args:
        width_mm: across the cutting face.
        S_mm: thickness.
        AN_deg: normal clearance; None where the maker states it (drawn without).
    """
    inset = min(S_mm * tan(radians(AN_deg or 0.0)), width_mm / 2.0)
    half = width_mm / 2.0
    return ((-half, 0.0), (half, 0.0), (half - inset, -S_mm), (inset - half, -S_mm))


def turned(points: Sequence[Point], by_deg: float, to: Point = (0.0, 0.0)) -> tuple[Point, ...]:
    """Turn points about the origin, counter-clockwise, then move the origin to `to`."""
    c, s = cos(radians(by_deg)), sin(radians(by_deg))
    return tuple([(to[0] + c * x - s * y, to[1] + s * x + c * y) for x, y in points])


def mirrored(points: Sequence[Point]) -> tuple[Point, ...]:
    """Swap left and right, keeping the sense of rotation."""
    return tuple([(-x, y) for x, y in reversed(points)])


def hull(points: Sequence[Point]) -> tuple[Point, ...]:
    """Give the convex hull, counter-clockwise."""
    start = min(points, key=lambda p: (p[1], p[0]))
    rest = sorted(
        {p for p in points if p != start},
        key=lambda p: (atan2(p[1] - start[1], p[0] - start[0]), hypot(p[0] - start[0], p[1] - start[1])),
    )
    around = [start]
    for point in rest:
        while len(around) > 1 and _turn(around[-2], around[-1], point) <= 0.0:
            around.pop()
        around.append(point)
    return tuple(around)


def bounds(points: Sequence[Point]) -> tuple[float, float, float, float]:
    """Give the least and greatest x and y: x0, y0, x1, y1."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _turn(a: Point, b: Point, c: Point) -> float:
    """Give twice the signed area of a triangle: positive for a left turn."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _cot_half(angle_deg: float) -> float:
    """Give the cotangent of half an angle."""
    return 1.0 / tan(radians(angle_deg / 2.0))
