"""The ladder of changes on the invented workshop's weak jobs: what helps, in which order, at what cost."""

import re
from math import inf, pi, sqrt

import pytest
from scipy.integrate import quad

from crib.desk import tables
from crib.desk.doings.wear import scrap
from crib.desk.picking.pick import Change, PickAnswer, PickRequest, pick, rank
from crib.desk.ringing.ladder_tools import to_grind
from crib.desk.ringing.setups import add_setup
from crib.store.rows import BitRow
from crib.trade.cutting.grind import grind_for

BRACKET = {
    "op": "bore", "material": "A36", "from_": "16 3/8 in", "to": "16 1/2 in", "length": "6 in",
    "machine": "boring mill", "hand": "left",
}  # fmt: skip
JOURNAL = {
    "op": "turn", "material": "4140", "from_": "63 mm", "to": "60 mm", "length": "300 mm",
    "machine": "old lathe",
}  # fmt: skip


def ask(store: str, job: dict[str, str], **changes: str) -> PickAnswer:
    return pick(store, PickRequest(**(job | changes)))  # type: ignore[arg-type]


def kinds(answer: PickAnswer) -> set[str]:
    return {one.kind for one in answer.ladder}


def first(answer: PickAnswer, kind: str) -> Change:
    return next(one for one in answer.ladder if one.kind == kind)


def test_the_order_changes_with_the_way_in_which_it_gives(demo_store: str) -> None:
    """Less depth helps what gives along the feed; what gives away from the tool feels the nose, not the depth
    (makers' technical pages: the push away grows until the depth reaches the nose radius, then stays)."""
    away, along = (
        ask(demo_store, BRACKET, setup="flimsy", gives=way, depth="1.5 mm") for way in ("away", "along")
    )
    assert [one.change for one in away.ladder] != [one.change for one in along.ladder]
    assert not any("half the depth" in one.change for one in away.ladder)
    assert first(along, "depth").gain > 1.3


def test_along_the_spindle_is_along_the_feed_of_a_bore_and_away_from_a_face(demo_store: str) -> None:
    bore = ask(demo_store, BRACKET, setup="weak", gives="along the spindle")
    assert bore.job.gives == "along the feed"
    face = ask(
        demo_store, {"op": "face", "material": "A36", "from_": "50 mm", "to": "48 mm"},
        diameter="200 mm", setup="weak", gives="along the spindle",
    )  # fmt: skip
    assert face.job.gives == "away from the tool"


def test_a_set_up_that_no_tool_can_save_says_what_would(demo_store: str) -> None:
    answer = ask(demo_store, JOURNAL, stiffness="0.8 kN/mm", frequency="60 Hz", damping="0.01")
    assert answer.candidates[0].stability_margin < 0.2
    assert "No single change of tool or cut on hand is enough" in answer.next_step
    support = first(answer, "support")
    assert support.change in answer.next_step
    # the limit is in proportion to stiffness: 1.2 times what is needed
    assert support.gain == pytest.approx(1.2 / answer.candidates[0].stability_margin)


def test_support_names_the_point_where_it_is_softest(demo_store: str) -> None:
    answer = ask(demo_store, BRACKET, setup="tall bracket", depth="2 mm")
    assert "at the top of bore" in first(answer, "support").change
    (bottom,) = answer.candidates[0].points
    assert (bottom.point, bottom.stability_margin > answer.candidates[0].stability_margin) == (
        "bottom of bore", True
    )  # fmt: skip


def test_support_names_what_there_is_for_it_and_where(demo_store: str) -> None:
    """Steadies in the lathe, jacks and angle plates on the boring mill: common practice."""
    bracket = first(ask(demo_store, BRACKET, setup="tall bracket", depth="2 mm"), "support")
    assert set(bracket.items) == {"W07", "W08", "W09", "W10"}
    assert (
        "W09 screw jacks, 3 to 5 in (Tamsin Arkwell's, at works / machine shop / Tamsin's chest)"
        in bracket.how
    )
    journal = first(ask(demo_store, JOURNAL, setup="flimsy"), "support")
    assert set(journal.items) == {"W05", "W06", "W11"}
    assert "one brass pad missing" in journal.how
    # a steady that takes up to 4 in is no use to work of 6 in; a centre holds no bore
    wide = ask(demo_store, JOURNAL, setup="flimsy", from_="150 mm", to="146 mm")
    assert set(first(wide, "support").items) == {"W05", "W11"}
    bored = ask(demo_store, BRACKET, setup="flimsy", machine="old lathe", hand="", from_="80 mm", to="84 mm")
    assert set(first(bored, "support").items) == {"W03", "W05"}


def test_support_says_where_nothing_is_on_record_for_it(demo_address: str) -> None:
    for tag in ("W05", "W06", "W11"):
        scrap(demo_address, [tag], why="worn through")
    support = first(ask(demo_address, JOURNAL, setup="flimsy"), "support")
    assert "no steady, jack, angle plate, clamp or the like is on record for the lathe" in support.how
    assert (support.items, support.on_hand) == ((), False)


def give(out_mm: float, d_mm: float, E_N_mm2: float) -> float:
    """What a round bar gives at its tip, in mm/N: bending and shear integrated along it (Castigliano)."""
    second, area = pi * d_mm**4 / 64.0, pi * d_mm**2 / 4.0
    bends = quad(lambda x: x**2 / (E_N_mm2 * second), 0.0, out_mm)[0]
    return bends + quad(lambda _: 2.6 / (0.9 * E_N_mm2 * area), 0.0, out_mm)[0]


def test_a_bar_out_further_than_it_need_be_is_pushed_in(demo_store: str) -> None:
    liner = {"op": "bore", "material": "cast iron", "from_": "139 mm", "to": "140 mm", "machine": "old lathe"}
    answer = ask(demo_store, liner, setup="pump liner", length="160 mm", overhang="200 mm")
    best, rung = answer.candidates[0], first(answer, "overhang")
    d = float(next(line for line in best.assumed if line.startswith("bar ⌀")).split()[1][1:])
    assert rung.change.startswith("bar out 160 mm (6.2992 in) instead of 200 mm")
    work, E = 1.0 / answer.job.k_N_mm, 206_000.0
    clamp = (0.5 + 0.8) / 2.0  # of the ideal stiffness, and 0.7 to 0.9 of the frequency: key bar_clamp
    before, after = (work + give(out, d, E) / clamp for out in (200.0, 160.0))
    assert rung.gain == pytest.approx(before / after, rel=1e-6)
    # f = sqrt(k / m) / 2 pi with 0.2427 of the bar's mass (texts on vibration)
    mass_kg = 0.2427 * pi / 4.0 * d**2 * 160.0 * 7850e-9
    rings = (0.7 + 0.9) / 2.0 * sqrt(1000.0 / give(160.0, d, E) / mass_kg) / (2.0 * pi)
    assert f"rings at {rings:.0f} instead of" in rung.how
    # how far out it holds with the reserve of 1.2, and that the bore is longer
    out = float(re.search(r"1\.2 times what is needed at ([\d.]+) mm", rung.how)[1])  # type: ignore[index]
    assert best.stability_margin * before / (work + give(out, d, E) / clamp) == pytest.approx(1.2, rel=2e-3)
    assert out < 160.0 and "and the bore is 160 mm" in rung.how
    deep = first(ask(demo_store, liner, setup="pump liner", length="160 mm"), "overhang")
    assert deep.change.startswith("bore from both ends, bar out 80 mm") and deep.set_anew
    assert "bore from both ends" not in ask(demo_store, liner, setup="pump liner", length="160 mm").next_step


def test_a_bore_of_no_told_length_and_a_cut_that_never_rings_have_their_ladder(demo_store: str) -> None:
    job = BRACKET | {"machine": "old lathe", "hand": "", "from_": "80 mm", "to": "84 mm", "length": ""}
    rung = first(ask(demo_store, job, setup="flimsy"), "overhang")
    assert "how deep the bore is was not told" in rung.how
    never = ask(demo_store, job, setup="flimsy", gives="down")
    assert never.candidates[0].stability_margin == inf
    assert not {"overhang", "bar"} & kinds(never)


def test_where_the_work_itself_is_too_soft_no_overhang_helps(demo_store: str) -> None:
    job = BRACKET | {"machine": "old lathe", "hand": "", "from_": "80 mm", "to": "84 mm"}
    answer = ask(demo_store, job, stiffness="0.5 kN/mm", frequency="60 Hz", damping="1 %", gives="away")
    said = [one.how for one in answer.ladder if one.kind in ("bar", "overhang")]
    assert all("no overhang is short enough" in how for how in said)


def test_slower_helps_within_the_machine_s_speeds_and_lengthens_life(demo_store: str) -> None:
    """Process damping: cutting speed down, limit up (Sisson and Kegg; shop rule: slow down)."""
    answer = ask(demo_store, JOURNAL, setup="weak")
    slow = first(answer, "speed")
    assert slow.change.startswith("slow down to ")
    speed = float(slow.change.split()[3])
    assert speed in (11, 15, 21, 28, 39, 53, 72, 98, 133, 181, 246, 335, 456)
    assert speed < answer.candidates[0].n_rev_min
    assert any(effect.startswith("edge life x") for effect in slow.effects)
    assert any(effect.startswith("time x") for effect in slow.effects)


def test_what_is_at_home_or_lent_says_whom_to_ask(demo_store: str) -> None:
    answer = ask(demo_store, JOURNAL, setup="weak")
    fetched = [one for one in answer.ladder if one.change.startswith("fetch")]
    assert fetched and not any(one.on_hand for one in fetched)
    assert all("ask " in one.how for one in fetched)


def test_a_bit_to_grind_says_the_usual_angles_and_the_caution(demo_store: str) -> None:
    ranked = rank(
        demo_store,
        PickRequest(
            op="turn", material="mild steel", from_="63 mm", to="60 mm",
            setup="flimsy", machine="old lathe", site="works",
        ),
    )  # fmt: skip
    bits = [
        cut for cut in ranked.cuts if isinstance(cut.pair.arm, BitRow) and cut.data.tool_material == "HSS"
    ]
    dull = min(bits, key=lambda cut: cut.margin)
    (rung,) = to_grind(ranked.job, dull, [dull])
    assert rung.kind == "bit" and rung.gain > 1.0
    # Machine Shop Essentials: Q & A (2008), table A-1, steel: side rake 12° to 18°, relief 10° and 8°
    assert "side rake 12° to 18°" in rung.how and "relief 10° at the side and 8° in front" in rung.how
    assert "starting point only" in rung.how
    # and none is offered that would stay nearer to chatter than the first choice does
    assert list(to_grind(ranked.job, max(ranked.cuts, key=lambda cut: cut.margin), bits)) == []


def test_a_grind_is_looked_up_by_the_particular_material_first() -> None:
    # the rows of that table: angles for tool steel and brass differ from those of their groups
    def angles(name: str, letter: str) -> tuple[tuple[float, float], tuple[float, float]] | None:
        found = grind_for(name, letter, tables.grinds())
        return found and (found.side_rake_deg, found.back_rake_deg)

    assert angles("O1 tool steel", "P") == ((12.0, 12.0), (8.0, 8.0))
    assert angles("C45 steel", "P") == ((12.0, 18.0), (8.0, 15.0))
    assert angles("leaded brass", "N") == ((-4.0, 5.0), (0.0, 0.0))
    assert angles("titanium", "S") is None  # nothing is printed for it, so nothing is said


def test_lobes_are_offered_only_where_they_are_apart(demo_store: str) -> None:
    high = ask(demo_store, JOURNAL, stiffness="3 kN/mm", frequency="30 Hz", damping="0.02")
    low = ask(demo_store, JOURNAL, stiffness="3 kN/mm", frequency="400 Hz", damping="0.02")
    assert any("between two lobes" in one.change for one in high.ladder)
    assert not any("between two lobes" in one.change for one in low.ladder)
    assert any("too close together to use" in note for note in low.candidates[0].notes)


def test_the_pitch_and_the_marks_of_chatter(demo_store: str) -> None:
    best = ask(demo_store, JOURNAL, stiffness="3 kN/mm", frequency="200 Hz", damping="0.03").candidates[0]
    # f_c = f_n sqrt(1 + 2 zeta), pitch of marks v / f_c (Tlusty; any textbook of machining dynamics)
    assert best.chatter_hz == pytest.approx(200.0 * 1.06**0.5)
    assert best.mark_spacing_mm == pytest.approx(best.vc_m_min * 1000 / 60 / best.chatter_hz)


def test_a_keen_edge_is_said_to_ring_more_only_where_slow_speed_turns_the_order(demo_store: str) -> None:
    """The flank of a keen edge rubs less (Sisson and Kegg); at high speed rubbing does nothing."""
    slow = ask(demo_store, BRACKET, stiffness="1.6 kN/mm", frequency="100 Hz", damping="0.025", gives="away")
    fast = ask(demo_store, BRACKET, stiffness="1.6 kN/mm", frequency="20 Hz", damping="0.025", gives="away")
    assert "keen edge rubs less" in slow.detail
    assert "keen edge" not in fast.detail
    keen = min(slow.candidates, key=lambda one: one.pressure_N)
    assert f"{(keen.insert or keen.holder).tag} pushes least" in slow.detail


def test_ties_name_their_ranks(demo_store: str) -> None:
    answer = ask(demo_store, JOURNAL, setup="fair")
    for one in answer.candidates:
        assert one.rank not in one.tied_with
        for other in one.tied_with:
            assert one.rank in answer.candidates[other - 1].tied_with or one.rank > 20


def test_the_cautions_say_what_called_for_them(demo_store: str) -> None:
    answer = ask(demo_store, BRACKET, setup="tall bracket")
    assert len(answer.cautions) == 3
    assert all(one.endswith(")") for one in answer.cautions)


@pytest.mark.parametrize(
    ("note", "called_for"),
    [
        ("strut tack-welded to its side", True),
        ("two Tacks at the foot", True),
        ("a weldment on four jacks", True),
        ("stacked on parallels, lifted by chain tackle", False),
        ("", False),
    ],
)
def test_a_note_of_welding_calls_for_its_caution(demo_address: str, note: str, called_for: bool) -> None:
    add_setup(demo_address, "other bracket", note=note)
    answer = ask(demo_address, BRACKET, setup="other bracket")
    assert any(one.endswith("(welding on the set-up)") for one in answer.cautions) is called_for
