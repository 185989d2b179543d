"""Regenerative stiffness, margin, limit depth and lobes: what must hold whatever the figures."""

from math import asin, atan2, cos, inf, isfinite, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mechanics import GIVES, MODEL, RULES, STEEL, tool
from scipy.optimize import brentq

from crib.errors import InputError
from crib.trade.cutting.tool import CuttingTool
from crib.trade.rigidity.chatter import (
    allowed_at_speed,
    allowed_stiffness,
    chatter_frequency,
    limit_depth,
    lobe_use,
    lobes,
    margin,
    pocket,
    process_damping_speed,
    regenerative_stiffness,
    straight_limit,
    wave_length,
)


def stiffness(one: CuttingTool, ap: float, f: float = 0.2, gives: str = "away") -> float:
    return regenerative_stiffness(ap, f, one, STEEL, gives=GIVES[gives], model=MODEL)


def limit(
    one: CuttingTool, k: float, gives: str = "away", f: float = 0.2, reach: float = 10.0
) -> float | None:
    return limit_depth(
        f,
        one,
        STEEL,
        gives=GIVES[gives],
        k_N_mm=k,
        damping_ratio=0.03,
        model=MODEL,
        ap_max_mm=reach,
    )


@pytest.mark.parametrize(
    ("gives", "kappa"), [("away", 45.0), ("away", 75.0), ("along", 90.0), ("along", 60.0)]
)
def test_straight_edge_and_one_direction_give_the_textbook_limit(gives: str, kappa: float) -> None:
    sharp = tool(RE_mm=0.0, KAPR_deg=kappa)
    Ks_N_mm2 = stiffness(sharp, 1.0, gives=gives)  # of 1 mm depth: the textbook's Ks mu, per mm of depth
    assert stiffness(sharp, 3.0, gives=gives) == pytest.approx(3 * Ks_N_mm2)
    assert limit(sharp, 5000.0, gives) == pytest.approx(straight_limit(5000.0, 0.03, Ks_N_mm2), rel=1e-6)


def test_a_stiffer_support_raises_the_limit_in_proportion() -> None:
    sharp = tool(RE_mm=0.0, KAPR_deg=60.0)
    one, three = limit(sharp, 2000.0), limit(sharp, 6000.0)
    assert one is not None
    assert three == pytest.approx(3 * one, rel=1e-6)
    assert margin(6000.0, 0.03, 1400.0) == pytest.approx(3 * margin(2000.0, 0.03, 1400.0))


@pytest.mark.parametrize("k", [3000.0, 8000.0, 15000.0])
@pytest.mark.parametrize("kappa", [60.0, 75.0, 95.0])
def test_at_the_limit_depth_the_margin_is_one_and_above_it_less(k: float, kappa: float) -> None:
    one = tool(KAPR_deg=kappa)
    depth = limit(one, k, reach=80.0)
    assert depth is not None
    assert margin(k, 0.03, stiffness(one, depth)) == pytest.approx(1.0, rel=1e-5)
    assert margin(k, 0.03, stiffness(one, depth * 1.01)) < 1.0
    assert all(margin(k, 0.03, stiffness(one, depth * part)) > 1.0 for part in (0.1, 0.5, 0.9, 0.99))


def test_at_90_degrees_more_depth_than_the_nose_costs_nothing() -> None:
    square = tool(KAPR_deg=90.0)
    assert stiffness(square, 8.0) == pytest.approx(stiffness(square, 1.5), rel=1e-6)
    bearing = stiffness(square, 1.5) / (2 * 0.03 * 1.03)
    assert limit(square, bearing * 1.01) is None
    at_last = limit(square, bearing * 0.9)
    assert at_last is not None
    assert at_last < 1.0


def test_nothing_beyond_the_reach_is_reported() -> None:
    slow = tool(KAPR_deg=95.0)
    far = limit(slow, 30000.0, reach=200.0)
    assert far is not None
    assert far > 20.0
    assert limit(slow, 30000.0, reach=10.0) is None


def test_shop_rules_on_what_regenerates_less() -> None:
    plain = stiffness(tool(), 1.0)
    assert stiffness(tool(RE_mm=0.4), 1.0) == pytest.approx(plain / 2, rel=0.05)
    assert stiffness(tool(KAPR_deg=45.0), 1.0) > stiffness(tool(KAPR_deg=75.0), 1.0) > plain
    assert stiffness(tool(rake_deg=12.0), 1.0) < plain
    assert stiffness(tool(land_mm=0.2, land_rake_deg=-6.0), 1.0) > plain
    assert stiffness(tool(), 1.0, f=0.4) < plain  # more feed: a thicker chip is relatively softer
    assert stiffness(tool(KAPR_deg=45.0), 0.2) == stiffness(tool(KAPR_deg=95.0), 0.2)  # inside the nose


def test_giving_down_only_does_not_regenerate() -> None:
    assert stiffness(tool(), 1.0, gives="down") == 0.0
    assert margin(1000.0, 0.03, 0.0) == inf
    assert limit(tool(), 1.0, "down") is None


def test_a_slanting_motion_is_worse_than_a_plain_one() -> None:
    assert stiffness(tool(), 1.0, gives="slanting") > stiffness(tool(), 1.0, gives="away")


def test_negative_stiffness_has_its_own_limit() -> None:
    # 117° and slanting: the flank's share pulls the wave flat and outweighs the nose at some depth
    hooked = tool(KAPR_deg=117.0, RE_mm=0.2)
    assert stiffness(hooked, 3.0, gives="slanting") < 0
    depth = limit(hooked, 20000.0, "slanting")
    assert depth is not None
    assert stiffness(hooked, depth, gives="slanting") == pytest.approx(
        -2 * 20000 * 0.03 * (1 - 0.03), rel=1e-5
    )
    assert chatter_frequency(200.0, 0.03, negative=True) < 200.0 < chatter_frequency(200.0, 0.03)


def exact_slope_away(ap: float, f: float, r: float, tan_push: float, keep: float) -> float:
    """Push the profile of the pass before away by a hair and see how much harder the nose is pushed."""

    def push(shift: float) -> float:
        total, steps = 0.0, 4000
        low, high = -asin(f / (2 * r)), pi / 2
        for i in range(steps):
            k = low + (high - low) * (i + 0.5) / steps
            across, up = -f, shift  # centre of the earlier nose, seen from this one's
            along = across * sin(k) - up * cos(k)
            off = across * cos(k) + up * sin(k)
            rho = along + sqrt(r * r - off * off)
            if atan2(rho * sin(k) - across, rho * cos(k) + up) > pi / 2:
                rho = (r + across) / sin(k)  # the earlier flank, at 90°
            rho = min(max(rho, (r - ap) / cos(k)), r)
            h, width = r - rho, (r + rho) / 2 * (high - low) / steps
            total += 2500 * h**0.74 * keep * tan_push * width * cos(k)
        return total

    return (push(1e-5) - push(-1e-5)) / 2e-5


@pytest.mark.parametrize(("f", "most"), [(0.05, 1.06), (0.1, 1.09), (0.2, 1.17)])
def test_stiffness_of_a_nose_errs_to_the_safe_side_only(f: float, most: float) -> None:
    one = tool(KAPR_deg=90.0)
    beta = 30.2 + 0.3 * 4
    exact = exact_slope_away(1.5, f, 0.8, tan(radians(beta - 4)), 1 + 0.015 * 2)
    assert 1.0 < stiffness(one, 1.5, f) / exact < most


@pytest.mark.parametrize("damping", [0.005, 0.03, 0.1])
def test_no_speed_is_worse_than_the_limit_for_all_speeds(damping: float) -> None:
    low = allowed_stiffness(10000.0, damping)
    chart = lobes(
        [20.0 * 1.03**i for i in range(240)],
        k_N_mm=10000.0,
        frequency_hz=200.0,
        damping_ratio=damping,
        depth_of=lambda K: K / 1500.0,
    )
    depths = [point.b_lim_mm for point in chart]
    assert all(depth is not None and depth >= low / 1500.0 * (1 - 1e-9) for depth in depths)
    assert min(depth for depth in depths if depth) == pytest.approx(low / 1500.0, rel=0.01)
    assert max(depth for depth in depths if depth) > 2 * low / 1500.0


@pytest.mark.parametrize("damping", [0.002, 0.03, 0.15])
def test_speeds_in_any_order_each_meet_the_lowest_lobe(damping: float) -> None:
    """Each lobe solved by itself with scipy's brentq: n = 60 f_c / (j + eps / 2 pi), K = -1 / (2 Re G)."""
    speeds = [900.0, 61.0, 3500.0, 900.0, 20000.0, 412.0, 1333.0, 7300.0, 250.0]
    f_n, k = 120.0, 5000.0

    def lowest(n: float) -> float:
        found = []
        for j in range(4 + int(1.5 * 60.0 * f_n / n)):  # the lowest lies at sqrt(1 + 2 zeta) f_n

            def turns(r: float, j: int = j) -> float:
                eps = 3.0 * pi + 2.0 * atan2(-2.0 * damping * r, 1.0 - r * r)  # Tlusty
                return (j + eps / (2.0 * pi)) / r - 60.0 * f_n / n

            if turns(1.0 + 1e-12) > 0.0:
                r = brentq(turns, 1.0 + 1e-12, 1e6, xtol=1e-14, rtol=1e-14)
                found.append(k * ((r * r - 1.0) ** 2 + (2.0 * damping * r) ** 2) / (2.0 * (r * r - 1.0)))
        return min(found)

    chart = lobes(speeds, k_N_mm=k, frequency_hz=f_n, damping_ratio=damping, depth_of=lambda K: K / 1500.0)
    assert [point.n_rev_min for point in chart] == speeds
    for point in chart:
        assert point.allowed_N_mm == pytest.approx(lowest(point.n_rev_min), rel=1e-8)


def test_the_top_of_a_gap_is_the_best_speed_in_it() -> None:
    height, waves = pocket(1, 0.03)
    setup = {"k_N_mm": 1.0, "frequency_hz": 100.0, "damping_ratio": 0.03}
    best = allowed_at_speed(6000.0 / waves, **setup)
    assert best == pytest.approx(height * allowed_stiffness(1.0, 0.03), rel=1e-6)
    around = [allowed_at_speed(6000.0 / (waves * (1 + d)), **setup) for d in (-0.02, -0.005, 0.005, 0.02)]
    assert max(around) < best


def test_lobes_are_of_use_at_high_speed_only() -> None:
    slow = lobe_use(400.0, 200.0, 0.03, RULES)
    assert (slow.useful, slow.number) == (False, 29)
    assert "process damping" in slow.why
    fast = lobe_use(6000.0, 200.0, 0.03, RULES)
    assert fast.useful
    assert fast.gain > 5
    assert f"{fast.best_n_rev_min:.0f} rev/min" in fast.why
    assert not lobe_use(6000.0, 200.0, 0.3, RULES).useful  # well damped: hardly any gap left


def test_marks_of_chatter() -> None:
    # 60 m/min is 1000 mm/s; at 250 Hz a wave is 4 mm long
    assert wave_length(60.0, 250.0) == pytest.approx(4.0)


def test_process_damping_grows_with_frequency_and_falls_with_cutting_stiffness() -> None:
    slow = process_damping_speed(100.0, 0.03, 1500.0, RULES.process_damping_N_m)
    assert process_damping_speed(300.0, 0.03, 1500.0, RULES.process_damping_N_m) == pytest.approx(3 * slow)
    assert process_damping_speed(100.0, 0.03, 3000.0, RULES.process_damping_N_m) == pytest.approx(slow / 2)


@given(
    ap=st.floats(0.01, 15.0),
    f=st.floats(0.01, 2.0),
    r=st.floats(0.0, 16.0),
    kappa=st.floats(30.0, 117.0),
    gives=st.sampled_from(sorted(GIVES)),
)
@settings(max_examples=150, deadline=None)
def test_every_sane_cut_has_a_margin(ap: float, f: float, r: float, kappa: float, gives: str) -> None:
    one = tool(RE_mm=r, KAPR_deg=kappa)
    K = stiffness(one, ap, f, gives)
    assert isfinite(K)
    assert margin(10000.0, 0.03, K) > 0
    depth = limit(one, 10000.0, gives, f, reach=15.0)
    if depth is None:
        assert margin(10000.0, 0.03, stiffness(one, 15.0, f, gives)) > 1
    else:
        assert 0 < depth <= 15.0
        assert margin(10000.0, 0.03, stiffness(one, depth, f, gives)) == pytest.approx(1.0, rel=1e-4)


def test_figures_that_cannot_be_are_named() -> None:
    with pytest.raises(InputError, match="stiffness 0"):
        margin(0.0, 0.03, 100.0)
    with pytest.raises(InputError, match="damping ratio 0"):
        margin(1000.0, 0.0, 100.0)
    with pytest.raises(InputError, match="cutting stiffness"):
        straight_limit(1000.0, 0.03, 0.0)
    with pytest.raises(InputError, match="0 rev/min"):
        allowed_at_speed(0.0, k_N_mm=1.0, frequency_hz=100.0, damping_ratio=0.03)
    with pytest.raises(InputError, match="rev/min"):
        lobe_use(100.0, 0.0, 0.03, RULES)
