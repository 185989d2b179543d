"""Text that wraps to the width it has: a page to scroll, and a small panel."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from crib.tui.wording import fitted


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


class TextPanel(Widget):
    """Text that is laid out anew for every width.

    Args:
        id: the widget's name.
    """

    DEFAULT_CSS = "TextPanel { height: auto; width: 1fr; padding: 0 1; }"

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._lines: Lines = lambda _width: ()

    def show_lines(self, lines: Lines) -> None:
        """Show text.

        Args:
            lines: gives the lines for a width in columns.
        """
        self._lines = lines
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Take as many lines as the text needs at this width."""
        return len(self._lines(width))

    def render(self) -> Content:
        """Draw the text as data."""
        width = self.content_size.width
        parts = [
            (fitted(line.text, width) + "\n", "bold" if line.strong else "") for line in self._lines(width)
        ]
        return Content.assemble(*parts)


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
