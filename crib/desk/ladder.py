"""What do I change first? Each change recomputed with what there is, and sorted by what it gains."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from crib.desk import tables
from crib.desk.cut import Cut, drawbacks_of, limit_of, most_feed, work_out
from crib.desk.job import Job
from crib.desk.stock import Pair, whereabouts
from crib.trade.rigidity.ladder import gain, times_stiffer
from crib.units import Kind, show

MOST_TOOLS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing to change.

    Attributes:
        change: what, in a few words.
        gain: how many times further from chatter; 1 is no change.
        how: how to do it, and what it costs.
        on_hand: it can be done with what is here.
    """

    change: str
    gain: float
    how: str
    on_hand: bool = True


def climb(job: Job, best: Cut, others: Sequence[Cut], elsewhere: Sequence[Cut]) -> tuple[Change, ...]:
    """List what can be changed from the first choice on, largest gain first.

    Args:
        job: the cut asked for.
        best: the first choice.
        others: all candidates on hand.
        elsewhere: candidates of which a part is at home or lent.
    """
    found = [
        *_tools(job, best, others, on_hand=True),
        *_tools(job, best, elsewhere, on_hand=False),
        *_feed(job, best),
        *_depth(job, best),
        *_support(job, best),
    ]
    return tuple(sorted(found, key=lambda change: -change.gain))


def in_words(gained: float) -> str:
    """Say a gain: "36 % further from chatter", "2.8 times as far from chatter"."""
    if gained >= 2.0:
        return f"{gained:.2g} times as far from chatter"
    return f"{(gained - 1.0) * 100.0:.0f} % further from chatter"


def _tools(job: Job, best: Cut, cuts: Sequence[Cut], *, on_hand: bool) -> Iterator[Change]:
    """Other tools that stay further from chatter, one line for each holder."""
    seen: set[int] = set()
    for cut in sorted((cut for cut in cuts if cut is not best), key=lambda cut: -cut.margin):
        won = gain(best.margin, cut.margin)
        if won < tables.pick_rules().least_gain or len(seen) >= MOST_TOOLS:
            return
        if cut.pair.arm.item.id not in seen:
            seen.add(cut.pair.arm.item.id)
            verb = "put in" if on_hand else "fetch"
            how = "; ".join((_where(cut.pair), _time(best, cut), *drawbacks_of(job, cut)))
            yield Change(change=f"{verb} {_named(cut.pair)}", gain=won, how=how, on_hand=on_hand)


def _feed(job: Job, best: Cut) -> Iterator[Change]:
    """The next feed up, as far as the nose stands it: a thicker chip is a little softer to waves."""
    if job.feeds is None:
        return
    most = min(best.f_mm * tables.pick_rules().next_feed, most_feed(best.tool, best.cut))
    nexts = [f for f in job.feeds.steps if best.f_mm < f <= most]
    if not nexts:
        return
    f_mm = min(nexts)
    cut = work_out(replace(job, f_mm=f_mm), best.pair, best.ap_mm)
    won = gain(best.margin, cut.margin)
    if won >= tables.pick_rules().least_gain:
        last = "for the last pass too: " if best.finish_f_mm < best.f_mm else ""
        more = f"{last}rougher finish, {cut.forces.Fc_N / best.forces.Fc_N:.2g} times the cutting force"
        yield Change(change=f"feed up to {show(f_mm, Kind.FEED, job.system)}", gain=won, how=more)


def _depth(job: Job, best: Cut) -> Iterator[Change]:
    """Less depth; it helps only where the stiffness of the cut still grows with depth."""
    rules = tables.pick_rules()
    half = best.ap_mm * rules.half_depth
    if half >= rules.least_finish_mm:
        cut = work_out(replace(job, depth_mm=half), best.pair, half)
        won = gain(best.margin, cut.margin)
        if won >= rules.least_gain:
            change = f"half the depth, {show(half, Kind.LENGTH, job.system)} a side"
            yield Change(
                change=change, gain=won, how=f"{len(cut.passes)} passes instead of {len(best.passes)}"
            )
    limit = limit_of(job, best)
    if limit is not None and not best.stable and limit >= rules.least_finish_mm:
        deep = show(limit, Kind.LENGTH, job.system)
        how = "there it just holds at every speed"
        yield Change(change=f"no deeper than {deep} a side", gain=1.0 / best.margin, how=how)


def _support(job: Job, best: Cut) -> Iterator[Change]:
    """How many times stiffer set-up and bar together must be for a reserve."""
    wanted = tables.pick_rules().wanted_margin
    times = times_stiffer(best.margin, wanted)
    if times > 1.0:
        how = f"jack, steady, clamp nearer or shorter overhang; that makes it {wanted:g} times what is needed"
        own = 1.0 / best.k_N_mm - 1.0 / job.setup.k_N_mm  # what the bar itself gives, in mm/N
        if own > 0.0 and own * best.k_N_mm * times >= 1.0:
            how += "; holding the work is not enough: a stiffer or shorter bar as well"
        elif own > 0.0:
            how += "; work and bar count together"
        yield Change(change=f"support it, {times:.3g} times as stiff where it gives", gain=times, how=how)


def _named(pair: Pair) -> str:
    arm = pair.arm.item
    insert = f" with {pair.insert.item.designation} ({pair.insert.item.tag})" if pair.insert else ""
    return f"{arm.designation or arm.label} ({arm.tag}){insert}"


def _where(pair: Pair) -> str:
    parts = [pair.arm.item] + ([pair.insert.item] if pair.insert else [])
    return ", ".join(f"{item.tag} {whereabouts(item)} ({item.owner}'s)" for item in parts)


def _time(best: Cut, cut: Cut) -> str:
    times = cut.minutes_per_mm / best.minutes_per_mm
    return "as quick" if abs(times - 1.0) < 0.05 else f"takes {times:.2g} times as long"
