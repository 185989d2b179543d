"""What is drawn of an insert, a holder or a bar: lines to scale in mm, sizes to print beside them, notes."""

from collections.abc import Sequence
from dataclasses import dataclass

from crib.trade.designation.outline import (
    Outline,
    Point,
    circle,
    corner_height_mm,
    oblong_outline,
    outline,
    side_view,
    true_radius_mm,
    turned,
)
from crib.trade.designation.reading import InsertReading
from crib.trade.designation.symbols import Shape

CROSS = 0.1  # half of the cross that marks the hole, of the inscribed circle
HEIGHT = "corner height m"
NO_HOLE_SIZE = "the code does not give the size of the hole: a cross marks its centre"
NO_BREAKER = "chip breaker, land and edge rounding are the maker's: not drawn"
NO_SIZE = "the code does not settle the size: nothing to draw to scale"
WIPER = "wiper corner: its flats are the maker's; drawn sharp"
MAKERS_CLEARANCE = "the clearance is the maker's: the side is drawn straight"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """One line of a drawing.

    Attributes:
        part: what it shows: insert, circle, cross, side, shank, axis or feed.
        points: in mm, x to the right, y up.
        closed: ends where it began.
        covers: what was drawn before inside it is hidden.
    """

    part: str
    points: tuple[Point, ...]
    closed: bool = True
    covers: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One size to print beside a drawing.

    Attributes:
        name: what it is.
        value: in mm or degrees.
        unit: "mm" or "deg".
        plus_minus: tolerance; None where it was not established.
        fine: it is gauged, not measured with a calliper: no near fractions.
    """

    name: str
    value: float
    unit: str = "mm"
    plus_minus: float | None = None
    fine: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A drawing to scale.

    Attributes:
        title: the designation.
        plan: seen from above; empty where nothing can be drawn. Later strokes lie on top.
        side: an insert's section across its inscribed circle; empty for tools.
        measures: sizes to print beside it.
        words: further lines to print beside it.
        notes: what the code leaves open, and what was done about it.
    """

    title: str
    plan: tuple[Stroke, ...]
    side: tuple[Stroke, ...]
    measures: tuple[Measure, ...]
    words: tuple[str, ...]
    notes: tuple[str, ...]


def insert_sketch(reading: InsertReading, shape: Shape) -> Sketch:
    """Draw an insert.

    Rhombic inserts lie with their cutting corners left and right, others have one up, or a flat side.

    Args:
        reading: of its code.
        shape: of its shape letter.
    """
    drawn = _outline(reading.IC_mm, reading.size, reading.RE_mm, shape)
    notes = list(drawn.notes) if drawn else [NO_SIZE]
    plan: list[Stroke] = []
    if drawn is not None:
        points = _laid(drawn, shape)
        plan.append(Stroke(part="insert", points=points, closed=drawn.closed, covers=drawn.closed))
        if reading.IC_mm is not None:
            plan += [] if shape.corners is None else [_inscribed(reading.IC_mm)]
            if reading.fixing.hole not in ("none", "special"):
                plan += cross(reading.IC_mm * CROSS)
                notes.append(NO_HOLE_SIZE)
    if shape.corners is not None and reading.RE_mm is None and drawn is not None:
        notes.append(WIPER)
    side: tuple[Stroke, ...] = ()
    if reading.IC_mm is not None and reading.S_mm:
        section = side_view(reading.IC_mm, reading.S_mm, reading.AN_deg)
        side = (Stroke(part="side", points=section, covers=True),)
        notes += [MAKERS_CLEARANCE] if reading.AN_deg is None else []
    if drawn is not None:
        notes.append(NO_BREAKER)
    return Sketch(
        title=reading.designation, plan=tuple(plan), side=side, measures=_measures(reading, shape),
        words=(), notes=tuple(notes),
    )  # fmt: skip


def _outline(IC_mm: float | None, size: str | None, RE_mm: float | None, shape: Shape) -> Outline | None:
    """Give the outline by circle or by coded edge; None where neither is settled."""
    if IC_mm is not None:
        return outline(shape, IC_mm, RE_mm)
    edge_mm = coded_edge_mm(size, shape)
    return None if edge_mm is None else oblong_outline(shape, edge_mm, RE_mm)


def coded_edge_mm(size: str | None, shape: Shape) -> float | None:
    """Give the longer edge of an oblong insert in whole millimetres; None where it is not coded."""
    oblong = shape.edge_per_IC is None and shape.corners is not None
    return float(size) if oblong and size is not None and size.isdigit() else None


def _laid(drawn: Outline, shape: Shape) -> tuple[Point, ...]:
    """Give the points in the position in which such inserts are known best."""
    points = drawn.points()
    if shape.form == "rhombic" or not drawn.closed:
        return tuple([(-y, x) for x, y in points])
    if shape.form == "regular" and shape.corners is not None and shape.corners % 2 == 0:
        return turned(points, 180.0 / shape.corners)
    return points


def _inscribed(IC_mm: float) -> Stroke:
    """Give the inscribed circle."""
    return Stroke(part="circle", points=circle((0.0, 0.0), IC_mm / 2.0))


def cross(half_mm: float, at: Point = (0.0, 0.0)) -> list[Stroke]:
    """Give a small upright cross."""
    x, y = at
    arms = (((x - half_mm, y), (x + half_mm, y)), ((x, y - half_mm), (x, y + half_mm)))
    return [Stroke(part="cross", points=arm, closed=False) for arm in arms]


def _measures(reading: InsertReading, shape: Shape) -> tuple[Measure, ...]:
    """Give the sizes of an insert; m for the radius that the insert truly has."""
    given: list[tuple[str, float | None, str, float | None]] = [
        ("corner angle", reading.EPSR_deg, "deg", None),
        (
            "inscribed circle" if reading.SC != "R" else "diameter",
            reading.IC_mm,
            "mm",
            reading.tolerance.d_mm,
        ),
    ]
    if shape.corners is not None:
        given += [("cutting edge, to the sharp corner", reading.L_mm, "mm", None)]
        given += [("nose radius", reading.RE_mm, "mm", None)]
        if reading.IC_mm is not None and reading.RE_mm is not None and reading.RE_mm <= reading.IC_mm / 2.0:
            RE_mm = true_radius_mm(reading.IC_mm, reading.RE_mm)
            m_mm = corner_height_mm(shape, reading.IC_mm, RE_mm)
            given += [(HEIGHT, m_mm, "mm", reading.tolerance.m_mm)]
    given += [("thickness", reading.S_mm or None, "mm", reading.tolerance.s_mm)]
    given += [("clearance", reading.AN_deg, "deg", None)]
    return measures(given)


def measures(given: Sequence[tuple[str, float | None, str, float | None]]) -> tuple[Measure, ...]:
    """Keep the sizes that are known."""
    return tuple([
        Measure(name=name, value=value, unit=unit, plus_minus=tolerance, fine=name == HEIGHT)
        for name, value, unit, tolerance in given if value is not None
    ])  # fmt: skip
