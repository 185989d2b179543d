"""A picture of lines, blocks and words in mm, black on white: as SVG, and as PNG."""

import io
from dataclasses import dataclass

from crib.report.drawing import xml

Point = tuple[float, float]
DOTS_PER_MM = 10  # a PNG prints sharp at its own size
TEXT_mm = 3.2
ANCHORS = {"start": "ls", "middle": "ms", "end": "rs"}  # as SVG names them, and as Pillow does


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line through points, from the upper left corner of the picture; dashed by lengths on and off."""

    role: str
    points: tuple[Point, ...]
    wide_mm: float
    dash_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Text whose start, middle or end stands on a point; it is data."""

    role: str
    at: Point
    text: str
    anchor: str = "start"
    bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A rectangle, filled or in outline."""

    role: str
    at: Point
    size: Point
    filled: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A picture, its size in mm, and what it is of."""

    title: str
    wide_mm: float
    high_mm: float
    parts: tuple[Stroke | Words | Block, ...]


def figure_svg(figure: Figure) -> str:
    """Draw a figure as SVG: no script, no outside font, no reference to any other file; text is escaped."""
    wide, high = f"{figure.wide_mm:g}", f"{figure.high_mm:g}"
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" font-family="sans-serif" font-size="{TEXT_mm}">',
        f"<title>{xml(figure.title)}</title>",
        f'<rect width="{wide}" height="{high}" fill="#ffffff"/>',
        *map(_svg, figure.parts),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _svg(part: Stroke | Words | Block) -> str:
    """Give one part as an element."""
    if isinstance(part, Stroke):
        line = "L".join(f"{x:.2f} {y:.2f}" for x, y in part.points)
        dash = f' stroke-dasharray="{part.dash_mm[0]:g} {part.dash_mm[1]:g}"' if part.dash_mm else ""
        return (
            f'<path class="{part.role}" d="M{line}" fill="none" stroke="#000000" '
            f'stroke-width="{part.wide_mm:g}"{dash}/>'
        )
    x, y = part.at
    if isinstance(part, Words):
        bold = ' font-weight="bold"' if part.bold else ""
        where = f'class="{part.role}" x="{x:.2f}" y="{y:.2f}" text-anchor="{part.anchor}"{bold}'
        return f"<text {where}>{xml(part.text)}</text>"
    fill = 'fill="#000000"' if part.filled else 'fill="none"'
    size = f'x="{x:.2f}" y="{y:.2f}" width="{part.size[0]:.2f}" height="{part.size[1]:.2f}"'
    return f'<rect class="{part.role}" {size} {fill} stroke="#000000" stroke-width="0.2"/>'


def figure_png(figure: Figure) -> bytes:
    """Draw a figure as PNG, in shades of grey, with its size on paper in it."""
    from PIL import Image, ImageDraw, ImageFont  # only who asks for a picture waits for Pillow

    from crib.report.paper import FONTS, printable

    def dots(mm: float) -> float:
        return mm * DOTS_PER_MM

    faces = {
        bold: ImageFont.truetype(str(FONTS / f"DejaVuSans{'-Bold' * bold}.ttf"), round(dots(TEXT_mm)))
        for bold in (False, True)
    }
    image = Image.new("L", (round(dots(figure.wide_mm)), round(dots(figure.high_mm))), 255)
    draw = ImageDraw.Draw(image)
    for part in figure.parts:
        if isinstance(part, Stroke):
            for piece in _dashes(part):
                line = [(dots(x), dots(y)) for x, y in piece]
                draw.line(line, fill=0, width=max(1, round(dots(part.wide_mm))), joint="curve")
            continue
        x, y = map(dots, part.at)
        if isinstance(part, Words):
            draw.text(
                (x, y), printable(part.text), fill=0, font=faces[part.bold], anchor=ANCHORS[part.anchor]
            )
        else:
            box = (x, y, x + dots(part.size[0]), y + dots(part.size[1]))
            draw.rectangle(box, fill=0 if part.filled else 255, outline=0, width=2)
    written = io.BytesIO()
    per_inch = 25.4 * DOTS_PER_MM
    image.save(written, "PNG", dpi=(per_inch, per_inch), optimize=True)
    return written.getvalue()


def _dashes(stroke: Stroke) -> list[list[Point]]:
    """Give a line in the pieces that are drawn; a dashed one is straight from its first point to its last."""
    if stroke.dash_mm is None:
        return [list(stroke.points)]
    (x0, y0), (x1, y1) = stroke.points[0], stroke.points[-1]
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    on, off = stroke.dash_mm
    pieces, at = [], 0.0
    while at < length:
        ends = (at / length, min(at + on, length) / length)
        pieces.append([(x0 + part * (x1 - x0), y0 + part * (y1 - y0)) for part in ends])
        at += on + off
    return pieces
