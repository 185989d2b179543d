"""crib import: a folder of crib export into a blank store."""

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.keeping.safe import counted, import_


@click.command(name="import")
@click.argument("folder", type=click.Path())
@with_store
@with_output
def command(folder: str, out: Output, db: str) -> None:
    """Read a FOLDER that crib export has written into a blank store: all of it, or nothing.

    Lists of your own go in with crib intake.
    """
    done = import_(folder, db)
    out.give(done, lambda: (f"Read in from {done.folder}: {counted(done)}.",))
