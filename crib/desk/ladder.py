"""What do I change first? Each change recomputed with what there is, and sorted by what it gains."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from crib.desk.cut import Cut, limit_of, time_of, work_out
from crib.desk.job import Job
from crib.desk.stock import Pair, whereabouts
from crib.trade.cutting.spindle import nearest_feed_not_above
from crib.trade.rigidity.ladder import gain, times_stiffer
from crib.units import Kind, show

LEAST_GAIN = 1.03  # less is lost in what is assumed
MOST_TOOLS = 2
NEXT_FEED = 1.6  # feeds are stepped by about a quarter or a third: a window that holds the next one up
SHALLOW = 0.5
WANTED = 1.2  # with less reserve a set-up known only roughly is not called safe


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing to change.

    Attributes:
        change: what, in a few words.
        gain: how many times further from chatter; 1 is no change.
        how: how to do it, and what it costs.
    """

    change: str
    gain: float
    how: str


def climb(job: Job, best: Cut, others: Sequence[Cut], elsewhere: Sequence[Cut]) -> tuple[Change, ...]:
    """List what can be changed from the first choice on, largest gain first.

    Args:
        job: the cut asked for.
        best: the first choice.
        others: all candidates on hand.
        elsewhere: candidates of which a part is at home or lent.
    """
    found = [
        *_tools(best, others, "put in"),
        *_tools(best, elsewhere, "fetch"),
        *_feed(job, best),
        *_depth(job, best),
        *_support(best),
    ]
    return tuple(sorted(found, key=lambda change: -min(change.gain, 1e9)))


def _tools(best: Cut, cuts: Sequence[Cut], verb: str) -> Iterator[Change]:
    """Other tools that stay further from chatter, one line for each holder."""
    seen: set[int] = {best.pair.arm.item.id}
    ranked = sorted((cut for cut in cuts if cut is not best), key=lambda cut: -cut.margin)
    for cut in ranked:
        won = gain(best.margin, cut.margin)
        if won < LEAST_GAIN or len(seen) > MOST_TOOLS:
            return
        if cut.pair.arm.item.id in seen:
            continue
        seen.add(cut.pair.arm.item.id)
        yield Change(
            change=f"{verb} {_named(cut.pair)}", gain=won, how=_where(cut.pair) + "; " + _cost(best, cut)
        )


def _feed(job: Job, best: Cut) -> Iterator[Change]:
    """The machine's next feed up: a thicker chip is a little softer to waves, and rougher."""
    if job.feeds is None:
        return
    nexts = [f for f in job.feeds.steps if best.f_mm < f <= best.f_mm * NEXT_FEED]
    if not nexts:
        return
    f_mm = nearest_feed_not_above(min(nexts), job.feeds).value
    cut = work_out(replace(job, f_mm=f_mm), best.pair, best.ap_mm)
    won = gain(best.margin, cut.margin)
    if won >= LEAST_GAIN:
        feed = show(f_mm, Kind.FEED, job.system)
        more = cut.forces.Fc_N / best.forces.Fc_N
        yield Change(
            change=f"feed up to {feed}", gain=won, how=f"rougher finish, {more:.2g} times the cutting force"
        )


def _depth(job: Job, best: Cut) -> Iterator[Change]:
    """Half the depth; it helps only where the stiffness of the cut still grows with depth."""
    shallow = replace(job, depth_mm=best.ap_mm * SHALLOW)
    cut = work_out(shallow, best.pair, best.ap_mm * SHALLOW)
    won = gain(best.margin, cut.margin)
    deep = show(best.ap_mm * SHALLOW, Kind.LENGTH, job.system)
    if won >= LEAST_GAIN:
        yield Change(
            change=f"half the depth: {deep} a side",
            gain=won,
            how=f"{len(cut.passes)} passes instead of {len(best.passes)}",
        )
    limit = limit_of(job, best)
    if limit is not None and not best.stable and limit >= best.ap_mm * 0.1:
        at = show(limit, Kind.LENGTH, job.system)
        yield Change(
            change=f"no deeper than {at} a side",
            gain=1.0 / best.margin,
            how="there it just holds at every speed",
        )


def _support(best: Cut) -> Iterator[Change]:
    """How many times stiffer the set-up must be for a reserve."""
    times = times_stiffer(best.margin, WANTED)
    if times >= LEAST_GAIN:
        yield Change(
            change=f"support it: {times:.3g} times as stiff where it gives",
            gain=times,
            how=f"jack, steady, clamp nearer or shorter overhang; then {WANTED:g} times clear of chatter",
        )


def _named(pair: Pair) -> str:
    arm = pair.arm.item
    insert = f" with {pair.insert.item.designation} ({pair.insert.item.tag})" if pair.insert else ""
    return f"{arm.designation or arm.label} ({arm.tag}){insert}"


def _where(pair: Pair) -> str:
    parts = [pair.arm.item] + ([pair.insert.item] if pair.insert else [])
    return ", ".join(f"{item.tag} {whereabouts(item)} ({item.owner}'s)" for item in parts)


def _cost(best: Cut, cut: Cut) -> str:
    return f"takes {time_of(cut) / time_of(best):.2g} times as long"
