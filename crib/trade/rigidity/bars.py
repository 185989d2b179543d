"""A boring bar as a spring: how stiff its tip is by diameter, overhang and material."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import pi

from crib.errors import InputError, UnknownName


@dataclass(frozen=True, slots=True, kw_only=True)
class BarMaterial:
    """What a bar is made of: modulus of elasticity in N/mm², as reckoned with and its band."""

    name: str
    E_N_mm2: float
    E_low_N_mm2: float
    E_high_N_mm2: float
    source: str


def load_bar_materials(rows: Iterable[Mapping[str, str]]) -> Mapping[str, BarMaterial]:
    """Build the bar materials from the rows of the table "bar_materials", by name."""
    return {
        row["material"]: BarMaterial(
            name=row["material"],
            E_N_mm2=float(row["E_N_mm2"]),
            E_low_N_mm2=float(row["E_low_N_mm2"]),
            E_high_N_mm2=float(row["E_high_N_mm2"]),
            source=row["source"],
        )
        for row in rows
    }


def find_bar_material(name: str, known: Mapping[str, BarMaterial]) -> BarMaterial:
    """Find a bar material by its name.

    Raises:
        UnknownName: no such material.
    """
    try:
        return known[name.strip().lower()]
    except KeyError:
        raise UnknownName("bar material", name, tuple(known)) from None


def bar_stiffness(DCON_mm: float, overhang_mm: float, E_N_mm2: float) -> float:
    """Give the stiffness at the tip of a round solid bar clamped at its other end, in N/mm.

    Args:
        DCON_mm: diameter.
        overhang_mm: from the clamp to the tip.
        E_N_mm2: modulus of elasticity.

    Returns:
        The ideal value: a real clamp gives, so the bar is softer than this.

    Raises:
        InputError: a size or modulus that can't be.

    Source: cantilever, k = 3 E I / L³ with I = pi d⁴ / 64 (elementary beam theory).
    """
    for what, value in (("diameter", DCON_mm), ("overhang", overhang_mm), ("modulus", E_N_mm2)):
        if not value > 0.0:
            raise InputError(f"a bar's {what} of {value:g} can't be", "it must be more than zero")
    return 3.0 * E_N_mm2 * (pi * DCON_mm**4 / 64.0) / overhang_mm**3
