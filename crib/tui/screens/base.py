"""What every screen has: title, Ask line, answer above, next step and keys below; and asking the desk."""

from collections.abc import Awaitable, Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.screen import Screen
from textual.widgets import Input

from crib.errors import CribError, StoreMissing
from crib.tui.actions import EVERYWHERE, Action, actions_of
from crib.tui.messages import Answered, Broke, Refused
from crib.tui.widgets.lines import AnswerLine, AskLine, KeyLine, TextLine, TitleLine
from crib.tui.wording import sentence

if TYPE_CHECKING:
    from crib.tui.app import CribApp

T = TypeVar("T")
# number of the question, what takes its answer, what takes an error
_Waiting = tuple[int, Callable[[Any], Awaitable[None] | None], Callable[[CribError], None]]
READS = ("find", "show", "fitting", "pick", "why", "read")  # questions that say so while they take their time
WRITES = ("bring_in", "save_machine", "write")
BEGIN_HINT = "F2, Find, begins one; Backups, on the Books screen, puts one back"
PATIENCE_s = 0.2  # a quick answer comes without a flicker of "Looking…"


def bindings(where: str) -> list[BindingType]:
    """Give the keys of a screen from the list of actions."""
    return [
        # a change of screen is over before the next key is looked at: what is typed ahead lands there
        Binding(
            ",".join(action.keys), action.name, action.label, show=False, priority=not action.in_bottom_line
        )
        for action in actions_of(where, EVERYWHERE)
    ]


def _writes(slot: str) -> bool:
    return slot.split()[0] in WRITES


class DeskScreen(Screen[None]):
    """A screen that asks the desk and shows the answer.

    Attributes:
        AREA: its name in the list of actions.
        TITLE_HERE: the tab that is marked as open.
    """

    AREA: ClassVar[str] = ""
    TITLE_HERE: ClassVar[str] = ""
    AUTO_FOCUS = ""  # each screen says where the keyboard goes

    def __init__(self) -> None:
        super().__init__()
        self._number = 0
        self._waiting: dict[str, _Waiting] = {}
        self._leaving: Callable[[], None] | None = None

    @property
    def crib(self) -> "CribApp":
        """The app, by its own type."""
        return cast("CribApp", self.app)

    # -- layout ----------------------------------------------------------------------------------------

    def compose(self) -> ComposeResult:
        """Lay out the fixed lines around the screen's own body."""
        yield TitleLine(self._areas(), self.TITLE_HERE, self.crib.note)
        yield AskLine()
        yield AnswerLine(id="verdict")
        yield AnswerLine(id="why")
        with Container(id="body"):
            yield from self.body()
        yield AnswerLine(id="next")
        yield KeyLine(self.offered, self.typing)

    def body(self) -> Iterator[Any]:
        """Lay out what stands between answer and next step."""
        yield from ()

    def _areas(self) -> Sequence[Action]:
        return [action for action in actions_of(EVERYWHERE) if not action.in_bottom_line]

    def say(self, verdict: str, why: str = "", next_step: str | None = None) -> None:
        """Show an answer: the answer itself, how sure and why, and what to do next (None leaves it)."""
        self.query_one("#verdict", AnswerLine).say(verdict)
        self.query_one("#why", AnswerLine).say(why)
        if next_step is not None:
            self.query_one("#next", AnswerLine).say(next_step)

    def say_error(self, error: CribError, next_step: str | None = None) -> None:
        """Show in the answer lines what was wrong and what would be right."""
        hint = BEGIN_HINT if isinstance(error, StoreMissing) else error.hint
        self.say("! " + sentence(error.message), sentence(hint), next_step)

    # -- keys ------------------------------------------------------------------------------------------

    def can(self, name: str) -> bool:
        """Tell whether an action can be done now; screens narrow it."""
        return True

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Let keys and clicks do only what can be done now."""
        return self.can(action)

    def offered(self) -> Sequence[Action]:
        """Give what the bottom line shows; help comes last and always has room."""
        shown = [a for a in actions_of(self.AREA, EVERYWHERE) if a.in_bottom_line and self.can(a.name)]
        return [a for a in shown if a.name != "help"] + [a for a in shown if a.name == "help"]

    def typing(self) -> bool:
        """Tell whether letters go into an entry line."""
        return isinstance(self.focused, Input)

    def refresh_keys(self) -> None:
        """Draw the bottom line anew after something changed what can be done."""
        for line in self.query(KeyLine):
            line.refresh()

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Show the keys that work where the keyboard now goes."""
        self.refresh_keys()

    def leave(self, then: Callable[[], None] = lambda: None) -> None:
        """Close this screen; where another was opened before it meanwhile, as soon as it comes back.

        Args:
            then: called when it is closed.
        """
        if self.app.screen is self:
            self.dismiss()
            then()
        else:
            self._leaving = then

    def on_screen_resume(self) -> None:
        """Close if that was put off; show the question last asked, wherever it was asked."""
        if self._leaving is not None:
            then, self._leaving = self._leaving, None
            self.leave(then)
            return
        for line in self.query("#ask").results(TextLine):
            if not line.has_focus:
                line.put(self.crib.question)

    # -- asking the desk -------------------------------------------------------------------------------

    def call(
        self,
        slot: str,
        function: Callable[[], T],
        answered: Callable[[T], Awaitable[None] | None],
        refused: Callable[[CribError], None] | None = None,
    ) -> None:
        """Ask the desk in a thread; only the answer to the latest question of a slot is taken.

        Args:
            slot: a name for this sort of question.
            function: one desk function with its arguments.
            answered: takes the answer, in the screen's own thread.
            refused: takes an error; by default it is shown in the answer lines.
        """
        self._number += 1
        self._waiting[slot] = (self._number, answered, refused or self.say_error)
        self.set_timer(PATIENCE_s, partial(self._say_looking, slot, self._number))
        self.run_worker(partial(self._work, slot, self._number, function), thread=True, group=slot, name=slot)

    def _work(self, slot: str, number: int, function: Callable[[], object]) -> None:
        try:
            answer = function()
        except CribError as error:
            self.post_message(Refused(slot, number, error))
        except Exception as error:  # a fault of ours: the screen stays, the user gets a report to hand on
            self.post_message(Broke(slot, number, error))
        else:
            self.post_message(Answered(slot, number, answer))

    def _say_looking(self, slot: str, number: int) -> None:
        if not self._is_latest(slot, number):
            return
        if slot in READS:
            self.say("Looking …", "Esc stops waiting.")
        elif _writes(slot):
            self.say("Writing …")

    def stop_waiting(self) -> bool:
        """Drop every answer still to come; tell whether there was one. Writing goes on."""
        reading = [slot for slot in self._waiting if not _writes(slot)]
        for slot in reading:
            del self._waiting[slot]
        return any(slot in READS for slot in reading)

    @property
    def is_settled(self) -> bool:
        """Tell whether every question has its answer."""
        return not self._waiting

    def _is_latest(self, slot: str, number: int) -> bool:
        return slot in self._waiting and self._waiting[slot][0] == number

    async def on_answered(self, message: Answered) -> None:
        """Hand the answer to whoever asked, unless it is stale."""
        if self._is_latest(message.slot, message.number):
            _, answered, _ = self._waiting.pop(message.slot)
            self.crib.written = self.crib.written or _writes(message.slot)
            if (going_on := answered(message.answer)) is not None:
                await going_on
            self.refresh_keys()

    def on_refused(self, message: Refused) -> None:
        """Hand an error to whoever asked, unless it is stale."""
        if self._is_latest(message.slot, message.number):
            _, _, refused = self._waiting.pop(message.slot)
            refused(message.error)
            self.refresh_keys()

    def on_broke(self, message: Broke) -> None:
        """Show what nobody foresaw on a screen of its own."""
        if self._is_latest(message.slot, message.number):
            self._waiting.pop(message.slot)
            self.say("! Something went wrong inside crib.", sentence(type(message.error).__name__))
            self.crib.show_trouble(message.error)

    # -- what every screen does ------------------------------------------------------------------------

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take a question to where it leads."""
        if event.input.id == "ask":
            event.stop()
            await self.crib.lead(event.value, self)

    def action_ask(self) -> None:
        """Put the cursor into the Ask line."""
        line = self.query_one("#ask", TextLine)
        line.focus()
        line.select_all()  # typing starts a new question, a cursor key keeps the old one

    def action_back(self) -> None:
        """Go one step back."""
        if self.stop_waiting():
            self.say("Stopped waiting.", "Nothing was changed on this screen.")
        else:
            self.step_back()

    def step_back(self) -> None:
        """Leave the entry line for the list; screens add their own steps."""
        self.focus_body()

    def focus_body(self) -> None:
        """Give the keyboard to the screen's own part."""

    async def action_go(self, area: str) -> None:
        """Open one of the screens of the first line; from a book, Books is the list of them."""
        if area == self.app.current_mode == "books":
            await self.crib.to_books()
        else:
            await self.crib.go_to(area)

    def action_help(self) -> None:
        """Show every action with its keys."""
        self.crib.show_help(self.AREA)

    async def action_quit(self) -> None:
        """Leave."""
        await self.app.action_quit()
