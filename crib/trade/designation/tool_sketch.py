"""Drawing a turning holder or a boring bar from above: shank to scale, insert at its entering angle, feed.

The shank points down, as it lies on a lathe with the work above it; a right-hand tool feeds to the left.
Where the cutting corner stands beside the shank, and the form of the head, are not in the code: they are
drawn so that shank and insert join, and the notes say so.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from crib.trade.designation.outline import (
    Outline,
    Point,
    bounds,
    hull,
    mirrored,
    oblong_outline,
    outline,
    turned,
)
from crib.trade.designation.reading import BarReading, HolderReading
from crib.trade.designation.sketch import Measure, Sketch, Stroke, coded_edge_mm, measures
from crib.trade.designation.symbols import Shape

Tool = HolderReading | BarReading
# how the drawing is made where the code is silent; none of these is a size of the part
STANDS_OUT = 0.2  # cutting corner beside an offset shank, of its width
NECK = 0.15  # shank begins that far behind the insert, of its width
POCKET = 0.85  # what of the insert lies on the holder
ARROW, LONGEST_ARROW_mm = 0.45, 12.0  # feed arrow, of the shank's width
SHOWN = 1.4  # length that is drawn before a break is made, of the width
GAP = 0.12  # opening of the break, of the width
TAIL = 0.35  # piece behind the break, of the width
HEAD = "beside and behind the insert the holder's form is the maker's: drawn only to join shank and insert"
SHARP = "a holder's code does not give the nose: the corner is drawn sharp"
SPECIAL = "the entering angle is the maker's: the insert is not drawn"
NO_SEAT = "the insert's size is not settled: it is not drawn"
NO_WIDTH = "shank width and length are not coded: not drawn"
NO_LENGTH = "the length is not coded: the shank ends in a break"
HANDS = {
    "R": "right-hand: fed to the left",
    "L": "left-hand: fed to the right",
    "N": "neutral: fed either way",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolStyle:
    """What a style letter says beside the angle.

    Attributes:
        cutting: "side", "end" or "side and end"; empty where it is the maker's.
        shank: "offset" or "straight"; empty where it is the maker's.
    """

    cutting: str
    shank: str


def tool_sketch(reading: Tool, shape: Shape, style: ToolStyle, longest_mm: float | None = None) -> Sketch:
    """Draw a holder or a bar.

    Args:
        reading: of its code.
        shape: of its insert.
        style: of its style letter.
        longest_mm: length from which on the shank is shortened with a break; None for a short picture.

    Source: ISO 5608 (style letters, hands); angles as in ISO 3002-1, from the feed to the cutting edge.
    """
    width_mm = reading.DCON_mm if isinstance(reading, BarReading) else reading.B_mm
    ahead = _feeds_ahead(reading, style)
    notes: list[str] = []
    seated = _seated(reading, shape, ahead, notes)
    plan: list[Stroke] = []
    if width_mm is None:
        notes.append(NO_WIDTH)
    else:
        plan += _shank(reading, style, width_mm, seated[0] if seated else None, longest_mm, notes)
    if seated is not None:
        points, drawn = seated
        plan.append(Stroke(part="insert", points=points, closed=drawn.closed, covers=drawn.closed))
        length_mm = min(ARROW * (width_mm or _span(points)), LONGEST_ARROW_mm)
        plan += _feeds(reading, style, ahead, length_mm)
        notes += [HEAD, *([] if shape.corners is None else [SHARP])]
        notes += _doubts(reading, shape)
    if reading.HAND == "L":
        plan = [_flipped(stroke) for stroke in plan]
    return Sketch(
        title=reading.designation, plan=tuple(plan), side=(), measures=_measures(reading, width_mm),
        words=_words(reading, ahead, style.cutting == "side and end"), notes=tuple(notes),
    )  # fmt: skip


def _feeds_ahead(reading: Tool, style: ToolStyle) -> bool:
    """Tell whether the main feed goes along the shank: facing styles, and bars that cut at the end."""
    return style.cutting == "end" or (isinstance(reading, BarReading) and "end" in style.cutting)


def _seated(
    reading: Tool, shape: Shape, ahead: bool, notes: list[str]
) -> tuple[tuple[Point, ...], Outline] | None:
    """Give the insert in a right-hand tool, its cutting corner at the origin; None where it isn't settled.

    The main edge leaves the corner at the entering angle from the feed, to the right of it where the tool
    feeds ahead and to the left where it feeds sideways; the insert fills the included angle behind it.
    """
    drawn = _insert_outline(reading, shape, notes)
    if reading.KAPR_deg is None or drawn is None:
        notes.append(SPECIAL if reading.KAPR_deg is None else NO_SEAT)
        return None
    notes += drawn.notes
    if shape.corners is None:
        return turned(drawn.points(), 0.0, (0.0, -(drawn.IC_mm or 0.0) / 2.0)), drawn
    facing_deg = reading.KAPR_deg + (shape.EPSR_deg or 0.0) / 2.0
    points = drawn.points()
    if ahead:
        points, facing_deg = mirrored(points), 270.0 - facing_deg
    points = turned(points, facing_deg - 90.0)
    corner = turned((_cutting_corner(drawn),), facing_deg - 90.0)[0]
    return tuple([(x - corner[0], y - corner[1]) for x, y in points]), drawn


def _insert_outline(reading: Tool, shape: Shape, notes: list[str]) -> Outline | None:
    """Give the outline of the insert that a tool takes, as far as its code settles it."""
    if reading.IC_mm is not None:
        return outline(shape, reading.IC_mm, None)
    if shape.corners is None and reading.size is not None and reading.size.isdigit():
        notes.append(f"the code leaves metric and inch diameters open: drawn {int(reading.size)} mm")
        return outline(shape, float(reading.size), None)
    edge_mm = coded_edge_mm(reading.size, shape)
    return None if edge_mm is None else oblong_outline(shape, edge_mm, None)


def _cutting_corner(drawn: Outline) -> Point:
    """Give the corner that cuts: the first, in an open outline the middle one."""
    return drawn.corners[0 if drawn.closed else 1].at_mm


def _shank(
    reading: Tool, style: ToolStyle, width_mm: float, insert: Sequence[Point] | None,
    longest_mm: float | None, notes: list[str],
) -> list[Stroke]:  # fmt: skip
    """Give head and shank, shortened where it is long, and the axis of a bar."""
    tip: Sequence[Point] = insert or ((0.0, 0.0),)
    left, low, _right, _top = bounds(tip)
    x0 = _left_side(reading, style, width_mm, left)
    x1, top = x0 + width_mm, low - NECK * width_mm
    around = hull([*_pocket(tip), (x0, top), (x1, top)])
    LF_mm = reading.LF_mm
    room_mm = longest_mm if longest_mm is not None else SHOWN * width_mm - top
    if LF_mm is None:
        notes.append(NO_LENGTH)
    if LF_mm is not None and LF_mm <= room_mm:
        end = min(-LF_mm, top - GAP * width_mm)
        pieces = [((x0, end), (x1, end), *around[1:], around[0])]
    else:
        cut = min(-room_mm + (TAIL + GAP) * width_mm, top - GAP * width_mm)
        pieces = [(*_broken(x0, x1, cut), *around[1:], around[0])]
        end = cut - (TAIL + GAP) * width_mm
        if LF_mm is not None:
            notes.append(f"the shank is shortened: {LF_mm:g} mm from the cutting corner to its end")
            pieces.append(((x0, end), (x1, end), *reversed(_broken(x0, x1, cut - GAP * width_mm))))
    strokes = [Stroke(part="shank", points=tuple(piece), covers=True) for piece in pieces]
    if isinstance(reading, BarReading):
        middle = (x0 + x1) / 2.0
        over = GAP * width_mm
        strokes.append(Stroke(part="axis", points=((middle, end - over), (middle, top)), closed=False))
    return strokes


def _left_side(reading: Tool, style: ToolStyle, width_mm: float, left_mm: float) -> float:
    """Give where the shank's feed side lies: the code tells straight from offset, not the distance."""
    if reading.HAND == "N":
        return -width_mm / 2.0
    if isinstance(reading, BarReading) or style.shank != "straight":
        return STANDS_OUT * width_mm
    return left_mm


def _pocket(points: Sequence[Point]) -> list[Point]:
    """Give the insert, drawn in towards its middle: the holder stays behind the cutting edges."""
    x = sum(p[0] for p in points) / len(points)
    y = sum(p[1] for p in points) / len(points)
    return [(x + POCKET * (p[0] - x), y + POCKET * (p[1] - y)) for p in points]


def _broken(x0: float, x1: float, y: float) -> tuple[Point, ...]:
    """Give a break line from left to right."""
    wide = x1 - x0
    return ((x0, y), (x0 + 0.4 * wide, y + 0.06 * wide), (x0 + 0.6 * wide, y - 0.06 * wide), (x1, y))


def _feeds(reading: Tool, style: ToolStyle, ahead: bool, length_mm: float) -> list[Stroke]:
    """Give the feed arrows of a right-hand or neutral tool: along the line from which the angle counts."""
    ways = [(0.0, 1.0)] if ahead else [(-1.0, 0.0)]
    if reading.HAND == "N":
        ways = [(-1.0, 0.0), (1.0, 0.0)]
    elif style.cutting == "side and end":
        ways = [(0.0, 1.0), (-1.0, 0.0)]
    return [stroke for way in ways for stroke in _arrow(way, length_mm)]


def _arrow(way: Point, length_mm: float) -> list[Stroke]:
    """Give an arrow that begins a little ahead of the cutting corner."""
    dx, dy = way
    barb = 0.22 * length_mm
    end = (dx * length_mm, dy * length_mm)
    head = tuple([
        (end[0] - barb * (dx + side * 0.7 * dy), end[1] - barb * (dy - side * 0.7 * dx)) for side in (-1, 1)
    ])  # fmt: skip
    start = (0.2 * end[0], 0.2 * end[1])
    return [
        Stroke(part="feed", points=(start, end), closed=False),
        Stroke(part="feed", points=(head[0], end, head[1]), closed=False),
    ]


def _flipped(stroke: Stroke) -> Stroke:
    """Turn a right-hand drawing into a left-hand one."""
    return Stroke(
        part=stroke.part, points=mirrored(stroke.points), closed=stroke.closed, covers=stroke.covers
    )


def _span(points: Sequence[Point]) -> float:
    """Give the larger side of what the points take."""
    x0, y0, x1, y1 = bounds(points)
    return max(x1 - x0, y1 - y0)


def _doubts(reading: Tool, shape: Shape) -> list[str]:
    """Say where the plain rule, cutting with the acute corner, may not be what the holder does."""
    if reading.KAPR_deg is None or shape.EPSR_deg is None:
        return []
    free_deg = 180.0 - reading.KAPR_deg - shape.EPSR_deg
    if free_deg < 0.0:
        return ["at this angle the other edge of such an insert would rub: see how the part really holds it"]
    blunt_deg = shape.EPSR_deg - reading.KAPR_deg
    if shape.form == "rhombic" and 0.0 < blunt_deg <= 10.0:
        return [f"drawn on the {shape.EPSR_deg:g}° corner; some holders of this angle use the blunt one"]
    return []


def _measures(reading: Tool, width_mm: float | None) -> tuple[Measure, ...]:
    """Give the sizes of a holder or a bar."""
    bar = isinstance(reading, BarReading)
    return measures((
        ("entering angle", reading.KAPR_deg, "deg", None),
        ("shank diameter" if bar else "shank width", width_mm, "mm", None),
        ("shank height", None if isinstance(reading, BarReading) else reading.H_mm, "mm", None),
        ("length", reading.LF_mm, "mm", None),
        ("insert's inscribed circle", reading.IC_mm, "mm", None),
        ("insert's edge", reading.L_mm, "mm", None),
    ))  # fmt: skip


def _words(reading: Tool, ahead: bool, both: bool) -> tuple[str, ...]:
    """Say how the tool is used, as drawn."""
    side = "right" if reading.HAND == "L" else "left"
    if ahead and reading.HAND != "N":
        hand = "left-hand" if reading.HAND == "L" else "right-hand"
        how = f"{hand}: fed along the shank, the cutting corner on the {side} as drawn"
    else:
        how = HANDS[reading.HAND] + (", or along the shank," if both else "") + " as drawn"
    return (f"{how} (rake face up)", f"takes {reading.insert_seat}")
