"""Find: what have we got, whose is it, and where?"""

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Any

from crib.errors import CribError, StoreMissing
from crib.tui.screens.base import bindings
from crib.tui.screens.item import ItemScreen
from crib.tui.screens.items import ItemActions, ItemPainter, item_panel, next_step
from crib.tui.widgets.lines import AnswerLine
from crib.tui.widgets.row_list import PAGE, Heading, RowList
from crib.tui.widgets.text_page import TextPanel

if TYPE_CHECKING:
    from crib.desk.asking.ask import Found, FoundItem
    from crib.desk.doings.doing import Done


BEGIN = "F5 begins a store: your name, where the tools lie, millimetres or inches."
BEGUN = "Next, on F9: Take stock in, by codes; Take a list in; People and places."
RECORDED = "Enter shows what happened to it; Ctrl+Z takes this back."


class FindScreen(ItemActions):
    """A list of tools for a question, and the marked one in words."""

    AREA = "find"
    TITLE_HERE = "Find"
    BINDINGS = bindings("find")

    def __init__(self) -> None:
        super().__init__()
        self.question = ""
        self.is_begun = True
        self._told: Done | None = None
        self._said = ""

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
        self.call("find", lambda: desk.find(question, limit=PAGE, offset=0), self._show, self._not_found)

    async def _show(self, found: "Found") -> None:
        if found.book and await self.crib.open_book(found.book):
            return
        self.is_begun = True
        self._say_found(found)
        self._fill_anew(found)
        if self._told is not None:
            self.say(self._told.verdict, self._told.detail, BEGUN)
            self._told = None
        if self.question and self.rows.count:
            self.rows.focus()

    def _say_found(self, found: "Found") -> None:
        bare = not (self.question or found.total or found.elsewhere)
        self.say(found.verdict, read_as(found) + found.detail, BEGUN if bare else next_step(found))
        self._said = self.query_one("#verdict", AnswerLine).said

    def _fill_anew(self, found: "Found") -> None:
        tail: tuple[object, ...] = ()
        if found.elsewhere:
            here = any(item.on_site for item in found.elsewhere)
            none = "None as asked. What comes near:" if here else "None here. Elsewhere:"
            tail = (Heading("Elsewhere" if found.items else none), *found.elsewhere)
        self.rows.show_rows(found.items, found.total, tail)

    def _not_found(self, error: CribError) -> None:
        """Say what is wrong; where there is no store, ask to begin one."""
        missing = isinstance(error, StoreMissing)
        self.say_error(error, BEGIN if missing else "")
        if missing and self.is_begun:
            self.is_begun = False
            self.action_begin()

    def action_begin(self) -> None:
        """Ask for what a store begins with."""
        from crib.tui.screens.begin import BeginScreen  # needed once

        self.app.push_screen(BeginScreen(then=self._begun))

    def _begun(self, done: "Done") -> None:
        self._told = done
        self.crib.written = False  # the list is read now
        self.take("")

    def can(self, name: str) -> bool:
        """Offer to begin a store only where there is none."""
        return not self.is_begun if name == "begin" else super().can(name)

    def on_screen_resume(self) -> None:
        """Read the list anew if something was written elsewhere; what was told here stays."""
        if self.crib.written:
            self.crib.written = False
            desk, question = self.crib.desk, self.question
            self.call(
                "again", lambda: desk.find(question, limit=PAGE, offset=0), self._show_again, self._not_again
            )

    def _show_again(self, found: "Found") -> None:
        at = self.rows.cursor
        if not self.is_begun or self.query_one("#verdict", AnswerLine).said == self._said:
            self._say_found(found)
        self.is_begun = True
        self._fill_anew(found)
        self.rows.mark(at)

    def _not_again(self, error: CribError) -> None:
        """Leave the list as it was read; the next question says what is wrong."""

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
        self.say(done.verdict, done.detail, RECORDED if done.act else None)


def _is_tool(tag: str, row: object) -> bool:
    return getattr(row, "tag", None) == tag


def read_as(found: "Found") -> str:
    """Say what a question was taken to mean, for the second line."""
    told = ", ".join(f"{said.field} {said.value}" for said in found.understood)
    return f"Read as: {told}. " if told else ""
