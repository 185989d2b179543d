"""Judgements of the desk that are neither physics nor record, from the table "pick_rules"."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from crib.errors import TableError


@dataclass(frozen=True, slots=True, kw_only=True)
class PickRules:
    """One attribute a row of the table "pick_rules"; what each means stands there, with its source."""

    bore_over_bar: float
    most_trail_deg: float
    finish_of_nose: float
    least_finish_mm: float
    most_finish_mm: float
    sharp_um: float
    breaker_finish_ap_mm: float
    breaker_finish_f_mm: float
    pressure_class: float
    slow: float
    wanted_margin: float
    least_gain: float
    next_feed: float
    bit_depth_of_shank: float
    half_depth: float
    rubs_mm: float
    unsure_stiffness: float
    unsure_damping: float
    measured_stiffness: float
    measured_damping: float
    tall_k_N_mm: float
    slender: float
    long_bar_steel: float
    long_bar_heavy_metal: float
    long_bar_carbide: float
    spring_mm: float

    @classmethod
    def load(cls, rows: Iterable[Mapping[str, str]]) -> "PickRules":
        """Build from the rows of the table.

        Raises:
            TableError: a row is missing, or one too many.
        """
        try:
            return cls(**{row["name"]: float(row["value"]) for row in rows})
        except TypeError as error:
            raise TableError(f"table pick_rules: {error}") from error

    def long_bar(self, shank_material: str) -> float:
        """Give the overhang, in diameters, past which a bar of a material is called long."""
        found = {"carbide": self.long_bar_carbide, "heavy metal": self.long_bar_heavy_metal}
        return found.get(shank_material.lower(), self.long_bar_steel)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockingRules:
    """One attribute a row of the table "stocking_rules"; what each means stands there, with its source."""

    fewest_observations: float
    looked_back: float
    service_percent: float

    @classmethod
    def load(cls, rows: Iterable[Mapping[str, str]]) -> "StockingRules":
        """Build from the rows of the table.

        Raises:
            TableError: a row is missing, or one too many.
        """
        try:
            return cls(**{row["name"]: float(row["value"]) for row in rows})
        except TypeError as error:
            raise TableError(f"table stocking_rules: {error}") from error
