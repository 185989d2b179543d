"""The fixed lines of every screen: title, Ask line, answer, keys; and the entry line they are typed into."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Input, Static

from crib.tui.actions import Action
from crib.tui.wording import clean, fitted

LONGEST_LINE = 1000
EXAMPLES = "e.g. left hand holder here · WNMG 080408 · bore 16 to 16 3/8 in cast iron"


@dataclass(frozen=True, slots=True)
class Spot:
    """A piece of a line.

    Attributes:
        text: what stands there.
        action: what a click on it does; None for plain text.
        strong: drawn to stand out.
    """

    text: str
    action: str | None = None
    strong: bool = False


class SpotLine(Widget):
    """One line made of pieces that can be clicked.

    Args:
        id: the widget's name.
    """

    DEFAULT_CSS = "SpotLine { height: 1; width: 1fr; }"

    def spots(self, width: int) -> Iterable[Spot]:
        """Give the pieces from left to right."""
        raise NotImplementedError

    def render_line(self, y: int) -> Strip:
        """Draw the pieces."""
        width = self.size.width
        base = self.rich_style
        strong = base + Style(bold=True)
        segments = [Segment(clean(spot.text), strong if spot.strong else base) for spot in self.spots(width)]
        return Strip(segments).adjust_cell_length(width, base)

    async def on_click(self, event: events.Click) -> None:
        """Do what stands under the pointer."""
        at = 0
        for spot in self.spots(self.size.width):
            at += cell_len(clean(spot.text))
            if event.x < at:
                if spot.action:
                    event.stop()
                    await self.screen.run_action(spot.action)
                return


class TitleLine(SpotLine):
    """The program's name, the screens with their keys, and a note on the right.

    Args:
        areas: the actions that open the screens.
        here: the name of the screen that is open.
        note: said on every screen, for example that this is the demo.
    """

    def __init__(self, areas: Sequence[Action], here: str, note: str) -> None:
        super().__init__(id="title")
        self.areas = areas
        self.here = here
        self.note = note

    def spots(self, width: int) -> Iterable[Spot]:
        """Give the pieces; the open screen stands in brackets, and long names are cut where room is short."""
        for letters in (LONGEST_LINE, 6, 5, 4, 3, 0):
            tabs = [Spot(" crib "), *(self._tab(action, letters) for action in self.areas)]
            room = width - sum(len(tab.text) for tab in tabs) - 1
            if room >= 0:
                break
        note = fitted(self.note, min(cell_len(clean(self.note)), max(room - 1, 0)))
        return [*tabs, Spot(" " * (room - cell_len(note))), Spot(note)]

    def _tab(self, action: Action, letters: int) -> Spot:
        here = action.label == self.here
        text = f"{action.key_shown(typing=True)} {action.label[:letters]}".rstrip()
        return Spot(f"[{text}]" if here else f" {text} ", action.name, strong=here)


class KeyLine(SpotLine):
    """What can be done now, with its keys; the last line of a screen.

    Args:
        offered: gives the actions that can be done now, most wanted first.
        typing: tells whether letters go into an entry line.
    """

    def __init__(self, offered: Callable[[], Sequence[Action]], typing: Callable[[], bool]) -> None:
        super().__init__(id="keys")
        self.offered = offered
        self.typing = typing

    def spots(self, width: int) -> Iterable[Spot]:
        """Give as many actions as there is room for; help always has room."""
        typing = self.typing()
        spots = [Spot(" ")]
        *offered, last = [
            (action, key) for action in self.offered() if (key := action.key_shown(typing)) is not None
        ]
        left = width - 2 - _length(*last)
        for action, key in offered:
            if _length(action, key) + 3 <= left:
                left -= _length(action, key) + 3
                spots += [*_pair(action, key), Spot("   ")]
        return [*spots, *_pair(*last)]


def _pair(action: Action, key: str) -> list[Spot]:
    return [Spot(key, action.name, strong=True), Spot(" " + action.label, action.name)]


def _length(action: Action, key: str) -> int:
    return len(key) + 1 + len(action.label)


class TextLine(Input):
    """A line to type in, without a frame; whatever is pasted is made harmless.

    Args:
        value: what stands in it.
        placeholder: an example, shown while it is empty.
        id: the widget's name.
    """

    DEFAULT_CSS = """
    TextLine, TextLine:focus { background: $surface; background-tint: $foreground 0%; width: 1fr; }
    TextLine:focus { background: $panel; }
    """

    def __init__(self, value: str = "", *, placeholder: str = "", id: str | None = None) -> None:
        super().__init__(
            clean(value),
            placeholder=placeholder,
            id=id,
            compact=True,
            select_on_focus=False,
            max_length=LONGEST_LINE,
        )
        self.cursor_blink = False
        self.offer = ""

    def replace(self, text: str, start: int, end: int) -> None:
        """Put text in, as everything typed or pasted is, without what a terminal would obey."""
        super().replace(clean(text), start, end)

    def put(self, text: str) -> None:
        """Set the whole line."""
        self.value = clean(text)
        self.cursor_position = len(self.value)

    def action_cursor_right(self, select: bool = False) -> None:
        """Move right; at the end of the line, take the name that is offered."""
        if self.offer and self.cursor_at_end and not select:
            self.put(self.offer)
        else:
            super().action_cursor_right(select)


class AskLine(Horizontal):
    """The line that takes a question on every screen."""

    DEFAULT_CSS = """
    AskLine { height: 1; }
    AskLine > Static { width: auto; }
    """

    def compose(self) -> ComposeResult:
        """Lay out the word and the entry."""
        yield Static(" Ask: ", markup=False)
        yield TextLine(id="ask", placeholder=EXAMPLES)


class AnswerLine(Static):
    """A sentence of the answer; it wraps to two lines where it must.

    Args:
        id: the widget's name.
    """

    DEFAULT_CSS = "AnswerLine { height: auto; max-height: 2; width: 1fr; padding: 0 1; }"

    def __init__(self, id: str) -> None:
        super().__init__("", id=id, markup=False)
        self.said = ""

    def say(self, text: str) -> None:
        """Show a sentence as data."""
        self.said = clean(text)
        self.update(self.said)
