"""Cautions, each shown when its trigger is true; they replace neither the machine's manual nor shop rules."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from crib.trade.tables import Row

MOST = 3  # more than three are not read
DEFER = "The machine's manual, local rules and whoever is authorised come before anything printed here."


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution.

    Attributes:
        id: its short name.
        trigger: the condition that shows it.
        text: what is said.
        rank: A can kill or maim, B injures or wrecks, C spoils work or health over time.
        source: key of the source.
    """

    id: str
    trigger: str
    text: str
    rank: str
    source: str

    @property
    def said(self) -> str:
        """The caution with what calls for it."""
        return f"{self.text} ({self.trigger})"


def load(rows: Iterable[Row]) -> tuple[Caution, ...]:
    """Build the cautions from their table."""
    return tuple(
        Caution(
            id=row["id"], trigger=row["trigger"], text=row["caution"], rank=row["rank"], source=row["source"]
        )
        for row in rows
    )


def burning(material_name: str) -> set[str]:
    """Give the triggers of a metal whose chips burn."""
    return {metal for metal in ("magnesium", "titanium") if metal in material_name.lower()}


def triggered(
    triggers: Collection[str], cautions: Iterable[Caution], most: int = MOST
) -> tuple[Caution, ...]:
    """Give the cautions whose triggers are true, worst first.

    Args:
        triggers: the conditions that hold.
        cautions: all of them, in the table's order, which decides among equals.
        most: how many at the most.
    """
    shown = [caution for caution in cautions if caution.trigger in triggers]
    return tuple(sorted(shown, key=lambda caution: caution.rank)[:most])
