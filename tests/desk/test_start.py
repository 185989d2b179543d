"""Where to start: speed, feed and depth on the machine's own steps, with sources and what was assumed."""

from math import pi

import pytest

from crib.desk.start import Start, start
from crib.errors import BadQuantity, InputError, StoreMissing, UnknownName

# the plate of the invented lathe: demo_data/machines.csv
LATHE = (11, 15, 21, 28, 39, 53, 72, 98, 133, 181, 246, 335, 456, 620)
LATHE_FEEDS = (0.06, 0.08, 0.11, 0.15, 0.21, 0.29, 0.4, 0.55, 0.77)


def ask(store: str, **changes: object) -> Start:
    asked = {"material": "4140", "tool": "coated carbide", "op": "turn", "diameter": "80 mm"}
    return start(store, **{**asked, **changes})  # type: ignore[arg-type]


def test_the_speed_is_a_step_of_the_machine_and_not_above_the_table(demo_store: str) -> None:
    found = ask(demo_store, machine="old lathe")
    # n = 1000 vc / (pi d) by definition; the step is the last one not above it
    wanted = 1000 * found.vc_m_min.start / (pi * 80)
    assert found.n_rev_min == max(step for step in LATHE if step <= wanted)
    assert found.machine_f_mm == max(step for step in LATHE_FEEDS if step <= found.f_mm.start)


def test_without_a_machine_the_speed_is_computed_and_said_to_be_so(demo_store: str) -> None:
    found = ask(demo_store)
    assert found.n_rev_min == pytest.approx(1000 * found.vc_m_min.start / (pi * 80))
    assert found.machine_f_mm is None
    assert any("machine not told" in line for line in found.assumed)


def test_without_a_diameter_there_is_no_spindle_speed(demo_store: str) -> None:
    found = ask(demo_store, diameter="")
    assert found.n_rev_min is None
    assert any("diameter not told" in line for line in found.assumed)


def test_ranges_run_from_low_to_high_and_name_their_source(demo_store: str) -> None:
    found = ask(demo_store)
    for one in (found.vc_m_min, found.f_mm, found.ap_mm):
        assert 0 < one.low <= one.start <= one.high
    assert found.source
    assert found.defer


@pytest.mark.parametrize(
    ("told", "d_mm"), [("3 in", 76.2), ("3", 76.2), ("2 63/64", 75.803125), ("76,2 mm", 76.2)]
)
def test_sizes_as_people_type_them(demo_store: str, told: str, d_mm: float) -> None:
    found = ask(demo_store, diameter=told, system="inch")
    assert found.n_rev_min == pytest.approx(1000 * found.vc_m_min.start / (pi * d_mm))


def test_scale_and_interruption_lower_speed_and_bring_a_caution(demo_store: str) -> None:
    plain, hard = ask(demo_store), ask(demo_store, scale=True, interrupted=True)
    assert hard.vc_m_min.start < plain.vc_m_min.start
    assert hard.cautions
    assert not plain.cautions


def test_a_softer_tool_runs_slower(demo_store: str) -> None:
    hss, carbide = ask(demo_store, tool="HSS"), ask(demo_store, tool="coated carbide")
    assert hss.vc_m_min.high < carbide.vc_m_min.start


def test_the_slowest_step_is_given_where_all_are_too_fast(demo_store: str) -> None:
    found = ask(demo_store, tool="HSS", diameter="20 m", machine="boring mill")
    assert found.n_rev_min == 9
    assert any("lowest spindle speed, 9 rev/min, is above" in line for line in found.assumed)


def test_a_material_with_several_meanings_says_which_was_taken(demo_store: str) -> None:
    assert any("4140" in line and "could also be" in line for line in ask(demo_store).assumed)


def test_no_machine_no_store(tmp_path: object) -> None:
    assert ask(f"{tmp_path}/none.db").n_rev_min
    with pytest.raises(StoreMissing):
        ask(f"{tmp_path}/none.db", machine="old lathe")


@pytest.mark.parametrize(
    ("changes", "error"),
    [
        ({"material": "vibranium"}, UnknownName),
        ({"material": ""}, UnknownName),
        ({"tool": "wood"}, UnknownName),
        ({"op": "knit"}, UnknownName),
        ({"cut": "gentle"}, UnknownName),
        ({"machine": "shaper"}, UnknownName),
        ({"diameter": "5 kN"}, BadQuantity),
        ({"diameter": "wide"}, BadQuantity),
        ({"diameter": "0"}, InputError),
        ({"diameter": "-3 mm"}, InputError),
        ({"diameter": "1e400 mm"}, InputError),
    ],
)
def test_what_can_t_be_is_refused_with_what_would_be_right(
    demo_store: str, changes: dict[str, str], error: type[InputError]
) -> None:
    with pytest.raises(error) as raised:
        ask(demo_store, **changes)
    assert raised.value.message
    assert raised.value.hint


def test_a_slip_in_the_machine_s_name_is_understood(demo_store: str) -> None:
    assert ask(demo_store, machine="old lath").n_rev_min == ask(demo_store, machine="Old Lathe").n_rev_min
