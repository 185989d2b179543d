"""crib move: record that tools lie at another place now."""

from typing import Any

import click

from crib.cli.doings import done_lines, of_batch
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.moving import move


@click.command()
@click.argument("tags", nargs=-1, required=True)
@click.option("--to", required=True, help='The place: a name, or the end of its path ("cabinet / drawer 2").')
@click.option("--why", default="", help="What for.")
@of_batch
@with_store
@with_output
def command(tags: tuple[str, ...], out: Output, db: str, **said: Any) -> None:
    """Record that tools lie at another place now; like batches that meet become one."""
    done = move(db, tags, **said)
    out.give(done, lambda: done_lines(done))
