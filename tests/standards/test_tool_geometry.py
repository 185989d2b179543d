"""How holders and bars are drawn: entering angle, hand, and where the rounded corner comes to stand.

Published: how far the rounded corner falls short of the sharp one, along shank and across it, for holder
styles and corner radii, as tabulated for setting tools in makers' catalogues (cut off after three digits).
The table does not name the inserts; each style is taken with the shape whose figures it prints.
"""

from itertools import pairwise
from math import acos, degrees, dist, hypot, radians, tan

import pytest

from crib.desk.asking.codes import decode, designations
from crib.desk.asking.sketches import sketch
from crib.trade import tables
from crib.trade.designation.outline import bounds
from crib.trade.designation.sketch import Sketch, Stroke

Point = tuple[float, float]
RADII_mm = {0.4: 25.4 / 64, 0.8: 25.4 / 32, 1.2: 3 * 25.4 / 64, 1.6: 25.4 / 16, 2.4: 3 * 25.4 / 32}
# holder, coded radius, printed along the shank and across it; None where the table has a dash
SETTING = [
    ("MTANR2525M16", 0.8, 0.581, None), ("MTANR2525M16", 2.4, 1.743, None),
    ("PSBNR2525M12", 0.4, 0.089, 0.024), ("PSBNR2525M12", 1.2, 0.268, 0.072),
    ("SSDCN2020K12", 0.8, 0.329, 0.329), ("SSDCN2020K12", 2.4, 0.986, 0.986),
    ("MTENN2525M16", 0.8, 0.793, 0.458), ("MTENN2525M16", 1.6, 1.587, 0.916),
    ("PTFNR2525M16", 0.4, None, 0.291), ("PTFNR2525M16", 1.2, None, 0.872),
    ("PTGNR2525M16", 0.4, 0.291, None), ("PTGNR2525M16", 1.6, 1.162, None),
    ("PDJNR2525M15", 0.8, 0.687, 0.079), ("PDJNR2525M15", 1.6, 1.375, 0.157),
    ("PSKNR2525M12", 0.8, 0.048, 0.178), ("PSKNR2525M12", 1.6, 0.096, 0.357),
    ("PCLNR2525M12", 0.8, 0.079, 0.079), ("PCLNR2525M12", 2.4, 0.238, 0.238),
    ("MDNNN2525M15", 0.8, 0.925, 0.471), ("MDNNN2525M15", 1.6, 1.850, 0.943),
    ("PSSNR2525M12", 0.8, 0.329, 0.329), ("PTTNR2525M16", 1.2, 1.190, 0.687),
    ("PSYNR2525M12", 0.8, 0.005, 0.066), ("PSYNR2525M12", 2.4, 0.017, 0.198),
]  # fmt: skip
# how a style feeds as printed: along the shank (end cutting) or across it
AHEAD = "FKUWY"


def stroke_of(drawn: Sketch, part: str) -> Stroke:
    return next(stroke for stroke in drawn.plan if stroke.part == part)


def corner(drawn: Sketch) -> tuple[Point, Point]:
    """Directions of the two edges that leave the cutting corner, which stands at the origin."""
    points = stroke_of(drawn, "insert").points
    at = min(range(len(points)), key=lambda n: hypot(*points[n]))
    assert hypot(*points[at]) == pytest.approx(0.0, abs=1e-9)
    ends = points[at - 1], points[(at + 1) % len(points)]
    return tuple((x / hypot(x, y), y / hypot(x, y)) for x, y in ends)  # type: ignore[return-value]  # two


def between(u: Point, v: Point) -> float:
    return degrees(acos(max(-1.0, min(1.0, u[0] * v[0] + u[1] * v[1]))))


def main_edge(drawn: Sketch, feed: Point, KAPR_deg: float) -> Point:
    found = [edge for edge in corner(drawn) if between(edge, feed) == pytest.approx(KAPR_deg, abs=1e-6)]
    assert found, "no edge leaves the corner at the entering angle"
    return found[0]


@pytest.mark.parametrize(("code", "RE_mm", "along_mm", "across_mm"), SETTING)
def test_the_rounded_corner_stands_where_setting_tables_say(
    code: str, RE_mm: float, along_mm: float | None, across_mm: float | None
) -> None:
    reading = decode(code)
    drawn = sketch(reading)
    u, v = corner(drawn)
    half = radians(between(u, v) / 2.0)
    away = RADII_mm[RE_mm] / tan(half)  # corner to where the arc leaves the edge
    inside = RADII_mm[RE_mm]
    turn = 1.0 if u[0] * v[1] - u[1] * v[0] > 0 else -1.0
    centre = (away * u[0] - turn * inside * u[1], away * u[1] + turn * inside * u[0])
    ahead = reading.style in AHEAD  # type: ignore[union-attr]  # holders have a style
    feed, deep = ((0.0, 1.0), (-1.0, 0.0)) if ahead else ((-1.0, 0.0), (0.0, 1.0))
    short_mm = -(centre[0] * deep[0] + centre[1] * deep[1]) - inside
    KAPR_deg = reading.KAPR_deg  # type: ignore[union-attr]
    if KAPR_deg >= 90.0:
        behind_mm = -(centre[0] * feed[0] + centre[1] * feed[1]) - inside
    else:  # set on the main edge, at the depth that the rounded corner reaches
        behind_mm = short_mm / tan(radians(KAPR_deg))
    found = (behind_mm, short_mm) if ahead else (short_mm, behind_mm)
    for value, printed in zip(found, (along_mm, across_mm), strict=True):
        assert value == pytest.approx(printed or 0.0, abs=0.0025)


HANDED = [("PCLN{}2525M12", 95.0), ("PDJN{}2525M15", 93.0), ("PTGN{}2525M16", 90.0), ("PSSN{}2525M12", 45.0)]


@pytest.mark.parametrize(("code", "KAPR_deg"), HANDED)
def test_a_right_hand_holder_cuts_to_the_left_and_a_left_hand_one_mirrors_it(
    code: str, KAPR_deg: float
) -> None:
    right, left = (sketch(decode(code.format(hand))) for hand in "RL")
    # ISO 5608: shank towards the viewer of the page's foot, rake face up; a right-hand tool feeds to the left
    edge = main_edge(right, (-1.0, 0.0), KAPR_deg)
    assert edge[1] < 0  # the edge leads from the corner back along the shank, outwards from the work
    assert main_edge(left, (1.0, 0.0), KAPR_deg)[1] < 0
    feeds = [stroke for stroke in right.plan if stroke.part == "feed"]
    assert min(x for stroke in feeds for x, _ in stroke.points) < -5.0
    assert len(right.plan) == len(left.plan)
    for one, other in zip(right.plan, left.plan, strict=True):
        assert {(round(-x, 9), round(y, 9)) for x, y in one.points} == {
            (round(x, 9), round(y, 9)) for x, y in other.points
        }


@pytest.mark.parametrize(
    ("code", "KAPR_deg"), [("S25R-SCLCR09", 95.0), ("S20Q-SDUCR11", 93.0), ("S25R-STFCR16", 90.0)]
)
def test_a_bar_is_fed_along_its_axis(code: str, KAPR_deg: float) -> None:
    drawn = sketch(decode(code))
    main_edge(drawn, (0.0, 1.0), KAPR_deg)
    assert "fed along the shank" in drawn.words[0]
    axis = stroke_of(drawn, "axis").points
    assert axis[0][0] == axis[1][0] > 0  # the cutting corner stands to the left of the axis


def test_shanks_are_to_scale_and_shortened_only_where_asked() -> None:
    reading = decode("PCLNR3225P12")
    full = sketch(reading, longest_mm=200.0)
    (shank,) = [stroke for stroke in full.plan if stroke.part == "shank"]
    straight = [p for p in shank.points if p[1] == min(y for _, y in shank.points)]
    assert min(y for _, y in shank.points) == -170.0  # LF from the cutting corner
    assert max(x for x, _ in straight) - min(x for x, _ in straight) == pytest.approx(25.0)
    assert not any("shortened" in note for note in full.notes)
    short = sketch(reading)
    pieces = [stroke for stroke in short.plan if stroke.part == "shank"]
    assert len(pieces) == 2
    assert min(y for piece in pieces for _, y in piece.points) > -170.0
    assert any("shortened: 170 mm" in note for note in short.notes)
    upper = {(round(x, 6), round(y - 0.12 * 25.0, 6)) for x, y in pieces[0].points[:4]}
    assert upper == {(round(x, 6), round(y, 6)) for x, y in pieces[1].points[2:]}  # the break lines run alike


def test_what_a_tool_code_leaves_open_is_told_and_not_drawn() -> None:
    special = sketch(decode("PCXNR2525M12"))
    assert not [stroke for stroke in special.plan if stroke.part == "insert"]
    assert any("entering angle is the maker's" in note for note in special.notes)
    cartridge = sketch(decode("SCLCR10CA-06"))
    assert not [stroke for stroke in cartridge.plan if stroke.part == "shank"]
    assert any("not coded" in note for note in cartridge.notes)
    no_length = sketch(decode("PCLNR2525X12"))
    assert any("length is not coded" in note for note in no_length.notes)
    round_one = sketch(decode("SRDCN2525M12"))
    assert any("drawn 12 mm" in note for note in round_one.notes)
    x0, y0, x1, y1 = bounds(stroke_of(round_one, "insert").points)
    assert (x0, y0, x1, y1) == pytest.approx((-6.0, -12.0, 6.0, 0.0), abs=0.01)
    blunt = sketch(decode("PCBNR2525M12"))
    assert any("blunt" in note for note in blunt.notes)
    rubbing = sketch(decode("PSLNR2525M12"))
    assert any("rub" in note for note in rubbing.notes)


SHAPES = "HOPSTCDEMVWLABKR"


@pytest.mark.parametrize("style", [row["code"] for row in tables.rows("holder_style")])
def test_every_style_takes_every_shape(style: str) -> None:
    """The seat follows from the angle for every combination that the standard can write."""
    sizes = {shape: next((k[1:] for k in designations().sizes if k[0] == shape), "12") for shape in SHAPES}
    KAPR_deg = designations().styles[style].value
    for shape in SHAPES:
        for hand in "RLN":
            reading = decode(f"P{shape}{style}N{hand}2525M{sizes[shape]}")
            drawn = sketch(reading)
            assert stroke_of(drawn, "shank")
            if KAPR_deg is None:
                continue
            insert = stroke_of(drawn, "insert")
            if shape == "R":
                assert max(y for _, y in insert.points) == pytest.approx(0.0, abs=0.01)
                continue
            feed = (0.0, 1.0) if style in AHEAD + "CQ" else ((1.0, 0.0) if hand == "L" else (-1.0, 0.0))
            main_edge_of(insert, feed, KAPR_deg)


def main_edge_of(insert: Stroke, feed: Point, KAPR_deg: float) -> None:
    """Check that one edge at the corner stands at the entering angle."""
    points = insert.points
    at = min(range(len(points)), key=lambda n: hypot(*points[n]))
    ends = [points[at - 1], points[(at + 1) % len(points)]]
    angles = [between((x / hypot(x, y), y / hypot(x, y)), feed) for x, y in ends]
    assert any(angle == pytest.approx(KAPR_deg, abs=1e-6) for angle in angles), (angles, KAPR_deg)
    assert all(dist(p, q) > 0 for p, q in pairwise(points))
