"""crib restore: put a backup in the place of the store; what was there is kept."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.keeping.safe import Restored, restore
from crib.units.counts import many


@click.command()
@click.argument("source", metavar="BACKUP", type=click.Path())
@click.option("--over", is_flag=True, help="Replace the store that is there; it is kept beside the new one.")
@with_store
@with_output
def command(source: str, over: bool, out: Output, db: str) -> None:
    """Make the store as BACKUP is: a file of crib backup, or a folder of crib export.

    The backup is looked through first; without --over a store that is there is left alone.
    """
    done = restore(source, db, over=over)
    out.give(done, lambda: lines(done))


def lines(done: Restored) -> Iterable[str]:
    """Put a restore into lines."""
    yield f"Restored: {many(done.items, 'item')} in {done.store}."
    if done.kept:
        yield f"What was there before is {done.kept}"
