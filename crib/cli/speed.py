"""crib speed: speed, feed and depth to start with."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.start import USUAL_CUT, Start, start
from crib.units import Kind, show


@click.command()
@click.option("--material", required=True, help="Any name: 4140, 42CrMo4, A36, cast iron …")
@click.option("--tool", required=True, help="HSS, carbide, coated carbide, cermet …")
@click.option("--op", default="turn", help="turn, face or bore.")
@click.option("--cut", default=USUAL_CUT, help="finish, medium, rough or heavy rough.")
@click.option("--diameter", default="", help="Where it cuts, for the spindle speed.")
@click.option("--machine", default="", help="A machine on record: its own speeds and feeds.")
@click.option("--scale", is_flag=True, help="Hard skin.")
@click.option("--interrupted", is_flag=True, help="Interrupted cut.")
@click.option(
    "--units", type=click.Choice(["metric", "inch"]), default="metric", help="What bare numbers mean."
)
@with_store
@with_output
def command(out: Output, db: str, units: str, **asked: str) -> None:
    """Speed, feed and depth to start with, from published tables."""
    found = start(db, system=units, **asked)  # type: ignore[arg-type]  # the two flags are bools
    out.give(found, lambda: lines(found, units))


def lines(found: Start, system: str) -> Iterable[str]:
    """Put starting data into lines."""
    yield f"{found.material}, {found.tool}, {found.op}, {found.cut} cut:"
    for name, kind, value in (
        ("speed", Kind.SPEED, found.vc_m_min),
        ("feed", Kind.FEED, found.f_mm),
        ("depth", Kind.LENGTH, found.ap_mm),
    ):
        low, start_, high = (show(one, kind, system) for one in (value.low, value.start, value.high))
        yield f"  {name:6} start at {start_};  from {low} to {high}"
    if found.n_rev_min is not None:
        yield f"  {'run':6} {found.n_rev_min:.4g} rev/min"
    if found.machine_f_mm is not None:
        yield f"  {'':6} machine's feed {show(found.machine_f_mm, Kind.FEED, system)}"
    for title, said in (("assumed", found.assumed), ("note", found.notes), ("source", found.source)):
        yield from (f"  {title}: {line}" for line in said)
    yield from (f"! {caution}" for caution in found.cautions)
    yield f"Starting points only. {found.defer}"
