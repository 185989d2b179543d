"""Decode: what does the code on this box mean?"""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.containers import Horizontal, Vertical
from textual.events import Resize
from textual.timer import Timer
from textual.widgets import ContentSwitcher, Input, Static

from crib.errors import CribError
from crib.tui.screens.base import bindings
from crib.tui.screens.item import ItemScreen
from crib.tui.screens.items import ItemActions, ItemPainter, item_panel, next_step
from crib.tui.screens.views import ViewsScreen
from crib.tui.widgets.drawing import DrawingView
from crib.tui.widgets.lines import TextLine
from crib.tui.widgets.row_list import RowList
from crib.tui.widgets.text_page import Line, TextPage, TextPanel
from crib.tui.wording import clean, fitted, sentence, shown_length, wrapped

if TYPE_CHECKING:
    from crib.desk.asking.ask import Found, FoundItem
    from crib.desk.doings.doing import Done
    from crib.trade.designation.reading import PositionReading, Reading
    from crib.trade.designation.sketch import Sketch

PAUSE_s = 0.12  # between two letters typed by hand: reading waits for the end of a burst
CERTAIN = "certain"
LENGTHS = (
    ("IC_mm", "inscribed circle"),
    ("L_mm", "cutting edge"),
    ("S_mm", "thickness"),
    ("RE_mm", "nose radius"),
    ("DCON_mm", "shank diameter"),
    ("H_mm", "shank height"),
    ("B_mm", "shank width"),
    ("LF_mm", "length"),
)
ANGLES = (("EPSR_deg", "corner angle"), ("AN_deg", "clearance"), ("KAPR_deg", "entering angle"))
POSITION_WIDTH, FOUND_WIDTH, LEAST_MEANING, NAME_WIDTH = 4, 8, 30, 18
WIDTH_TO_DRAW, LEAST_DRAWING = 76, 28  # columns of the screen from which on there is room for a drawing


class DecodeScreen(ViewsScreen, ItemActions):
    """A code, read as it is typed, and what goes with it."""

    AREA = "decode"
    TITLE_HERE = "Decode"
    BINDINGS = bindings("decode")
    TAKES_KEYS = {"reading": "#page", "partners": "#fitting"}

    def __init__(self) -> None:
        super().__init__()
        self._pause: Timer | None = None
        self._asked = ""
        self._reading: Reading | None = None
        self._sketch: Sketch | None = None

    def body(self) -> Iterator[Any]:
        """Lay out the code, and below it either its reading or what goes with it."""
        with Horizontal(id="codeline"):
            yield Static("Code [", markup=False)
            yield TextLine(id="code")
            yield Static("]", markup=False)
        with ContentSwitcher(initial="reading", id="views"):
            with Horizontal(id="reading"):
                yield TextPage(id="page")
                yield DrawingView(id="drawing")
            with Vertical(id="partners"):
                yield RowList(ItemPainter(), id="fitting")
                yield TextPanel(id="words")

    def on_mount(self) -> None:
        """Wait for a code."""
        self._say_nothing_typed()
        self.set_focus(self.code)

    @property
    def code(self) -> TextLine:
        """The entry line for the code."""
        return self.query_one("#code", TextLine)

    # -- reading ---------------------------------------------------------------------------------------

    def take(self, code: str) -> None:
        """Read a code that came from elsewhere."""
        self.code.put(code)
        self._read_now()
        self.turn_to("reading")

    def on_input_changed(self, event: Input.Changed) -> None:
        """Read what is typed, as soon as the keys rest."""
        if event.input is not self.code:
            return
        if self._pause is not None:
            self._pause.stop()
        if self.code.value.strip() != self._asked:  # else it came from elsewhere and is being read
            self._pause = self.set_timer(PAUSE_s, self._read_now)

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Read the code and give the keyboard to the reading."""
        if event.input is self.code:
            event.stop()
            self._read_now()
            self.turn_to("reading")

    def _read_now(self) -> None:
        if self._pause is not None:
            self._pause.stop()
            self._pause = None
        self.turn_to("reading", focus=False)
        self._asked = text = self.code.value.strip()
        if text:
            desk = self.crib.desk
            self.call("decode", lambda: drawn(desk.decode(text)), self._show, self._no_code)
        else:
            self._waiting.pop("decode", None)
            self._say_nothing_typed()

    def _forget(self) -> None:
        self._reading = self._sketch = None
        self.query_one("#drawing", DrawingView).show(None)

    def _say_nothing_typed(self) -> None:
        self._forget()
        self.say(
            "Type the code from the box or the shank.",
            "Blanks, dashes and small letters don't matter; inch or metric.",
            "",
        )
        self.query_one("#page", TextPage).show_lines(lambda _width: ())

    def _show(self, read: "tuple[Reading, Sketch]") -> None:
        self._reading, self._sketch = reading, sketch = read
        self.say(verdict(reading), how_sure(reading), "F5 shows what is on hand that goes with it.")
        self.query_one("#page", TextPage).show_lines(
            lambda width: reading_lines(reading, width, self.crib.units, sketch.notes)
        )
        self.query_one("#drawing", DrawingView).show(sketch)

    def on_resize(self, event: Resize) -> None:
        """Give the drawing its share, and nothing where the words need all the room."""
        drawing = self.query_one("#drawing", DrawingView)
        drawing.display = event.size.width >= WIDTH_TO_DRAW
        drawing.styles.width = max(LEAST_DRAWING, event.size.width // 3)

    def _no_code(self, error: CribError) -> None:
        self._forget()
        self.say_error(error, "Correct the code, or ask Find for a part of it.")
        expected = getattr(error, "expected", ())
        self.query_one("#page", TextPage).show_lines(partial(expected_lines, expected))

    # -- what goes with it -----------------------------------------------------------------------------

    def can(self, name: str) -> bool:
        """Offer only what the view allows."""
        match name:
            case "fitting":
                return self._reading is not None and self.view == "reading"
            case "open":
                return self.view == "partners" and self.item() is not None
            case _:
                return super().can(name)

    def action_fitting(self) -> None:
        """Look up what goes with the code."""
        if self._reading is not None:
            desk, code = self.crib.desk, self._reading.designation
            self.call("fitting", lambda: desk.fitting(code), self._show_fitting)

    def _show_fitting(self, found: "Found") -> None:
        self.say(found.verdict, found.detail, next_step(found))
        rows = [*found.items, *found.elsewhere]
        self.query_one("#fitting", RowList).show_rows(rows)
        self.turn_to("partners")

    def item(self) -> "FoundItem | None":
        """Give the marked tool among those that go with the code."""
        if self.view != "partners":
            return None
        marked: FoundItem | None = self.query_one("#fitting", RowList).marked
        return marked

    def on_row_list_marked(self) -> None:
        """Say the marked tool in words."""
        self.query_one("#words", TextPanel).show_lines(
            partial(item_panel, self.query_one("#fitting", RowList).marked)
        )
        self.refresh_keys()

    def on_row_list_opened(self) -> None:
        """Open a tool that was clicked again."""
        self.action_open()

    def action_open(self) -> None:
        """Show everything on record about the marked tool."""
        if (item := self.item()) is not None:
            self.app.push_screen(ItemScreen(item))

    def recorded(self, done: "Done") -> None:
        """Say what was recorded."""
        self.say(done.verdict, done.detail)

    def action_edit(self) -> None:
        """Put the cursor back into the code."""
        self.code.focus()

    def step_back(self) -> None:
        """From what goes with it to the reading, from there to the code, from the code to the reading."""
        if self.view == "partners" and not self.typing():
            self.turn_to("reading", focus=False)
            if self._reading is not None and self._sketch is not None:
                self._show((self._reading, self._sketch))
            self.focus_body()
        elif self.typing():
            self.focus_body()
        else:
            self.code.focus()


def drawn(reading: "Reading") -> "tuple[Reading, Sketch]":
    """Give a reading with its drawing; called where the code was read, outside the screen's own thread."""
    from crib.desk.asking.sketches import sketch

    return reading, sketch(reading)


def verdict(reading: "Reading") -> str:
    """Say in one line what a code is."""
    other = "metric" if reading.system == "inch" else "inch"
    twin = f" {other.capitalize()} code: {reading.equivalent}." if reading.equivalent else ""
    kind = {"insert": "Insert", "holder": "Holder", "bar": "Boring bar"}.get(reading.kind, reading.kind)
    return clean(f"{kind} {reading.designation}, {reading.system} code.{twin}")


def how_sure(reading: "Reading") -> str:
    """Say how much of a code is certain."""
    doubtful = [place for place in reading.positions if place.mark != CERTAIN]
    read = len(reading.positions)
    if not doubtful:
        return f"All {read} positions are certain."
    told = "; ".join(f"position {place.position} ({place.found}) {place.mark}" for place in doubtful)
    return sentence(f"{read - len(doubtful)} of {read} positions are certain; {told}")


def reading_lines(
    reading: "Reading", width: int, system: str, drawing_notes: Sequence[str] = ()
) -> list[Line]:
    """Lay out a reading for a width: positions, sizes in both systems, notes."""
    lines = position_lines(reading.positions, width)
    lines.append(Line(""))
    for name, value in sizes(reading, system):
        lines += [Line(text) for text in wrapped(value, width, mark=fitted(name, NAME_WIDTH))]
    for note in reading.notes:
        lines += [Line(text) for text in wrapped(note, width, mark="Note: ")]
    for note in drawing_notes:
        lines += [Line(text) for text in wrapped(note, width, mark="Drawing: ")]
    return lines


def position_lines(positions: "Sequence[PositionReading]", width: int) -> list[Line]:
    """Lay out what each position means; in little room only doubts are told, behind the meaning."""
    mark_width = max((len(place.mark) for place in positions), default=0) + 1
    room = width - POSITION_WIDTH - FOUND_WIDTH - mark_width
    beside = room >= LEAST_MEANING
    room = room if beside else max(width - POSITION_WIDTH - FOUND_WIDTH, 1)
    titles = [fitted("Pos", POSITION_WIDTH), fitted("Found", FOUND_WIDTH), fitted("Meaning", room)]
    lines = [Line("".join([*titles, "How sure"] if beside else titles), strong=True)]
    for place in positions:
        left = fitted(place.position, POSITION_WIDTH) + fitted(place.found, FOUND_WIDTH)
        doubt = "" if beside or place.mark == CERTAIN else f" [{place.mark}]"
        first, *rest = wrapped(place.meaning + doubt, room - 1) or [""]
        lines.append(Line(left + fitted(first, room) + (place.mark if beside else "")))
        lines += [Line(" " * len(left) + text) for text in rest]
    return lines


def sizes(reading: "Reading", system: str) -> list[tuple[str, str]]:
    """Give the sizes and angles that a code settles, in words and in both systems."""
    known: list[tuple[str, str]] = []
    if seat := getattr(reading, "insert_seat", None):
        known.append(("takes", seat))
    for field, name in LENGTHS:
        if (value := getattr(reading, field, None)) is not None:
            known.append((name, shown_length(value, system)))
    for field, name in ANGLES:
        if (value := getattr(reading, field, None)) is not None:
            known.append((name, f"{value:g}°"))
    if reading.maker_suffix:
        known.append(("maker's own symbol", reading.maker_suffix))
    return known


def expected_lines(expected: Sequence[str], width: int) -> list[Line]:
    """Say what may stand at the position that could not be read."""
    if not expected:
        return []
    told = wrapped(", ".join(str(entry) for entry in expected), width)
    return [Line("May stand there:", strong=True), *(Line(text) for text in told)]
