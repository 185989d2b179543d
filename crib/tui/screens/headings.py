"""Headings of a user's own list: what each is taken for, and choosing the column that it is."""

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.listed import ListedScreen, said
from crib.tui.widgets.plain_form import Entry
from crib.tui.widgets.row_list import Heading as Group
from crib.tui.wording import Column

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.intake.mapping import Heading

LEFT_OUT, UNKNOWN = "left out", "unknown"


class HeadingsScreen(ListedScreen):
    """The headings, each with our column and the first cell below it.

    Args:
        files: paths of the lists.
        chosen: heading -> column; what is chosen here is put into it.
    """

    AREA = "headings"
    BINDINGS = bindings("headings")
    COLUMNS = (
        Column(title="Your heading", least=16, most=40, share=2),
        Column(title="Is", least=14, most=18),
        Column(title="How", least=8, most=8),
        Column(title="First cell", least=14, most=50, rank=1, share=2),
    )
    EMPTY = "These lists have crib's own columns: there is nothing to say."
    NEXT = "Enter chooses; x leaves out; w keeps them in a file; Esc tries the list."

    def __init__(self, files: Sequence[str] = (), chosen: dict[str, str] | None = None) -> None:
        super().__init__()
        self.files = files
        self.chosen = {} if chosen is None else chosen

    def read(self) -> "tuple[Heading, ...]":
        """Ask what the headings are taken for."""
        from crib.desk.intake.mapping import headings_of

        return headings_of(self.files, self.chosen)

    def rows(self, found: Any) -> Sequence[object]:
        """Give the headings."""
        rows: Sequence[object] = found
        return rows

    def cells(self, row: "Heading") -> Sequence[object]:
        """Give the cells of a heading."""
        return (row.heading, _column(row), "!" if row.how == UNKNOWN else row.how, row.example)

    def words(self, row: "Heading") -> Sequence[str]:
        """Say what a heading is, and what it may be."""
        how = "" if row.how == UNKNOWN else f" ({row.how})"
        told = f"{row.heading!r} in {row.file}: {_column(row)}{how}."
        return [
            told,
            f"It may be: {', '.join(row.likely) or 'of no use to crib'}.",
            f"First cell: {row.example or 'empty'}.",
        ]

    def answer(self, found: Any) -> tuple[str, str, str]:
        """Say how many headings nothing is known of."""
        unknown = sum(row.how == UNKNOWN for row in found)
        verdict = (
            f"{unknown} of {len(found)} headings not known yet." if unknown else "Every heading is known."
        )
        return (
            verdict,
            "Codes, owners and places matter most; what crib has no use for is left out.",
            self.NEXT,
        )

    def can(self, name: str) -> bool:
        """Offer to leave out only what is there."""
        return self.marked is not None if name in ("drop", "keep") else super().can(name)

    def action_open(self) -> None:
        """Choose what the marked heading is."""
        row: Heading = self.marked
        self.app.push_screen(ColumnScreen(row.heading, row.likely, self._choose))

    def action_drop(self) -> None:
        """Leave the marked heading out."""
        self._choose("")
        self.ask()

    def _choose(self, column: str) -> None:
        """Take a column for the marked heading, and go on to the next."""
        from crib.desk.intake.mapping import plain_heading

        self.chosen[plain_heading(self.marked.heading)] = column
        self.query_one("#lines").action_move(1)  # type: ignore[attr-defined]

    def action_keep(self) -> None:
        """Ask for the name of the file that keeps them."""
        name = {"file": "headings.csv"}
        self.app.push_screen(KeepHeadingsScreen(self.found, name, self.wrote))


def _column(row: "Heading") -> str:
    return row.column or ("not known" if row.how == UNKNOWN else LEFT_OUT)


class ColumnScreen(ListedScreen):
    """Our columns with what they hold, the likely ones first; Enter takes one.

    Args:
        heading: the user's, for which one is wanted.
        likely: columns that it may be.
        choose: takes the name of the column; empty to leave the heading out.
    """

    AREA = "column"
    BINDINGS = bindings("column")
    COLUMNS = (
        Column(title="Column", least=14, most=18),
        Column(title="Holds", least=30, most=90, share=2),
    )
    NEXT = "Enter takes the marked one; Esc goes back."

    def __init__(
        self, heading: str = "", likely: Sequence[str] = (), choose: Callable[[str], None] | None = None
    ) -> None:
        super().__init__()
        self.heading = heading
        self.likely = likely
        self.choose = choose

    def read(self) -> Mapping[str, str]:
        """Give our columns with what they hold."""
        from crib.desk.intake.mapping import HOLDS

        return HOLDS

    def rows(self, found: Mapping[str, str]) -> Sequence[object]:
        """Give likely columns, then leaving out, then the others."""
        likely = [(name, found[name]) for name in self.likely]
        others = [(name, holds) for name, holds in found.items() if name not in self.likely]
        leave = (LEFT_OUT, "crib has no use for it")
        return [Group("Likely"), *likely, leave, Group("All others"), *others]

    def cells(self, row: Any) -> Sequence[object]:
        """Give the cells of a column."""
        return tuple(row)

    def words(self, row: Any) -> Sequence[str]:
        """Say a column in full."""
        return [f"{row[0]}: {row[1]}."]

    def answer(self, found: Any) -> tuple[str, str, str]:
        """Ask."""
        return f"What is {self.heading!r}?", "", self.NEXT

    def action_open(self) -> None:
        """Take the marked column."""
        name = self.marked[0]
        assert self.choose is not None  # the list of headings gives it
        self.choose("" if name == LEFT_OUT else name)
        self.dismiss()


class KeepHeadingsScreen(DoingScreen):
    """Asks for the name of a file, and keeps there what the headings are.

    Args:
        headings: to keep.
        given: the name that is offered.
        then: takes what is to be said, on the list of headings.
    """

    AREA = "keep_headings"
    BINDINGS = bindings("keep_headings")
    ASKS = "Keep what the headings are in which file?"
    FIELDS = (Entry(name="file", label="File", hint="A CSV file; nothing is written over."),)
    NEEDED = ("file",)

    def __init__(
        self,
        headings: "Sequence[Heading]" = (),
        given: Mapping[str, str] | None = None,
        then: "Callable[[Done], None] | None" = None,
    ) -> None:
        super().__init__(given, then)
        self.headings = headings

    def write(self, values: Mapping[str, str]) -> "Done":
        """Write the file."""
        from crib.desk.intake.mapping import Mapped, mapping_bytes
        from crib.desk.outside import save_new
        from crib.desk.typed import path_of

        told = [
            Mapped(file=one.file, heading=one.heading, column=one.column, how=one.how)
            for one in self.headings
            if one.how != UNKNOWN
        ]
        path = save_new(path_of(values["file"]), mapping_bytes(told))
        return said(f"Kept: {path}.", "Name it under Headings when such a list is taken in again.")
