"""crib scrap: write tools off, with the reason."""

from typing import Any

import click

from crib.cli.doings import done_lines, of_batch
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.wear import scrap


@click.command()
@click.argument("tags", nargs=-1, required=True)
@click.option("--why", required=True, help="What happened to it.")
@of_batch
@with_store
@with_output
def command(tags: tuple[str, ...], out: Output, db: str, **said: Any) -> None:
    """Write tools off, with the reason; they stay on record."""
    done = scrap(db, tags, **said)
    out.give(done, lambda: done_lines(done))
