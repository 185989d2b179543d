"""One thing to change when it rings: what, what it gains, how, and what it does besides."""

from dataclasses import dataclass

from crib.desk.picking.cut import Cut
from crib.desk.picking.feed_marks import marks_of
from crib.desk.picking.job import Job
from crib.desk.picking.size_error import minutes_per_mm
from crib.desk.starting.life import life_rows
from crib.trade.cutting.life import exponent_band
from crib.units import span

MANY = 10.0  # past it a power law has nothing more to say
SAME = 0.05  # what changes by less is as before


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing to change.

    Attributes:
        change: what, in a few words.
        gain: how many times further from chatter; 1 is no change.
        how: how to do it, and what it costs.
        on_hand: it can be done with what is here.
        kind: tool, nose, edge, bit, feed, depth, speed, overhang, bar or support.
        effects: what it does to time, finish, force, power and life.
        holds: with it alone the cut holds.
        items: tags of what there is to do it with.
        set_anew: the work is set up a second time for it.
    """

    change: str
    gain: float
    how: str
    on_hand: bool = True
    kind: str = ""
    effects: tuple[str, ...] = ()
    holds: bool = False
    items: tuple[str, ...] = ()
    set_anew: bool = False


def effects_of(job: Job, before: Cut, after: Cut) -> tuple[str, ...]:
    """Say what a change does besides: time, finish, power, life of the edge; nothing where it stays."""
    said = [_times("time", minutes_per_mm(job, after) / minutes_per_mm(job, before))]
    old, new = marks_of(before), marks_of(after)
    if old and new:
        said.append(_times("feed marks", new.Rz_um / old.Rz_um))
    said.append(_times("power", after.Pc_kW / before.Pc_kW))
    said.append(_life(job, before, after))
    return tuple(one for one in said if one)


def _times(what: str, ratio: float) -> str:
    return "" if abs(ratio - 1.0) < SAME else f"{what} x {ratio:.2g}"


def _life(job: Job, before: Cut, after: Cut) -> str:
    """Say what another speed does to the life of the same sort of edge, by Taylor's law."""
    tool, ratio = after.data.tool_material, after.vc_m_min / before.vc_m_min
    if tool != before.data.tool_material:
        return f"{tool} edge"
    found = life_rows(job.material, tool, job.operation)
    if abs(ratio - 1.0) < SAME or not found:
        return ""
    low, high = sorted(ratio ** (-1.0 / n) for n in exponent_band(found))
    if high > MANY:
        return f"edge life x {low:.2g} or more"
    return "edge life x " + span(f"{low:.2g}", f"{high:.2g}")
