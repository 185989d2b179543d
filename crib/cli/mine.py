"""crib mine: how do I show that this one is mine?"""

import click

from crib.cli.output import Output, with_output, with_store
from crib.cli.worth import how_come_by
from crib.desk.owed.mine import mine
from crib.report.worth_words import mine_lines


@click.command()
@click.argument("tag")
@with_store
@with_output
def command(tag: str, out: Output, db: str) -> None:
    """How do I show that this one is mine? Marks, photos, lists, statements; what is missing."""
    found = mine(db, tag)
    told = f"Next: crib evidence add {found.item.tag} FILE takes photos, receipts and statements."
    out.give(found, lambda: (*mine_lines(found), *how_come_by(found.item.tag, found.origin), told))
