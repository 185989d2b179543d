"""A stability chart (depth over spindle speed) and bars of forces: as text for a terminal, as a figure."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from crib.desk.ringing.chatter import ChatterAnswer
from crib.report.dots import Dots, GlyphSet, Point
from crib.report.figure import Block, Figure, Stroke, Words
from crib.units import Kind, System, show

AXIS = 9  # columns for the depths on the left
OWN, USEFUL = "'", "^"
LEAST_WIDTH, LEAST_HEIGHT = 40, 6
OVER_LIMIT = 4.0  # the chart ends at that many times the limit for all speeds
FIGURE_WIDE, CHART_HIGH, CHART_LEFT, CHART_BELOW, CHART_TOP = 160.0, 90.0, 24.0, 18.0, 12.0
BARS_LEFT, BARS_RIGHT, BARS_TOP, BAR_STEP = 32.0, 44.0, 10.0, 6.0
Bars = Sequence[tuple[str, float]]


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


def chart_figure(chart: Chart, bars: Bars = (), ap_mm: float | None = None) -> Figure:
    """Draw a chart, and forces as bars below it, as a figure for paper or a file.

    Args:
        chart: what to draw.
        bars: what each force is, and its size in N; none for the chart alone.
        ap_mm: depth at which the forces are.
    """
    high_mm = CHART_HIGH + (BARS_TOP + BAR_STEP * len(bars) if bars else 0.0)
    parts = (*_chart_parts(chart), *_bar_parts(bars, ap_mm, chart.system))
    return Figure(title=chart.title, wide_mm=FIGURE_WIDE, high_mm=high_mm, parts=parts)


def _chart_parts(chart: Chart) -> Iterator[Stroke | Words | Block]:
    """Give axes, curve, the limit for all speeds and marked speeds."""
    wide, high = FIGURE_WIDE - CHART_LEFT - 8.0, CHART_HIGH - CHART_BELOW - CHART_TOP
    low, fast = chart.speeds

    def at(point: Point) -> Point:
        return CHART_LEFT + wide * point[0], CHART_TOP + high * (1.0 - point[1])

    def said(depth_mm: float) -> str:
        return show(float(f"{depth_mm:.2g}"), Kind.LENGTH, chart.system, both=False)

    yield Words(role="title", at=(4.0, 6.0), text=chart.title, bold=True)
    yield Stroke(role="axes", points=tuple(map(at, ((0.0, 1.0), (0.0, 0.0), (1.0, 0.0)))), wide_mm=0.3)
    for part in (0.0, 0.25, 0.5, 0.75, 1.0):
        (x, y), (across, foot) = at((0.0, part)), at((part, 0.0))
        depth = said(part * chart.top_mm) if part else "0"
        yield Words(role="depth", at=(x - 1.5, y + 1.0), text=depth, anchor="end")
        speed = f"{low + part * (fast - low):.0f}"
        yield Words(role="speed", at=(across, foot + 5.0), text=speed, anchor="middle")
    if chart.limit_mm is not None:
        floor = chart.limit_mm / chart.top_mm
        ends = (at((0.0, floor)), at((1.0, floor)))
        yield Stroke(role="limit", points=ends, wide_mm=0.25, dash_mm=(1.5, 1.0))
        limit = show(float(f"{chart.limit_mm:.2g}"), Kind.LENGTH, chart.system)
        text = f"{limit} holds at every speed"
        yield Words(role="limit-said", at=(ends[1][0], ends[1][1] + 4.0), text=text, anchor="end")
    if all(depth is None for _, depth in chart.points):
        yield Words(role="none", at=at((0.5, 0.5)), text="no depth within reach chatters", anchor="middle")
    for piece in _pieces(chart):
        yield Stroke(role="lobe", points=tuple(map(at, piece)), wide_mm=0.5)
    for mark in chart.marks:
        x, y = at(((mark.n_rev_min - low) / (fast - low), 0.0))
        yield Words(role="mark", at=(x, y + 9.0), text=mark.sign, anchor="middle")
    below = f"rev/min. {chart.legend}" if chart.legend else "rev/min"
    yield Words(role="legend", at=(CHART_LEFT, CHART_HIGH - 3.0), text=below)


def _bar_parts(bars: Bars, ap_mm: float | None, system: System | str) -> Iterator[Words | Block]:
    """Give forces as bars to one scale; one that draws tool and work together is an outline, and said."""
    most = max((abs(force) for _, force in bars), default=0.0)
    room = FIGURE_WIDE - BARS_LEFT - BARS_RIGHT
    if bars:
        title = "Forces" + (f" at {show(ap_mm, Kind.LENGTH, system)}" if ap_mm is not None else "")
        yield Words(role="title", at=(4.0, CHART_HIGH + 3.0), text=title, bold=True)
    for number, ((name, force), told) in enumerate(zip(bars, _told(bars, system), strict=True)):
        y = CHART_HIGH + BARS_TOP + BAR_STEP * number
        long = max(0.3, room * abs(force) / most) if most else 0.3
        yield Words(role="force", at=(4.0, y), text=name)
        yield Block(role="bar", at=(BARS_LEFT, y - 3.0), size=(long, 3.4), filled=force >= 0.0)
        yield Words(role="force-said", at=(BARS_LEFT + long + 2.0, y), text=told)


def _told(bars: Bars, system: System | str) -> list[str]:
    """Say each force, and where it draws tool and work together."""
    return [show(abs(force), Kind.FORCE, system) + (" inwards" if force < 0.0 else "") for _, force in bars]


def bar_lines(bars: Bars, width: int, glyphs: GlyphSet, system: System | str) -> list[str]:
    """Draw forces as bars, all to one scale; one that draws tool and work together is said to.

    Args:
        bars: what each is, and its force in N.
        width: columns.
        glyphs: full blocks where braille can be shown, else number signs.
        system: the user's own units.
    """
    named = max((len(name) for name, _ in bars), default=0)
    told = _told(bars, system)
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


def force_bars(found: ChatterAnswer) -> Bars:
    """Give the forces of an answer as bars; none where they are not known."""
    forces = found.forces
    if forces is None:
        return ()
    return (
        ("cutting", forces.Fc_N),
        ("feed", forces.Ff_N),
        ("passive", forces.Fp_N),
        ("where it gives", forces.towards_N),
    )


def signs(speeds: Iterable[float], sign: str) -> tuple[Mark, ...]:
    """Give the same sign to several speeds."""
    return tuple(Mark(n_rev_min=n, sign=sign) for n in speeds)
