"""Books: one list of what the crib keeps books of, and of what can be recorded."""

from collections.abc import Iterator, Sequence
from typing import Any

from textual import events

from crib.tui.books import BOOKS, Book
from crib.tui.screens.base import DeskScreen, bindings
from crib.tui.widgets.row_list import RowList
from crib.tui.wording import fitted

NAME_WIDTH = 20
NEXT = "Enter or its number opens the marked one; Esc there comes back."


class BookPainter:
    """Draws a book as one line."""

    lines = 1

    def header(self, width: int) -> str | None:
        """Give no headings: the lines speak for themselves."""
        return None

    def paint(self, row: Book, width: int) -> Sequence[str]:
        """Give the line of one book."""
        number = BOOKS.index(row) + 1
        mark = str(number) if number <= 9 else " "
        return [fitted(f"{mark}  {fitted(row.name, NAME_WIDTH)} {row.purpose}", width)]


class BooksScreen(DeskScreen):
    """The list of books."""

    AREA = "books"
    TITLE_HERE = "Books"
    BINDINGS = bindings("books")

    def body(self) -> Iterator[Any]:
        """Lay out the list."""
        yield RowList(BookPainter(), id="books")

    def on_mount(self) -> None:
        """Show the list."""
        self.query_one("#books", RowList).show_rows(BOOKS)
        self.say("The crib's books.", "Whose, where, what happened, what is owed, what runs out.", NEXT)
        self.focus_body()

    def focus_body(self) -> None:
        """Give the keyboard to the list."""
        self.query_one("#books").focus()

    def action_open(self) -> None:
        """Open the marked book."""
        marked: Book | None = self.query_one("#books", RowList).marked
        if marked is not None:
            self.app.push_screen(marked.open())

    def on_row_list_opened(self) -> None:
        """Open a book that was clicked again."""
        self.action_open()

    def on_key(self, event: events.Key) -> None:
        """Open the book with the typed number."""
        if not self.typing() and event.character and event.character in "123456789":
            at = int(event.character) - 1
            if at < len(BOOKS):
                event.stop()
                self.query_one("#books", RowList).mark(at)
                self.action_open()
