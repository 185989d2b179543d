"""crib speed: speed, feed and depth to start with."""

from collections.abc import Iterable

import click

from crib.cli.conditions import with_conditions
from crib.cli.costs import with_costs
from crib.cli.effects import effect_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.starting.start import USUAL_CUT, Start, start
from crib.trade.cutting.speeds import Range
from crib.units import Kind, show

ROWS = (("speed", Kind.SPEED, "vc_m_min"), ("feed", Kind.FEED, "f_mm"), ("depth", Kind.LENGTH, "ap_mm"))
THOU_MM = 0.0254
DEPTH_IS = {"parting": "width", "grooving": "width", "drilling": "radius", "reaming": "stock"}


@click.command()
@click.option("--material", required=True, help="Any name: 4140, 42CrMo4, A36, cast iron …")
@click.option(
    "--tool", required=True, help="HSS, carbide, coated carbide, cermet …, or a grade's use: HC-P25."
)
@click.option("--op", default="turn", help="turn, face, bore, part, groove, drill, ream or thread.")
@click.option("--cut", default=USUAL_CUT, help="finish, medium, rough or heavy rough (turn, face, bore).")
@click.option(
    "--diameter", default="", help="Where it cuts, or of the drill or reamer: for rev/min and feed."
)
@click.option("--width", default="", help="Of the parting or grooving edge.")
@click.option("--pitch", default="", help="Of the thread: 1.5 mm, 12 tpi.")
@click.option("--depth", default="", help="Of the hole, the groove or the parting cut.")
@click.option("--length", default="", help="Of the cut: for its minutes.")
@click.option("--hardness", default="", help="Measured: 220 HB, 32 HRC; or behind the material's name.")
@click.option("--machine", default="", help="A machine on record: its own speeds and feeds.")
@with_conditions
@with_costs
@click.option(
    "--own/--book", default=None, help="Whose speeds win: the shop's own proven ones; else the setting."
)
@click.option(
    "--units", type=click.Choice(["metric", "inch"]), default="metric", help="What bare numbers mean."
)
@click.option("--why", is_flag=True, help="How the figures come about, to be checked by hand.")
@with_store
@with_output
def command(out: Output, db: str, units: str, why: bool, **asked: object) -> None:
    """Speed, feed and depth to start with, from published tables."""
    if not why:
        found = start(db, system=units, **asked)
        out.give(found, lambda: lines(found, units))
        return
    from crib.desk.why.chain import why_start  # only who asks pays for it

    found, chain = why_start(db, system=units, **asked)
    out.give_why(found, chain, lambda: lines(found, units), units)


def lines(found: Start, system: str) -> Iterable[str]:
    """Put starting data into lines."""
    cut = f", {found.cut} cut" if found.cut else ""
    hard = f", {found.hb:.0f} HB" if found.hb is not None else ""
    yield f"{found.material}{hard}, {found.tool}, {found.op}{cut}:"
    for word, kind, name in ROWS:
        value = getattr(found, name)
        if value is not None:
            word = DEPTH_IS.get(found.op, word) if name == "ap_mm" else word
            yield f"  {word:6} {_range(value, kind, system)}"
    if found.passes:
        yield f"  passes {len(found.passes)}, radial infeed in mm: {_infeeds(found, 1.0, 2)}"
        yield f"  {'':6} in thousandths of an inch: {_infeeds(found, THOU_MM, 1)}"
    if found.deepest_mm is not None:
        yield f"  {'to':6} {show(found.deepest_mm, Kind.LENGTH, system)} deep"
    if found.n_rev_min is not None:
        yield f"  {'run':6} {found.n_rev_min:.4g} rev/min"
    if found.machine_f_mm is not None:
        yield f"  {'':6} machine's feed {show(found.machine_f_mm, Kind.FEED, system)}"
    if found.kc11_N_mm2 is not None:
        force = found.kc11_N_mm2
        yield (
            f"  {'force':6} kc1.1 {force.value:.0f} N/mm2, sources from {force.low:.0f} to {force.high:.0f}; "
            f"mc {force.mc:g}"
        )
    yield from effect_lines(found.effects)
    for one in found.own:
        word = "own" if one.counts and found.speeds_from == "own" else "beside"
        yield f"  {word:6} {one.proven.said}" + (f"; not for this cut: {one.why_not}" if one.why_not else "")
    for title, said in (
        ("reckoned", found.factors),
        ("assumed", found.assumed),
        ("note", found.notes),
        ("source", dict.fromkeys((*found.source, *found.effects.sources))),
    ):
        yield from (f"  {title}: {line}" for line in said)
    yield from (f"! {caution}" for caution in found.cautions)
    yield f"Starting points only. {found.defer}"


def _infeeds(found: Start, unit_mm: float, digits: int) -> str:
    return ", ".join(f"{one.ap_mm / unit_mm:.{digits}f}" for one in found.passes)


def _range(value: Range, kind: Kind, system: str) -> str:
    """Show a range and where to start in it; one figure where there is no range."""
    low, first, high = (show(one, kind, system) for one in (value.low, value.start, value.high))
    return low if low == high else f"start at {first};  from {low} to {high}"
