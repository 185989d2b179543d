"""Use an edge: of a box of inserts, for a job."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done


class UseScreen(DoingScreen):
    """The form of edges used."""

    AREA = "use"
    BINDINGS = bindings("use")
    ASKS = "Edges of which box were used?"
    FIELDS = (
        Entry(name="tag", label="Box", hint="Its tag: the box in hand, not just the code."),
        Entry(name="edges", label="Edges", hint="How many; empty: one."),
        Entry(
            name="gone",
            label="Pieces gone",
            hint="Pieces that left the box, spent or broken; empty: none.",
        ),
        Entry(name="job", label="For", hint="Which job or cut; may stay empty."),
    )
    NEEDED = ("tag",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record the edges."""
        from crib.desk.doings.wear import use
        from crib.desk.typed import count_of

        edges, gone = count_of(values["edges"], "edges"), count_of(values["gone"], "pieces")
        edges = 1 if edges is None else edges
        return use(self.crib.address, values["tag"], edges=edges, gone=gone or 0, job=values["job"])
