"""crib use: record that edges of a box were used."""

import click

from crib.cli.doings import done_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.wear import use


@click.command()
@click.argument("tag")
@click.option("--edges", default=1, type=click.IntRange(1), help="How many edges; one if not told.")
@click.option("--gone", default=0, type=click.IntRange(0), help="Pieces that left the box, spent or broken.")
@click.option("--for", "job", default="", help="Which job or cut it was for.")
@click.option("--why", default="", help="What is to be said of it.")
@with_store
@with_output
def command(tag: str, edges: int, gone: int, job: str, why: str, out: Output, db: str) -> None:
    """Record that fresh edges of a box of inserts were used; with the last one the box is worn."""
    done = use(db, tag, edges=edges, gone=gone, job=job, why=why)
    out.give(done, lambda: done_lines(done))
