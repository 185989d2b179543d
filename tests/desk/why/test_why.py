"""The chain behind an answer: every formula gives its result from the numbers beside it.

The arithmetic of these checks is tests/why_check.py: it shares nothing with crib.
"""

import re
from dataclasses import replace
from math import inf
from typing import Any

import pytest
import why_check

from crib.desk.keeping.settings import put
from crib.desk.picking.cut import work_out
from crib.desk.picking.pick import Candidate, PickRequest, Ranked, answer_of, rank
from crib.desk.starting.costs import CostsTold
from crib.desk.starting.proven import ProvenRequest, add_proven
from crib.desk.starting.start import Start, start
from crib.desk.why.chain import Chain, Step, explain, why_pick, why_start
from crib.desk.why.lines import chain_lines
from crib.errors import NothingFound
from crib.trade.cutting.spindle import MachineSpeeds

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
    gives="unknown",
)
VALVE = PickRequest(
    op="face", material="bronze", from_="52 mm", to="51 mm", diameter="180 mm", hand="left", setup="rigid"
)
MEASURED = replace(
    JOURNAL,
    setup="",
    stiffness="22 kN/mm",
    frequency="210 Hz",
    damping="3 %",
    gives="slanting",
    depth="1 mm",
    feed="0.2 mm",
    interrupted=True,
)
HEAVY = replace(JOURNAL, from_="120 mm", to="80 mm", setup="rigid", gives="along")
DOWN = replace(LINER, gives="down", length="", machine="", interrupted=True)
STEPPED = replace(
    BRACKET,
    step="1/20 in",  # not a whole number of them: the last takes what is left
    flame_cut=True,
    costs=CostsTold(machine_rate="60 EUR/h", edge_cost="2 EUR", change_time="3 min", handling="8 min"),
)
JOBS = {
    "bracket": BRACKET,
    "journal": JOURNAL,
    "liner": LINER,
    "valve": VALVE,
    "measured": MEASURED,
    "heavy": HEAVY,
    "down": DOWN,
    "stepped": STEPPED,
}


@pytest.fixture(scope="module", params=list(JOBS))
def ranked(request: pytest.FixtureRequest, demo_store: str) -> Ranked:
    return rank(demo_store, JOBS[request.param])


@pytest.fixture(scope="module")
def chains(ranked: Ranked) -> list[Chain]:
    return [explain(ranked, place) for place in unlike(ranked)]


def unlike(ranked: Ranked) -> list[int]:
    """The ranks of candidates of which each cuts with another geometry."""
    found: dict[object, int] = {}
    for place, cut in enumerate(ranked.cuts, start=1):
        found.setdefault((cut.tool, type(cut.pair.arm), cut.worst), place)
    return list(found.values())


def check(chain: Chain) -> int:
    """Work every formula of a chain out again; give how many there were."""
    pieces: list[dict[str, float]] = []
    checked = 0
    for step in chain.steps:
        numbers = {one.symbol: one.value for one in step.numbers}
        if step.table is not None:
            pieces = [
                dict(zip((column.symbol for column in step.table.columns), row, strict=True))
                for row in step.table.rows
            ]
            for column in step.table.columns:
                for row in pieces if column.formula else ():
                    worked = why_check.work_out(column.formula, {**numbers, **row})
                    assert worked == pytest.approx(row[column.symbol], rel=1e-6, abs=1e-12), column
        if step.formula:
            checked += 1
            worked = why_check.work_out(step.formula, numbers, pieces)
            assert worked == pytest.approx(step.value, rel=1e-6, abs=1e-9), step
    return checked


def test_every_formula_gives_its_result_from_the_numbers_beside_it(chains: list[Chain]) -> None:
    assert chains
    assert all(check(chain) > 35 for chain in chains)


def test_a_number_is_what_an_earlier_step_gave(chains: list[Chain]) -> None:
    for chain in chains:
        known: dict[str, float] = {}
        for step in chain.steps:
            for number in step.numbers:
                if number.symbol in known:
                    assert number.value == known[number.symbol], (step.name, number)
            assert step.symbol not in known, f"{step.symbol} is given twice"
            known[step.symbol] = step.value


LAST: dict[str, str | tuple[str, ...]] = {
    "n": "n_rev_min",
    "vc": "vc_m_min",
    "f": "f_mm",
    "ap": "ap_mm",
    "Fc": "Fc_N",
    "Ff": "Ff_N",
    "Fp": "Fp_N",
    "Pc": "Pc_kW",
    "P": "pressure_N",
    "P_r": "pressure_ratio",
    "P_low": "pressure_low",
    "P_high": "pressure_high",
    "Rz": "Rz_um",
    "T": "minutes",
    "P_h": ("power", "needed_high_kW"),
    "x_P": ("power", "reserve"),
    "ε_l": ("size", "left_mm"),
    "ap_k": "b_lim_mm",
}


def values(chain: Chain) -> dict[str, float]:
    return {step.symbol: step.value for step in chain.steps}


def test_the_last_values_are_the_answers(ranked: Ranked, chains: list[Chain]) -> None:
    answer = answer_of(ranked, 1000)
    for chain in chains:
        assert chain.rank is not None
        candidate = answer.candidates[chain.rank - 1]
        found = values(chain)
        for symbol, field in LAST.items():
            answer_s: Any = candidate
            for name in (field,) if isinstance(field, str) else field:
                answer_s = getattr(answer_s, name)
            assert found.get(symbol) == answer_s, (chain.of, symbol)
        worst = found.get("M_w", found["M"])
        assert worst == candidate.stability_margin
        assert found.get("M_high", worst) == pytest.approx(candidate.stability_margin_low)
        assert found.get("M_low", worst) == pytest.approx(candidate.stability_margin_high)
        stiff = [found["K"], *([found["K2"]] if "K2" in found else [])]
        assert candidate.regenerative_stiffness_N_mm in stiff
        _passes_too(candidate, found)
        _size_too(candidate, found)


def _passes_too(candidate: Candidate, found: dict[str, float]) -> None:
    first, last = candidate.passes[0], [one for one in candidate.passes if one.kind != "spring"][-1]
    assert found.get("ap_r", found["ap"]) == pytest.approx(first.ap_mm)
    if "ap_f" in found:
        assert (found["ap_f"], found["f_f"], found.get("T_2")) == (last.ap_mm, last.f_mm, last.minutes)
        assert found["d_m"] == last.from_mm


def _size_too(candidate: Candidate, found: dict[str, float]) -> None:
    """What the passes leave on the size, and the lives of an edge and what pays."""
    errors = [found["ε"], *([found["ε2"]] if "ε2" in found else [])]
    assert errors == [one.error_mm for one in candidate.size.passes]
    ends = sorted((found["ε_k1"], found["ε_k2"]))
    assert ends == pytest.approx([candidate.size.last.low_mm, candidate.size.last.high_mm])
    lives = [one.minutes for one in candidate.life.lines if one.minutes is not None]
    assert [value for symbol, value in found.items() if symbol.startswith("T_e")] == lives
    for number, line in enumerate(candidate.economy.lines if candidate.economy else (), start=1):
        assert found[f"v_c{number}"] == line.least_cost_m_min
        assert found.get(f"c_p{number}") == line.piece_cost


def test_printed_lines_can_be_reckoned_on(chains: list[Chain]) -> None:
    """The same from the lines people see: figures are rounded, so results agree within that."""
    for chain in chains[:3]:
        lines = list(chain_lines(chain, "metric"))
        pieces: list[dict[str, float]] = []
        checked = 0
        for at, line in enumerate(lines):
            if line.startswith("     The edge in pieces"):
                pieces = printed_pieces(lines[at:])
            found = re.fullmatch(
                r" +(?:= (?P<put>.+) )?= (?P<value>[−\d.]+)(?: ?[^\d(\[]\S*)?(?: \[\d+\])*", line
            )
            if found is None:
                continue
            put = found["put"] or lines[at - 1].rpartition(" = ")[2]
            checked += 1
            value = float(found["value"].replace("−", "-"))
            assert why_check.work_out(put, {}, pieces) == pytest.approx(value, rel=2e-3, abs=2e-4), line
        assert checked == sum(bool(step.formula) for step in chain.steps)


def printed_pieces(lines: list[str]) -> list[dict[str, float]]:
    """Read a printed table of pieces."""
    start = next(at for at, line in enumerate(lines) if line.split()[:2] == ["κ", "°"])
    symbols = [word for word in lines[start].split() if word not in ("°", "mm", "N", "N/mm")]
    found = []
    for line in lines[start + 1 :]:
        words = line.replace("−", "-").split()
        if len(words) != len(symbols) or not re.fullmatch(r"-?[\d.]+", words[0]):
            return found
        found.append(dict(zip(symbols, map(float, words), strict=True)))
    return found


def test_every_step_says_what_it_is_in_words(chains: list[Chain]) -> None:
    for chain in chains:
        for step in chain.steps:
            assert step.part
            assert step.name
            assert all(step.source), step


# sizes of the job and figures of tool, machine, bar and set-up: told, on record, or said to be assumed
TOLD = (
    "D",
    "d_from",
    "d_to",
    "ap_j",
    "i",
    "L",
    "f",
    "r",
    "κr",
    "κ_2",
    "γ",
    "γ_face",
    "λ",
    "q",
    "m",
    "γ_land",
)
TOLD += ("η", "P_has", "n_head", "d_b", "L_b", "k", "k_s", "ζ", "ap_k", "z_s")
TOLD += ("c_m", "c_e", "t_c", "t_h")  # costs


def test_figures_of_tables_name_their_source(chains: list[Chain]) -> None:
    """What is neither a formula nor told nor on record comes from a table, with its source."""
    told = {*TOLD, *(step.symbol for chain in chains for step in chain.steps if step.value == inf)}
    for chain in chains:
        bare = {step.symbol for step in chain.steps if not step.formula and not step.source}
        assert bare <= told, bare - told


def test_what_would_change_it_most_comes_first(ranked: Ranked, chains: list[Chain]) -> None:
    for chain in chains:
        times = [one.times for one in chain.sensitivities]
        assert times == sorted(times, reverse=True)
        assert times[0] > 1.0


def test_the_band_of_the_sources_of_force_is_the_margins(demo_store: str) -> None:
    answer, chain = why_pick(demo_store, BRACKET, 1, most=1)
    best = answer.candidates[0]
    force = next(one for one in chain.sensitivities if "kc1.1" in one.what)
    assert force.margin == (
        pytest.approx(best.stability_margin_high),
        pytest.approx(best.stability_margin_low),
    )
    # force goes straight with kc1.1
    assert force.Fc_N[1] / force.Fc_N[0] == pytest.approx(2165.02 / 1350, rel=1e-4)  # type: ignore[operator]


def test_stiffness_and_damping_count_as_the_limit_has_them(demo_store: str) -> None:
    """2 k ζ (1 + ζ): straight with k, and a little more than straight with ζ."""
    answer, chain = why_pick(demo_store, BRACKET, 1, most=1)
    best = answer.candidates[0]
    stiff = next(one for one in chain.sensitivities if one.what.startswith("stiffness"))
    damping = next(one for one in chain.sensitivities if one.what.startswith("damping"))
    assert stiff.margin == (
        pytest.approx(0.5 * best.stability_margin),
        pytest.approx(1.5 * best.stability_margin),
    )
    assert damping.margin[0] == pytest.approx(best.stability_margin * 0.7 * (1 + 0.7 * 0.025) / 1.025)


def test_what_was_measured_is_less_unsure(demo_store: str) -> None:
    assumed = explain(rank(demo_store, JOURNAL), 1)
    measured = explain(rank(demo_store, MEASURED), 1)
    assert any("stiffness of the set-up, ± 50%" in one.what for one in assumed.sensitivities)
    assert any("stiffness of the set-up, ± 10%" in one.what for one in measured.sensitivities)
    assert any(one.what == "which way it gives" for one in assumed.sensitivities)
    assert not any(one.what == "which way it gives" for one in measured.sensitivities)


def test_a_rank_that_is_not_there_is_refused(demo_store: str) -> None:
    with pytest.raises(NothingFound, match="no candidate 999"):
        why_pick(demo_store, BRACKET, 999, most=5)


# -- every way a cut can go -------------------------------------------------------------------------------

TOOLS: dict[str, dict[str, float]] = {
    "land": {"land_mm": 0.2, "land_rake_deg": -16.0},
    "land and inclination": {"land_mm": 0.1, "land_rake_deg": -30.0, "LAMS_deg": -6.0},
    "sharp corner": {"RE_mm": 0.0, "LAMS_deg": 5.0},
    "big nose": {"RE_mm": 6.0, "KAPR_deg": 45.0},
    "small nose": {"RE_mm": 0.05, "hone_um": 60.0},
    "flat": {"KAPR_deg": 45.0, "rake_deg": 25.0},
}


@pytest.mark.parametrize("changes", TOOLS.values(), ids=TOOLS)
@pytest.mark.parametrize("gives", ["away", "along", "down", "slanting", "unknown"])
def test_any_edge_and_any_direction(demo_store: str, changes: dict[str, float], gives: str) -> None:
    ranked = rank(demo_store, replace(JOURNAL, gives=gives))
    pair = ranked.cuts[0].pair
    cut = work_out(ranked.job, pair, ranked.ap_mm, tool=replace(ranked.cuts[0].tool, **changes))
    chain = explain(replace(ranked, cuts=(cut,)), 1)
    assert check(chain) > 35
    found = values(chain)
    assert (found["Fc"], found["Ff"], found["Fp"]) == (cut.forces.Fc_N, cut.forces.Ff_N, cut.forces.Fp_N)
    assert cut.K_N_mm in (found["K"], found.get("K2"))


@pytest.mark.parametrize(("limit", "tangential"), [(40.0, None), (None, 60.0), (50.0, 55.0), (None, None)])
def test_a_facing_head_holds_the_speed(
    demo_store: str, limit: float | None, tangential: float | None
) -> None:
    ranked = rank(demo_store, BRACKET)
    machine = ranked.job.machine
    assert machine is not None
    machine = machine._replace(head_speed_limit_rev_min=limit, head_tangential_limit_m_min=tangential)
    job = replace(ranked.job, machine=machine)
    cut = work_out(job, ranked.cuts[0].pair, ranked.ap_mm)
    chain = explain(replace(ranked, job=job, cuts=(cut,)), 1)
    check(chain)
    assert values(chain)["n"] == cut.n_rev_min
    assert ("n_head" in values(chain), "v_head" in values(chain)) == (
        limit is not None,
        tangential is not None,
    )


@pytest.mark.parametrize(("low", "high"), [(10.0, 1000.0), (400.0, 2000.0), (10.0, 20.0)])
def test_a_stepless_drive_has_no_steps(demo_store: str, low: float, high: float) -> None:
    ranked = rank(demo_store, JOURNAL)
    job = replace(ranked.job, speeds=MachineSpeeds(low=low, high=high))
    cut = work_out(job, ranked.cuts[0].pair, ranked.ap_mm)
    chain = explain(replace(ranked, job=job, cuts=(cut,)), 1)
    check(chain)
    assert values(chain)["n"] == cut.n_rev_min
    assert low <= cut.n_rev_min <= high


def test_a_motor_that_holds_the_depth_is_told(demo_store: str) -> None:
    ranked = rank(demo_store, HEAVY)
    machine = ranked.job.machine
    assert machine is not None
    job = replace(ranked.job, machine=machine._replace(power_kw=0.8))
    cut = work_out(job, ranked.cuts[0].pair, ranked.ap_mm)
    chain = explain(replace(ranked, job=job, cuts=(cut,)), 1)
    check(chain)
    passes = next(step for step in chain.steps if step.symbol == "i")
    assert "held by the motor" in passes.assumed
    assert values(chain)["Pm"] <= 0.8 * (1 + 1e-9)


# -- a shop's own speeds ----------------------------------------------------------------------------------


def test_a_proven_speed_stands_in_the_place_of_the_tables(demo_address: str) -> None:
    put(demo_address, "speeds", "own")
    for tool in ("coated carbide", "carbide", "HSS"):
        told = ProvenRequest(material="1045", tool=tool, vc="70 m/min", feed="0.12", depth="5 mm", op="turn")
        add_proven(demo_address, told)
    ranked = rank(demo_address, replace(JOURNAL, interrupted=True))
    place = next(at for at, cut in enumerate(ranked.cuts, 1) if not cut.data.rows)
    chain = explain(ranked, place)
    check(chain)
    step = next(step for step in chain.steps if step.name == "the shop's own proven speed")
    assert step.value == pytest.approx(70.0)
    assert "the shop's own" in step.assumed
    asked = {"material": "1045", "tool": "HSS", "diameter": "80 mm", "machine": "old lathe"}
    found, start_chain = why_start(demo_address, **asked)
    check(start_chain)
    assert found.vc_m_min.start == pytest.approx(70.0)
    assert values(start_chain)["v_s"] == found.vc_m_min.start


# -- starting data ----------------------------------------------------------------------------------------

STARTS: dict[str, dict[str, object]] = {
    "turn": {"material": "4140", "tool": "coated carbide", "diameter": "80 mm", "machine": "old lathe"},
    "scale": {"material": "A36", "tool": "hss", "diameter": "3 in", "scale": True, "interrupted": True},
    "no diameter": {"material": "cast iron", "tool": "carbide", "op": "bore"},
    "drill": {"material": "1045", "tool": "hss", "op": "drill", "diameter": "20 mm", "depth": "90 mm"},
    "ream": {"material": "1045", "tool": "hss", "op": "ream", "diameter": "20 mm"},
    "part": {
        "material": "316L",
        "tool": "coated carbide",
        "op": "part",
        "width": "3 mm",
        "diameter": "40 mm",
    },
    "thread": {"material": "4140", "tool": "coated carbide", "op": "thread", "pitch": "2 mm"},
    "grade": {"material": "4140", "tool": "HC-P25", "diameter": "80 mm"},
    "hard": {"material": "4140", "tool": "coated carbide", "hardness": "32 HRC", "diameter": "80 mm"},
    "costs": {
        "material": "1045",
        "tool": "HSS",
        "diameter": "80 mm",
        "length": "200 mm",
        "machine": "old lathe",
        "costs": CostsTold(machine_rate="60 EUR/h", edge_cost="2 EUR", change_time="3 min", handling="8 min"),
    },
    "time only": {"material": "316L", "tool": "carbide", "costs": CostsTold(change_time="90 s")},
    "drill in iron": {
        "material": "cast iron",
        "tool": "carbide",
        "op": "drill",
        "diameter": "1/2 in",
        "depth": "1 in",
        "machine": "pillar drill",
    },
    "drill in steel": {"material": "4140 at 300 HB", "tool": "hss", "op": "drill", "diameter": "20 mm"},
}


@pytest.mark.parametrize("asked", STARTS.values(), ids=STARTS)
def test_starting_data_have_a_chain_too(demo_store: str, asked: dict[str, object]) -> None:
    found, chain = why_start(demo_store, **asked)
    assert found == start(demo_store, **asked)
    assert check(chain) >= 2
    got = values(chain)
    assert got["v_s"] == found.vc_m_min.start
    assert got.get("n") == found.n_rev_min
    if found.f_mm is not None:
        assert got["f_s"] == pytest.approx(found.f_mm.start)
    assert got.get("f", found.machine_f_mm) == found.machine_f_mm
    _what_follows_too(found, got)


def _what_follows_too(found: Start, got: dict[str, float]) -> None:
    """The last values of power, time, life, what pays and a drill's load are the answer's."""
    effects = found.effects
    lives = [one.minutes for one in effects.life.lines if one.minutes is not None]
    assert [value for symbol, value in got.items() if symbol.startswith("T_e")] == lives
    if effects.power is not None:
        assert got["P_h"] == effects.power.needed_high_kW
        assert got.get("x_P") == effects.power.reserve
    if effects.time is not None:
        assert (got["T_1"], got["T"]) == (effects.time.each_min, effects.time.total_min)
    if effects.drill is not None:
        drill = effects.drill
        assert (got["M_d1"], got["M_d2"]) == (drill.M_low_Nm, drill.M_high_Nm)
        assert (got["F_d1"], got["F_d2"]) == (drill.thrust_low_N, drill.thrust_high_N)
        assert got.get("P_d2") == drill.Pc_high_kW
    for number, one in enumerate(effects.economy.lines if effects.economy else (), start=1):
        assert got.get(f"v_c{number}") == one.least_cost_m_min
        assert got.get(f"v_p{number}") == one.most_parts_m_min
        assert got.get(f"c_p{number}") == one.piece_cost


def test_inch_users_get_results_in_their_units_too(demo_store: str) -> None:
    _, chain = why_start(demo_store, **STARTS["turn"])
    text = "\n".join(chain_lines(chain, "inch"))
    speed = next(step for step in chain.steps if step.symbol == "vc")
    assert f"({speed.value / 0.3048:.4g} ft/min)" in text


def test_a_wide_table_is_broken_to_the_page() -> None:
    step = Step(
        part="p", name="n", symbol="s", formula="", numbers=(), value=1.0, unit="", source=(), assumed=""
    )
    assert not [line for line in chain_lines(chain_of(step), "metric", 40) if len(line) > 60]


def chain_of(*steps: Step) -> Chain:
    return Chain(of="x", rank=None, steps=steps, sensitivities=())
