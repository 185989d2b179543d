"""crib mine: how do I show that this one is mine?"""

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.owed.mine import mine
from crib.report.worth_words import mine_lines


@click.command()
@click.argument("tag")
@with_store
@with_output
def command(tag: str, out: Output, db: str) -> None:
    """How do I show that this one is mine? Marks, photos, lists, statements; what is missing."""
    found = mine(db, tag)
    out.give(found, lambda: mine_lines(found))
