"""One tool: everything on record about it, and what happened to it."""

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.items import ItemActions
from crib.tui.widgets.text_page import Line, TextPage
from crib.tui.wording import clean, fitted, in_words, wrapped

if TYPE_CHECKING:
    from crib.desk.asking.ask import FoundItem
    from crib.desk.asking.story import ItemStory, LedgerLine
    from crib.desk.doings.doing import Done

NAME_WIDTH = 22
WHEN_WIDTH = 16  # "2026-03-01 14:05"


class ItemScreen(ItemActions):
    """The page of one tool.

    Args:
        item: the tool as its row knew it; the rest is asked for.
    """

    AREA = "item"
    TITLE_HERE = "Find"
    BINDINGS = bindings("item")

    def __init__(self, item: "FoundItem") -> None:
        super().__init__()
        self._item = item
        self._told = ""

    def body(self) -> Iterator[Any]:
        """Lay out the page."""
        yield TextPage(id="story")

    def on_mount(self) -> None:
        """Ask for the story."""
        first, *rest = in_words(self._item)
        self.say(first, " ".join(part + "." for part in rest if part), "Esc goes back to the list.")
        self.focus_body()
        self._ask()

    def _ask(self) -> None:
        desk, tag = self.crib.desk, self._item.tag
        self.call("show", lambda: desk.show(tag), self._show)

    def _show(self, story: "ItemStory") -> None:
        self._item = story.item
        first, *rest = in_words(story.item)
        self.say(self._told or first, first if self._told else " ".join(part + "." for part in rest if part))
        self.query_one("#story", TextPage).show_lines(partial(story_lines, story))

    def focus_body(self) -> None:
        """Give the keyboard to the page."""
        self.query_one("#story").focus()

    def step_back(self) -> None:
        """Leave the Ask line, then the page."""
        if self.typing():
            self.focus_body()
        else:
            self.dismiss()

    def item(self) -> "FoundItem":
        """Give the tool."""
        return self._item

    def action_worth(self) -> None:
        """Show what this tool is worth, and what shows whose it is."""
        from crib.tui.screens.worth import WorthScreen

        self.app.push_screen(WorthScreen(self._item.tag))

    def recorded(self, done: "Done") -> None:
        """Show what was recorded, and the story as it is now."""
        self._told = done.verdict
        self._ask()


def story_lines(story: "ItemStory", width: int) -> list[Line]:
    """Lay out facts and history for a width."""
    lines = [Line("On record", strong=True)]
    if story.item.takes:
        lines += _fact("goes with" if story.item.kind == "insert" else "takes", story.item.takes, width)
    for name, value in story.facts:
        lines += _fact(name, value, width)
    lines += [Line(""), Line("What happened to it, latest first", strong=True)]
    for entry in reversed(story.ledger):
        lines += [Line(text) for text in _happened(entry, width)]
    if not story.ledger:
        lines.append(Line("Nothing is recorded."))
    return lines


def _fact(name: str, value: object, width: int) -> list[Line]:
    first, *rest = wrapped(value, width - NAME_WIDTH) or [""]
    return [Line(fitted(name, NAME_WIDTH) + first), *(Line(" " * NAME_WIDTH + text) for text in rest)]


def _happened(entry: "LedgerLine", width: int) -> list[str]:
    when = str(entry.at).replace("T", " ")[:WHEN_WIDTH]
    way = " → ".join(clean(part) for part in (entry.from_, entry.to) if part)
    many = f"{entry.how_many:+d}" if isinstance(entry.how_many, int) and entry.how_many not in (0, 1) else ""
    told = f"told: {entry.told}" if entry.told else ""
    parts = (entry.what, many, way, f"by {entry.who}" if entry.who else "", entry.why, told)
    text = ", ".join(clean(part) for part in parts if part)
    return wrapped(text, width, mark=fitted(when, WHEN_WIDTH) + "  ")
