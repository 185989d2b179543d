"""How a cut went: one key, in the last lines of the screen."""

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen

from crib.tui.actions import Action
from crib.tui.widgets.lines import AnswerLine, KeyLine

RESULTS = ("clean", "marks", "chatter", "edge broke", "worn out")
_CHOICES = tuple(
    Action(name=f"went({number})", keys=(str(number),), label=result, help=result, where="how it went")
    for number, result in enumerate(RESULTS, start=1)
)
_NO = Action(name="leave", keys=("escape", "n"), label="leave", help="Log nothing.", where="how it went")


class HowItWentScreen(ModalScreen[str]):
    """Asks how a cut went; gives the result, or nothing.

    Args:
        tools: what cut.
    """

    BINDINGS = [Binding(",".join(action.keys), action.name, show=False) for action in (*_CHOICES, _NO)]
    DEFAULT_CSS = """
    HowItWentScreen { align: center bottom; background: $background 0%; }
    HowItWentScreen > Vertical { height: auto; border-top: heavy $foreground; background: $surface; }
    """

    def __init__(self, tools: str) -> None:
        super().__init__()
        self.tools = tools

    def compose(self) -> ComposeResult:
        """Lay out question, consequence and keys."""
        with Vertical():
            yield AnswerLine(id="question")
            yield AnswerLine(id="consequence")
            yield KeyLine(lambda: (*_CHOICES, _NO), lambda: False)

    def on_mount(self) -> None:
        """Show the question as data."""
        self.query_one("#question", AnswerLine).say(f"How did it go with {self.tools}?")
        self.query_one("#consequence", AnswerLine).say(
            "Writes one line to the logbook, at the figures offered; crib log takes other figures too."
        )

    def action_went(self, number: int) -> None:
        """Take the result of that number."""
        self.dismiss(RESULTS[number - 1])

    def action_leave(self) -> None:
        """Log nothing."""
        self.dismiss("")
