"""Changes of the cut itself: feed, depth, speed."""

from collections.abc import Iterator
from dataclasses import replace
from math import inf, isfinite

from crib.desk import tables
from crib.desk.picking.cut import Cut, limit_of, most_feed, work_out
from crib.desk.picking.job import Job
from crib.desk.picking.ring import quiet_speeds
from crib.desk.ringing.change import Change, effects_of
from crib.trade.cutting.spindle import cutting_speed
from crib.trade.rigidity.chatter import allowed_at_speed, allowed_stiffness, lobe_use
from crib.trade.rigidity.ladder import gain
from crib.trade.rigidity.process_damping import damped_gain
from crib.units import Kind, show

MOST_GAIN = 10.0  # a speed at which rubbing stops all chatter counts as this, or no other change would show


def other_feed(job: Job, best: Cut) -> Iterator[Change]:
    """The next feed up, as far as the nose stands it: a thicker chip is a little softer to waves."""
    if job.feeds is None:
        return
    most = min(best.f_mm * tables.pick_rules().next_feed, most_feed(best.tool, best.cut))
    nexts = [f for f in job.feeds.steps if best.f_mm < f <= most]
    if not nexts:
        return
    f_mm = min(nexts)
    cut = work_out(replace(job, f_mm=f_mm), best.pair, best.ap_mm)
    last = "for the last pass too: rougher finish" if best.finish_f_mm < best.f_mm else "rougher finish"
    more = f"{last}, {cut.forces.Fc_N / best.forces.Fc_N:.2g} times the cutting force"
    yield from _if_worth(job, best, cut, f"feed up to {show(f_mm, Kind.FEED, job.system)}", more, "feed")


def other_depth(job: Job, best: Cut) -> Iterator[Change]:
    """Less depth, where the stiffness of the cut grows with it; more, where a thin pass is the stiffer."""
    rules = tables.pick_rules()
    half = best.ap_mm * rules.half_depth
    if half >= rules.least_finish_mm:
        cut = work_out(replace(job, depth_mm=half, step_mm=None), best.pair, half)
        words = f"half the depth, {show(half, Kind.LENGTH, job.system)} a side"
        more = f"{len(cut.passes)} passes instead of {len(best.passes)}"
        yield from _if_worth(job, best, cut, words, more, "depth")
    if job.depth_mm is None and len(best.passes) > 1:
        whole = job.stock_mm
        cut = work_out(replace(job, depth_mm=whole, step_mm=None), best.pair, whole)
        deep = show(cut.ap_mm, Kind.LENGTH, job.system)
        more = f"{len(cut.passes)} instead of {len(best.passes)} passes: past the nose depth costs little"
        yield from _if_worth(job, best, cut, f"deeper passes, {deep} a side", more, "depth")
    limit = limit_of(job, best)
    if limit is not None and not best.stable and limit >= rules.least_finish_mm:
        deep = show(limit, Kind.LENGTH, job.system)
        yield Change(
            change=f"no deeper than {deep} a side",
            gain=1.0 / best.margin,
            how="there it just holds at every speed",
            kind="depth",
            holds=True,
        )


def other_speed(job: Job, best: Cut) -> Iterator[Change]:
    """A slower speed of the machine, where rubbing of the flank damps; or one between two lobes."""
    if job.speeds is None:
        return
    yield from _slower(job, best)
    yield from _between_lobes(job, best)


def _slower(job: Job, best: Cut) -> Iterator[Change]:
    """The fastest slower step that is worth it by the careful end of what is known of rubbing."""
    assert job.speeds is not None
    low, _, high = quiet_speeds(job, best)
    zeta = job.setup.damping_ratio
    now = damped_gain(best.vc_m_min, low, zeta)
    if not isfinite(now):
        return
    for n in sorted((n for n in job.speeds.steps if n < best.n_rev_min), reverse=True):
        vc_m_min = cutting_speed(n, job.d_mm)
        won = min(MOST_GAIN, damped_gain(vc_m_min, low, zeta) / now)
        if won < tables.pick_rules().least_gain:
            continue
        cut = _at_speed(best, n, vc_m_min)
        effects = effects_of(job, best, cut)
        band = f"{_speed(job, low)} to {_speed(job, high)}"
        rubs = f"the flank rubs on the waves; below {band}, by how much it does, nothing rings"
        yield Change(
            change=f"slow down to {n:.4g} rev/min, {_speed(job, vc_m_min)}",
            gain=won,
            how="; ".join((rubs, *effects)),
            kind="speed",
            effects=effects,
            holds=best.margin * now * won >= 1.0,
        )
        return


def _between_lobes(job: Job, best: Cut) -> Iterator[Change]:
    """The machine's step that lies best between two lobes, where lobes are far enough apart to use."""
    assert job.speeds is not None
    setup, most = job.setup, best.data.vc_m_min.high
    k, hz, zeta = setup.k_N_mm, setup.frequency_hz, setup.damping_ratio
    lowest = allowed_stiffness(k, zeta)
    found = (0.0, 0.0)
    for n in job.speeds.steps:
        usable = cutting_speed(n, job.d_mm) <= most and n != best.n_rev_min
        if usable and lobe_use(n, hz, zeta, tables.rigidity_rules()).useful:
            allowed = allowed_at_speed(n, k_N_mm=k, frequency_hz=hz, damping_ratio=zeta)
            found = max(found, (allowed / lowest, n))
    won, n = found
    if won < tables.pick_rules().least_gain or won == inf:
        return
    vc_m_min = cutting_speed(n, job.d_mm)
    cut = _at_speed(best, n, vc_m_min)
    effects = effects_of(job, best, cut)
    yield Change(
        change=f"{n:.4g} rev/min: it lies between two lobes",
        gain=won,
        how="; ".join((f"only as far as {hz:.4g} Hz is right, and the speed is held", *effects)),
        kind="speed",
        effects=effects,
        holds=best.margin * won >= 1.0,
    )


def _at_speed(best: Cut, n_rev_min: float, vc_m_min: float) -> Cut:
    """Give the same cut at another speed."""
    return best._replace(
        n_rev_min=n_rev_min,
        vc_m_min=vc_m_min,
        Pc_kW=best.Pc_kW * vc_m_min / best.vc_m_min,
        minutes_per_mm=best.minutes_per_mm * best.n_rev_min / n_rev_min,
    )


def _if_worth(job: Job, best: Cut, cut: Cut, change: str, how: str, kind: str) -> Iterator[Change]:
    won = gain(best.margin, cut.margin)
    if won >= tables.pick_rules().least_gain:
        effects = effects_of(job, best, cut)
        yield Change(
            change=change,
            gain=won,
            how="; ".join((how, *effects)),
            kind=kind,
            effects=effects,
            holds=cut.stable,
        )


def _speed(job: Job, vc_m_min: float) -> str:
    return show(vc_m_min, Kind.SPEED, job.system, both=False)
