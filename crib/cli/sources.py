"""crib sources: where the numbers come from."""

import click

from crib.cli.output import Output, with_output
from crib.desk.keeping.sources import sources


@click.command()
@click.argument("word", required=False, default="")
@with_output
def command(word: str, out: Output) -> None:
    """Where the numbers come from; WORD narrows the list."""
    found = sources(word)
    out.give(
        {"sources": found}, lambda: (f"{source.key:24} {source.kind:15} {source.cite()}" for source in found)
    )
