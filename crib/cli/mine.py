"""crib mine: how do I show that this one is mine?"""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.cli.worth import origin_line, value_lines
from crib.desk.mine import Mine, mine


@click.command()
@click.argument("tag")
@with_store
@with_output
def command(tag: str, out: Output, db: str) -> None:
    """How do I show that this one is mine? Marks, photos, lists, statements; what is missing."""
    found = mine(db, tag)
    out.give(found, lambda: mine_lines(found))


def mine_lines(found: Mine) -> Iterable[str]:
    """Put what shows whose a tool is into lines."""
    item = found.item
    yield f"{item.tag}  {item.designation or item.label}: on record as {item.owner}'s"
    yield f"  {'; '.join(found.marks) or 'NO MARK AND NO SERIAL NUMBER ON RECORD'}"
    yield origin_line(found.origin)
    if found.alike:
        yield f"  MIND: the same mark is on {', '.join(found.alike)}"
    yield "What shows it, the strongest first:"
    for one in found.shown:
        yield f"  {one.on or 'no day'!s:10}  {one.what}"
    yield "What is missing, the strongest first:"
    yield from (f"  {what}" for what in found.missing)
    yield "One piece is worth, side by side:"
    for value in found.values:
        yield from value_lines(value)
    yield "crib evidence add takes photos, receipts and statements; a paper that is lost: write down why."
