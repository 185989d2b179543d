"""Drawings as text and as SVG: extents, scale, hidden lines, and text that obeys nobody."""

import csv
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.desk.asking.codes import decode
from crib.desk.asking.sketches import sketch
from crib.report.dots import GlyphSet, glyphs_for
from crib.report.drawing import PAPER_LONGEST_mm, labels, page, to_svg, to_text
from crib.trade.designation.outline import bounds
from crib.trade.designation.sketch import Sketch, Stroke

SVG = "{http://www.w3.org/2000/svg}"
PUBLISHED = (Path(__file__).parents[1] / "standards" / "designations.csv").read_text(encoding="utf-8")
CODES = [row["designation"] for row in csv.DictReader(PUBLISHED.splitlines()) if row["valid"] == "yes"]


def drawn_of(*strokes: Stroke, title: str = "a title") -> Sketch:
    return Sketch(title=title, plan=strokes, side=(), measures=(), words=(), notes=())


def box(x0: float, y0: float, x1: float, y1: float, *, covers: bool = False) -> Stroke:
    return Stroke(part="insert", points=((x0, y0), (x1, y0), (x1, y1), (x0, y1)), covers=covers)


def dots(lines: list[str], glyphs: GlyphSet) -> set[tuple[int, int]]:
    """Read the picture back, dot by dot."""
    found = set()
    for row, line in enumerate(lines):
        for column, sign in enumerate(line):
            if glyphs is GlyphSet.ASCII:
                halves = {" ": (), "'": (0,), ".": (1,), ":": (0, 1)}[sign]
                found |= {(column, 2 * row + half) for half in halves}
            elif sign != " ":
                bits = ord(sign) - 0x2800
                assert 0 < bits < 256
                # dots 1-3 and 7 on the left, 4-6 and 8 on the right (Unicode Braille Patterns)
                order = [(0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (0, 3), (1, 3)]
                found |= {(2 * column + x, 4 * row + y) for n, (x, y) in enumerate(order) if bits >> n & 1}
    return found


@pytest.mark.parametrize(
    ("glyphs", "columns", "rows"), [(GlyphSet.BRAILLE, 40, 40), (GlyphSet.ASCII, 20, 20)]
)
def test_a_square_is_a_square_of_dots(glyphs: GlyphSet, columns: int, rows: int) -> None:
    lines = to_text(drawn_of(box(-3, -3, 7, 7)), 20, 10, glyphs)
    edge = {(x, y) for x in range(columns) for y in range(rows)}
    edge -= {(x, y) for x in range(1, columns - 1) for y in range(1, rows - 1)}
    assert dots(lines, glyphs) == edge


@pytest.mark.parametrize("glyphs", list(GlyphSet))
@pytest.mark.parametrize(("wide", "high"), [(30.0, 10.0), (10.0, 30.0), (10.0, 0.0)])
def test_the_shape_keeps_its_proportion(glyphs: GlyphSet, wide: float, high: float) -> None:
    found = dots(to_text(drawn_of(box(0, 0, wide, high)), 30, 12, glyphs), glyphs)
    across = max(x for x, _ in found) - min(x for x, _ in found)
    down = max(y for _, y in found) - min(y for _, y in found)
    assert abs(across * high - down * wide) <= max(wide, high)  # one dot of rounding


def test_what_lies_behind_is_hidden() -> None:
    behind, front = box(0, 0, 10, 10), box(5, 5, 15, 15, covers=True)
    found = dots(to_text(drawn_of(behind, front), 16, 8), GlyphSet.BRAILLE)
    # 31 dots for 15 mm and rows counted from the top: the corner of the one behind lies inside the other
    assert (20, 10) not in found
    assert (0, 10) in found and (30, 0) in found
    assert (20, 10) in dots(to_text(drawn_of(front, behind), 16, 8), GlyphSet.BRAILLE)


@given(
    st.sampled_from(["CNMG120408", "RCMT1204M0", "VNMG160404", "S25R-SCLCR09", "MVVNN2525M16", "KNUX160405"]),
    st.integers(-1, 90),
    st.integers(-1, 40),
    st.sampled_from(GlyphSet),
)
def test_any_room_is_kept(code: str, width: int, height: int, glyphs: GlyphSet) -> None:
    lines = to_text(sketch(decode(code)), width, height, glyphs)
    assert len(lines) <= max(height, 0)
    assert all(len(line) <= width and line == line.rstrip() for line in lines)
    assert bool(lines) == (width >= 2 and height >= 2)


def test_sizes_stand_beside_the_picture_in_both_systems() -> None:
    drawn = sketch(decode("CNMG120408"))
    said = labels(drawn)
    assert "inscribed circle 12.7 mm (1/2 in), ± 0.08 mm (0.0031 in)" in said
    assert "corner angle 80°" in said and "nose radius 0.8 mm (1/32 in)" in said
    assert labels(drawn, "inch")[1].startswith("inscribed circle 1/2 in (12.7 mm)")
    for width in (20, 60, 78, 120):
        lines = page(drawn, width, 12)
        assert all(len(line) <= width for line in lines)
        flat = re.sub(r"[\u2800-\u28ff\s]+", "", "".join(lines))
        for label in said:
            # folded text stands in pieces between the rows of the picture
            assert set(label.split()) <= {word for line in lines for word in line.split()}, (width, flat)


@pytest.mark.parametrize(
    ("encoding", "terminal", "glyphs"),
    [
        ("utf-8", "xterm-256color", GlyphSet.BRAILLE), ("UTF-8", None, GlyphSet.BRAILLE),
        ("utf-8", "linux", GlyphSet.ASCII), ("ascii", "xterm", GlyphSet.ASCII),
        ("cp1252", None, GlyphSet.ASCII), (None, None, GlyphSet.ASCII),
    ],
)  # fmt: skip
def test_braille_only_where_it_can_be_shown(
    encoding: str | None, terminal: str | None, glyphs: GlyphSet
) -> None:
    assert glyphs_for(encoding, terminal) is glyphs


def path_bounds(path: ElementTree.Element) -> tuple[float, float, float, float]:
    numbers = [float(number) for number in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", path.attrib["d"])]
    return bounds(list(zip(numbers[::2], numbers[1::2], strict=True)))


@pytest.mark.parametrize("code", ["CNMG120408", "WNMG080408", "RCMT1204M0", "VNMG160404", "CNMG432"])
def test_svg_is_in_millimetres_and_has_the_outline(code: str) -> None:
    drawn = sketch(decode(code))
    root = ElementTree.fromstring(to_svg(drawn))
    left, top, wide, high = map(float, root.attrib["viewBox"].split())
    assert (left, top) == (0.0, 0.0)
    assert root.attrib["width"] == f"{wide:.2f}mm" and root.attrib["height"] == f"{high:.2f}mm"
    (group,) = root.findall(f"{SVG}g")
    assert group.attrib["transform"].endswith("scale(1 -1)")  # 1:1, y upwards
    path = next(p for p in group if p.attrib["class"] == "insert")
    assert path_bounds(path) == pytest.approx(bounds(drawn.plan[0].points), abs=1e-3)
    x, y = map(float, re.findall(r"translate\((\S+) (\S+)\)", group.attrib["transform"])[0])
    for element in group:
        x0, y0, x1, y1 = path_bounds(element)
        assert x + x0 >= 0 and x + x1 <= wide and y - y1 >= 0 and y - y0 <= high  # all on the sheet


def test_the_rule_on_the_sheet_is_as_long_as_it_says() -> None:
    root = ElementTree.fromstring(to_svg(sketch(decode("CNMG120408"))))
    rule = next(path for path in root.findall(f"{SVG}path") if path.attrib["class"] == "rule")
    start, end = re.findall(r"M(\S+) \S+?H(\S+?)M", rule.attrib["d"])[0]
    assert float(end) - float(start) == 20.0
    assert any((text.text or "").startswith("20 mm") for text in root.findall(f"{SVG}text"))


HOSTILE = "</title><script>alert('x')</script>&amp;\"\x1b[31m\x00\u202e<image href='file:///etc/passwd'/>"


@pytest.mark.parametrize("title", [HOSTILE, "]]>", "a\nb", "\ud800", "\ufffe"])
def test_text_in_svg_is_escaped(title: str) -> None:
    root = ElementTree.fromstring(to_svg(drawn_of(box(0, 0, 1, 1), title=title)).encode("utf-8"))
    assert {element.tag for element in root.iter()} == {
        f"{SVG}{n}" for n in ("svg", "title", "rect", "g", "path", "text")
    }
    found = root.findtext(f"{SVG}title")
    assert found is not None
    assert not set(found) & set("\x00\x1b\n\u202e\ud800\ufffe")
    if title == HOSTILE:
        assert "<script>alert('x')</script>&amp;\"" in found


def test_a_makers_symbol_comes_through_as_text() -> None:
    root = ElementTree.fromstring(to_svg(sketch(decode("CNMG120408-XY"))))
    assert root.findtext(f"{SVG}title") == "CNMG120408-XY"
    assert "CNMG120408-XY" in [text.text for text in root.findall(f"{SVG}text")]


@pytest.mark.parametrize("code", CODES)
def test_every_published_code_is_drawn_or_says_why_not(code: str) -> None:
    drawn = sketch(decode(code), PAPER_LONGEST_mm)
    assert to_text(drawn, 28, 12) or drawn.notes
    root = ElementTree.fromstring(to_svg(drawn))
    text = to_svg(drawn)
    assert "href" not in text and "url(" not in text and "script" not in text
    assert root.findtext(f"{SVG}title") == drawn.title
    wide, high = (float(root.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    assert wide <= 190.0 and high <= 277.0  # an upright sheet of A4 with its margins
