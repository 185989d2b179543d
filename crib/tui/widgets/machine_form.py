"""The form of a machine: its plate and chart, field by field, all as typed."""

from collections.abc import Mapping

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Grid

from crib.desk.starting.chart import FIELDS
from crib.store.words import MACHINE_KINDS
from crib.tui.widgets.form import Choice, Field, Form
from crib.tui.widgets.lines import AnswerLine, TextLine

PATH = "path"
# field of a machine and its label; what stands alone has the whole row
_ROWS: tuple[tuple[tuple[str, str], ...], ...] = (
    ((PATH, "Where"),),
    (("kind", "Kind"),),
    (("speeds", "Speeds"),),
    (("feeds", "Feeds"),),
    (("power", "Power"), ("efficiency", "Efficiency")),
    (("swing", "Swing"), ("travel", "Travel")),
    (("shanks", "Shanks"), ("bars", "Bars")),
    (("facing_head", "Facing head"), ("least_bore", "Least bore")),
    (("head_speed_limit", "Head rev/min"), ("head_tangential_limit", "Head m/min")),
    (("note", "Note"),),
)
_WORDS = {"kind": MACHINE_KINDS, "facing_head": ("no", "yes")}
_PATH_HINT = "The place that it stands in, then its own name: works / machine shop / big lathe."
NAMES = tuple(name for row in _ROWS for name, _ in row)


class MachineForm(Form):
    """The fields of a machine."""

    BINDINGS = [Binding("enter", "next", show=False)]  # from a choice; a line to type in says it itself
    DEFAULT_CSS = "MachineForm > Grid > .wide { column-span: 2; }"

    def __init__(self) -> None:
        super().__init__(first="speeds")
        self._put: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        """Lay out the rows and the hint."""
        with Grid():
            for row in _ROWS:
                for name, label in row:
                    words = _WORDS.get(name)
                    field = Field(name, label, Choice(words) if words else TextLine())
                    yield field.add_class("wide") if len(row) == 1 else field
        yield AnswerLine(id="hint")

    # -- values ----------------------------------------------------------------------------------------

    def changed(self) -> dict[str, str]:
        """Give the fields that differ from what was put in, but for the path."""
        return {
            name: value
            for name, value in self.values().items()
            if name != PATH and value.strip() != self._put.get(name, "").strip()
        }

    def put(self, path: str, values: Mapping[str, str], *, new: bool) -> None:
        """Fill in a machine.

        Args:
            path: where it stands, its own name behind; of a new one what is known of it.
            values: field -> text.
            new: its path can be typed.
        """
        for name, entry in self._fields():
            entry.put(path if name == PATH else values.get(name, ""))
            if name == PATH:
                entry.disabled = not new
        self._put = {} if new else {**self.values(), **values}

    # -- moving ----------------------------------------------------------------------------------------

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Say what the field takes."""
        self._left = str(event.widget.id)
        hint = _PATH_HINT if self._left == PATH else FIELDS[self._left].hint
        self.query_one("#hint", AnswerLine).say(hint + " Empty: not recorded." * (self._left in _EMPTY))

    def action_row(self, by: int) -> None:
        """Go to the field straight above or below."""
        at, side = next(
            (at, side)
            for at, row in enumerate(_ROWS)
            for side, (name, _) in enumerate(row)
            if name == self._left
        )
        if 0 <= at + by < len(_ROWS):
            row = _ROWS[at + by]
            name = row[min(side, len(row) - 1)][0]
            if not self.query_one(f"#{name}").disabled:
                self.go(name)

    def action_next(self) -> None:
        """Go to the next field."""
        self.screen.focus_next()


_EMPTY = frozenset(NAMES) - {PATH, "kind", "facing_head", "note"}
