"""What bending leaves: size, taper, copied errors."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from mechanics import MODEL, STEEL, tool

from crib.errors import InputError, UnknownName
from crib.trade import tables
from crib.trade.cutting.force import cutting_forces
from crib.trade.rigidity.bars import bar_stiffness, load_reach, reach_words
from crib.trade.rigidity.deflection import (
    copied_error_mm,
    copied_share,
    cut_stiffness_N_mm,
    passes_to_true,
    size_error_mm,
    taper,
    work_give_mm,
)

E = 210_000.0


def test_a_bore_stays_small_by_twice_the_bend() -> None:
    assert size_error_mm(400, 20_000) == pytest.approx(0.04)
    assert size_error_mm(400, 20_000, on_diameter=False) == pytest.approx(0.02)
    assert size_error_mm(-400, 20_000) < 0  # drawn in: too large


def test_a_pass_copies_what_the_balance_of_springs_says() -> None:
    # step by step: set for depth a, the tool gives y = Fp / k with Fp = slope (a - y)
    slope, k = 1500.0, 9000.0
    for set_depth in (0.5, 1.0):
        y = 0.0
        for _ in range(200):
            y = slope * (set_depth - y) / k
        assert y / set_depth == pytest.approx(copied_share(slope, k))
    assert copied_error_mm(0.6, slope, k) == pytest.approx(0.6 / 7)
    assert copied_error_mm(0.6, slope, k, passes=0) == 0.6
    assert copied_share(-100, k) == 0.0


@given(st.floats(0.05, 3), st.floats(0.001, 0.04), st.floats(10, 5000), st.floats(500, 1e5))
def test_so_many_passes_and_not_one_fewer(error: float, allowed: float, cut: float, k: float) -> None:
    count = passes_to_true(error, allowed, cut, k)
    assert copied_error_mm(error, cut, k, count) <= allowed * (1 + 1e-6)
    assert copied_error_mm(error, cut, k, count - 1) > allowed * (1 - 1e-6)


def test_nothing_to_true() -> None:
    assert passes_to_true(0.01, 0.02, 500, 5000) == 0


def test_slope_of_the_passive_force() -> None:
    one = tool(RE_mm=0.0, KAPR_deg=45.0, LAMS_deg=0.0)
    # a straight edge: force is in proportion to depth
    assert cut_stiffness_N_mm(1.0, 0.2, one, STEEL, MODEL) == pytest.approx(
        cutting_forces(1.0, 0.2, one, STEEL, MODEL).Fp_N, rel=1e-6
    )
    # past the nose a square tool's passive force hardly grows: little is copied
    square = tool(KAPR_deg=90.0, LAMS_deg=0.0)
    assert cut_stiffness_N_mm(3.0, 0.2, square, STEEL, MODEL) < 0.05 * cut_stiffness_N_mm(
        0.2, 0.2, square, STEEL, MODEL
    )


@pytest.mark.parametrize(
    ("held", "at", "divisor"),
    # elementary beam theory: F L³ / 3 E I at a free end, / 48 at mid-span held at both ends,
    # 7 F L³ / 768 E I at mid-span clamped at one end and held at the other
    [("chuck", 200.0, 3.0), ("centres", 100.0, 48.0), ("chuck and centre", 100.0, 768.0 / 7.0)],
)
def test_beams(held: str, at: float, divisor: float) -> None:
    stiffness = bar_stiffness(25, 200, E) / 3.0 * divisor
    assert work_give_mm(300, 25, 200, at, E, held) == pytest.approx(300 / stiffness)


def test_taper_and_barrel() -> None:
    chuck = taper(300, 25, 200, E, "chuck")
    assert chuck.at_mm == 200
    assert (
        chuck.spread_mm == pytest.approx(chuck.most_mm) == pytest.approx(2 * 300 / bar_stiffness(25, 200, E))
    )
    barrel = taper(300, 25, 200, E, "centres")
    assert barrel.at_mm == 100
    assert barrel.most_mm == pytest.approx(chuck.most_mm / 16)
    held = taper(300, 25, 200, E, "chuck and centre")
    assert held.most_mm < barrel.most_mm
    assert held.at_mm > 100  # nearer the centre, which only supports
    assert taper(300, 25, 200, E, "chuck", bore_mm=15).most_mm > chuck.most_mm


def test_hollow_bar() -> None:
    assert bar_stiffness(40, 160, E, bore_mm=20) == pytest.approx(bar_stiffness(40, 160, E) * (1 - 0.5**4))
    with pytest.raises(InputError, match="hole of 40"):
        bar_stiffness(40, 160, E, bore_mm=40)


def test_guidance_on_overhang() -> None:
    known = load_reach(tables.rows("bar_reach"))
    assert reach_words(80, 25, known["steel"]) == ""
    assert "6 diameters, past what steel takes (4)" in reach_words(150, 25, known["steel"])
    assert "at the end of what carbide takes (6 to 8)" in reach_words(175, 25, known["carbide"])
    lows = [known[name].low for name in ("steel", "heavy metal", "carbide", "damped steel", "damped carbide")]
    assert lows == sorted(lows)


@pytest.mark.parametrize(
    "question",
    [
        lambda: size_error_mm(100, 0),
        lambda: copied_share(100, 0),
        lambda: copied_error_mm(1, 100, 100, -1),
        lambda: passes_to_true(0, 0.1, 100, 100),
        lambda: work_give_mm(1, 25, 200, 201, E, "chuck"),
        lambda: work_give_mm(1, 0, 200, 10, E, "chuck"),
    ],
)
def test_impossible_numbers(question: object) -> None:
    with pytest.raises(InputError):
        question()  # type: ignore[operator]


def test_unknown_holding() -> None:
    with pytest.raises(UnknownName, match="way of holding"):
        taper(1, 25, 200, E, "glue")
