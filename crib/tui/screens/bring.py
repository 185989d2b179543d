"""Bring in: own tools from home, with mark, serial number, state, and who was told."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen, What
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done

AS_RECORDED = "as recorded"


class BringScreen(DoingScreen):
    """The form of tools that came from home."""

    AREA = "bring"
    BINDINGS = bindings("bring")
    ASKS = "What came in from home, and who was told?"
    FIELDS = (
        What,
        Entry(name="told", label="Told", hint="Who was told of it, and how: the foreman, by word of mouth."),
        Entry(name="to", label="Lies at", hint="A place on this site; empty: the site itself."),
        Entry(
            name="condition", label="State", hint="Arrow keys choose.",
            words=(AS_RECORDED, "new", "good", "worn", "damaged"),
        ),
        Entry(name="mark", label="Mark", hint="What is engraved on it; empty: as recorded."),
        Entry(name="serial", label="Serial no.", hint="Its serial number; empty: as recorded."),
        Entry(name="pieces", label="Pieces", hint="Only so many of a batch; empty: all."),
        Entry(name="edges", label="Edges", hint="Fresh edges on those pieces, where not all are alike."),
        Entry(name="why", label="For the job", hint="The job it came for; may stay empty."),
    )  # fmt: skip
    NEEDED = ("tags",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record what came."""
        from crib.desk.doings.bring_in import bring_in
        from crib.desk.typed import count_of, names_of

        pieces, edges = count_of(values["pieces"], "pieces"), count_of(values["edges"], "edges")
        state = values["condition"]
        return bring_in(
            self.crib.address, names_of(values["tags"]), to=values["to"], why=values["why"],
            told=values["told"], mark=values["mark"], serial=values["serial"],
            condition="" if state == AS_RECORDED else state, pieces=pieces, edges=edges,
        )  # fmt: skip
