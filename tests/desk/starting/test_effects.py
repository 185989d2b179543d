"""What follows from a cut: life of the edge, what pays, power, a drill's load, minutes."""

from dataclasses import replace

import pytest

from crib.desk.starting.costs import CostsTold, read_costs
from crib.desk.starting.life import life_of
from crib.desk.starting.load import drill_of
from crib.desk.starting.start import Start, start
from crib.desk.tables import materials
from crib.errors import BadQuantity, InputError
from crib.trade.cutting.materials import find_material

COSTS = CostsTold(machine_rate="60 EUR/h", edge_cost="2 EUR", change_time="3 min", handling="8 min")
TURN: dict[str, object] = {"material": "1045", "tool": "HSS", "diameter": "80 mm", "length": "200 mm"}


def ask(**asked: object) -> Start:
    return start("", **{**TURN, **asked})


def test_a_drill_s_load_is_the_handbook_s_worked_example() -> None:
    """Machinery's Handbook, 31st edition, p. 1152: 7/8 in standard drill, 0.008 in/rev, steel 200 HB, worn:
    thrust 2313 lbf, torque 559 lbf in (tables read, answer recalled)."""
    found = drill_of(find_material("1045", materials()), 200.0, "HSS", 22.225, 0.2032, 350.0, "inch")
    assert found is not None and found.handbook is not None
    assert found.handbook_work == "steel 200 HB"
    assert found.handbook.thrust_low_N * found.wear / 4.4482216 == pytest.approx(2313, rel=0.005)
    assert found.handbook.M_Nm * found.wear / 4.4482216 / 0.0254 == pytest.approx(559, rel=0.005)
    assert found.M_low_Nm <= found.handbook.M_Nm <= found.M_high_Nm


def test_harder_steel_takes_the_harder_line_and_none_is_invented() -> None:
    def work(name: str, hb: float | None) -> str:
        found = drill_of(find_material(name, materials()), hb, "HSS", 10.0, 0.1, None, "metric")
        assert found is not None
        return found.handbook_work

    assert [work("1045", hb) for hb in (180, 250, 380, 450)] == [
        "steel 200 HB",
        "steel 300 HB",
        "steel 400 HB",
        "",
    ]
    assert work("316L", None) == "austenitic stainless"
    assert work("C932", None) == ""  # the handbook prints nothing for a tin bronze


def test_life_goes_with_the_laws_on_record() -> None:
    """Two laws for HSS in steel (table "taylor"), worked out here by hand at the answer's speed."""
    life = ask().effects.life
    by_id = {one.id: one.minutes for one in life.lines}
    assert by_id["TG4"] == pytest.approx((70.0 / life.vc_m_min) ** 8)
    assert life.f_mm is not None and life.ap_mm is not None
    C = 51.08 / ((life.f_mm / 0.3) ** 0.77 * (life.ap_mm / 2.5) ** 0.37)
    assert by_id["TE4"] == pytest.approx((C / life.vc_m_min) ** (1 / 0.13))
    assert (life.low_min, life.high_min) == (min(by_id.values()), max(by_id.values()))
    assert (life.faster_low, life.faster_high) == pytest.approx((1.2**-12.5, 1.2**-5.0))


def test_where_no_law_speaks_that_is_said() -> None:
    carbide = ask(material="304", tool="carbide").effects.life
    assert "no law on record says how long carbide lasts" in carbide.said
    aluminium = find_material("6061", materials())
    assert "nothing on record" in life_of(aluminium, "PCD", "turning", 500.0, 0.1, 1.0, "metric").said
    drilled = ask(op="drill", depth="30 mm").effects.life
    assert (drilled.low_min, drilled.n_low) == (None, None)
    assert "drilling" in drilled.said


def test_what_pays_is_what_a_textbook_s_sums_give() -> None:
    """T = (1/n - 1)(t + e/m) and (1/n - 1) t: 1 EUR a minute, 3 min, 2 EUR, n 0.125 give 35 and 21 min."""
    found = ask(costs=COSTS)
    economy = found.effects.economy
    assert economy is not None and found.effects.time is not None
    one = next(line for line in economy.lines if line.id == "TG4")
    assert (one.least_cost_min, one.most_parts_min) == pytest.approx((35.0, 21.0))
    assert one.least_cost_m_min == pytest.approx(70.0 / 35.0**0.125)
    assert one.most_parts_m_min is not None and one.most_parts_m_min > one.least_cost_m_min
    life, cut = (70.0 / found.effects.life.vc_m_min) ** 8, found.effects.time.total_min
    assert one.piece_cost == pytest.approx(cut + 8.0 + cut / life * (3.0 + 2.0))


def test_nothing_is_assumed_of_costs() -> None:
    assert ask().effects.economy is None
    part = ask(costs=CostsTold(change_time="3 min")).effects.economy
    assert part is not None
    assert [line.least_cost_min for line in part.lines] == [None] * len(part.lines)
    assert all(line.most_parts_min for line in part.lines)
    assert any("machine rate, edge cost" in line for line in part.said)
    bare = ask(costs=replace(COSTS, handling="")).effects.economy
    assert bare is not None and any("handling left out" in line for line in bare.said)


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"machine_rate": "60 EUR"}, "for how long"),
        ({"machine_rate": "60/h"}, "in which currency"),
        ({"edge_cost": "2 GBP"}, "two currencies"),
        ({"change_time": "3 mm"}, "a time was asked"),
        ({"machine_rate": "0 EUR/h"}, "costs nothing"),
        ({"edge_cost": "0 EUR", "change_time": "0 min"}, "neither time nor money"),
    ],
)
def test_costs_that_can_t_be_are_asked_back(changed: dict[str, str], why: str) -> None:
    with pytest.raises(InputError, match=why):
        read_costs(replace(COSTS, **changed), "")


def test_money_is_read_as_people_type_it() -> None:
    for rate in ("60 EUR/h", "€60 an hour", "1 EUR per min", "60,00 EUR per hour"):
        assert read_costs(replace(COSTS, machine_rate=rate), "").machine_per_min == pytest.approx(1.0)
    assert read_costs(replace(COSTS, machine_rate="60/h", edge_cost="2"), "EUR").currency == "EUR"
    with pytest.raises(BadQuantity):
        read_costs(replace(COSTS, machine_rate="1,200 EUR/h"), "")


def test_minutes_have_their_way() -> None:
    """L / (f n); a drill goes on by its point, 0.3 of the diameter at 118 degrees (handbook)."""
    turned = ask().effects.time
    assert turned is not None
    assert turned.total_min == pytest.approx(200.0 / (turned.f_mm * turned.n_rev_min))
    drilled = ask(op="drill", diameter="20 mm", depth="50 mm").effects.time
    assert drilled is not None
    assert drilled.way_mm == pytest.approx(50.0 + 0.3 * 20.0 + 4.0, abs=0.02)
    faced = ask(op="face", length="").effects.time
    assert faced is not None and faced.way_mm == 40.0
    threaded = ask(op="thread", pitch="2 mm", length="40 mm")
    assert threaded.effects.time is not None
    assert threaded.effects.time.passes == len(threaded.passes) > 1


def test_power_has_a_reserve_where_the_motor_is_known(demo_store: str) -> None:
    known = start(demo_store, **TURN, machine="old lathe").effects.power
    unknown = ask().effects.power
    assert known is not None and unknown is not None
    assert known.verdict == "enough" and known.at_edge_kW is not None
    assert known.needed_kW < known.needed_high_kW < known.at_edge_kW
    assert (unknown.verdict, unknown.at_edge_kW) == ("", None)
