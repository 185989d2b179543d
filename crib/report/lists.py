"""The lists for insurance and for settling up, for paper and spreadsheets."""

from collections.abc import Sequence

from crib.desk.owed.insurance import Insurance, Listed
from crib.desk.owed.leaving import Leaving, Settled
from crib.report.listing import Heading, Listing
from crib.report.sheets import Cell
from crib.units.counts import many

INSURANCE = (
    Heading(name="tag", share=0.8),
    Heading(name="what", share=4.0),
    Heading(name="owner", share=2.0),
    Heading(name="place", share=3.0),
    Heading(name="lent to", share=0.0),
    Heading(name="mark", share=1.0),
    Heading(name="serial", share=1.0),
    Heading(name="maker", share=0.0),
    Heading(name="got", share=0.0),
    Heading(name="paid", share=0.0),
    Heading(name="count", share=0.9, right=True),
    Heading(name="each", share=1.4, right=True),
    Heading(name="basis", share=1.2),
    Heading(name="of", share=1.2),
    Heading(name="all", share=1.5, right=True),
    Heading(name="photos", share=1.0, right=True),
    Heading(name="gaps", share=2.2),
)
LEAVING = (
    Heading(name="column", share=1.2),
    Heading(name="tag", share=0.8),
    Heading(name="what", share=3.0),
    Heading(name="count", share=0.9, right=True),
    Heading(name="owner", share=2.0),
    Heading(name="where", share=3.0),
    Heading(name="proof held", share=2.5),
    Heading(name="remark", share=3.5),
)


def insurance_list(found: Insurance) -> Listing:
    """Put the tools on a list, the sums before it."""
    sums = [
        f"{one.place}, {one.owner}: {many(one.tools, 'tool')}, {' and '.join(one.worth) or 'no value'}"
        + (f", {one.without} without a value" if one.without else "")
        for one in found.sums
    ]
    return Listing(
        title=f"Tools for insurance, {found.on}",
        intro=(found.verdict, found.detail, *sums),
        columns=INSURANCE,
        rows=[_listed(line) for line in found.lines],
        closing=("Values are those on record, each with its basis and day; crib changes no money.",),
    )


def leaving_list(found: Leaving) -> Listing:
    """Put the four columns below one another, with lines to sign."""
    columns: Sequence[tuple[str, Sequence[Settled]]] = (
        ("mine", found.mine),
        ("to give back", found.theirs),
        ("half-paid", found.half),
        ("unclear", found.unclear),
    )
    return Listing(
        title=f"Settling up: {found.name}, {found.on}",
        intro=(found.verdict, found.detail),
        columns=LEAVING,
        rows=[_settled(name, one) for name, lines in columns for one in lines],
        sign=found.sign,
    )


def _listed(line: Listed) -> tuple[Cell, ...]:
    return (
        line.tag, line.what, line.owner, line.place, line.away, line.mark, line.serial, line.maker, line.got,
        line.paid, line.count, line.each, line.basis, line.on, line.all, line.photos, ", ".join(line.gaps),
    )  # fmt: skip


def _settled(column: str, one: Settled) -> tuple[Cell, ...]:
    return (column, one.tag, one.what, one.count, one.owner, one.where, one.proof, one.say)
