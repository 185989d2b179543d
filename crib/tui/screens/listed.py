"""A book that is a list: an answer above, a line a row, the marked row in words, and the list on paper."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from crib.tui.screens.base import bindings
from crib.tui.screens.book import BookScreen, DoingScreen
from crib.tui.widgets.plain_form import Entry
from crib.tui.widgets.row_list import Heading, RowList
from crib.tui.widgets.text_page import Line, TextPanel
from crib.tui.wording import Column, column_widths, in_columns, wrapped
from crib.units.counts import many

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.report.listing import Listing


class ColumnPainter:
    """Draws a row as one line of cells.

    Args:
        columns: from left to right.
        cells: gives a row's cells.
    """

    lines = 1

    def __init__(self, columns: Sequence[Column], cells: Callable[[Any], Sequence[object]]) -> None:
        self.columns = columns
        self.cells = cells

    def header(self, width: int) -> str:
        """Give the headings of the columns."""
        return in_columns([column.title for column in self.columns], column_widths(self.columns, width))

    def paint(self, row: Any, width: int) -> Sequence[str]:
        """Give the line of one row."""
        return [in_columns(self.cells(row), column_widths(self.columns, width))]


class ListedScreen(BookScreen):
    """A list that the desk gives, read anew whenever the screen comes back.

    Attributes:
        COLUMNS: of the list.
        EMPTY: what stands there while it has no rows.
        NEXT: what to do next, in one line.
        FILE: beginning of the name that is offered for the list on paper.
    """

    COLUMNS: ClassVar[Sequence[Column]] = ()
    EMPTY: ClassVar[str] = "Nothing."
    NEXT: ClassVar[str] = ""
    FILE: ClassVar[str] = "list"
    DEFAULT_CSS = "ListedScreen #told { border-top: dashed $foreground 40%; max-height: 9; }"

    def __init__(self) -> None:
        super().__init__()
        self._told: Done | None = None
        self.found: Any = None

    # -- what a list has of its own --------------------------------------------------------------------

    def read(self) -> Any:
        """Ask the desk; runs in a thread, imports what it needs itself."""
        raise NotImplementedError

    def rows(self, found: Any) -> Sequence[object]:
        """Give the rows of an answer, with headings between them."""
        raise NotImplementedError

    def cells(self, row: Any) -> Sequence[object]:
        """Give the cells of a row."""
        raise NotImplementedError

    def words(self, row: Any) -> Sequence[str]:
        """Say a row in words, the most telling first."""
        raise NotImplementedError

    def answer(self, found: Any) -> tuple[str, str, str]:
        """Give the answer's three lines."""
        return found.verdict, found.detail, self.NEXT

    def listing(self) -> "Listing":
        """Give the list for paper; runs in a thread."""
        raise NotImplementedError

    # -- showing it ------------------------------------------------------------------------------------

    def body(self) -> Iterator[Any]:
        """Lay out the list and the marked row in words."""
        yield RowList(ColumnPainter(self.COLUMNS, self.cells), id="lines", empty=self.EMPTY)
        yield TextPanel(id="told")

    @property
    def marked(self) -> Any:
        """The marked row; None where there is none."""
        return self.query_one("#lines", RowList).marked

    def on_mount(self) -> None:
        """Ask for the list."""
        self.focus_body()
        self.ask()

    def on_screen_resume(self) -> None:
        """Ask anew: another screen may have changed something."""
        self.ask()

    def focus_body(self) -> None:
        """Give the keyboard to the list."""
        self.query_one("#lines").focus()

    def ask(self) -> None:
        """Read the list anew."""
        self.call("read", self.read, self._show)

    def _show(self, found: Any) -> None:
        self.found = found
        rows = self.query_one("#lines", RowList)
        at = rows.cursor
        rows.show_rows(self.rows(found))
        rows.mark(min(at, max(rows.count - 1, 0)))
        if self._told is not None:
            self.say(self._told.verdict, self._told.detail)
            self._told = None
        else:
            self.say(*self.answer(found))
        self.on_row_list_marked()

    def on_row_list_marked(self) -> None:
        """Say the marked row in words."""
        row = self.marked
        told = () if row is None or isinstance(row, Heading) else self.words(row)
        self.query_one("#told", TextPanel).show_lines(partial(_lines, tuple(told)))
        self.refresh_keys()

    def on_row_list_opened(self) -> None:
        """Open a row that was clicked again."""
        if self.can("open"):
            self.action_open()

    def can(self, name: str) -> bool:
        """Offer only what the marked row allows."""
        return self.marked is not None if name in ("open", "choose", "change") else super().can(name)

    def action_open(self) -> None:
        """Open the marked row."""

    def recorded(self, done: "Done") -> None:
        """Show what was recorded, and the list as it is now."""
        self._told = done
        self.ask()

    def fill_in(self, form: DoingScreen) -> None:
        """Open a form over the list; what it records is told here."""
        self.app.push_screen(form)

    def action_file(self) -> None:
        """Ask under which name the list is to be written."""
        from crib.desk.dates import today

        name = f"{self.FILE}-{today().isoformat()}.pdf"
        self.app.push_screen(FileScreen(self.listing, {"file": name}, self.wrote))


def _lines(told: Sequence[str], width: int) -> list[Line]:
    return [Line(part, strong=not n) for n, text in enumerate(told) for part in wrapped(text, width)]


class FileScreen(DoingScreen):
    """Asks for the name of a file, and writes a list to it.

    Args:
        make: gives the list; called in a thread.
        given: the name that is offered.
        then: takes what is to be said, on the screen from which this one was opened.
    """

    AREA = "file"
    BINDINGS = bindings("file")
    ASKS = "Write the list to which file?"
    FIELDS = (Entry(name="file", label="File", hint="Ends in .pdf, .xlsx or .csv; nothing is written over."),)
    NEEDED = ("file",)

    def __init__(
        self,
        make: "Callable[[], Listing] | None" = None,
        given: Mapping[str, str] | None = None,
        then: "Callable[[Done], None] | None" = None,
    ) -> None:
        super().__init__(given, then)
        self.make = make

    def write(self, values: Mapping[str, str]) -> "Done":
        """Write the file."""
        from crib.desk.outside import save_new
        from crib.desk.typed import path_of
        from crib.report.listing import listing_bytes

        assert self.make is not None  # only a list opens this
        made = self.make()
        name = path_of(values["file"])
        path = save_new(name, listing_bytes(made, name))
        return said(
            f"Written: {path}, {many(len(made.rows), 'line')}.",
            "The list is as it was; nothing else was changed.",
        )


def said(verdict: str, detail: str = "") -> "Done":
    """Give what was done where the ledger has no part in it, and nothing can be taken back by Ctrl+Z."""
    from crib.desk.doings.doing import Done

    return Done(act="", verdict=verdict, detail=detail, undo="", items=())
