import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import InputError
from crib.trade.cutting.spindle import (
    MachineSpeeds,
    cutting_speed,
    nearest_feed_not_above,
    nearest_not_above,
    spindle_speed,
)

CHART = MachineSpeeds(steps=(30, 47, 75, 117, 185, 290, 460, 725))
diameters = st.floats(0.5, 5000)
speeds = st.floats(0.1, 3000)


@given(speeds, diameters, diameters)
def test_the_spindle_slows_as_the_diameter_grows(vc: float, a: float, b: float) -> None:
    small, large = sorted((a, b))
    assert spindle_speed(vc, large) <= spindle_speed(vc, small)


@given(speeds, diameters)
def test_there_and_back(vc: float, d: float) -> None:
    assert cutting_speed(spindle_speed(vc, d), d) == pytest.approx(vc)


@given(st.floats(1, 2000))
def test_the_chosen_step_is_the_last_one_not_above(n: float) -> None:
    chosen = nearest_not_above(n, CHART)
    if chosen.too_high:
        assert n < 30
        assert chosen.value == 30
        assert "30 rev/min" in chosen.note
    else:
        assert chosen.value <= n * (1 + 1e-9)
        assert all(step <= chosen.value or step > n for step in CHART.steps)
        assert chosen.note == ""


def test_exactly_a_step_is_that_step() -> None:
    for step in CHART.steps:
        assert nearest_not_above(spindle_speed(cutting_speed(step, 415.9), 415.9), CHART).value == step


def test_a_stepless_drive_gives_what_is_asked_within_its_range() -> None:
    drive = MachineSpeeds(low=40, high=1600)
    assert [nearest_not_above(n, drive).value for n in (40, 333, 2000)] == [40, 333, 1600]
    slow = nearest_not_above(25, drive)
    assert (slow.value, slow.too_high) == (40, True)


def test_feeds_likewise() -> None:
    feeds = MachineSpeeds(steps=(0.05, 0.1, 0.2, 0.4))
    assert nearest_feed_not_above(0.25, feeds).value == 0.2
    assert "mm/rev" in nearest_feed_not_above(0.01, feeds).note


@pytest.mark.parametrize(
    "given_", [{}, {"steps": (0,)}, {"low": 5}, {"low": 9, "high": 3}, {"steps": (5,), "low": 1, "high": 2}]
)
def test_a_machine_that_cannot_be(given_: dict) -> None:  # type: ignore[type-arg]
    with pytest.raises(InputError):
        MachineSpeeds(**given_)


@pytest.mark.parametrize("bad", [0, -3, float("nan"), float("inf")])
def test_impossible_numbers(bad: float) -> None:
    for question in (
        lambda: spindle_speed(100, bad),
        lambda: spindle_speed(bad, 100),
        lambda: cutting_speed(bad, 100),
        lambda: nearest_not_above(bad, CHART),
    ):
        with pytest.raises(InputError):
            question()
