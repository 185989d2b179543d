"""What the push leaves on the size: bar and set-up bend under a pass, and the edge takes less than was set.

Away from the tool the set-up gives by its own part of the push; a boring bar bends under the passive force
whatever else gives. Work and tool spring back: a turned diameter stays large, a bore small.
"""

from dataclasses import dataclass

from crib.desk import tables
from crib.desk.keeping.sources import cite
from crib.desk.picking.bar import bar_in
from crib.desk.picking.cut import Cut, Plan, finishes_apart, looked_at
from crib.desk.picking.job import Job
from crib.store.rows import BarRow
from crib.trade.cutting.chip import chip_flags, feed_for_chip_mm, smallest_chip
from crib.trade.cutting.force import Forces, cutting_forces
from crib.trade.rigidity.deflection import (
    BEAM_SOURCE,
    COPY_SOURCE,
    copied_error_mm,
    cut_stiffness_N_mm,
    size_error_mm,
)
from crib.trade.rigidity.pressure import force_towards
from crib.units import Kind, show, span

SPRING_SOURCE = "pick_spring"
STAYS = {"turning": "the work stays large", "boring": "the bore stays small", "facing": "the work stays long"}
NO_ERROR_MM = 0.0005  # half of the last digit that is shown


@dataclass(frozen=True, slots=True, kw_only=True)
class PassError:
    """What one pass leaves, in the measure of the sizes: on diameter, or on length when facing.

    Attributes:
        kind: rough or finish.
        ap_mm, f_mm: the pass.
        Fp_N, push_N: passive force, and the force along the way in which the set-up gives.
        setup_mm: left by the set-up.
        bar_mm: left by the bar's own bending; None where no bar bends, or how far it is out is not known.
        error_mm: both.
        low_mm, high_mm: by the band of the set-up's stiffness.
    """

    kind: str
    ap_mm: float
    f_mm: float
    Fp_N: float
    push_N: float
    setup_mm: float
    bar_mm: float | None
    error_mm: float
    low_mm: float
    high_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeErrors:
    """What the passes leave on the size, and what to do about it.

    Attributes:
        passes: the deepest roughing pass, and the last.
        spring: the last cut is to be gone over once more.
        left_mm: what that leaves; None where there is none.
        source: where it is from.
        said: in sentences.
    """

    passes: tuple[PassError, ...]
    spring: bool
    left_mm: float | None
    source: tuple[str, ...]
    said: tuple[str, ...]

    @property
    def last(self) -> PassError:
        """What the last cut leaves."""
        return self.passes[-1]


def size_errors(job: Job, cut: Cut) -> SizeErrors:
    """Give what the roughing passes and the last leave on the size.

    Args:
        job: the cut asked for.
        cut: the candidate's cut.
    """
    looks = looked_at(Plan.of(cut.passes), (cut.f_mm, cut.finish_f_mm))
    found = tuple(_pass_error(job, cut, *look) for look in looks)
    last = found[-1]
    spring = _springs(job, cut, last.error_mm, last.f_mm)
    left = _left(job, cut, last) if spring else None
    keys = [BEAM_SOURCE, SPRING_SOURCE, *([COPY_SOURCE] if spring else [])]
    return SizeErrors(
        passes=found,
        spring=spring,
        left_mm=left,
        source=tuple(dict.fromkeys(cite(key) for key in keys)),
        said=tuple(_words(job, found, left)),
    )


def minutes_per_mm(job: Job, cut: Cut) -> float:
    """Give the minutes in the cut for each millimetre of its length, any spring pass with them."""
    f_mm = cut.finish_f_mm if finishes_apart(cut.passes) else cut.f_mm
    setup_mm, bar_mm = _left_by(job, cut, cut.last_forces)
    spring = _springs(job, cut, setup_mm + (bar_mm or 0.0), f_mm)
    return cut.minutes_per_mm + spring / (cut.finish_f_mm * cut.n_rev_min)


def bar_k_N_mm(job: Job, cut: Cut) -> float | None:
    """Give the stiffness of the bar's tip; None where no bar bends in this cut, or its reach is not known."""
    bar = bar_in(job, cut.pair) if isinstance(cut.pair.arm, BarRow) else None
    return bar.k_N_mm if bar else None


def stiffness_band(job: Job) -> tuple[float, float]:
    """Give the set-up's stiffness at the ends of what is assumed of it, softest first."""
    rules = tables.pick_rules()
    assumed = any("stiffness" in line for line in job.setup.assumed)
    off = rules.unsure_stiffness if assumed else rules.measured_stiffness
    return job.setup.k_N_mm * (1.0 - off), job.setup.k_N_mm * (1.0 + off)


def _pass_error(job: Job, cut: Cut, kind: str, ap_mm: float, f_mm: float) -> PassError:
    forces = cutting_forces(ap_mm, f_mm, cut.tool, job.work, tables.force_model())
    setup_mm, bar_mm = _left_by(job, cut, forces)
    ends = sorted(setup_mm * job.setup.k_N_mm / k + (bar_mm or 0.0) for k in stiffness_band(job))
    return PassError(
        kind=kind,
        ap_mm=ap_mm,
        f_mm=f_mm,
        Fp_N=forces.Fp_N,
        push_N=force_towards(forces, job.setup.gives),
        setup_mm=setup_mm,
        bar_mm=bar_mm,
        error_mm=setup_mm + (bar_mm or 0.0),
        low_mm=ends[0],
        high_mm=ends[1],
    )


def _left_by(job: Job, cut: Cut, forces: Forces) -> tuple[float, float | None]:
    """Give what forces leave on the size, by the set-up and by the bar's own bending; None where none is."""
    gives, on_diameter = job.setup.gives, job.on_diameter
    bar = bar_k_N_mm(job, cut)
    setup_mm = gives.away * size_error_mm(
        force_towards(forces, gives), job.setup.k_N_mm, on_diameter=on_diameter
    )
    return setup_mm, size_error_mm(forces.Fp_N, bar, on_diameter=on_diameter) if bar else None


def _side(job: Job, error_mm: float) -> float:
    return abs(error_mm) / (2.0 if job.on_diameter else 1.0)


def _wanted(error_mm: float) -> bool:
    """Tell whether what a pass leaves is worth going over once more."""
    return abs(error_mm) > tables.pick_rules().spring_mm


def _springs(job: Job, cut: Cut, error_mm: float, f_mm: float) -> bool:
    """Tell whether a spring pass is due: wanted, with a chip that this edge cuts and does not only rub on."""
    if not _wanted(error_mm):
        return False
    least = smallest_chip(cut.tool.hone_um, job.work.iso513, tables.chip_rules()).low_mm
    return f_mm >= feed_for_chip_mm(least, _side(job, error_mm), cut.tool.RE_mm, cut.tool.KAPR_deg)


def _left(job: Job, cut: Cut, last: PassError) -> float:
    """Give what a spring pass leaves: the share of the error that is copied."""
    grows = cut_stiffness_N_mm(last.ap_mm, last.f_mm, cut.tool, job.work, tables.force_model())
    return copied_error_mm(last.error_mm, grows, abs(last.Fp_N) / _side(job, last.error_mm))


def _words(job: Job, found: tuple[PassError, ...], left: float | None) -> list[str]:
    """Say what the passes leave: the last first, for it is what counts."""
    last, where = found[-1], "diameter" if job.on_diameter else "length"

    def size(value: float) -> str:
        return show(round(abs(value), 4), Kind.LENGTH, job.system, fine=True)

    if abs(last.error_mm) < NO_ERROR_MM:
        return [f"the push leaves nothing to speak of on {where}: it gives {job.setup.gives.words}"]
    stays = STAYS[job.operation] if last.error_mm > 0.0 else "it draws in and cuts too deep"
    band = span(size(last.low_mm), size(last.high_mm))
    name = "finishing pass" if last.kind == "finish" else "last pass"
    said = [f"the {name} leaves about {size(last.error_mm)} on {where}: {stays}"]
    if left is not None:
        said[0] += f"; take a spring pass: it brings that to about {size(left)}"
    elif _wanted(last.error_mm):
        said[0] += "; so thin a spring pass would only rub: allow for it when setting the last cut"
    said.append(f"{band} by how stiff the set-up may be")
    if last.bar_mm is not None and abs(last.bar_mm) >= NO_ERROR_MM:
        said.append(f"of that the bar's own bending {size(last.bar_mm)}")
    if len(found) > 1 and found[0].kind == "rough":
        rough = found[0]
        told = f"a roughing pass leaves about {size(rough.error_mm)}"
        by_dial = ": set the finishing pass by measuring, not by the dial" * _wanted(rough.error_mm)
        said.append(told + by_dial)
    return said


def chip_words(job: Job, cut: Cut) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Say what speaks against a pass for its chip: what rubs, and what else to know.

    Args:
        job: the cut asked for.
        cut: the candidate's cut.
    """
    against: list[str] = []
    notes: list[str] = []
    for kind, ap_mm, f_mm in looked_at(Plan.of(cut.passes), (cut.f_mm, cut.finish_f_mm)):
        name = "finishing pass" if kind == "finish" else "roughing pass"
        for flag in chip_flags(ap_mm, f_mm, cut.tool, job.work.iso513, tables.chip_rules()):
            (against if flag.word == "rubs" else notes).append(f"{name}: {flag.word}: {flag.why}")
    return tuple(against), tuple(notes)
