"""Send out: tools for regrind, repair or calibration."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen, What
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done


class SendScreen(DoingScreen):
    """The form of tools that go out for work on them."""

    AREA = "send"
    BINDINGS = bindings("send")
    ASKS = "What goes out, to whom, and what for?"
    FIELDS = (
        What,
        Entry(
            name="to",
            label="To",
            hint="Who works on it: a name on record (crib party NAME --add).",
        ),
        Entry(name="why", label="For", hint="regrind, repair, calibration …"),
        Entry(name="back", label="Back by", hint="4 Dec, friday, in 2 weeks; empty: not known."),
        Entry(name="pieces", label="Pieces", hint="Only so many of a batch; empty: all."),
        Entry(name="edges", label="Edges", hint="Fresh edges on those pieces, where not all are alike."),
    )
    NEEDED = ("tags", "to", "why")

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record what went out."""
        from crib.desk.doings.lending import lend
        from crib.desk.typed import count_of, names_of

        pieces, edges = count_of(values["pieces"], "pieces"), count_of(values["edges"], "edges")
        return lend(
            self.crib.address, names_of(values["tags"]), values["to"], back=values["back"], why=values["why"],
            pieces=pieces, edges=edges, what="sent out",
        )  # fmt: skip
