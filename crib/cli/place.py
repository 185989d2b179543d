"""crib place: sites, rooms, cabinets and drawers on record."""

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk import places
from crib.errors import InputError


@click.command()
@click.argument("path", default="")
@click.option("--add", is_flag=True, help="A new place, with those it is in where they are new too.")
@click.option(
    "--kind",
    type=click.Choice(["area", "cabinet", "drawer"]),
    help="Of the place; read from its name if not said. Goes with --add.",
)
@with_store
@with_output
def command(path: str, add: bool, kind: str | None, out: Output, db: str) -> None:
    """Places on record; --add for a new one.

    \b
    crib place
    crib place "works / tool room / drawer 1" --add

    The first step is the site: works, home.
    """
    if add != bool(path):
        raise InputError("a new place needs its path and --add", 'crib place "works / tool room" --add')
    found = (places.add(db, path, kind or ""),) if add else places.places(db)
    out.give({"places": found}, lambda: (f"{one.path} ({one.kind})" for one in found))
