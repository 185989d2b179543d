"""Taking back what was recorded last on a screen."""

from typing import TYPE_CHECKING

from crib.tui.screens.base import DeskScreen

if TYPE_CHECKING:
    from crib.desk.doing import Done


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

    def can(self, name: str) -> bool:
        """Offer undo only after something was recorded."""
        return bool(self.act) if name == "undo" else super().can(name)

    def action_undo(self) -> None:
        """Take back what was recorded last."""
        address, act = self.crib.address, self.act

        def take_back() -> "Done":
            from crib.desk.undo import undo

            return undo(address, act)

        self.call("write", take_back, self._taken_back)

    def _taken_back(self, done: "Done") -> None:
        self.act = ""
        self.recorded(done)
        self.refresh_keys()
