"""Stability charts and bars of forces, as text and as SVG."""

import io
from xml.etree import ElementTree

import pytest
from PIL import Image

from crib.report.chart import Chart, Mark, bar_lines, chart_figure, chart_lines
from crib.report.dots import GlyphSet
from crib.report.figure import figure_png, figure_svg
from crib.trade.rigidity.chatter import allowed_at_speed, allowed_stiffness

SVG = "{http://www.w3.org/2000/svg}"
LIMIT = allowed_stiffness(8000.0, 0.025) / 2000.0
SPEEDS = [500.0 + 10.0 * step for step in range(500)]
CURVE = tuple(
    (n, allowed_at_speed(n, k_N_mm=8000.0, frequency_hz=160.0, damping_ratio=0.025) / 2000.0) for n in SPEEDS
)
CHART = Chart(
    title="weak <b>set-up</b>",
    points=CURVE,
    limit_mm=LIMIT,
    marks=(Mark(n_rev_min=2437.0, sign="^"), Mark(n_rev_min=1500.0, sign="'")),
    legend="^ worth going to",
)


@pytest.mark.parametrize("glyphs", list(GlyphSet))
@pytest.mark.parametrize(("width", "height"), [(78, 16), (40, 6), (120, 30)])
def test_a_chart_fits_its_room_and_is_read_without_colour(width: int, height: int, glyphs: GlyphSet) -> None:
    lines = chart_lines(CHART, width, height, glyphs)
    assert 0 < len(lines) <= height
    assert max(map(len, lines)) <= width
    assert "0.82 mm" in lines[1]
    assert any(line.lstrip().startswith("0.2 mm") for line in lines)
    assert "^" in lines[-2]
    assert lines[-2].rstrip().endswith("rev/min")


def test_the_peaks_stand_over_the_speeds_that_they_mean() -> None:
    lines = chart_lines(CHART, 78, 16, GlyphSet.ASCII)
    column = lines[-2].index("^")
    reach = min(
        row
        for row, line in enumerate(lines[1:])
        if len(line) > column and line[column - 1 : column + 2].strip()
    )
    assert reach <= 3  # the gap at 2437 rev/min goes nearly to the top


def test_no_room_no_chart() -> None:
    assert chart_lines(CHART, 39, 16) == []
    assert chart_lines(CHART, 78, 5) == []


def test_depths_without_limit_leave_the_chart() -> None:
    points = tuple((n, None if n < 1000 else depth) for n, depth in CURVE)
    assert chart_lines(Chart(title="", points=points, limit_mm=None), 60, 10)
    none = Chart(title="", points=((1.0, None), (2.0, None)), limit_mm=None)
    assert chart_lines(none, 60, 10)
    assert "no depth within reach chatters" in figure_svg(chart_figure(none))
    assert "no depth within reach chatters" not in figure_svg(chart_figure(CHART))


def test_svg_is_well_formed_and_text_is_data() -> None:
    root = ElementTree.fromstring(figure_svg(chart_figure(CHART)))
    assert root.findtext(f"{SVG}title") == "weak <b>set-up</b>"
    curves = [path for path in root.iter(f"{SVG}path") if path.get("class") == "lobe"]
    assert len(curves) >= 3
    assert [text.text for text in root.iter(f"{SVG}text") if text.get("class") == "mark"] == ["^", "'"]
    ends = [
        float(number)
        for path in curves
        for pair in path.get("d", "M")[1:].split("L")
        for number in pair.split()
    ]
    assert min(ends) >= 0
    assert max(ends) <= 160


FORCES = (("cutting", 800.0), ("feed", 400.0), ("passive", -200.0))


def test_a_png_shows_what_the_svg_does() -> None:
    figure = chart_figure(CHART, FORCES, 1.0)
    image = Image.open(io.BytesIO(figure_png(figure)))
    root = ElementTree.fromstring(figure_svg(figure))
    per_mm = image.info["dpi"][0] / 25.4
    width_mm, height_mm = (float(root.get(side, "").removesuffix("mm")) for side in ("width", "height"))
    assert image.size == pytest.approx((width_mm * per_mm, height_mm * per_mm), abs=1)
    assert image.mode == "L"  # read without colour

    def dark(x_mm: float, y_mm: float) -> bool:
        """Whether something is drawn within half a millimetre."""
        x, y, reach = round(x_mm * per_mm), round(y_mm * per_mm), round(0.5 * per_mm)
        return image.crop((x - reach, y - reach, x + reach, y + reach)).getextrema()[0] < 128

    # every point of the curve, and the ends of every bar, lie where the SVG has them
    for path in root.iter(f"{SVG}path"):
        if path.get("class") in ("lobe", "axes"):
            points = [pair.split() for pair in path.get("d", "M")[1:].split("L")]
            assert all(dark(float(x), float(y)) for x, y in points)
    bars = [rect for rect in root.iter(f"{SVG}rect") if rect.get("class") == "bar"]
    wide = [float(rect.get("width", "")) for rect in bars]
    assert [one / wide[0] for one in wide] == pytest.approx([1.0, 0.5, 0.25], abs=1e-3)
    assert [rect.get("fill") for rect in bars] == ["#000000", "#000000", "none"]  # inwards: an outline
    for rect in bars:
        x, y, long, high = (float(rect.get(name, "")) for name in ("x", "y", "width", "height"))
        filled = rect.get("fill") != "none"
        assert dark(x + 1.5, y + high / 2.0) is filled and dark(x + long - 1.5, y + high / 2.0) is filled
        assert not dark(x + long + 1.0, y + high / 2.0)


def test_bars_are_to_one_scale() -> None:
    lines = bar_lines([("cutting", 800.0), ("feed", 400.0), ("passive", -40.0)], 70, GlyphSet.ASCII, "inch")
    counts = [line.count("#") for line in lines]
    assert counts[1] == pytest.approx(counts[0] / 2, abs=1)
    assert "lbf" in lines[0]
    assert lines[2].endswith("inwards")
    assert max(map(len, lines)) <= 70
    assert bar_lines([], 70, GlyphSet.ASCII, "metric") == []
