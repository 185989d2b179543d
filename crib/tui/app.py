"""The app: screens over one desk, and where a question leads."""

import sys
from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, cast

from textual.app import App

from crib.errors import InputError
from crib.tui.asked import Cut, code_asked, may_be_cut, read_cut, read_doing
from crib.tui.books import book_of
from crib.tui.calls import Desk, StoreDesk
from crib.tui.keeping import Draft, folder_of, save_report
from crib.tui.screens.find import FindScreen
from crib.tui.wording import clean
from crib.units.spoken import figures

if TYPE_CHECKING:
    from textual.screen import Screen

    from crib.tui.screens.base import DeskScreen
    from crib.tui.screens.decode import DecodeScreen
    from crib.tui.screens.machines import MachinesScreen
    from crib.tui.screens.pick import PickScreen

DRAFT_NAME = "crib-cut-draft.json"


class CribApp(App[None]):
    """The terminal UI on one store.

    Args:
        address: a file, or postgresql://…
        note: said in the first line of every screen, for example "demo workshop – a private copy".
        desk: answers the screens; by default the desk's own functions on that store.
    """

    TITLE = "crib"
    CSS_PATH = Path(__file__).with_name("style.tcss")
    ENABLE_COMMAND_PALETTE = False
    DEFAULT_MODE = "find"

    def __init__(self, address: str, note: str = "", desk: Desk | None = None) -> None:
        super().__init__()
        self.address = address
        self.note = note
        self.desk: Desk = desk or StoreDesk(address)
        self.draft = Draft(folder_of(address) / DRAFT_NAME)
        self.question = ""
        self.units = "metric"
        self.written = False  # something was, since the list of tools was read
        self.animation_level = "none"  # a bench terminal may hang on a slow line
        self._screens: dict[str, DeskScreen] = {}
        for area in ("find", "decode", "pick", "machines", "books"):
            self.add_mode(area, partial(self._screen_for, area))

    def _screen_for(self, area: str) -> "Screen[None]":
        if area == "find":
            self._screens[area] = FindScreen()
        elif area == "decode":
            from crib.tui.screens.decode import DecodeScreen  # not needed for the first paint

            self._screens[area] = DecodeScreen()
        elif area == "machines":
            from crib.tui.screens.machines import MachinesScreen  # not needed for the first paint

            self._screens[area] = MachinesScreen()
        elif area == "books":
            from crib.tui.screens.books import BooksScreen  # not needed for the first paint

            self._screens[area] = BooksScreen()
        else:
            from crib.tui.screens.pick import PickScreen  # not needed for the first paint

            self._screens[area] = PickScreen()
        return self._screens[area]

    # -- going from screen to screen -------------------------------------------------------------------

    async def go_to(self, area: str) -> "DeskScreen":
        """Open one of the screens of the first line as it was left, and give it."""
        await self.switch_mode(area)
        return self._screens[area]

    async def to_books(self) -> None:
        """Open the list of books; a form that is left keeps what was typed until it is opened again."""
        from crib.tui.screens.base import DeskScreen
        from crib.tui.screens.book import DoingScreen

        await self.go_to("books")
        while len(self.screen_stack) > 1 and isinstance(top := self.screen, DeskScreen) and top.is_settled:
            if isinstance(top, DoingScreen):
                top.keep()
            self.pop_screen()

    async def lead(self, question: str, asked_on: "DeskScreen") -> None:
        """Take a question where it leads: a doing to its form, a cut to Pick, a code to Decode, or Find.

        What only the books answer leads on from Find, which knows the words for it.
        """
        question = question.lstrip(" /")  # the key that leads here, typed once too often
        self.question = question
        question = figures(question)
        if (done := read_doing(question)) is not None:
            await self.fill_in(*done)
        elif (cut := read_cut(question)) is not None and not cut.unused and "machine" not in cut.fields:
            await self.pick(cut)
        elif may_be_cut(question):
            # "on the pump liner" may be a kept set-up as well as a machine
            asked_on.call("lead", self._setups, partial(self._lead_on, question, asked_on))
        else:
            await self._lead_on(question, asked_on, ())

    def _setups(self) -> Sequence[str]:
        """Give the names of the kept set-ups: one of them may be what a cut is about."""
        return self.desk.choices().setups

    async def _lead_on(self, question: str, asked_on: "DeskScreen", setups: Sequence[str]) -> None:
        if (cut := read_cut(question, setups)) is not None:
            await self.pick(cut)
        elif (code := code_asked(question)) is not None:
            asked_on.call(
                "lead",
                lambda: self._reads(code),
                lambda reads: self.decode(code) if reads else self.find(question),
            )
        else:
            await self.find(question)

    def _reads(self, text: str) -> bool:
        """Tell whether text reads as a code."""
        try:
            self.desk.decode(text)
        except InputError:
            return False
        return True

    async def find(self, question: str) -> None:
        """Ask Find."""
        screen = await self.go_to("find")
        for _ in self.screen_stack[1:]:
            # a tool's page or help stands before the list; it may be the one that asks: no waiting
            self.pop_screen()
        cast("FindScreen", screen).take(question)

    async def fill_in(self, form: str, given: Mapping[str, str]) -> None:
        """Open the form of a doing with what was said of it; nothing is recorded before its keys say so."""
        from crib.tui.screens.give_back import GiveBackScreen
        from crib.tui.screens.lend import LendScreen

        await self.to_books()
        self.push_screen(LendScreen(given) if form == "lend" else GiveBackScreen(given))

    async def open_book(self, command: str) -> bool:
        """Open the book that answers a question.

        Args:
            command: what the command line calls it, with the tag of the tool that is asked about.

        Returns:
            Whether the screens have it.
        """
        name, _, tag = command.partition(" ")
        if name in ("mine", "worth"):
            from crib.tui.screens.worth import WorthScreen

            if tag:
                self.push_screen(WorthScreen(tag))
            return bool(tag)
        if command == "list leaving":
            from crib.tui.screens.lists import WhoLeavesScreen

            await self.to_books()
            self.push_screen(WhoLeavesScreen())
            return True
        if (book := book_of(command)) is None:
            return False
        await self.to_books()
        self.push_screen(book.open())
        return True

    async def decode(self, code: str) -> None:
        """Read a code on the Decode screen."""
        screen = await self.go_to("decode")
        cast("DecodeScreen", screen).take(code)

    async def pick(self, cut: Cut) -> None:
        """Fill in a cut on the Pick screen."""
        screen = await self.go_to("pick")
        cast("PickScreen", screen).take(cut)

    async def start_pick(self, hand: str | None) -> None:
        """Open the form of a cut with a tool's hand."""
        screen = await self.go_to("pick")
        cast("PickScreen", screen).start(hand)

    def show_help(self, area: str) -> None:
        """Show every action with its keys."""
        from crib.tui.screens.help import HelpScreen  # not needed for the first paint

        self.push_screen(HelpScreen(area))

    async def action_quit(self) -> None:
        """Leave; a cut that was being typed is kept."""
        if "pick" in self._screens:
            self.draft.save(cast("PickScreen", self._screens["pick"]).form.values())
        if "machines" in self._screens:
            cast("MachinesScreen", self._screens["machines"]).keep()
        self.exit()

    # -- faults ----------------------------------------------------------------------------------------

    def show_trouble(self, error: Exception) -> None:
        """Show a fault that a question ran into; the screens stay as they are."""
        from crib.tui.screens.trouble import TroubleScreen  # not needed for the first paint

        self.push_screen(TroubleScreen(error))

    def _print_error_renderables(self) -> None:
        """After a fault in the screens themselves: say what happened and save the report, no traceback."""
        if not self._exit_renderables:
            return
        self._exit_renderables.clear()
        error = self._exception or RuntimeError("unknown")
        lines = [
            "crib: something went wrong inside crib; the fault is ours, not yours.",
            "      What was confirmed before is kept; nothing was half written.",
        ]
        try:
            lines.append(f"      The report is in {clean(save_report(error, self.address))}")
        except OSError as failure:
            lines.append(f"      The report could not be saved: {clean(failure)}")
        sys.stderr.write("\n".join(lines) + "\n")
