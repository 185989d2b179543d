"""Where to start: speed, feed and depth on the machine's own steps, with sources and what was assumed."""

from math import pi

import pytest

from crib.desk.starting.start import Start, start
from crib.errors import BadQuantity, InputError, NotPossible, StoreMissing, UnknownName

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


def test_chips_that_burn_bring_their_caution(demo_store: str) -> None:
    assert any("never hold it" in said for said in ask(demo_store, op="drill", diameter="10 mm").cautions)
    assert any("Titanium" in said for said in ask(demo_store, material="Ti-6Al-4V", tool="carbide").cautions)


def test_parting_to_a_centre_that_the_blade_does_not_reach_says_so(demo_store: str) -> None:
    """Eight blade widths are as deep as a guide goes (cut_part_maker): 24 mm for a blade of 3 mm."""
    for diameter, too_deep in (("50.8 mm", True), ("40 mm", False)):
        found = ask(demo_store, material="A36", tool="HSS", op="part", width="3 mm", diameter=diameter)
        assert any("25.4 mm deep is too much" in note for note in found.notes) == too_deep


def test_a_thread_says_how_fast_the_carriage_runs(demo_store: str) -> None:
    found = ask(demo_store, tool="carbide", op="thread", pitch="8 tpi", diameter="1 in", machine="old lathe")
    a_second_mm = found.n_rev_min * 25.4 / 8 / 60  # a pitch each turn, by definition
    assert any(f"the carriage runs {a_second_mm:.1f} mm" in note for note in found.notes)
    assert any("runout" in said for said in found.cautions)


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


# -- other operations, hardness, grades, conditions -------------------------------------------------------


def test_drilling_goes_by_the_drill_and_the_machine(demo_store: str) -> None:
    found = ask(demo_store, material="A36", tool="HSS", op="drill", diameter="1/2 in", machine="old lathe")
    assert (found.op, found.cut) == ("drilling", "")
    wanted = 1000 * found.vc_m_min.start / (pi * 12.7)
    assert found.n_rev_min == max(step for step in LATHE if step <= wanted)
    assert found.f_mm is not None and found.ap_mm is not None
    assert found.machine_f_mm == max(step for step in LATHE_FEEDS if step <= found.f_mm.start)
    assert found.ap_mm.start == pytest.approx(6.35)


def test_a_size_that_is_not_told_gives_no_feed_and_says_which(demo_store: str) -> None:
    found = ask(demo_store, op="ream", tool="HSS", diameter="")
    assert (found.f_mm, found.ap_mm, found.machine_f_mm, found.n_rev_min) == (None, None, None, None)
    assert found.vc_m_min.start > 0
    assert any("reamer not told" in line for line in found.assumed)


@pytest.mark.parametrize(("typed", "pitch"), [("12 tpi", 25.4 / 12), ("1.5 mm", 1.5), ("1,5", 1.5)])
def test_a_pitch_as_people_type_it(demo_store: str, typed: str, pitch: float) -> None:
    found = ask(demo_store, op="thread", pitch=typed, machine="old lathe")
    assert found.f_mm is not None
    assert found.f_mm.start == pytest.approx(pitch)
    assert found.machine_f_mm is None  # the lead screw gives the pitch, not the feed box
    assert found.passes[-1].depth_mm == pytest.approx(sum(one.ap_mm for one in found.passes))
    assert found.deepest_mm == pytest.approx(found.passes[-1].depth_mm)


@pytest.mark.parametrize(
    ("word", "operation"),
    [
        ("part", "parting"),
        ("Part-off", "parting"),
        ("cut off", "parting"),
        ("groove", "grooving"),
        ("drilling", "drilling"),
        ("Ream", "reaming"),
        ("screw-cut", "threading"),
        ("face", "facing"),
    ],
)
def test_operations_as_people_say_them(demo_store: str, word: str, operation: str) -> None:
    assert ask(demo_store, op=word).op == operation


def test_hardness_chooses_condition_and_speed(demo_store: str) -> None:
    usual = ask(demo_store, tool="HSS", cut="rough")
    hard = ask(demo_store, tool="HSS", cut="rough", hardness="32 HRC")
    assert hard.hb == pytest.approx(301)
    assert "4140 HT" in hard.material
    assert hard.vc_m_min.start < usual.vc_m_min.high
    assert any("ASTM E140" in line for line in hard.assumed)
    assert any("ASTM E140" in line for line in hard.source)


def test_a_grade_gives_tool_material_and_place(demo_store: str) -> None:
    hard, tough = (ask(demo_store, tool=f"HC-P{number}", cut="finish") for number in ("05", "45"))
    assert hard.tool == tough.tool == "coated carbide"
    assert hard.vc_m_min.start > tough.vc_m_min.start
    assert (hard.vc_m_min.low, hard.vc_m_min.high) == (tough.vc_m_min.low, tough.vc_m_min.high)
    m42 = ask(demo_store, tool="M42", material="304", cut="rough")  # a high-speed steel, not a grade for M
    assert m42.tool in ("HSS", "cobalt HSS")


def test_conditions_lower_the_speed_and_say_by_how_much(demo_store: str) -> None:
    plain = ask(demo_store, material="A36", tool="HSS")
    for flag, word in (("sand", "sand"), ("flame_cut", "flame cut"), ("weld", "weld"), ("scale", "scale")):
        found = ask(demo_store, material="A36", tool="HSS", **{flag: True})
        assert found.vc_m_min.start < plain.vc_m_min.start
        assert any(word in line for line in found.factors)
        assert found.cautions


def test_bands_of_the_sources_are_shown(demo_store: str) -> None:
    found = ask(demo_store, material="42CrMo4")
    assert found.kc11_N_mm2 is not None
    assert found.kc11_N_mm2.low < found.kc11_N_mm2.value < found.kc11_N_mm2.high
    assert "from memory" in found.kc11_N_mm2.source  # the books' constants are recalled, and it is said
    notes = ask(demo_store, material="A36", tool="HSS", cut="rough").notes
    assert any("another source differs" in line and "Turning and Boring, 1914" in line for line in notes)
    assert ask(demo_store, material="acetal", tool="HSS").kc11_N_mm2 is None


@pytest.mark.parametrize(
    ("changes", "error"),
    [
        ({"hardness": "hard"}, BadQuantity),
        ({"hardness": "32"}, BadQuantity),
        ({"hardness": "80 HRC"}, BadQuantity),
        ({"op": "thread", "pitch": "0 tpi"}, InputError),
        ({"op": "thread", "pitch": "coarse"}, BadQuantity),
        ({"op": "part", "width": "-3 mm"}, InputError),
        ({"op": "drill", "depth": "2 kg"}, BadQuantity),
        ({"op": "drill", "diameter": "10 mm", "depth": "1 m"}, InputError),
        ({"tool": "P99"}, InputError),
        ({"tool": "DM-N10"}, NotPossible),
    ],
)
def test_what_can_t_be_is_refused_here_too(
    demo_store: str, changes: dict[str, str], error: type[Exception]
) -> None:
    with pytest.raises(error) as raised:
        ask(demo_store, **changes)
    assert raised.value.hint  # type: ignore[attr-defined]
