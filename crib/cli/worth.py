"""crib worth: where a tool came from and what it is worth."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.owed.worth import CameFrom, WorthRequest, record, worth
from crib.report.worth_words import worth_lines
from crib.store.words import ORIGINS


@click.command()
@click.argument("tag")
@click.argument("currency", required=False, default="")
@click.option("--agreed", default="", metavar="AMOUNT", help="What owner and payer agreed on.")
@click.option("--replacement", default="", metavar="AMOUNT", help="Price of a new one of the same kind.")
@click.option("--estimate", default="", metavar="AMOUNT", help="Of somebody who knows.")
@click.option("--cash-value", default="", metavar="AMOUNT", help="As an insurer or office set it.")
@click.option("--paid", default="", metavar="AMOUNT", help="What one piece cost its owner.")
@click.option("--source", default="", help="Who says so: a price list, initials on the inventory …")
@click.option("--on", default="", metavar="DAY", help="The day of that value; today if not told.")
@click.option("--life", default="", metavar="YEARS", help="Years it is taken to last, for the value by age.")
@click.option(
    "--origin", default="", type=click.Choice(["", *ORIGINS]), metavar="HOW", help=", ".join(ORIGINS)
)
@click.option("--got", default="", metavar="DAY", help="The day its owner came by it.")
@click.option("--from", "from_whom", default="", help="Giver or seller.")
@click.option("--maker", default="", help="Who made it.")
@click.option("--receipt", default="", help="Its number, or where it is.")
@click.option("--note", default="", help="Anything.")
@with_store
@with_output
def command(tag: str, currency: str, out: Output, db: str, **told: str) -> None:
    """What is it worth, and where did it come from? With options: record it.

    \b
    crib worth H03
    crib worth H03 --agreed "85 EUR" --source "inventory of 2025, both initials"
    crib worth H03 --replacement 140 EUR --source "price list" --life "20 years"
    crib worth H03 --origin gift --got 2019-04-12 --from "an uncle"
    """
    request = WorthRequest(**told)
    found = record(db, tag, request, currency=currency) if any(told.values()) else worth(db, tag)
    out.give(found, lambda: (*worth_lines(found), *how_come_by(found.item.tag, found.origin)))


def how_come_by(tag: str, origin: CameFrom | None) -> Iterable[str]:
    """Say how to record how a tool was come by, where nothing is."""
    if origin is None:
        yield f"Next: crib worth {tag} --origin HOW --got DAY says how it was come by."
