"""The answer to "what do I put in for this cut": what it holds, and how its figures are put into words."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import ceil

from crib.desk import tables
from crib.desk.keeping.sources import cite
from crib.desk.picking.bar import bar_in
from crib.desk.picking.cut import Cut, limit_of, notes_of, sources_of
from crib.desk.picking.feed_marks import marks_of
from crib.desk.picking.job import Job
from crib.desk.picking.ring import AtPoint, Ring, words_of
from crib.desk.picking.size_error import SizeErrors, chip_words, size_errors
from crib.desk.picking.stock import (
    PLAIN_TO_SEE,
    Pair,
    Stock,
    Unfit,
    away_of,
    overhang_of,
    uses_facing_head,
    whereabouts,
)
from crib.desk.ringing.change import Change
from crib.desk.ringing.ladder import enough_of
from crib.desk.starting import head, own
from crib.desk.starting.conditions import SKINS
from crib.desk.starting.life import Economy, Life, economy_of, life_of
from crib.desk.starting.load import Power, power_of
from crib.store.rows import BarRow, BitRow, ItemRow
from crib.trade.cautions import DEFER, burning, triggered
from crib.trade.cutting.speeds import Range
from crib.trade.rigidity.chatter import lobe_use
from crib.trade.rigidity.deflection import BEAM_SOURCE
from crib.trade.rigidity.doubts import HAND_GROUND, INTERRUPTED, WORN, Doubt, doubts
from crib.trade.rigidity.measuring import CLAMP_SOURCE
from crib.trade.rigidity.pressure import Pressure, tied
from crib.units import Kind, show

# behind every force and margin, whatever the material (keys of sources.toml)
MODEL_SOURCES = ("rig_kienzle_rake", "rig_friction", "rig_edge_force", "rig_scatter", "rig_chatter")

_WELDED = re.compile(r"\b(tack(s|ed|ing)?|weld\w*)\b", re.IGNORECASE)
COMPARED = 20  # ties are told among the first so many, however many are asked for


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolName:
    """A tool as an answer names it."""

    id: int
    tag: str
    designation: str | None
    label: str
    owner: str
    place: str
    HAND: str | None
    edges_left: int | None
    condition: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PassLine:
    """One pass.

    Attributes:
        from_mm, to_mm: sizes before and after it.
        ap_mm: depth on the side; 0 for a spring pass.
        kind: rough, finish or spring.
        f_mm: feed.
        minutes: where the length is known.
        measure: stop after it and measure: what for; empty for going on.
    """

    from_mm: float
    to_mm: float
    ap_mm: float
    kind: str
    f_mm: float
    minutes: float | None
    measure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JobLine:
    """The job as it was understood."""

    op: str
    material: str
    material_id: str
    from_mm: float
    to_mm: float
    length_mm: float | None
    diameter_mm: float
    conditions: tuple[str, ...]
    machine: str | None
    hand: str | None
    site: str
    setup: str
    setup_name: str | None
    setup_point: str | None
    learned: tuple[str, ...]
    gives: str
    k_N_mm: float
    frequency_hz: float
    damping_ratio: float
    ap_mm: float
    units: str
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One holder with its insert (or one bit) for the job, in figures; keys as in the contract."""

    rank: int
    holder: ToolName
    insert: ToolName | None
    vc_m_min: float
    vc_range_m_min: Range
    speed_sources: tuple[str, ...]
    own_speeds: tuple[str, ...]
    n_rev_min: float
    f_mm: float
    ap_mm: float
    passes: tuple[PassLine, ...]
    minutes: float | None
    Fc_N: float
    Ff_N: float
    Fp_N: float
    Pc_kW: float
    pressure_N: float
    pressure_ratio: float
    pressure_low: float
    pressure_high: float
    tie: bool
    tied_with: tuple[int, ...]
    doubts: tuple[str, ...]
    chatter_hz: float
    mark_spacing_mm: float
    quiet_low_m_min: float
    quiet_m_min: float
    quiet_high_m_min: float
    damped_margin: float | None
    points: tuple[AtPoint, ...]
    stability_margin: float
    stability_margin_low: float
    stability_margin_high: float
    regenerative_stiffness_N_mm: float
    b_lim_mm: float | None
    holds: str
    holds_to: str
    low_pressure: bool
    Rz_um: float | None
    size: SizeErrors
    power: Power
    life: Life
    economy: Economy | None
    reasons: tuple[str, ...]
    drawbacks: tuple[str, ...]
    notes: tuple[str, ...]
    assumed: tuple[str, ...]
    sources: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rejected:
    """What can't do the job, and why."""

    holder: ToolName
    insert: ToolName | None
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PickAnswer:
    """The answer: the job as understood, three lines in words, candidates in order, what was passed over."""

    job: JobLine
    verdict: str
    detail: str
    next_step: str
    candidates: tuple[Candidate, ...]
    total: int
    rejected: tuple[Rejected, ...]
    ladder: tuple[Change, ...]
    cautions: tuple[str, ...]
    defer: str = DEFER


# -- one candidate ----------------------------------------------------------------------------------------


def candidate(
    job: Job,
    rank: int,
    cut: Cut,
    pressures: Sequence[Pressure],
    ring: Ring,
    drawbacks: tuple[str, ...],
    history: tuple[str, ...] = (),
) -> Candidate:
    """Put one cut into an answer.

    Args:
        job: the cut asked for.
        rank: its place, from 1.
        cut: its figures.
        pressures: of all candidates shown, in their order.
        ring: how it would ring.
        drawbacks: what speaks against it.
        history: how it did before.
    """
    pressure = pressures[rank - 1]
    alike = tuple(
        other
        for other, one in enumerate(pressures[:COMPARED], start=1)
        if other != rank and tied(pressure, one)
    )
    insert = cut.pair.insert
    limit, size = limit_of(job, cut), size_errors(job, cut)
    passes = pass_lines(cut, size)
    minutes, life = minutes_of(cut, size.spring), life_for(job, cut)
    rubs, thin = chip_words(job, cut)
    return Candidate(
        rank=rank,
        holder=tool_name(cut.pair.arm.item),
        insert=tool_name(insert.item) if insert else None,
        vc_m_min=cut.vc_m_min,
        vc_range_m_min=cut.data.vc_m_min,
        speed_sources=_speed_sources(cut),
        own_speeds=own.beside(cut.data),
        n_rev_min=cut.n_rev_min,
        f_mm=cut.f_mm,
        ap_mm=cut.ap_mm,
        passes=passes,
        minutes=minutes,
        Fc_N=cut.forces.Fc_N,
        Ff_N=cut.forces.Ff_N,
        Fp_N=cut.forces.Fp_N,
        Pc_kW=cut.Pc_kW,
        pressure_N=pressure.P_N,
        pressure_ratio=pressure.ratio,
        pressure_low=pressure.low,
        pressure_high=pressure.high,
        tie=any(abs(other - rank) == 1 for other in alike),
        tied_with=alike,
        doubts=tuple(one.why for one in _doubts(job, cut)),
        chatter_hz=ring.chatter_hz,
        mark_spacing_mm=ring.mark_spacing_mm,
        quiet_low_m_min=ring.quiet_low_m_min,
        quiet_m_min=ring.quiet_m_min,
        quiet_high_m_min=ring.quiet_high_m_min,
        damped_margin=ring.damped_margin,
        points=ring.points,
        stability_margin=cut.margin,
        stability_margin_low=cut.margin_low,
        stability_margin_high=cut.margin_high,
        regenerative_stiffness_N_mm=cut.K_N_mm,
        b_lim_mm=limit,
        holds=holds_of(job, cut),
        holds_to=_holds_to(job, limit),
        low_pressure=pressure.low_pressure,
        Rz_um=marks.Rz_um if (marks := marks_of(cut)) else None,
        size=size,
        power=power_of(cut.Pc_kW, job.material, cut.cut, job.machine, job.system),
        life=life,
        economy=economy_for(job, cut, life, minutes),
        reasons=(_holds(job, cut, limit), *pressure.reasons),
        drawbacks=(*drawbacks, *rubs),
        notes=(
            *notes_of(job, cut),
            *history,
            *_skins(cut),
            *thin,
            *_blows(job),
            _lobes(job, cut),
            *words_of(ring, cut, job.system),
            *_edges(life, minutes),
        ),
        assumed=tuple(dict.fromkeys((*job.assumed, *cut.assumed))),
        sources=_sources(job, cut),
        cautions=tuple(one.said for one in triggered(_triggers(job, cut), tables.cautions())),
    )


def _doubts(job: Job, cut: Cut) -> tuple[Doubt, ...]:
    """Say where the reckoned pressure is not to be trusted."""
    items = [cut.pair.arm.item] + ([cut.pair.insert.item] if cut.pair.insert else [])
    true = {
        WORN: any(item.condition == "worn" for item in items),
        INTERRUPTED: job.interrupted,
        HAND_GROUND: isinstance(cut.pair.arm, BitRow),
    }
    return doubts(
        cut.ap_mm,
        cut.f_mm,
        cut.tool,
        job.work,
        rules=tables.trust_rules(),
        vc_m_min=cut.vc_m_min,
        hb=job.hb,
        conditions=[name for name, holds in true.items() if holds],
    )


def pass_lines(cut: Cut, size: SizeErrors) -> tuple[PassLine, ...]:
    """Give the passes as an answer names them, with where to measure, and a spring pass where one is due."""
    timed, last = cut.timed_passes, len(cut.passes) - 1
    lines = []
    for at, one in enumerate(timed):
        measure = ""
        if at == last - 1:
            measure = "measure here, once it has cooled: the last cut is set by it"
        elif at == last and size.spring:
            measure = "measure here, then go over it once more at the same setting"
        feed = cut.finish_f_mm if one.kind == "finish" else cut.f_mm
        lines.append(
            PassLine(
                from_mm=one.from_mm,
                to_mm=one.to_mm,
                ap_mm=one.ap_mm,
                kind=one.kind,
                f_mm=feed,
                minutes=one.minutes,
                measure=measure,
            )
        )
    if size.spring:
        lines.append(replace(lines[-1], from_mm=lines[-1].to_mm, ap_mm=0.0, kind="spring", measure=""))
    return tuple(lines)


def _skins(cut: Cut) -> Iterable[str]:
    """Say what the table says of the skin that the first pass meets."""
    told = {one.condition: one.note for one in cut.data.factors if one.condition in SKINS and one.note}
    return (f"{condition}: {note}" for condition, note in told.items())


def minutes_of(cut: Cut, spring: bool) -> float | None:
    """Give the minutes in the cut, a spring pass with them; None where the length is not known."""
    if cut.minutes is None:
        return None
    return cut.minutes + (cut.timed_passes[-1].minutes or 0.0) * spring


def life_for(job: Job, cut: Cut) -> Life:
    """Give the life of an edge in the roughing passes."""
    how = (cut.vc_m_min, cut.f_mm, cut.ap_mm)
    return life_of(job.material, cut.data.tool_material, job.operation, *how, job.system)


def economy_for(job: Job, cut: Cut, life: Life, minutes: float | None) -> Economy | None:
    """Give at what speed it pays; None where no costs were told."""
    if job.prices is None:
        return None
    tool, most = cut.data.tool_material, cut.data.vc_m_min.high
    return economy_of(job.material, tool, job.operation, life, job.prices, minutes, most, job.system)


def _edges(life: Life, minutes: float | None) -> tuple[str, ...]:
    """Say how many edges the job may wear out, where one may not last it."""
    if minutes is None or life.low_min is None or minutes <= life.low_min:
        return ()
    return (f"{minutes:.0f} min in the cut: have {ceil(minutes / life.low_min)} edges at hand",)


def holds_of(job: Job, cut: Cut) -> str:
    """Say in a word or two whether the cut holds.

    Only measured figures of the set-up and a reserve by every source of the cutting force earn "holds".
    """
    if not cut.stable:
        return "will probably chatter"
    if cut.margin_low < 1.0:
        return "may hold"
    if job.setup.assumed or cut.margin_low < tables.pick_rules().wanted_margin:
        return "should hold"
    return "holds"


def _holds(job: Job, cut: Cut, limit: float | None) -> str:
    """Say in words whether the cut holds, and how deep."""
    said = holds_of(job, cut)
    times = "times what" if cut.stable else "of what"
    where = ", least in the finishing pass" if cut.worst == "finish" and len(cut.passes) > 1 else ""
    return f"{said}: {cut.margin:.2f} {times} is needed{where}; {_deep(job, limit)}{_band(cut)}"


def _band(cut: Cut) -> str:
    """Say how far the margin goes with the sources of the cutting force; nothing where they agree."""
    low, high = f"{cut.margin_low:.2f}", f"{cut.margin_high:.2f}"
    if low == high:
        return ""
    if cut.margin_low < 1.0 <= cut.margin:
        return f"; but {low} by the highest cutting force on record: then it rings"
    return f"; {low} to {high} by the cutting forces on record"


def _holds_to(job: Job, limit: float | None) -> str:
    if limit is None:
        return "any depth"
    if limit < tables.pick_rules().rubs_mm:
        return "none"
    return show(limit, Kind.LENGTH, job.system, both=False)


def _deep(job: Job, limit: float | None) -> str:
    if limit is None:
        return f"no depth within reach chatters, if it gives only {job.setup.gives.words}"
    if limit < tables.pick_rules().rubs_mm:
        return "no depth worth cutting holds at every speed"
    return f"up to {show(limit, Kind.LENGTH, job.system)} a side holds at every speed"


def _blows(job: Job) -> tuple[str, ...]:
    if not job.interrupted:
        return ()
    return ("forces and margin are those of an even cut: the blows of an interrupted one come on top",)


def _lobes(job: Job, cut: Cut) -> str:
    return _lobes_at(cut.n_rev_min, job.setup.frequency_hz, job.setup.damping_ratio)


@cache  # most candidates share the machine's step
def _lobes_at(n_rev_min: float, frequency_hz: float, damping_ratio: float) -> str:
    return lobe_use(n_rev_min, frequency_hz, damping_ratio, tables.rigidity_rules()).why


def _speed_sources(cut: Cut) -> tuple[str, ...]:
    """Give the sources of the speed's range; where no row of a table gave it, the first of the data's."""
    known = tables.speed_rows()
    keys = [key for row in cut.data.rows for key in known[row]["source"].split()] or cut.data.sources[:1]
    return tuple(dict.fromkeys(cite(key) for key in keys))


def _sources(job: Job, cut: Cut) -> tuple[str, ...]:
    keys = " ".join((*sources_of(cut), job.material.kc_source, *MODEL_SOURCES, BEAM_SOURCE))
    if "assumed figures" in job.setup.label:
        keys += " rig_setups"
    if bar_in(job, cut.pair) is not None:
        keys += f" {CLAMP_SOURCE}"
    return tuple(dict.fromkeys(cite(key) for key in dict.fromkeys(keys.split())))


# -- cautions ---------------------------------------------------------------------------------------------


def _triggers(job: Job, cut: Cut) -> set[str]:
    """Give the conditions of this cut that call for a caution."""
    rules = tables.pick_rules()
    true = {
        "measuring": len(cut.passes) > 1,
        "gauge in bore": job.operation == "boring" and len(cut.passes) > 1,
        "scale or interrupted": bool(job.conditions),
        "slender": job.operation == "turning" and (job.length_mm or 0.0) > rules.slender * job.to_mm,
        "hand grinding": isinstance(cut.pair.arm, BitRow),
        "support work": not cut.stable,
        "welding on the set-up": bool(job.held and _WELDED.search(job.held.note or "")),
    }
    found = {trigger for trigger, holds in true.items() if holds}
    return found | burning(job.material.name) | _machine_triggers(job) | _bar_triggers(job, cut.pair)


def _machine_triggers(job: Job) -> set[str]:
    machine = job.machine
    if machine is None:
        return set()
    found = {machine.kind}
    if uses_facing_head(job):
        found.add("facing head")
        if head.limit_unknown(machine):
            found.add("head limit unknown")
    if machine.kind == "boring mill" and job.setup.k_N_mm <= tables.pick_rules().tall_k_N_mm:
        found.add("tall set-up")
    return found


def _bar_triggers(job: Job, pair: Pair) -> set[str]:
    bar = pair.arm
    if not isinstance(bar, BarRow):
        return set()
    overhang = overhang_of(job, bar)
    if overhang is None or not bar.dcon_mm:
        return {"bar overhang unknown"}
    most = tables.pick_rules().long_bar(bar.shank_material or "steel")
    return {"long bar"} if overhang > most * bar.dcon_mm else set()


# -- the rest of the answer -------------------------------------------------------------------------------


def job_line(job: Job, ap_mm: float, said: tuple[str, ...]) -> JobLine:
    """Put the job as understood into an answer."""
    setup = job.setup
    return JobLine(
        op=job.operation,
        material=job.material.label,
        material_id=job.material.id,
        from_mm=job.from_mm,
        to_mm=job.to_mm,
        length_mm=job.length_mm,
        diameter_mm=job.d_mm,
        conditions=job.conditions,
        machine=job.machine.name if job.machine else None,
        hand=job.hand,
        site=job.site,
        setup=setup.label,
        setup_name=job.held.name if job.held else None,
        setup_point=job.held.point if job.held else None,
        learned=job.held.learned if job.held else (),
        gives=setup.gives.words,
        k_N_mm=setup.k_N_mm,
        frequency_hz=setup.frequency_hz,
        damping_ratio=setup.damping_ratio,
        ap_mm=ap_mm,
        units=job.system,
        assumed=tuple(dict.fromkeys((*job.assumed, *said))),
    )


def tool_name(item: ItemRow) -> ToolName:
    """Name a tool."""
    return ToolName(
        id=item.id,
        tag=item.tag,
        designation=item.designation,
        label=item.label,
        owner=item.owner,
        place=item.place,
        HAND=item.hand,
        edges_left=item.edges_left,
        condition=item.condition,
    )


def reject(holder: ItemRow, insert: ItemRow | None, why: str) -> Rejected:
    """Put what can't do the job into an answer."""
    return Rejected(holder=tool_name(holder), insert=tool_name(insert) if insert else None, why=why)


def rejected(unfit: Iterable[Unfit]) -> Iterable[Rejected]:
    """Put what can't do the job into an answer, what one looks for first.

    The wrong hand or kind is plain to see: what is out, damaged or incomplete is what one asks about.
    """
    ordered = sorted(unfit, key=lambda one: one.why.endswith(PLAIN_TO_SEE))
    return (reject(one.item, None, one.why) for one in ordered)


def said(
    job: Job, stock: Stock, shown: Sequence[Cut], candidates: Sequence[Candidate], ladder: Sequence[Change]
) -> tuple[str, str, str]:
    """Put the answer into three lines: the answer, how sure and why, what next."""
    if not shown:
        return _nothing(job, stock)
    best = candidates[0]
    insert = f" with {_code(best.insert)} ({best.insert.tag})" if best.insert else ""
    speed = f"{best.n_rev_min:.4g} rev/min, {show(best.f_mm, Kind.FEED, job.system)}"
    passes = f"{len(best.passes)} pass{'es' * (len(best.passes) > 1)}"
    if best.passes[-1].f_mm < best.f_mm:
        passes += f", the last at {show(best.passes[-1].f_mm, Kind.FEED, job.system, both=False)}"
    choice = f"{_code(best.holder)} ({best.holder.tag}){insert}: {speed}, {passes}."
    here = next((one for one in ladder if one.on_hand and not one.set_anew), None)
    enough, bought = enough_of(shown[0], [one for one in ladder if one.kind != "support"])
    if shown[0].stable:
        verdict = choice
        step = f"If it rings: {here.change}." if here else "If it rings, measure the set-up: push and tap."
    else:
        verdict = f"Nothing on hand holds as it stands. Least bad: {choice}"
        step = _before(here, enough, bought, ladder)
    tie = f" It pushes like {ranks(best.tied_with)}, as far as can be told." if best.tied_with else ""
    tie = tie if shown[0].stable else ""
    return verdict, f"{best.reasons[0][0].upper()}{best.reasons[0][1:]}.{tie} {_sure(job)}", step


def _before(
    here: Change | None, enough: Change | None, bought: Change | None, ladder: Sequence[Change]
) -> str:
    """Say what comes before a cut that does not hold: what is enough, or what would be."""
    if enough is not None:
        return f"Before starting: {enough.change}."
    would = next((one for one in ladder if one.kind == "support"), None)
    parts = [one.change for one in (bought, would) if one is not None]
    first = f" What helps most here: {here.change}." if here and here.kind != "support" else ""
    return f"No single change of tool or cut on hand is enough; what would be: {', or '.join(parts)}.{first}"


def ranks(ranks: Sequence[int]) -> str:
    """Put ranks into words: "2 and 3", "2, 3 and 4", "2 to 9"."""
    if len(ranks) > 3 and ranks[-1] - ranks[0] == len(ranks) - 1:
        return f"{ranks[0]} to {ranks[-1]}"
    listed = [str(rank) for rank in ranks[:5]]
    more = f" and {len(ranks) - 5} more" if len(ranks) > 5 else ""
    if more or len(listed) == 1:
        return ", ".join(listed) + more
    return f"{', '.join(listed[:-1])} and {listed[-1]}"


def _sure(job: Job) -> str:
    if not job.setup.assumed:
        return "By measured figures of the set-up."
    return "The set-up is partly assumed: a push, a tap, and which way it gives would settle it."


def _nothing(job: Job, stock: Stock) -> tuple[str, str, str]:
    parts = [item for pair in stock.elsewhere for item in away_of(job, pair)]
    away = "; ".join([*dict.fromkeys(f"{item.tag} {whereabouts(item)}" for item in parts)][:3])
    if away:
        ask = "Ask for it, or crib bring TAG when it is here."
        return "Nothing on hand does it.", f"What would: {away}.", ask
    return (
        "Nothing on record does it.",
        "Each was passed over for a reason of its own.",
        "Change the job (hand, machine, length), or enter what you have: crib intake FILE.",
    )


def _code(tool: ToolName) -> str:
    return tool.designation or tool.label
