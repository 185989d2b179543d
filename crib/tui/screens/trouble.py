"""What is shown when something goes wrong that nobody foresaw."""

from collections.abc import Iterator
from functools import partial
from typing import Any

from textual.binding import Binding

from crib.tui.actions import Action
from crib.tui.keeping import report_text, save_report
from crib.tui.screens.base import DeskScreen, bindings
from crib.tui.widgets.text_page import Line, TextPage
from crib.tui.wording import clean, wrapped

_SAVE = Action(
    name="save", keys=("s",), label="save the report", help="Write the report to a file.", where="trouble"
)


class TroubleScreen(DeskScreen):
    """Says what happened, and offers to save a report.

    Args:
        error: what was raised.
    """

    AREA = "trouble"
    BINDINGS = [Binding("s", "save", show=False), *bindings("trouble")]

    def __init__(self, error: Exception) -> None:
        super().__init__()
        self.error = error

    def body(self) -> Iterator[Any]:
        """Lay out the page."""
        yield TextPage(id="trouble")

    def on_mount(self) -> None:
        """Say what happened."""
        self.say(
            "! Something went wrong inside crib; the fault is ours, not yours.",
            "What was confirmed before is kept; nothing was half written.",
            "s saves a report to hand on. Esc goes back to work.",
        )
        self.query_one("#trouble", TextPage).show_lines(
            partial(_lines, report_text(self.error, self.crib.address))
        )
        self.focus_body()

    def offered(self) -> list[Action]:
        """Give what the bottom line shows: saving comes first."""
        return [_SAVE, *super().offered()]

    def focus_body(self) -> None:
        """Give the keyboard to the page."""
        self.query_one("#trouble").focus()

    def action_save(self) -> None:
        """Write the report."""
        try:
            path = save_report(self.error, self.crib.address)
        except OSError as error:
            self.say("! The report could not be saved.", clean(error))
            return
        self.say("The report is saved.", clean(path), "Esc goes back to work.")

    def step_back(self) -> None:
        """Leave the Ask line, then the page."""
        if self.typing():
            self.focus_body()
        else:
            self.dismiss()


def _lines(report: str, width: int) -> list[Line]:
    return [Line(text) for line in report.splitlines() for text in wrapped(line, width) or [""]]
