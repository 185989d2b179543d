"""How the specific cutting force of a steel goes with its hardness: by power constants printed for each.

A handbook prints Kp, the power for each volume of chip a time, for one kind of steel at a row of Brinell
hardnesses and one feed. Kp in kW for each cm³/s is the specific force in kN/mm² at that feed, so what it
rises by from one hardness to another is what the force rises by. Used within the printed range only.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

Row = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class HardForce:
    """The specific force at a hardness that was told, beside that at the usual one.

    Attributes:
        told_hb, usual_hb: Brinell hardnesses.
        told_N_mm2, usual_N_mm2: specific forces printed for them, at one feed.
        low_hb, high_hb: printed for.
        source: source keys.
    """

    told_hb: float
    usual_hb: float
    told_N_mm2: float
    usual_N_mm2: float
    low_hb: float
    high_hb: float
    source: str

    @property
    def factor(self) -> float:
        """What the force of the usual hardness is multiplied by."""
        return self.told_N_mm2 / self.usual_N_mm2

    @property
    def said(self) -> str:
        """The same in words."""
        held = "" if self.low_hb <= self.told_hb <= self.high_hb else ", held at the end of that range"
        return (
            f"{self.told_hb:.0f} HB: cutting force {self.factor:.2f} times that at the usual "
            f"{self.usual_hb:.0f} HB, as printed power constants go (for {self.low_hb:g} to "
            f"{self.high_hb:g} HB{held}); the band of the sources holds that it stays, too"
        )


def force_at(hb: float, usual_hb: float, printed: Sequence[Row]) -> HardForce | None:
    """Give what a hardness makes of the force; None where fewer than two are printed.

    Args:
        hb: Brinell hardness that was told.
        usual_hb: for which the force is on record.
        printed: rows of the table "specific_force" with a hardness each, of one kind of steel and one feed.
    """
    bands = sorted((float(row["hb_min"]), float(row["hb_max"]), float(row["kc_N_mm2"])) for row in printed)
    if len(bands) < 2:
        return None
    points = [((low + high) / 2.0, kc) for low, high, kc in bands]
    return HardForce(
        told_hb=hb,
        usual_hb=usual_hb,
        told_N_mm2=_between(points, hb),
        usual_N_mm2=_between(points, usual_hb),
        low_hb=bands[0][0],
        high_hb=bands[-1][1],
        source=printed[0]["source"],
    )


def _between(points: Sequence[tuple[float, float]], hb: float) -> float:
    """Read off a straight line between the middles of the printed bands; past the last ones, at them."""
    hb = min(max(hb, points[0][0]), points[-1][0])
    for (low, below), (high, above) in pairwise(points):
        if hb <= high:
            return below + (above - below) * (hb - low) / (high - low)
    return points[-1][1]
