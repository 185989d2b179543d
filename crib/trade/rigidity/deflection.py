"""What bending does to size: the error that the passive force leaves, taper, and copied errors.

A tool set for a depth takes less, because it is pushed away: the work stays large, or the bore small. Where
the stock is uneven the push is uneven too, and a part of the unevenness is copied onto the finished work.

Source: keys bar_beams, bar_copying.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil, isfinite, log, pi, sqrt

from crib.errors import InputError, UnknownName
from crib.trade.cutting.force import ForceModel, Work, cutting_forces
from crib.trade.cutting.tool import CuttingTool
from crib.trade.rigidity.bars import second_moment_mm4

BEAM_SOURCE = "bar_beams"
COPY_SOURCE = "bar_copying"
HELD = ("chuck", "centres", "chuck and centre")
_STATIONS = 200
_STEP = 0.02
"""Part of the depth by which the slope of the passive force is felt for, up and down."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taper:
    """How a turned bar comes out over its length, on diameter.

    Attributes:
        most_mm: largest error on diameter: the work is this much too large there.
        at_mm: where, from the chuck (from the headstock between centres).
        spread_mm: largest less smallest error over the length: the taper or the barrel.
    """

    most_mm: float
    at_mm: float
    spread_mm: float


def size_error_mm(Fp_N: float, k_N_mm: float, *, on_diameter: bool = True) -> float:
    """Give the error that bending leaves: how much too large the work stays, or too small the bore.

    Args:
        Fp_N: passive force; negative draws the tool in and cuts too deep.
        k_N_mm: stiffness of tool, work and machine one behind the other, square to the work.
        on_diameter: count both sides.

    Raises:
        InputError: a stiffness that isn't positive.
    """
    _positive("a stiffness", k_N_mm)
    return (2.0 if on_diameter else 1.0) * Fp_N / k_N_mm


def cut_stiffness_N_mm(ap_mm: float, f_mm: float, tool: CuttingTool, work: Work, model: ForceModel) -> float:
    """Give how fast the passive force grows with depth, in N per mm of depth.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: what cuts.
        work: what is cut.
        model: the force model's constants.

    Raises:
        InputError: a value that can't be.
    """
    step = ap_mm * _STEP
    more = cutting_forces(ap_mm + step, f_mm, tool, work, model).Fp_N
    less = cutting_forces(ap_mm - step, f_mm, tool, work, model).Fp_N
    return (more - less) / (2.0 * step)


def copied_share(cut_N_mm: float, k_N_mm: float) -> float:
    """Give the share of an error in the stock that one pass leaves: k_c / (k + k_c).

    Args:
        cut_N_mm: growth of the passive force per mm of depth; below 0 counts as 0: nothing is copied.
        k_N_mm: stiffness square to the work.

    Raises:
        InputError: a stiffness that isn't positive.
    """
    _positive("a stiffness", k_N_mm)
    grows = max(0.0, cut_N_mm)
    return grows / (k_N_mm + grows)


def copied_error_mm(error_mm: float, cut_N_mm: float, k_N_mm: float, passes: int = 1) -> float:
    """Give what is left of an error in the stock (out of round, taper, a step) after a number of passes.

    Args:
        error_mm: of the stock.
        cut_N_mm: growth of the passive force per mm of depth.
        k_N_mm: stiffness square to the work.
        passes: number of passes.

    Raises:
        InputError: a stiffness that isn't positive, or a negative number of passes.
    """
    if passes < 0:
        raise InputError(f"{passes} passes can't be", "give 0 or more")
    return float(error_mm * copied_share(cut_N_mm, k_N_mm) ** passes)


def passes_to_true(error_mm: float, allowed_mm: float, cut_N_mm: float, k_N_mm: float) -> int:
    """Give how many passes bring an error in the stock down to what is allowed.

    Args:
        error_mm: of the stock.
        allowed_mm: what may be left.
        cut_N_mm: growth of the passive force per mm of depth.
        k_N_mm: stiffness square to the work.

    Raises:
        InputError: a value that isn't positive.
    """
    _positive("an error", error_mm)
    _positive("an allowed error", allowed_mm)
    if error_mm <= allowed_mm:
        return 0
    share = copied_share(cut_N_mm, k_N_mm)
    return 1 if share * error_mm <= allowed_mm else ceil(log(allowed_mm / error_mm) / log(share) - 1e-9)


def work_give_mm(
    F_N: float, d_mm: float, length_mm: float, at_mm: float, E_N_mm2: float, held: str, bore_mm: float = 0.0
) -> float:
    """Give how far a round bar of work bends under the tool.

    Args:
        F_N: force square to it.
        d_mm: diameter.
        length_mm: free length: from the chuck to its end, or between the holding points.
        at_mm: where the tool stands, from the chuck (headstock).
        E_N_mm2: modulus of elasticity.
        held: "chuck" (free end), "centres", or "chuck and centre".
        bore_mm: hole along it.

    Returns:
        Deflection in mm of the bar alone: chuck and centres give too.

    Raises:
        InputError: sizes that can't be.
        UnknownName: no such way of holding.
    """
    for what, value in (("a diameter", d_mm), ("a length", length_mm), ("a modulus", E_N_mm2)):
        _positive(what, value)
    if not 0.0 <= at_mm <= length_mm:
        raise InputError(f"a tool at {at_mm:g} mm isn't on {length_mm:g} mm of work", "give a place on it")
    shape = _SHAPES.get(held)
    if shape is None:
        raise UnknownName("way of holding", held, HELD)
    return F_N * shape(at_mm, length_mm) / (E_N_mm2 * second_moment_mm4(d_mm, bore_mm))


def weakest_mm(length_mm: float, held: str) -> float:
    """Give the place at which work bends most under the tool, from the chuck (headstock).

    Raises:
        UnknownName: no such way of holding.
    """
    if held not in _WEAKEST:
        raise UnknownName("way of holding", held, HELD)
    return _WEAKEST[held] * length_mm


def work_frequency_hz(
    d_mm: float, length_mm: float, E_N_mm2: float, rho_kg_m3: float, held: str, bore_mm: float = 0.0
) -> float:
    """Give the first bending frequency of round work.

    Args:
        d_mm: diameter.
        length_mm: free length.
        E_N_mm2: modulus of elasticity.
        rho_kg_m3: density.
        held: as in `work_give_mm`.
        bore_mm: hole along it.

    Raises:
        InputError: sizes that can't be.
        UnknownName: no such way of holding.

    Source: (beta² / 2 pi) sqrt(E I / (rho A L⁴)), beta 1.8751 clamped and free, pi held at both ends, 3.9266
    clamped and held (any text on vibration).
    """
    for what, value in (("a diameter", d_mm), ("a length", length_mm), ("a modulus", E_N_mm2)):
        _positive(what, value)
    if held not in _ROOTS:
        raise UnknownName("way of holding", held, HELD)
    # E in N/mm² and rho in kg/m³ make the square of a speed in m/s when E is taken in N/m²
    radius_m2 = second_moment_mm4(d_mm, bore_mm) / (pi / 4.0 * (d_mm**2 - bore_mm**2)) * 1e-6
    length_m = length_mm / 1000.0
    return _ROOTS[held] ** 2 / (2.0 * pi) * sqrt(E_N_mm2 * 1e6 * radius_m2 / rho_kg_m3) / length_m**2


def taper(
    Fp_N: float, d_mm: float, length_mm: float, E_N_mm2: float, held: str, bore_mm: float = 0.0
) -> Taper:
    """Give the taper or barrel that a pass along the whole length leaves.

    Args:
        Fp_N: passive force.
        d_mm: diameter.
        length_mm: free length, all of it turned.
        E_N_mm2: modulus of elasticity of the work.
        held: as in `work_give_mm`.
        bore_mm: hole along it.

    Raises:
        InputError: sizes that can't be.
        UnknownName: no such way of holding.
    """
    places = [length_mm * station / _STATIONS for station in range(_STATIONS + 1)]
    errors = [2.0 * work_give_mm(Fp_N, d_mm, length_mm, at, E_N_mm2, held, bore_mm) for at in places]
    most = max(errors, key=abs)
    return Taper(most_mm=most, at_mm=places[errors.index(most)], spread_mm=max(errors) - min(errors))


# Deflection under a load at a, times E I / F (elementary beam theory).
_SHAPES: dict[str, Callable[[float, float], float]] = {
    "chuck": lambda a, length: a**3 / 3.0,
    "centres": lambda a, length: a**2 * (length - a) ** 2 / (3.0 * length),
    "chuck and centre": lambda a, length: a**3 * (length - a) ** 2 * (4.0 * length - a) / (12.0 * length**3),
}


_WEAKEST = {"chuck": 1.0, "centres": 0.5, "chuck and centre": 2.0 - sqrt(2.0)}
_ROOTS = {"chuck": 1.875104, "centres": pi, "chuck and centre": 3.926602}


def _positive(what: str, value: float) -> None:
    if not (value > 0.0 and isfinite(value)):
        raise InputError(f"{what} of {value:g} can't be", "it must be more than zero")
