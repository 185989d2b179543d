"""If it rings: at what pitch, with what marks, what rubbing of the flank does at this speed, and where."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite

from crib.desk import tables
from crib.desk.picking.cut import Cut, Plan, looked_at
from crib.desk.picking.job import Job
from crib.trade.rigidity.chatter import (
    allowed_stiffness,
    chatter_frequency,
    regenerative_stiffness,
    wave_length,
)
from crib.trade.rigidity.process_damping import contact_mm, damped_gain, quiet_speed, rubbing_of
from crib.units import Kind, show


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPoint:
    """How a cut fares at another point of the kept set-up."""

    point: str
    stability_margin: float
    k_N_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """What is to be expected if a cut rings.

    Attributes:
        chatter_hz: pitch at which it starts.
        mark_spacing_mm: of the marks along the cut, at the cutting speed.
        quiet_low_m_min, quiet_m_min, quiet_high_m_min: speed below which rubbing of the flank stops all
            chatter, by how strongly the edge rubs.
        damped_margin: margin with that rubbing at the cutting speed; None where nothing rings.
        points: the other points of the set-up.
    """

    chatter_hz: float
    mark_spacing_mm: float
    quiet_low_m_min: float
    quiet_m_min: float
    quiet_high_m_min: float
    damped_margin: float | None
    points: tuple[AtPoint, ...]


def ring_of(job: Job, cut: Cut) -> Ring:
    """Give what is to be expected if a cut rings."""
    setup = job.setup
    hz = chatter_frequency(setup.frequency_hz, setup.damping_ratio, negative=cut.K_N_mm < 0.0)
    low, middle, high = quiet_speeds(job, cut)
    damped = cut.margin * damped_gain(cut.vc_m_min, middle, setup.damping_ratio)
    return Ring(
        chatter_hz=hz,
        mark_spacing_mm=wave_length(cut.vc_m_min, hz),
        quiet_low_m_min=low,
        quiet_m_min=middle,
        quiet_high_m_min=high,
        damped_margin=damped if isfinite(damped) else None,
        points=_elsewhere(job, cut),
    )


def quiet_speeds(job: Job, cut: Cut) -> tuple[float, float, float]:
    """Give the speed below which rubbing stops all chatter, low, as reckoned and high, in m/min."""
    ap_mm, f_mm = _worst(cut)
    rubs = rubbing_of(cut.tool.hone_um, tables.rubbing())
    contact = contact_mm(ap_mm, f_mm, cut.tool, job.setup.gives)

    def at(C_N_m: float) -> float:
        return quiet_speed(cut.K_N_mm, contact, job.setup.frequency_hz, job.setup.damping_ratio, C_N_m)

    return at(rubs.low_N_m), at(rubs.C_N_m), at(rubs.high_N_m)


def words_of(ring: Ring, cut: Cut, system: str) -> tuple[str, ...]:
    """Say what is to be heard and seen, and where rubbing helps."""
    space = show(float(f"{ring.mark_spacing_mm:.2g}"), Kind.LENGTH, system)
    said = [f"if it rings: about {ring.chatter_hz:.3g} Hz, marks {space} apart along the cut"]
    low, high = (
        show(value, Kind.SPEED, system, both=False) for value in (ring.quiet_low_m_min, ring.quiet_high_m_min)
    )
    if 0.0 < ring.quiet_low_m_min < inf:
        now = ", and this is one" if cut.vc_m_min < ring.quiet_low_m_min else ""
        said.append(f"at slow speeds, below {low} to {high}, the flank rubs the waves flat{now}")
    said += [
        f"at the {one.point}: margin {one.stability_margin:.2f}"
        + ("" if one.stability_margin >= 1.0 else ", it will probably chatter there")
        for one in ring.points
    ]
    return tuple(said)


def sharper_rings(job: Job, cuts: Sequence[Cut], rings: Sequence[Ring]) -> str:
    """Say that the tool which pushes least may still ring more, where slow speed makes it so; else nothing.

    It applies where rubbing of the flank turns the order round: another tool has the smaller margin without
    rubbing and, at the cutting speed of the one that pushes least, the larger with it; both by the careful
    end of what is known of rubbing. Where the gentlest holds with a reserve there is nothing to say.
    """
    if not cuts:
        return ""
    zeta, least = job.setup.damping_ratio, tables.pick_rules().least_gain
    at = min(range(len(cuts)), key=lambda index: cuts[index].pressure_N)
    keen, vc_m_min = cuts[at], cuts[at].vc_m_min
    keen_margin = keen.margin * damped_gain(vc_m_min, rings[at].quiet_low_m_min, zeta)
    if keen_margin >= tables.pick_rules().wanted_margin:
        return ""
    for cut, ring in zip(cuts, rings, strict=True):
        with_rubbing = cut.margin * damped_gain(vc_m_min, ring.quiet_low_m_min, zeta)
        if cut.margin < keen.margin and with_rubbing > keen_margin * least:
            duller, sharper = (one.pair.insert or one.pair.arm for one in (cut, keen))
            return (
                f"{sharper.item.tag} pushes least, but at so slow a speed its keen edge rubs less on the "
                f"waves: {duller.item.tag} would stay further from chatter there"
            )
    return ""


def _worst(cut: Cut) -> tuple[float, float]:
    """Give depth and feed of the pass that is nearest to chatter."""
    looks = looked_at(Plan.of(cut.passes), (cut.f_mm, cut.finish_f_mm))
    return next((ap_mm, f_mm) for kind, ap_mm, f_mm in looks if kind == cut.worst)


def _elsewhere(job: Job, cut: Cut) -> tuple[AtPoint, ...]:
    """Give the margins at the other points of the kept set-up, at the pass that is nearest to chatter."""
    if job.held is None:
        return ()
    own = max(0.0, 1.0 / cut.k_N_mm - 1.0 / job.setup.k_N_mm)  # what the bar gives, in mm/N
    ap_mm, f_mm = _worst(cut)
    found = []
    for point in job.held.points:
        if point.name == job.held.point:
            continue
        setup, model = point.setup, tables.force_model()
        K = regenerative_stiffness(ap_mm, f_mm, cut.tool, job.work, gives=setup.gives, model=model)
        k = 1.0 / (1.0 / setup.k_N_mm + own)
        allowed = allowed_stiffness(k, setup.damping_ratio, negative=K < 0.0)
        found.append(AtPoint(point=point.name, stability_margin=allowed / abs(K) if K else inf, k_N_mm=k))
    return tuple(found)
