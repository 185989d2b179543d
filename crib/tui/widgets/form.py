"""Fields of a form: a line to type in, and a choice among a few words. Both fit in one line."""

from collections.abc import Sequence

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Static

from crib.tui.widgets.lines import TextLine

LABEL_WIDTH = 12


class Field(Horizontal):
    """A label and its entry; brackets show how far it goes, an arrow where the keyboard is.

    Args:
        name: the field's name.
        label: what stands before it.
        entry: where it is typed or chosen.
    """

    DEFAULT_CSS = """
    Field { height: 1; width: 1fr; }
    Field > Static { width: auto; }
    """

    def __init__(self, name: str, label: str, entry: "TextLine | Choice") -> None:
        super().__init__()
        self.entry = entry
        self.label = label
        entry.id = name

    def compose(self) -> ComposeResult:
        """Lay out label and entry."""
        yield Static(self._label(False), classes="label", markup=False)
        if isinstance(self.entry, TextLine):
            yield Static("[", markup=False)
        yield self.entry
        if isinstance(self.entry, TextLine):
            yield Static("]", markup=False)

    def _label(self, here: bool) -> str:
        return ("▸" if here else " ") + self.label.ljust(LABEL_WIDTH)

    def on_descendant_focus(self) -> None:
        """Point to the field."""
        self.query_one(".label", Static).update(self._label(True))

    def on_descendant_blur(self) -> None:
        """Point to it no more."""
        self.query_one(".label", Static).update(self._label(False))


class Choice(Widget, can_focus=True):
    """A few words, one of which is taken: it stands in brackets.

    Args:
        words: from left to right; the first is taken until another is.
    """

    BINDINGS = [
        Binding("left", "step(-1)", show=False),
        Binding("right,space", "step(1)", show=False),
    ]
    DEFAULT_CSS = """
    Choice { height: 1; width: 1fr; }
    Choice:focus { background: $panel; }
    """

    class Changed(Message):
        """Another word is taken."""

    def __init__(self, words: Sequence[str]) -> None:
        super().__init__()
        self.words = tuple(words)
        self._at = 0

    @property
    def value(self) -> str:
        """The word that is taken."""
        return self.words[self._at]

    def put(self, word: str) -> None:
        """Take a word; one that is not offered takes the first."""
        at = self.words.index(word) if word in self.words else 0
        if at != self._at:
            self._at = at
            self.refresh()
            self.post_message(self.Changed())

    def render_line(self, y: int) -> Strip:
        """Draw the words."""
        base = self.rich_style
        segments = [
            Segment(f"[{word}]" if at == self._at else f" {word} ", base + Style(bold=at == self._at))
            for at, word in enumerate(self.words)
        ]
        return Strip(segments).adjust_cell_length(self.size.width, base)

    def action_step(self, by: int) -> None:
        """Take the next word, round and round."""
        self.put(self.words[(self._at + by) % len(self.words)])

    def on_key(self, event: events.Key) -> None:
        """Take the word that starts with the typed letter."""
        for word in self.words:
            if event.character and word.startswith(event.character.lower()):
                event.stop()
                event.prevent_default()
                self.put(word)
                return

    def on_click(self, event: events.Click) -> None:
        """Take the word under the pointer."""
        at = 0
        for word in self.words:
            at += len(word) + 2
            if event.x < at:
                self.put(word)
                return
