"""crib return: record that tools came back."""

from typing import Any

import click

from crib.cli.doings import done_lines, of_batch
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.lending import give_back


@click.command()
@click.argument("tags", nargs=-1, required=True)
@click.option("--to", default="", help="Where they lie now; where they belong if not told.")
@click.option("--condition", default="", help="new, good, worn, damaged; as before if not told.")
@click.option("--why", default="", help="What is to be said of it.")
@click.option("--diameter", default="", metavar="SIZE", help="What a regrind left of it.")
@click.option("--length", default="", metavar="SIZE", help="Its length after a regrind.")
@of_batch
@with_store
@with_output
def command(tags: tuple[str, ...], out: Output, db: str, **said: Any) -> None:
    """Record that lent or sent-out tools came back: all of them, or none.

    \b
    crib return M13 --condition good
    crib return D05 --condition good --diameter 37.9 --length 340
    """
    done = give_back(db, tags, **said)
    out.give(done, lambda: done_lines(done))
