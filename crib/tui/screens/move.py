"""Move: tools to another place."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen, What
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done


class MoveScreen(DoingScreen):
    """The form of a change of place."""

    AREA = "move"
    BINDINGS = bindings("move")
    ASKS = "What lies somewhere else now, and where?"
    FIELDS = (
        What,
        Entry(name="to", label="To", hint="A name, or the end of its path: insert cabinet / drawer 2."),
        Entry(name="pieces", label="Pieces", hint="Only so many of a batch; empty: all."),
        Entry(name="edges", label="Edges", hint="Fresh edges on those pieces, where not all are alike."),
        Entry(name="why", label="What for", hint="May stay empty."),
    )
    NEEDED = ("tags", "to")

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record the move."""
        from crib.desk.doings.moving import move
        from crib.desk.typed import count_of, names_of

        return move(
            self.crib.address, names_of(values["tags"]), values["to"], why=values["why"],
            pieces=count_of(values["pieces"], "pieces"), edges=count_of(values["edges"], "edges"),
        )  # fmt: skip
