"""A kit on paper: to tick off at each place."""

from collections.abc import Iterable

from crib.desk.restocking.kit_match import Got, KitMatch, Match
from crib.report.listing import Heading, Listing

COLUMNS = (
    Heading(name="line", share=0.5, right=True),
    Heading(name="need", share=3.0),
    Heading(name="of", share=0.5, right=True),
    Heading(name="how", share=1.0),
    Heading(name="tag", share=0.8),
    Heading(name="tool", share=3.0),
    Heading(name="count", share=0.7, right=True),
    Heading(name="owner", share=2.0),
    Heading(name="where", share=3.5),
    Heading(name="remark", share=3.0),
)


def kit_list(found: KitMatch) -> Listing:
    """Put a matched kit on a list: a row a tool, a row for what is short."""
    return Listing(
        title=f"Kit: {found.name}",
        intro=(found.verdict, *([found.note] if found.note else [])),
        columns=COLUMNS,
        rows=[row for line in found.lines for row in _rows(line)],
        closing=[f"{trip.place}: {', '.join(trip.tags)}" for trip in found.trips],
    )


def _rows(line: Match) -> Iterable[tuple[str | int | None, ...]]:
    for one in line.got:
        yield _row(line, one, one.how, one.note)
    if line.short:
        yield (
            line.line_no,
            line.need,
            line.quantity,
            "MISSING",
            None,
            None,
            line.short,
            None,
            None,
            line.why,
        )
    for offer in line.substitutes:
        yield _row(line, offer.tool, "instead?", "; ".join(offer.costs))


def _row(line: Match, one: Got, how: str, remark: str | None) -> tuple[str | int | None, ...]:
    tool = one.designation or one.label
    return (
        line.line_no, line.need, line.quantity, how, one.tag, tool, one.count, one.owner, one.place, remark,
    )  # fmt: skip
