"""crib take-home: record tools taken home, or list what of mine is still in the building."""

from typing import Any

import click

from crib.cli.doings import done_lines, of_batch
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.bring_in import take_home


@click.command()
@click.argument("tags", nargs=-1, required=True)
@click.option("--to", default="", help="Where at home; else where it came from, or its owner's home.")
@click.option("--why", default="", help="What for.")
@click.option("--told", default="", help="Who was told of it, and how.")
@of_batch
@with_store
@with_output
def command(tags: tuple[str, ...], out: Output, db: str, **said: Any) -> None:
    """Record tools taken home: all, or none. `crib out --still-here` lists what could go."""
    done = take_home(db, tags, **said)
    out.give(done, lambda: done_lines(done))
