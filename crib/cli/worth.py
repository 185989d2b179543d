"""crib worth: where a tool came from and what it is worth."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.worth import CameFrom, Value, Worth, WorthRequest, record, worth
from crib.store.words import ORIGINS

WORDS = {"paid": "paid", "replacement": "a new one costs", "by age": "by its age"}


@click.command()
@click.argument("tag")
@click.argument("currency", required=False, default="")
@click.option("--agreed", default="", metavar="AMOUNT", help="What owner and payer agreed on.")
@click.option("--replacement", default="", metavar="AMOUNT", help="Price of a new one of the same kind.")
@click.option("--estimate", default="", metavar="AMOUNT", help="Of somebody who knows.")
@click.option("--cash-value", default="", metavar="AMOUNT", help="As an insurer or office set it.")
@click.option("--paid", default="", metavar="AMOUNT", help="What it cost its owner.")
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
    r"""What is it worth, and where did it come from? With options: record it.

    \b
    crib worth H03
    crib worth H03 --agreed "85 EUR" --source "inventory of 2025, both initials"
    crib worth H03 --replacement 140 EUR --source "price list 2026" --life "20 years"
    crib worth H03 --origin gift --got 2019-04-12 --from "an uncle"
    """
    request = WorthRequest(**told)
    found = record(db, tag, request, currency=currency) if any(told.values()) else worth(db, tag)
    out.give(found, lambda: worth_lines(found))


def worth_lines(found: Worth) -> Iterable[str]:
    """Put a tool's origin and values into lines."""
    item = found.item
    yield f"{item.tag}  {item.designation or item.label}, {item.owner}'s"
    yield origin_line(found.origin)
    yield "One piece is worth, side by side; which one is paid is for you and the payer to agree:"
    for value in found.values:
        yield from value_lines(value)


def origin_line(came: CameFrom | None) -> str:
    """Say how a tool was come by."""
    if came is None:
        return "  come by: NOT RECORDED; crib worth TAG --origin says how, --got when"
    day = f"on {came.on}" if came.on else "day not recorded"
    told = (came.how, day, came.from_whom and f"from {came.from_whom}", came.paid and f"for {came.paid}")
    more = (came.maker and f"made by {came.maker}", came.receipt and f"receipt {came.receipt}", came.note)
    return f"  come by: {', '.join(part for part in (*told, *more) if part)} (said by {came.said_by})"


def value_lines(value: Value) -> Iterable[str]:
    """Put one value into lines."""
    name = WORDS.get(value.basis, value.basis)
    if value.amount is None:
        yield f"  {name:16} {'not known':>16}  {value.how}"
        return
    facts = (str(value.on) if value.on else "", value.source or "source not told")
    yield f"  {name:16} {value.amount:>16}  {', '.join(fact for fact in facts if fact)}"
    if value.how:
        yield f"  {'':16} {'':16}  {value.how}"
