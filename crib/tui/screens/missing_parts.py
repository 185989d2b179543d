"""Missing parts: what can't be used because a part is gone, and where one might be had."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.listed import ListedScreen, said
from crib.tui.widgets.plain_form import Entry
from crib.tui.wording import Column

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.restocking.missing import Lack
    from crib.report.listing import Listing


class MissingScreen(ListedScreen):
    """What lacks a part."""

    AREA = "missing"
    BINDINGS = bindings("missing")
    COLUMNS = (
        Column(title="Tag", least=6, most=10),
        Column(title="Tool", least=16, most=50, share=3),
        Column(title="Needs", least=14, most=30, share=2),
        Column(title="May be had at", least=18, most=50, share=3),
        Column(title="Owner", least=10, most=26, rank=1),
    )
    EMPTY = "Nothing on record lacks a part."
    NEXT = "n records a part that is gone; b marks the marked one as back in; w writes the list."
    FILE = "missing-parts"

    def read(self) -> Any:
        """Ask what lacks a part."""
        from crib.desk.restocking.missing import missing

        return missing(self.crib.address)

    def rows(self, found: Any) -> Sequence[object]:
        """Give the parts that are gone."""
        rows: Sequence[object] = found.lacks
        return rows

    def cells(self, row: "Lack") -> Sequence[object]:
        """Give the cells of a part."""
        had = f"{row.sources[0].tag} {row.sources[0].label}" if row.sources else "none on record"
        return (row.tag, row.designation or row.label, row.part, had, row.owner)

    def words(self, row: "Lack") -> Sequence[str]:
        """Say where the tool is, and where the part might be had."""
        code = f" (no. {row.code})" if row.code else ""
        note = f"; {row.note}" if row.note else ""
        told = [f"{row.tag} {row.label} needs: {row.part}{code}. {row.owner}'s, {row.place}{note}"]
        for one in row.sources:
            fits = "" if one.sure else "look first: "
            told.append(f"{fits}{one.count} at {one.tag} {one.label} ({one.why}); {one.owner}'s, {one.place}")
        return told if row.sources else [*told, "None on record anywhere."]

    def listing(self) -> "Listing":
        """Give the list for paper."""
        from crib.report.missing import missing_list

        return missing_list(self.read())

    def action_new(self) -> None:
        """Record a part that is gone."""
        self.app.push_screen(PartScreen(then=self.wrote))

    def action_change(self) -> None:
        """Record the marked part as back in."""
        address, row = self.crib.address, self.marked

        def write() -> "Done":
            from crib.desk.restocking.missing import set_parts

            # a rod's name holds both units: its number is enough
            part = f"{row.part.split(' (')[0]} rod" if row.part.endswith("rod") else row.part
            set_parts(address, row.tag, there=[part])
            return said(f"Back in: {row.part} of {row.tag}.")

        self.call("write", write, self.wrote)


class PartScreen(DoingScreen):
    """The form of a part that is gone, or there."""

    AREA = "part"
    BINDINGS = bindings("part")
    ASKS = "Which part of which tool?"
    FIELDS = (
        Entry(name="tag", label="Tool", hint="Tag, mark or words for it."),
        Entry(name="part", label="Part", hint="shim, screw, key, 8 in rod …"),
        Entry(name="state", label="It is", hint="Left and right choose.", words=("gone", "there")),
        Entry(name="code", label="Number", hint="Of the part, as on its bag; may stay empty."),
        Entry(name="note", label="Note", hint="May stay empty."),
    )
    NEEDED = ("tag", "part")

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record it."""
        from crib.desk.restocking.missing import set_parts

        named = {"missing" if values["state"] == "gone" else "there": [values["part"]]}
        now = set_parts(self.crib.address, values["tag"], code=values["code"], note=values["note"], **named)
        return said(f"Recorded: {values['part']} of {now.tag} is {values['state']}.")
