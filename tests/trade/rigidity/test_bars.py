"""A boring bar as a spring, against a published deflection and the rules of beams."""

import pytest

from crib.errors import InputError, UnknownName
from crib.trade import tables
from crib.trade.rigidity.bars import bar_stiffness, find_bar_material, load_bar_materials

KNOWN = load_bar_materials(tables.rows("bar_materials"))


def test_published_deflection() -> None:
    """Cutting Tool Engineering, July 2019, p. 75: 911.1 N on a 25.4 mm bar 101.6 mm out give 0.0757 mm."""
    k_N_mm = bar_stiffness(25.4, 101.6, 206_000)
    assert 911.1 / k_N_mm == pytest.approx(0.0757, abs=0.00005)


def test_rules_of_beams() -> None:
    """Elementary beam theory: half the overhang is 8 times as stiff, twice the diameter 16 times."""
    assert bar_stiffness(20, 50, 210_000) == pytest.approx(8 * bar_stiffness(20, 100, 210_000))
    assert bar_stiffness(40, 100, 210_000) == pytest.approx(16 * bar_stiffness(20, 100, 210_000))


def test_carbide_is_about_three_times_steel() -> None:
    """Common practice: a carbide shank is about three times as stiff as steel of the same size."""
    ratio = KNOWN["carbide"].E_N_mm2 / find_bar_material("Steel ", KNOWN).E_N_mm2
    assert 2.5 < ratio < 3.2


def test_what_cannot_be() -> None:
    with pytest.raises(InputError, match="overhang of 0"):
        bar_stiffness(20, 0, 210_000)
    with pytest.raises(UnknownName, match="bar material"):
        find_bar_material("oak", KNOWN)
