"""Set-ups: what is kept by name, what was measured at each point, measuring one, and where it rings."""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, NamedTuple

from crib.errors import InputError
from crib.tui.screens.base import bindings
from crib.tui.screens.book import BookScreen, DoingScreen
from crib.tui.widgets.plain_form import Entry
from crib.tui.widgets.row_list import RowList
from crib.tui.widgets.text_page import Line, TextPanel
from crib.tui.wording import Column, column_widths, in_columns, sentence, shown, wrapped
from crib.units import Kind, show

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.ringing.setups import KeptSetup, SetupPoint, Setups

NEXT = "m measures the marked point again, n another one; c tells where it chatters."
MEASURED = ("force", "deflection", "frequency", "decay", "wav")
COLUMNS = (
    Column(title="Set-up", least=14, most=24, share=2),
    Column(title="Point", least=12, most=24, share=2),
    Column(title="Stiffness", least=11, most=14),
    Column(title="Rings at", least=8, most=10),
    Column(title="Damping", least=7, most=9),
    Column(title="Gives", least=8, most=20, share=1, rank=1),
)


class PointRow(NamedTuple):
    """One point of a set-up; None for a set-up at which nothing was measured yet."""

    setup: "KeptSetup"
    point: "SetupPoint | None"
    units: str

    @property
    def asked(self) -> str:
        """What is typed for it."""
        return f"{self.setup.name}:{self.point.name}" if self.point and self.point.name else self.setup.name


class PointPainter:
    """Draws a point of a set-up as one line."""

    lines = 1

    def header(self, width: int) -> str:
        """Give the headings of the columns."""
        return in_columns([column.title for column in COLUMNS], column_widths(COLUMNS, width))

    def paint(self, row: PointRow, width: int) -> Sequence[str]:
        """Give the line of one point."""
        setup, point, units = row
        if point is None:
            cells = (setup.name, "nothing measured", "–", "–", "–", "–")
        else:
            cells = (
                setup.name,
                point.name or "–",
                show(point.k_N_mm, Kind.STIFFNESS, units, both=False) if point.k_N_mm else "–",
                f"{point.frequency_hz:.4g} Hz" if point.frequency_hz else "–",
                f"{100 * point.damping_ratio:.2g} %" if point.damping_ratio else "–",
                point.gives or "–",
            )
        return [in_columns(cells, column_widths(COLUMNS, width))]


class SetupsScreen(BookScreen):
    """The kept set-ups, point by point."""

    AREA = "setups"
    TITLE_HERE = "Machines"
    BINDINGS = bindings("setups")
    DEFAULT_CSS = "SetupsScreen #point { border-top: dashed $foreground 40%; height: 9; }"

    def __init__(self) -> None:
        super().__init__()
        self._told: Done | None = None

    def body(self) -> Iterator[Any]:
        """Lay out the list and the marked point in words."""
        yield RowList(PointPainter(), id="points", empty="No set-up is kept; n measures one.")
        yield TextPanel(id="point")

    @property
    def row(self) -> PointRow | None:
        """The marked point."""
        marked: PointRow | None = self.query_one("#points", RowList).marked
        return marked

    def on_mount(self) -> None:
        """Put the keyboard into the list; coming here asks."""
        self.focus_body()

    def on_screen_resume(self) -> None:
        """Ask anew: something may have been measured."""
        address = self.crib.address

        def ask() -> "Setups":
            from crib.desk.ringing.setups import setups

            return setups(address)

        self.call("read", ask, self._show)

    def focus_body(self) -> None:
        """Give the keyboard to the list."""
        self.query_one("#points").focus()

    def _show(self, found: "Setups") -> None:
        rows = [
            PointRow(setup, point, found.units) for setup in found.setups for point in setup.points or (None,)
        ]
        before, listed = self.row, self.query_one("#points", RowList)
        listed.show_rows(rows)
        if before is not None:
            listed.mark(next((at for at, row in enumerate(rows) if row.asked == before.asked), 0))
        if self._told is not None:
            self.say(self._told.verdict, self._told.detail, NEXT)
            self._told = None
            return
        many = len(found.setups)
        self.say(
            f"{many} set-up{'s' * (many != 1)} kept." if many else "No set-up is kept.",
            "Pick takes one by its name, at the point that rings first, or NAME:point.",
            NEXT if rows else "n: push it, tap it, and give it a name.",
        )

    def on_row_list_marked(self) -> None:
        """Say the marked point in words."""
        self.query_one("#point", TextPanel).show_lines(partial(point_lines, self.row))
        self.refresh_keys()

    def on_row_list_opened(self) -> None:
        """Tell where a point chatters that was clicked again."""
        self.action_chatter()

    def can(self, name: str) -> bool:
        """Offer only what the marked row allows."""
        return self.row is not None if name in ("measure", "chatter") else super().can(name)

    def action_measure(self) -> None:
        """Open the form of a measurement for the marked point."""
        if (row := self.row) is not None:
            gives = row.point.gives if row.point else None
            self.app.push_screen(MeasureScreen({"name": row.asked, "gives": gives or ""}, self._measured))

    def action_new(self) -> None:
        """Open the form of a measurement, empty."""
        self.app.push_screen(MeasureScreen(None, self._measured))

    def _measured(self, done: "Done") -> None:
        self._told = done

    def action_chatter(self) -> None:
        """Open the form of a cut on the marked point."""
        from crib.tui.screens.chatter import ChatterScreen

        if (row := self.row) is not None:
            self.app.push_screen(ChatterScreen(row.asked, row.setup.machine or ""))


class MeasureScreen(DoingScreen):
    """The form of a measurement."""

    AREA = "measure"
    TITLE_HERE = "Machines"
    BINDINGS = bindings("measure")
    ASKS = "What was measured, and where?"
    FIELDS = (
        Entry(
            name="name",
            label="Set-up",
            hint="Name, and the point behind a colon: tall bracket:top of bore.",
        ),
        Entry(
            name="gives",
            label="Gives",
            hint="away, along, along the spindle, down, away and down; empty: as before.",
        ),
        Entry(name="force", label="Pushed with", hint='Force, or several as taken: "100 200 300 N".'),
        Entry(name="deflection", label="Read", hint='What the indicator read: "12 25 37 um", "2 thou".'),
        Entry(
            name="frequency",
            label="Rings at",
            hint="Pitch after a tap; of a recording the one meant.",
        ),
        Entry(
            name="decay",
            label="Dies away",
            hint='"10 to 4 in 5 cycles", "8 dB in 5", "T60 1.2 s", "90 to 95 Hz", "3 %".',
        ),
        Entry(
            name="wav",
            label="Recording",
            hint="Path of a WAV file of taps: tells pitch and damping.",
        ),
        Entry(name="how", label="How", hint="With what it was measured; may stay empty."),
    )
    NEEDED = ("name",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Keep what was measured."""
        from crib.desk.doings.doing import Done
        from crib.desk.ringing.measure import MeasureRequest
        from crib.desk.ringing.setups import measure_setup

        if not any(values[name].strip() for name in MEASURED):
            raise InputError("nothing was measured", "fill in a push, a tap or a recording")
        request = MeasureRequest(
            force=(values["force"],) if values["force"].strip() else (),
            deflection=(values["deflection"],) if values["deflection"].strip() else (),
            frequency=values["frequency"],
            decay=values["decay"],
            wav=values["wav"].strip(),
        )
        kept = measure_setup(
            self.crib.address, values["name"], request, gives=values["gives"], how=values["how"], add=True
        )
        notes = kept.measured.notes
        mind = f" {sentence(notes[0])}" if notes else ""
        return Done(
            act="",  # an older measurement stays on record: there is nothing to take back
            verdict=f"Kept, {kept.setup.name}: {kept.measured.verdict}",
            detail=kept.measured.detail + mind,
            undo="",
            items=(),
        )


def point_lines(row: PointRow | None, width: int) -> list[Line]:
    """Lay out everything on record of a point."""
    if row is None:
        return []
    setup, point, units = row
    where = f", on the {setup.machine}" if setup.machine else ""
    lines = [Line(f"{row.asked}{where}", strong=True)]
    told = [setup.note or ""]
    if point is not None:
        bears = shown(point.allowed_N_mm, "stiffness", units)
        partly = " (partly by assumed figures)" * point.partly_assumed
        told += [point.said, ", ".join(point.band)]
        told += [f"At any speed it bears a cut as stiff as {bears}{partly}.", _measured(point)]
    for text in filter(None, told):
        lines += [Line(part) for part in wrapped(text, width)]
    return lines


def _measured(point: "SetupPoint") -> str:
    by = f" by {point.by}" if point.by else ""
    how = f": {point.how}" if point.how else ""
    times = f", {point.times} times in all" if point.times > 1 else ""
    return f"Measured {point.at[:10]}{by}{how}{times}."
