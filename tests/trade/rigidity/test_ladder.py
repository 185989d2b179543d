"""Sums behind the ladder of changes."""

from math import inf

import pytest

from crib.errors import InputError
from crib.trade.rigidity.chatter import margin
from crib.trade.rigidity.ladder import gain, in_series, times_stiffer


def test_times_stiffer_is_what_brings_the_margin_to_one() -> None:
    now = margin(8000.0, 0.025, 1400.0)
    assert now < 1
    times = times_stiffer(now)
    assert margin(8000.0 * times, 0.025, 1400.0) == pytest.approx(1.0)
    assert margin(8000.0 * times_stiffer(now, 1.5), 0.025, 1400.0) == pytest.approx(1.5)
    assert times_stiffer(2.0) == 1.0
    assert times_stiffer(inf) == 1.0


def test_parts_in_series_are_softer_than_the_softest() -> None:
    assert in_series(10.0, 10.0) == pytest.approx(5.0)
    assert in_series(1000.0, 3000.0, 6000.0) == pytest.approx(1 / (1 / 1000 + 1 / 3000 + 1 / 6000))


def test_gain_is_the_ratio_of_margins() -> None:
    assert gain(0.5, 1.5) == 3.0
    assert gain(0.5, inf) == inf
    assert gain(inf, inf) == 1.0
    assert gain(inf, 2.0) == 0.0


def test_figures_that_cannot_be_are_named() -> None:
    for call in (lambda: in_series(5.0, -1.0), lambda: times_stiffer(0.0)):
        with pytest.raises(InputError):
            call()
