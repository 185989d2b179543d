"""Changes of what holds: support of the work, and a stiffer or shorter bar."""

from collections.abc import Iterator
from math import ceil

from crib.desk import tables
from crib.desk.picking.bar import across, bar_of
from crib.desk.picking.cut import Cut
from crib.desk.picking.job import Job
from crib.desk.ringing.change import Change
from crib.trade.rigidity.bars import tip_stiffness
from crib.trade.rigidity.ladder import gain, in_series, times_stiffer
from crib.units import Kind, show

THICKER = (1.25, 1.6, 2.0)  # bar diameters step about so


def support(job: Job, best: Cut) -> Iterator[Change]:
    """How many times stiffer set-up and bar together must be for a reserve, and at which point."""
    wanted = tables.pick_rules().wanted_margin
    times = times_stiffer(best.margin, wanted)
    if times < tables.pick_rules().least_gain:
        return
    where = f"at the {job.held.point}" if job.held and job.held.point else "where it gives"
    stiff = show(job.setup.k_N_mm * times, Kind.STIFFNESS, job.system)
    how = f"jack, steady, clamp nearer or shorter overhang; that makes it {wanted:g} times what is needed"
    own = 1.0 / best.k_N_mm - 1.0 / job.setup.k_N_mm  # what the bar itself gives, in mm/N
    if own > 0.0 and own * best.k_N_mm * times >= 1.0:
        how += "; holding the work is not enough: a stiffer or shorter bar as well"
    elif own > 0.0:
        how += "; work and bar count together"
    else:
        how += f": {stiff} there"
    if job.held and len(job.held.points) > 1:
        how += "; then the next softest point counts"
    yield Change(
        change=f"support it, {times:.3g} times as stiff {where}",
        gain=times,
        how=how,
        kind="support",
        holds=True,
    )


def bar(job: Job, best: Cut) -> Iterator[Change]:
    """A thicker bar, or one of carbide, of the size that would do: none on record is meant."""
    now = bar_of(job, best.pair)
    if now is None:
        return
    wanted, setup = tables.pick_rules().wanted_margin, job.setup.k_N_mm

    def stiff(d_mm: float, E_N_mm2: float) -> float:
        return in_series(setup, tip_stiffness(d_mm, now.out_mm, E_N_mm2) / across(job))

    tried = [(now.DCON_mm * times, now.material.name, now.material.E_N_mm2) for times in THICKER]
    carbide = tables.bar_materials().get("carbide")
    if carbide is not None and now.material.name != "carbide":
        tried.insert(0, (now.DCON_mm, carbide.name, carbide.E_N_mm2))
    gains = [(gain(1.0, stiff(d, E) / best.k_N_mm), d, name) for d, name, E in tried]
    worth = [one for one in gains if one[0] >= tables.pick_rules().least_gain]
    enough = [one for one in worth if one[0] * best.margin >= wanted]
    for won, d_mm, name in (enough or worth[-1:])[:1]:
        size = show(float(ceil(d_mm)), Kind.LENGTH, job.system)
        yield Change(
            change=f"a {name} bar of ⌀{size}",
            gain=won,
            how=f"out as far as now, {show(now.out_mm, Kind.LENGTH, job.system)}; ideal clamp",
            on_hand=False,
            kind="bar",
            holds=won * best.margin >= 1.0,
        )
