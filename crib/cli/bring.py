"""crib bring: record tools brought in from home."""

import click

from crib.cli.find import item_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.bring_in import bring_in


@click.command()
@click.argument("tags", nargs=-1, required=True)
@click.option("--to", default="", help="Where they lie now; the site itself if not told.")
@click.option("--why", default="", help="The job they came for.")
@with_store
@with_output
def command(tags: tuple[str, ...], to: str, why: str, out: Output, db: str) -> None:
    """Record tools brought in from home: all of them, or none."""
    brought = bring_in(db, tags, to=to, why=why)
    out.give(
        {"brought_in": brought},
        lambda: ("Recorded.", *(line for item in brought for line in item_lines(item))),
    )
