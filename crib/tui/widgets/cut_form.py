"""The form of a cut: what is asked of Pick, field by field, all as typed."""

from collections.abc import Mapping, Sequence

from textual import events
from textual.app import ComposeResult
from textual.containers import Grid
from textual.widgets import Input

from crib.tui.widgets.form import Choice, Field, Form
from crib.tui.widgets.lines import AnswerLine, TextLine

ANY_HAND = "any"
NONE = "none"
SKINS = ("scale", "sand", "flame cut", "weld")
NO, YES = "no", "yes"

# name, label, words to choose from (none: a line to type in), hint; two fields a row
_Spec = tuple[str, str, tuple[str, ...], str]
_ROWS: tuple[tuple[_Spec, ...], ...] = (
    (
        ("op", "Cut", ("turn", "face", "bore"), "Space changes it, or t, f, b."),
        ("hand", "Hand", (ANY_HAND, "right", "left"), "The hand that the cut needs; any lets both stand."),
    ),
    (
        (
            "material",
            "Material",
            (),
            "What the shop calls it, or with its hardness: 4140 at 300 HB.",
        ),
        ("machine", "Machine", (), "Gives the speeds, the power and the reach."),
    ),
    (
        ("from_", "From", (), 'The size now, for example 16 in, 406,4 mm, 16.375".'),
        ("to", "To", (), "The size wanted, for example 16 3/8 or 415.925 mm."),
    ),
    (
        ("length", "Length", (), "How long the cut is, for example 9 in."),
        ("diameter", "Diameter", (), "The work's diameter, where From and To don't say it."),
    ),
    (
        (
            "depth",
            "Depth a side",
            (),
            'Of a pass, at most; or "1/16 on diameter at a time".',
        ),
        ("feed", "Feed", (), "Feed a turn, for example 0.2 mm/rev; empty lets crib choose."),
    ),
    (
        (
            "skin",
            "Skin",
            (NONE, *SKINS),
            "What the first cut meets: scale, sand skin, flame-cut edge, weld.",
        ),
        ("interrupted", "Interrupted", (NO, YES), "Slots, holes or a lump that knocks every turn."),
    ),
    (
        ("setup", "Set-up", (), "How it stands; or fill the next four fields from a push and a tap test."),
        ("stiffness", "Stiffness", (), "From a push test, for example 5 kN/mm."),
    ),
    (
        ("frequency", "Frequency", (), "From a tap test, for example 80 Hz."),
        ("damping", "Damping", (), "From a tap test, for example 3 %."),
    ),
    (
        ("gives", "Gives", (), "The way the work moves when pushed, seen from the tool."),
        ("overhang", "Tool out", (), "How far it stands out; empty: a bar as far as the bore is long."),
    ),
    (
        ("machine_rate", "Time costs", (), "Machine and machinist, 60 EUR/h. With the next two: what pays."),
        ("edge_cost", "Edge costs", (), "The insert over its edges, or a regrind: 2.40 EUR."),
    ),
    (
        ("change_time", "Edge change", (), "To change an edge and set it to size again: 3 min."),
        ("handling", "Handling", (), "To load, measure and unload one piece: 10 min."),
    ),
    (("site", "Site", (), "Where you are; empty means your own site."),),
)
NAMES = tuple(spec[0] for row in _ROWS for spec in row)
LABELS = {spec[0]: spec[1] for row in _ROWS for spec in row}
NEEDED = ("material", "from_", "to")  # a pick can't do without
COSTS = ("machine_rate", "edge_cost", "change_time", "handling")
_HINTS = {spec[0]: spec[3] for row in _ROWS for spec in row}
MOST_NAMES = 4  # of those on record, in the hint


class CutForm(Form):
    """The fields of a cut, two to a row; what a field takes stays in sight below them."""

    DEFAULT_CSS = "CutForm > AnswerLine { dock: bottom; margin: 0; }"

    def __init__(self) -> None:
        super().__init__(first="")
        self._known: dict[str, Sequence[str]] = {}

    def compose(self) -> ComposeResult:
        """Lay out the rows and the hint."""
        with Grid():
            yield from (_field(*spec) for row in _ROWS for spec in row)
        yield AnswerLine(id="hint")

    # -- values ----------------------------------------------------------------------------------------

    def values(self) -> dict[str, str]:
        """Give what stands in every field, as typed; empty for a choice that asks for nothing."""
        return {
            name: "" if entry.value in (ANY_HAND, NONE, NO) else entry.value for name, entry in self._fields()
        }

    def clear(self) -> None:
        """Empty every field."""
        self.type_over(dict.fromkeys(NAMES, ""))

    def focus_first_empty(self) -> None:
        """Go to the first field that a pick can't do without and that is still empty."""
        values = self.values()
        for name in NEEDED:
            if not values[name].strip():
                self.go(name)
                return
        self.go("material")

    def focus_again(self) -> None:
        """Go to the field that was left last."""
        if self._left:
            super().focus_again()
        else:
            self.focus_first_empty()

    def know(self, names: Mapping[str, Sequence[str]]) -> None:
        """Offer names on record for the fields that take them."""
        self._known = dict(names)
        self._say_hint()

    # -- moving ----------------------------------------------------------------------------------------

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Say what the field takes."""
        self._left = str(event.widget.id)
        self._say_hint()

    def _say_hint(self) -> None:
        """Say what the field takes, and which names on record hold what was typed so far."""
        if not self._left:
            return
        entry = dict(self._fields())[self._left]
        known = self._known.get(self._left, ())
        words = entry.value.lower().replace(":", " ").split()  # "pump liner:mouth" is "pump liner at mouth"
        matching = [name for name in known if all(word in name.lower() for word in words)]
        told = " None on record is called that." if known else ""
        if matching:
            more = f" and {len(matching) - MOST_NAMES} more" if len(matching) > MOST_NAMES else ""
            told = f" On record: {', '.join(matching[:MOST_NAMES])}{more}."
        if isinstance(entry, TextLine):
            entry.offer = matching[0] if matching and words else ""
            told += " → takes the first." if entry.offer and entry.offer != entry.value else ""
        self.query_one("#hint", AnswerLine).say(_HINTS[self._left] + told)

    def action_row(self, by: int) -> None:
        """Go to the field straight above or below."""
        entries = [entry for _, entry in self._fields()]
        at = next((index for index, entry in enumerate(entries) if entry.has_focus), None)
        if at is not None and 0 <= at + 2 * by < len(entries):
            entries[at + 2 * by].focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Say anew what the field takes; the form itself passes the change on."""
        self._say_hint()


def _field(name: str, label: str, words: tuple[str, ...], _hint: str) -> Field:
    return Field(name, label, Choice(words) if words else TextLine())
