"""Text that wraps to the width it has: a page to scroll, and a small panel."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from crib.tui.wording import clean


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a page.

    Attributes:
        text: as data.
        strong: drawn to stand out, for a heading.
    """

    text: str
    strong: bool = False


Lines = Callable[[int], Sequence[Line]]


class TextPanel(Static):
    """Text that is laid out anew for every width.

    Args:
        id: the widget's name.
    """

    DEFAULT_CSS = "TextPanel { height: auto; width: 1fr; padding: 0 1; }"

    def __init__(self, id: str | None = None) -> None:
        super().__init__("", id=id, markup=False)
        self._lines: Lines = lambda _width: ()
        self._drawn_for = -1

    def show_lines(self, lines: Lines) -> None:
        """Show text.

        Args:
            lines: gives the lines for a width in columns.
        """
        self._lines = lines
        self._draw()

    def _draw(self) -> None:
        width = self.scrollable_content_region.width
        self._drawn_for = width
        if width:
            parts = [(clean(line.text) + "\n", "bold" if line.strong else "") for line in self._lines(width)]
            self.update(Content.assemble(*parts).rstrip("\n"))

    def on_resize(self) -> None:
        """Lay the text out for the new width."""
        if self.scrollable_content_region.width != self._drawn_for:
            self._draw()


class TextPage(VerticalScroll, can_focus=True):
    """A page of text to scroll through with the cursor keys.

    Args:
        id: the widget's name.
    """

    BINDINGS = [
        Binding("space", "page_down", show=False),
        Binding("j", "scroll_down", show=False),
        Binding("k", "scroll_up", show=False),
    ]
    DEFAULT_CSS = "TextPage { height: 1fr; scrollbar-size-vertical: 1; }"

    def compose(self) -> ComposeResult:
        """Lay out the text."""
        yield TextPanel()

    def show_lines(self, lines: Lines) -> None:
        """Show text from its beginning.

        Args:
            lines: gives the lines for a width in columns.
        """
        self.query_one(TextPanel).show_lines(lines)
        self.scroll_home(animate=False)
