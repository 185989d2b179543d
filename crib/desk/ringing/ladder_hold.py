"""Changes of what holds: support of the work, a tool that stands out less, a stiffer bar."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil, floor, isfinite

from crib.desk import tables
from crib.desk.picking.bar import Bar, across, bar_of, behind
from crib.desk.picking.cut import Cut
from crib.desk.picking.job import Job
from crib.desk.picking.stock import is_here, out_of_use, whereabouts
from crib.desk.ringing.change import Change
from crib.errors import CribError
from crib.store.rows import BarRow, ItemRow
from crib.trade.rigidity.bars import overhang_for
from crib.trade.rigidity.ladder import gain, times_stiffer
from crib.trade.rigidity.supports import support_of
from crib.units import Kind, read, show

THICKER = (1.25, 1.6, 2.0)  # bar diameters step about so
MOST_PROPS = 4  # of those on record, on hand and elsewhere each
_UP_TO = " to "


def support(job: Job, best: Cut, workholding: Sequence[ItemRow]) -> Iterator[Change]:
    """How many times stiffer set-up and bar together must be for a reserve, where, and by what on record.

    Where there is a reserve, it is what the highest cutting force on record asks for.
    """
    wanted = tables.pick_rules().wanted_margin
    short = best.margin < wanted
    times = times_stiffer(best.margin if short else best.margin_low, wanted)
    if times < tables.pick_rules().least_gain:
        return
    where = f"at the {job.held.point}" if job.held and job.held.point else "where it gives"
    stiff = show(job.setup.k_N_mm * times, Kind.STIFFNESS, job.system)
    how = f"that makes it {wanted:g} times what is needed" + " by the highest cutting force" * (not short)
    own = 1.0 / best.k_N_mm - 1.0 / job.setup.k_N_mm  # what bar or shank gives by itself, in mm/N
    if own > 0.0 and own * best.k_N_mm * times >= 1.0:
        how += "; holding the work is not enough: a stiffer or shorter bar as well"
    elif own > 0.0:
        how += "; work and bar count together"
    else:
        how += f": {stiff} there"
    if job.held and len(job.held.points) > 1:
        how += "; then the next softest point counts"
    here, away = _props(job, workholding)
    yield Change(
        change=f"support it, {times:.3g} times as stiff {where}",
        gain=times,
        how="; ".join((how, *_with_what(job, here, away))),
        on_hand=bool(here),
        kind="support",
        holds=True,
        items=tuple(item.tag for item, _ in (*here, *away)),
    )


_Prop = tuple[ItemRow, str]


def _props(job: Job, workholding: Sequence[ItemRow]) -> tuple[list[_Prop], list[_Prop]]:
    """Give what props such work, with what it does: on hand, and elsewhere."""
    kind = job.machine.kind if job.machine else None
    here: list[_Prop] = []
    away: list[_Prop] = []
    for item in workholding:
        found = support_of(item.label, kind, job.operation, tables.supports())
        spoilt = item.condition in ("damaged", "scrap") or item.quantity < 1
        if found is not None and not spoilt and not _too_small(item, job):
            (here if is_here(job, item) else away).append((item, found.does))
    return here[:MOST_PROPS], away[:MOST_PROPS]


def _too_small(item: ItemRow, job: Job) -> bool:
    """Tell whether the work is wider than a thing takes by its name: "fixed steady, to 8 in"."""
    if "steady" not in item.label.lower() or _UP_TO not in item.label:
        return False
    try:
        return read(item.label.rpartition(_UP_TO)[2], Kind.LENGTH, job.system).value < job.d_mm
    except CribError:
        return False


def _with_what(job: Job, here: Sequence[_Prop], away: Sequence[_Prop]) -> Iterator[str]:
    """Say with what it can be supported, whose and where that is; or that nothing is on record for it."""
    if not (here or away):
        on = f" for the {job.machine.kind}" if job.machine else ""
        yield f"no steady, jack, angle plate, clamp or the like is on record{on} (crib add enters one)"
    for said, props in (("on hand", here), ("elsewhere", away)):
        for item, does in props:
            mind = f", but {why}" if (why := out_of_use(item)) else ""
            yield f"{said}: {item.tag} {item.label} ({item.owner}'s, {whereabouts(item)}){mind}: {does}"


def overhang(job: Job, best: Cut) -> Iterator[Change]:
    """Less of the tool out; from both ends, where the bore allows no less from one."""
    now = bar_of(job, best.pair)
    if now is None or not isfinite(best.margin):
        return
    least = _least_out(job, best, now)
    if least < now.out_mm:
        out_mm = min(now.out_mm, max(least, _holds_out(job, best, now) or least))
        yield from _less_out(job, best, now, out_mm, "")
    elif isinstance(best.pair.arm, BarRow):
        way = "bore from both ends, "
        yield from _less_out(job, best, now, now.out_mm / 2.0, way)


def _less_out(job: Job, best: Cut, now: Bar, out_mm: float, way: str) -> Iterator[Change]:
    then = replace(now, out_mm=out_mm)
    won = gain(best.k_N_mm, behind(job, best.pair, then))
    if won < tables.pick_rules().least_gain:
        return
    what = "shank" if now.square else "bar"
    size, before = (_length(job, mm) for mm in (out_mm, now.out_mm))
    parts = [
        f"the {what} alone is {then.k_N_mm / now.k_N_mm:.3g} times as stiff and rings at "
        f"{then.rings_hz:.0f} instead of {now.rings_hz:.0f} Hz"
    ]
    parts += [shorter_said(job, best, now)]
    if job.length_mm is None and not now.square:
        parts += ["how deep the bore is was not told"]
    if way:
        parts += ["turn it end for end and true it by the first half: the two may not run true to each other"]
    yield Change(
        change=f"{way}{what} out {size} instead of {before}",
        gain=won,
        how="; ".join(part for part in parts if part),
        kind="overhang",
        holds=best.margin * won >= 1.0,
        set_anew=bool(way),
    )


def shorter_said(job: Job, best: Cut, now: Bar) -> str:
    """Say from what overhang on the cut holds with a reserve, and whether that can be reached."""
    wanted = tables.pick_rules().wanted_margin
    if best.margin >= wanted:
        return ""
    times = f"{wanted:g} times what is needed"
    out_mm, least = _holds_out(job, best, now), _least_out(job, best, now)
    if out_mm is None:
        most = best.margin * job.setup.k_N_mm / best.k_N_mm
        return f"no overhang is short enough for {times}: the set-up alone holds {most:.2g} times"
    if out_mm >= least:
        return f"out {_length(job, out_mm)} makes it {times}"
    why = "the bore is" if isinstance(best.pair.arm, BarRow) else "the clamp wants"
    return f"it would be {times} at {_length(job, out_mm)} out, and {why} {_length(job, least)}"


def _holds_out(job: Job, best: Cut, now: Bar) -> float | None:
    """Give the overhang up to which the cut holds with a reserve; None where no overhang is short enough."""
    k_N_mm = best.k_N_mm * tables.pick_rules().wanted_margin / best.margin  # of both together
    left = 1.0 / k_N_mm - 1.0 / job.setup.k_N_mm  # what the bar may give, in mm/N
    if left <= 0.0:
        return None
    found = overhang_for(
        across(job, best.pair) / left, lambda out_mm: replace(now, out_mm=out_mm).k_N_mm, now.out_mm
    )
    return floor(10.0 * found) / 10.0


def _least_out(job: Job, best: Cut, now: Bar) -> float:
    """Give the least that a tool must stand out: through the bore; else about its own thickness."""
    through = job.length_mm if isinstance(best.pair.arm, BarRow) else None
    return through or now.DCON_mm


def bar(job: Job, best: Cut) -> Iterator[Change]:
    """A thicker bar, or one of carbide, of the size that would do: none on record is meant."""
    now = bar_of(job, best.pair)
    if now is None or now.square or not isfinite(best.margin):
        return
    wanted, known = tables.pick_rules().wanted_margin, tables.bar_materials()
    tried = [replace(now, DCON_mm=now.DCON_mm * times) for times in THICKER]
    carbide = known.get("carbide")
    if carbide is not None and now.material.name != "carbide":
        tried.insert(0, replace(now, material=carbide))
    gains = [(gain(best.k_N_mm, behind(job, best.pair, one)), one) for one in tried]
    worth = [one for one in gains if one[0] >= tables.pick_rules().least_gain]
    enough = [one for one in worth if one[0] * best.margin >= wanted]
    for won, other in (enough or worth[-1:])[:1]:
        size = show(float(ceil(other.DCON_mm)), Kind.LENGTH, job.system)
        how = (f"out as far as now, {_length(job, now.out_mm)}", shorter_said(job, best, now))
        yield Change(
            change=f"a {other.material.name} bar of ⌀{size}",
            gain=won,
            how="; ".join(part for part in how if part),
            on_hand=False,
            kind="bar",
            holds=won * best.margin >= 1.0,
        )


def _length(job: Job, mm: float) -> str:
    return show(mm, Kind.LENGTH, job.system)
