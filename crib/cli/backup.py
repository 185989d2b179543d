"""crib backup: a copy of the store, made while it is in use, and checked."""

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.keeping.safe import backup
from crib.units.counts import many


@click.command()
@click.argument("to", metavar="FILE|FOLDER", type=click.Path())
@with_store
@with_output
def command(to: str, out: Output, db: str) -> None:
    """Copy the store to FILE while it is in use, and check the copy; in a FOLDER the copy names itself.

    Of a store on a server the copy is a folder of open files, as crib export makes it.
    """
    made = backup(db, to)
    size = f"{made.size / 1e6:.1f} MB"
    out.give(
        made,
        lambda: (
            f"Backed up to {made.path}: {many(made.items, 'item')}, {size}.",
            "It was read back: whole, and as its ledger says.",
        ),
    )
