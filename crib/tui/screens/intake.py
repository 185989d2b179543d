"""Take a list in: name it, see what would happen row by row, say what its headings mean, then take it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, Any

from crib.errors import BadHeadings, BadList, CribError
from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.headings import HeadingsScreen
from crib.tui.screens.listed import ListedScreen, said
from crib.tui.widgets.plain_form import Entry
from crib.tui.wording import Column

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.intake.intake import Taken

ADD, UPDATE = "add", "add and update"


@dataclass(slots=True, kw_only=True)
class Asked:
    """What is to be taken in, and how.

    Attributes:
        address: the store.
        files: paths of the lists.
        update: bring what is on record to what the lists say.
        owner: whose the tools are where a list doesn't say.
        place: where they lie.
        units: what bare numbers mean.
        headings: the user's headings -> our columns; grows as they are said.
    """

    address: str
    files: Sequence[str]
    update: bool
    owner: str
    place: str
    units: str
    headings: dict[str, str] = field(default_factory=dict)

    def take(self, *, dry_run: bool) -> "Taken":
        """Take the lists in, or try it; runs in a thread."""
        from crib.desk.intake.intake import intake

        return intake(
            self.address,
            self.files,
            dry_run=dry_run,
            update=self.update,
            headings=self.headings,
            owner=self.owner,
            place=self.place,
            system=self.units,
        )

    def trial(self) -> "Taken | BadList":
        """Give what would be taken, or why nothing can be: rows or headings to look at.

        Raises:
            CribError: there is nothing to look at: no such file, no list, no store to write to.
        """
        try:
            return self.take(dry_run=True)
        except BadList as error:
            if error.rows or isinstance(error, BadHeadings):
                return error
            raise


class IntakeScreen(DoingScreen):
    """Which lists, and what holds for rows that don't say."""

    AREA = "intake"
    BINDINGS = bindings("intake")
    ASKS = "Which list of your own is to be taken in?"
    FIELDS = (
        Entry(
            name="files",
            label="Lists",
            hint="Path of a CSV or XLSX file, ~/tools.csv; several with commas.",
        ),
        Entry(
            name="how",
            label="On record",
            hint="← → choose. What is on record is refused, or brought to what the list says.",
            words=(ADD, UPDATE),
        ),
        Entry(name="owner", label="Whose", hint="For rows that don't say: a full name on record."),
        Entry(
            name="place", label="Where", hint="For rows that don't say: a full path, as works / tool room."
        ),
        Entry(
            name="units",
            label="Numbers in",
            hint="← → choose. What a bare 12.7 means.",
            words=("metric", "inch"),
        ),
        Entry(
            name="mapping",
            label="Headings",
            hint="The file of headings that you kept before; empty: they are asked for where needed.",
        ),
    )
    NEEDED = ("files",)
    HINT = "Enter goes on, and tries the list from the last field; Esc leaves."

    def __init__(self, given: Mapping[str, str] | None = None) -> None:
        super().__init__(given)
        self.headings: dict[str, str] = {}  # stay as chosen while whose and where are mended

    def on_mount(self) -> None:
        """Ask who you are, and where: that holds for rows that don't say."""
        self._ask_usual()

    def _ask_usual(self) -> None:
        address = self.crib.address

        def read() -> Mapping[str, str]:
            from crib.desk.keeping.settings import settings

            return settings(address)

        self.call("usual", read, self._fill, self._blank)

    def _fill(self, now: Mapping[str, str]) -> None:
        typed = self.form.typed()
        self.form.put(
            {"owner": now.get("me", ""), "place": now.get("site", ""), "units": now.get("units", "")}
        )
        self.form.type_over(typed)

    def _blank(self, error: CribError) -> None:
        """Leave the form empty where there is no store: a list may begin one."""

    def recorded(self, done: "Done") -> None:
        """Say what was taken in; the form is ready for the next list."""
        self.headings = {}
        super().recorded(done)
        self._ask_usual()

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record nothing here: the lists are tried first."""
        raise NotImplementedError

    def action_save(self) -> None:
        """Try the lists, and show what would happen."""
        address, values, chosen = self.crib.address, self.form.values(), self.headings

        def read() -> "tuple[Asked, Taken | BadList]":
            from crib.desk.intake.mapping import file_mapping
            from crib.desk.typed import files_of, path_of

            if kept := values["mapping"].strip():
                chosen.update(file_mapping(path_of(kept)) | chosen)
            asked = Asked(
                address=address,
                files=files_of(values["files"]),
                update=values["how"] == UPDATE,
                owner=values["owner"].strip(),
                place=values["place"].strip(),
                units=values["units"],
                headings=chosen,
            )
            return asked, asked.trial()

        self.call("read", read, self._show, self.not_written)

    def _show(self, found: "tuple[Asked, Taken | BadList]") -> None:
        self.say(self.ASKS, "")
        self.app.push_screen(PreviewScreen(*found, then=self._written))


class PreviewScreen(ListedScreen):
    """What would become of every row, or what is wrong with it.

    Args:
        asked: what is to be taken in.
        tried: what came of trying it.
        then: takes what was done, on the form.
    """

    AREA = "preview"
    BINDINGS = bindings("preview")
    COLUMNS = (
        Column(title="Row", least=10, most=22),
        Column(title="How", least=9, most=14),
        Column(title="What", least=30, most=120, share=3),
    )
    EMPTY = ""

    def __init__(
        self, asked: Asked | None = None, tried: "Taken | BadList | None" = None, then: Any = None
    ) -> None:
        super().__init__()
        self.asked = asked
        self.then = then
        self.tried = tried
        self._headings: dict[str, str] = dict(asked.headings) if asked else {}

    def read(self) -> "Taken | BadList":
        """Try the lists."""
        assert self.asked is not None  # the form gives it
        return self.asked.trial()

    def ask(self) -> None:
        """Try the lists anew only where that may give something else: trying takes hold of the store."""
        assert self.asked is not None
        if self.tried is not None and self.asked.headings == self._headings:
            self._show(self.tried)
            return
        self._headings = dict(self.asked.headings)
        self.tried = None
        super().ask()

    def _show(self, found: "Taken | BadList") -> None:
        self.tried = found
        super()._show(found)

    def rows(self, found: "Taken | BadList") -> Sequence[object]:
        """Give the rows that would be taken, or what is wrong."""
        return found.rows

    def cells(self, row: Any) -> Sequence[object]:
        """Give the cells of a row, or of what is wrong with one."""
        if isinstance(row, Mapping):
            return (f"{row['file']}:{row['line']}", f"! {row['column']}".strip(), BadList.wrong(row))
        return (f"{row.file}:{row.line}", row.how, row.what)

    def words(self, row: Any) -> Sequence[str]:
        """Say a row in full."""
        if isinstance(row, Mapping):
            return [f"{row['file']}, line {row['line']}: {row['column']} {BadList.wrong(row)}"]
        return [f"{row.file}, line {row.line}: {row.how}, {row.what}"]

    def answer(self, found: "Taken | BadList") -> tuple[str, str, str]:
        """Say what would happen, or what to mend."""
        if isinstance(found, BadHeadings):
            return (
                f"! {found.message}.",
                "Nothing was written.",
                "m says what the headings mean; Esc goes back to whose and where.",
            )
        if isinstance(found, BadList):
            return (
                f"! {found.message}.",
                "Mend them in the list, or say by m what its headings mean.",
                "F5 tries again; m shows the headings; Esc goes back.",
            )
        told = [f"{one.heading} is {one.column or 'left out'}" for one in found.mapped]
        return (
            f"Would take: {found.told}.",
            f"Headings: {'; '.join(told)}." if told else "Nothing is written yet.",
            "t takes them in, all or nothing; m shows the headings; Esc goes back.",
        )

    def can(self, name: str) -> bool:
        """Offer to take in only what can be taken."""
        if name == "take":
            return self.tried is not None and not isinstance(self.tried, BadList) and bool(self.tried.rows)
        return super().can(name)

    def action_again(self) -> None:
        """Try the lists anew: they may have been mended meanwhile."""
        self.tried = None
        self.ask()

    def action_headings(self) -> None:
        """Show what the headings are taken for."""
        assert self.asked is not None
        self.app.push_screen(HeadingsScreen(self.asked.files, self.asked.headings))

    def action_take(self) -> None:
        """Ask, then take the lists in."""
        asked, tried = self.asked, self.tried
        assert asked is not None
        assert tried is not None
        many = len(tried.rows)

        def write() -> "Done":
            taken = asked.take(dry_run=False)
            return said(f"Taken: {taken.told}.", f"The store is {taken.store}")

        self.ask_first(
            f"Take in {many} row{'s' * (many != 1)}?",
            write,
            otherwise="The store is as it was.",
            consequence="All rows or none; it is not taken back in one go: a backup before is safer.",
        )

    def recorded(self, done: "Done") -> None:
        """Leave for the form, which says what was taken."""
        self.leave(partial(self.then, done))
