"""What is out of use for want of a part, on paper."""

from crib.desk.restocking.missing import Missing
from crib.report.listing import Heading, Listing

COLUMNS = (
    Heading(name="tag", share=0.8),
    Heading(name="tool", share=3.0),
    Heading(name="owner", share=2.0),
    Heading(name="where", share=3.0),
    Heading(name="needs", share=1.6),
    Heading(name="number", share=1.4),
    Heading(name="may be had from", share=4.5),
)


def missing_list(found: Missing) -> Listing:
    """Put what lacks a part on a list."""
    rows = []
    for lack in found.lacks:
        sources = "; ".join(
            f"{one.tag} {one.label}, {one.place} ({one.count}, {one.why})" for one in lack.sources
        )
        tool = lack.designation or lack.label
        rows.append((lack.tag, tool, lack.owner, lack.place, lack.part, lack.code, sources))
    return Listing(title="Missing parts", intro=(found.verdict, found.detail), columns=COLUMNS, rows=rows)
