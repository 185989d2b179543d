"""Is back: lent or sent-out tools, with the state they are in now."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen, What
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done

AS_BEFORE = "as before"


class GiveBackScreen(DoingScreen):
    """The form of a return: from the last field, or at once with Ctrl+S."""

    AREA = "give_back"
    BINDINGS = bindings("give_back")
    ASKS = "What is back, and in which state?"
    FIELDS = (
        What,
        Entry(
            name="condition", label="State", hint="Look at it: arrow keys choose. Ctrl+S records at once.",
            words=(AS_BEFORE, "good", "worn", "damaged"),
        ),
        Entry(name="to", label="Lies at", hint="A place; empty: where it belongs."),
        Entry(name="pieces", label="Pieces", hint="Only so many of a batch are back; empty: all."),
        Entry(name="edges", label="Edges", hint="Fresh edges on those pieces, where not all are alike."),
        Entry(name="diameter", label="Diameter", hint="After a regrind: its new diameter; empty: as before."),
        Entry(name="length", label="Length", hint="After a regrind: its new length; empty: as before."),
        Entry(name="why", label="Remark", hint="What is to be said of it; may stay empty."),
    )  # fmt: skip
    NEEDED = ("tags",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record what is back."""
        from crib.desk.doings.lending import give_back
        from crib.desk.typed import count_of, names_of

        pieces, edges = count_of(values["pieces"], "pieces"), count_of(values["edges"], "edges")
        state = values["condition"]
        return give_back(
            self.crib.address, names_of(values["tags"]), to=values["to"], why=values["why"], pieces=pieces,
            condition="" if state == AS_BEFORE else state, edges=edges, diameter=values["diameter"],
            length=values["length"],
        )  # fmt: skip
