"""crib undo: take the last doing back, or a named one."""

import click

from crib.cli.doings import done_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.undo import undo


@click.command()
@click.argument("act", default="")
@with_store
@with_output
def command(act: str, out: Output, db: str) -> None:
    """Take back your last doing, or the one called ACT, by correcting lines; nothing is deleted."""
    done = undo(db, act)
    out.give(done, lambda: done_lines(done))
