"""Take stock in: one code after another, typed or scanned; the reading is seen at once, Enter keeps it."""

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from textual.timer import Timer

from crib.errors import CribError
from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.widgets.plain_form import Entry, PlainForm
from crib.tui.widgets.text_page import Line, TextPanel
from crib.tui.wording import sentence, wrapped

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.intake.drawer import Drawer
    from crib.desk.intake.drawer import Line as Taken
    from crib.desk.intake.take_in import Understood

READING_PAUSE_s = 0.15  # a scanner sends a code in less: it is read once, whole
KEPT_SHOWN = 8
WORDS = ("+", "-")
NEXT = "Enter keeps it. + Enter: the last one again. Ctrl+Z takes it back. Esc leaves."


class TakeInScreen(DoingScreen):
    """Where, whose, and a line for codes that stays under the keyboard; below, what was kept."""

    AREA = "take_in"
    BINDINGS = bindings("take_in")
    DEFAULT_CSS = """
    TakeInScreen PlainForm { height: 6; }
    TakeInScreen #kept { height: 1fr; border-top: dashed $foreground 40%; }
    """
    ASKS = "Type or scan a code."
    FIELDS = (
        Entry(name="at", label="Where", hint="The drawer or place; empty: the site you are at."),
        Entry(name="owner", label="Whose", hint="A name or a mark on record; empty: yours."),
        Entry(
            name="code",
            label="Code",
            hint='CNMG 120408 x10 new grade="tough"; no code: kind=spare label="shim" x6.',
        ),
    )
    NEEDED = ("code",)

    def __init__(self, given: Mapping[str, str] | None = None) -> None:
        super().__init__(given)
        self.kept: list[str] = []
        self._lines: list[Mapping[str, str]] = []  # a scanner is quicker than a disk
        self._taking: Mapping[str, str] | None = None
        self._drawer: Drawer | None = None
        self._reading: Timer | None = None
        self._read_last: tuple[str, ...] = ()

    def body(self) -> Iterator[Any]:
        """Lay out the form and what was kept."""
        yield PlainForm(self.FIELDS)
        yield TextPanel(id="kept")

    def on_mount(self) -> None:
        """Show that nothing is kept yet."""
        self._show_kept()

    def first_entry(self) -> str:
        """Begin with the code: where and whose have a usual value."""
        return "code"

    # -- the reading, while it is typed ----------------------------------------------------------------

    def on_form_changed(self) -> None:
        """Read the line shortly after the last sign of it."""
        if self._reading is not None:
            self._reading.stop()
        self._reading = self.set_timer(READING_PAUSE_s, self._read)

    def _read(self) -> None:
        address, values = self.crib.address, self.form.values()
        code = values["code"].strip()
        if not code or code in WORDS or tuple(values.values()) == self._read_last:
            return
        self._read_last = tuple(values.values())

        def read() -> "Understood":
            from crib.desk.intake.take_in import understand

            return understand(address, code, owner=values["owner"], at=values["at"])

        self.call("read", read, self._understood, self._not_read)

    def _understood(self, line: "Understood") -> None:
        if self.form.values()["code"].strip():
            self.say(line.says, line.also, NEXT)

    def _not_read(self, error: CribError) -> None:
        """Say what is not read yet, quietly: more may be typed."""
        if self.form.values()["code"].strip():
            self.say("Not read yet: " + sentence(error.message), error.hint, NEXT)

    # -- keeping ---------------------------------------------------------------------------------------

    def action_save(self) -> None:
        """Keep the line, or do what it says; the next one may be typed or scanned at once."""
        values = self.form.values()
        self._lines.append(values)
        self._read_last = ()
        self.form.put({**values, "code": ""})
        self.form.go("code")
        self._take_next()

    def action_undo(self) -> None:
        """Take back what was kept last; again, the one before it."""
        self._lines.append({**self.form.values(), "code": "-"})
        self._take_next()

    def _take_next(self) -> None:
        """Take the lines in the order in which they came, one at a time."""
        if self._taking is not None or not self._lines:
            return
        self._taking = values = self._lines.pop(0)
        address = self.crib.address

        def take() -> "Taken":
            from crib.desk.intake.drawer import Drawer

            if self._drawer is None:
                self._drawer = Drawer(address)
            self._drawer.at, self._drawer.owner = values["at"].strip(), values["owner"].strip()
            return self._drawer.take(values["code"])

        self.call("write", take, self._taken, self._not_taken)

    def _taken(self, line: "Taken") -> None:
        typed, self._taking = self.form.values(), None
        self._drop_draft()
        if line.added is not None:
            self.kept.insert(0, line.says)
            self.wrote(line.added.done)
        elif line.taken_back is not None:
            self.kept.pop(0)
            self.recorded(line.taken_back)
        else:
            assert self._drawer is not None
            self.form.put({**typed, "at": self._drawer.at, "owner": self._drawer.owner})
            self.say(line.says, "", NEXT)
        self.refresh_keys()
        self._show_kept()
        self._take_next()

    def _not_taken(self, error: CribError) -> None:
        """Say what is wrong; the line stands there again, unless another was begun."""
        values, self._taking = self._taking, None
        typed = self.form.values()
        if values is not None and not typed["code"] and values["code"] not in WORDS:
            self.form.put({**typed, "code": values["code"]})
            self._read_last = tuple(self.form.values().values())  # it was read: the refusal stays in sight
        self.say_error(error, NEXT)
        self._take_next()

    def can(self, name: str) -> bool:
        """Offer undo while something that was kept here stands."""
        return bool(self._drawer and self._drawer.kept) if name == "undo" else super().can(name)

    def recorded(self, done: "Done") -> None:
        """Say what was kept, or taken back."""
        self.say(done.verdict, done.detail, NEXT)

    def _show_kept(self) -> None:
        told, more = self.kept[:KEPT_SHOWN], len(self.kept) - KEPT_SHOWN

        def lines(width: int) -> list[Line]:
            found = [Line(f"Kept: {len(self.kept)}", strong=True)]
            for text in told:
                found += [Line(part) for part in wrapped(text, width, indent="     ")]
            return found + ([Line(f"and {more} before these")] if more > 0 else [])

        self.query_one("#kept", TextPanel).show_lines(lines)
