"""The uncut chip, thinning, and what is said against a feed."""

from math import radians, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from mechanics import tool

from crib.errors import InputError, TableError
from crib.trade import tables
from crib.trade.cutting.chip import ChipRules, chip, chip_flags, feed_for_chip_mm, least_feed, smallest_chip

RULES = ChipRules.load(tables.rows("chip_rules"))


def test_straight_edge() -> None:
    # ISO 3002-3: h = f sin(kappa), b = ap / sin(kappa), area f ap
    one = chip(3.0, 0.4, 0.0, 45.0)
    assert one.h_max_mm == pytest.approx(0.4 * sin(radians(45)))
    assert one.b_mm == pytest.approx(3.0 / sin(radians(45)))
    assert one.h_mean_mm == pytest.approx(one.h_max_mm)
    assert one.he_mm == pytest.approx(one.h_max_mm)


def test_equivalent_thickness_by_hand() -> None:
    # Woxen, the contact length as in textbooks: (ap - r (1 - cos k)) / sin k + r k + f / 2
    # ap 2, f 0.2, r 0.8, k 75 deg: 2.604 mm, 0.1536 mm
    one = chip(2.0, 0.2, 0.8, 75.0)
    assert one.b_mm == pytest.approx(2.604, abs=0.0015)
    assert one.he_mm == pytest.approx(0.1536, abs=0.0001)


@pytest.mark.parametrize(("ap", "d"), [(1.0, 12.0), (3.0, 12.0), (0.5, 25.4), (6.0, 12.0)])
def test_round_insert_thins_the_chip(ap: float, d: float) -> None:
    # makers' technical guides: h = f sqrt(4 ap / d - (2 ap / d)^2) up to half the diameter
    assert chip(ap, 0.3, d / 2, 90.0).h_max_mm == pytest.approx(
        0.3 * sqrt(4 * ap / d - (2 * ap / d) ** 2), rel=1e-9
    )


@given(st.floats(0.05, 6), st.floats(0.05, 0.6), st.floats(0, 2), st.floats(30, 110))
def test_no_part_is_thicker_than_the_textbook_says_and_feed_comes_back(
    ap: float, f: float, r: float, kappa: float
) -> None:
    one = chip(ap, f, r, kappa)
    assert 0 < one.h_max_mm <= f * (1 + 1e-12)
    if f < r or r == 0.0:
        assert one.h_mean_mm <= one.h_max_mm * 1.001
    assert feed_for_chip_mm(one.h_max_mm, ap, r, kappa) == pytest.approx(f)


def test_past_the_nose_depth_changes_nothing_and_within_it_all() -> None:
    assert chip(1.0, 0.2, 0.8, 75.0).thinning == chip(4.0, 0.2, 0.8, 75.0).thinning
    assert chip(0.1, 0.2, 0.8, 75.0).thinning < chip(0.2, 0.2, 0.8, 75.0).thinning
    assert chip(0.1, 0.2, 0.8, 75.0).nose_only


def test_smallest_chip_and_least_feed() -> None:
    least = smallest_chip(40, "P", RULES)
    assert (least.low_mm, least.high_mm) == (pytest.approx(0.008), pytest.approx(0.014))
    assert smallest_chip(40, "N", RULES).high_mm == pytest.approx(0.008)
    assert smallest_chip(40, "S", RULES).source == "chip_least"
    feed = least_feed(40, 2.0, 0.0, 30.0, RULES)  # sin 30 = 1/2: twice the rounding
    assert (feed.low_mm, feed.high_mm) == (pytest.approx(0.08), pytest.approx(0.12))


def words(ap: float, f: float, **changes: float) -> list[str]:
    return [flag.word for flag in chip_flags(ap, f, tool(**changes), "P", RULES)]


def test_flags() -> None:
    assert words(2.0, 0.2) == []
    assert words(2.0, 0.01, hone_um=60) == ["rubs"]
    assert words(2.0, 0.015, hone_um=60) == ["may rub"]
    assert words(0.01, 0.05, hone_um=60) == ["rubs"]  # a fine feed on a nose that the depth hardly enters
    assert words(2.0, 0.1, land_mm=0.2, land_rake_deg=-10.0) == ["land wider than feed"]
    assert words(2.0, 0.5) == ["feed above half the nose"]
    assert words(2.0, 0.5, RE_mm=0.0) == []  # a sharp corner has no nose to speak of
    (flag,) = chip_flags(2.0, 0.5, tool(), "P", RULES)
    assert "62%" in flag.why
    assert flag.source in tables.sources()


def test_what_cannot_be() -> None:
    with pytest.raises(InputError, match="chip thickness of 0"):
        feed_for_chip_mm(0, 1, 0.8, 90)
    with pytest.raises(InputError, match="entering angle 0"):
        feed_for_chip_mm(0.1, 1, 0.8, 0)
    with pytest.raises(InputError):
        chip(1, 0, 0.8, 90)
    with pytest.raises(TableError, match="no such"):
        RULES.of("no such")
