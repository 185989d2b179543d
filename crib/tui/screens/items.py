"""What Find, Decode and the page of one tool share: rows of tools, and what can be done with one."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from crib.tui.screens.confirm import ConfirmScreen
from crib.tui.screens.undoing import Undoing
from crib.tui.widgets.text_page import Line
from crib.tui.wording import (
    Column,
    column_widths,
    end_of_path,
    hand_word,
    in_columns,
    in_words,
    named,
    state,
    what,
    wrapped,
)

if TYPE_CHECKING:
    from crib.desk.asking.ask import Found, FoundItem
    from crib.desk.doings.doing import Done

COLUMNS = (
    Column(title="Tag", least=6, most=10),
    Column(title="What it is", least=20, most=60, share=3),
    Column(title="Hand", least=7, most=7, rank=1),
    Column(title="Owner", least=9, most=26, rank=2),
    Column(title="Place", least=14, most=40, rank=3),
    Column(title="Now", least=14, most=30),
)


class ItemPainter:
    """Draws a tool as one line."""

    lines = 1

    def header(self, width: int) -> str:
        """Give the headings of the columns."""
        return in_columns([column.title for column in COLUMNS], column_widths(COLUMNS, width))

    def paint(self, row: "FoundItem", width: int) -> Sequence[str]:
        """Give the line of one tool."""
        widths = column_widths(COLUMNS, width)
        place = end_of_path(row.place, widths[4])
        return [in_columns((row.tag, what(row), hand_word(row.HAND), row.owner, place, state(row)), widths)]


def item_panel(item: "FoundItem | None", width: int) -> list[Line]:
    """Give everything a row knows about a tool, in at most four lines."""
    if item is None:
        return []
    first, *rest = in_words(item)
    return [
        *(Line(text, strong=True) for text in wrapped(first, width)[:1]),
        *[Line(text) for part in rest for text in wrapped(part, width)][:3],
    ]


_OF_ONE_TOOL = (
    *("open", "bring_in", "decode_item", "pick_for", "lend", "give_back", "take_home", "move", "use"),
    "labels",
)


class ItemActions(Undoing):
    """A screen on which one tool is marked."""

    def item(self) -> "FoundItem | None":
        """Give the marked tool."""
        raise NotImplementedError

    def can(self, name: str) -> bool:
        """Offer only what the marked tool allows."""
        item = self.item() if name in _OF_ONE_TOOL else None
        match name:
            case "open" | "pick_for":
                return item is not None
            case "lend" | "move":
                return item is not None and not item.held_by and item.quantity > 0
            case "use":
                return item is not None and not item.held_by and bool(item.edges_left)
            case "give_back":
                return item is not None and bool(item.held_by)
            case "take_home":
                return item is not None and item.on_site and item.is_own
            case "bring_in":
                return item is not None and not item.on_site and not item.held_by
            case "decode_item":
                return item is not None and bool(item.designation)
            case _:
                return super().can(name)

    def action_bring_in(self) -> None:
        """Ask whether to record the marked tool as brought in."""
        if (item := self.item()) is not None:
            where = item.place or item.site or "home"
            question = f"Bring {named(item)} in from {where}?"
            self.app.push_screen(
                ConfirmScreen(question, "Writes one line to the ledger."),
                lambda yes: self._bring_in(item, yes),
            )

    def _bring_in(self, item: "FoundItem", yes: bool | None) -> None:
        if not yes:
            self.say("Not brought in.", f"{named(item)} stays where it was.")
            return
        desk = self.crib.desk
        self.call("bring_in", lambda: desk.bring_in([item.tag]), self.wrote)

    def action_lend(self) -> None:
        """Ask to whom, and until when."""
        from crib.tui.screens.lend import LendScreen

        if (item := self.item()) is not None:
            self.app.push_screen(LendScreen({"tags": item.tag}, self.wrote))

    def action_move(self) -> None:
        """Ask where it lies now."""
        from crib.tui.screens.move import MoveScreen

        if (item := self.item()) is not None:
            self.app.push_screen(MoveScreen({"tags": item.tag}, self.wrote))

    def action_labels(self) -> None:
        """Ask on which sheet its label is to be printed."""
        from crib.tui.screens.labels import LabelsScreen

        if (item := self.item()) is not None:
            self.app.push_screen(LabelsScreen({"tags": item.tag}, self.wrote))

    def action_use(self) -> None:
        """Ask how many edges, and for what."""
        from crib.tui.screens.use import UseScreen

        if (item := self.item()) is not None:
            self.app.push_screen(UseScreen({"tag": item.tag, "edges": "1"}, self.wrote))

    def action_give_back(self) -> None:
        """Ask in which state it is back."""
        from crib.tui.screens.give_back import GiveBackScreen

        if (item := self.item()) is not None:
            self.app.push_screen(GiveBackScreen({"tags": item.tag}, self.wrote))

    def action_take_home(self) -> None:
        """Ask whether to record the marked tool as taken home."""
        if (item := self.item()) is not None:
            address, tag = self.crib.address, item.tag

            def write() -> "Done":
                from crib.desk.doings.bring_in import take_home

                return take_home(address, [tag])

            self.ask_first(f"Take {named(item)} home?", write, otherwise=f"{tag} stays here.")

    async def action_decode_item(self) -> None:
        """Read the marked tool's code on the Decode screen."""
        item = self.item()
        if item is not None and item.designation:
            await self.crib.decode(item.designation)

    async def action_pick_for(self) -> None:
        """Start a cut with the marked tool's hand."""
        if (item := self.item()) is not None:
            await self.crib.start_pick(item.HAND if item.kind in ("holder", "bar", "bit") else None)


def next_step(found: "Found") -> str:
    """Say what to do with an answer, in keys."""
    if found.items:
        return "Enter tells all about the marked tool."
    if any(not item.held_by for item in found.elsewhere):
        return "b records the marked tool as brought in, once it is here."
    if found.elsewhere:
        return "Enter tells who has the marked tool, and since when."
    return 'Ask with fewer words, or for any place: leave out "here".'
