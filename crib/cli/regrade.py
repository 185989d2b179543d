"""crib regrade: record that tools are in another state now."""

import click

from crib.cli.doings import done_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.wear import regrade


@click.command()
@click.argument("tags", nargs=-1, required=True)
@click.option("--to", default="", help="new, good, worn, damaged; as before if only a size is told.")
@click.option("--diameter", default="", metavar="SIZE", help="What a regrind left of it.")
@click.option("--length", default="", metavar="SIZE", help="Its length after a regrind.")
@click.option("--why", default="", help="What is to be said of it.")
@with_store
@with_output
def command(tags: tuple[str, ...], out: Output, db: str, **said: str) -> None:
    """Record that tools are in another state now, or were ground to a new size: all of them, or none.

    \b
    crib regrade H04 H05 --to worn
    crib regrade D13 --to good --diameter 11.8 --why "ground here"
    """
    done = regrade(db, tags, **said)
    out.give(done, lambda: done_lines(done))
