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


def bar_stiffness(DCON_mm: float, overhang_mm: float, E_N_mm2: float, bore_mm: float = 0.0) -> float:
    """Give the stiffness at the tip of a round bar clamped at its other end, in N/mm.

    Args:
        DCON_mm: diameter.
        overhang_mm: from the clamp to the tip.
        E_N_mm2: modulus of elasticity.
        bore_mm: diameter of a hole along it; 0 for a solid bar.

    Returns:
        The ideal value: a real clamp gives, so the bar is softer than this.

    Raises:
        InputError: a size or modulus that can't be.

    Source: cantilever, k = 3 E I / L³ with I = pi d⁴ / 64 (elementary beam theory).
    """
    for what, value in (("diameter", DCON_mm), ("overhang", overhang_mm), ("modulus", E_N_mm2)):
        if not value > 0.0:
            raise InputError(f"a bar's {what} of {value:g} can't be", "it must be more than zero")
    return 3.0 * E_N_mm2 * second_moment_mm4(DCON_mm, bore_mm) / overhang_mm**3


def second_moment_mm4(d_mm: float, bore_mm: float = 0.0) -> float:
    """Give the second moment of area of a round section, in mm⁴: pi (D⁴ - d⁴) / 64.

    Raises:
        InputError: a hole as wide as the bar.
    """
    if not 0.0 <= bore_mm < d_mm:
        raise InputError(
            f"a hole of {bore_mm:g} mm in a bar of {d_mm:g} mm can't be", "it is smaller than the bar"
        )
    return pi * (d_mm**4 - bore_mm**4) / 64.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How far a bar may stand out, in diameters.

    Attributes:
        material: what the bar is made of, or how it is damped.
        low: by the careful sources.
        high: by the bold ones.
        source: source keys.
        note: may be empty.
    """

    material: str
    low: float
    high: float
    source: str
    note: str


def load_reach(rows: Iterable[Mapping[str, str]]) -> Mapping[str, Reach]:
    """Build the guidance on overhang from the rows of the table "bar_reach", by bar material."""
    return {
        row["material"]: Reach(
            material=row["material"],
            low=float(row["low"]),
            high=float(row["high"]),
            source=row["source"],
            note=row["note"],
        )
        for row in rows
    }


def reach_words(overhang_mm: float, DCON_mm: float, reach: Reach) -> str:
    """Say how a bar's overhang stands against the guidance; empty where it is well inside.

    Args:
        overhang_mm: from the clamp to the tip.
        DCON_mm: diameter.
        reach: the guidance for its material.
    """
    ratio = overhang_mm / DCON_mm
    if ratio <= reach.low:
        return ""
    band = f"{reach.low:g}" + (f" to {reach.high:g}" if reach.high > reach.low else "")
    doubt = "past" if ratio > reach.high else "at the end of"
    return f"the bar stands out {ratio:.3g} diameters, {doubt} what {reach.material} takes ({band})"
