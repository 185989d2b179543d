"""What the books' screens share: a page that opens on the Books list, and a form that records one doing."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from textual.timer import Timer
from textual.widgets import Input

from crib.errors import CribError
from crib.tui.keeping import Draft, folder_of
from crib.tui.screens.undoing import Undoing
from crib.tui.widgets.plain_form import Entry, PlainForm

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done

DRAFT_PAUSE_s = 0.5
AGAIN = "Ctrl+Z takes it back; the form is ready for the next one."
SAVE_HINT = "Enter goes on, and records from the last field; Esc leaves."
What = Entry(name="tags", label="What", hint="Tag, mark or words for it; several with commas: H04, M13.")


class BookScreen(Undoing):
    """A book: opened from the list of books, or from a tool; Esc goes back there."""

    TITLE_HERE = "Books"

    def step_back(self) -> None:
        """Leave the Ask line, then the book."""
        if self.query_one("#ask").has_focus:
            self.focus_body()
        else:
            self.dismiss()


class DoingScreen(BookScreen):
    """A form whose fields are recorded as one doing; what is typed is kept until it is.

    Attributes:
        ASKS: what stands in the first line: the question that the form answers.
        FIELDS: the entries from top to bottom.
        NEEDED: names of entries that can't stay empty.
        HINT: what Enter and Esc do.

    Args:
        given: entry -> what is known beforehand, for example the marked tool's tag.
        then: takes what was recorded, on the screen from which this one was opened; this one is left then.
    """

    ASKS: ClassVar[str] = ""
    FIELDS: ClassVar[Sequence[Entry]] = ()
    NEEDED: ClassVar[Sequence[str]] = ()
    HINT: ClassVar[str] = SAVE_HINT

    def __init__(
        self, given: Mapping[str, str] | None = None, then: "Callable[[Done], None] | None" = None
    ) -> None:
        super().__init__()
        self.given = dict(given or {})
        self.then = then
        self._pause: Timer | None = None

    # -- what a doing has of its own -------------------------------------------------------------------

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record what was typed; runs in a thread, imports what it needs itself."""
        raise NotImplementedError

    def usual(self) -> Mapping[str, str]:
        """Give what stands in entries until it is typed over."""
        return {}

    # -- layout and drafts -----------------------------------------------------------------------------

    def body(self) -> Iterator[Any]:
        """Lay out the form."""
        yield PlainForm(self.FIELDS)

    @property
    def form(self) -> PlainForm:
        """The fields."""
        return self.query_one(PlainForm)

    def on_mount(self) -> None:
        """Fill in what is known, and what was typed before a crash."""
        self.draft = Draft(folder_of(self.crib.address) / f"crib-{self.AREA}-draft.json")
        kept = self.draft.load()
        self.form.put({**self.usual(), **self.given})
        if kept and not self.given:
            self.form.type_over(kept)
        self.say(
            self.ASKS, "This was typed before and not recorded." if kept and not self.given else "", self.HINT
        )
        self.form.go(self.first_entry())

    def first_entry(self) -> str:
        """Give the entry in which typing begins: the first that is empty."""
        values = self.form.values()
        return next((e.name for e in self.FIELDS if not values[e.name]), self.FIELDS[0].name)

    def focus_body(self) -> None:
        """Give the keyboard to the form."""
        self.form.focus_again()

    def on_form_changed(self) -> None:
        """Keep a draft of what is typed, so that a crash loses nothing."""
        if self._pause is not None:
            self._pause.stop()
        self._pause = self.set_timer(DRAFT_PAUSE_s, self.keep)

    def keep(self) -> None:
        """Write the draft now."""
        self.draft.save(self.form.typed())

    def step_back(self) -> None:
        """Leave the Ask line, then the form; what was typed and not recorded is dropped with it."""
        if not self.query_one("#ask").has_focus:
            self._drop_draft()
        super().step_back()

    def _drop_draft(self) -> None:
        if self._pause is not None:
            self._pause.stop()
        self.draft.save({})

    # -- recording -------------------------------------------------------------------------------------

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter goes on to the next field, and records from the last one.

        Textual itself calls the same handler of DeskScreen, which takes the Ask line.
        """
        if event.input.id != "ask":
            event.stop()
            self.form.action_next()

    def on_plain_form_finished(self) -> None:
        """Record from the last field, or go to one that is needed and empty."""
        values = self.form.values()
        for entry in self.FIELDS:
            if entry.name in self.NEEDED and not values[entry.name].strip():
                self.say(f"! {entry.label} is missing.", entry.hint)
                self.form.go(entry.name)
                return
        self.action_save()

    def action_save(self) -> None:
        """Record what was typed."""
        values = self.form.values()
        self.call("write", lambda: self.write(values), self._written, self.not_written)

    def _written(self, done: "Done") -> None:
        self._drop_draft()
        if self.then is not None:
            self.leave(partial(self.then, done))
        else:
            self.form.put(self.usual())
            self.form.go(self.FIELDS[0].name)
            self.wrote(done)

    def recorded(self, done: "Done") -> None:
        """Say what was recorded; the form is ready for the next one."""
        self.say(done.verdict, done.detail, AGAIN if self.act else self.HINT)

    def not_written(self, error: CribError) -> None:
        """Say what is wrong; everything typed stays."""
        self.say_error(error, self.HINT)
