"""crib show: everything on record about one tool."""

from collections.abc import Iterable

import click

from crib.cli.find import item_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.asking.story import ItemStory, story


@click.command()
@click.argument("tag")
@with_store
@with_output
def command(tag: str, out: Output, db: str) -> None:
    """Everything on record about one tool, and what happened to it."""
    told = story(db, tag)
    out.give(told, lambda: lines(told))


def lines(told: ItemStory) -> Iterable[str]:
    """Put a tool's story into lines."""
    yield from item_lines(told.item)
    yield ""
    for name, value in told.facts:
        yield f"  {name:20} {value}"
    yield ""
    for line in told.ledger:
        change = " ".join(
            part
            for part in (
                f"{line.how_many:+d}" if line.how_many else "",
                f"{line.edges:+d} edges" if line.edges else "",
                f"from {line.from_}" if line.from_ else "",
                f"to {line.to}" if line.to else "",
                f"({line.why})" if line.why else "",
                f"told: {line.told}" if line.told else "",
                f"- {line.who}" if line.who else "",
                f"[{line.act}]" if line.act else "",
            )
            if part
        )
        yield f"  {line.at[:16]}  {line.what:11} {change}"
