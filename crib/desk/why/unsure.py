"""What would change an answer most: each assumed or uncertain input at either end, worked out again."""

from collections.abc import Iterator
from dataclasses import replace
from math import inf

from crib.desk import tables
from crib.desk.picking.cut import Cut, work_out
from crib.desk.picking.job import Job
from crib.desk.why.step import Sensitivity
from crib.trade.cutting.force import Forces
from crib.trade.cutting.speeds import Range
from crib.trade.cutting.tool import CuttingTool
from crib.trade.rigidity.pressure import tool_pressure
from crib.trade.rigidity.setup import Gives

Ends = tuple[float | None, float | None]
NAMES = {"margin": "margin", "Fc_N": "cutting force", "pressure_N": "tool pressure", "minutes": "time"}


def unsure(job: Job, cut: Cut, ap_mm: float) -> tuple[Sensitivity, ...]:
    """List what would change an answer most, the largest change first.

    Args:
        job: the cut asked for.
        cut: the candidate's cut.
        ap_mm: depth of the roughing passes that it was worked out with.
    """
    found = [
        *_force(job, cut, ap_mm),
        *_setup(job, cut, ap_mm),
        *_gives(job, cut, ap_mm),
        *_tool(job, cut, ap_mm),
        *_start(job, cut, ap_mm),
    ]
    return tuple(sorted(found, key=lambda one: -one.times))


def _force(job: Job, cut: Cut, ap_mm: float) -> Iterator[Sensitivity]:
    """The sources of the specific cutting force."""
    low, high = job.material.kc_low_N_mm2, job.material.kc_high_N_mm2
    if low is None or high is None or low == high:
        return
    ends = [
        work_out(replace(job, work=replace(job.work, kc11_N_mm2=kc11)), cut.pair, ap_mm)
        for kc11 in (low, high)
    ]
    what = "specific cutting force kc1.1, over its sources"
    yield _changed(what, (f"{low:.0f} N/mm²", f"{high:.0f} N/mm²"), cut, ends)


def _setup(job: Job, cut: Cut, ap_mm: float) -> Iterator[Sensitivity]:
    """Stiffness and damping of the set-up; less unsure where they were measured."""
    rules, setup = tables.pick_rules(), job.setup
    said = " ".join(setup.assumed)
    off = rules.unsure_stiffness if "stiffness" in said else rules.measured_stiffness
    figures = [setup.k_N_mm * times for times in (1.0 - off, 1.0 + off)]
    ends = [work_out(replace(job, setup=replace(setup, k_N_mm=k)), cut.pair, ap_mm) for k in figures]
    what = f"stiffness of the set-up, ± {off:.0%}"
    yield _changed(what, (f"{figures[0]:.0f} N/mm", f"{figures[1]:.0f} N/mm"), cut, ends)
    off = rules.unsure_damping if "damping" in said else rules.measured_damping
    figures = [setup.damping_ratio * times for times in (1.0 - off, 1.0 + off)]
    ends = [
        work_out(replace(job, setup=replace(setup, damping_ratio=min(ratio, 0.99))), cut.pair, ap_mm)
        for ratio in figures
    ]
    yield _changed(f"damping, ± {off:.0%}", (f"{figures[0]:.3g}", f"{figures[1]:.3g}"), cut, ends)


def _gives(job: Job, cut: Cut, ap_mm: float) -> Iterator[Sensitivity]:
    """Which way the set-up gives, where that was assumed: the worst and the best of all."""
    if not any(line.startswith("taken to give") for line in job.setup.assumed):
        return
    others = [_giving(job, cut, ap_mm, way) for way in tables.directions().values()]
    ordered = sorted(others, key=lambda one: one[1].margin)
    worst, best = ordered[0], ordered[-1]
    yield _changed("which way it gives", (worst[0], best[0]), cut, [worst[1], best[1]])


def _giving(job: Job, cut: Cut, ap_mm: float, way: Gives) -> tuple[str, Cut]:
    return way.words, work_out(replace(job, setup=replace(job.setup, gives=way)), cut.pair, ap_mm)


def _tool(job: Job, cut: Cut, ap_mm: float) -> Iterator[Sensitivity]:
    """Rake and edge rounding, where they were assumed, and the direction in which a nose pushes."""
    model, tool = tables.force_model(), cut.tool
    if tool.rake_assumed:
        rakes = [tool.rake_deg - model.band_rake_deg, tool.rake_deg + model.band_rake_deg]
        tools = [replace(tool, rake_deg=rake) for rake in rakes]
        yield _with_tools("rake of the tool", (f"{rakes[0]:+g}°", f"{rakes[1]:+g}°"), job, cut, ap_mm, tools)
    if tool.edge_assumed:
        hones = [tool.hone_um * model.band_hone_low, tool.hone_um * model.band_hone_high]
        tools = [replace(tool, hone_um=hone) for hone in hones]
        words = (f"{hones[0]:.3g} µm", f"{hones[1]:.3g} µm")
        yield _with_tools("rounding of the edge", words, job, cut, ap_mm, tools)
    forces = cut.forces
    local = forces._replace(Ff_N=forces.Ff_local_N, Fp_N=forces.Fp_local_N)
    chord = forces._replace(Ff_N=forces.Ff_chord_N, Fp_N=forces.Fp_chord_N)
    ends = [_pushed(job, cut, one) for one in (local, chord)]
    words = ("along local normals", "square to the edge's chord")
    yield _changed("direction in which the nose pushes", words, cut, ends)


def _pushed(job: Job, cut: Cut, forces: Forces) -> Cut:
    return cut._replace(forces=forces, pressure_N=tool_pressure(forces, job.setup.gives))


def _with_tools(
    what: str, words: tuple[str, str], job: Job, cut: Cut, ap_mm: float, tools: list[CuttingTool]
) -> Sensitivity:
    return _changed(what, words, cut, [work_out(job, cut.pair, ap_mm, tool=tool) for tool in tools])


def _start(job: Job, cut: Cut, ap_mm: float) -> Iterator[Sensitivity]:
    """Where in the ranges of speed and feed to start."""
    vc, f = cut.data.vc_m_min, cut.data.f_mm
    if vc.low < vc.high:
        starts = [replace(cut.data, vc_m_min=_at(vc, end)) for end in (vc.low, vc.high)]
        ends = [work_out(job, cut.pair, ap_mm, at=data) for data in starts]
        words = (f"{vc.low:.4g} m/min", f"{vc.high:.4g} m/min")
        yield _changed("start in the range of speeds", words, cut, ends)
    if f.low < f.high and job.f_mm is None:
        starts = [replace(cut.data, f_mm=_at(f, end)) for end in (f.low, f.high)]
        ends = [work_out(job, cut.pair, ap_mm, at=data) for data in starts]
        words = (f"{f.low:.3g} mm/rev", f"{f.high:.3g} mm/rev")
        yield _changed("start in the range of feeds", words, cut, ends)


def _at(found: Range, start: float) -> Range:
    return Range(low=found.low, start=start, high=found.high)


def _changed(what: str, words: tuple[str, str], cut: Cut, ends: list[Cut]) -> Sensitivity:
    """Set an answer's figures at both ends beside each other, and find the one that changes most."""
    low, high = ends
    figures: dict[str, Ends] = {
        "margin": (low.margin, high.margin),
        "Fc_N": (low.forces.Fc_N, high.forces.Fc_N),
        "pressure_N": (low.pressure_N, high.pressure_N),
        "minutes": (low.minutes, high.minutes),
    }
    now = {
        "margin": cut.margin,
        "Fc_N": cut.forces.Fc_N,
        "pressure_N": cut.pressure_N,
        "minutes": cut.minutes,
    }
    times = {key: _times((now[key], *pair)) for key, pair in figures.items()}
    most = max(times, key=lambda key: times[key])
    return Sensitivity(
        what=what,
        low=words[0],
        high=words[1],
        margin=figures["margin"],
        Fc_N=figures["Fc_N"],
        pressure_N=figures["pressure_N"],
        minutes=figures["minutes"],
        most=NAMES[most],
        times=times[most],
    )


def _times(figures: tuple[float | None, ...]) -> float:
    """Give how many times the largest is of the smallest; 1 where one is missing or not above 0."""
    known = [one for one in figures if one is not None]
    if len(known) < len(figures) or min(known) <= 0.0 or min(known) == inf:
        return 1.0
    return max(known) / min(known)
