"""Minutes of facing and turning at a held speed, against sums turn by turn."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import InputError
from crib.trade.cutting.times import facing_minutes, facing_minutes_at_speed, turning_minutes_at_speed


def summed(R: float, r: float, f: float, vc: float, n_most: float, steps: int = 20_000) -> float:
    """Add up the turns of a face in thin rings, each at its own spindle speed."""
    ring = (R - r) / steps
    total = 0.0
    for i in range(steps):
        radius = r + (i + 0.5) * ring
        n = min(1000 * vc / (2 * pi * radius), n_most)
        total += ring / (f * n)
    return total


@pytest.mark.parametrize(
    ("D", "d", "f", "vc", "n_most"),
    [(300, 0, 0.25, 120, 1200), (300, 100, 0.25, 120, 1200), (50, 0, 0.1, 200, 500), (300, 280, 0.3, 50, 20)],
)
def test_facing_with_a_cap_is_the_sum_of_its_rings(
    D: float, d: float, f: float, vc: float, n_most: float
) -> None:
    ours = facing_minutes_at_speed(D, d, f, vc, n_most)
    assert ours == pytest.approx(summed(D / 2, d / 2, f, vc, n_most), rel=1e-6)
    assert ours == facing_minutes_at_speed(d, D, f, vc, n_most)  # outwards takes as long


@given(st.floats(10, 1000), st.floats(0, 0.9), st.floats(0.05, 1), st.floats(10, 400), st.floats(20, 3000))
def test_a_cap_never_saves_time(D: float, part: float, f: float, vc: float, n_most: float) -> None:
    capped = facing_minutes_at_speed(D, part * D, f, vc, n_most)
    assert capped >= facing_minutes_at_speed(D, part * D, f, vc, 10 * n_most) * (1 - 1e-12)
    assert capped >= facing_minutes(D, part * D, f, n_most) * (1 - 1e-12)  # nor beats the cap all the way


def test_held_cutting_speed_without_a_cap() -> None:
    # textbooks: T = pi (D1² - D2²) / (4000 f vc)
    assert facing_minutes_at_speed(200, 100, 0.2, 150, 1e9) == pytest.approx(
        pi * (200**2 - 100**2) / (4000 * 0.2 * 150)
    )


def test_held_spindle_speed() -> None:
    assert facing_minutes(200, 0, 0.2, 250) == 2.0
    assert turning_minutes_at_speed(100 / pi, 50, 0.1, 10) == pytest.approx(5.0)


@pytest.mark.parametrize(
    "question",
    [
        lambda: facing_minutes(100, 100, 0.2, 100),
        lambda: facing_minutes(-1, 100, 0.2, 100),
        lambda: facing_minutes_at_speed(100, 0, 0, 100, 100),
        lambda: turning_minutes_at_speed(100, 10, 0.1, 0),
    ],
)
def test_impossible_numbers(question: object) -> None:
    with pytest.raises(InputError):
        question()  # type: ignore[operator]
