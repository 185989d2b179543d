"""crib count: a fresh count of one box wins over the books."""

import click

from crib.cli.doings import done_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.wear import count


@click.command()
@click.argument("tag")
@click.argument("pieces", type=click.IntRange(0, 1_000_000))
@click.option("--edges", type=click.IntRange(0, 1_000_000), help="Fresh edges on them.")
@click.option("--why", default="", help="What is to be said of it.")
@with_store
@with_output
def command(tag: str, pieces: int, edges: int | None, why: str, out: Output, db: str) -> None:
    """Record that PIECES are there, whatever the books say. crib stocktake counts a whole place."""
    done = count(db, tag, pieces, edges=edges, why=why)
    out.give(done, lambda: done_lines(done))
