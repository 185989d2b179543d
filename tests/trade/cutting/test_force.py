"""Cutting, feed and passive force: what must hold whatever the constants."""

from dataclasses import replace
from math import cos, isfinite, radians, sin, tan

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from mechanics import MODEL, STEEL, tool

from crib.errors import InputError, TableError
from crib.trade import tables
from crib.trade.cutting.edge import engage
from crib.trade.cutting.force import ForceModel, Work, cutting_forces, force_slopes

AP = st.floats(0.01, 15.0)
FEED = st.floats(0.01, 2.0)
NOSE = st.floats(0.0, 16.0)
KAPR = st.floats(30.0, 117.0)
LAND = st.sampled_from([0.0, 0.1, 0.3])


def test_straight_edge_is_kienzle_in_closed_form() -> None:
    # r = 0, 90°, rake and hone of the printed figures: Fc = kc1.1 b h^(1-mc), no passive force
    plain = tool(RE_mm=0.0, KAPR_deg=90.0, rake_deg=6.0, LAMS_deg=0.0)
    forces = cutting_forces(2.0, 0.25, plain, STEEL, MODEL)
    assert forces.Fc_N == pytest.approx(2500 * 2.0 * 0.25**0.74, rel=1e-9)
    assert forces.Fp_N == pytest.approx(0.0, abs=1e-9 * forces.Fc_N)
    assert forces.Ff_N > 0


@pytest.mark.parametrize("kappa", [45.0, 60.0, 75.0, 95.0, 107.5])
def test_straight_edge_pushes_square_to_itself(kappa: float) -> None:
    forces = cutting_forces(2.0, 0.25, tool(RE_mm=0.0, KAPR_deg=kappa, LAMS_deg=0.0), STEEL, MODEL)
    k = radians(kappa)
    assert forces.Fp_N * sin(k) == pytest.approx(forces.Ff_N * cos(k), rel=1e-9)
    assert (forces.Fp_N < 0) == (kappa > 90)


def test_the_push_is_the_sum_over_the_pieces() -> None:
    # recomputed here piece by piece with the formulas written out: edge share, rake, friction
    plain = tool(LAMS_deg=0.0, rake_deg=10.0, hone_um=20.0, RE_mm=1.2)
    forces = cutting_forces(1.5, 0.2, plain, STEEL, MODEL)
    beta = 30.2 + 0.3 * 10
    fc = ff = fp = 0.0
    for p in engage(1.5, 0.2, 1.2, 95.0).pieces:
        printed = 2500 * p.h_mm**0.74 * p.db_mm
        edge = min(2500 / 2200 * 31 * p.dl_mm, 0.7 * printed)
        chip = (printed - edge) * (1 - 0.015 * (10 - 6))
        push = chip * tan(radians(beta - 10)) + edge * (5 + 0.8 * 20) / 31
        fc += chip + edge * (10 + 0.6 * 20) / 31
        ff += push * sin(p.kappa_rad)
        fp += push * cos(p.kappa_rad)
    assert forces.Fc_N == pytest.approx(fc)
    assert forces.Ff_local_N == pytest.approx(ff)
    assert forces.Fp_local_N == pytest.approx(fp)


def test_both_theories_push_equally_hard_on_a_straight_edge_only() -> None:
    straight = cutting_forces(2.0, 0.2, tool(RE_mm=0.0), STEEL, MODEL)
    assert straight.Fp_local_N == pytest.approx(straight.Fp_chord_N)
    nosed = cutting_forces(1.0, 0.2, tool(), STEEL, MODEL)
    assert nosed.Fp_chord_N > nosed.Fp_N > nosed.Fp_local_N


def test_a_land_wider_than_the_chip_works_as_the_face() -> None:
    # a chip that never leaves the land meets only the land's rake
    landed = tool(land_mm=2.0, land_rake_deg=-10.0)
    steep = tool(rake_deg=-10.0)
    a, b = (cutting_forces(1.0, 0.2, one, STEEL, MODEL) for one in (landed, steep))
    assert (a.Fc_N, a.Ff_N, a.Fp_N) == pytest.approx((b.Fc_N, b.Ff_N, b.Fp_N))
    one, other = (force_slopes(1.0, 0.2, t, STEEL, MODEL) for t in (landed, steep))
    assert (one.pp, one.pf, one.ff, one.cp, one.cf) == pytest.approx(
        (other.pp, other.pf, other.ff, other.cp, other.cf)
    )


def test_slopes_are_the_derivative_of_a_straight_edge() -> None:
    # where every piece is of one thickness, dFc/dh and dFn/dh can be had from two feeds
    plain = tool(RE_mm=0.0, KAPR_deg=90.0, LAMS_deg=0.0)
    low, high = (cutting_forces(2.0, f, plain, STEEL, MODEL) for f in (0.2499, 0.2501))
    slopes = force_slopes(2.0, 0.25, plain, STEEL, MODEL)
    assert slopes.cf == pytest.approx((high.Fc_N - low.Fc_N) / 0.0002, rel=1e-4)
    assert slopes.ff == pytest.approx((high.Ff_N - low.Ff_N) / 0.0002, rel=1e-4)


@given(ap=AP, more=st.floats(1.001, 3.0), f=FEED, r=NOSE, kappa=KAPR, land=LAND)
@settings(max_examples=200, deadline=None)
def test_more_depth_never_cuts_with_less_force(
    ap: float, more: float, f: float, r: float, kappa: float, land: float
) -> None:
    one = tool(RE_mm=r, KAPR_deg=kappa, land_mm=land, land_rake_deg=-10.0)
    assert cutting_forces(ap * more, f, one, STEEL, MODEL).Fc_N >= cutting_forces(
        ap, f, one, STEEL, MODEL
    ).Fc_N * (1 - 1e-9)


@given(ap=AP, f=FEED, r=NOSE, bigger=st.floats(1.02, 3.0), kappa=KAPR)
@settings(max_examples=200, deadline=None)
def test_a_bigger_nose_pushes_away_harder(ap: float, f: float, r: float, bigger: float, kappa: float) -> None:
    assume(r >= f)  # a feed above the nose radius is no cut with a nose any more
    small, big = (
        cutting_forces(ap, f, tool(RE_mm=nose, KAPR_deg=kappa), STEEL, MODEL).Fp_N for nose in (r, r * bigger)
    )
    assert big >= small - 1e-9 * abs(small)


@given(
    ap=AP,
    f=FEED,
    r=NOSE,
    kappa=KAPR,
    rake=st.floats(-30.0, 35.0),
    LAMS=st.floats(-15.0, 15.0),
    hone=st.floats(1.0, 100.0),
    land=LAND,
    group=st.sampled_from("PMKNSH"),
)
@settings(max_examples=200, deadline=None)
def test_forces_are_finite_and_cutting_needs_force(
    ap: float,
    f: float,
    r: float,
    kappa: float,
    rake: float,
    LAMS: float,
    hone: float,
    land: float,
    group: str,
) -> None:
    one = tool(
        RE_mm=r, KAPR_deg=kappa, rake_deg=rake, LAMS_deg=LAMS, hone_um=hone, land_mm=land, land_rake_deg=-20.0
    )
    forces = cutting_forces(ap, f, one, replace(STEEL, iso513=group), MODEL)
    assert all(isfinite(x) for x in (forces.Fc_N, forces.Ff_N, forces.Fp_N))
    assert forces.Fc_N > 0
    slopes = force_slopes(ap, f, one, replace(STEEL, iso513=group), MODEL)
    assert slopes.pp >= 0 and slopes.ff >= 0
    assert slopes.pp * slopes.ff >= slopes.pf**2 * (1 - 1e-9)  # Cauchy-Schwarz: it is a sum of squares


def test_unknown_group_and_impossible_material_are_named() -> None:
    with pytest.raises(InputError, match="ISO 513 group 'X'"):
        cutting_forces(1.0, 0.2, tool(), Work(kc11_N_mm2=2000.0, mc=0.25, iso513="X"), MODEL)
    with pytest.raises(InputError, match="specific force 0"):
        cutting_forces(1.0, 0.2, tool(), Work(kc11_N_mm2=0.0, mc=0.25, iso513="P"), MODEL)


def test_a_model_table_with_a_gap_is_a_fault_of_the_table() -> None:
    rows = [row for row in tables.rows("force_model") if row["name"] != "chord_share"]
    with pytest.raises(TableError, match="chord_share"):
        ForceModel.load(rows)
