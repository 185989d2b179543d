"""crib pick: which tool on hand for this cut, and how to start it."""

from collections.abc import Iterable

import click

from crib.cli.conditions import with_conditions
from crib.cli.costs import with_costs
from crib.cli.effects import economy_lines, life_lines
from crib.cli.output import Output, with_output, with_store, with_why
from crib.desk.picking.answer import ranks
from crib.desk.picking.pick import MOST_SHOWN, Candidate, PickAnswer, PickRequest, ToolName, pick
from crib.desk.ringing.ladder import in_words
from crib.desk.ringing.offered import keep
from crib.units import Kind, show
from crib.units.counts import many

PRINTED = 5
NAME_WIDE = 26
RANKED_IN = (Kind.FORCE, Kind.STIFFNESS)
GIVES = (
    "Which way it gives: away, along, along the spindle, down, slanting, unknown; several: away and along."
)


@click.command()
@click.option("--op", required=True, help="turn, face or bore.")
@click.option("--material", required=True, help="Any name: 4140, 42CrMo4, A36, cast iron …")
@click.option("--hardness", default="", help="Measured: 220 HB, 45 HRC; or behind the material's name.")
@click.option("--from", "from_", required=True, help="Size that is there: diameter; for facing the length.")
@click.option("--to", required=True, help="Size wanted.")
@click.option("--length", default="", help="Length of the cut.")
@click.option("--diameter", default="", help="Facing: the largest diameter.")
@click.option(
    "--overhang", default="", help="How far the tool stands out; else a bar as far as the bore is long."
)
@click.option("--machine", default="", help="A machine on record.")
@click.option("--hand", default="", help="left, right or neutral.")
@click.option("--site", default="", help="Where the tools must be; else where you are.")
@click.option(
    "--setup", default="", help="How it holds: a kept set-up, or rigid, fair, weak, flimsy (assumed)."
)
@click.option("--stiffness", default="", help="Measured at the cut, as 8 kN/mm or 20 N/um.")
@click.option("--frequency", default="", help="Natural frequency, as 80 Hz.")
@click.option("--damping", default="", help="Damping ratio, as 0.03 or 3 %.")
@click.option("--gives", default="", help=GIVES)
@click.option("--depth", default="", help='Of a pass at most, on the side; or "3 mm on diameter".')
@click.option("--step", default="", help='What each pass takes, on the sizes: "1/16 in"; or "1 mm a side".')
@click.option("--feed", default="", help="Feed per revolution.")
@with_conditions
@click.option("--most", default=20, type=click.IntRange(1, 1000), help="How many candidates to give.")
@with_costs
@with_why("How the first candidate's figures come about, to be checked by hand; --why N for the Nth.")
@with_store
@with_output
def command(out: Output, db: str, most: int, why: int | None, **asked: object) -> int:
    """Which tool on hand for this cut, and how to start it: ranked, with passes, pressure and cautions."""
    return give_pick(out, db, PickRequest(**asked), why, most=most)  # type: ignore[arg-type]  # bool flags


def give_pick(out: Output, db: str, request: PickRequest, why: int | None, *, most: int = MOST_SHOWN) -> int:
    """Print the answer to a cut, with the chain behind a candidate where one is asked for."""
    if why is None:
        answer = pick(db, request, most=most)
        out.give(answer, lambda: lines(answer))
    else:
        from crib.desk.why.chain import why_pick  # only who asks pays for it

        answer, chain = why_pick(db, request, why, most=most)
        out.give_why(answer, chain, lambda: lines(answer), answer.job.units)
    keep(db, answer.job, answer.candidates)
    return 0 if answer.candidates else 1


def lines(answer: PickAnswer) -> Iterable[str]:
    """Put an answer into lines: the choice, why, the ranking, how to start the first, what to change."""
    system = answer.job.units
    yield answer.verdict
    yield answer.detail
    yield ""
    yield from job_lines(answer, system)
    if answer.candidates:
        yield ""
        yield from ranking_lines(answer.candidates[:PRINTED], system)
        if answer.total > PRINTED:
            yield f"   … {answer.total - PRINTED} more (--json gives them)"
        yield ""
        yield from start_lines(answer.candidates[0], system)
    yield from (f"If it rings: {one.change}: {in_words(one.gain)} ({one.how})" for one in answer.ladder)
    yield ""
    yield f"Passed over: {len(answer.rejected)}"
    yield from (f"   {one.holder.tag:5} {one.why}" for one in answer.rejected[:12])
    if len(answer.rejected) > 12:
        yield f"   … {len(answer.rejected) - 12} more (--json gives them)"
    yield from (f"! {caution}" for caution in answer.cautions)
    yield f"Next: {answer.next_step}"
    yield f"Starting points only. {answer.defer}"


def job_lines(answer: PickAnswer, system: str) -> Iterable[str]:
    """Say how the job was understood."""
    job = answer.job
    sizes = f"{show(job.from_mm, Kind.LENGTH, system)} to {show(job.to_mm, Kind.LENGTH, system)}"
    machine = f" on the {job.machine}" if job.machine else ""
    yield f"Job: {job.op} {sizes} in {job.material}{machine}, tools at {job.site}"
    stiff = show(job.k_N_mm, Kind.STIFFNESS, system)
    rings = f"{job.frequency_hz:g} Hz, damping {job.damping_ratio:.2g}"
    yield f"     set-up {job.setup}: {stiff}, {rings}; gives {job.gives}"
    yield f"     passes up to {show(job.ap_mm, Kind.LENGTH, system)} a side"
    yield from (f"     {line}" for line in job.learned)


def ranking_lines(candidates: Iterable[Candidate], system: str) -> Iterable[str]:
    """Put the ranking into lines."""
    push_in, stiff_in = (show(1.0, kind, system, both=False).split()[1] for kind in RANKED_IN)
    heads = ("tool and insert", "push", "share", "cut's K", "margin", "min", "holds to")
    yield _row("", heads)
    yield _row("", ("", push_in, "of plain", stiff_in, "", "", ""))
    for one in candidates:
        named = code(one.holder) + (f" + {code(one.insert)}" if one.insert else "")
        figures = (one.pressure_N, one.regenerative_stiffness_N_mm)
        push, stiff = (
            show(value, kind, system, both=False).split()[0]
            for value, kind in zip(figures, RANKED_IN, strict=True)
        )
        time = "" if one.minutes is None else f"{one.minutes:.0f}"
        share, margin = f"{one.pressure_ratio:.2f}", f"{one.stability_margin:.2f}"
        yield _row(str(one.rank), (named, push, share, stiff, margin, time, one.holds_to))
        tied = [f"pushes like {ranks(one.tied_with)}"] if one.tied_with else []
        if flags := [*tied, *["low pressure"] * one.low_pressure]:
            yield f"      {', '.join(flags)}"


def _row(rank: str, cells: tuple[str, str, str, str, str, str, str]) -> str:
    """Put one line of the ranking together, as wide as a terminal at most."""
    named, push, share, stiff, margin, time, holds_to = cells
    named = named if len(named) <= NAME_WIDE else f"{named[: NAME_WIDE - 1]}…"
    figures = f"{push:>8}{share:>9}{stiff:>8}{margin:>7}{time:>5}"
    return f"{rank:>3} {named:{NAME_WIDE}}{figures}  {holds_to}".rstrip()


def start_lines(best: Candidate, system: str) -> Iterable[str]:
    """Say how to start the first choice."""
    yield f"Start {code(best.holder)} ({best.holder.tag}, {best.holder.owner}'s, at {best.holder.place})"
    if best.insert:
        tip = best.insert
        edges = "" if tip.edges_left is None else f", {many(tip.edges_left, 'edge')} left"
        yield f"      {code(tip)} ({tip.tag}, {tip.owner}'s, at {tip.place}{edges})"
    yield (
        f"  {best.n_rev_min:.4g} rev/min = {show(best.vc_m_min, Kind.SPEED, system)}, "
        f"feed {show(best.f_mm, Kind.FEED, system)}"
    )
    for one in best.passes:
        minutes = "" if one.minutes is None else f", {one.minutes:.1f} min"
        from_, to, deep = (show(size, Kind.LENGTH, system) for size in (one.from_mm, one.to_mm, one.ap_mm))
        feed = show(one.f_mm, Kind.FEED, system, both=False)
        if one.kind == "spring":
            yield f"  {one.kind:6} {to} again, nothing set in, at {feed}{minutes}"
        else:
            yield f"  {one.kind:6} {from_} to {to}, {deep} a side at {feed}{minutes}"
        if one.measure:
            yield f"  {'':6} {one.measure}"
    yield (
        f"  cutting force {show(best.Fc_N, Kind.FORCE, system)}, feed {show(best.Ff_N, Kind.FORCE, system)}, "
        f"passive {show(best.Fp_N, Kind.FORCE, system)}; {show(best.Pc_kW, Kind.POWER, system)} at the edge"
    )
    yield from (f"  {'size':6} {line}" for line in best.size.said)
    yield f"  {'power':6} {best.power.said}"
    yield from life_lines(best.life)
    if best.economy is not None:
        yield from economy_lines(best.economy)
    if best.Rz_um is not None:
        yield f"  feed marks Rz {best.Rz_um:.2g} µm at best"
    yield from (f"  why: {reason}" for reason in best.reasons)
    yield from (f"  mind: {drawback}" for drawback in best.drawbacks)
    yield from (f"  don't trust the push: {doubt}" for doubt in best.doubts)
    yield from (f"  note: {note}" for note in best.notes)
    yield from (f"  assumed: {line}" for line in best.assumed)
    yield from (f"  source: {line}" for line in best.sources)


def code(tool: ToolName) -> str:
    """Give a tool's code, or its label where it has none."""
    return tool.designation or tool.label
