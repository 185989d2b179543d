"""Outlines, edge lengths, corner heights and areas of inserts, recomputed another way and held to print.

The other way: a big square is cut with one half-plane a side; a rounded insert is the same polygon drawn in
by its nose radius and thickened by it again (its area by Steiner's formula, its reach by its corners plus
the radius). The program goes by corners and trigonometry instead.

Published: GOST 24248-80 (SNMG), 19057-80 (CNUA), 19046-80 (TNUM), 24251-80 (TEGN), 19067-80 (HNUA, HNGA);
19057 and 19046 say that they carry ISO 3364-85. No printed corner heights of shapes D, V, W, P, O were found.
"""

from itertools import pairwise
from math import acos, cos, degrees, dist, hypot, pi, radians, sin

import pytest

from crib.desk.asking.codes import decode, designations
from crib.desk.asking.sketches import sketch
from crib.trade.designation.outline import (
    area_mm2,
    bounds,
    corner_height_mm,
    edge_length_mm,
    hull,
    outline,
    side_view,
    true_radius_mm,
)

Point = tuple[float, float]
# interior angles around each shape, written out from ISO 1832 position 1
ANGLES = {
    "H": [120] * 6, "O": [135] * 8, "P": [108] * 5, "S": [90] * 4, "T": [60] * 3, "C": [80, 100] * 2,
    "D": [55, 125] * 2, "E": [75, 105] * 2, "M": [86, 94] * 2, "V": [35, 145] * 2, "W": [80, 160] * 3,
}  # fmt: skip
ROUNDINGS = [(12.7, 0.8), (9.525, 0.4), (6.35, 0.0), (15.875, 2.4), (4.7625, 0.2)]
CASES = [(shape, IC_mm, RE_mm) for shape in ANGLES for IC_mm, RE_mm in ROUNDINGS]
# last digits are cut off in print, not rounded
PRINTED_WITHIN_mm = 0.0016


def half_planes(shape: str) -> list[Point]:
    """Outward normals of the sides; the first two sides meet in the cutting corner."""
    turned, normals = 0.0, []
    for angle in ANGLES[shape]:
        normals.append((cos(radians(turned)), sin(radians(turned))))
        turned += 180.0 - angle
    assert turned == pytest.approx(360.0)
    return normals


def cut(radius_mm: float, normals: list[Point]) -> list[Point]:
    """Cut a big square with every half-plane n . p <= radius."""
    far = 100.0
    polygon: list[Point] = [(-far, -far), (far, -far), (far, far), (-far, far)]
    for nx, ny in normals:
        kept: list[Point] = []
        for (x0, y0), (x1, y1) in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
            a, b = nx * x0 + ny * y0 - radius_mm, nx * x1 + ny * y1 - radius_mm
            if a <= 0:
                kept.append((x0, y0))
            if a * b < 0:
                kept.append((x0 + a / (a - b) * (x1 - x0), y0 + a / (a - b) * (y1 - y0)))
        polygon = kept
    return polygon


def sides(polygon: list[Point]) -> list[float]:
    return [dist(p, q) for p, q in pairwise([*polygon, polygon[0]])]


def shoelace(polygon: list[Point]) -> float:
    return sum(p[0] * q[1] - q[0] * p[1] for p, q in pairwise([*polygon, polygon[0]])) / 2.0


def reach(polygon: list[Point], way: Point, RE_mm: float) -> float:
    """How far the thickened polygon reaches in a direction."""
    return max(x * way[0] + y * way[1] for x, y in polygon) + RE_mm


@pytest.mark.parametrize(("shape", "IC_mm", "RE_mm"), CASES)
def test_edge_length_and_angles_are_those_of_the_cut_polygon(shape: str, IC_mm: float, RE_mm: float) -> None:
    polygon = cut(IC_mm / 2.0, half_planes(shape))
    expected = edge_length_mm(designations().shapes[shape], IC_mm)
    assert len(polygon) == len(ANGLES[shape])
    assert sides(polygon) == pytest.approx([expected] * len(polygon), rel=1e-9)
    drawn = outline(designations().shapes[shape], IC_mm, None).points()
    assert sides(list(drawn)) == pytest.approx([expected] * len(polygon), rel=1e-9)
    corners = [*drawn, *drawn[:2]]
    found = []
    for before, at, after in zip(corners, corners[1:], corners[2:], strict=False):
        u, v = (before[0] - at[0], before[1] - at[1]), (after[0] - at[0], after[1] - at[1])
        found.append(degrees(acos((u[0] * v[0] + u[1] * v[1]) / hypot(*u) / hypot(*v))))
    assert found[-1] == pytest.approx(ANGLES[shape][0])  # the first corner, up, is the one that cuts
    assert sorted(found) == pytest.approx(sorted(ANGLES[shape]))


@pytest.mark.parametrize(("shape", "IC_mm", "RE_mm"), CASES)
def test_corner_height_is_the_reach_of_the_cut_polygon(shape: str, IC_mm: float, RE_mm: float) -> None:
    normals = half_planes(shape)
    small = cut(IC_mm / 2.0 - RE_mm, normals)
    middle = radians((180.0 - ANGLES[shape][0]) / 2.0)  # the bisector of the first two sides
    way = (cos(middle), sin(middle))
    expected = reach(small, way, RE_mm) - IC_mm / 2.0
    if len(normals) % 2:  # gauged from the opposite side
        expected = reach(small, way, RE_mm) + reach(small, (-way[0], -way[1]), RE_mm)
    assert corner_height_mm(designations().shapes[shape], IC_mm, RE_mm) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("shape", "IC_mm", "RE_mm"), CASES)
def test_area_is_steiners_and_that_of_a_dense_outline(shape: str, IC_mm: float, RE_mm: float) -> None:
    table = designations().shapes[shape]
    small = cut(IC_mm / 2.0 - RE_mm, half_planes(shape))
    steiner = shoelace(small) + RE_mm * sum(sides(small)) + pi * RE_mm**2
    assert area_mm2(table, IC_mm, RE_mm) == pytest.approx(steiner, rel=1e-9)
    dense = outline(table, IC_mm, RE_mm).points(tolerance_mm=1e-6)
    assert shoelace(list(dense)) == pytest.approx(steiner, abs=1e-4)
    sharp = shoelace(cut(IC_mm / 2.0, half_planes(shape)))
    assert pi * IC_mm**2 / 4.0 < steiner <= sharp * (1 + 1e-12)


@pytest.mark.parametrize(("shape", "IC_mm", "RE_mm"), CASES)
def test_the_outline_is_convex_symmetric_and_touches_its_circle(
    shape: str, IC_mm: float, RE_mm: float
) -> None:
    drawn = list(outline(designations().shapes[shape], IC_mm, RE_mm).points())
    around = [*drawn, *drawn[:2]]
    for a, b, c in zip(around, around[1:], around[2:], strict=False):
        assert (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0  # left turns only: convex
    assert all(any(dist((-x, y), other) < 1e-9 for other in drawn) for x, y in drawn)  # mirrored on itself
    normals = half_planes(shape)
    back = radians(90.0 - (180.0 - ANGLES[shape][0]) / 2.0)  # turn the half-planes' first corner up
    for nx, ny in normals:
        way = (nx * cos(back) - ny * sin(back), nx * sin(back) + ny * cos(back))
        assert reach(drawn, way, 0.0) == pytest.approx(IC_mm / 2.0, abs=1e-9)  # each side touches the circle
    nearest = min(abs(p[0] * q[1] - q[0] * p[1]) / dist(p, q) for p, q in pairwise([*drawn, drawn[0]]))
    assert nearest == pytest.approx(IC_mm / 2.0, abs=0.006)  # and no chord cuts it by more than its flatness


def test_flattened_arcs_keep_their_tolerance() -> None:
    for tolerance_mm in (0.05, 0.005, 0.0005):
        ring = outline(designations().shapes["R"], 12.0, None).points(tolerance_mm)
        assert all(hypot(*p) == pytest.approx(6.0) for p in ring)
        middles = [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in pairwise([*ring, ring[0]])]
        assert 6.0 - tolerance_mm <= min(hypot(*m) for m in middles) < 6.0
    assert area_mm2(designations().shapes["R"], 12.0, 6.0) == pytest.approx(113.0973, abs=1e-4)
    assert corner_height_mm(designations().shapes["R"], 12.0, 6.0) is None


# code, edge length, m as printed
PRINTED = [
    # GOST 24248-80
    ("SNMG090304", 9.525, 1.808), ("SNMG090308", 9.525, 1.644), ("SNMG120404", 12.7, 2.465),
    ("SNMG120408", 12.7, 2.301), ("SNMG120412", 12.7, 2.137), ("SNMG150412", 15.875, 2.795),
    ("SNMG150416", 15.875, 2.630), ("SNMG150608", 15.875, 2.959), ("SNMG190612", 19.05, 3.452),
    ("SNMG190616", 19.05, 3.288), ("SNMG250724", 25.4, 4.274),
    # GOST 19057-80
    ("CNUA090304", 9.7, 2.425), ("CNUA090308", 9.7, 2.205), ("CNUA120404", 12.9, 3.307),
    ("CNUA120408", 12.9, 3.088), ("CNUA120412", 12.9, 2.867), ("CNUA160412", 16.1, 3.748),
    ("CNUA160416", 16.1, 3.528),
    # GOST 19046-80 and 24251-80
    ("TNUM160304", 16.5, 13.891), ("TNUM160308", 16.5, 13.494), ("TEGN110308", 11.0, 8.731),
    ("TEGN160308", 16.5, 13.494),
    # GOST 19067-80
    ("HNUA090408", 9.1, 1.106), ("HNGA090416", 9.1, 0.983), ("HNUA110412", 11.0, 1.290),
    ("HNGA110420", 11.0, 1.168), ("HNUA120612", 12.8, 1.534),
]  # fmt: skip


@pytest.mark.parametrize(("code", "edge_mm", "m_mm"), PRINTED)
def test_edges_and_corner_heights_are_those_in_print(code: str, edge_mm: float, m_mm: float) -> None:
    reading = decode(code)
    sizes = {measure.name: measure.value for measure in sketch(reading).measures}
    assert sizes["corner height m"] == pytest.approx(m_mm, abs=PRINTED_WITHIN_mm)
    # printed with one decimal; 9.165 as 9.1
    assert sizes["cutting edge, to the sharp corner"] == pytest.approx(edge_mm, abs=0.07)


def test_one_row_is_printed_for_the_rounded_radius() -> None:
    # GOST 24248-80 gives SNMG 250716 with m 4.598: 1.6 mm, where all other rows take 1/16 in
    square = designations().shapes["S"]
    assert corner_height_mm(square, 25.4, 1.6) == pytest.approx(4.598, abs=0.001)
    assert corner_height_mm(square, 25.4, true_radius_mm(25.4, 1.6)) == pytest.approx(4.603, abs=0.001)


def test_only_inch_inserts_have_radii_in_64ths() -> None:
    assert true_radius_mm(12.7, 0.8) == pytest.approx(25.4 / 32)
    assert true_radius_mm(3.96875, 0.4) == pytest.approx(25.4 / 64)
    assert true_radius_mm(12.7, 0.794) == pytest.approx(25.4 / 32)
    assert true_radius_mm(12.0, 0.8) == 0.8
    assert true_radius_mm(12.7, 1.0) == 1.0
    assert true_radius_mm(12.7, 0.0) == 0.0


def test_the_side_slopes_by_the_clearance() -> None:
    x0, y0, x1, y1 = bounds(side_view(9.525, 3.97, 7.0))
    assert (x1 - x0, y1, y0) == (9.525, 0.0, -3.97)
    seat = [x for x, y in side_view(9.525, 3.97, 7.0) if y < 0]
    # tan 7 deg = 0.12278 from a table of tangents
    assert max(seat) - min(seat) == pytest.approx(9.525 - 2 * 3.97 * 0.12278, abs=1e-3)
    assert len({x for x, _ in side_view(12.7, 4.76, 0.0)}) == 2


def test_a_nose_larger_than_the_insert_is_told_and_not_drawn() -> None:
    drawn = outline(designations().shapes["C"], 3.96875, 2.4)
    assert len(drawn.points()) == 4
    assert "does not go on" in drawn.notes[0]


def test_the_hull_of_a_star_is_its_points() -> None:
    star = [
        ((2.0 if n % 2 else 0.5) * cos(n * pi / 5), (2.0 if n % 2 else 0.5) * sin(n * pi / 5))
        for n in range(10)
    ]
    assert sorted(hull(star)) == sorted(star[1::2])


@pytest.mark.parametrize("code", ["APMT160408", "BNMX190408", "KNUX160405R11", "LNMX190408"])
def test_oblong_inserts_stay_open_where_the_code_is_silent(code: str) -> None:
    reading = decode(code)
    drawn = sketch(reading)
    (stroke,) = drawn.plan
    assert not stroke.closed
    first, last = stroke.points[0], stroke.points[-1]
    assert any("width is left open" in note for note in drawn.notes)
    # both sides run straight towards the sharp corner: their angle is the coded one
    u = (stroke.points[1][0] - first[0], stroke.points[1][1] - first[1])
    v = (stroke.points[-2][0] - last[0], stroke.points[-2][1] - last[1])
    angle = degrees(acos((u[0] * v[0] + u[1] * v[1]) / hypot(*u) / hypot(*v)))
    assert angle == pytest.approx(reading.EPSR_deg, abs=1e-6)  # type: ignore[union-attr]  # inserts have it
