"""Drills: two ways of reckoning against a third that a maker prints, and what must hold."""

import pytest

from crib.errors import InputError, UnknownName
from crib.trade import tables
from crib.trade.cutting.drilling import (
    chisel_edge,
    drill_work,
    drilling_power_kW,
    drilling_removal_cm3_min,
    drilling_way_mm,
    handbook_load,
    kienzle_load,
    point_mm,
)

STANDARD = chisel_edge(0.18, tables.rows)


@pytest.mark.parametrize(
    ("work", "K"),
    # maker's technical guide, 2020-2021: M = K D² (0.630 + 16.84 f) / 100, thrust 570 K D f^0.85;
    # K 2.10 for chromium molybdenum steel of 229 HB, 1.00 for cast iron of 177 HB
    [("steel 200 HB", 2.10), ("cast iron 150 HB", 1.00)],
)
@pytest.mark.parametrize(("d", "f"), [(10, 0.15), (20, 0.3)])
def test_handbook_stands_near_a_makers_formula(work: str, K: float, d: float, f: float) -> None:
    load = handbook_load(d, f, drill_work(work, tables.rows), STANDARD)
    # the handbook is the careful one: most in small holes, where the chisel edge counts most
    assert 1.0 < load.M_Nm / (K * d**2 * (0.630 + 16.84 * f) / 100) < 1.7
    assert 0.9 < load.thrust_high_N / (570 * K * d * f**0.85) < 1.5


def test_kienzle_lies_near_the_handbook() -> None:
    # C45E and the like: 2220 N/mm², 0.14 (German handbooks, recalled), drilling factor 1.2
    load = kienzle_load(12, 0.2, 2220, 0.14, correction=1.2)
    book = handbook_load(12, 0.2, drill_work("steel 200 HB", tables.rows), STANDARD)
    assert load.M_Nm == pytest.approx(book.M_Nm, rel=0.35)
    assert load.thrust_low_N / 2 < book.thrust_high_N < load.thrust_high_N * 2


def test_torque_is_power_over_turning() -> None:
    # M = kc f D² / 8000 must be the energy of the hole: P = kc Q / 60000
    load = kienzle_load(12, 0.2, 2000, 0.0)
    assert drilling_power_kW(load.M_Nm, 500) == pytest.approx(
        2000 * drilling_removal_cm3_min(12, 0.2, 500) / 60000
    )
    opened = kienzle_load(12, 0.2, 2000, 0.0, pilot_mm=6)
    assert drilling_power_kW(opened.M_Nm, 500) == pytest.approx(
        2000 * drilling_removal_cm3_min(12, 0.2, 500, pilot_mm=6) / 60000
    )


def test_a_pilot_hole_takes_the_chisel_edge_away() -> None:
    solid, opened = kienzle_load(20, 0.3, 2000, 0.25), kienzle_load(20, 0.3, 2000, 0.25, pilot_mm=4)
    assert opened.thrust_low_N == opened.thrust_high_N < solid.thrust_low_N < solid.thrust_high_N
    assert opened.M_Nm < solid.M_Nm


def test_a_split_point_pushes_less_and_turns_about_as_hard() -> None:
    work = drill_work("steel 200 HB", tables.rows)
    plain = handbook_load(20, 0.3, work, STANDARD)
    split = handbook_load(20, 0.3, work, chisel_edge(0.03, tables.rows))
    assert split.thrust_high_N < 0.75 * plain.thrust_high_N
    assert 0.9 < split.M_Nm / plain.M_Nm < 1


def test_between_printed_chisel_edges() -> None:
    half = chisel_edge(0.19, tables.rows)
    assert (pytest.approx(1.095), pytest.approx(1.3675), pytest.approx(0.035)) == (half.A, half.B, half.J)
    assert chisel_edge(0.4, tables.rows).A == 1.395


def test_way_of_a_drill() -> None:
    # common practice: the point of a 118° drill is 0.3 D high
    assert point_mm(20) == pytest.approx(0.3 * 20, rel=0.002)
    assert point_mm(20, 90) == pytest.approx(10)
    assert drilling_way_mm(30, 20, clearance_mm=4) == pytest.approx(40, abs=0.02)
    assert drilling_way_mm(30, 0, clearance_mm=6) == 36


@pytest.mark.parametrize(
    "question",
    [
        lambda: kienzle_load(0, 0.2, 2000, 0.2),
        lambda: kienzle_load(10, 0.2, 2000, 0.2, pilot_mm=10),
        lambda: kienzle_load(10, 0.2, 2000, 0.2, point_deg=5),
        lambda: chisel_edge(0.5, tables.rows),
        lambda: drilling_way_mm(0, 10, clearance_mm=1),
        lambda: drilling_way_mm(10, 10, clearance_mm=-1),
        lambda: handbook_load(10, 0.2, drill_work("brass", tables.rows), STANDARD, wear=0),
    ],
)
def test_impossible_numbers(question: object) -> None:
    with pytest.raises(InputError):
        question()  # type: ignore[operator]


def test_unknown_work() -> None:
    with pytest.raises(UnknownName, match="drilled material"):
        drill_work("cheese", tables.rows)
