"""The engaged edge against a brute-force picture of the cut, coded apart from it."""

from math import acos, cos, degrees, isfinite, radians, sin, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crib.errors import InputError
from crib.trade.cutting.edge import chip_area_mm2, engage

CASES = [
    # ap, f, r, kappa: long flank, nose only, both sides of 90°, coarse feed, round insert, shallow
    (1.0, 0.2, 0.8, 75.0),
    (1.0, 0.2, 0.8, 95.0),
    (2.5, 0.3, 0.4, 45.0),
    (0.2, 0.1, 0.8, 93.0),
    (0.84, 0.2, 0.8, 95.0),
    (3.0, 0.8, 1.6, 107.5),
    (1.5, 0.4, 6.0, 90.0),
    (0.05, 0.3, 1.2, 60.0),
]


def leading(v: float, r: float, kappa: float) -> float:
    """How far the tool's leading side reaches along the feed at height v above the finished surface."""
    top = r * (1.0 - cos(kappa))
    if v < top:
        return sqrt(v * (2.0 * r - v))
    return r * sin(kappa) + (v - top) / tan(kappa)


def swept_area(ap: float, f: float, r: float, kappa_deg: float, slices: int = 40_000) -> float:
    """Sum thin slices parallel to the feed between the profile and itself one feed earlier."""
    kappa, total = radians(kappa_deg), 0.0
    for i in range(slices):
        v = ap * (i + 0.5) / slices
        lead = leading(v, r, kappa)
        behind = -sqrt(v * (2.0 * r - v)) if v < r else -r
        total += lead - max(lead - f, behind)
    return total * ap / slices


def inside(u: float, v: float, r: float, kappa: float) -> bool:
    """Tell whether a point lies in the tool whose nose stands at u = 0."""
    if v < 0.0:
        return False
    behind = -sqrt(v * (2.0 * r - v)) if v < r else -r
    return behind <= u <= leading(v, r, kappa)


def marched_thickness(k: float, ap: float, f: float, r: float, kappa_deg: float) -> float:
    """Walk from the nose arc inwards until the pass before or the free surface is met."""
    kappa, step = radians(kappa_deg), 2e-5
    h = 0.0
    while h < r:
        u, v = (r - h) * sin(k), r - (r - h) * cos(k)
        if v > ap or inside(u + f, v, r, kappa):
            return h
        h += step
    return h


@pytest.mark.parametrize(("ap", "f", "r", "kappa"), CASES)
def test_area_is_that_of_the_swept_profile(ap: float, f: float, r: float, kappa: float) -> None:
    edge = engage(ap, f, r, kappa)
    swept = swept_area(ap, f, r, kappa)
    assert edge.area_mm2 == pytest.approx(swept, rel=2e-4)
    assert sum(piece.h_mm * piece.db_mm for piece in edge.pieces) == pytest.approx(swept, rel=5e-4)


@pytest.mark.parametrize(("ap", "f", "r", "kappa"), CASES)
def test_thickness_on_the_arc_is_that_of_a_walk_along_the_normal(
    ap: float, f: float, r: float, kappa: float
) -> None:
    pieces = engage(ap, f, r, kappa).pieces[:-1]  # the last is the flank or the rest of the end
    assert len(pieces) >= 8
    for piece in pieces:
        walked = marched_thickness(piece.kappa_rad, ap, f, r, kappa)
        assert piece.h_mm == pytest.approx(walked, abs=1e-4)


@pytest.mark.parametrize("kappa", [30.0, 45.0, 60.0, 90.0, 95.0, 117.0])
def test_sharp_corner_gives_the_book_chip(kappa: float) -> None:
    # ISO 3002-3: h = f sin kappa, b = ap / sin kappa
    (piece,) = engage(2.0, 0.25, 0.0, kappa).pieces
    assert piece.h_mm == pytest.approx(0.25 * sin(radians(kappa)))
    assert piece.db_mm == pytest.approx(2.0 / sin(radians(kappa)))
    assert degrees(engage(2.0, 0.25, 0.0, kappa).chord_angle_rad) == pytest.approx(kappa)


def test_engaged_length_of_the_textbook_formula() -> None:
    # Woxén's engaged length (ap - r(1 - cos k)) / sin k + r k + f/2: 2.604 mm at ap 2, f 0.2, r 0.8, 75°
    assert engage(2.0, 0.2, 0.8, 75.0).length_mm == pytest.approx(2.604, abs=0.002)


def test_greatest_thickness_of_a_round_insert() -> None:
    # h_max = f sqrt(4 ap/d - (2 ap/d)²), as reproduced in makers' guides to heat-resistant alloys; it
    # measures along the feed's normal, so it holds for a feed small against the diameter
    ap, f, d = 1.5, 0.05, 12.0
    book = f * sqrt(4 * ap / d - (2 * ap / d) ** 2)
    assert engage(ap, f, d / 2, 90.0).h_max_mm == pytest.approx(book, rel=0.05)


def test_below_the_nose_every_entering_angle_is_the_same_cut() -> None:
    ap, f, r = 0.2, 0.1, 0.8
    assert degrees(acos(1 - ap / r)) < 42
    cuts = [engage(ap, f, r, kappa) for kappa in (45.0, 60.0, 75.0, 90.0, 95.0, 107.5)]
    assert all(cut.nose_only for cut in cuts)
    assert len({(cut.pieces, cut.chord_angle_rad, cut.length_mm) for cut in cuts}) == 1


def test_passing_from_nose_to_flank_makes_no_jump() -> None:
    for kappa in (60.0, 95.0):
        knee = 0.8 * (1 - cos(radians(kappa)))
        below, above = engage(knee - 1e-7, 0.2, 0.8, kappa), engage(knee + 1e-7, 0.2, 0.8, kappa)
        assert below.area_mm2 == pytest.approx(above.area_mm2, rel=1e-5)
        assert below.length_mm == pytest.approx(above.length_mm, rel=1e-5)
        assert below.chord_angle_rad == pytest.approx(above.chord_angle_rad, rel=1e-5)


def test_quadrature_holds_against_many_more_pieces() -> None:
    # the integral that forces hang on, the sum of h^0.74 db cos kappa, with 4000 plain steps
    ap, f, r = 0.9, 0.2, 1.2
    edge = engage(ap, f, r, 95.0)
    coarse = sum(p.h_mm**0.74 * p.db_mm * cos(p.kappa_rad) for p in edge.pieces)
    low, high, steps, fine = -0.0834303, acos(1 - ap / r), 4000, 0.0
    for i in range(steps):
        k = low + (high - low) * (i + 0.5) / steps
        rho = -f * sin(k) + sqrt(r * r - (f * cos(k)) ** 2)
        rho = min(max(rho, (r - ap) / cos(k)), r)
        fine += (r - rho) ** 0.74 * (r + rho) / 2 * cos(k) * (high - low) / steps
    assert coarse == pytest.approx(fine, rel=1e-3)


@given(
    ap=st.floats(0.01, 15.0),
    f=st.floats(0.01, 2.0),
    r=st.floats(0.0, 16.0),
    kappa=st.floats(30.0, 117.0),
)
@settings(max_examples=300, deadline=None)
def test_every_sane_cut_is_whole(ap: float, f: float, r: float, kappa: float) -> None:
    edge = engage(ap, f, r, kappa)
    assert all(isfinite(x) and x >= 0.0 for p in edge.pieces for x in (p.h_mm, p.db_mm, p.dl_mm, p.dA_mm2))
    # a feed about as large as the nose bends the chip's inner side sharply; no nose stands such a feed
    close = 4e-2 if r and 0.8 < f / r < 1.2 else 2e-3
    assert sum(p.h_mm * p.db_mm for p in edge.pieces) == pytest.approx(edge.area_mm2, rel=close)
    assert 0.0 < edge.area_mm2 <= f * ap * (1 + 1e-9)
    assert edge.area_mm2 == chip_area_mm2(ap, f, r)
    assert 0.0 < edge.h_max_mm <= f * (1 + 1e-9)
    assert edge.length_mm > 0.0


@pytest.mark.parametrize(
    ("cut", "word"),
    [
        ((0.0, 0.2, 0.8, 95.0), "depth"),
        ((1.0, -0.1, 0.8, 95.0), "feed"),
        ((1.0, float("nan"), 0.8, 95.0), "feed"),
        ((1.0, 0.2, -0.4, 95.0), "nose radius"),
        ((1.0, 0.2, 0.8, 0.0), "entering angle"),
        ((1.0, 0.2, 0.8, 180.0), "entering angle"),
    ],
)
def test_a_cut_that_cannot_be_is_named(cut: tuple[float, float, float, float], word: str) -> None:
    with pytest.raises(InputError, match=word):
        engage(*cut)
