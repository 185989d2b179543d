"""Recording after a question, and taking back what was recorded last."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from crib.errors import CribError
from crib.tui.screens.base import DeskScreen
from crib.tui.screens.confirm import ConfirmScreen

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done


class Undoing(DeskScreen):
    """A screen that records doings and can take the last one back.

    Attributes:
        act: the word of the doing recorded last; empty where there is none to take back.
    """

    act = ""

    def recorded(self, done: "Done") -> None:
        """Show what was recorded, or taken back."""
        raise NotImplementedError

    def wrote(self, done: "Done") -> None:
        """Remember a doing, and show it."""
        self.act = done.act
        self.recorded(done)
        self.refresh_keys()

    def ask_first(
        self,
        question: str,
        write: Callable[[], Any],
        then: Callable[[Any], None] | None = None,
        otherwise: str = "",
        consequence: str = "Writes to the ledger; it can be taken back.",
        refused: Callable[[CribError], None] | None = None,
    ) -> None:
        """Ask before something is written.

        Args:
            question: what is about to be done.
            write: does it, in a thread.
            then: takes what it gives; a doing is remembered and shown if not told.
            otherwise: what stays so on no.
            consequence: what it writes.
            refused: takes an error; by default it is shown in the answer lines.
        """

        def go_on(yes: bool | None) -> None:
            if yes:
                self.call("write", write, then or self.wrote, refused)
            else:
                self.say("Nothing was recorded.", otherwise)

        self.app.push_screen(ConfirmScreen(question, consequence), go_on)

    def can(self, name: str) -> bool:
        """Offer undo only after something was recorded."""
        return bool(self.act) if name == "undo" else super().can(name)

    def action_undo(self) -> None:
        """Take back what was recorded last."""
        address, act = self.crib.address, self.act

        def take_back() -> "Done":
            from crib.desk.doings.undo import undo

            return undo(address, act)

        self.call("write", take_back, self._taken_back)

    def _taken_back(self, done: "Done") -> None:
        self.act = ""
        self.recorded(done)
        self.refresh_keys()
