from itertools import pairwise
from math import ceil

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from crib.errors import InputError
from crib.trade import tables
from crib.trade.cutting.passes import (
    Pass,
    ceiling,
    deepest_within,
    depth_limit,
    pass_minutes,
    passes_by_step,
    plan_passes,
    with_minutes,
)

sizes = st.floats(1, 2000)
depths = st.floats(0.05, 20)


def whole(plan: tuple[Pass, ...], start: float, end: float, on_diameter: bool) -> None:
    assert plan[0].from_mm == start
    assert plan[-1].to_mm == end  # exactly on size
    assert [one.number for one in plan] == list(range(1, len(plan) + 1))
    for before, after in pairwise(plan):
        assert before.to_mm == after.from_mm
    for one in plan:
        change = abs(one.from_mm - one.to_mm) / (2 if on_diameter else 1)
        assert one.ap_mm == pytest.approx(change, abs=1e-6)
        assert (one.to_mm > one.from_mm) == (end > start)


@given(sizes, sizes, depths, st.floats(0, 2), st.floats(0, 1), st.booleans())
def test_passes_end_on_size_and_none_is_too_deep(
    start: float, end: float, ap: float, finish: float, least: float, on_diameter: bool
) -> None:
    assume(abs(start - end) > 1e-3)
    assume(abs(start - end) / ap < 5000)
    plan = plan_passes(
        start, end, max_ap_mm=ap, finish_ap_mm=finish, least_ap_mm=least, on_diameter=on_diameter
    )
    whole(plan, start, end, on_diameter)
    assert all(one.ap_mm <= ap * (1 + 1e-6) for one in plan)
    assert [one.kind for one in plan[:-1]] == ["rough"] * (len(plan) - 1)
    rough = [one.ap_mm for one in plan if one.kind == "rough"]
    assert not rough or max(rough) == pytest.approx(min(rough))
    stock = abs(start - end) / (2 if on_diameter else 1)
    assert len(plan) <= ceil(stock / ap) + 1


@given(sizes, sizes, depths, st.booleans())
def test_given_steps_end_on_size(start: float, end: float, step: float, on_diameter: bool) -> None:
    assume(abs(start - end) > 1e-3)
    assume(abs(start - end) / step < 5000)
    plan = passes_by_step(start, end, step_mm=step, on_diameter=on_diameter)
    whole(plan, start, end, on_diameter)
    depth = step / 2 if on_diameter else step
    assert all(one.ap_mm == pytest.approx(depth) for one in plan[:-1])
    assert plan[-1].ap_mm <= depth * (1 + 1e-6)


@given(sizes, sizes, depths, st.booleans())
def test_the_odd_bit_may_come_first(start: float, end: float, step: float, on_diameter: bool) -> None:
    assume(abs(start - end) > 1e-3)
    assume(abs(start - end) / step < 5000)
    plan = passes_by_step(start, end, step_mm=step, on_diameter=on_diameter, odd_first=True)
    whole(plan, start, end, on_diameter)
    depth = step / 2 if on_diameter else step
    assert all(one.ap_mm == pytest.approx(depth) for one in plan[1:])
    assert plan[0].ap_mm <= depth * (1 + 1e-6)


@given(st.integers(64, 64 * 30), st.integers(64, 64 * 30), st.sampled_from([1, 2, 4, 8, 16]))
def test_steps_in_fractions_land_on_fractions(start: int, end: int, step: int) -> None:
    # 64ths of an inch: sizes come out as the very floats of their fractions, not near them
    assume(start != end)
    plan = passes_by_step(start / 64 * 25.4, end / 64 * 25.4, step_mm=step / 64 * 25.4)
    fractions = {number / 64 * 25.4 for number in range(64 * 32)}
    assert all(one.to_mm in fractions for one in plan)


def test_from_an_odd_size_a_sixteenth_at_a_time_can_land_on_the_sixteenths() -> None:
    # 410.3 mm is 16.1535 in: clean up to 16 3/16 first, then by sixteenths to 16 1/2
    plan = passes_by_step(410.3, 16.5 * 25.4, step_mm=25.4 / 16, odd_first=True)
    assert [one.to_mm / 25.4 for one in plan] == [16.1875, 16.25, 16.3125, 16.375, 16.4375, 16.5]


def test_stop_and_measure_while_there_is_something_left() -> None:
    plan = plan_passes(100, 110, max_ap_mm=2, finish_ap_mm=0.5)
    assert [one.measure for one in plan] == [True, True, True, False]
    again = plan_passes(100, 110, max_ap_mm=2, finish_ap_mm=0.5, spring=True)
    assert [(one.kind, one.measure) for one in again[-2:]] == [("finish", True), ("spring", False)]
    assert (again[-1].from_mm, again[-1].to_mm, again[-1].ap_mm) == (110, 110, 0.0)
    assert again[:-2] == plan[:-1]
    assert passes_by_step(50, 48, step_mm=1, spring=True)[-1].kind == "spring"
    timed = with_minutes(again, 100, rough=(0.25, 200), finish=(0.1, 400))
    assert timed[-1].minutes == timed[-2].minutes == 2.5


def test_the_least_limit_sets_the_depth() -> None:
    found = ceiling({"edge": 4.0, "power": 2.5, "pressure": None, "margin": 3.0})
    assert (found.ap_mm, found.by) == (2.5, "power")
    with pytest.raises(InputError, match="no limit"):
        ceiling({"edge": None})
    with pytest.raises(InputError, match="power allows"):
        ceiling({"power": 0.0})


def test_deepest_cut_within_a_load() -> None:
    assert deepest_within(9.0, lambda ap: ap**2, 10.0) == pytest.approx(3.0)
    assert deepest_within(9.0, lambda ap: ap**2, 2.0) == 2.0
    assert deepest_within(9.0, lambda ap: 10.0 + ap, 5.0) is None


def test_a_bore_grows_with_a_finishing_pass() -> None:
    plan = plan_passes(100, 110, max_ap_mm=2, finish_ap_mm=0.5)
    assert [(one.from_mm, one.to_mm, one.kind) for one in plan] == [
        (100, 103, "rough"),
        (103, 106, "rough"),
        (106, 109, "rough"),
        (109, 110, "finish"),
    ]


def test_a_thin_remainder_goes_with_the_finish() -> None:
    assert [one.ap_mm for one in plan_passes(50, 49.2, max_ap_mm=2, finish_ap_mm=0.3, least_ap_mm=0.2)] == [
        pytest.approx(0.4)
    ]


def test_facing_by_length() -> None:
    plan = plan_passes(52, 50, max_ap_mm=1.5, finish_ap_mm=0.25, on_diameter=False)
    assert [one.ap_mm for one in plan] == [pytest.approx(0.875), pytest.approx(0.875), pytest.approx(0.25)]


def test_minutes() -> None:
    plan = with_minutes(
        plan_passes(60, 50, max_ap_mm=3, finish_ap_mm=0.5), 100, rough=(0.25, 200), finish=(0.1, 400)
    )
    assert [one.minutes for one in plan] == [2.0, 2.0, 2.5]
    assert pass_minutes(100, 0.25, 200) == 2.0


@pytest.mark.parametrize(
    "question",
    [
        lambda: plan_passes(50, 50, max_ap_mm=1),
        lambda: plan_passes(-1, 50, max_ap_mm=1),
        lambda: plan_passes(50, 40, max_ap_mm=0),
        lambda: plan_passes(50, 40, max_ap_mm=1, finish_ap_mm=-1),
        lambda: plan_passes(5000, 1, max_ap_mm=1e-6),
        lambda: plan_passes(float("nan"), 1, max_ap_mm=1),
        lambda: passes_by_step(50, 40, step_mm=0),
        lambda: pass_minutes(100, 0, 100),
        lambda: depth_limit("C", 0, tables.rows),
    ],
)
def test_impossible_numbers(question: object) -> None:
    with pytest.raises(InputError):
        question()  # type: ignore[operator]


def test_depth_limits_follow_the_edge() -> None:
    limit = depth_limit("C", 12.9, tables.rows)
    assert limit is not None
    assert limit.ap_mm == pytest.approx(0.667 * 12.9)
    wide = depth_limit("W", 8.7, tables.rows)
    assert wide is not None
    assert (wide.ap_mm, wide.ap_most_mm) == (pytest.approx(8.7 / 4), pytest.approx(8.7 / 2))
    half = depth_limit("C", 12.9, tables.rows, interrupted=True)
    assert half is not None
    assert half.ap_mm == pytest.approx(limit.ap_mm / 2)
    assert depth_limit("Z", 10, tables.rows) is None
