"""Decay, mass and beams against worked examples of textbooks and a published deflection."""

from math import pi, sqrt

import pytest

from crib.trade import tables
from crib.trade.rigidity.bars import (
    TIP_SHARE,
    bar_frequency_hz,
    bar_mass_kg,
    bar_stiffness,
    load_bar_materials,
    shear_share,
)
from crib.trade.rigidity.deflection import HELD, weakest_mm, work_frequency_hz, work_give_mm
from crib.trade.rigidity.measuring import damping_from_ratio, modal_mass_kg

MATERIALS = load_bar_materials(tables.rows("bar_materials"))


def test_decrement_of_a_shock_absorber() -> None:
    # Rao, Mechanical Vibrations: half-cycle amplitude ratio 4, so 16 in a cycle: zeta 0.4037; recalled
    assert damping_from_ratio(16.0, 1.0) == pytest.approx(0.4037, abs=5e-5)


def test_decrement_gives_the_damper() -> None:
    # Inman, Engineering Vibration, section 1.6: 9 mm, then 1 mm a period later, m 2 kg, k 1500 N/m: 36.15
    # N s/m; recalled
    damping = damping_from_ratio(9.0, 1.0)
    assert 2 * damping * sqrt(2.0 * 1500.0) == pytest.approx(36.15, abs=0.02)


def test_slow_decay() -> None:
    # textbook companion FOSSEE 3875, ch. 1, example 1.2: m 0.1 kg, k 10 N/m, falls by e in 100 s: zeta 0.001
    cycles = 100.0 * sqrt(10.0 / 0.1) / (2 * pi)
    assert damping_from_ratio(2.718281828, cycles) == pytest.approx(0.001, rel=1e-3)


def test_mass_of_a_published_fixture() -> None:
    # Kalmár-Nagy, Pratt, Davies & Kennedy, DETC 1999: m 10 kg, k 3.35 MN/m, w 579 rad/s; recalled
    assert modal_mass_kg(3350.0, 579.0 / (2 * pi)) == pytest.approx(10.0, rel=1e-3)


def test_cantilever_with_a_mass_at_its_end() -> None:
    # Khurmi & Gupta, Theory of Machines, ch. 23: shaft ⌀50 mm, 300 mm long, 100 kg at its end, E 200 kN/mm²:
    # 41 Hz (the book leaves out the shaft's own mass); recalled
    k = bar_stiffness(50.0, 300.0, 200_000.0)
    assert bar_frequency_hz(k, 0.0, 100.0) == pytest.approx(41.0, rel=0.02)


def test_deflections_of_trade_and_textbook_examples() -> None:
    # E. Isakov, Cutting Tool Engineering, July 2019 p. 75: 911.1 N, ⌀25.4, 101.6 mm out: 0.0757 mm;
    # inch example: 207.84 lbf, 4 in out, ⌀1 in: 0.003 in
    assert 911.1 / bar_stiffness(25.4, 101.6, 206_000.0) == pytest.approx(0.0757, abs=5e-5)
    in_N = 207.84 * 4.4482216
    assert in_N / bar_stiffness(25.4, 101.6, 30e6 * 0.00689476) / 25.4 == pytest.approx(0.003, rel=0.02)


def test_a_bar_by_itself_rings_as_euler_and_bernoulli_say() -> None:
    # (1.8751² / 2 pi) sqrt(E I / (rho A L⁴)); share of mass at the tip 0.2427 (any text on vibration)
    assert pytest.approx(0.2427, abs=5e-5) == TIP_SHARE
    steel = MATERIALS["steel"]
    k, m = bar_stiffness(25.0, 150.0, steel.E_N_mm2), bar_mass_kg(25.0, 150.0, steel.rho_kg_m3)
    by_beam = work_frequency_hz(25.0, 150.0, steel.E_N_mm2, steel.rho_kg_m3, "chuck")
    assert bar_frequency_hz(k, m) == pytest.approx(by_beam, rel=1e-6)
    # ⌀25, 6 diameters: 800 Hz with E 210, rounded
    assert by_beam == pytest.approx(800.0, rel=0.02)


@pytest.mark.parametrize(("of_diameter", "percent"), [(3.0, 6.0), (6.0, 1.5)])
def test_shear_of_short_bars(of_diameter: float, percent: float) -> None:
    # Timoshenko's beam, round section, E/G 2.6, shear coefficient 0.9: 0.54 (d/L)²
    assert 100 * shear_share(20.0, 20.0 * of_diameter) == pytest.approx(percent, rel=0.01)


def test_work_bends_most_where_the_handbook_says() -> None:
    # handbook beam formulas: chuck 3 E I / L³; centres 48; chuck and centre 102 at 0.586 L (elementary beams)
    E, d, L = 206_000.0, 60.0, 600.0
    unit = E * pi * d**4 / 64 / L**3
    for held, times in (("chuck", 3.0), ("centres", 48.0), ("chuck and centre", 102.0)):
        at = weakest_mm(L, held)
        assert 1 / work_give_mm(1.0, d, L, at, E, held) / unit == pytest.approx(times, rel=2e-3)
    assert set(HELD) == {"chuck", "centres", "chuck and centre"}
    assert weakest_mm(1.0, "chuck and centre") == pytest.approx(0.586, abs=5e-4)
    for held in HELD:
        gives = [work_give_mm(1.0, d, L, L * at / 500, E, held) for at in range(501)]
        assert max(gives) <= work_give_mm(1.0, d, L, weakest_mm(L, held), E, held) * (1 + 1e-9)


def test_frequency_of_work_in_centres_against_integration() -> None:
    """Held at both ends the mode is half a sine: E I (pi/L)⁴ = rho A w² (Euler and Bernoulli)."""
    E, rho, d, L = 206e9, 7850.0, 0.06, 0.6
    w = (pi / L) ** 2 * sqrt(E * d**2 / 16 / rho)
    assert work_frequency_hz(60.0, 600.0, 206_000.0, 7850.0, "centres") == pytest.approx(w / (2 * pi))
