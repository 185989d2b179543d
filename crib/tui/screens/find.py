"""Find: what have we got, whose is it, and where?"""

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.item import ItemScreen
from crib.tui.screens.items import ItemActions, ItemPainter, item_panel, next_step
from crib.tui.widgets.row_list import PAGE, Heading, RowList
from crib.tui.widgets.text_page import TextPanel

if TYPE_CHECKING:
    from crib.desk.asking.ask import Found, FoundItem
    from crib.desk.doings.doing import Done


RECORDED = "Enter shows what happened to it; Ctrl+Z takes this back."


class FindScreen(ItemActions):
    """A list of tools for a question, and the marked one in words."""

    AREA = "find"
    TITLE_HERE = "Find"
    BINDINGS = bindings("find")

    def __init__(self) -> None:
        super().__init__()
        self.question = ""

    def body(self) -> Iterator[Any]:
        """Lay out the list and the marked tool in words."""
        yield RowList(ItemPainter(), empty="", id="found")
        yield TextPanel(id="words")

    @property
    def rows(self) -> RowList:
        """The list of tools."""
        return self.query_one("#found", RowList)

    def on_mount(self) -> None:
        """Show all there is, once the screen has been drawn."""
        self.say("", "", "Ask above: shop talk, a code, or a cut. Enter asks.")
        self.query_one("#ask").focus()
        self.call_after_refresh(self.take, "")

    def focus_body(self) -> None:
        """Give the keyboard to the list."""
        self.rows.focus()

    # -- asking ----------------------------------------------------------------------------------------

    def take(self, question: str) -> None:
        """Look up a question.

        Args:
            question: shop talk; empty for everything.
        """
        self.question = question
        desk = self.crib.desk
        self.call("find", lambda: desk.find(question, limit=PAGE, offset=0), self._show)

    async def _show(self, found: "Found") -> None:
        if found.book and await self.crib.open_book(found.book):
            return
        self.say(found.verdict, read_as(found) + found.detail, next_step(found))
        tail: tuple[object, ...] = ()
        if found.elsewhere:
            tail = (Heading("Elsewhere" if found.items else "None here. Elsewhere:"), *found.elsewhere)
        self.rows.show_rows(found.items, found.total, tail)
        if self.question and self.rows.count:
            self.rows.focus()

    def on_row_list_page_wanted(self, event: RowList.PageWanted) -> None:
        """Fetch rows that came into sight."""
        desk, question, offset = self.crib.desk, self.question, event.offset
        self.call(
            f"page {offset}",
            lambda: desk.find(question, limit=PAGE, offset=offset),
            partial(self._fill, question, offset),
        )

    def _fill(self, question: str, offset: int, found: "Found") -> None:
        if question == self.question:
            self.rows.fill(offset, found.items)

    # -- the marked tool -------------------------------------------------------------------------------

    def item(self) -> "FoundItem | None":
        """Give the marked tool."""
        marked: FoundItem | None = self.rows.marked
        return marked

    def on_row_list_marked(self) -> None:
        """Say the marked tool in words."""
        item = self.item()
        self.query_one("#words", TextPanel).show_lines(partial(item_panel, item))
        self.refresh_keys()

    def on_row_list_opened(self) -> None:
        """Open a tool that was clicked again."""
        self.action_open()

    def action_open(self) -> None:
        """Show everything on record about the marked tool."""
        if (item := self.item()) is not None:
            self.app.push_screen(ItemScreen(item))

    def recorded(self, done: "Done") -> None:
        """Show what was recorded, and the tools in the list as they are now."""
        for item in done.items:
            self.rows.swap(item, partial(_is_tool, item.tag))
        self.say(done.verdict, done.detail, RECORDED)


def _is_tool(tag: str, row: object) -> bool:
    return getattr(row, "tag", None) == tag


def read_as(found: "Found") -> str:
    """Say what a question was taken to mean, for the second line."""
    told = ", ".join(f"{said.field} {said.value}" for said in found.understood)
    return f"Read as: {told}. " if told else ""
