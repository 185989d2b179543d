"""crib send: record that tools are sent out for regrind, repair or calibration."""

from typing import Any

import click

from crib.cli.doings import done_lines, of_batch
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.lending import lend


@click.command()
@click.argument("tags", nargs=-1, required=True)
@click.option("--to", required=True, help="Who works on them: a name on record (crib party NAME --add).")
@click.option("--for", "why", required=True, help="regrind, repair, calibration …")
@click.option("--back", default="", help='Expected back: "4 Dec", friday, "in 2 weeks", 2026-12-04.')
@of_batch
@with_store
@with_output
def command(tags: tuple[str, ...], out: Output, db: str, **said: Any) -> None:
    """Record that tools are sent out for work on them; crib return marks them back."""
    done = lend(db, tags, what="sent out", **said)
    out.give(done, lambda: done_lines(done))
