"""Process damping: against a scan of the damped transfer function; directions of rules."""

from math import inf, pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mechanics import GIVES, tool

from crib.errors import TableError
from crib.trade import tables
from crib.trade.cutting.edge import engage
from crib.trade.rigidity.chatter import allowed_stiffness
from crib.trade.rigidity.process_damping import (
    contact_mm,
    damped_gain,
    load_rubbing,
    quiet_speed,
    rubbing_of,
)

RUBBING = load_rubbing(tables.rows("process_damping"))


def scanned_limit(k: float, hz: float, zeta: float, Ks: float, C: float, v: float) -> float:
    """Least chip width in m that reaches min over frequency of -1 / (2 Ks Re G), G damped by c + C b / v."""
    w0 = 2 * pi * hz
    m = k / w0**2
    c0 = 2 * zeta * sqrt(k * m)

    def limit(b: float) -> float:
        c, best = c0 + C * b / v, inf
        for step in range(1, 500):
            w = w0 * (1 + step * 0.001)
            real = (1 / complex(k - m * w * w, c * w)).real
            if real < 0:
                best = min(best, -1 / (2 * Ks * real))
        return best

    b = limit(0.0)  # without rubbing; with it the limit grows, and past a second width it holds again
    while limit(b) > b:
        b *= 1.002
    return b


# m = 0.561 kg, c = 145 N s/m, k = 6.48e6 N/m, 1384 N/mm², 6.11e5 N/m: Altintas, Eynian and Onozuka,
# CIRP Annals 57 (2008), as quoted by Tyler and Schmitz (2012) [from memory]
K, HZ, ZETA, KS, C = 6.48e6, 540.9, 0.038025, 1384e6, 6.11e5


@pytest.mark.parametrize("times", [1.15, 1.5, 2.5, 5.0])
def test_the_gain_is_that_of_a_scan_of_the_damped_transfer_function(times: float) -> None:
    quiet = quiet_speed(KS * 1e-6 * 2.0, 2.0, HZ, ZETA, C)  # 2 mm of chip, 2 mm of edge
    # 132.6 m/min: the same reckoned by hand from (C w / Ks)(sqrt zeta + sqrt(1 + zeta))^2
    assert quiet == pytest.approx(132.6, rel=2e-3)
    plain = allowed_stiffness(K * 1e-3, ZETA) / (KS * 1e-6) * 1e-3
    scanned = scanned_limit(K, HZ, ZETA, KS, C, times * quiet / 60.0)
    assert damped_gain(times * quiet, quiet, ZETA) == pytest.approx(scanned / plain, rel=5e-3)


@settings(max_examples=50)
@given(st.floats(0.005, 0.2), st.floats(1.001, 50.0))
def test_slower_is_never_worse_and_fast_is_as_without(zeta: float, times: float) -> None:
    gain = damped_gain(times * 30.0, 30.0, zeta)
    assert 1.0 <= gain < inf
    assert damped_gain(times * 33.0, 30.0, zeta) <= gain
    assert damped_gain(3e7, 30.0, zeta) == pytest.approx(1.0, abs=1e-3)
    assert damped_gain(30.0, 30.0, zeta) == inf
    assert damped_gain(100.0, 0.0, zeta) == 1.0


def test_a_keen_edge_has_to_run_slower_to_be_quiet() -> None:
    """A fresh sharp edge rubs less: Sisson and Kegg (1969), as textbooks of machining dynamics give it."""
    sharp, honed = rubbing_of(8.0, RUBBING), rubbing_of(35.0, RUBBING)
    assert sharp.C_N_m < honed.C_N_m
    for one in (sharp, honed):
        assert one.low_N_m < one.C_N_m < one.high_N_m
    with pytest.raises(TableError):
        rubbing_of(5000.0, RUBBING)


def test_the_contact_is_the_edge_that_meets_the_waves() -> None:
    edge = engage(2.0, 0.2, 0.8, 90.0)
    away, along, down = (
        contact_mm(2.0, 0.2, tool(KAPR_deg=90.0), GIVES[way]) for way in ("away", "along", "down")
    )
    # cos² + sin² = 1: both together are the whole edge
    assert away + along == pytest.approx(edge.length_mm)
    assert along > 1.2 > away  # the flank meets what gives along the feed, the bottom of the nose the rest
    assert down == 0.0
    assert quiet_speed(300.0, down, 100.0, 0.03, 6e5) == 0.0
    assert quiet_speed(0.0, 1.0, 100.0, 0.03, 6e5) == inf
