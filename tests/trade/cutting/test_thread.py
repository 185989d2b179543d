"""Threads in even cuts."""

from itertools import pairwise
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import InputError
from crib.trade import tables
from crib.trade.cutting.thread import (
    external_depth_mm,
    internal_depth_mm,
    thread_feed_mm,
    thread_passes,
    thread_warnings,
    usual_passes,
)


@given(st.floats(0.1, 6), st.integers(2, 60))
def test_passes_reach_the_depth_and_each_takes_less(depth: float, count: int) -> None:
    plan = thread_passes(depth, count)
    assert len(plan) == count
    assert plan[-1].depth_mm == pytest.approx(depth)
    assert sum(one.ap_mm for one in plan) == pytest.approx(depth)
    assert all(one.ap_mm > 0 for one in plan)
    later = [one.ap_mm for one in plan[1:]]
    assert later == sorted(later, reverse=True)


def test_from_the_second_pass_on_the_area_is_even() -> None:
    # a 60° groove of depth a has the area a² tan 30°: equal steps of a²
    plan = thread_passes(1.2, 7)
    steps = [b.depth_mm**2 - a.depth_mm**2 for a, b in pairwise(plan[1:])]
    assert steps == pytest.approx([1.2**2 / 6] * 5)


def test_depths_of_the_basic_profile() -> None:
    # ISO 68-1: H = sqrt(3)/2 P; external root 17/24 H (rounded), internal 5/8 H
    assert external_depth_mm(1) == pytest.approx(0.6134, abs=5e-5)
    assert internal_depth_mm(1) == pytest.approx(0.5413, abs=5e-5)
    assert internal_depth_mm(2) == pytest.approx(5 / 8 * sqrt(3))


def test_usual_number_of_passes() -> None:
    assert usual_passes(1.5, tables.rows) == (6, 8, "thread_count")
    assert usual_passes(1.6, tables.rows)[:2] == (8, 10)  # the next coarser printed one
    with pytest.raises(InputError, match="coarser"):
        usual_passes(12, tables.rows)


def test_warnings() -> None:
    assert thread_warnings(thread_passes(0.94, 6)) == ()
    assert "more passes" in thread_warnings(thread_passes(3.0, 6))[0]
    assert "fewer passes" in thread_warnings(thread_passes(0.6, 40))[0]


@pytest.mark.parametrize(
    "question",
    [
        lambda: thread_passes(1, 1),
        lambda: thread_passes(0, 5),
        lambda: thread_feed_mm(1, 0),
        lambda: external_depth_mm(-1),
    ],
)
def test_impossible_numbers(question: object) -> None:
    with pytest.raises(InputError):
        question()  # type: ignore[operator]
