"""A boring bar as a spring: how stiff its tip is, how it rings, and how far it may stand out."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from math import inf, pi, sqrt

from crib.errors import InputError, UnknownName

TIP_SHARE = 3.0 / 1.875104**4
"""Part of a bar's mass that swings with its tip in the first mode: 0.2427."""


_HALVINGS = 40
_AS_ROUND = (64.0 / (12.0 * pi)) ** 0.25
"""Diameter of the round bar that bends like a square one, over its side: pi d⁴ / 64 = a⁴ / 12."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarMaterial:
    """What a bar, or round work, is made of: modulus of elasticity with its band, and density."""

    name: str
    E_N_mm2: float
    E_low_N_mm2: float
    E_high_N_mm2: float
    rho_kg_m3: float
    source: str


def load_bar_materials(rows: Iterable[Mapping[str, str]]) -> Mapping[str, BarMaterial]:
    """Build the bar materials from the rows of the table "bar_materials", by name."""
    return {
        row["material"]: BarMaterial(
            name=row["material"],
            E_N_mm2=float(row["E_N_mm2"]),
            E_low_N_mm2=float(row["E_low_N_mm2"]),
            E_high_N_mm2=float(row["E_high_N_mm2"]),
            rho_kg_m3=float(row["rho_kg_m3"]),
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
        The ideal value by bending alone, as handbooks reckon it: `tip_stiffness` counts shear too.

    Raises:
        InputError: a size or modulus that can't be.

    Source: cantilever, k = 3 E I / L³ with I = pi d⁴ / 64 (elementary beam theory).
    """
    _check_sizes(DCON_mm, overhang_mm)
    if not 0.0 < E_N_mm2 < inf:
        raise InputError(f"a bar's modulus of {E_N_mm2:g} can't be", "it must be more than zero")
    return 3.0 * E_N_mm2 * second_moment_mm4(DCON_mm, bore_mm) / overhang_mm**3


def tip_stiffness(DCON_mm: float, overhang_mm: float, E_N_mm2: float, bore_mm: float = 0.0) -> float:
    """Give the stiffness at the tip of a round bar by bending and shear, in N/mm; its clamp gives nothing.

    Args:
        DCON_mm: diameter.
        overhang_mm: from the clamp to the tip.
        E_N_mm2: modulus of elasticity.
        bore_mm: diameter of a hole along it; 0 for a solid bar.

    Raises:
        InputError: a size or modulus that can't be.

    Source: Timoshenko's beam: what bends and what shears give one after the other.
    """
    bends = bar_stiffness(DCON_mm, overhang_mm, E_N_mm2, bore_mm)
    return bends / (1.0 + shear_share(DCON_mm, overhang_mm, bore_mm))


def shank_stiffness(side_mm: float, overhang_mm: float, E_N_mm2: float) -> float:
    """Give the stiffness at the tip of a square shank by bending and shear, in N/mm; its clamp gives nothing.

    Args:
        side_mm: of the square; of a rectangle the lesser, to be careful.
        overhang_mm: from the clamp to the tip.
        E_N_mm2: modulus of elasticity.

    Raises:
        InputError: a size or modulus that can't be.

    Source: Timoshenko's beam with I = a⁴ / 12, shear coefficient 5/6, E/G 2.6.
    """
    round_mm = side_mm * _AS_ROUND
    bends = bar_stiffness(round_mm, overhang_mm, E_N_mm2)
    return bends / (1.0 + 3.0 * 2.6 / 12.0 / (5.0 / 6.0) * (side_mm / overhang_mm) ** 2)


def shank_mass_kg(side_mm: float, overhang_mm: float, rho_kg_m3: float) -> float:
    """Give the mass of the part of a square shank that stands out."""
    _check_sizes(side_mm, overhang_mm)
    return side_mm**2 * overhang_mm * rho_kg_m3 * 1e-9


def overhang_for(k_N_mm: float, stiffness: Callable[[float], float], most_mm: float) -> float:
    """Give the longest overhang at which a bar or shank is still so stiff, in mm, and no more than the most.

    Args:
        k_N_mm: stiffness wanted at its tip.
        stiffness: that at an overhang in mm; it falls as the overhang grows.
        most_mm: overhang to stay under.
    """
    short, long = 0.0, most_mm
    if stiffness(long) >= k_N_mm:
        return long
    for _ in range(_HALVINGS):
        middle = (short + long) / 2.0
        if stiffness(middle) >= k_N_mm:
            short = middle
        else:
            long = middle
    return short


def shear_share(DCON_mm: float, overhang_mm: float, bore_mm: float = 0.0) -> float:
    """Give the deflection by shear over that by bending: what a short bar gives on top.

    Args:
        DCON_mm: diameter.
        overhang_mm: from the clamp to the tip.
        bore_mm: diameter of a hole along it.

    Source: 3 E I / (kappa G A L²) with kappa 0.9 for a round section and E/G = 2.6 (Timoshenko's beam); for a
    solid bar 0.54 (d/L)².
    """
    _check_sizes(DCON_mm, overhang_mm)
    second_moment_mm4(DCON_mm, bore_mm)
    return 3.0 * 2.6 * (DCON_mm**2 + bore_mm**2) / 16.0 / (0.9 * overhang_mm**2)


def bar_mass_kg(DCON_mm: float, overhang_mm: float, rho_kg_m3: float, bore_mm: float = 0.0) -> float:
    """Give the mass of the part of a bar that stands out."""
    _check_sizes(DCON_mm, overhang_mm)
    return pi * (DCON_mm**2 - bore_mm**2) / 4.0 * overhang_mm * rho_kg_m3 * 1e-9


def bar_frequency_hz(k_N_mm: float, bar_kg: float, head_kg: float = 0.0) -> float:
    """Give the natural frequency of a bar clamped at one end, with a mass at its tip.

    Args:
        k_N_mm: stiffness at its tip.
        bar_kg: mass of the part that stands out.
        head_kg: mass at the tip: head, cartridge, insert.

    Source: one mode, sqrt(k / (M + 0.2427 m)) / 2 pi; without a head that is the first mode of the bar by
    itself, (1.8751² / 2 pi) sqrt(E I / (rho A L⁴)) (texts on vibration; Rayleigh's approximation: 33/140).
    """
    swings = head_kg + TIP_SHARE * bar_kg
    if not (k_N_mm > 0.0 and bar_kg >= 0.0 and head_kg >= 0.0 and swings > 0.0):
        raise InputError(f"stiffness {k_N_mm:g} N/mm with {swings:g} kg can't ring", "give figures above 0")
    return sqrt(1000.0 * k_N_mm / swings) / (2.0 * pi)


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


def _check_sizes(DCON_mm: float, overhang_mm: float) -> None:
    for what, value in (("diameter", DCON_mm), ("overhang", overhang_mm)):
        if not 0.0 < value < inf:
            raise InputError(f"a bar's {what} of {value:g} can't be", "it must be more than zero")
