"""A screen whose body shows one of several views at a time."""

from collections.abc import Mapping
from typing import ClassVar

from textual.widgets import ContentSwitcher

from crib.tui.screens.base import DeskScreen
from crib.tui.widgets.form import Form


class ViewsScreen(DeskScreen):
    """A screen of several views; its body holds a switcher called "views".

    Attributes:
        TAKES_KEYS: view -> what takes the keyboard there; the first view is the one shown first.
    """

    TAKES_KEYS: ClassVar[Mapping[str, str]] = {}

    @property
    def view(self) -> str:
        """What stands between answer and next step."""
        first = next(iter(self.TAKES_KEYS))
        return (self.query_one("#views", ContentSwitcher).current or first) if self.is_mounted else first

    def turn_to(self, view: str, *, focus: bool = True) -> None:
        """Show a view, with the keyboard in it unless it is to stay where it is."""
        self.query_one("#views", ContentSwitcher).current = view
        if focus:
            self.focus_body()
        self.refresh_keys()

    def focus_body(self) -> None:
        """Give the keyboard to what stands there: of a form, to the field that was left."""
        takes = self.query_one(self.TAKES_KEYS[self.view])
        if isinstance(takes, Form):
            takes.focus_again()
        else:
            takes.focus()
