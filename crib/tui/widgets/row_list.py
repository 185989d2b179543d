"""A list that draws only the rows on the screen and asks for the others page by page."""

from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from rich.segment import Segment
from textual import events
from textual.binding import Binding
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from crib.tui.wording import clean, fitted

PAGE = 100
MOST_PAGES = 32  # 3,200 rows kept; older pages are asked for again
MARK_WIDTH = 2


@dataclass(frozen=True, slots=True)
class Heading:
    """A line that stands between rows and can't be chosen."""

    text: str


class Painter(Protocol):
    """Draws rows as plain text.

    Attributes:
        lines: lines of one row.
    """

    lines: int

    def header(self, width: int) -> str | None:
        """Give the line above the rows, or None."""

    def paint(self, row: Any, width: int) -> Sequence[str]:
        """Give the lines of one row."""


class RowList(ScrollView, can_focus=True):
    """A list of any length; the owner hands in pages when asked.

    Args:
        painter: draws the rows.
        empty: what stands there when there are no rows.
        id: the widget's name.
    """

    COMPONENT_CLASSES = {"row-list--header", "row-list--cursor", "row-list--resting", "row-list--heading"}
    BINDINGS = [
        Binding("up,k", "move(-1)", show=False),
        Binding("down,j", "move(1)", show=False),
        Binding("pageup", "leaf(-1)", show=False),
        Binding("pagedown,space", "leaf(1)", show=False),
        Binding("home", "jump(0)", show=False),
        Binding("end", "jump(-1)", show=False),
    ]
    DEFAULT_CSS = """
    RowList { height: 1fr; overflow-x: hidden; overflow-y: auto; scrollbar-size-vertical: 1; }
    RowList > .row-list--header { text-style: underline; }
    RowList > .row-list--cursor { text-style: reverse; }
    RowList > .row-list--resting { text-style: bold; }
    RowList > .row-list--heading { text-style: bold; }
    """

    class PageWanted(Message):
        """Rows from `offset` on are on the screen and not yet known."""

        def __init__(self, rows: "RowList", offset: int) -> None:
            super().__init__()
            self.rows = rows
            self.offset = offset

        @property
        def control(self) -> "RowList":
            """The list that asks."""
            return self.rows

    class Marked(Message):
        """Another row is marked."""

        def __init__(self, rows: "RowList") -> None:
            super().__init__()
            self.rows = rows

        @property
        def control(self) -> "RowList":
            """The list in which it is."""
            return self.rows

    class Opened(Message):
        """The marked row was clicked again."""

        def __init__(self, rows: "RowList") -> None:
            super().__init__()
            self.rows = rows

        @property
        def control(self) -> "RowList":
            """The list in which it is."""
            return self.rows

    def __init__(self, painter: Painter, *, empty: str = "", id: str | None = None) -> None:
        super().__init__(id=id)
        self.painter = painter
        self.empty = empty
        self.total = 0
        self.cursor = 0
        self._pages: OrderedDict[int, Sequence[object]] = OrderedDict()
        self._tail: Sequence[object] = ()
        self._asked: set[int] = set()

    # -- rows ------------------------------------------------------------------------------------------

    def show_rows(
        self, first: Sequence[object], total: int | None = None, tail: Sequence[object] = ()
    ) -> None:
        """Show a new answer from its beginning.

        Args:
            first: the first page.
            total: how many rows there are in all; the others are asked for when needed.
            tail: rows that stand below all others, for example a Heading and what follows it.
        """
        self.total = len(first) if total is None else max(total, len(first))
        self._tail = tail
        self._pages = OrderedDict((at, first[at : at + PAGE]) for at in range(0, len(first), PAGE))
        self._asked.clear()
        self.cursor = 0
        self._step_over_headings(1)
        self.scroll_to(y=0, animate=False, force=True)
        self._measure()
        self.refresh()
        self.post_message(self.Marked(self))

    def fill(self, offset: int, rows: Sequence[object]) -> None:
        """Take in a page that was asked for."""
        self._asked.discard(offset)
        self._pages[offset] = rows
        while len(self._pages) > MOST_PAGES:
            self._pages.popitem(last=False)
        self.refresh()
        if offset <= self.cursor < offset + PAGE:
            self.post_message(self.Marked(self))

    def swap(self, new: object, is_old: Callable[[Any], bool]) -> None:
        """Put a row in the place of another.

        Args:
            new: the row as it is now.
            is_old: knows the row as it was.
        """
        for offset, page in self._pages.items():
            self._pages[offset] = [new if is_old(row) else row for row in page]
        self._tail = [new if is_old(row) else row for row in self._tail]
        self.refresh()
        self.post_message(self.Marked(self))

    @property
    def count(self) -> int:
        """Rows in all, headings included."""
        return self.total + len(self._tail)

    @property
    def marked(self) -> Any:
        """The marked row; None where there is none or it is not known yet."""
        return self._row(self.cursor) if self.count else None

    def _row(self, index: int) -> object | None:
        if index >= self.total:
            at = index - self.total
            return self._tail[at] if at < len(self._tail) else None
        offset = index - index % PAGE
        page = self._pages.get(offset)
        if page is None:
            if offset not in self._asked:
                self._asked.add(offset)
                self.post_message(self.PageWanted(self, offset))
            return None
        self._pages.move_to_end(offset)
        return page[index - offset] if index - offset < len(page) else None

    # -- drawing ---------------------------------------------------------------------------------------

    @property
    def _width(self) -> int:
        return self.scrollable_content_region.width

    @property
    def _top(self) -> int:
        """Lines taken by the header."""
        return 0 if self.painter.header(max(self._width - MARK_WIDTH, 1)) is None else 1

    def _measure(self) -> None:
        self.virtual_size = Size(0, self.count * self.painter.lines + self._top)

    def on_resize(self) -> None:
        """Draw anew for the new width and keep the marked row in sight."""
        self._measure()
        self._follow()
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """Draw one line of the screen."""
        width = self._width
        if y < self._top:
            header = self.painter.header(width - MARK_WIDTH) or ""
            return self._strip(" " * MARK_WIDTH + header, "row-list--header", width)
        index, part = divmod(self.scroll_offset.y + y - self._top, self.painter.lines)
        if index >= self.count:
            text = self.empty if not self.count and y == self._top else ""
            return self._strip(" " * MARK_WIDTH + text, None, width)
        row = self._row(index)
        if isinstance(row, Heading):
            return self._strip(row.text if part == 0 else "", "row-list--heading", width)
        lines = ["…"] if row is None else self.painter.paint(row, width - MARK_WIDTH)
        text = lines[part] if part < len(lines) else ""
        mark = "▸ " if index == self.cursor and part == 0 else " " * MARK_WIDTH
        here = "row-list--cursor" if self.has_focus else "row-list--resting"
        return self._strip(mark + text, here if index == self.cursor else None, width)

    def _strip(self, text: str, component: str | None, width: int) -> Strip:
        style = self.get_component_rich_style(component) if component else self.rich_style
        return Strip([Segment(fitted(clean(text), width), style)], width)

    def _repaint(self, index: int) -> None:
        """Repaint the lines of one row only: a slow line feels every byte."""
        y = index * self.painter.lines - self.scroll_offset.y + self._top
        self.refresh(Region(0, y, self.size.width, self.painter.lines))

    def watch_has_focus(self, value: bool) -> None:
        """Show by the marked row whether keys go here."""
        super().watch_has_focus(value)
        if self.count:
            self._repaint(self.cursor)

    # -- moving ----------------------------------------------------------------------------------------

    def _step_over_headings(self, way: int) -> None:
        at = self.cursor
        while 0 <= at < self.count and isinstance(self._row(at), Heading):
            at += way
        if 0 <= at < self.count:
            self.cursor = at
        elif way < 0:
            self._step_over_headings(1)

    def mark(self, index: int) -> None:
        """Mark a row; beyond an end it is the last one there."""
        if not self.count:
            return
        before = self.cursor
        self.cursor = min(max(index, 0), self.count - 1)
        self._step_over_headings(-1 if self.cursor < before else 1)
        if isinstance(self._row(self.cursor), Heading):
            self.cursor = before
        if self.cursor != before:
            self._repaint(before)
            self._repaint(self.cursor)
            self.post_message(self.Marked(self))
        self._follow()

    def _follow(self) -> None:
        """Scroll just as far as needed to have the marked row in sight."""
        lines, room = self.painter.lines, max(self.size.height - self._top, 1)
        top = self.cursor * lines
        if top < self.scroll_offset.y:
            # a heading straight above comes into sight too
            above = self.cursor > 0 and isinstance(self._row(self.cursor - 1), Heading)
            self.scroll_to(y=top - (lines if above else 0), animate=False, force=True)
        elif top + lines > self.scroll_offset.y + room:
            self.scroll_to(y=top + lines - room, animate=False, force=True)

    def action_move(self, by: int) -> None:
        """Mark the row `by` rows further down."""
        self.mark(self.cursor + by)

    def action_leaf(self, by: int) -> None:
        """Mark the row one screen further down (1) or up (-1)."""
        room = max(self.size.height - self._top, 1) // self.painter.lines
        self.mark(self.cursor + by * max(room - 1, 1))

    def action_jump(self, to: int) -> None:
        """Mark the first row (0) or the last (-1)."""
        self.mark(to if to >= 0 else self.count - 1)

    def on_click(self, event: events.Click) -> None:
        """Mark the clicked row; a click on the marked row opens it."""
        line = self.scroll_offset.y + event.y - self._top
        index = line // self.painter.lines
        if event.y < self._top or not 0 <= index < self.count or isinstance(self._row(index), Heading):
            return
        if index == self.cursor:
            self.post_message(self.Opened(self))
        else:
            self.mark(index)
