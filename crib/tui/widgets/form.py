"""Forms, and their fields: a line to type in, and a choice among a few words. Both fit in one line."""

from collections.abc import Iterator, Mapping, Sequence

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Input

from crib.tui.widgets.lines import TextLine

LABEL_WIDTH = 12


class Field(Widget):
    """A label and its entry; brackets show how far it goes, an arrow where the keyboard is.

    Label and brackets are drawn by the field itself, below its entry: a form of many widgets opens slowly.

    Args:
        name: the field's name.
        label: what stands before it.
        entry: where it is typed or chosen.
    """

    DEFAULT_CSS = """
    Field { height: 1; width: 1fr; layout: horizontal; }
    Field > TextLine { margin: 0 2 0 14; }
    Field > Choice { margin: 0 0 0 13; }
    """

    def __init__(self, name: str, label: str, entry: "TextLine | Choice") -> None:
        super().__init__()
        self.entry = entry
        self.label = label
        self.here = False
        entry.id = name

    def compose(self) -> ComposeResult:
        """Lay out the entry; the rest is drawn."""
        yield self.entry

    def render(self) -> Content:
        """Draw arrow, label and brackets."""
        label = ("▸" if self.here else " ") + self.label.ljust(LABEL_WIDTH)
        room = self.size.width - len(label) - 3
        return Content(f"{label}[{' ' * room}]" if isinstance(self.entry, TextLine) else label)

    def on_descendant_focus(self) -> None:
        """Point to the field."""
        self.here = True
        self.refresh()

    def on_descendant_blur(self) -> None:
        """Point to it no more."""
        self.here = False
        self.refresh()


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
            Segment(f"[{word}]" if word == self.value else f" {word} ", base + Style(bold=word == self.value))
            for word in self._shown()
        ]
        return Strip(segments).adjust_cell_length(self.size.width, base)

    def _shown(self) -> Sequence[str]:
        """Give the words there is room for: all, or the one that is taken."""
        room = sum(len(word) + 2 for word in self.words) <= self.size.width
        return self.words if room else (self.value,)

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
        """Take the word under the pointer; where only one is shown, the next."""
        if self._shown() != self.words:
            self.action_step(1)
            return
        at = 0
        for word in self.words:
            at += len(word) + 2
            if event.x < at:
                self.put(word)
                return


class Form(Vertical):
    """What all forms do: fields that hold what was typed, a hint below, and word of every change."""

    BINDINGS = [Binding("up", "row(-1)", show=False), Binding("down", "row(1)", show=False)]
    DEFAULT_CSS = """
    Form { height: 1fr; overflow-y: auto; padding: 0 1; scrollbar-size-vertical: 1; }
    Form > Grid { grid-size: 2; grid-rows: 1; height: auto; }
    Form > AnswerLine { margin-top: 1; padding: 0; }
    """

    class Changed(Message):
        """Something in the form is different."""

    def __init__(self, first: str) -> None:
        super().__init__(id="form")
        self._left = first

    def _fields(self) -> Iterator[tuple[str, TextLine | Choice]]:
        for field in self.query(Field):
            yield str(field.entry.id), field.entry

    def values(self) -> dict[str, str]:
        """Give what stands in every field, as typed."""
        return {name: entry.value for name, entry in self._fields()}

    def type_over(self, values: Mapping[str, str]) -> None:
        """Set the fields that are named; leave the others as they are."""
        for name, entry in self._fields():
            if name in values:
                entry.put(values[name])

    def go(self, name: str) -> None:
        """Put the keyboard into a field."""
        self.screen.set_focus(self.query_one(f"#{name}"))

    def focus_again(self) -> None:
        """Go to the field that was left last."""
        self.go(self._left)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Pass on that something changed."""
        event.stop()
        self.post_message(self.Changed())

    def on_choice_changed(self, event: "Choice.Changed") -> None:
        """Pass on that something changed."""
        event.stop()
        self.post_message(self.Changed())
