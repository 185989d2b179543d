"""crib export: everything in the store as open files."""

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.keeping.safe import counted, export


@click.command()
@click.argument("folder", type=click.Path())
@with_store
@with_output
def command(folder: str, out: Output, db: str) -> None:
    """Write everything into a new FOLDER: a CSV file for each table, the evidence as files, a manifest."""
    done = export(db, folder)
    out.give(done, lambda: (f"Written out to {done.folder}: {counted(done)}.",))
