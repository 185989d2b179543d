"""A stability chart (depth over spindle speed) and bars of forces: as text for a terminal, and as SVG."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from crib.desk.ringing.chatter import ChatterAnswer
from crib.report.dots import Dots, GlyphSet, Point
from crib.report.drawing import xml
from crib.units import Kind, System, show

AXIS = 9  # columns for the depths on the left
OWN, USEFUL = "'", "^"
LEAST_WIDTH, LEAST_HEIGHT = 40, 6
OVER_LIMIT = 4.0  # the chart ends at that many times the limit for all speeds
SVG_WIDE, SVG_HIGH, SVG_LEFT, SVG_BELOW, SVG_TOP = 160.0, 90.0, 16.0, 18.0, 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A speed to point out, with the sign that stands for it below the chart."""

    n_rev_min: float
    sign: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """A stability chart.

    Attributes:
        title: what it is of.
        points: spindle speed in rev/min and depth that just holds in mm; None where every depth holds.
        limit_mm: depth that holds at all speeds; None where every depth does.
        marks: speeds to point out.
        legend: what the signs mean.
        system: the user's own units.
    """

    title: str
    points: tuple[tuple[float, float | None], ...]
    limit_mm: float | None
    marks: tuple[Mark, ...] = ()
    legend: str = ""
    system: System | str = System.METRIC

    @property
    def speeds(self) -> tuple[float, float]:
        """Lowest and highest speed drawn."""
        return self.points[0][0], self.points[-1][0]

    @property
    def top_mm(self) -> float:
        """Greatest depth drawn."""
        depths = [depth for _, depth in self.points if depth is not None]
        if not depths:
            return 1.0
        return min(max(depths) * 1.05, OVER_LIMIT * (self.limit_mm or min(depths)))


def chart_lines(chart: Chart, width: int, height: int, glyphs: GlyphSet = GlyphSet.BRAILLE) -> list[str]:
    """Draw a chart with characters: curve, the limit for all speeds as a dotted line, marked speeds below.

    Args:
        chart: what to draw.
        width: columns.
        height: rows, title, axis and legend included.
        glyphs: braille dots, or plain ASCII.

    Returns:
        At most `height` lines of at most `width` characters; none if there is no room or nothing to draw.
    """
    if width < LEAST_WIDTH or height < LEAST_HEIGHT or len(chart.points) < 2:
        return []
    columns, rows = width - AXIS, height - 3 - bool(chart.legend)
    across, down = columns * glyphs.value[0] - 1, rows * glyphs.value[1] - 1
    canvas = Dots(columns, rows, glyphs)
    canvas.fit((0.0, 0.0, float(across), float(down)))
    canvas.line([(0.0, 0.0), (float(across), 0.0)], closed=False)
    if chart.limit_mm is not None:
        floor = down * chart.limit_mm / chart.top_mm
        canvas.line([(0.0, floor), (float(across), floor)], closed=False, every=4)
    for piece in _pieces(chart):
        canvas.line([(across * x, down * y) for x, y in piece], closed=False)
    drawn = canvas.lines()
    text = [chart.title[:width]]
    depths = _depth_labels(chart, rows, glyphs)
    for row in range(rows):
        line = drawn[row] if row < len(drawn) else ""
        text.append(f"{depths.get(row, ''):>{AXIS - 1}} {line}".rstrip())
    text.append(_speed_axis(chart, columns))
    if chart.legend:
        text.append((" " * AXIS + chart.legend)[:width])
    return text


def chart_svg(chart: Chart) -> str:
    """Draw a chart as SVG: no script, no outside font, no reference to any other file; text is escaped."""
    wide, high = SVG_WIDE - SVG_LEFT - 4.0, SVG_HIGH - SVG_BELOW - SVG_TOP

    def at(point: Point) -> str:
        return f"{SVG_LEFT + wide * point[0]:.2f} {SVG_TOP + high * (1.0 - point[1]):.2f}"

    low, fast = chart.speeds
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{SVG_WIDE:g}mm" height="{SVG_HIGH:g}mm" '
        f'viewBox="0 0 {SVG_WIDE:g} {SVG_HIGH:g}" font-family="sans-serif" font-size="3.2">',
        f"<title>{xml(chart.title)}</title>",
        f'<rect width="{SVG_WIDE:g}" height="{SVG_HIGH:g}" fill="#ffffff"/>',
        f'<text x="{SVG_LEFT:g}" y="6" font-weight="bold">{xml(chart.title)}</text>',
        f'<path class="axes" d="M{at((0.0, 1.0))}L{at((0.0, 0.0))}L{at((1.0, 0.0))}" fill="none" '
        'stroke="#000000" stroke-width="0.3"/>',
    ]
    for part in (0.0, 0.25, 0.5, 0.75, 1.0):
        depth, n = part * chart.top_mm, low + part * (fast - low)
        x, y = at((0.0, part)).split()
        lines.append(
            f'<text x="{float(x) - 1.5:.2f}" y="{float(y) + 1:.2f}" text-anchor="end">{depth:.3g}</text>'
        )
        x, y = at((part, 0.0)).split()
        lines.append(f'<text x="{x}" y="{float(y) + 5:.2f}" text-anchor="middle">{n:.0f}</text>')
    if chart.limit_mm is not None:
        floor = chart.limit_mm / chart.top_mm
        lines.append(
            f'<path class="limit" d="M{at((0.0, floor))}L{at((1.0, floor))}" fill="none" stroke="#000000" '
            'stroke-width="0.25" stroke-dasharray="1.5 1"/>'
        )
    lines += [
        f'<path class="lobe" d="M{"L".join(map(at, piece))}" fill="none" stroke="#000000" '
        'stroke-width="0.5"/>'
        for piece in _pieces(chart)
    ]
    for mark in chart.marks:
        x, y = at(((mark.n_rev_min - low) / (fast - low), 0.0)).split()
        lines.append(
            f'<text class="mark" x="{x}" y="{float(y) + 9:.2f}" text-anchor="middle">{xml(mark.sign)}</text>'
        )
    below = f"rev/min. {chart.legend}" if chart.legend else "rev/min"
    lines += [
        f'<text x="2" y="{SVG_TOP - 2:g}">depth, mm</text>',
        f'<text x="{SVG_LEFT:g}" y="{SVG_HIGH - 3:g}">{xml(below)}</text>',
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def bar_lines(
    bars: Sequence[tuple[str, float]], width: int, glyphs: GlyphSet, system: System | str
) -> list[str]:
    """Draw forces as bars, all to one scale; one that draws tool and work together is said to.

    Args:
        bars: what each is, and its force in N.
        width: columns.
        glyphs: full blocks where braille can be shown, else number signs.
        system: the user's own units.
    """
    named = max((len(name) for name, _ in bars), default=0)
    told = [show(abs(force), Kind.FORCE, system) + (" inwards" if force < 0.0 else "") for _, force in bars]
    room = width - named - max(map(len, told), default=0) - 2
    most = max((abs(force) for _, force in bars), default=0.0)
    block = "█" if glyphs is GlyphSet.BRAILLE else "#"
    lengths = [max(1, round(room * abs(force) / most)) if most and room > 0 else 0 for _, force in bars]
    return [
        f"{name:{named}} {block * length} {text}"
        for (name, _), length, text in zip(bars, lengths, told, strict=True)
    ]


def _pieces(chart: Chart) -> Iterator[list[Point]]:
    """Give the curve in pieces that lie inside the chart, both directions from 0 to 1."""
    low, fast = chart.speeds
    piece: list[Point] = []
    above: Point | None = None  # the last point that lay above the chart
    for n, depth in chart.points:
        x = (n - low) / (fast - low)
        y = None if depth is None else depth / chart.top_mm
        if y is not None and y <= 1.0:
            if above is not None and not piece:
                piece.append(_at_top(above, (x, y)))
            piece.append((x, y))
        else:
            point = (x, 2.0 if y is None else y)
            if piece:
                yield [*piece, _at_top(point, piece[-1])]
                piece = []
            above = point
    if piece:
        yield piece


def _at_top(above: Point, inside: Point) -> Point:
    """Give where the line between two points leaves the chart."""
    part = (1.0 - inside[1]) / (above[1] - inside[1])
    return inside[0] + part * (above[0] - inside[0]), 1.0


def _depth_labels(chart: Chart, rows: int, glyphs: GlyphSet) -> dict[int, str]:
    """Give the depths that stand beside the rows: top, limit, bottom."""

    def said(depth_mm: float) -> str:
        return show(depth_mm, Kind.LENGTH, chart.system, both=False)

    labels = {0: said(float(f"{chart.top_mm:.2g}")), rows - 1: "0"}
    if chart.limit_mm is not None:
        down = rows * glyphs.value[1] - 1  # as the dots of the curve are counted
        row = round(down * (1.0 - chart.limit_mm / chart.top_mm)) // glyphs.value[1]
        labels[row] = said(float(f"{chart.limit_mm:.2g}"))
    return labels


def _speed_axis(chart: Chart, columns: int) -> str:
    """Give the row below the chart: its first and last speed, and the signs of marked speeds between."""
    low, fast = chart.speeds
    row = [" "] * columns
    for mark in chart.marks:
        place = round((columns - 1) * (mark.n_rev_min - low) / (fast - low))
        if 0 <= place < columns and row[place] in (" ", "'"):
            row[place] = mark.sign
    ends = (f"{low:.0f}", f"{fast:.0f} rev/min")
    row[: len(ends[0])] = ends[0]
    row[-len(ends[1]) :] = ends[1]
    return (" " * AXIS + "".join(row)).rstrip()


def stability_chart(found: ChatterAnswer) -> Chart:
    """Give the chart of an answer: the machine's speeds marked, those worth going to apart."""
    useful = {one.n_rev_min for one in found.useful_lobes}
    own = signs((n for n in found.machine_speeds if n not in useful), OWN)
    legend = f"{OWN} a speed of the machine   " * bool(own) + f"{USEFUL} worth going to" * bool(useful)
    return Chart(
        title=f"Depth a side that just holds: {found.setup}",
        points=tuple((one.n_rev_min, one.b_lim_mm) for one in found.lobes),
        limit_mm=found.b_lim_mm,
        marks=(*signs(useful, USEFUL), *own),
        legend=legend,
        system=found.units,
    )


def signs(speeds: Iterable[float], sign: str) -> tuple[Mark, ...]:
    """Give the same sign to several speeds."""
    return tuple(Mark(n_rev_min=n, sign=sign) for n in speeds)
