"""One question with yes or no, in the last lines of the screen."""

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen

from crib.tui.actions import Action
from crib.tui.widgets.lines import AnswerLine, KeyLine

_YES = Action(name="yes", keys=("y", "enter"), label="yes", help="Do it.", where="confirm")
_NO = Action(name="no", keys=("n", "escape"), label="no", help="Leave it.", where="confirm")


class ConfirmScreen(ModalScreen[bool]):
    """Asks before something is written.

    Args:
        question: what is about to be done.
        consequence: what it writes.
    """

    BINDINGS = [Binding(",".join(action.keys), action.name, show=False) for action in (_YES, _NO)]
    DEFAULT_CSS = """
    ConfirmScreen { align: center bottom; background: $background 0%; }
    ConfirmScreen > Vertical { height: auto; border-top: heavy $foreground; background: $surface; }
    """

    def __init__(self, question: str, consequence: str) -> None:
        super().__init__()
        self.question = question
        self.consequence = consequence

    def compose(self) -> ComposeResult:
        """Lay out question, consequence and keys."""
        with Vertical():
            yield AnswerLine(id="question")
            yield AnswerLine(id="consequence")
            yield KeyLine(lambda: (_YES, _NO), lambda: False)

    def on_mount(self) -> None:
        """Show the question as data."""
        self.query_one("#question", AnswerLine).say(self.question)
        self.query_one("#consequence", AnswerLine).say(self.consequence)

    def action_yes(self) -> None:
        """Do it."""
        self.dismiss(True)

    def action_no(self) -> None:
        """Leave it."""
        self.dismiss(False)
