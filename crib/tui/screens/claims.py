"""Claims: what am I owed, and which of my tools may be worth a claim."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from crib.desk.owed.claimed import Suggestion
from crib.desk.owed.claims import Summary
from crib.tui.screens.base import bindings
from crib.tui.screens.book import BookScreen
from crib.tui.widgets.row_list import Heading, RowList
from crib.tui.widgets.text_page import Line, TextPanel
from crib.tui.wording import Column, column_widths, in_columns, what, wrapped

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.owed.claims import Claims

NEXT = "Space marks tools for a claim, n makes it; Enter opens the marked claim."
COLUMNS = (
    Column(title="Claim", least=8, most=10),
    Column(title="State", least=12, most=12),
    Column(title="Asked", least=13, most=16),
    Column(title="Open", least=13, most=16, rank=1),
    Column(title="Gaps", least=4, most=6),
    Column(title="Tools", least=12, most=60, share=3),
)


class ClaimPainter:
    """Draws a claim, or a tool that may be worth one, as one line."""

    lines = 1

    def __init__(self) -> None:
        self.chosen: set[str] = set()

    def header(self, width: int) -> str:
        """Give the headings of the columns."""
        return in_columns([column.title for column in COLUMNS], column_widths(COLUMNS, width))

    def paint(self, row: Summary | Suggestion, width: int) -> Sequence[str]:
        """Give the line of one claim or tool."""
        if isinstance(row, Suggestion):
            mark = "[x]" if row.item.tag in self.chosen else "[ ]"
            return [f"{mark} {row.item.tag} {what(row.item)}, {row.told} {row.on}"]
        cells = (row.number, row.state, row.asked, row.open, row.gaps or "", ", ".join(row.tools))
        return [in_columns(cells, column_widths(COLUMNS, width))]


class ClaimsScreen(BookScreen):
    """All claims, and own tools on none."""

    AREA = "claims"
    BINDINGS = bindings("claims")
    DEFAULT_CSS = "ClaimsScreen #words { border-top: dashed $foreground 40%; max-height: 6; }"

    def __init__(self) -> None:
        super().__init__()
        self.painter = ClaimPainter()
        self._told = ""

    def body(self) -> Iterator[Any]:
        """Lay out the list and the marked row in words."""
        yield RowList(self.painter, id="claims", empty="No claim is on record; n makes one.")
        yield TextPanel(id="words")

    @property
    def marked(self) -> Summary | Suggestion | None:
        """The marked row."""
        found: Summary | Suggestion | None = self.query_one("#claims", RowList).marked
        return found

    def focus_body(self) -> None:
        """Give the keyboard to the list."""
        self.query_one("#claims").focus()

    def on_mount(self) -> None:
        """Put the keyboard into the list."""
        self.focus_body()

    def on_screen_resume(self) -> None:
        """Ask anew: a claim's own page may have changed it."""
        address = self.crib.address

        def ask() -> "Claims":
            from crib.desk.owed.claims import claims

            return claims(address)

        self.call("read", ask, self._show)

    def _show(self, found: "Claims") -> None:
        rows: list[object] = list(found.claims)
        if found.suggested:
            rows += [Heading("Mine, worn, broken, lost or used up, and on no claim:"), *found.suggested]
        self.query_one("#claims", RowList).show_rows(rows)
        live = sum(float(one.open.split()[0]) > 0 for one in found.claims)
        verdict = f"{len(found.claims)} claim{'s' * (len(found.claims) != 1)}, {live} with something open."
        gaps = sum(one.gaps for one in found.claims)
        self.say(
            self._told or verdict, f"{gaps} GAPS in all: open a claim to see them." if gaps else "", NEXT
        )
        self._told = ""

    def on_row_list_marked(self) -> None:
        """Say the marked row in words."""
        self.query_one("#words", TextPanel).show_lines(partial(_words, self.marked))
        self.refresh_keys()

    def on_row_list_opened(self) -> None:
        """Open a claim that was clicked again."""
        self.action_open()

    def can(self, name: str) -> bool:
        """Offer only what the marked row allows."""
        match name:
            case "open":
                return self.marked is not None
            case "choose":
                return isinstance(self.marked, Suggestion)
            case _:
                return super().can(name)

    def action_open(self) -> None:
        """Open the marked claim, or the page of the marked tool."""
        from crib.tui.screens.claim import ClaimScreen
        from crib.tui.screens.item import ItemScreen

        if (row := self.marked) is None:
            return
        page = ItemScreen(row.item) if isinstance(row, Suggestion) else ClaimScreen(row.number)
        self.app.push_screen(page)

    def action_choose(self) -> None:
        """Mark a tool for a claim, or mark it no more."""
        row = self.marked
        if isinstance(row, Suggestion):
            self.painter.chosen ^= {row.item.tag}
            self.query_one("#claims", RowList).refresh()

    def action_new(self) -> None:
        """Make a claim from the marked tools."""
        from crib.tui.screens.claim_forms import NewClaimScreen

        row = self.marked
        given = {"tags": ", ".join(sorted(self.painter.chosen))}
        if isinstance(row, Suggestion):
            given = {"tags": given["tags"] or row.item.tag, "event": row.event}
            if (many := row.pieces or row.edges) and given["tags"] == row.item.tag:
                given["many"] = str(many)
        self.app.push_screen(NewClaimScreen(given=given, then=self.wrote))

    def recorded(self, done: "Done") -> None:
        """Show what was recorded, and the claims as they are now."""
        self._told = done.verdict
        self.painter.chosen.clear()


def _words(row: Summary | Suggestion | None, width: int) -> list[Line]:
    if row is None:
        return []
    if isinstance(row, Suggestion):
        told = [
            f"{row.item.tag}: {row.told}, by the ledger on {row.on}",
            row.why or "nothing was said about it",
        ]
    else:
        told = [
            f"{row.claimant}, to {row.payer}, made {row.made_on}: {row.state}",
            f"{row.lines} line{'s' * (row.lines != 1)}",
        ]
        told.append(f"next: {row.next_due}" if row.next_due else "no deadline")
    return [Line(text) for text in wrapped("; ".join(told) + ".", width)[:4]]
