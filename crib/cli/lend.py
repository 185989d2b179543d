"""crib lend: record that tools are lent to somebody."""

from typing import Any

import click

from crib.cli.doings import done_lines, of_batch
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.lending import lend


@click.command()
@click.argument("tags", nargs=-1, required=True)
@click.option("--to", required=True, help="Who gets them: a name or a mark.")
@click.option("--back", default="", help='Promised back: "4 Dec", friday, "in 2 weeks", 2026-12-04.')
@click.option("--why", default="", help="What for.")
@of_batch
@with_store
@with_output
def command(tags: tuple[str, ...], out: Output, db: str, **said: Any) -> None:
    """Record that tools are lent to somebody: all of them, or none."""
    done = lend(db, tags, **said)
    out.give(done, lambda: done_lines(done))
