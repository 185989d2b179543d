"""A sketch as text for a terminal, as lines of sizes in both systems, and as SVG at 1:1."""

from collections.abc import Sequence
from html import escape
from itertools import zip_longest
from unicodedata import category

from crib.report.dots import Dots, GlyphSet
from crib.trade.designation.outline import Point, bounds
from crib.trade.designation.sketch import Measure, Sketch, Stroke
from crib.units import Kind, System, show

# columns: what a picture needs at least and takes at most, and what the sizes beside it need
LEAST_PICTURE, MOST_PICTURE, LEAST_TEXT = 20, 44, 44
BETWEEN = 0.18  # gap between plan and side view, of the larger of them
MARGIN_mm = 5.0
TEXT_mm = 3.2
LINE_mm = 4.6
TEXT_WIDE = 0.56  # mean width of a letter of a sans-serif face, of its height: to make the page wide enough
RULE_mm = 20.0
PAPER_LONGEST_mm = 170.0  # shanks up to here are drawn in full on an upright sheet of A4
# every n-th dot of a line, by what it shows
DOTTED = {"circle": 3, "axis": 4}
LOOKS = {
    "insert": 'fill="#ffffff" stroke="#000000" stroke-width="0.25"',
    "side": 'fill="#ffffff" stroke="#000000" stroke-width="0.25"',
    "shank": 'fill="#eeeeee" stroke="#000000" stroke-width="0.18"',
    "circle": 'fill="none" stroke="#000000" stroke-width="0.1" stroke-dasharray="0.8 0.6"',
    "axis": 'fill="none" stroke="#000000" stroke-width="0.1" stroke-dasharray="4 1 0.6 1"',
    "cross": 'fill="none" stroke="#000000" stroke-width="0.1"',
    "feed": 'fill="none" stroke="#000000" stroke-width="0.35"',
}


def to_text(sketch: Sketch, width: int, height: int, glyphs: GlyphSet = GlyphSet.BRAILLE) -> list[str]:
    """Draw a sketch with characters, shape to scale, as large as the room allows.

    Args:
        sketch: what to draw.
        width: columns.
        height: rows; a cell is taken to be twice as high as wide.
        glyphs: braille dots, or plain ASCII for terminals without them.

    Returns:
        At most `height` lines of at most `width` characters, without blanks at their ends; none if there is
        nothing to draw or no room.
    """
    if width < 2 or height < 2 or not (sketch.plan or sketch.side):
        return []
    layouts = [_arranged(sketch, beside) for beside in (True, False)] if sketch.side else [sketch.plan]
    canvas = Dots(width, height, glyphs)
    strokes = max(layouts, key=lambda strokes: canvas.scale(_bounds(strokes)))
    canvas.fit(_bounds(strokes))
    for stroke in strokes:
        if stroke.covers:
            canvas.clear(stroke.points)
        canvas.line(stroke.points, closed=stroke.closed, every=DOTTED.get(stroke.part, 1))
    return canvas.lines()


def page(
    sketch: Sketch,
    width: int,
    height: int,
    glyphs: GlyphSet = GlyphSet.BRAILLE,
    system: System | str = System.METRIC,
) -> list[str]:
    """Draw a sketch with its sizes beside it, or below where there is little room, and the notes at the end.

    Args:
        sketch: what to draw.
        width: columns.
        height: rows that the picture may take; the text takes what it needs.
        glyphs: what the dots become.
        system: the user's own system, printed first.
    """
    wide = width >= LEAST_PICTURE + LEAST_TEXT
    room = min(max(width - LEAST_TEXT, LEAST_PICTURE), MOST_PICTURE) if wide else width
    picture = to_text(sketch, room, height, glyphs)
    margin = min((len(line) - len(line.lstrip()) for line in picture if line), default=0)
    picture = [line[margin:] for line in picture]
    across = max(map(len, picture), default=0) + 2
    said = [
        line for label in labels(sketch, system) for line in _folded(label, width - across if wide else width)
    ]
    if wide:
        lines = [
            f"{left:{across}}{right}".rstrip() for left, right in zip_longest(picture, said, fillvalue="")
        ]
    else:
        lines = [*picture, *said]
    return lines + [line for note in sketch.notes for line in _folded(f"drawing: {note}", width)]


def labels(sketch: Sketch, system: System | str = System.METRIC) -> list[str]:
    """Give the lines to print beside a drawing: sizes in both systems, then words.

    Args:
        sketch: what was drawn.
        system: the user's own system, printed first.
    """
    return [*(_said(measure, system) for measure in sketch.measures), *sketch.words]


def to_svg(sketch: Sketch, system: System | str = System.METRIC) -> str:
    """Draw a sketch as SVG in millimetres: printed at 100 % it has the size of the part.

    No script, no outside font, no reference to any other file; text is escaped.

    Args:
        sketch: what to draw.
        system: the user's own system, printed first.
    """
    strokes = _arranged(sketch, beside=True)
    x0, y0, x1, y1 = _bounds(strokes) if strokes else (0.0, 0.0, 0.0, 0.0)
    text = [sketch.title, *labels(sketch, system), *(f"Note: {note}." for note in sketch.notes)]
    text = [line for said in text for line in _folded(said, 76)]
    rule = f"{RULE_mm:g} mm. If this line measures that, the print is 1:1."
    letters = max([len(rule), *map(len, text)])
    wide = max(x1 - x0, letters * TEXT_mm * TEXT_WIDE, RULE_mm) + 2.0 * MARGIN_mm
    drawn = y1 - y0 + 2.0 * MARGIN_mm
    high = drawn + (len(text) + 3) * LINE_mm
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.2f}mm" height="{high:.2f}mm" '
        f'viewBox="0 0 {wide:.2f} {high:.2f}">',
        f"<title>{xml(sketch.title)}</title>",
        f'<rect width="{wide:.2f}" height="{high:.2f}" fill="#ffffff"/>',
        f'<g transform="translate({(wide - (x1 - x0)) / 2.0 - x0:.3f} {MARGIN_mm + y1:.3f}) scale(1 -1)" '
        f'stroke-linejoin="round">',
        *(_path(stroke) for stroke in strokes),
        "</g>",
        *_written(text, drawn + LINE_mm),
        *_rule(rule, high - LINE_mm),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _said(measure: Measure, system: System | str) -> str:
    """Print one size."""
    kind = Kind.LENGTH if measure.unit == "mm" else Kind.ANGLE
    text = f"{measure.name} {show(measure.value, kind, system, fine=measure.fine)}"
    return text if measure.plus_minus is None else f"{text}, ± {show(measure.plus_minus, kind, system)}"


def _arranged(sketch: Sketch, beside: bool) -> tuple[Stroke, ...]:
    """Give plan and side view in one picture, the side view to the right or below."""
    if not (sketch.plan and sketch.side):
        return sketch.plan + sketch.side
    x0, y0, x1, y1 = _bounds(sketch.plan)
    u0, v0, u1, v1 = _bounds(sketch.side)
    gap = BETWEEN * max(x1 - x0, y1 - y0)
    move = (
        (x1 + gap - u0, (y0 + y1 - v0 - v1) / 2.0) if beside else ((x0 + x1 - u0 - u1) / 2.0, y0 - gap - v1)
    )
    moved = [
        Stroke(
            part=stroke.part,
            points=tuple([(x + move[0], y + move[1]) for x, y in stroke.points]),
            closed=stroke.closed,
            covers=stroke.covers,
        )
        for stroke in sketch.side
    ]
    return (*sketch.plan, *moved)


def _bounds(strokes: Sequence[Stroke]) -> tuple[float, float, float, float]:
    """Give the least and greatest x and y of a picture."""
    return bounds([point for stroke in strokes for point in stroke.points])


def _path(stroke: Stroke) -> str:
    """Write one line of a drawing."""
    look = LOOKS[stroke.part] if stroke.closed else LOOKS[stroke.part].replace("#ffffff", "none")
    points = "L".join(_pair(point) for point in stroke.points)
    return f'<path class="{stroke.part}" d="M{points}{"Z" if stroke.closed else ""}" {look}/>'


def _pair(point: Point) -> str:
    """Write a point to a tenth of a thousandth of a millimetre."""
    return f"{round(point[0], 4):g} {round(point[1], 4):g}"


def _written(text: Sequence[str], top: float) -> list[str]:
    """Write lines of text."""
    return [
        f'<text x="{MARGIN_mm:g}" y="{top + number * LINE_mm:.2f}" font-family="sans-serif" '
        f'font-size="{TEXT_mm:g}"{" font-weight=" + chr(34) + "bold" + chr(34) if number == 0 else ""}>'
        f"{xml(line)}</text>"
        for number, line in enumerate(text)
    ]


def _rule(words: str, y: float) -> list[str]:
    """Draw a line of known length, so that whoever prints it can see whether the scale was kept."""
    left, right = MARGIN_mm, MARGIN_mm + RULE_mm
    ends = f"M{left:g} {y - 1:.2f}v2M{left:g} {y:.2f}H{right:g}M{right:g} {y - 1:.2f}v2"
    return [
        f'<path class="rule" d="{ends}" fill="none" stroke="#000000" stroke-width="0.2"/>',
        f'<text x="{right + 2:g}" y="{y + 1:.2f}" font-family="sans-serif" font-size="{TEXT_mm:g}">'
        f"{xml(words)}</text>",
    ]


def _folded(text: str, width: int) -> list[str]:
    """Break a line at blanks."""
    from textwrap import wrap

    return wrap(text, width, subsequent_indent="   ") or [""]


def xml(text: str) -> str:
    """Make text safe inside XML: escaped, and without what XML cannot hold."""
    shown = "".join(sign if category(sign) not in ("Cc", "Cf", "Cs", "Cn") else "\ufffd" for sign in text)
    return escape(shown)
