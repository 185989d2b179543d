"""Lend: tools to a person, with the day they are promised back."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen, What
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done


class LendScreen(DoingScreen):
    """The form of a loan."""

    AREA = "lend"
    BINDINGS = bindings("lend")
    ASKS = "Lend what, to whom, until when?"
    FIELDS = (
        What,
        Entry(name="to", label="To", hint="A name or a mark on record."),
        Entry(
            name="back",
            label="Back by",
            hint="4 Dec, friday, in 2 weeks, 2026-12-04; empty: no day is promised.",
        ),
        Entry(name="pieces", label="Pieces", hint="Only so many of a batch; empty: all."),
        Entry(name="edges", label="Edges", hint="Fresh edges on those pieces, where not all are alike."),
        Entry(name="why", label="What for", hint="The job, in a word; may stay empty."),
    )
    NEEDED = ("tags", "to")

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record the loan."""
        from crib.desk.doings.lending import lend
        from crib.desk.typed import count_of, names_of

        pieces, edges = count_of(values["pieces"], "pieces"), count_of(values["edges"], "edges")
        return lend(
            self.crib.address, names_of(values["tags"]), values["to"], back=values["back"],
            pieces=pieces, edges=edges, why=values["why"],
        )  # fmt: skip
