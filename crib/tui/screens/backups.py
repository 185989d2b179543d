"""Backups: a copy now, looking through one, putting one back; the audit; everything as open files."""

import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from crib.tui.keeping import Draft, folder_of
from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.listed import ListedScreen, said
from crib.tui.widgets.plain_form import Entry
from crib.tui.wording import Column
from crib.units.counts import many

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.keeping.audit import Audit
    from crib.desk.keeping.safe import Kept

LAST_NAME = "crib-backups.json"


def last_folder(address: str) -> Draft:
    """Give what remembers the folder of the last backup, beside the store."""
    return Draft(folder_of(address) / LAST_NAME)


class BackupsScreen(ListedScreen):
    """Copies beside the store and in the folder of the last backup, the latest first."""

    AREA = "backups"
    BINDINGS = bindings("backups")
    COLUMNS = (
        Column(title="Made", least=16, most=16),
        Column(title="Size", least=9, most=9),
        Column(title="Name", least=30, most=80, share=2),
        Column(title="In", least=16, most=60, rank=1, share=2),
    )
    EMPTY = "No copies here yet: n makes one."
    NEXT = "n copies the store now; Enter looks through the marked copy; r puts one back."

    def read(self) -> "tuple[Kept, ...]":
        """Ask which copies there are."""
        from crib.desk.keeping.safe import backups

        address = self.crib.address
        last = last_folder(address).load().get("folder", "")
        return backups(address, [last, str(folder_of(address))])

    def rows(self, found: Any) -> Sequence[object]:
        """Give the copies."""
        rows: Sequence[object] = found
        return rows

    def cells(self, row: "Kept") -> Sequence[object]:
        """Give the cells of a copy."""
        return (row.made, f"{row.size / 1e6:.1f} MB", os.path.basename(row.path), os.path.dirname(row.path))

    def words(self, row: "Kept") -> Sequence[str]:
        """Give a copy's whole path."""
        return [row.path, f"{row.what}, made {row.made}."]

    def answer(self, found: Any) -> tuple[str, str, str]:
        """Say how many there are, and what makes a good one."""
        told = f"{many(len(found), 'file')} beside the store, copies of it or stores of their own."
        return told, "The best copy is on another disk: a stick, another computer.", self.NEXT

    def action_new(self) -> None:
        """Ask where the copy is to go."""
        self.fill_in(BackUpScreen(then=self.wrote))

    def action_open(self) -> None:
        """Look through the marked copy, without touching it or the store."""
        path = self.marked.path

        def read() -> "Done":
            from crib.desk.keeping.safe import look_through

            found = look_through(path)
            return said(f"Whole: {many(found.items, 'item')}, and as its ledger says.", found.path)

        self.call("show", read, self.wrote)

    def action_restore(self) -> None:
        """Ask which copy is to be put back; the marked one is offered."""
        self.fill_in(RestoreScreen({"source": self.marked.path} if self.marked else None, then=self.wrote))

    def action_audit(self) -> None:
        """Rebuild everything from the ledger, and compare."""
        self.app.push_screen(AuditScreen())

    def action_export(self) -> None:
        """Ask for the folder."""
        self.fill_in(ExportScreen(then=self.wrote))


class BackUpScreen(DoingScreen):
    """The form of a backup."""

    AREA = "back_up"
    BINDINGS = bindings("back_up")
    ASKS = "Copy the store to where?"
    HINT = "Enter copies, and looks through the copy; Esc leaves."
    FIELDS = (
        Entry(
            name="to",
            label="To",
            hint="A folder, in which it names itself, or a file; nothing is written over.",
        ),
    )
    NEEDED = ("to",)

    def usual(self) -> Mapping[str, str]:
        """Offer the folder of the last backup, else the user's own."""
        return {"to": last_folder(self.crib.address).load().get("folder", "~")}

    def write(self, values: Mapping[str, str]) -> "Done":
        """Copy the store, and look through the copy."""
        from crib.desk.keeping.safe import backup
        from crib.desk.typed import path_of

        made = backup(self.crib.address, path_of(values["to"]))
        last_folder(self.crib.address).save({"folder": os.path.dirname(made.path)})
        told = (
            f"{many(made.items, 'item')}, {made.size / 1e6:.1f} MB; read back: whole, and as its ledger says."
        )
        return said(f"Backed up to {made.path}", told)


class RestoreScreen(DoingScreen):
    """The form of putting a copy back; asks once more before it does."""

    AREA = "restore"
    BINDINGS = bindings("restore")
    ASKS = "Which copy is to be put in the place of the store?"
    HINT = "Enter asks once more before anything is done; Esc leaves."
    FIELDS = (
        Entry(name="source", label="Copy", hint="A file of a backup, or a folder that was written out."),
    )
    NEEDED = ("source",)

    def action_save(self) -> None:
        """Ask, then put it back."""
        values = self.form.values()
        self.ask_first(
            f"Put {os.path.basename(values['source'])} in the place of the store?",
            lambda: self.write(values),
            self._written,
            otherwise="The store is as it was.",
            consequence="The store that is there now, if there is one, is kept beside it.",
            refused=self.not_written,
        )

    def write(self, values: Mapping[str, str]) -> "Done":
        """Put it back."""
        from crib.desk.keeping.safe import restore
        from crib.desk.typed import path_of

        done = restore(path_of(values["source"]), self.crib.address, over=True)
        kept = f"What was there before is {done.kept}" if done.kept else "Nothing was there before."
        return said(f"Put back: {many(done.items, 'item')} in {done.store}", kept)


class ExportScreen(DoingScreen):
    """The form of writing everything out."""

    AREA = "export"
    BINDINGS = bindings("export")
    ASKS = "Write everything as open files into which new folder?"
    HINT = "Enter writes; Esc leaves."
    FIELDS = (Entry(name="folder", label="Folder", hint="One that is not there yet: ~/crib-all."),)
    NEEDED = ("folder",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Write the folder."""
        from crib.desk.keeping.safe import counted, export
        from crib.desk.typed import path_of

        done = export(self.crib.address, path_of(values["folder"]))
        return said(f"Written out to {done.folder}", f"{counted(done)}.")


class AuditScreen(ListedScreen):
    """What the ledger and a look through the store do not bear out."""

    AREA = "audit"
    BINDINGS = bindings("audit")
    COLUMNS = (Column(title="What differs", least=30, most=200, share=1),)
    EMPTY = "Nothing: all is as it should be."
    NEXT = "Nothing was changed by looking. Esc goes back."

    def read(self) -> "Audit":
        """Rebuild everything, and compare."""
        from crib.desk.keeping.audit import audit

        return audit(self.crib.address)

    def rows(self, found: "Audit") -> Sequence[object]:
        """Give what differs."""
        return [line for _, troubles in found.checks for line in troubles]

    def cells(self, row: Any) -> Sequence[object]:
        """Give the line."""
        return (row,)

    def words(self, row: Any) -> Sequence[str]:
        """Give the line in full."""
        return [row]

    def answer(self, found: "Audit") -> tuple[str, str, str]:
        """Say what was looked at."""
        good = [f"{name}." for name, troubles in found.checks if not troubles]
        return found.verdict, " ".join(good), self.NEXT
