"""How an HSS bit is usually ground for a material: relief and rake, never more than a starting point."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Grind:
    """Usual angles of an HSS bit in degrees; `work` is what they are printed for."""

    work: str
    iso513: str
    words: tuple[str, ...]
    side_relief_deg: float
    front_relief_deg: float
    side_rake_deg: tuple[float, float]
    back_rake_deg: tuple[float, float]
    source: str

    @property
    def said(self) -> str:
        """The angles in words."""
        side, back = (_band(*band) for band in (self.side_rake_deg, self.back_rake_deg))
        relief = f"relief {self.side_relief_deg:g}° at the side and {self.front_relief_deg:g}° in front"
        return f"side rake {side}, back rake {back}, {relief} (as printed for {self.work})"


def load_grinds(rows: Iterable[Mapping[str, str]]) -> tuple[Grind, ...]:
    """Build from the rows of the table "bit_grind", the particular materials before the general."""
    return tuple(
        Grind(
            work=row["work"],
            iso513=row["iso513"],
            words=tuple(row["words"].split()),
            side_relief_deg=float(row["side_relief_deg"]),
            front_relief_deg=float(row["front_relief_deg"]),
            side_rake_deg=(float(row["side_rake_low_deg"]), float(row["side_rake_high_deg"])),
            back_rake_deg=(float(row["back_rake_low_deg"]), float(row["back_rake_high_deg"])),
            source=row["source"],
        )
        for row in rows
    )


def grind_for(name: str, iso513: str, known: Iterable[Grind]) -> Grind | None:
    """Give the usual grind for a work material; None where none is printed for it.

    Args:
        name: of the material.
        iso513: its group letter.
        known: from `load_grinds`.
    """
    told = set(name.lower().replace(",", " ").split())
    for one in known:
        if one.iso513 == iso513[:1] and (not one.words or told & set(one.words)):
            return one
    return None


def _band(low: float, high: float) -> str:
    return f"{low:g}°" if low == high else f"{low:g}° to {high:g}°"
