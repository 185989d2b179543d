"""Take back: what was done lately, and taking a doing of it back."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.listed import ListedScreen
from crib.tui.wording import Column

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.doings.recent import RecentDoing


class RecentScreen(ListedScreen):
    """The last doings, the latest first."""

    AREA = "recent"
    BINDINGS = bindings("recent")
    COLUMNS = (
        Column(title="When", least=16, most=16),
        Column(title="What", least=12, most=22),
        Column(title="Tools", least=14, most=50, share=3),
        Column(title="Who", least=12, most=26, rank=1),
        Column(title="Word", least=9, most=16),
    )
    EMPTY = "Nothing was done yet."
    NEXT = "Enter takes the marked doing back; it asks first."

    def read(self) -> Any:
        """Ask what was done lately."""
        from crib.desk.doings.recent import recent

        return recent(self.crib.address)

    def rows(self, found: Any) -> Sequence[object]:
        """Give the doings."""
        rows: Sequence[object] = found.doings
        return rows

    def cells(self, row: "RecentDoing") -> Sequence[object]:
        """Give the cells of a doing."""
        return (row.on, row.what if row.stands else f"({row.what})", row.tools_named, row.who or "", row.act)

    def words(self, row: "RecentDoing") -> Sequence[str]:
        """Say what it was, and whether it still stands."""
        first = f"{row.act}: {row.what} {', '.join(row.tools)}; by {row.who or 'nobody named'}, {row.on}."
        told = [first, row.why or "Nothing was said of it."]
        return told if row.stands else [*told, "It was taken back."]

    def can(self, name: str) -> bool:
        """Offer only what still stands."""
        if name == "open":
            return self.marked is not None and self.marked.stands
        return super().can(name)

    def action_open(self) -> None:
        """Ask, and take the marked doing back."""
        address, row = self.crib.address, self.marked

        def write() -> "Done":
            from crib.desk.doings.undo import undo

            return undo(address, row.act)

        self.ask_first(f"Take back {row.act}: {row.what} {row.tools_named}?", write)
