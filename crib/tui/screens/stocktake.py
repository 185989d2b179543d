"""Stocktake: a place counted against the books, one row after the other."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from textual import events
from textual.containers import Vertical
from textual.widgets import ContentSwitcher, Input

from crib.errors import CribError
from crib.tui.screens.base import bindings
from crib.tui.screens.book import BookScreen
from crib.tui.widgets.form import Field
from crib.tui.widgets.lines import TextLine
from crib.tui.widgets.row_list import RowList
from crib.tui.wording import Column, column_widths, end_of_path, in_columns, what

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.doings.stocktake import Count, CountLine

WHERE, LIST = "where", "list"
COLUMNS = (
    Column(title="Tag", least=6, most=10),
    Column(title="What it is", least=20, most=60, share=3),
    Column(title="Place", least=12, most=30, rank=2),
    Column(title="Books", least=12, most=14),
    Column(title="Counted", least=14, most=16),
)
BEGIN = "Enter begins, or goes on."
HOW = 'Type pieces, or pieces and edges ("9 36"); = is as in the books; a tag goes to its row. Ctrl+S closes.'


class CountPainter:
    """Draws an item of a count as one line."""

    lines = 1

    def header(self, width: int) -> str:
        """Give the headings of the columns."""
        return in_columns([column.title for column in COLUMNS], column_widths(COLUMNS, width))

    def paint(self, row: "CountLine", width: int) -> Sequence[str]:
        """Give the line of one item."""
        widths, item = column_widths(COLUMNS, width), row.item
        mark = "! " if row.differs else ""
        counted = "" if row.pieces is None else mark + figures(row.pieces, row.edges)
        place = f"with {item.held_by}" if item.held_by else end_of_path(item.place, widths[2])
        cells = (item.tag, what(item), place, figures(item.quantity, item.edges_left), counted)
        return [in_columns(cells, widths)]


def figures(pieces: int, edges: int | None) -> str:
    """Give pieces and edges in short."""
    return f"{pieces}" if edges is None else f"{pieces}, {edges} ed."


class StocktakeScreen(BookScreen):
    """The count of a place."""

    AREA = "stocktake"
    BINDINGS = bindings("stocktake")

    def __init__(self) -> None:
        super().__init__()
        self.count: Count | None = None

    def body(self) -> Iterator[Any]:
        """Lay out the question for the place, and the list that takes its stead."""
        with ContentSwitcher(initial=WHERE, id="views"):
            with Vertical(id=WHERE):
                yield Field("place", "Place", TextLine())
            with Vertical(id=LIST):
                yield RowList(CountPainter(), id="lines", empty="Nothing is on record there.")
                yield Field("counted", "Counted", TextLine())

    def on_mount(self) -> None:
        """Go on with the count that is under way, if there is one."""
        self.focus_body()
        address = self.crib.address

        def ask() -> "tuple[tuple[str, str], ...]":
            from crib.desk.doings.stocktake import open_counts

            return open_counts(address)

        self.call("read", ask, self._first)

    def _first(self, under_way: "tuple[tuple[str, str], ...]") -> None:
        if len(under_way) == 1:
            self._begin(under_way[0][0])
            return
        told = "; ".join(f"{place}, begun {day}" for place, day in under_way)
        self.say(
            "Which place is to be counted?",
            f"Under way: {told}." if told else "",
            BEGIN,
        )

    @property
    def rows(self) -> RowList:
        """The list of items."""
        return self.query_one("#lines", RowList)

    @property
    def line(self) -> "CountLine | None":
        """The marked item."""
        marked: CountLine | None = self.rows.marked
        return marked

    def focus_body(self) -> None:
        """Give the keyboard to the line that is typed into."""
        self.query_one("#counted" if self.count else "#place").focus()

    def can(self, name: str) -> bool:
        """Offer to close and drop only while something is being counted."""
        return self.count is not None if name in ("save", "drop") else super().can(name)

    def on_key(self, event: events.Key) -> None:
        """Mark the row above or below while the keyboard is in the entry."""
        ways = {"up": -1, "down": 1}
        if self.count is not None and event.key in ways and not self.query_one("#ask").has_focus:
            event.stop()
            self.rows.action_move(ways[event.key])

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Begin at the typed place, or take what was counted."""
        if event.input.id == "ask":
            return  # Textual itself calls the same handler of DeskScreen, which takes it
        event.stop()
        if event.input.id == "place":
            self._begin(event.value)
        else:
            self._take(event.value.split())

    def _begin(self, place: str) -> None:
        address = self.crib.address

        def begin() -> "Count":
            from crib.desk.doings.stocktake import begin

            return begin(address, place)

        self.call("write", begin, self._show)

    def _take(self, typed: list[str]) -> None:
        """Take "9", "9 36", "=", a tag, or a tag and what was counted of it."""
        tag = self.line.item.tag if self.line else ""
        if typed and not (typed[0].isdigit() or typed[0] == "="):
            tag = typed.pop(0)
            if not typed:
                self._go_to(tag)
                return
        if tag and typed:
            self._enter(tag, typed)
        # at once, not with the answer: what is typed ahead is meant for the next row
        if (at := self._at(tag)) is not None:
            self.rows.mark(at + 1)
        self.query_one("#counted", TextLine).put("")

    def _go_to(self, tag: str) -> None:
        """Mark the row of a tag, typed or scanned; of one that is not listed ask how many."""
        at = self._at(tag)
        self.query_one("#counted", TextLine).put(f"{tag} " if at is None else "")
        if at is None:
            self.say(f"{tag} is not on record here.", "Found here? Type how many behind its tag.", HOW)
        else:
            self.rows.mark(at)
            self.say(f"{tag}: how many are there?", "", HOW)

    def _lines(self) -> "Sequence[CountLine]":
        return self.count.lines if self.count else ()

    def _at(self, tag: str) -> int | None:
        tags = [row.item.tag.lower() for row in self._lines()]
        return tags.index(tag.lower()) if tag.lower() in tags else None

    def _enter(self, tag: str, typed: list[str]) -> None:
        assert self.count is not None
        address, place, at = self.crib.address, self.count.place, self._at(tag)
        books = None if at is None else self._lines()[at].item

        def enter() -> "Count":
            from crib.desk.doings.stocktake import enter
            from crib.desk.typed import count_of

            if typed == ["="] and books is not None:
                return enter(address, tag, books.quantity, edges=books.edges_left, place=place)
            pieces, edges = count_of(typed[0], "pieces"), count_of(" ".join(typed[1:]), "edges")
            return enter(address, tag, pieces or 0, edges=edges, place=place)

        # each its own question: the answer to the next must not hide that this one was refused
        self.call(f"write {tag}", enter, self._show, partial(self._not_entered, tag, typed))

    def _not_entered(self, tag: str, typed: list[str], error: CribError) -> None:
        self.say_error(error, HOW)
        if (at := self._at(tag)) is not None:
            self.rows.mark(at)
        if not self.query_one("#counted", TextLine).value:
            self.query_one("#counted", TextLine).put(" ".join(typed if at is not None else (tag, *typed)))

    def _show(self, count: "Count") -> None:
        if self.count is not None and count.id == self.count.id and count.counted < self.count.counted:
            return  # the answer to an earlier question came late
        at = self.rows.cursor
        if self.count is None:
            at = next((at for at, row in enumerate(count.lines) if row.pieces is None), 0)
        self.count = count
        self.query_one("#views", ContentSwitcher).current = LIST
        self.rows.show_rows(count.lines)
        self.rows.mark(at)
        differ = f"{count.differing} differ" if count.differing else "none differs"
        self.say(
            f"{count.place}: {count.counted} of {len(count.lines)} counted, {differ}.",
            "Kept as it is typed; the books change only when it is closed.",
            HOW,
        )
        self.focus_body()
        self.refresh_keys()

    def action_save(self) -> None:
        """Ask, then write the differences."""
        if (count := self.count) is None:
            return
        address, left = self.crib.address, len(count.left)

        def write() -> "Done":
            from crib.desk.doings.stocktake import close

            return close(address, count.place)

        rest = f"; {left} not counted stay as they are" if left else ""
        self.ask_first(f"Close: {count.counted} counted, {count.differing} differ{rest}?", write)

    def action_drop(self) -> None:
        """Ask, then leave the count without changing anything."""
        if (count := self.count) is None:
            return
        address = self.crib.address

        def drop() -> str:
            from crib.desk.doings.stocktake import drop

            return drop(address, count.place)

        self.ask_first(f"Drop the count of {count.place}? The books stay as they are.", drop, self._dropped)

    def _dropped(self, place: str) -> None:
        self._leave()
        self.say(f"Dropped the count of {place}.", "The books are as they were.", BEGIN)

    def _leave(self) -> None:
        self.count = None
        self.query_one("#views", ContentSwitcher).current = WHERE
        self.query_one("#place", TextLine).put("")
        self.focus_body()
        self.refresh_keys()

    def recorded(self, done: "Done") -> None:
        """Show what was closed, or taken back."""
        self._leave()
        self.say(done.verdict, done.detail, "Ctrl+Z takes it back." if self.act else BEGIN)
