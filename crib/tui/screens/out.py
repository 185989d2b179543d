"""Out and lent: who has what, since when, what is overdue; marking it back."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.book import BookScreen
from crib.tui.widgets.row_list import Heading, RowList
from crib.tui.widgets.text_page import Line, TextPanel
from crib.tui.wording import Column, column_widths, in_columns, in_words, what, wrapped
from crib.units.counts import many

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.doings.out import Out, OutLine

GROUPS = ("all", "mine", "overdue")
HEADINGS = {"mine": "Mine, out", "theirs": "Others', with me", "others'": "Others', out"}
COLUMNS = (
    Column(title="Tag", least=6, most=10),
    Column(title="What it is", least=18, most=60, share=3),
    Column(title="With", least=14, most=26),
    Column(title="Since", least=10, most=10, rank=1),
    Column(title="Back by", least=12, most=24),
    Column(title="Owner", least=9, most=26, rank=2),
)


class OutPainter:
    """Draws a tool that is out as one line."""

    lines = 1

    def header(self, width: int) -> str:
        """Give the headings of the columns."""
        return in_columns([column.title for column in COLUMNS], column_widths(COLUMNS, width))

    def paint(self, row: "OutLine", width: int) -> Sequence[str]:
        """Give the line of one tool."""
        item = row.item
        cells = (item.tag, what(item), item.held_by, row.since, due(row), item.owner)
        return [in_columns(cells, column_widths(COLUMNS, width))]


def due(row: "OutLine") -> str:
    """Say when a tool is promised back, for how long it is overdue, or that whoever has it left the shop."""
    if row.overdue_days:
        return f"! {row.overdue_days} d late"
    if row.holder_gone_on:
        return "! has left"
    return row.due or "no day"


class OutScreen(BookScreen):
    """What is out, longest out first."""

    AREA = "out"
    BINDINGS = bindings("out")
    DEFAULT_CSS = "OutScreen #words { border-top: dashed $foreground 40%; max-height: 6; }"

    def __init__(self) -> None:
        super().__init__()
        self.group = "all"
        self._told: Done | None = None

    def body(self) -> Iterator[Any]:
        """Lay out the list and the marked tool in words."""
        yield RowList(OutPainter(), id="lines", empty="Nothing.")
        yield TextPanel(id="words")

    @property
    def line(self) -> "OutLine | None":
        """The marked tool."""
        marked: OutLine | None = self.query_one("#lines", RowList).marked
        return marked

    def on_mount(self) -> None:
        """Ask what is out."""
        self.focus_body()
        self._ask()

    def on_screen_resume(self) -> None:
        """Ask anew: a tool's page may have changed something."""
        self._ask()

    def focus_body(self) -> None:
        """Give the keyboard to the list."""
        self.query_one("#lines").focus()

    def _ask(self) -> None:
        address, group = self.crib.address, self.group

        def ask() -> "Out":
            from crib.desk.doings.out import out

            return out(address, mine=group == "mine", overdue=group == "overdue")

        self.call("read", ask, self._show)

    def _show(self, found: "Out") -> None:
        rows: list[object] = []
        for whose, heading in HEADINGS.items():
            if group := [line for line in found.lines if line.whose == whose]:
                rows += [Heading(heading), *group]
        self.query_one("#lines", RowList).show_rows(rows)
        if self._told is not None:
            self.say(self._told.verdict, self._told.detail)
            self._told = None
        else:
            self.say(
                found.verdict, found.detail, "r: the marked tool is back; g shows only mine, or only overdue."
            )

    def on_row_list_marked(self) -> None:
        """Say the marked tool in words."""
        self.query_one("#words", TextPanel).show_lines(partial(_words, self.line))
        self.refresh_keys()

    def on_row_list_opened(self) -> None:
        """Open a tool that was clicked again."""
        self.action_open()

    def can(self, name: str) -> bool:
        """Offer only what the marked row allows."""
        return self.line is not None if name in ("open", "give_back") else super().can(name)

    def action_group(self) -> None:
        """Show the next group: all, mine, overdue."""
        self.group = GROUPS[(GROUPS.index(self.group) + 1) % len(GROUPS)]
        self._ask()

    def action_open(self) -> None:
        """Show everything on record about the marked tool."""
        from crib.tui.screens.item import ItemScreen

        if (line := self.line) is not None:
            self.app.push_screen(ItemScreen(line.item))

    def action_give_back(self) -> None:
        """Ask in which state the marked tool is back."""
        from crib.tui.screens.give_back import GiveBackScreen

        if (line := self.line) is not None:
            self.app.push_screen(GiveBackScreen({"tags": line.item.tag}, self.wrote))

    def recorded(self, done: "Done") -> None:
        """Show what was recorded, and what is out now."""
        self._told = done
        self._ask()


def _words(line: "OutLine | None", width: int) -> list[Line]:
    if line is None:
        return []
    item = line.item
    first, *_ = in_words(item)
    since = f"{line.what.capitalize()} to {item.held_by} on {line.since}, {many(line.days, 'day')} ago"
    told = [since, f"back by {line.due}" if line.due else "no day promised"]
    if line.overdue_days:
        told.append(f"OVERDUE by {many(line.overdue_days, 'day')}")
    if line.holder_gone_on:
        told.append(f"{item.held_by} LEFT on {line.holder_gone_on}")
    if line.why:
        told.append(line.why)
    told.append(f"{item.owner}'s, belongs at {item.place}")
    return [
        *(Line(text, strong=True) for text in wrapped(first, width)[:1]),
        *(Line(text) for text in wrapped("; ".join(told) + ".", width)[:3]),
    ]
