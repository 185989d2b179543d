"""Which tool on hand for this cut: what is offered can do it, ends on size, and stands in a right order.

Limits are read again from the invented workshop's lists by tests/house/demo_lists.py, which shares no code
with crib; forces, power and pressure are put together here a second time from their definitions.
"""

from dataclasses import replace
from functools import cache
from math import inf, pi, sqrt
from pathlib import Path

import mechanics
import pytest
from house import demo_lists
from small_shop import PEOPLE, PLACES, open_shop, take_lists

from crib.desk.asking.codes import decode
from crib.desk.picking.pick import Candidate, PickAnswer, PickRequest, choices, pick
from crib.errors import BadQuantity, CribError, InputError, NotPossible, StoreMissing, UnknownName
from crib.trade import tables
from crib.trade.cutting.force import Work, cutting_forces
from crib.trade.cutting.materials import Materials, find_material
from crib.trade.cutting.speed_rows import Speeds
from crib.trade.cutting.speeds import CUTS, find_tool_material, starting_data
from crib.trade.designation import fit
from crib.trade.designation.reading import InsertReading
from crib.trade.rigidity.pressure import tool_pressure

# the four jobs of the invented workshop: a bogie bracket, an axle journal, a pump liner, a slide valve
BRACKET = PickRequest(
    op="bore",
    material="A36",
    from_="16 3/8 in",
    to="16 1/2 in",
    length="6 in",
    machine="boring mill",
    hand="left",
    setup="weak",
    scale=True,
)
JOURNAL = PickRequest(
    op="turn", material="1045", from_="95 mm", to="90 mm", length="180 mm", machine="old lathe", setup="fair"
)
LINER = PickRequest(
    op="bore",
    material="cast iron",
    from_="5 1/2 in",
    to="140.5 mm",
    length="180 mm",
    machine="old lathe",
    setup="flimsy",
)
VALVE = PickRequest(
    op="face",
    material="bronze",
    from_="52 mm",
    to="51 mm",
    diameter="180 mm",
    machine="boring mill",
    hand="left",
    setup="fair",
)
JOBS = {"bracket": BRACKET, "journal": JOURNAL, "liner": LINER, "valve": VALVE}
# demo_data/machines.csv, typed again
SPEEDS = {
    "old lathe": (11, 15, 21, 28, 39, 53, 72, 98, 133, 181, 246, 335, 456, 620),
    "boring mill": (9, 12, 17, 23, 32, 43, 59, 81, 110, 150, 205, 280),
}
FEEDS = {
    "old lathe": (0.06, 0.08, 0.11, 0.15, 0.21, 0.29, 0.4, 0.55, 0.77),
    "boring mill": (0.05, 0.08, 0.12, 0.18, 0.27, 0.4, 0.6, 0.9),
}
SHANK_MOST_mm = {"old lathe": 32.0, "boring mill": 25.4}
BAR_mm = {"old lathe": (10.0, 50.0), "boring mill": (20.0, 50.0)}
POWER_kW = {"old lathe": 7.5 * 0.7457 * 0.70, "boring mill": 10 * 0.7457 * 0.65}


def change(request: PickRequest, **changes: object) -> PickRequest:
    return replace(request, **changes)  # type: ignore[arg-type]


def ask(store: str, request: PickRequest, **changes: object) -> PickAnswer:
    return pick(store, change(request, **changes), most=1000)


@pytest.fixture(scope="module", params=list(JOBS))
def job(request: pytest.FixtureRequest, demo_store: str) -> tuple[PickRequest, PickAnswer]:
    """Each of the workshop's jobs, with its answer."""
    return JOBS[request.param], ask(demo_store, JOBS[request.param])


@cache
def listed() -> dict[str, demo_lists.Row]:
    """Every item of the lists as it stands after its history."""
    return demo_lists.today()


def pairs(answer: PickAnswer) -> list[tuple[str, str]]:
    return [(one.holder.tag, one.insert.tag if one.insert else "") for one in answer.candidates]


def candidate(answer: PickAnswer, holder: str, insert: str = "") -> Candidate:
    return answer.candidates[pairs(answer).index((holder, insert))]


def whys(answer: PickAnswer) -> dict[str, str]:
    return {one.holder.tag: one.why for one in answer.rejected}


# -- what is offered can do the job -----------------------------------------------------------------------


def test_every_pair_fits_and_is_on_hand(job: tuple[PickRequest, PickAnswer]) -> None:
    _, answer = job
    assert answer.candidates
    for one in answer.candidates:
        for tool in filter(None, (one.holder, one.insert)):
            row = listed()[tool.tag]
            assert demo_lists.site_of(row["place"]) == "works"
            assert row["lent_to"] == ""
            assert row["condition"] not in ("damaged", "scrap")
            assert row.get("edges_left") != "0"
            assert "missing" not in row["note"]
        if one.insert is None:
            assert listed()[one.holder.tag]["list"] == "bits"
            continue
        seat, box = decode(one.holder.designation or ""), decode(one.insert.designation or "")
        assert isinstance(box, InsertReading)
        assert not isinstance(seat, InsertReading)
        assert fit.fits(seat.seat(), box.shape()).ok
        by_hand = demo_lists.read_seat(listed()[one.holder.tag]["code"])
        assert demo_lists.fits(by_hand, demo_lists.read_insert(listed()[one.insert.tag]["code"]))


def test_hand_is_as_wanted_or_neutral(job: tuple[PickRequest, PickAnswer]) -> None:
    request, answer = job
    wanted = {"left": "L", "": "R"}[request.hand]  # a lathe feeds towards the headstock unless told
    assert {one.holder.HAND for one in answer.candidates} <= {wanted, "N"}


def test_bars_pass_the_bore_and_reach_its_end(demo_store: str) -> None:
    answer = ask(demo_store, LINER)
    bars = {one.holder.tag for one in answer.candidates}
    assert bars
    for tag in bars:
        row = listed()[tag]
        assert row["list"] == "bars"
        assert demo_lists.length_mm(row["DMIN"]) <= 5.5 * 25.4
        assert demo_lists.length_mm(row["reach"]) >= 180.0
        shank = float(demo_lists.read_seat(row["code"])["shank"])
        assert BAR_mm["old lathe"][0] <= shank <= BAR_mm["old lathe"][1]
    # and none that could was left out: every right-hand bar here with reach enough
    could = {
        tag
        for tag, row in listed().items()
        if row["list"] == "bars"
        and demo_lists.site_of(row["place"]) == "works"
        and not row["lent_to"]
        and demo_lists.read_seat(row["code"])["hand"] == "R"
        and demo_lists.length_mm(row["reach"]) >= 180.0
    }
    assert bars == could


def test_square_shanks_go_in_the_machine(job: tuple[PickRequest, PickAnswer]) -> None:
    request, answer = job
    for one in answer.candidates:
        row = listed()[one.holder.tag]
        if row["list"] == "holders":
            seat = demo_lists.read_seat(row["code"])
            height = int(seat["shank"]) * 25.4 / 16 if seat["system"] == "inch" else int(seat["shank"][:2])
            assert height <= SHANK_MOST_mm[request.machine] + 0.05
        elif row["list"] == "bits":
            assert demo_lists.length_mm(row["shank"]) <= SHANK_MOST_mm[request.machine] + 0.05


def test_outside_work_gets_no_boring_bar(demo_store: str) -> None:
    answer = ask(demo_store, JOURNAL)
    assert not {tag for tag, _ in pairs(answer)} & {row["tag"] for row in demo_lists.rows("bars")}
    assert whys(answer)["B04"] == "a boring bar; this is outside work"


def test_end_cutting_styles_face_and_do_not_turn(demo_store: str) -> None:
    turned = {
        decode(one.holder.designation).style  # type: ignore[union-attr]
        for one in ask(demo_store, JOURNAL).candidates
        if one.holder.designation
    }
    styles = {row["code"]: row["cutting"] for row in tables.rows("holder_style")}
    assert all(styles[style] != "end" for style in turned if style)


# -- boundaries -------------------------------------------------------------------------------------------

BORE = PickRequest(op="bore", material="A36", length="100 mm", machine="lathe", setup="fair")
BAR_LIST = """tag,code,owner,place,dmin,reach,quantity,edges_left
B1,S20Q-SCLCR09,Ada Quill,shop,25 mm,100 mm,1,
I1,CCMT09T304,Ada Quill,shop,,,10,20
H1,SCLCR2020K09,Ada Quill,shop,,,1,
H2,SCLCR2525M09,Ada Quill,shop,,,1,
"""


@pytest.fixture
def bars(sqlite_url: str, tmp_path: Path) -> str:
    return open_shop(sqlite_url, tmp_path / "lists", items=BAR_LIST)


@pytest.mark.parametrize(
    ("from_", "length", "offered", "why"),
    [
        ("25 mm", "100 mm", True, ""),
        ("24.99 mm", "100 mm", False, "needs a bore of 25 mm"),
        ("25 mm", "100.01 mm", False, "reaches 100 mm"),
        ("63/64 in", "100 mm", True, ""),  # 25.003 mm
        ("31/32 in", "100 mm", False, "needs a bore of 25 mm"),  # 24.606 mm
        ("25,0 mm", "3 15/16 in", False, "reaches 100 mm"),  # 100.0125 mm
        ("2.5 cm", "3.9370 in", True, ""),  # 99.9998 mm
    ],
)
def test_a_bar_just_passes_and_just_reaches(
    bars: str, from_: str, length: str, offered: bool, why: str
) -> None:
    answer = ask(bars, BORE, from_=from_, to="27 mm", length=length)
    assert pairs(answer) == ([("B1", "I1")] if offered else [])
    assert why in whys(answer).get("B1", "")


@pytest.mark.parametrize(("from_", "offered"), [("200 mm", True), ("199.99 mm", False), ("7 7/8 in", True)])
def test_the_facing_head_works_from_its_least_bore(bars: str, from_: str, offered: bool) -> None:
    answer = ask(bars, BORE, from_=from_, to="205 mm", machine="mill")
    assert ({"H1", "H2"} <= {tag for tag, _ in pairs(answer)}) == offered
    if not offered:
        assert "works from ⌀200 mm" in whys(answer)["H1"]


def test_a_shank_exactly_as_high_as_the_machine_takes(sqlite_url: str, tmp_path: Path) -> None:
    items = BAR_LIST + "H3,SCLCR3232P09,Ada Quill,shop,,,1,\n"
    store = open_shop(sqlite_url, tmp_path / "lists", items=items)
    answer = ask(store, JOURNAL, machine="lathe")
    assert {tag for tag, _ in pairs(answer)} == {"H1", "H2"}
    assert whys(answer)["H3"].startswith("shank 32 mm")


def test_a_square_shank_bores_only_where_there_is_a_facing_head(demo_store: str) -> None:
    answer = ask(demo_store, BRACKET, machine="old lathe", hand="right")
    assert "facing head" in whys(answer)["H17"]
    assert {listed()[tag]["list"] for tag, _ in pairs(answer)} == {"bars"}


# -- speed and feed ---------------------------------------------------------------------------------------


@cache
def speeds() -> Speeds:
    return Speeds.load(tables.rows)


def starts_m_min(request: PickRequest, one: Candidate) -> set[float]:
    """Give the speeds at which the tables start this tool in this work, one for each kind of cut."""
    work = find_material(request.material, Materials.load(tables.rows))
    told = listed()[(one.insert or one.holder).tag]["tool_material"]
    tool = find_tool_material(told, speeds())
    conditions = ("scale",) if request.scale else ()
    operation = {"bore": "boring", "turn": "turning", "face": "facing"}[request.op]
    found = set()
    for cut in CUTS:
        try:
            data = starting_data(work, tool, operation, cut, speeds(), conditions=conditions)
        except UnknownName:
            continue
        found.add(data.vc_m_min.start)
    return found


def test_the_speed_is_the_machine_s_step_next_below_a_table_s_start(
    job: tuple[PickRequest, PickAnswer],
) -> None:
    request, answer = job
    # bores are measured at the size wanted, turned work at the size that is there, faces at the largest
    d_mm = {"bore": answer.job.to_mm, "turn": answer.job.from_mm, "face": 180.0}[request.op]
    steps = SPEEDS[request.machine]
    for one in answer.candidates:
        # vc = pi d n / 1000 by definition
        assert one.vc_m_min == pytest.approx(pi * d_mm * one.n_rev_min / 1000)
        best = {
            max((n for n in steps if n <= 1000 * vc / (pi * d_mm) * (1 + 1e-9)), default=min(steps))
            for vc in starts_m_min(request, one)
        }
        assert one.n_rev_min in best
        assert one.vc_m_min <= max(starts_m_min(request, one)) * (1 + 1e-9) or any(
            "lowest spindle speed" in line for line in one.assumed
        )


def test_the_feed_is_one_of_the_machine_s(job: tuple[PickRequest, PickAnswer]) -> None:
    request, answer = job
    assert {one.f_mm for one in answer.candidates} <= set(FEEDS[request.machine])


def test_a_told_feed_is_kept(demo_store: str) -> None:
    answer = ask(demo_store, BRACKET, feed="0.007 in")
    assert [one.f_mm for one in answer.candidates] == pytest.approx([0.007 * 25.4] * answer.total)


# -- passes -----------------------------------------------------------------------------------------------


def test_passes_follow_on_and_end_exactly_on_size(job: tuple[PickRequest, PickAnswer]) -> None:
    request, answer = job
    on_side = 1.0 if request.op == "face" else 2.0
    for one in answer.candidates:
        assert one.passes[0].from_mm == answer.job.from_mm
        assert one.passes[-1].to_mm == answer.job.to_mm
        for before, after in zip(one.passes, one.passes[1:], strict=False):
            assert before.to_mm == after.from_mm
        assert [line.kind for line in one.passes[1:]].count("spring") == one.size.spring
        for line in one.passes[: -1 if one.size.spring else None]:
            assert abs(line.to_mm - line.from_mm) / on_side == pytest.approx(line.ap_mm)
            assert 0 < line.ap_mm <= answer.job.ap_mm * (1 + 1e-9)
        assert max(line.ap_mm for line in one.passes) == pytest.approx(one.ap_mm)


def test_two_cuts_of_a_thirty_second(demo_store: str) -> None:
    # common practice at the mill: 1/8 in on diameter, 1/32 in a side at a time, is two cuts
    for one in ask(demo_store, BRACKET, depth="1/32 in").candidates:
        assert [line.ap_mm for line in one.passes[:2]] == pytest.approx([25.4 / 32, 25.4 / 32])
        assert [line.to_mm for line in one.passes[:2]] == pytest.approx([16.4375 * 25.4, 16.5 * 25.4])
        assert all(line.kind == "spring" for line in one.passes[2:])


@pytest.mark.parametrize(
    ("depth", "count"), [("1/16 in", 1), ("0.0625 in", 1), ("0.0624 in", 2), ("0,4 mm", 4)]
)
def test_a_told_depth_is_not_gone_beyond(demo_store: str, depth: str, count: int) -> None:
    # 1/16 in on the side in all: 1.5875 mm
    answer = ask(demo_store, BRACKET, depth=depth, setup="rigid")
    assert {sum(line.kind != "spring" for line in one.passes) for one in answer.candidates} == {count}


def test_minutes_are_the_way_over_feed_and_speed(job: tuple[PickRequest, PickAnswer]) -> None:
    request, answer = job
    # facing goes from the rim to the centre
    way = {"face": 90.0}.get(request.op, answer.job.length_mm or 0.0)
    for one in answer.candidates:
        for line in one.passes:
            assert line.minutes == pytest.approx(way / (line.f_mm * one.n_rev_min))
        assert one.passes[-1].f_mm <= one.passes[0].f_mm == one.f_mm
        assert one.minutes == pytest.approx(sum(line.minutes or inf for line in one.passes))


def test_without_a_length_no_time_is_told(demo_store: str) -> None:
    answer = ask(demo_store, JOURNAL, length="")
    assert {one.minutes for one in answer.candidates} == {None}
    assert any("length not told" in line for line in answer.job.assumed)


# -- forces, power, pressure ------------------------------------------------------------------------------


def test_power_is_force_times_speed(job: tuple[PickRequest, PickAnswer]) -> None:
    request, answer = job
    for one in answer.candidates:
        # ISO 3002-4: Pc = Fc vc; /60 for minutes, /1000 for kW
        assert one.Pc_kW == pytest.approx(one.Fc_N * one.vc_m_min / 60_000)
        assert one.Pc_kW <= POWER_kW[request.machine] * 1.001


def test_pressure_and_its_ratio_to_the_plain_insert(job: tuple[PickRequest, PickAnswer]) -> None:
    request, answer = job
    found = find_material(request.material, Materials.load(tables.rows))
    kc11, mc = found.kienzle()
    work = Work(kc11_N_mm2=kc11, mc=mc, iso513=found.iso513)
    for one in answer.candidates:
        # gives away: the passive force whole, a fifth of the others (table gives)
        pressure = sqrt(one.Fp_N**2 + (0.2 * one.Ff_N) ** 2 + (0.2 * one.Fc_N) ** 2)
        assert one.pressure_N == pytest.approx(pressure)
        plain = cutting_forces(one.ap_mm, one.f_mm, mechanics.RULES.reference, work, mechanics.MODEL)
        reference = tool_pressure(plain, mechanics.GIVES["away"])
        assert one.pressure_ratio == pytest.approx(pressure / reference)
        assert one.pressure_low <= one.pressure_ratio <= one.pressure_high
        if one.low_pressure:
            assert one.pressure_ratio <= mechanics.RULES.low_pressure_ratio
            assert any("less" in reason for reason in one.reasons)


def test_a_motor_too_weak_for_the_depth_holds_it_back(sqlite_url: str, tmp_path: Path) -> None:
    machines = """place,kind,speeds_rev_min,feeds_mm_rev,power,efficiency
shop / bay / lathe,lathe,20 40 80 160 320 640,0.05 0.1 0.2 0.4,0.2 kW,80 %
shop / bay / mill,lathe,20 40 80 160 320 640,0.05 0.1 0.2 0.4,20 kW,80 %
"""
    store = open_shop(sqlite_url, tmp_path / "lists", items=BAR_LIST, machines=machines)
    weak = ask(store, JOURNAL, machine="lathe", setup="rigid")
    strong = ask(store, JOURNAL, machine="mill", setup="rigid")
    assert pairs(weak)
    for one in weak.candidates:
        other = candidate(strong, one.holder.tag, one.insert.tag if one.insert else "")
        assert other.Pc_kW > 0.2 * 0.8 >= one.Pc_kW
        assert one.ap_mm < other.ap_mm
        assert len(one.passes) > len(other.passes)
        assert any("depth held by the motor: 0.2 kW" in line for line in one.assumed)
        assert one.passes[-1].to_mm == 90.0


# -- the order --------------------------------------------------------------------------------------------


def test_a_sharp_positive_small_nose_pushes_less_than_a_negative_large_one(demo_store: str) -> None:
    answer = ask(demo_store, BRACKET, depth="1/32 in")
    sharp, plain, blunt = (
        candidate(answer, "H14", "I38"),  # TCGT16T304F: 7 deg, ground, sharp, nose 0.4
        candidate(answer, "H01", "I01"),  # WNMG080408: 0 deg, nose 0.8
        candidate(answer, "H01", "I03"),  # WNMG080412: 0 deg, nose 1.2
    )
    assert sharp.pressure_ratio < plain.pressure_ratio < blunt.pressure_ratio
    assert sharp.low_pressure
    assert not blunt.low_pressure
    assert sharp.stability_margin > plain.stability_margin > blunt.stability_margin


def test_ranks_count_up_and_what_holds_stands_first(job: tuple[PickRequest, PickAnswer]) -> None:
    _, answer = job
    assert [one.rank for one in answer.candidates] == list(range(1, answer.total + 1))
    stable = [one.stability_margin >= 1 for one in answer.candidates]
    assert stable == sorted(stable, reverse=True)


FINE_FEEDS = """place,kind,speeds_rev_min,feeds_mm_rev,power
shop / bay / lathe,lathe,20 40 80 160 320 640,0.05 0.1 0.15 0.2 0.25 0.3 0.35,6 kW
"""
QUICK_AND_GENTLE = """tag,code,owner,place,quantity,edges_left,tool_material,chipbreaker,application
H1,PCLNR2525M12,Ada Quill,shop,1,,,,
H2,SCLCR2525M09,Ada Quill,shop,1,,,,
I1,CNMG120412,Ada Quill,shop,10,40,coated carbide,roughing,P25
I2,CCGT09T302F,Ada Quill,shop,10,20,coated carbide,sharp,P25
"""


def test_a_rigid_set_up_ranks_by_time_and_a_weak_one_by_pressure(sqlite_url: str, tmp_path: Path) -> None:
    store = open_shop(sqlite_url, tmp_path / "lists", items=QUICK_AND_GENTLE, machines=FINE_FEEDS)
    rigid = ask(store, JOURNAL, machine="lathe", setup="rigid")
    assert pairs(rigid) == [("H1", "I1"), ("H2", "I2")]
    assert (rigid.candidates[0].minutes or inf) < (rigid.candidates[1].minutes or 0)
    assert rigid.candidates[0].pressure_N > rigid.candidates[1].pressure_N
    weak = ask(store, JOURNAL, machine="lathe", setup="weak")
    assert pairs(weak) == [("H2", "I2"), ("H1", "I1")]


def test_twice_as_stiff_is_twice_the_margin_for_a_holder(demo_store: str) -> None:
    measured = {"setup": "", "frequency": "100 Hz", "damping": "3 %", "depth": "0.8 mm"}
    soft = ask(demo_store, BRACKET, stiffness="4 kN/mm", **measured)
    stiff = ask(demo_store, BRACKET, stiffness="8000 N/mm", **measured)
    assert set(pairs(soft)) == set(pairs(stiff))
    for one in soft.candidates:
        other = candidate(stiff, one.holder.tag, one.insert.tag if one.insert else "")
        if listed()[one.holder.tag]["list"] == "bars":
            continue  # a bar has its own give
        assert other.stability_margin == pytest.approx(2 * one.stability_margin)
        # one mode, no process damping (Tobias; Altintas): margin = 2 k zeta (1 + zeta) / K
        limit = 2 * 4000 * 0.03 * 1.03
        assert one.stability_margin == pytest.approx(limit / one.regenerative_stiffness_N_mm)


def test_a_bar_has_a_give_of_its_own_in_line_with_the_set_up(demo_store: str) -> None:
    measured = {"setup": "", "frequency": "100 Hz", "damping": "3 %", "depth": "0.3 mm"}
    soft = ask(demo_store, LINER, stiffness="20 kN/mm", **measured)
    stiff = ask(demo_store, LINER, stiffness="40 kN/mm", **measured)
    for one in soft.candidates:
        other = candidate(stiff, one.holder.tag, one.insert.tag if one.insert else "")
        assert 1 < other.stability_margin / one.stability_margin < 2
        assert any("gives too" in line for line in one.assumed)


def test_each_step_of_the_ladder_gains_and_the_best_stands_first(job: tuple[PickRequest, PickAnswer]) -> None:
    _, answer = job
    gains = [step.gain for step in answer.ladder]
    assert gains == sorted(gains, reverse=True)
    assert all(step.gain > 1 and step.change and step.how for step in answer.ladder)


def test_a_step_that_is_fetched_names_where_it_is(demo_store: str) -> None:
    fetched = [step for step in ask(demo_store, BRACKET).ladder if step.change.startswith("fetch")]
    assert fetched
    assert "SCLCL2525M09 (H11)" in fetched[0].change
    assert "H11 at Tobin's home / shed bench" in fetched[0].how


# -- nothing on hand --------------------------------------------------------------------------------------


def test_nothing_on_hand_says_what_elsewhere_would_do(demo_store: str) -> None:
    answer = ask(demo_store, LINER, from_="1 3/8 in", to="36 mm", length="210 mm")
    assert answer.candidates == ()
    assert answer.verdict == "Nothing on hand does it."
    assert answer.detail.count("B11 lent to Perrin Sallow") == 1
    assert whys(answer)["B11"] == "lent to Perrin Sallow"


def test_a_missing_insert_is_what_is_named_when_the_holder_is_here(sqlite_url: str, tmp_path: Path) -> None:
    items = """tag,code,owner,place,quantity,edges_left
H1,PCLNR2525M12,Ada Quill,shop,1,
I1,CNMG120408,Ada Quill,Ada's home,10,40
"""
    store = open_shop(sqlite_url, tmp_path / "lists", items=items)
    answer = ask(store, JOURNAL, machine="lathe")
    assert answer.candidates == ()
    assert "I1 at Ada's home" in answer.detail
    assert "H1 at shop" not in answer.detail
    assert whys(answer)["H1"] == "its insert I1 is at Ada's home"


def test_nothing_on_record_says_so(sqlite_url: str, tmp_path: Path) -> None:
    answer = ask(open_shop(sqlite_url, tmp_path / "lists"), JOURNAL, machine="lathe")
    assert answer.verdict == "Nothing on record does it."
    assert (answer.candidates, answer.rejected, answer.ladder) == ((), (), ())


def test_each_that_was_passed_over_says_why(demo_store: str) -> None:
    said = whys(ask(demo_store, BRACKET))
    assert said["H12"] == "damaged: seat bruised, insert rocks"
    assert said["H05"].startswith("shim missing")
    assert said["H04"] == "lent to Wilf Oddney until 2026-12-18"
    assert said["H11"] == "at Tobin's home / shed bench"
    assert said["H17"] == "right-hand, left-hand is wanted"
    assert said["B05"].startswith("reaches 150 mm")


def test_every_arm_is_offered_or_passed_over(job: tuple[PickRequest, PickAnswer]) -> None:
    _, answer = job
    seen = {tag for tag, _ in pairs(answer)} | set(whys(answer))
    assert seen == {row["tag"] for name in ("holders", "bars", "bits") for row in demo_lists.rows(name)}


# -- what was assumed, and cautions -----------------------------------------------------------------------


def test_assumed_figures_and_sources_are_named(job: tuple[PickRequest, PickAnswer]) -> None:
    _, answer = job
    assert "assumed figures" in answer.job.setup
    for one in answer.candidates:
        assert one.sources
        assert any("assumed figures" in line for line in one.assumed)
    assert "partly assumed" in answer.detail or not answer.candidates


def test_nothing_assumed_is_said_twice(job: tuple[PickRequest, PickAnswer]) -> None:
    _, answer = job
    for one in answer.candidates:
        assert len(set(one.assumed)) == len(one.assumed)


def test_measured_figures_are_not_called_assumed(demo_store: str) -> None:
    measured = {
        "setup": "",
        "stiffness": "8 kN/mm",
        "frequency": "160 Hz",
        "damping": "2.5 %",
        "gives": "away",
    }
    answer = ask(demo_store, BRACKET, **measured)
    assert answer.job.setup == "measured"
    assert "By measured figures of the set-up." in answer.detail
    assert not any("stiffness" in line for line in answer.job.assumed)
    named = ask(demo_store, BRACKET)  # the same figures by name: table setups, "weak"
    assert pairs(answer) == pairs(named)
    assert [one.stability_margin for one in answer.candidates] == pytest.approx(
        [one.stability_margin for one in named.candidates]
    )


def test_cautions_of_the_facing_head(demo_store: str) -> None:
    answer = ask(demo_store, BRACKET)
    assert any("No speed limit is on record for this facing head" in said for said in answer.cautions)
    known = {f"{row['caution']} ({row['trigger']})" for row in tables.rows("cautions")}
    assert all(set(one.cautions) <= known for one in answer.candidates)
    in_a_bar = candidate(answer, "B09", "I10")  # its bar stands off centre in the head's slide too
    assert any("facing head" in said.lower() for said in in_a_bar.cautions)


def test_the_facing_head_s_limit_on_record_is_kept(sqlite_url: str, tmp_path: Path) -> None:
    machines = """place,kind,speeds_rev_min,feeds_mm_rev,power,facing_head,least_bore,head_speed_limit
shop / bay / mill,boring mill,10 20 40 80 160,0.05 0.1 0.2,6 kW,yes,200 mm,45 rev/min
"""
    store = open_shop(sqlite_url, tmp_path / "lists", items=BAR_LIST, machines=machines)
    answer = ask(store, BORE, from_="250 mm", to="252 mm", machine="mill")
    assert {one.n_rev_min for one in answer.candidates} == {40}
    assert all("held to 45 rev/min" in " ".join(one.assumed) for one in answer.candidates)


# -- what can't be read -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "error"),
    [
        ({"op": "knit"}, UnknownName),
        ({"material": "unobtainium"}, UnknownName),
        ({"material": ""}, UnknownName),
        ({"material": "plastic"}, UnknownName),
        ({"machine": "shaper"}, UnknownName),
        ({"hand": "both"}, UnknownName),
        ({"setup": "wobbly"}, UnknownName),
        ({"site": "moon"}, UnknownName),
        ({"gives": "up"}, UnknownName),
        ({"from_": ""}, InputError),
        ({"from_": "wide"}, BadQuantity),
        ({"from_": "5 kN"}, BadQuantity),
        ({"to": "16 in"}, InputError),
        ({"to": "16 3/8 in"}, InputError),
        ({"length": "0"}, InputError),
        ({"depth": "0"}, InputError),
        ({"depth": "-1/32 in"}, InputError),
        ({"feed": "0"}, InputError),
        ({"feed": "10 rpm"}, BadQuantity),
        ({"stiffness": "8 kN"}, BadQuantity),
        ({"stiffness": "0 N/mm"}, InputError),
        ({"damping": "2"}, InputError),
        ({"frequency": "0 Hz"}, InputError),
        ({"op": "face"}, InputError),
        ({"op": "turn"}, InputError),
        ({"op": "face", "diameter": "10 in", "length": "6 in"}, InputError),
    ],
)
def test_what_can_t_be_is_refused_with_what_would_be_right(
    demo_store: str, changes: dict[str, str], error: type[CribError]
) -> None:
    with pytest.raises(error) as raised:
        ask(demo_store, BRACKET, **changes)
    assert raised.value.message
    assert raised.value.hint


def test_sizes_in_either_system_are_the_same_job(demo_store: str) -> None:
    inch = ask(demo_store, BRACKET)
    metric = ask(demo_store, BRACKET, from_="415,9250 mm", to="419.1", length="152.4 mm")
    mixed = ask(demo_store, BRACKET, from_='16-3/8"', to="41.91 cm", length="6 in")
    assert pairs(inch) == pairs(metric) == pairs(mixed)
    assert inch.job.from_mm == pytest.approx(metric.job.from_mm)


def test_the_site_must_be_known(sqlite_url: str, tmp_path: Path) -> None:
    take_lists(sqlite_url, tmp_path / "lists", {"people": PEOPLE, "places": PLACES})
    with pytest.raises(NotPossible) as raised:
        ask(sqlite_url, JOURNAL, machine="")
    assert "crib setting site" in raised.value.hint
    assert ask(sqlite_url, JOURNAL, machine="", site="shop").candidates == ()


def test_another_site_has_other_tools(demo_store: str) -> None:
    assert set(pairs(ask(demo_store, BRACKET, site="Wilf's home"))) == {("H13", "I42")}


def test_a_missing_store(tmp_path: Path) -> None:
    with pytest.raises(StoreMissing):
        ask(str(tmp_path / "none.db"), BRACKET)


def test_a_form_offers_what_is_known(demo_store: str) -> None:
    offered = choices(demo_store)
    assert offered.machines == ("boring mill", "old lathe", "pillar drill")
    assert offered.sites == ("Tamsin's home", "Tobin's home", "Wilf's home", "works")
    assert (offered.site, offered.units) == ("works", "metric")
    assert {"rigid", "fair", "weak", "flimsy"} <= set(offered.setups)
    assert len(offered.materials) == len(set(offered.materials)) > 20


# -- what the machine's record and plain sense refuse ----------------------------------------------------


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"from_": "600 mm", "to": "590 mm"}, "does not swing in the old lathe"),
        ({"length": "5000 mm"}, "longer than the old lathe travels"),
        ({"machine": "pillar drill"}, "neither turns nor bores"),
    ],
)
def test_what_the_machine_cannot_do_is_refused(demo_store: str, change: dict[str, str], message: str) -> None:
    with pytest.raises(NotPossible, match=message):
        ask(demo_store, JOURNAL, **change)


@pytest.mark.parametrize(
    "change", [{"depth": "0.0001 mm"}, {"machine": "", "from_": "9999 mm", "to": "5 mm"}]
)
def test_a_slip_in_the_sizes_is_asked_back(demo_store: str, change: dict[str, str]) -> None:
    with pytest.raises(InputError, match=r"a pass is \d+ passes"):
        ask(demo_store, JOURNAL, **change)


def test_a_size_without_a_unit_takes_the_other_ones(demo_store: str) -> None:
    answer = ask(demo_store, JOURNAL, from_="3", to="2 7/8 in")
    assert (answer.job.from_mm, answer.job.to_mm) == (pytest.approx(76.2), pytest.approx(73.025))


def test_a_feed_that_the_machine_has_not_is_told(demo_store: str) -> None:
    answer = ask(demo_store, JOURNAL, feed="0.3 mm")
    assert all("not one of the machine's" in " ".join(one.assumed) for one in answer.candidates)
    assert not any(
        "not one of" in line
        for one in ask(demo_store, JOURNAL, feed="0.29 mm").candidates
        for line in one.assumed
    )


def test_a_bit_is_not_asked_for_more_than_its_shank_stands(demo_store: str) -> None:
    answer = ask(demo_store, JOURNAL, from_="80 mm", to="20 mm", setup="rigid")
    bits = [one for one in answer.candidates if one.insert is None]
    assert bits
    assert all(one.ap_mm <= 0.4 * 25.4 for one in bits)  # table pick_rules, the largest bit on record is 1 in


# -- steps as they are said -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "told", [{"step": "1/16 in"}, {"depth": "a sixteenth on diameter at a time"}, {"step": "1/32 in a side"}]
)
def test_a_sixteenth_at_a_time_from_16_3_8_to_16_1_2_is_two_cuts(
    demo_store: str, told: dict[str, str]
) -> None:
    """Common practice: two cuts, and the size between them is 16 7/16."""
    for one in ask(demo_store, BRACKET, **told).candidates:
        sizes = [size / 25.4 for line in one.passes[:2] for size in (line.from_mm, line.to_mm)]
        assert sizes == pytest.approx([16.375, 16.4375, 16.4375, 16.5], rel=1e-12)
        assert all(line.kind == "spring" for line in one.passes[2:])
