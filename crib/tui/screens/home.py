"""Take home: what of mine is still in the building, to tick off and take."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.book import BookScreen
from crib.tui.screens.out import due
from crib.tui.widgets.row_list import Heading, RowList
from crib.tui.wording import Column, column_widths, end_of_path, in_columns, what

if TYPE_CHECKING:
    from crib.desk.asking.ask import FoundItem
    from crib.desk.doings.doing import Done
    from crib.desk.doings.out import Here

HOW = "x ticks the marked tool, a all of them; t takes home what is ticked."
COLUMNS = (
    Column(title="", least=3, most=3),
    Column(title="Tag", least=6, most=10),
    Column(title="What it is", least=22, most=60, share=3),
    Column(title="Pieces", least=6, most=6, rank=1),
    Column(title="Place", least=18, most=44, share=2),
    Column(title="Mind", least=11, most=20, rank=2),
)


class HomePainter:
    """Draws a tool of mine as one line with a box to tick.

    Args:
        ticked: tags that are ticked.
    """

    lines = 1

    def __init__(self, ticked: set[str]) -> None:
        self.ticked = ticked
        self.claimed: Sequence[str] = ()

    def header(self, width: int) -> str:
        """Give the headings of the columns."""
        return in_columns([column.title for column in COLUMNS], column_widths(COLUMNS, width))

    def paint(self, row: Any, width: int) -> Sequence[str]:
        """Give the line of one tool; what others have has no box."""
        widths = column_widths(COLUMNS, width)
        item: FoundItem = getattr(row, "item", row)
        box, place, mind = "", f"with {item.held_by}", due(row) if row is not item else ""
        if row is item:
            box = "[x]" if item.tag in self.ticked else "[ ]"
            place, mind = end_of_path(item.place, widths[4]), "on claim" if item.tag in self.claimed else ""
        return [in_columns((box, item.tag, what(item), item.quantity, place, mind), widths)]


class HomeScreen(BookScreen):
    """The list to tick on a Friday."""

    AREA = "home"
    BINDINGS = bindings("home")

    def __init__(self) -> None:
        super().__init__()
        self.ticked: set[str] = set()
        self._told: Done | None = None
        self._at = 0

    def body(self) -> Iterator[Any]:
        """Lay out the list."""
        yield RowList(HomePainter(self.ticked), id="mine", empty="Nothing of yours is here.")

    @property
    def rows(self) -> RowList:
        """The list."""
        return self.query_one("#mine", RowList)

    def on_mount(self) -> None:
        """Ask what is here."""
        self.focus_body()
        self._ask()

    def focus_body(self) -> None:
        """Give the keyboard to the list."""
        self.rows.focus()

    def _ask(self) -> None:
        address = self.crib.address

        def ask() -> "Here":
            from crib.desk.doings.out import still_here

            return still_here(address)

        self.call("read", ask, self._show)

    def _show(self, left: "Here") -> None:
        rows: list[object] = []
        groups = (("Could go home", left.free), ("At a machine", left.in_machines), ("With others", left.out))
        for heading, group in groups:
            if group:
                rows += [Heading(heading), *group]
        painter: HomePainter = self.rows.painter  # type: ignore[assignment]
        painter.claimed = left.on_claim
        self.ticked &= {item.tag for item in (*left.free, *left.in_machines)}
        self.rows.show_rows(rows)
        self.rows.mark(self._at)
        if self._told is not None:
            self.say(self._told.verdict, self._told.detail, "Ctrl+Z takes it back.")
            self._told = None
        else:
            self.say(
                left.verdict,
                left.detail,
                HOW,
            )

    @property
    def marked(self) -> "FoundItem | None":
        """The marked tool, if it can be ticked."""
        row = self.rows.marked if self.is_mounted else None
        return None if row is None or isinstance(row, Heading) or hasattr(row, "item") else row

    def can(self, name: str) -> bool:
        """Offer only what the list allows."""
        match name:
            case "tick":
                return self.marked is not None
            case "take_home":
                return bool(self.ticked)
            case _:
                return super().can(name)

    def on_row_list_marked(self) -> None:
        """Offer what the marked row allows."""
        self.refresh_keys()

    def on_row_list_opened(self) -> None:
        """Tick a tool that was clicked again."""
        self.action_tick()

    def action_tick(self) -> None:
        """Tick the marked tool, or take its tick away, and go on to the next."""
        if (item := self.marked) is not None:
            self.ticked ^= {item.tag}
            self.rows.action_move(1)
            self.rows.refresh()
            self._say_ticked()

    def action_tick_all(self) -> None:
        """Tick all that could go home, or none if all are ticked."""
        rows = (self.rows._row(at) for at in range(self.rows.count))
        tags = {row.tag for row in rows if hasattr(row, "tag")}
        self.ticked ^= tags if self.ticked >= tags else tags - self.ticked
        self.rows.refresh()
        self._say_ticked()

    def _say_ticked(self) -> None:
        many = len(self.ticked)
        self.say(f"{many} ticked." if many else "Nothing is ticked.", "", None)
        self.refresh_keys()

    def action_take_home(self) -> None:
        """Record what is ticked as taken home."""
        address, tags = self.crib.address, sorted(self.ticked)

        def write() -> "Done":
            from crib.desk.doings.bring_in import take_home

            return take_home(address, tags)

        self._at = self.rows.cursor
        self.ask_first(f"Take {len(tags)} home: {', '.join(tags)}?", write)

    def recorded(self, done: "Done") -> None:
        """Show what was recorded, and what is here now."""
        self.ticked.clear()
        self._told = done
        self._ask()
