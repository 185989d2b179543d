"""One cut of one candidate: speed that the machine has, feed, passes to size, forces, power, margin."""

from functools import cache, lru_cache
from math import inf
from typing import NamedTuple

from crib.desk import tables
from crib.desk.picking.bar import stiffness_of
from crib.desk.picking.job import Job, efficiency
from crib.desk.picking.stock import Pair, is_coated, uses_facing_head
from crib.desk.starting import head, own
from crib.errors import UnknownName
from crib.store.rows import BarRow, BitRow
from crib.trade.cutting.finish import feed_ceiling
from crib.trade.cutting.force import Forces, Slopes, cutting_forces, forces_and_slopes
from crib.trade.cutting.materials import Material
from crib.trade.cutting.passes import Pass, depth_limit, passes_by_step, plan_passes, with_minutes
from crib.trade.cutting.power import cutting_power_kW, motor_power_kW
from crib.trade.cutting.speeds import StartingData, find_tool_material, starting_data
from crib.trade.cutting.spindle import (
    STEP_SOURCE,
    cutting_speed,
    nearest_feed_not_above,
    nearest_not_above,
    spindle_speed,
)
from crib.trade.cutting.tool import CuttingTool, from_codes
from crib.trade.rigidity import chatter
from crib.trade.rigidity.pressure import Pressure, compare, tool_pressure
from crib.trade.tables import rows
from crib.units import Kind, show

# Lightest first: the cut whose printed depths reach the wanted one is the one whose speed and feed apply.
LIGHT_TO_HEAVY = ("finish", "medium", "rough", "heavy rough")
MOST_POWER_STEPS = 30
_NEARLY = 1.0 - 1e-9  # a depth read from inches is the same depth
SAME_FEED_MM = 0.001  # below the last digit of a feed chart
BREAKER_WORDS = ("finishing", "medium", "roughing", "sharp", "polished")
FLAME_CUT, FLAME_CUT_MM = "flame cut", 2.0  # the first cut must be at least so deep: speed_factors, V07
TOUGH = ("HSS", "cobalt HSS", "cast cobalt")
BRITTLE = ("ceramic", "CBN", "PCD")
HARD_NAMES = {"HSS": "hss", "cobalt HSS": "hss", "cast cobalt": "hss"}


class Plan(NamedTuple):
    """Passes to size, and those of them that are looked at.

    Attributes:
        passes: all of them.
        deepest: the first of the deepest.
        finish: the finishing pass; None where there is none apart.
    """

    passes: tuple[Pass, ...]
    deepest: Pass
    finish: Pass | None

    @classmethod
    def of(cls, passes: tuple[Pass, ...]) -> "Plan":
        """Look through passes."""
        finish = passes[-1] if finishes_apart(passes) else None
        return cls(passes, max(passes, key=lambda one: one.ap_mm), finish)


def finishes_apart(passes: tuple[Pass, ...]) -> bool:
    """Tell whether the last pass is a finishing pass behind roughing ones."""
    return len(passes) > 1 and passes[-1].kind == "finish"


class Cut(NamedTuple):
    """One candidate's cut, in figures.

    Attributes:
        pair: what cuts.
        tool: the same as the mechanics sees it.
        data: starting data behind speed and feed.
        cut: kind of cut that they are printed for.
        vc_m_min: cutting speed at the speed that the machine has.
        n_rev_min: that speed.
        f_mm: feed of the roughing passes.
        finish_f_mm: feed of the finishing pass.
        ap_mm: deepest pass, on the side.
        passes: to size.
        length_mm: way of the tool in each; None where it is not known.
        minutes_per_mm: in the cut for each millimetre of that, all passes.
        forces: of the deepest pass.
        last_forces: of the last pass that is looked at.
        Pc_kW: power at the edge.
        motor_kW: power the motor must have.
        pressure_N: how hard it pushes where the set-up gives.
        worst: kind of pass that comes nearest to chatter: a fine finishing feed can be the stiffer cut.
        K_N_mm: regenerative stiffness of that pass.
        k_N_mm: stiffness of set-up and bar together.
        margin: above 1 no pass chatters at any speed.
        margin_low: the same by the highest specific force of the sources.
        margin_high: the same by the lowest.
        assumed: what was taken for granted for this candidate.
    """

    pair: Pair
    tool: CuttingTool
    data: StartingData
    cut: str
    vc_m_min: float
    n_rev_min: float
    f_mm: float
    finish_f_mm: float
    ap_mm: float
    passes: tuple[Pass, ...]
    length_mm: float | None
    minutes_per_mm: float
    forces: Forces
    last_forces: Forces
    Pc_kW: float
    motor_kW: float
    pressure_N: float
    worst: str
    K_N_mm: float
    k_N_mm: float
    margin: float
    margin_low: float
    margin_high: float
    assumed: tuple[str, ...]

    @property
    def stable(self) -> bool:
        """Whether it holds at every speed."""
        return self.margin >= 1.0

    @property
    def timed_passes(self) -> tuple[Pass, ...]:
        """The passes, with minutes where the length is known."""
        if self.length_mm is None:
            return self.passes
        rough, finish = (self.f_mm, self.n_rev_min), (self.finish_f_mm, self.n_rev_min)
        return with_minutes(self.passes, self.length_mm, rough=rough, finish=finish)

    @property
    def minutes(self) -> float | None:
        """Minutes in the cut, all passes; None where the length is not known."""
        return None if self.length_mm is None else sum(one.minutes or 0.0 for one in self.timed_passes)


def depth_of_edge(pair: Pair, job: Job) -> float | None:
    """Give the depth that the candidate's edge stands, in mm; None where no rule or length is known."""
    if isinstance(pair.arm, BitRow):
        shank = pair.arm.shank_mm
        return None if shank is None else shank * tables.pick_rules().bit_depth_of_shank
    if pair.insert is None or (pair.insert.item.l_mm is None and pair.insert.item.ic_mm is None):
        return None
    item = pair.insert.item
    length = item.l_mm if item.l_mm is not None else item.ic_mm
    return _depth_of_length(job, item.sc or "", length or 0.0)


@lru_cache(maxsize=1024)
def _depth_of_length(job: Job, SC: str, L_mm: float) -> float | None:
    limit = depth_limit(SC, L_mm, rows, interrupted=job.interrupted)
    return limit.ap_mm if limit else None


def work_out(
    job: Job, pair: Pair, ap_mm: float, *, tool: CuttingTool | None = None, at: StartingData | None = None
) -> Cut:
    """Work out a candidate's cut with passes up to a depth.

    Args:
        job: the cut asked for.
        pair: what cuts.
        ap_mm: depth of the roughing passes, on the side; less where edge or motor stands less.
        tool: the same candidate with other figures, to see what hangs on them.
        at: other starting data than the tables', likewise.

    Raises:
        UnknownName: no speed is on record for this tool material in this work material.
    """
    known, material, said = tool_of(pair)
    tool = tool or known
    deepest = min(ap_mm, depth_of_edge(pair, job) or ap_mm)
    data, cut = data_for(job, material, deepest, tool)
    data = at or data
    n_rev_min, vc_m_min, speed_said = speed_for(job, data)
    f_mm, feed_said = feed_for(job, tool, data, cut)
    plan, (forces, slopes), depth_said = _plan_within_power(job, tool, deepest, f_mm, vc_m_min)
    finish_f_mm = finish_feed_for(job, tool, material, f_mm) if plan.finish else f_mm
    if deepest < ap_mm:
        depth_said = (f"depth held to {deepest:.3g} mm by the edge", *depth_said)
    k_N_mm, bar_said = stiffness_of(job, pair)
    margin, K_N_mm, worst, finishing = _nearest_to_chatter(
        job, tool, plan, (f_mm, finish_f_mm), slopes, k_N_mm
    )
    Pc_kW = cutting_power_kW(forces.Fc_N, vc_m_min)
    low, high = _band(job)
    return Cut(
        pair=pair,
        tool=tool,
        data=data,
        cut=cut,
        vc_m_min=vc_m_min,
        n_rev_min=n_rev_min,
        f_mm=f_mm,
        finish_f_mm=finish_f_mm,
        ap_mm=plan.deepest.ap_mm,
        passes=plan.passes,
        length_mm=job.length_mm,
        minutes_per_mm=((len(plan.passes) - 1) / f_mm + 1.0 / finish_f_mm) / n_rev_min,
        forces=forces,
        last_forces=finishing or forces,
        Pc_kW=Pc_kW,
        motor_kW=motor_power_kW(Pc_kW, efficiency_of(job)),
        pressure_N=tool_pressure(forces, job.setup.gives),
        worst=worst,
        K_N_mm=K_N_mm,
        k_N_mm=k_N_mm,
        margin=margin,
        margin_low=margin / high,
        margin_high=margin / low,
        assumed=(*said, *speed_said, *feed_said, *depth_said, *bar_said, *tool.assumed, *data.assumed),
    )


def _nearest_to_chatter(
    job: Job, tool: CuttingTool, plan: Plan, feeds_mm: tuple[float, float], slopes: Slopes, k_N_mm: float
) -> tuple[float, float, str, Forces | None]:
    """Give margin, regenerative stiffness and kind of the pass that comes nearest to chatter.

    With them the forces of a finishing pass, where there is one apart.

    Of roughing passes the deepest is looked at; its slopes are known. The finishing pass is shallower, but
    its finer feed makes a thinner chip, which is stiffer for its width.
    """
    setup, (deepest, *others) = job.setup, looked_at(plan, feeds_mm)
    K_N_mm = chatter.project(slopes, setup.gives)
    found = (chatter.margin(k_N_mm, setup.damping_ratio, K_N_mm), K_N_mm, deepest[0])
    forces: Forces | None = None
    for kind, ap_mm, f_mm in others:
        forces, slopes = forces_and_slopes(ap_mm, f_mm, tool, job.work, tables.force_model())
        K_N_mm = chatter.project(slopes, setup.gives)
        found = min(found, (chatter.margin(k_N_mm, setup.damping_ratio, K_N_mm), K_N_mm, kind))
    return (*found, forces)


def looked_at(plan: Plan, feeds_mm: tuple[float, float]) -> list[tuple[str, float, float]]:
    """Give the passes of which one comes nearest to chatter: kind, depth and feed in mm."""
    deepest, finish = plan.deepest, plan.finish
    cuts = [(deepest.kind, deepest.ap_mm, feeds_mm[0])]
    if finish and (finish.ap_mm, feeds_mm[1]) != (deepest.ap_mm, feeds_mm[0]):
        cuts.append((finish.kind, finish.ap_mm, feeds_mm[1]))
    return cuts


@lru_cache(maxsize=64)
def _band(job: Job) -> tuple[float, float]:
    """Give the lowest and highest specific force of the sources, over the one reckoned with.

    The stiffness of a cut is in proportion to it, so this is the band of the margin too.
    """
    material, kc11 = job.material, job.work.kc11_N_mm2
    return (material.kc_low_N_mm2 or kc11) / kc11, (material.kc_high_N_mm2 or kc11) / kc11


def sources_of(cut: Cut) -> tuple[str, ...]:
    """Give the source keys of speed, feed and their limits; asked only of candidates that are shown."""
    tool, insert = cut.tool, cut.pair.insert
    found = feed_ceiling(tool.SC, tool.RE_mm, cut.cut, rows).source.split() if tool.RE_mm > 0 else []
    length = (insert.item.l_mm or insert.item.ic_mm) if insert else None
    limit = depth_limit(tool.SC, length, rows) if length else None
    return (*cut.data.sources, STEP_SOURCE, *found, *(limit.source.split() if limit else ()))


# -- what cuts --------------------------------------------------------------------------------------------


def tool_of(pair: Pair) -> tuple[CuttingTool, str, tuple[str, ...]]:
    """Give a candidate as the mechanics sees it, its tool material, and what was assumed of that."""
    typed, said = _tool_material(pair)
    material = _known_material(typed)
    return _tool(pair, material), material, said


@lru_cache(maxsize=256)
def _known_material(typed: str) -> str:
    return find_tool_material(typed, tables.speeds())


def _tool_material(pair: Pair) -> tuple[str, tuple[str, ...]]:
    if isinstance(pair.arm, BitRow):
        told = pair.arm.tool_material
        return (told, ()) if told else ("HSS", ("tool material not on record: reckoned as HSS",))
    told = pair.insert.tool_material if pair.insert else None
    return (told, ()) if told else ("carbide", ("tool material not on record: reckoned as uncoated carbide",))


def _tool(pair: Pair, material: str) -> CuttingTool:
    if isinstance(pair.arm, BitRow):
        bit = pair.arm
        return from_codes(
            tables.tool_defaults(),
            KAPR_deg=bit.kapr_deg,
            RE_mm=bit.re_mm,
            rake_deg=bit.rake_deg,
            LAMS_deg=bit.inclination_deg,
            AN_deg=bit.clearance_deg,
            tool_material=_hard(material),
            kind="bit",
        )
    insert = pair.insert
    if insert is None:  # a holder is paired with inserts only
        raise AssertionError("a holder or bar without an insert can't cut")
    return from_codes(
        tables.tool_defaults(),
        SC=insert.item.sc or "",
        AN_deg=insert.item.an_deg,
        type_letter=insert.type_letter or "",
        tolerance=insert.tolerance or "",
        edge_condition=insert.edge_condition,
        KAPR_deg=pair.KAPR_deg,
        RE_mm=insert.re_mm,
        L_mm=insert.item.l_mm,
        tool_material=_hard(material),
        coated=is_coated(insert),
        chipbreaker_use=_breaker_use(insert.chipbreaker),
        kind="bar" if isinstance(pair.arm, BarRow) else "holder",
    )


@cache
def _hard(material: str) -> str:
    return HARD_NAMES.get(material, "carbide" if "carbide" in material else material.lower())


@lru_cache(maxsize=1024)
def _breaker_use(chipbreaker: str | None) -> str | None:
    words = (chipbreaker or "").lower()
    return next((word for word in BREAKER_WORDS if word in words), None)


# -- speed and feed ---------------------------------------------------------------------------------------


def data_for(
    job: Job, tool_material: str, ap_mm: float, tool: CuttingTool | None = None
) -> tuple[StartingData, str]:
    """Give the starting data of the lightest cut whose printed depths reach the wanted one.

    The shop's own proven speed for such a cut stands beside, or in its place where the setting says so.

    Raises:
        UnknownName: nothing is on record for this tool material in this work material.
    """
    data, cut = _data_for(job, tool_material, ap_mm)
    if job.own and tool is not None:  # own speeds count by the depth that is really cut
        ap_mm = plan_for(job, tool, ap_mm).deepest.ap_mm
    return own.for_job(job, data, cut, ap_mm), cut


@lru_cache(maxsize=1024)
def _data_for(job: Job, tool_material: str, ap_mm: float) -> tuple[StartingData, str]:
    # "weak" lowers nothing by itself; it brings the source's word on what to do when it rings
    conditions = (*job.conditions, "weak") if job.weak else job.conditions
    found: tuple[StartingData, str] | None = None
    for cut in LIGHT_TO_HEAVY:
        try:
            data = starting_data(
                job.material,
                tool_material,
                job.operation,
                cut,
                tables.speeds(),
                conditions=conditions,
                hb=job.hb,
            )
        except UnknownName:
            if found is None and cut == LIGHT_TO_HEAVY[-1]:
                raise
            continue
        found = data, cut
        if data.ap_mm.high >= ap_mm:
            break
    assert found is not None
    return found


def speed_for(job: Job, data: StartingData) -> tuple[float, float, tuple[str, ...]]:
    """Give the spindle speed that the machine has, the cutting speed it makes, and what to know of it."""
    return _speed(job, data.vc_m_min.start)


@lru_cache(maxsize=1024)
def _speed(job: Job, vc_m_min: float) -> tuple[float, float, tuple[str, ...]]:
    wanted, said = spindle_speed(vc_m_min, job.d_mm), tuple[str, ...]()
    if job.machine and uses_facing_head(job):
        wanted, said = head.held(job.machine, wanted, job.d_mm)
    if job.speeds is None:
        return wanted, cutting_speed(wanted, job.d_mm), said
    chosen = nearest_not_above(wanted, job.speeds)
    said = (*said, chosen.note) if chosen.note else said
    return chosen.value, cutting_speed(chosen.value, job.d_mm), said


def feed_for(job: Job, tool: CuttingTool, data: StartingData, cut: str) -> tuple[float, tuple[str, ...]]:
    """Give the feed: as told, else where the table starts, within what nose and machine allow."""
    most = most_feed(tool, cut)
    if job.f_mm is not None:
        return job.f_mm, _not_its_feed(job, job.f_mm)
    said: list[str] = []
    wanted = data.f_mm.start
    if most < wanted:
        said.append(f"feed held to {most:.3g} mm/rev by the {tool.RE_mm:g} mm nose")
        wanted = most
    f_mm, note = _feed(job, wanted)
    return f_mm, (*said, *note)


@lru_cache(maxsize=1024)
def _feed(job: Job, wanted: float) -> tuple[float, tuple[str, ...]]:
    """Give the machine's nearest feed, and what to know of it."""
    if job.feeds is None:
        return wanted, ()
    chosen = nearest_feed_not_above(wanted, job.feeds)
    return chosen.value, (chosen.note,) if chosen.note else ()


def _not_its_feed(job: Job, f_mm: float) -> tuple[str, ...]:
    """Say that a feed as told is not one of the machine's, and which of its feeds lie beside it."""
    if job.feeds is None or any(abs(step - f_mm) <= SAME_FEED_MM for step in job.feeds.steps):
        return ()
    below = [show(step, Kind.FEED, job.system) for step in job.feeds.steps if step < f_mm][-1:]
    above = [show(step, Kind.FEED, job.system) for step in job.feeds.steps if step > f_mm][:1]
    return ("the feed as told is not one of the machine's: it has " + " and ".join((*below, *above)),)


def most_feed(tool: CuttingTool, cut: str) -> float:
    """Give the largest feed that a nose stands, in mm/rev; infinite for a sharp corner, which sets none."""
    return _most_feed(tool.SC, tool.RE_mm, cut == "finish")


@lru_cache(maxsize=1024)
def _most_feed(SC: str, RE_mm: float, finish: bool) -> float:
    return feed_ceiling(SC, RE_mm, "finish" if finish else "rough", rows).f_mm if RE_mm > 0 else inf


def finish_feed_for(job: Job, tool: CuttingTool, tool_material: str, f_mm: float) -> float:
    """Give the feed of the finishing pass: as told, else where finishing rows start; never above roughing."""
    if job.f_mm is not None:
        return job.f_mm
    finishing = finish_data(job.material, tool_material, job.operation, job.hb)
    start = finishing.f_mm.start if finishing else inf
    wanted = min(start, most_feed(tool, "finish"), f_mm)
    return _feed(job, wanted)[0]


@lru_cache(maxsize=256)
def finish_data(
    material: Material, tool_material: str, operation: str, hb: float | None = None
) -> StartingData | None:
    """Give the starting data of the finishing rows; None where there are none."""
    try:
        return starting_data(material, tool_material, operation, "finish", tables.speeds(), hb=hb)
    except UnknownName:
        return None


# -- passes -----------------------------------------------------------------------------------------------


def plan_for(job: Job, tool: CuttingTool, ap_mm: float) -> Plan:
    """Plan the passes to size: of the step or depth told, else roughing passes and a finishing pass."""
    if job.depth_mm is not None:
        return _planned(job, ap_mm, 0.0)
    rules = tables.pick_rules()
    finish = min(max(tool.RE_mm * rules.finish_of_nose, rules.least_finish_mm), rules.most_finish_mm)
    return _planned(job, ap_mm, finish)


@lru_cache(maxsize=1024)
def _planned(job: Job, ap_mm: float, finish_ap_mm: float) -> Plan:
    on = job.on_diameter
    if job.step_mm is not None and ap_mm >= min(job.depth_mm or 0.0, job.stock_mm) * _NEARLY:
        return Plan.of(passes_by_step(job.from_mm, job.to_mm, step_mm=job.step_mm, on_diameter=on))
    return Plan.of(
        plan_passes(
            job.from_mm,
            job.to_mm,
            max_ap_mm=ap_mm,
            finish_ap_mm=finish_ap_mm,
            least_ap_mm=finish_ap_mm,
            on_diameter=on,
        )
    )


@lru_cache(maxsize=64)
def efficiency_of(job: Job) -> float:
    """Give the drive's efficiency: on record, else the low end of what is usual."""
    return efficiency(job.machine)


def _plan_within_power(
    job: Job, tool: CuttingTool, ap_mm: float, f_mm: float, vc_m_min: float
) -> tuple[Plan, tuple[Forces, Slopes], tuple[str, ...]]:
    """Plan passes no deeper than the motor pulls; give what the deepest does too."""
    model, said = tables.force_model(), tuple[str, ...]()
    at_edge = job.machine.power_kw * efficiency_of(job) if job.machine and job.machine.power_kw else inf
    for _ in range(MOST_POWER_STEPS):
        plan = plan_for(job, tool, ap_mm)
        deepest = plan.deepest.ap_mm
        load = forces_and_slopes(deepest, f_mm, tool, job.work, model)
        needed = cutting_power_kW(load[0].Fc_N, vc_m_min)
        if needed <= at_edge:
            break
        assert job.machine is not None
        said = (f"depth held by the motor: {job.machine.power_kw:.3g} kW on record",)
        ap_mm = deepest * min(0.95, at_edge / needed)
    return plan, load, said


def ratio_of(job: Job, cut: Cut) -> float:
    """Give a candidate's pressure over that of the plain reference insert in the same cut."""
    return cut.pressure_N / _plain_pressure(job, cut.ap_mm, cut.f_mm)


@lru_cache(maxsize=1024)
def _plain_pressure(job: Job, ap_mm: float, f_mm: float) -> float:
    plain = cutting_forces(ap_mm, f_mm, tables.rigidity_rules().reference, job.work, tables.force_model())
    return tool_pressure(plain, job.setup.gives)


def drawbacks_of(job: Job, cut: Cut) -> tuple[str, ...]:
    """Say what speaks against a candidate although its figures are good (common practice)."""
    found, rules = list(cut.pair.notes), tables.pick_rules()
    if job.conditions and cut.tool.hone_um < rules.sharp_um and cut.data.tool_material not in TOUGH:
        found.append("a sharp edge chips easily under a hard skin or in an interrupted cut")
    if cut.data.tool_material in BRITTLE and (job.weak or job.conditions or not cut.stable):
        found.append(f"{cut.data.tool_material} is brittle: it wants an even cut that does not ring")
    breaker = (cut.pair.insert.chipbreaker or "").lower() if cut.pair.insert else ""
    past = cut.ap_mm > rules.breaker_finish_ap_mm or cut.f_mm > rules.breaker_finish_f_mm
    if "finishing" in breaker and past:
        found.append("its finishing breaker is not made for this depth and feed: the chip may not break")
    if cut.f_mm > most_feed(cut.tool, cut.cut):
        found.append("the feed as told is more than its nose stands")
    return tuple(found)


def notes_of(job: Job, cut: Cut) -> tuple[str, ...]:
    """Give what records and tables add for this candidate, and is no drawback."""
    items = [cut.pair.arm.item] + ([cut.pair.insert.item] if cut.pair.insert else [])
    said = [f"{item.tag}: {item.note}" for item in items if item.note and item.condition != "worn"]
    first_mm = cut.passes[0].ap_mm
    if FLAME_CUT in job.conditions and first_mm < FLAME_CUT_MM:
        shown = show(first_mm, Kind.LENGTH, job.system)
        said.append(f"the first pass of {shown} stays in the layer that the flame hardened")
    return (*said, *cut.data.notes)


# -- what is only worked out for the candidates that are shown --------------------------------------------


def pressure_of(job: Job, cut: Cut) -> Pressure:
    """Compare a candidate's pressure with the plain reference insert in the same cut, with reasons."""
    return compare(
        cut.ap_mm,
        cut.f_mm,
        cut.tool,
        job.work,
        gives=job.setup.gives,
        rules=tables.rigidity_rules(),
        model=tables.force_model(),
    )


def limit_of(job: Job, cut: Cut) -> float | None:
    """Give the depth to which every speed is stable, in mm; None when no depth its edge stands chatters.

    It is for the roughing feed; where the finishing pass is what chatters, for the finishing feed.
    """
    f_mm = cut.finish_f_mm if cut.worst == "finish" and not cut.stable else cut.f_mm
    most = depth_of_edge(cut.pair, job) or max(job.stock_mm, cut.ap_mm)
    return chatter.limit_depth(
        f_mm,
        cut.tool,
        job.work,
        gives=job.setup.gives,
        k_N_mm=cut.k_N_mm,
        damping_ratio=job.setup.damping_ratio,
        model=tables.force_model(),
        ap_max_mm=most,
    )
