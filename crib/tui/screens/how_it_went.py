"""How a cut went: one key, in the last lines of the screen; before it minutes and pitch, if known."""

from typing import NamedTuple

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Input

from crib.tui.actions import Action
from crib.tui.widgets.form import Field
from crib.tui.widgets.lines import AnswerLine, KeyLine, TextLine

RESULTS = ("clean", "marks", "chatter", "edge broke", "worn out")
_SHORT = ("clean", "marks", "rang", "broke", "worn")  # five keys and Esc fit 60 columns
_HERE = "how it went"
_CHOICES = tuple(
    Action(name=f"went({number})", keys=(str(number),), label=short, help=result, where=_HERE)
    for number, (result, short) in enumerate(zip(RESULTS, _SHORT, strict=True), start=1)
)
_MINUTES = Action(name="type('minutes')", keys=("m",), label="minutes", help="How long it cut.", where=_HERE)
_HEARD = Action(
    name="type('heard')", keys=("p",), label="pitch", help="At which it rang, in Hz.", where=_HERE
)
_NO = Action(name="leave", keys=("escape", "n"), label="leave", help="Log nothing.", where=_HERE)
_ALL = (*_CHOICES, _MINUTES, _HEARD, _NO)
_DONE = (Action(name="typed", keys=("enter",), label="back to the keys", help="", where=_HERE), _NO)


class Went(NamedTuple):
    """How a cut went, as typed; no result where nothing is to be logged."""

    result: str = ""
    minutes: str = ""
    heard: str = ""


class HowItWentScreen(ModalScreen[Went]):
    """Asks how a cut went.

    Args:
        tools: what cut.
        before: what was typed already and could not be read.
    """

    AUTO_FOCUS = ""  # the keys first: most cuts are logged with one
    BINDINGS = [Binding(",".join(action.keys), action.name, show=False) for action in _ALL]
    DEFAULT_CSS = """
    HowItWentScreen { align: center bottom; background: $background 0%; }
    HowItWentScreen > Vertical { height: auto; border-top: heavy $foreground; background: $surface; }
    HowItWentScreen Horizontal { height: 1; padding: 0 1; }
    """

    def __init__(self, tools: str, before: Went) -> None:
        super().__init__()
        self.tools, self.before = tools, before

    def compose(self) -> ComposeResult:
        """Lay out question, consequence, the two fields and the keys."""
        with Vertical():
            yield AnswerLine(id="question")
            yield AnswerLine(id="consequence")
            with Horizontal():
                yield Field("minutes", "Minutes", TextLine(self.before.minutes))
                yield Field("heard", "Pitch heard", TextLine(self.before.heard))
            yield KeyLine(lambda: _DONE if self._typing() else _ALL, self._typing)

    def on_mount(self) -> None:
        """Show the question as data."""
        self.query_one("#question", AnswerLine).say(f"How did it go with {self.tools}?")
        self.query_one("#consequence", AnswerLine).say(
            "Logged at the figures offered; crib log takes others. "
            "If known, first: m minutes, p pitch that was heard (190 Hz)."
        )

    def _typing(self) -> bool:
        return isinstance(self.focused, Input)

    def on_descendant_focus(self) -> None:
        """Show the keys that work in a field."""
        self.query_one(KeyLine).refresh()

    def on_descendant_blur(self) -> None:
        """Show the keys that log."""
        self.query_one(KeyLine).refresh()

    def on_input_submitted(self) -> None:
        """Enter in a field goes back to the keys."""
        self.set_focus(None)

    def action_type(self, name: str) -> None:
        """Go to a field."""
        self.query_one(f"#{name}").focus()

    def action_went(self, number: int) -> None:
        """Take the result of that number, with what was typed."""
        minutes, heard = (self.query_one(f"#{name}", TextLine).value for name in ("minutes", "heard"))
        self.dismiss(Went(RESULTS[number - 1], minutes, heard))

    def action_leave(self) -> None:
        """Out of a field to the keys; from there, log nothing."""
        if self._typing():
            self.set_focus(None)
        else:
            self.dismiss(Went())
