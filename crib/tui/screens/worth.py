"""One tool: where it came from, what shows whose it is, and what it is worth by each basis."""

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import TYPE_CHECKING, Any

from crib.store.words import ORIGINS, WORTH_BASES
from crib.tui.screens.base import bindings
from crib.tui.screens.book import BookScreen, DoingScreen
from crib.tui.widgets.plain_form import Entry
from crib.tui.widgets.text_page import Line, TextPage
from crib.tui.wording import wrapped

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.owed.mine import Mine

NEXT = "a writes down a value, f where it came from; e shows photos and papers."
SAME = "as on record"


class WorthScreen(BookScreen):
    """The page of a tool's worth and proof.

    Args:
        tag: of the tool.
    """

    AREA = "worth"
    BINDINGS = bindings("worth")

    def __init__(self, tag: str) -> None:
        super().__init__()
        self.tag = tag
        self._told = ""

    def body(self) -> Iterator[Any]:
        """Lay out the page."""
        yield TextPage(id="worth")

    def focus_body(self) -> None:
        """Give the keyboard to the page."""
        self.query_one("#worth").focus()

    def on_mount(self) -> None:
        """Ask what there is."""
        self.focus_body()
        self._ask()

    def _ask(self) -> None:
        address, tag = self.crib.address, self.tag

        def ask() -> "Mine":
            from crib.desk.owed.mine import mine

            return mine(address, tag)

        self.call("read", ask, self._show)

    def _show(self, found: "Mine") -> None:
        known = [f"{value.basis} {value.amount}" for value in found.values if value.amount]
        verdict = f"{found.item.tag} is worth: {', '.join(known) or 'nobody wrote it down'}."
        self.say(self._told or verdict, f"{len(found.missing)} things would show better whose it is.", NEXT)
        self._told = ""
        self.query_one("#worth", TextPage).show_lines(partial(_lines, found))

    def action_evidence(self) -> None:
        """Show photos and papers of this tool."""
        from crib.tui.screens.evidence import EvidenceScreen

        self.app.push_screen(EvidenceScreen(self.tag))

    def action_add(self) -> None:
        """Write down a value."""
        self.app.push_screen(AddWorthScreen(self.tag, then=self.wrote))

    def action_origin(self) -> None:
        """Write down where it came from."""
        self.app.push_screen(OriginScreen(self.tag, then=self.wrote))

    def recorded(self, done: "Done") -> None:
        """Show what was recorded, and the page as it is now."""
        self._told = done.verdict
        self._ask()


class _WorthForm(DoingScreen):
    """A form about one tool.

    Args:
        tag: of the tool.
        then: takes what was recorded.
    """

    def __init__(self, tag: str, then: "Callable[[Done], None] | None" = None) -> None:
        super().__init__(then=then)
        self.tag = tag

    def told_of(self, values: Mapping[str, str]) -> dict[str, str]:
        """Give what is to be recorded."""
        raise NotImplementedError

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record it."""
        from crib.desk.doings.doing import Done
        from crib.desk.owed.worth import WorthRequest, record

        found = record(self.crib.address, self.tag, WorthRequest(**self.told_of(values)))
        known = ", ".join(f"{value.basis} {value.amount}" for value in found.values if value.amount)
        return Done(
            act="", verdict=f"Recorded: {self.tag}: {known or 'its origin'}.", detail="", undo="", items=()
        )


class AddWorthScreen(_WorthForm):
    """The form of a value."""

    AREA = "worth_add"
    BINDINGS = bindings("worth_add")
    ASKS = "What is one piece worth, and who says so?"
    FIELDS = (
        Entry(name="basis", label="Basis", hint="agreed by both; price of a new one …", words=WORTH_BASES),
        Entry(name="amount", label="Amount", hint="85 EUR"),
        Entry(name="source", label="Source", hint="A price list, initials on the inventory …"),
        Entry(name="life", label="Life", hint="20 years: for the value by age, with the price of a new one."),
        Entry(name="on", label="Day", hint="Of which day; empty: today."),
    )
    NEEDED = ("amount",)

    def told_of(self, values: Mapping[str, str]) -> dict[str, str]:
        """Give what is to be recorded."""
        basis = values["basis"].replace(" ", "_")
        return {basis: values["amount"], **{name: values[name] for name in ("source", "life", "on")}}


class OriginScreen(_WorthForm):
    """The form of where a tool came from."""

    AREA = "worth_origin"
    BINDINGS = bindings("worth_origin")
    ASKS = "Where did it come from?"
    FIELDS = (
        Entry(name="origin", label="How", hint="How it was come by.", words=(SAME, *ORIGINS)),
        Entry(name="got", label="Day", hint="The day its owner came by it."),
        Entry(name="from_whom", label="From", hint="Giver or seller."),
        Entry(name="paid", label="Paid", hint="What one piece cost its owner: 60 EUR."),
        Entry(name="receipt", label="Receipt", hint="Its number, or where it is."),
        Entry(name="maker", label="Maker", hint="Who made it."),
        Entry(name="note", label="Note", hint="Anything."),
    )

    def told_of(self, values: Mapping[str, str]) -> dict[str, str]:
        """Give what is to be recorded."""
        return {**values, "origin": "" if values["origin"] == SAME else values["origin"]}


def _lines(found: "Mine", width: int) -> list[Line]:
    from crib.report.worth_words import mine_lines

    lines: list[Line] = []
    for text in mine_lines(found):
        start = len(text) - len(text.lstrip())
        broken = wrapped(text.strip(), width, indent=" " * start) or [""]
        lines += [Line(piece, strong=start == 0) for piece in broken]
    return lines
