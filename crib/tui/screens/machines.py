"""Machines: what have we got, and entering a machine's chart once."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.containers import Vertical
from textual.timer import Timer
from textual.widgets import ContentSwitcher, Input

from crib.errors import CribError
from crib.tui.keeping import Draft, folder_of
from crib.tui.screens.base import bindings
from crib.tui.screens.confirm import ConfirmScreen
from crib.tui.screens.views import ViewsScreen
from crib.tui.widgets.machine_form import PATH, MachineForm
from crib.tui.widgets.row_list import RowList
from crib.tui.widgets.text_page import Line, TextPage
from crib.tui.wording import Column, column_widths, fitted, in_columns, wrapped

if TYPE_CHECKING:
    from crib.desk.starting.machines import Machine, Machines, Saved

DRAFT_NAME = "crib-machine-draft.json"
DRAFT_PAUSE_s = 0.5
LIST, FORM = "fleet", "form"
LABEL_WIDTH = 24
NEXT = "Enter changes the marked machine's chart; n enters a new machine."
SAVE_HINT = "Ctrl+S saves, Esc leaves it as it was."
COLUMNS = (
    Column(title="Machine", least=12, most=24, share=2),
    Column(title="Kind", least=11, most=11, rank=2),
    Column(title="Speeds", least=22, most=40),
    Column(title="Feeds", least=8, most=12, rank=1),
    Column(title="Power", least=9, most=20, rank=3),
)


class MachinePainter:
    """Draws a machine as one line."""

    lines = 1

    def header(self, width: int) -> str:
        """Give the headings of the columns."""
        return in_columns([column.title for column in COLUMNS], column_widths(COLUMNS, width))

    def paint(self, row: "Machine", width: int) -> Sequence[str]:
        """Give the line of one machine."""
        feeds = str(len(row.feeds_mm)) if row.feeds_mm else "–"
        cells = (row.name, row.kind, speeds(row), feeds, row.typed["power"] or "–")
        return [in_columns(cells, column_widths(COLUMNS, width))]


def speeds(row: "Machine") -> str:
    """Say in short which speeds a machine has."""
    if row.speeds_rev_min:
        return f"{len(row.speeds_rev_min)}: {row.speeds_rev_min[0]:g} to {row.speeds_rev_min[-1]:g}"
    if row.speed_low_rev_min is None or row.speed_high_rev_min is None:
        return "not recorded"
    return f"{row.speed_low_rev_min:g} to {row.speed_high_rev_min:g}, stepless"


class MachinesScreen(ViewsScreen):
    """The machines on record, and the form of one."""

    AREA = "machines"
    TITLE_HERE = "Machines"
    BINDINGS = bindings("machines")
    TAKES_KEYS = {LIST: "#machines", FORM: "#form"}
    DEFAULT_CSS = """
    MachinesScreen #machines { height: 1fr; }
    MachinesScreen #plate { height: 2fr; border-top: dashed $foreground 40%; padding: 0 1; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._machines: Machines | None = None
        self._editing: str | None = None  # path of the machine in the form; empty for a new one
        self._pause: Timer | None = None

    def body(self) -> Iterator[Any]:
        """Lay out the list with the marked machine below, and the form that takes their place."""
        with ContentSwitcher(initial=LIST, id="views"):
            with Vertical(id=LIST):
                yield RowList(MachinePainter(), id="machines", empty="No machine is on record; n enters one.")
                yield TextPage(id="plate")
            yield MachineForm()

    def on_mount(self) -> None:
        """Fetch the machines, and what was typed before a crash."""
        self.draft = Draft(folder_of(self.crib.address) / DRAFT_NAME)
        self.focus_body()
        self.call("machines", self.crib.desk.machines, self._first)

    def on_screen_resume(self) -> None:
        """Fetch the machines again where there was no store yet."""
        if self.is_mounted and self.is_settled and self._machines is None:
            self.call("machines", self.crib.desk.machines, self._first)

    def _first(self, found: "Machines") -> None:
        self._show(found)
        if kept := self.draft.load():
            path = kept.pop("editing", "")
            known = next((one for one in found.machines if one.path == path), None)
            self._open(known)
            self.form.type_over(kept)
            self.say("This chart was not saved yet.", "It is as it was typed; Esc leaves it.", SAVE_HINT)

    def _show(self, found: "Machines", marked: str = "") -> None:
        self._machines = found
        rows = self.query_one("#machines", RowList)
        rows.show_rows(found.machines)
        rows.mark(next((at for at, one in enumerate(found.machines) if one.path == marked), 0))
        if not marked:
            many = len(found.machines)
            self.say(
                f"{many} machine{'s' * (many != 1)} on record." if many else "No machine is on record.",
                "A chart is entered once; Pick and speeds then take the steps that the machine has.",
                NEXT,
            )

    # -- views -----------------------------------------------------------------------------------------

    @property
    def form(self) -> MachineForm:
        """The fields of a machine."""
        return self.query_one(MachineForm)

    @property
    def machine(self) -> "Machine | None":
        """The marked machine."""
        marked: Machine | None = self.query_one("#machines", RowList).marked
        return marked

    def can(self, name: str) -> bool:
        """Offer only what the view allows."""
        view = self.view
        match name:
            case "save":
                return view == FORM
            case "own" | "setups":
                return view == LIST
            case "new":
                return view == LIST and self._machines is not None
            case "edit":
                return view == LIST and self.machine is not None
            case _:
                return super().can(name)

    def on_row_list_marked(self) -> None:
        """Show the marked machine in full."""
        self.query_one("#plate", TextPage).show_lines(partial(plate_lines, self.machine))
        self.refresh_keys()

    def on_row_list_opened(self) -> None:
        """Edit a machine that was clicked again."""
        self.action_edit()

    def step_back(self) -> None:
        """Out of the Ask line, then from the form to the list; asks before typed changes are dropped."""
        if self.query_one("#ask").has_focus or self.view == LIST:
            self.focus_body()
        elif self._typed():
            self.app.push_screen(
                ConfirmScreen("Leave without saving?", "What was typed here is lost."), self._leave
            )
        else:
            self._leave(True)

    def _leave(self, yes: bool | None) -> None:
        if yes:
            self._close()
            self.say("Left as it was.", "Nothing was written.", NEXT)

    def _close(self) -> None:
        if self._pause is not None:
            self._pause.stop()
        self._editing = None
        self.draft.save({})
        self.turn_to(LIST)

    # -- the form --------------------------------------------------------------------------------------

    def action_edit(self) -> None:
        """Open the marked machine's chart."""
        if (machine := self.machine) is not None:
            self._open(machine)
            what = ", ".join(machine.not_recorded)
            self.say(
                f"{machine.name}: what is on its plate and chart?",
                f"Not recorded: {what}." if what else "Everything is recorded.",
                SAVE_HINT,
            )

    def action_own(self) -> None:
        """Open the shop's own proven speeds."""
        from crib.tui.screens.proven import ProvenScreen  # only who asks pays for it

        self.app.push_screen(ProvenScreen())

    def action_setups(self) -> None:
        """Open the kept set-ups."""
        from crib.tui.screens.setups import SetupsScreen  # most who look at machines go no further

        self.app.push_screen(SetupsScreen())

    def action_new(self) -> None:
        """Open an empty form."""
        self._open(None)
        self.say(
            "A new machine: where does it stand, and what is on its plate and chart?",
            "Path and kind are needed; what is left empty counts as not recorded.",
            SAVE_HINT,
        )

    def _open(self, machine: "Machine | None") -> None:
        self._editing = machine.path if machine else ""
        if machine:
            self.form.put(machine.path, machine.typed, new=False)
        else:
            places = self._machines.places if self._machines else ()
            self.form.put(f"{places[-1]} / " if places else "", {}, new=True)
        self.turn_to(FORM, focus=False)
        self.form.go("speeds" if machine else PATH)

    def _typed(self) -> dict[str, str]:
        """Give what is in the form and not on record."""
        typed = self.form.changed()
        if not self._editing:  # of a new machine the choices tell nothing until something is typed
            typed = {name: value for name, value in typed.items() if name not in ("kind", "facing_head")}
        return typed

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter goes on to the next field."""
        if event.input.id != "ask":
            event.stop()
            self.focus_next()

    def action_save(self) -> None:
        """Write what was changed."""
        changes, path, new = self.form.changed(), self.form.values()[PATH], not self._editing
        if not new and not changes:
            self.say("Nothing was changed.", "What stands here is on record already.", SAVE_HINT)
            return
        desk, name = self.crib.desk, self._editing or path
        self.call(
            "save_machine", lambda: desk.save_machine(name, changes, new=new), self._saved, self._not_saved
        )

    def _saved(self, saved: "Saved") -> None:
        self._close()
        what = ", ".join(one.field for one in saved.changed) or "nothing was different"
        missing = ", ".join(saved.machine.not_recorded)
        self.say(
            f"{'Added' if saved.added else 'Saved'}: {saved.machine.name}: {what}.",
            f"Not recorded: {missing}." if missing else "Everything is recorded.",
            NEXT,
        )
        self.call("machines", self.crib.desk.machines, partial(self._show, marked=saved.machine.path))

    def _not_saved(self, error: CribError) -> None:
        """Say what is wrong and put the keyboard into that field; everything typed stays."""
        self.say_error(error, SAVE_HINT)
        where = str(error.details.get("field", ""))
        if not where and not self._editing:
            where = PATH
        if where in self.form.values():
            self.form.go(where)

    def on_form_changed(self) -> None:
        """Keep a draft of what is typed, so that a crash loses nothing."""
        if self._pause is not None:
            self._pause.stop()
        self._pause = self.set_timer(DRAFT_PAUSE_s, self.keep)

    def keep(self) -> None:
        """Write the draft now, if there is anything to keep."""
        if self._editing is not None and self._typed():
            kept = {**self.form.changed(), PATH: self.form.values()[PATH], "editing": self._editing}
            self.draft.save(kept)


def plate_lines(machine: "Machine | None", width: int) -> list[Line]:
    """Lay out everything on record of a machine, and what is not."""
    if machine is None:
        return []
    lines = [Line(machine.path, strong=True)]
    told = (*machine.fields, *((label, "not recorded") for label in machine.not_recorded))
    for label, value in told:
        lines += [Line(text) for text in wrapped(value, width, mark=fitted(label, LABEL_WIDTH))]
    return lines
