"""The list to buy from, for paper and spreadsheets."""

from crib.desk.restocking.restock import Line, Restock
from crib.report.listing import Heading, Listing

COLUMNS = (
    Heading(name="what", share=3.0),
    Heading(name="grade", share=1.5),
    Heading(name="counted in", share=0.0),
    Heading(name="have", share=0.9, right=True),
    Heading(name="least", share=0.9, right=True),
    Heading(name="up to", share=0.9, right=True),
    Heading(name="buy pieces", share=1.1, right=True),
    Heading(name="lent out", share=0.0),
    Heading(name="sent out", share=0.0),
    Heading(name="on claim", share=0.0),
    Heading(name="why", share=4.0),
    Heading(name="kits", share=0.0),
    Heading(name="lead days", share=0.8, right=True),
    Heading(name="last paid", share=2.0),
    Heading(name="who pays", share=2.0),
    Heading(name="use", share=3.5),
)


def buy_list(found: Restock) -> Listing:
    """Put what is below its minimum on a list: to buy first, then what only has to come back."""
    return Listing(
        title="To buy",
        intro=(found.verdict, found.detail),
        columns=COLUMNS,
        rows=[_row(line) for line in (*found.buy, *found.ask_back, *found.enough)],
        closing=("Counts are those on record. Lines with 0 to buy are short only until what is out is back.",)
        if found.ask_back
        else (),
    )


def _row(line: Line) -> tuple[str | int | None, ...]:
    known = line.minimum
    return (
        line.what,
        line.grade,
        line.counted_in,
        line.have,
        known.least if known else None,
        (known.up_to or known.least) if known else None,
        line.buy,
        line.on_loan,
        line.sent_out,
        line.on_claim,
        line.why,
        ", ".join(line.kits),
        known.lead_days if known else None,
        line.price,
        known.payer if known else None,
        line.usage.said,
    )
