"""The closed forms against the profile itself, drawn point by point."""

from math import cos, radians, sin, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crib.errors import InputError, NotPossible
from crib.trade import tables
from crib.trade.cutting.finish import feed_ceiling, feed_for_Ra_mm, minor_edge_deg, roughness

POINTS = 4000


def side(x: float, r: float, k: float) -> float:
    """Height of one side of the corner at distance x from its lowest point."""
    if x <= r * sin(k):
        return r - sqrt(r * r - x * x)
    return r * (1 - cos(k)) + (x - r * sin(k)) * tan(k) if k < radians(89.99) else float("inf")


def drawn(f: float, r: float, major: float, minor: float) -> tuple[float, float]:
    """Rz and Ra in micrometres of the envelope of two neighbouring turns, by brute force."""
    k, k1 = radians(major), radians(minor)
    heights = []
    for i in range(POINTS):
        x = (i + 0.5) / POINTS * f
        heights.append(min(side(x, r, k), side(f - x, r, k1)))
    mean = sum(heights) / POINTS
    return max(heights) * 1000, sum(abs(h - mean) for h in heights) / POINTS * 1000


@settings(max_examples=60, deadline=None)
@given(st.floats(0.02, 1.2), st.floats(0.05, 3), st.floats(5, 89), st.floats(2, 89))
def test_closed_forms_match_the_drawn_profile(f: float, r: float, major: float, minor: float) -> None:
    ours = roughness(f, r, major, minor)
    height, mean = drawn(f, r, major, minor)
    assert ours.Rz_um == pytest.approx(height, rel=0.02)
    assert ours.Ra_um == pytest.approx(mean, rel=0.02)


@pytest.mark.parametrize(
    ("given_", "Rz", "made_by"),
    [
        ((0.2, 0.8, 90, 5), 5.93, "arc and minor edge"),
        ((0.2, 0.8, 90, 30), 6.27, "arc"),
        ((0.5, 0.4, 75, 15), 62.4, "arc and minor edge"),
        ((1.0, 0.2, 60, 20), 255.4, "both edges"),
        ((0.5, 0.4, 15, 75), 62.4, "arc and major edge"),
    ],
)
def test_each_regime(given_: tuple[float, float, float, float], Rz: float, made_by: str) -> None:
    ours = roughness(*given_)
    assert ours.made_by == made_by
    assert ours.Rz_um == pytest.approx(Rz, rel=1e-3)


def test_the_overhang_of_a_major_edge_leaves_no_trace() -> None:
    assert roughness(0.2, 0.8, 95, 5) == roughness(0.2, 0.8, 90, 5)


@given(st.floats(0.02, 1.0), st.floats(0.1, 2.4), st.floats(30, 95), st.floats(2, 60))
def test_more_feed_is_never_smoother(f: float, r: float, major: float, minor: float) -> None:
    assert roughness(f * 1.1, r, major, minor).Rz_um >= roughness(f, r, major, minor).Rz_um
    assert roughness(f * 1.1, r, major, minor).Ra_um >= roughness(f, r, major, minor).Ra_um * (1 - 1e-9)


@given(st.floats(0.1, 20), st.floats(0.1, 2.4), st.floats(45, 95), st.floats(2, 45))
def test_the_feed_for_a_roughness_gives_that_roughness(
    Ra: float, r: float, major: float, minor: float
) -> None:
    assert roughness(feed_for_Ra_mm(Ra, r, major, minor), r, major, minor).Ra_um == pytest.approx(
        Ra, rel=1e-6
    )


def test_the_feed_never_outgrows_the_corner() -> None:
    assert feed_for_Ra_mm(5000, 0.8) == 1.6
    # the shop formula f = sqrt(Ra RE / 0.0321), Ra in mm
    assert feed_for_Ra_mm(1.6, 0.8) == pytest.approx(sqrt(0.0016 * 0.8 / 0.0321), rel=2e-3)


def test_angle_of_the_minor_edge() -> None:
    assert minor_edge_deg(80, 95) == 5
    assert minor_edge_deg(55, 93) == 32
    with pytest.raises(NotPossible, match="would rub"):
        minor_edge_deg(90, 95)


def test_an_edge_along_the_work_leaves_nothing() -> None:
    assert roughness(0.3, 0.8, 90, 0).Rz_um == 0
    with pytest.raises(InputError):
        feed_for_Ra_mm(1.6, 0.8, 90, 0)


@pytest.mark.parametrize(
    "given_",
    [(0, 0.8), (-1, 0.8), (0.2, -0.1), (0.2, 0.8, 200, 5), (0.2, 0.8, 90, -5), (0.2, 0.0), (3.0, 0.8)],
)
def test_corners_that_cannot_be(given_: tuple[float, ...]) -> None:
    with pytest.raises(InputError):
        roughness(*given_)


def test_feed_ceilings() -> None:
    assert feed_ceiling("C", 0.8, "rough", tables.rows).f_mm == pytest.approx(0.5)
    assert feed_ceiling("T", 0.8, "rough", tables.rows).f_mm == pytest.approx(0.32)
    assert feed_ceiling("C", 0.8, "finish", tables.rows).f_mm == pytest.approx(0.4)
    assert feed_ceiling("W", 1.2, "rough", tables.rows).of_RE == 0.5
    for row in tables.rows("feed_limits"):
        assert float(row["rough_of_RE"]) <= 1
    with pytest.raises(InputError):
        feed_ceiling("C", 0, "rough", tables.rows)
