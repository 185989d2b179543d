"""The sheet of own tools brought in, or taken home: printed, to be signed."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.widgets.plain_form import Entry
from crib.units.counts import many

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done


class SheetScreen(DoingScreen):
    """The form of a sheet to sign."""

    AREA = "sheet"
    BINDINGS = bindings("sheet")
    ASKS = "Print which sheet to sign, to which file?"
    FIELDS = (
        Entry(name="file", label="File", hint="Not there yet, for example sheet.pdf."),
        Entry(
            name="sheet",
            label="Sheet",
            hint="Tools brought in, or taken home.",
            words=("bring-in", "take-home"),
        ),
        Entry(name="since", label="Since", hint="A day, as monday; empty: all that are here now."),
        Entry(name="owner", label="Owner", hint="Whose tools; empty: mine."),
        Entry(name="paper", label="Paper", hint="Its size.", words=("A4", "Letter")),
    )
    NEEDED = ("file",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Write the file."""
        from crib.desk.doings.doing import Done
        from crib.desk.owed.sign_in import sign_sheet
        from crib.desk.typed import path_of
        from crib.report.sign_paper import save_sheet

        address = self.crib.address
        found = sign_sheet(address, values["sheet"], since=values["since"], owner=values["owner"])
        path = save_sheet(address, found, path_of(values["file"]), size=values["paper"])
        told = (("No value", found.not_valued), ("No bring-in", found.not_recorded))
        lacks = " ".join(f"{what} on record: {', '.join(tags)}." for what, tags in told if tags)
        verdict = f"{found.owner}: {many(len(found.tools), 'own tool')}, saved as {path}."
        return Done(act="", verdict=verdict, detail=lacks, undo="", items=())
