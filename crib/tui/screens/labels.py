"""Labels: a sheet for chosen tools, all tools of a place, or what words describe."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.listed import said
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done


class LabelsScreen(DoingScreen):
    """The form of a sheet of labels."""

    AREA = "labels"
    BINDINGS = bindings("labels")
    ASKS = "Labels for which tools, on which sheet?"
    HINT = "Enter goes on, and prints from the last field; Esc leaves."
    FIELDS = (
        Entry(name="tags", label="Tools", hint="Tags or marks with commas: H03, I07; may stay empty."),
        Entry(name="at", label="All of", hint="A place whose tools all get one; may stay empty."),
        Entry(name="talk", label="Or words", hint="Shop talk: left hand holders here; may stay empty."),
        Entry(name="file", label="File", hint="A PDF; nothing is written over."),
        Entry(name="paper", label="Paper", hint="← → choose.", words=("A4", "Letter")),
        Entry(name="size", label="Label", hint="Width x height of a label, in mm: 62x29."),
        Entry(name="margin", label="Margin", hint="From the left and upper edge to the first label, in mm."),
        Entry(name="gap", label="Gap", hint="Between labels, side by side and below, in mm."),
        Entry(name="skip", label="Used up", hint="So many labels of the first sheet are gone already."),
        Entry(
            name="lines",
            label="Edges",
            hint="← → choose. Draw the edge of each label, for a trial on plain paper.",
            words=("no", "yes"),
        ),
    )
    NEEDED = ("file",)

    def usual(self) -> Mapping[str, str]:
        """Offer a name for the file, and a common sheet."""
        from crib.desk.dates import today

        return {
            "file": f"labels-{today().isoformat()}.pdf",
            "size": "62x29",
            "margin": "8x10",
            "gap": "2x2",
            "skip": "0",
        }

    def write(self, values: Mapping[str, str]) -> "Done":
        """Write the file."""
        from crib.desk.typed import count_of, names_of, path_of
        from crib.report.labels import layout_of, save_labels

        tags = names_of(values["tags"]) if values["tags"].strip() else ()
        printed = save_labels(
            self.crib.address,
            path_of(values["file"]),
            tags,
            at=values["at"].strip(),
            words=values["talk"].strip(),
            layout=layout_of(
                size=values["size"], margin=values["margin"], gap=values["gap"], paper=values["paper"]
            ),
            skip=count_of(values["skip"], "labels") or 0,
            lines=values["lines"] == "yes",
        )
        return said(printed.verdict, printed.advice)
