"""Proven speeds: the shop's own, beside the book's; entering one, and withdrawing one that was wrong."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.listed import ListedScreen, said
from crib.tui.widgets.cut_form import NO, NONE, SKINS, YES
from crib.tui.widgets.plain_form import Entry
from crib.tui.wording import Column

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.starting.own import ProvenSpeed
    from crib.desk.starting.proven import ProvenList

ANY = "any"


class ProvenScreen(ListedScreen):
    """The shop's own proven speeds, oldest first."""

    AREA = "proven"
    BINDINGS = bindings("proven")
    COLUMNS = (
        Column(title="No.", least=4, most=6),
        Column(title="Material", least=16, most=44, share=3),
        Column(title="Tool", least=10, most=16, share=1),
        Column(title="Operation", least=9, most=12, rank=1),
        Column(title="Speed", least=11, most=14),
        Column(title="Machine", least=10, most=24, rank=2),
    )
    EMPTY = "No speed of the shop's own is on record."
    NEXT = "n enters a speed that proved itself; d withdraws the marked one: it stays on record."

    def read(self) -> "ProvenList":
        """Ask for those that count."""
        from crib.desk.starting.proven import ProvenList, proven
        from crib.errors import NothingFound

        try:
            return proven(self.crib.address)
        except NothingFound:
            return ProvenList(proven=(), speeds="")

    def rows(self, found: "ProvenList") -> Sequence[object]:
        """Give the speeds."""
        return found.proven

    def cells(self, row: "ProvenSpeed") -> Sequence[object]:
        """Give the cells of a speed, in the user's own units as its words have it."""
        speed = row.said.partition(": ")[2].partition(",")[0].partition(" (")[0]
        return (row.id, row.material, row.tool, row.op, speed, row.machine or ANY)

    def words(self, row: "ProvenSpeed") -> Sequence[str]:
        """Say the marked speed in full."""
        return (f"{row.material}, {row.tool}, {row.op}", row.said)

    def answer(self, found: "ProvenList") -> tuple[str, str, str]:
        """Say how many there are, and whose speeds win."""
        many = len(found.proven)
        verdict = f"{many} proven speed{'s' * (many != 1)} of the shop's own." if many else self.EMPTY
        wins = "They win over the book's." if found.speeds == "own" else "They stand beside the book's."
        change = "crib setting speeds " + ("book" if found.speeds == "own" else "own")
        return verdict, f"{wins} To change that: {change}.", self.NEXT

    def can(self, name: str) -> bool:
        """Offer withdrawing only where a speed is marked."""
        return self.marked is not None if name == "drop" else super().can(name)

    def action_new(self) -> None:
        """Enter a speed."""
        self.app.push_screen(ProvenFormScreen(then=self.wrote))

    def action_drop(self) -> None:
        """Withdraw the marked speed; asks why."""
        self.app.push_screen(WithdrawScreen(self.marked, then=self.wrote))


class ProvenFormScreen(DoingScreen):
    """The form of a speed that proved itself."""

    AREA = "proven_form"
    BINDINGS = bindings("proven_form")
    ASKS = "Which speed proved itself, and on what?"
    FIELDS = (
        Entry(name="material", label="Material", hint="What the shop calls it."),
        Entry(name="tool", label="Tool", hint="HSS, carbide, coated carbide, cermet …"),
        Entry(
            name="op",
            label="Operation",
            hint="Left and right choose.",
            words=("turn", "face", "bore", "part", "groove", "drill", "ream", "thread"),
        ),
        Entry(
            name="cut",
            label="Cut",
            hint="Left and right choose; of turning, facing and boring only.",
            words=(ANY, "finish", "medium", "rough", "heavy rough"),
        ),
        Entry(name="vc", label="Speed", hint="Cutting speed: 110 m/min, 360 ft/min."),
        Entry(name="feed", label="Feed", hint="A turn; may stay empty."),
        Entry(name="depth", label="Depth a side", hint="It counts for no deeper cut; may stay empty."),
        Entry(name="machine", label="Machine", hint="It counts for no other; empty for any."),
        Entry(name="skin", label="Skin", hint="What it was proven under.", words=(NONE, *SKINS)),
        Entry(name="interrupted", label="Interrupted", hint="Proven in one?", words=(NO, YES)),
        Entry(name="result", label="Result", hint="How it went, in words; may stay empty."),
    )
    NEEDED = ("material", "tool", "vc")

    def write(self, values: Mapping[str, str]) -> "Done":
        """Enter it."""
        from crib.desk.starting.proven import ProvenRequest, add_proven
        from crib.units import Kind, show

        told: dict[str, Any] = {
            name: value for name, value in values.items() if name not in ("skin", "interrupted", "cut")
        }
        told["cut"] = "" if values["cut"] == ANY else values["cut"]
        told["interrupted"] = values["interrupted"] == YES
        if values["skin"] != NONE:
            told[values["skin"].replace(" ", "_")] = True
        added = add_proven(self.crib.address, ProvenRequest(**told))
        book = added.book_vc_m_min
        beside = "The book has none for such a cut."
        if book is not None:
            low, high = (show(value, Kind.SPEED, self.crib.units) for value in (book.low, book.high))
            beside = f"The book for such a cut: {low} to {high}."
        if added.doubt:
            beside += f" {added.doubt[0].upper()}{added.doubt[1:]}."
        return said(f"Recorded: {added.proven.material}, {added.proven.tool}: no. {added.proven.id}.", beside)


class WithdrawScreen(DoingScreen):
    """Asks why a speed counts no more."""

    AREA = "withdraw"
    BINDINGS = bindings("withdraw")
    ASKS = "Withdraw this speed? It counts no more, and stays on record with your name and why."
    FIELDS = (Entry(name="why", label="Why", hint="What was wrong with it; may stay empty."),)

    def __init__(self, row: "ProvenSpeed | None" = None, **named: Any) -> None:
        super().__init__(**named)
        self.row = row

    def write(self, values: Mapping[str, str]) -> "Done":
        """Withdraw it."""
        from crib.desk.starting.proven import forget

        assert self.row is not None  # only a marked speed opens this
        gone = forget(self.crib.address, self.row.id, why=values["why"])
        return said(f"Withdrawn: no. {gone.id}.", gone.said)
