"""crib bring: record tools brought in from home."""

from typing import Any

import click

from crib.cli.doings import done_lines, of_batch
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.bring_in import bring_in


@click.command()
@click.argument("tags", nargs=-1, required=True)
@click.option("--to", default="", help="Where they lie now; the site itself if not told.")
@click.option("--why", default="", help="The job they came for.")
@click.option("--told", default="", help="Who was told of it, and how.")
@click.option("--mark", default="", help="What is engraved on it.")
@click.option("--serial", default="", help="Its serial number.")
@click.option("--condition", default="", help="new, good, worn, damaged; as recorded if not told.")
@of_batch
@with_store
@with_output
def command(tags: tuple[str, ...], out: Output, db: str, **said: Any) -> None:
    """Record tools brought in from home: all of them, or none."""
    done = bring_in(db, tags, **said)
    out.give({"brought_in": done.items, "act": done.act, "undo": done.undo}, lambda: done_lines(done))
