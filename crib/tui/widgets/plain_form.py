"""A form of one entry a line, all as typed; the hint of the entry in hand stands below."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.message import Message

from crib.tui.widgets.form import Choice, Field, Form
from crib.tui.widgets.lines import AnswerLine, TextLine

LONG = 12  # entries; the hint of a longer form stays at its foot, or it would be scrolled out of sight


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry of a form.

    Attributes:
        name: what it is called in the values.
        label: what stands before it; at most 12 letters.
        hint: what it takes, said while the keyboard is there.
        words: the words to choose from; empty for a line to type in.
    """

    name: str
    label: str
    hint: str
    words: tuple[str, ...] = ()


class PlainForm(Form):
    """Entries from top to bottom.

    Args:
        entries: what can be typed or chosen.
    """

    DEFAULT_CSS = "PlainForm.-long > AnswerLine { dock: bottom; margin: 0; }"
    BINDINGS = [Binding("enter", "next", show=False)]  # from a choice; a line to type in says it itself

    class Finished(Message):
        """Enter was pressed in the last entry, a choice."""

    def __init__(self, entries: Sequence[Entry]) -> None:
        self.entries = tuple(entries)
        super().__init__(first=self.entries[0].name)
        self._put: dict[str, str] = {}
        self.set_class(len(self.entries) > LONG, "-long")

    def compose(self) -> ComposeResult:
        """Lay out the entries and the hint."""
        for entry in self.entries:
            yield Field(entry.name, entry.label, Choice(entry.words) if entry.words else TextLine())
        yield AnswerLine(id="hint")

    def typed(self) -> dict[str, str]:
        """Give the entries that differ from what was put in."""
        return {name: value for name, value in self.values().items() if value != self._put.get(name, "")}

    def put(self, values: Mapping[str, str]) -> None:
        """Fill in all entries; those not told become empty, or their first word."""
        for name, field in self._fields():
            field.put(values.get(name, ""))
        self._put = self.values()

    def is_last(self) -> bool:
        """Tell whether the keyboard is in the last entry."""
        return self._left == self.entries[-1].name

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Say what the entry takes."""
        self._left = str(event.widget.id)
        hint = next(entry.hint for entry in self.entries if entry.name == self._left)
        self.query_one("#hint", AnswerLine).say(hint)

    def action_row(self, by: int) -> None:
        """Go to the entry above or below."""
        names = [entry.name for entry in self.entries]
        at = names.index(self._left) + by
        if 0 <= at < len(names):
            self.go(names[at])

    def action_next(self) -> None:
        """Go to the next entry, or say that the form is finished."""
        if self.is_last():
            self.post_message(self.Finished())
        else:
            self.action_row(1)
