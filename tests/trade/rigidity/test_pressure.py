"""Tool pressure against the plain reference insert: size, order, reasons and band."""

from dataclasses import replace
from math import sqrt

import pytest
from mechanics import GIVES, MODEL, RULES, STEEL, tool

from crib.errors import TableError
from crib.trade import tables
from crib.trade.cutting.force import cutting_forces
from crib.trade.cutting.tool import CuttingTool
from crib.trade.rigidity.pressure import Pressure, Rules, compare, tied, tool_pressure


def pressure(one: CuttingTool, ap: float = 1.0, f: float = 0.2, gives: str = "away") -> Pressure:
    return compare(ap, f, one, STEEL, gives=GIVES[gives], rules=RULES, model=MODEL)


SHARP = tool(AN_deg=11.0, KAPR_deg=91.0, RE_mm=0.4, rake_deg=12.0, LAMS_deg=0.0, hone_um=8.0)
MOULDED = tool(AN_deg=7.0, RE_mm=0.8, rake_deg=10.0, LAMS_deg=0.0, hone_um=25.0)


def test_the_reference_is_its_own_measure() -> None:
    own = pressure(RULES.reference)
    assert own.ratio == 1.0
    assert own.reasons == ()
    assert not own.low_pressure
    assert own.low < 1.0 < own.high


def test_pressure_weighs_the_forces_by_how_the_setup_gives() -> None:
    forces = cutting_forces(1.0, 0.2, RULES.reference, STEEL, MODEL)
    by_hand = sqrt(forces.Fp_N**2 + (0.2 * forces.Ff_N) ** 2 + (0.2 * forces.Fc_N) ** 2)
    assert tool_pressure(forces, GIVES["away"]) == pytest.approx(by_hand)
    assert tool_pressure(forces, GIVES["down"]) > tool_pressure(forces, GIVES["along"]) > by_hand


def test_a_sharp_positive_insert_is_low_pressure_and_says_why() -> None:
    sharp = pressure(replace(SHARP, rake_assumed=True, edge_assumed=True))
    assert sharp.low_pressure
    assert sharp.low < sharp.ratio < sharp.high < 1.0
    assert sharp.reasons[0].startswith("nose 0.4 mm against 0.8 mm at 1 mm depth")
    assert any("rake +12° (11° clearance)" in reason for reason in sharp.reasons)
    assert any(reason.startswith("edge rounding 8 µm") for reason in sharp.reasons)
    assert not any("entering angle" in reason for reason in sharp.reasons)  # 91° against 95°: next to nothing


def test_reasons_are_recomputed_not_recited() -> None:
    # at a depth inside the nose the entering angle has no say and is not named; deeper it is
    assert not any("entering" in reason for reason in pressure(tool(KAPR_deg=45.0), ap=0.2).reasons)
    (deep,) = pressure(tool(KAPR_deg=45.0), ap=2.5).reasons
    assert deep.startswith("entering angle 45° against 95°")
    assert deep.endswith("more")


def test_reasons_can_be_left_for_later() -> None:
    quick = compare(1.0, 0.2, SHARP, STEEL, gives=GIVES["away"], rules=RULES, model=MODEL, explain=False)
    assert quick.reasons == ()
    assert replace(quick, causes=pressure(SHARP).causes) == pressure(SHARP)


def test_a_measured_tool_has_a_narrower_band_than_an_assumed_one() -> None:
    known, assumed = pressure(MOULDED), pressure(replace(MOULDED, rake_assumed=True, edge_assumed=True))
    assert assumed.low < known.low < known.high < assumed.high
    assert known.ratio == assumed.ratio


def test_overlapping_bands_are_a_tie() -> None:
    assert tied(pressure(RULES.reference), pressure(tool(KAPR_deg=91.0)))
    assert not tied(pressure(SHARP), pressure(tool(RE_mm=1.6)))


def test_order_for_a_set_up_that_gives_away() -> None:
    ladder = [
        tool(RE_mm=0.4, rake_deg=18.0, LAMS_deg=0.0, hone_um=5.0),
        tool(KAPR_deg=91.0, RE_mm=0.2, rake_deg=12.0, LAMS_deg=0.0, hone_um=8.0),
        SHARP,
        replace(MOULDED, RE_mm=0.4),
        tool(RE_mm=0.4),
        MOULDED,
        tool(rake_deg=8.0, hone_um=25.0),
        RULES.reference,
        tool(KAPR_deg=75.0),
        tool(RE_mm=1.2),
        tool(KAPR_deg=45.0),
        tool(RE_mm=6.0, KAPR_deg=90.0),
    ]
    ratios = [pressure(one).ratio for one in ladder]
    assert ratios == sorted(ratios)


def test_a_set_up_that_gives_along_turns_the_order_of_entering_angles() -> None:
    away = [pressure(tool(KAPR_deg=kappa)).ratio for kappa in (45.0, 60.0, 75.0, 95.0)]
    along = [pressure(tool(KAPR_deg=kappa), gives="along").ratio for kappa in (45.0, 60.0, 75.0, 95.0)]
    assert away == sorted(away, reverse=True)
    assert along == sorted(along)


def test_a_land_is_named() -> None:
    (reason, *_) = pressure(tool(land_mm=0.2, land_rake_deg=-6.0)).reasons
    assert reason.startswith("land 0.2 mm at -6° against none")
    assert reason.endswith("more")


def test_a_rules_table_with_a_gap_is_a_fault_of_the_table() -> None:
    rows = [row for row in tables.rows("rigidity_rules") if row["name"] != "reason_share"]
    with pytest.raises(TableError, match="reason_share"):
        Rules.load(rows)
