"""State: tools that are worn, damaged, ground again, or scrap."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen, What
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done

SCRAP = "scrap"
STATES = ("worn", "damaged", "good", "new", SCRAP)


class StateScreen(DoingScreen):
    """The form of a new state."""

    AREA = "state"
    BINDINGS = bindings("state")
    ASKS = "What is in another state now, and why?"
    FIELDS = (
        What,
        Entry(
            name="to",
            label="Now",
            hint="Arrow keys choose; scrap writes off.",
            words=STATES,
        ),
        Entry(name="pieces", label="Pieces", hint="With scrap: only so many of a batch; empty: all."),
        Entry(name="edges", label="Edges", hint="With scrap: fresh edges that go with those pieces."),
        Entry(name="diameter", label="Diameter", hint="After a regrind: its new diameter; empty: as before."),
        Entry(name="length", label="Length", hint="After a regrind: its new length; empty: as before."),
        Entry(name="why", label="What happened", hint="Needed for scrap: a claim can be made from it."),
    )
    NEEDED = ("tags",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record the state, or the scrap."""
        from crib.desk.doings.wear import regrade, scrap
        from crib.desk.typed import count_of, names_of
        from crib.errors import InputError

        tags, pieces = names_of(values["tags"]), count_of(values["pieces"], "pieces")
        edges = count_of(values["edges"], "edges")
        if values["to"] == SCRAP and (values["diameter"] or values["length"]):
            raise InputError("scrap has no new size", "choose another state, or leave the size empty")
        if values["to"] == SCRAP:
            return scrap(self.crib.address, tags, why=values["why"], pieces=pieces, edges=edges)
        if pieces is not None or edges is not None:
            raise InputError(
                "part of a batch can only be scrapped here", "move that part to its own place first"
            )
        return regrade(
            self.crib.address, tags, values["to"], why=values["why"], diameter=values["diameter"],
            length=values["length"],
        )  # fmt: skip
