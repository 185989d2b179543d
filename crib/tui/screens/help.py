"""Help: every action with its keys, from the one list."""

from collections.abc import Iterator
from functools import partial
from typing import Any

from crib.tui.actions import ACTIONS, EVERYWHERE, KEY_NAMES, SCREEN_NAMES
from crib.tui.screens.base import DeskScreen, bindings
from crib.tui.widgets.text_page import Line, TextPage
from crib.tui.wording import fitted, wrapped

KEYS_WIDTH = 12
EXAMPLES = (
    ("left hand holder for a WNMG 080408 here", "Find"),
    ("boring bars at home", "Find"),
    ("WNMG 432", "Decode"),
    ("bore 16 to 16 3/8 in cast iron, 9 in long", "Pick"),
)
LIST_KEYS = (
    ("↑ ↓", "Mark the row above or below. PgUp, PgDn, Home and End go further."),
    ("Tab", "Go to the next field or list; Shift+Tab goes back."),
    ("click", "A click marks a row, a second one opens it. Words in the last line can be clicked."),
)


class HelpScreen(DeskScreen):
    """What can be done.

    Args:
        area: the screen from which help was asked; its actions come first.
    """

    AREA = "help"
    BINDINGS = bindings("help")

    def __init__(self, area: str) -> None:
        super().__init__()
        self.area = area

    def body(self) -> Iterator[Any]:
        """Lay out the page."""
        yield TextPage(id="help")

    def on_mount(self) -> None:
        """Show the page."""
        self.say(
            "What you can do, and the keys.",
            "The Ask line takes shop talk, a code or a cut, and goes where the question leads.",
            "Esc goes back.",
        )
        self.query_one("#help", TextPage).show_lines(partial(help_lines, self.area))
        self.focus_body()

    def can(self, name: str) -> bool:
        """Offer everything but help itself."""
        return name != "help"

    def focus_body(self) -> None:
        """Give the keyboard to the page."""
        self.query_one("#help").focus()

    def step_back(self) -> None:
        """Leave the Ask line, then the page."""
        if self.typing():
            self.focus_body()
        else:
            self.dismiss()


def help_lines(area: str, width: int) -> list[Line]:
    """Lay out all actions for a width.

    Args:
        area: the screen whose actions come first.
        width: columns.
    """
    lines = [Line("Ask, for example", strong=True)]
    for question, leads_to in EXAMPLES:
        lines += _entry("", f"{question}  → {leads_to}", width)
    areas = sorted(SCREEN_NAMES, key=lambda name: (name != area, name == EVERYWHERE))
    for name in areas:
        lines += [Line(""), Line(SCREEN_NAMES[name], strong=True)]
        for action in (a for a in ACTIONS if a.where == name):
            keys = " ".join(KEY_NAMES.get(key, key) for key in action.keys)
            lines += _entry(keys, f"{action.label}: {action.help}", width)
    lines += [Line(""), Line("Lists and fields", strong=True)]
    for keys, text in LIST_KEYS:
        lines += _entry(keys, text, width)
    return lines


def _entry(keys: str, text: str, width: int) -> list[Line]:
    return [Line(line) for line in wrapped(text, width, mark=fitted("  " + keys, KEYS_WIDTH))]
