"""Restock: what is below its minimum, what to buy; one code box by box; setting a minimum."""

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


class RestockScreen(ListedScreen):
    """What is below its minimum: to buy first, then what only has to come back, then what is enough."""

    AREA = "restock"
    BINDINGS = bindings("restock")
    COLUMNS = (
        Column(title="What", least=18, most=50, share=3),
        Column(title="Grade", least=8, most=16, rank=1),
        Column(title="Have", least=6, most=8),
        Column(title="Least", least=6, most=8),
        Column(title="Buy", least=5, most=8),
        Column(title="Lead", least=7, most=9, rank=2),
        Column(title="Who pays", least=10, most=26, rank=3),
    )
    EMPTY = "No minimums yet: n sets one."
    NEXT = "Enter shows its boxes; n sets a minimum; w writes the list to a file."
    FILE = "to-buy"

    def read(self) -> Any:
        """Ask what is running out."""
        from crib.desk.restocking.restock import restock

        return restock(self.crib.address, whole=True)

    def rows(self, found: Any) -> Sequence[object]:
        """Give the lines in three groups."""
        groups = (
            ("To buy", found.buy),
            ("Short until it is back", found.ask_back),
            ("Enough", found.enough),
        )
        return [row for name, lines in groups if lines for row in (Heading(name), *lines)]

    def cells(self, row: Any) -> Sequence[object]:
        """Give the cells of a line."""
        known = row.minimum
        lead = f"{known.lead_days} d" if known.lead_days else ""
        buy = row.buy or ""
        return (row.what, row.grade, row.have, known.least, buy, lead, known.payer)

    def words(self, row: Any) -> Sequence[str]:
        """Say why, what it costs, how fast it goes and what there is besides."""
        known = row.minimum
        kits = f"; for {', '.join(row.kits)}" if row.kits else ""
        why = row.why or f"{row.have} {row.counted_in} here, {known.least} are the least"
        lead = many(known.lead_days, "day") if known.lead_days else "not recorded"
        return [
            f"{row.what} {row.grade}".strip() + f": {why}{kits}.",
            f"Lead time {lead}; last paid {row.price or 'not recorded'}; "
            f"who pays: {known.payer or 'not recorded'}.",
            f"Use: {row.usage.said}.",
            *([f"Besides: {text}."] if (text := besides(row)) else []),
        ]

    def listing(self) -> "Listing":
        """Give the list to buy from."""
        from crib.desk.restocking.restock import restock
        from crib.report.restock import buy_list

        return buy_list(restock(self.crib.address))

    def action_open(self) -> None:
        """Show the marked code box by box."""
        row = self.marked
        self.app.push_screen(LeftScreen(row.what, row.grade))

    def action_new(self) -> None:
        """Set a minimum."""
        self.app.push_screen(MinimumScreen(then=self.wrote))

    def action_change(self) -> None:
        """Change the marked minimum."""
        known = self.marked.minimum
        given = {
            "code": known.what,
            "grade": known.grade,
            "least": str(known.least),
            "up_to": "" if known.up_to is None else str(known.up_to),
            "lead": many(known.lead_days, "day") if known.lead_days else "",
            "payer": known.payer or "",
            "price": known.price or "",
            "note": known.note or "",
        }
        self.app.push_screen(MinimumScreen(given, then=self.wrote))

    def action_left(self) -> None:
        """Ask how much is left of any code."""
        self.app.push_screen(LeftOfScreen(then=self.wrote))


def besides(row: Any) -> str:
    """Say what there is besides, that does not count as here."""
    from crib.desk.restocking.restock import beside

    return beside(row)


class LeftScreen(ListedScreen):
    """How much is left of one code, box by box.

    Args:
        code: a code, a tag, or a name on record.
        grade: of that grade only.
    """

    AREA = "left"
    BINDINGS = bindings("left")
    COLUMNS = (
        Column(title="Tag", least=6, most=10),
        Column(title="Pieces", least=6, most=7),
        Column(title="Edges", least=6, most=7),
        Column(title="State", least=18, most=26),
        Column(title="Owner", least=14, most=26),
        Column(title="Grade", least=10, most=18, rank=1),
    )
    NEXT = "Enter tells all about the marked box; Esc goes back."

    def __init__(self, code: str = "", grade: str = "") -> None:
        super().__init__()
        self.code = code
        self.grade = grade

    def read(self) -> Any:
        """Ask for the boxes."""
        from crib.desk.restocking.restock import left_of

        return left_of(self.crib.address, self.code, grade=self.grade)

    def rows(self, found: Any) -> Sequence[object]:
        """Give the boxes."""
        rows: Sequence[object] = found.boxes
        return rows

    def cells(self, row: Any) -> Sequence[object]:
        """Give the cells of a box."""
        edges = "" if row.edges_left is None else row.edges_left
        return (row.tag, row.quantity, edges, row.state, row.owner, row.grade)

    def words(self, row: Any) -> Sequence[str]:
        """Say where the box is and whether it counts."""
        counts = "It counts as here." if row.counts else "It does not count as here."
        return [f"{row.tag}, {row.condition}, {row.owner}'s; belongs at {row.place}.", counts]

    def answer(self, found: Any) -> tuple[str, str, str]:
        """Say how much is left and how fast it goes."""
        least = f", {found.minimum.least} are the least" if found.minimum else ""
        use = found.usage.said
        return (
            f"{found.what}: {found.have} {found.counted_in} here{least}.",
            f"{use[:1].upper()}{use[1:]}.",
            self.NEXT,
        )

    def action_open(self) -> None:
        """Show everything on record about the marked box."""
        from crib.tui.screens.item import ItemScreen

        address, tag = self.crib.address, self.marked.tag

        def read() -> Any:
            from crib.desk.asking.story import story

            return story(address, tag).item

        self.call("show", read, lambda item: self._open(ItemScreen(item)))

    def _open(self, screen: Any) -> None:
        self.app.push_screen(screen)


class LeftOfScreen(DoingScreen):
    """Asks of which code the boxes are to be shown."""

    AREA = "left_of"
    BINDINGS = bindings("left_of")
    ASKS = "How much is left of what?"
    FIELDS = (
        Entry(name="code", label="Code", hint="A code as on the box, a tag, or the name on record."),
        Entry(name="grade", label="Grade", hint="Of that grade only; may stay empty."),
    )
    NEEDED = ("code",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """See that there is something to show."""
        from crib.desk.restocking.restock import left_of

        found = left_of(self.crib.address, values["code"], grade=values["grade"])
        return said(f"{found.what}: {found.have} {found.counted_in} here.")

    def _written(self, done: "Done") -> None:
        values = self.form.values()
        super()._written(done)
        self.app.push_screen(LeftScreen(values["code"], values["grade"]))


class MinimumScreen(DoingScreen):
    """The form of a minimum."""

    AREA = "minimum"
    BINDINGS = bindings("minimum")
    ASKS = "How many of what should there be at least?"
    FIELDS = (
        Entry(name="code", label="What", hint="A code, a tag of such a tool, or its name on record."),
        Entry(name="least", label="Least", hint="Fewer are too few: edges for inserts, pieces for all else."),
        Entry(name="up_to", label="Buy up to", hint="Empty: up to the least."),
        Entry(name="grade", label="Grade", hint="Of that grade only; empty: any."),
        Entry(name="lead", label="Lead time", hint="From order to delivery: 5 days, 2 weeks."),
        Entry(name="payer", label="Who pays", hint="A name or mark; only their own pieces count then."),
        Entry(name="price", label="Last paid", hint="For one piece: 8.50 EUR."),
        Entry(name="note", label="Why", hint="The job, and anything else; may stay empty."),
    )
    NEEDED = ("code", "least")

    def write(self, values: Mapping[str, str]) -> "Done":
        """Set the minimum."""
        from crib.desk.restocking.minimums import set_minimum
        from crib.desk.typed import count_of

        rest = {name: values[name] for name in ("grade", "lead", "payer", "price", "note")}
        least, up_to = (count_of(values[name], "pieces") for name in ("least", "up_to"))
        saved = set_minimum(self.crib.address, values["code"], least=least, up_to=up_to, **rest)
        one = saved.minimum
        return said(f"Set: at least {one.least} {one.counted_in} of {one.what} at {one.site}.")
