"""crib regrade: record that tools are in another state now."""

import click

from crib.cli.doings import done_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.wear import regrade


@click.command()
@click.argument("tags", nargs=-1, required=True)
@click.option("--to", required=True, help="new, good, worn, damaged.")
@click.option("--why", default="", help="What is to be said of it.")
@with_store
@with_output
def command(tags: tuple[str, ...], to: str, why: str, out: Output, db: str) -> None:
    """Record that tools are in another state now: all of them, or none."""
    done = regrade(db, tags, to, why=why)
    out.give(done, lambda: done_lines(done))
