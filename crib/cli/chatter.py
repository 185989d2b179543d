"""crib chatter: how deep before it rings, at which speeds deeper, and which mode it is."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.ringing.chatter import ChatterAnswer, ChatterRequest, chatter_limit
from crib.units import Kind, show

SHOWN_ROWS = 14  # of the chart in the terminal
USUAL_WIDTH = 79


@click.command()
@click.option("--setup", default="", help="A kept set-up (NAME or NAME:point), or rigid, fair, weak, flimsy.")
@click.option("--stiffness", default="", help="Measured at the cut, as 8 kN/mm or 20 N/um.")
@click.option("--frequency", default="", help="Natural frequency, as 80 Hz.")
@click.option("--damping", default="", help="Damping ratio, as 0.03 or 3 %.")
@click.option("--gives", default="", help="Which way it gives: away, along, down, slanting …")
@click.option(
    "--Ks", "Ks", default="", help="Cutting stiffness of a straight edge along the motion: 2000 N/mm2."
)
@click.option("--material", default="", help="Or what is cut …")
@click.option("--feed", default="", help="… with what feed …")
@click.option("--KAPR", "KAPR", default="", help="… entering angle …")
@click.option("--RE", "RE", default="", help="… nose radius …")
@click.option("--ap", default="", help="… and depth, on the side.")
@click.option("--tool", default="", help="A holder, bar or bit on record, instead of angle and nose.")
@click.option("--insert", default="", help="Its insert.")
@click.option("--overhang", default="", help="How far the tool stands out; else a bar its whole reach.")
@click.option("--op", default="turn", help="turn, face or bore.")
@click.option("--machine", default="", help="Whose speeds count.")
@click.option("--speeds", default="", help='Range of the chart, as "200 to 3000".')
@click.option("--n", default="", help="Present spindle speed.")
@click.option("--diameter", default="", help="Where it cuts.")
@click.option("--vc", default="", help="Cutting speed, instead of both.")
@click.option("--heard", default="", help="Pitch of the chatter: which mode is it?")
@click.option("--marks", default="", help="Spacing of its marks along the cut, instead.")
@click.option(
    "--chart",
    "--svg",
    "drawing",
    default="",
    metavar="FILE",
    help="Chart and forces drawn: .svg or .png.",
)
@with_store
@with_output
def command(out: Output, db: str, drawing: str, **asked: str) -> None:
    """How deep before it rings, which speeds bear more, and which mode it is that rings."""
    found = chatter_limit(db, ChatterRequest(**asked))
    if drawing:
        from crib.cli.drawn import write_figure
        from crib.report.chart import chart_figure, force_bars, stability_chart

        write_figure(drawing, chart_figure(stability_chart(found), force_bars(found), found.ap_mm))
    out.give(found, lambda: lines(found))


def lines(found: ChatterAnswer) -> Iterable[str]:
    """Put an answer into lines: limit, chart, slow speeds, modes."""
    from crib.cli.drawn import terminal_glyphs, terminal_width
    from crib.report.chart import bar_lines, chart_lines, force_bars, stability_chart

    system, width = found.units, terminal_width(USUAL_WIDTH)
    yield found.verdict
    yield found.detail
    yield f"Set-up {found.setup}: {show(found.k_N_mm, Kind.STIFFNESS, system)}, {found.frequency_hz:.4g} Hz, "
    yield f"  damping {100 * found.damping_ratio:.2g} %; gives {found.gives}. Cut: {found.cut}"
    yield from (f"  {line}" for line in found.learned)
    yield ""
    yield from chart_lines(stability_chart(found), width, SHOWN_ROWS, terminal_glyphs())
    yield ""
    yield f"Speeds: {found.lobes_why}"
    for one in found.useful_lobes[:5]:
        deep = "any depth" if one.b_lim_mm is None else show(one.b_lim_mm, Kind.LENGTH, system)
        yield f"  {one.n_rev_min:8.4g} rev/min  holds to {deep}, {one.gain:.2g} times"
    yield f"Slow: {found.slow.why}"
    yield from mode_lines(found, system)
    if found.forces is not None:
        yield f"Forces at {show(found.ap_mm, Kind.LENGTH, system)}:"
        yield from bar_lines(force_bars(found), width, terminal_glyphs(), system)
    yield from (f"  doubt: {line}" for line in found.doubts)
    yield from (f"  assumed: {line}" for line in found.assumed)
    yield from (f"  source: {line}" for line in found.sources)
    yield f"Next: {found.next_step}"


def mode_lines(found: ChatterAnswer, system: str) -> Iterable[str]:
    """Say how each point would sound and mark, and which fits what was heard."""
    if found.heard_hz is not None:
        yield f"Heard: {found.heard_hz:.4g} Hz"
    for mode in found.modes:
        mark = "→" if mode.fits else " "
        apart = show(float(f"{mode.marks_mm:.3g}"), Kind.LENGTH, system) if mode.marks_mm else ""
        marks = f", marks {apart} apart" if apart else ""
        off = f"; heard {100 * mode.off:+.0f} %" if mode.off is not None else ""
        named = f"{mode.point}: " if mode.point else ""
        yield f" {mark}{named}{mode.frequency_hz:.4g} Hz, rings at {mode.chatter_hz:.4g} Hz{marks}{off}"
