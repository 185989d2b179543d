"""crib ui: open the terminal UI."""

import click

from crib.cli.output import with_store
from crib.cli.root import OpenUi


@click.command()
@with_store
@click.pass_obj
def command(open_ui: OpenUi, db: str) -> None:
    """Open the terminal UI on your store."""
    open_ui(db)
