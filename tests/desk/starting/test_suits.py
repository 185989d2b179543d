"""Which speeds of a machine suit: those whose cutting speed lies in the table's range; else how near."""

from math import pi

import pytest

from crib.desk.starting.machines import save_machine
from crib.desk.starting.proven import ProvenRequest, add_proven
from crib.desk.starting.start import start
from crib.desk.starting.suits import Suits, by_how_much, suits
from crib.errors import BadQuantity, CribError, InputError, NotPossible, UnknownName

# the plates of the invented machines: demo_data/machines.csv
LATHE = (11, 15, 21, 28, 39, 53, 72, 98, 133, 181, 246, 335, 456, 620)
MILL = (9, 12, 17, 23, 32, 43, 59, 81, 110, 150, 205, 280)


def ask(store: str, machine: str = "old lathe", **changes: object) -> Suits:
    asked = {"material": "4140", "tool": "hss", "diameter": "60 mm"}
    return suits(store, machine, **{**asked, **changes})


def test_of_one_printed_speed_the_next_step_below_suits(demo_store: str) -> None:
    found = ask(demo_store)
    book = start("", material="4140", tool="hss").vc_m_min
    assert book.low == book.high
    assert [step.n_rev_min for step in found.steps] == [
        max(n for n in LATHE if pi * 60 * n / 1000 <= book.start)
    ]
    assert any("no range" in line for line in found.assumed)


@pytest.mark.parametrize("d_mm", [20, 37.5, 60, 100, 150, 400])
def test_the_steps_whose_cutting_speed_lies_in_the_range(demo_store: str, d_mm: float) -> None:
    found = ask(demo_store, diameter=f"{d_mm} mm", tool="coated carbide")
    low, high = found.vc_m_min.low, found.vc_m_min.high
    # vc = pi D n / 1000 by definition
    speeds = {n: pi * d_mm * n / 1000 for n in LATHE}
    assert [step.n_rev_min for step in found.steps] == [n for n in LATHE if low <= speeds[n] <= high]
    for step in found.steps:
        assert step.vc_m_min == pytest.approx(speeds[step.n_rev_min])
        assert step.off_m_min == 0
    below = [n for n in LATHE if speeds[n] < low]
    above = [n for n in LATHE if speeds[n] > high]
    assert (found.below and found.below.n_rev_min) == (max(below) if below else None)
    assert (found.above and found.above.n_rev_min) == (min(above) if above else None)
    # US Army OD1645, pp. 50-52: the nearest speed not above the wanted one
    assert found.start.n_rev_min == max((n for n in LATHE if speeds[n] <= found.vc_m_min.start), default=11)
    book = start("", material="4140", tool="coated carbide")
    assert found.vc_m_min == book.vc_m_min


def test_where_none_suits_it_says_by_how_much(demo_store: str) -> None:
    found = ask(demo_store, tool="coated carbide", diameter="1/4 in")
    assert not found.any
    # 620 rev/min on 6.35 mm: pi x 6.35 x 620 / 1000 = 12.37 m/min
    assert found.below is not None
    assert found.below.vc_m_min == pytest.approx(12.37, abs=0.005)
    assert found.below.off_m_min == pytest.approx(12.368 - found.vc_m_min.low, abs=0.001)
    assert found.above is None
    assert found.verdict.startswith("No speed of the old lathe suits: 620 rev/min is ")
    assert "too slow" in found.verdict


def test_too_fast_for_the_largest_work(demo_store: str) -> None:
    found = ask(demo_store, diameter="20 in", tool="hss", material="ti64", machine="pillar drill")
    assert not found.any
    assert found.start.n_rev_min == 60
    assert by_how_much(found.start, found, "metric").endswith("too fast")


def test_a_stepless_drive_gives_the_part_of_its_range(demo_address: str) -> None:
    save_machine(demo_address, "old lathe", {"speeds": "40 to 2000"})
    found = ask(demo_address, tool="coated carbide")
    assert found.stepless_rev_min is not None
    low, high = found.stepless_rev_min
    assert low == pytest.approx(1000 * found.vc_m_min.low / (pi * 60))
    assert high == pytest.approx(1000 * found.vc_m_min.high / (pi * 60))
    assert found.start.n_rev_min == pytest.approx(1000 * found.vc_m_min.start / (pi * 60))
    save_machine(demo_address, "old lathe", {"speeds": "1900 to 2000"})
    none = ask(demo_address)
    assert not none.any
    assert "too fast" in none.verdict


def test_the_facing_head_s_limits_hold_by_the_record_only(demo_address: str) -> None:
    free = ask(demo_address, "boring mill", op="bore", diameter="250 mm")
    assert free.head_limit_rev_min is None
    assert any("No speed limit is on record for this facing head" in line for line in free.cautions)
    save_machine(demo_address, "boring mill", {"head_tangential_limit": "20 m/min"})
    held = ask(demo_address, "boring mill", op="bore", diameter="250 mm")
    # 20 m/min on 250 mm: 1000 x 20 / (pi x 250) = 25.46 rev/min
    assert held.head_limit_rev_min == pytest.approx(25.46, abs=0.01)
    assert held.start.n_rev_min == max(n for n in MILL if n <= 25.46)
    assert all(step.n_rev_min <= 25.46 for step in held.steps)
    assert not any("No speed limit" in line for line in held.cautions)
    save_machine(demo_address, "boring mill", {"head_speed_limit": "15"})
    assert ask(demo_address, "boring mill", op="bore", diameter="250 mm").start.n_rev_min == 12
    # a drill stands in the spindle, not in the head's slide
    assert ask(demo_address, "boring mill", op="drill", diameter="20 mm").head_limit_rev_min is None


def test_a_proven_speed_gives_the_next_step_below(demo_address: str) -> None:
    request = ProvenRequest(material="4140", tool="coated carbide", vc="110 m/min")
    add_proven(demo_address, request)
    found = ask(demo_address, tool="coated carbide", diameter="3 in", own=True)
    # 110 m/min on 76.2 mm: 459.5 rev/min
    assert [step.n_rev_min for step in found.steps] == [456]
    assert found.start.n_rev_min == 456
    assert found.speeds_from == "own"


@pytest.mark.parametrize(
    ("changes", "error", "hint"),
    [
        ({"diameter": ""}, InputError, "--diameter"),
        ({"diameter": "3 kg"}, BadQuantity, ""),
        ({"machine": "shaper"}, UnknownName, "old lathe"),
        ({"machine": " "}, InputError, "crib machine"),
        ({"tool": "wood"}, UnknownName, ""),
    ],
)
def test_what_can_t_be_asked(
    demo_store: str, changes: dict[str, str], error: type[CribError], hint: str
) -> None:
    with pytest.raises(error) as raised:
        ask(demo_store, **changes)
    assert hint in raised.value.hint


def test_a_machine_whose_speeds_nobody_entered(demo_address: str) -> None:
    save_machine(demo_address, "old lathe", {"speeds": ""})
    with pytest.raises(NotPossible, match="no spindle speeds of the old lathe are on record"):
        ask(demo_address)
