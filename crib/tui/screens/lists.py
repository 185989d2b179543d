"""Lists: for insurance, and for settling up when somebody leaves."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.listed import ListedScreen, said
from crib.tui.widgets.plain_form import Entry
from crib.tui.widgets.row_list import Heading
from crib.tui.wording import Column
from crib.units.counts import many

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.report.listing import Listing


class InsuranceScreen(ListedScreen):
    """What there is by place and owner, and the worst gaps."""

    AREA = "insurance"
    BINDINGS = bindings("insurance")
    COLUMNS = (
        Column(title="Tools", least=6, most=8),
        Column(title="Where and whose", least=24, most=60, share=3),
        Column(title="Value", least=14, most=28),
        Column(title="Gaps", least=14, most=50, rank=1, share=2),
    )
    NEXT = "w writes every tool to a file; s settles up with somebody who leaves."
    FILE = "insurance"

    def read(self) -> Any:
        """Ask for sums and gaps."""
        from crib.desk.owed.insurance import insurance

        return insurance(self.crib.address)

    def rows(self, found: Any) -> Sequence[object]:
        """Give the sums, then the worst gaps."""
        gaps = [Heading("The worst gaps"), *found.worst] if found.worst else []
        return [*found.sums, *gaps]

    def cells(self, row: Any) -> Sequence[object]:
        """Give the cells of a sum or of a tool."""
        if hasattr(row, "tools"):
            without = f"{row.without} without a value" if row.without else ""
            return (row.tools, f"{row.place}, {row.owner}", " and ".join(row.worth) or "–", without)
        return (row.tag, row.what, row.all or "–", ", ".join(row.gaps).lower())

    def words(self, row: Any) -> Sequence[str]:
        """Say a sum or a tool in words."""
        if hasattr(row, "tools"):
            worth = " and ".join(row.worth) or "no value on record"
            return [
                f"{row.place}, {row.owner}'s: {many(row.tools, 'tool')}, {worth}; {row.without} have none."
            ]
        value = f"{row.all} ({row.basis}, {row.on})" if row.all else "no value"
        return [
            f"{row.tag} {row.what}",
            f"{row.owner}'s, {row.place}; {value}; {', '.join(row.gaps)}.",
        ]

    def listing(self) -> "Listing":
        """Give every tool for paper."""
        from crib.report.lists import insurance_list

        return insurance_list(self.read())

    def action_settle(self) -> None:
        """Ask who leaves."""
        self.app.push_screen(WhoLeavesScreen(then=self.wrote))


class LeavingScreen(ListedScreen):
    """What is whose when somebody leaves.

    Args:
        name: who leaves.
    """

    AREA = "leaving"
    BINDINGS = bindings("leaving")
    COLUMNS = (
        Column(title="Tag", least=6, most=10),
        Column(title="What it is", least=18, most=50, share=2),
        Column(title="Remark", least=24, most=70, share=3),
        Column(title="Proof held", least=14, most=40, rank=1, share=2),
    )
    NEXT = "w writes it with lines to sign on."
    FILE = "settling-up"

    def __init__(self, name: str = "") -> None:
        super().__init__()
        self.who = name

    def read(self) -> Any:
        """Ask what is whose."""
        from crib.desk.owed.leaving import leaving

        return leaving(self.crib.address, self.who)

    def rows(self, found: Any) -> Sequence[object]:
        """Give the four columns below one another."""
        columns = (
            (f"{found.name}'s own", found.mine),
            ("To give back", found.theirs),
            ("Half-paid", found.half),
            ("Unclear", found.unclear),
        )
        return [row for name, lines in columns for row in (Heading(f"{name}: {len(lines)}"), *lines)]

    def cells(self, row: Any) -> Sequence[object]:
        """Give the cells of a tool."""
        what = row.what if row.count == 1 else f"{row.count} x {row.what}"
        return (row.tag, what, row.say or row.where, row.proof)

    def words(self, row: Any) -> Sequence[str]:
        """Say a tool in words."""
        return [
            f"{row.tag} {row.what}" + (f": {row.say}." if row.say else "."),
            f"{row.owner}'s; {row.where}; proof held: {row.proof}.",
        ]

    def listing(self) -> "Listing":
        """Give the settlement for paper."""
        from crib.report.lists import leaving_list

        return leaving_list(self.read())


class WhoLeavesScreen(DoingScreen):
    """Asks who leaves."""

    AREA = "who_leaves"
    BINDINGS = bindings("who_leaves")
    ASKS = "Who leaves?"
    FIELDS = (Entry(name="name", label="Who", hint="A name, a mark, or me."),)
    NEEDED = ("name",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """See that there is such a person."""
        from crib.desk.owed.leaving import leaving

        return said(leaving(self.crib.address, values["name"]).verdict)

    def _written(self, done: "Done") -> None:
        name = self.form.values()["name"]
        super()._written(done)
        self.app.push_screen(LeavingScreen(name))
