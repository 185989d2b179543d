"""Cutting power, what the motor must give, spindle torque and removal rate.

Source: Pc = Fc vc and M = Fc D / 2 by definition; Machinery's Handbook, 31st edition, chapter on
machining power, for the efficiency and the removal rate (keys cut_machinery_efficiency,
cut_machinery_kp).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import pi

from crib.errors import InputError, UnknownName

Row = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerReserve:
    """What the motor has left, by the figure reckoned with and by the worst of the sources.

    Attributes:
        at_edge_kW: what the motor brings to the edge.
        needed_kW: power of the cut as reckoned.
        needed_high_kW: the same with the highest specific force of the sources and a worn edge.
        reserve: at_edge_kW over needed_kW.
        reserve_high: at_edge_kW over needed_high_kW.
        verdict: "enough": also by the worst figure, with the wanted reserve; "close": by the figure reckoned
            with, but not by the worst; "too little": not even sharp.
    """

    at_edge_kW: float
    needed_kW: float
    needed_high_kW: float
    reserve: float
    reserve_high: float
    verdict: str


def cutting_power_kW(Fc_N: float, vc_m_min: float) -> float:
    """Give the power at the edge in kW: Pc = Fc vc / 60000.

    Args:
        Fc_N: cutting force in N.
        vc_m_min: cutting speed in m/min.
    """
    return Fc_N * vc_m_min / 60000.0


def cutting_force_N(Pc_kW: float, vc_m_min: float) -> float:
    """Give the cutting force in N that a power in kW allows at a cutting speed in m/min.

    Raises:
        InputError: the speed isn't positive.
    """
    _positive("a cutting speed", vc_m_min)
    return Pc_kW * 60000.0 / vc_m_min


def power_from_kc_kW(ap_mm: float, f_mm: float, vc_m_min: float, kc_N_mm2: float) -> float:
    """Give the power at the edge in kW from the chip section: Pc = ap f vc kc / 60000.

    Args:
        ap_mm: depth of cut in mm, on the side.
        f_mm: feed in mm/rev.
        vc_m_min: cutting speed in m/min.
        kc_N_mm2: specific cutting force at this chip thickness, in N/mm2.
    """
    return cutting_power_kW(ap_mm * f_mm * kc_N_mm2, vc_m_min)


def power_from_removal_kW(removal_cm3_min: float, kc_N_mm2: float) -> float:
    """Give the power at the edge in kW from the removal rate in cm3/min and kc in N/mm2 (= J/cm3)."""
    return removal_cm3_min * kc_N_mm2 / 60000.0


def motor_power_kW(Pc_kW: float, efficiency: float) -> float:
    """Give the power that the motor must have.

    Args:
        Pc_kW: power at the edge in kW.
        efficiency: of the drive, more than 0 and at most 1.

    Raises:
        InputError: an efficiency outside 0 … 1.
    """
    if not 0.0 < efficiency <= 1.0:
        raise InputError(f"an efficiency of {efficiency:g} can't be", "give a part of 1, for example 0.75")
    return Pc_kW / efficiency


def power_reserve(
    Pc_kW: float, motor_kW: float, efficiency: float, *, kc_band_high: float, wear_high: float, wanted: float
) -> PowerReserve:
    """Weigh the power of a cut against what the motor brings to the edge.

    Args:
        Pc_kW: power at the edge as reckoned: sharp, with the specific force in use.
        motor_kW: rated power of the motor.
        efficiency: of the drive: its low end, where a band is known.
        kc_band_high: highest specific force of the sources over the one reckoned with; at least 1.
        wear_high: factor of a worn edge, high end; at least 1.
        wanted: reserve wanted on top of both; at least 1.

    Raises:
        InputError: a value that can't be.
    """
    _positive("a cutting power", Pc_kW)
    _positive("a motor power", motor_kW)
    for what, value in (("specific force", kc_band_high), ("wear", wear_high), ("reserve", wanted)):
        if not value >= 1.0:
            raise InputError(f"a factor of {value:g} for {what} can't be", "it is 1 or more")
    if not 0.0 < efficiency <= 1.0:
        raise InputError(f"an efficiency of {efficiency:g} can't be", "give a part of 1, for example 0.75")
    at_edge, worst = motor_kW * efficiency, Pc_kW * kc_band_high * wear_high
    verdict = "too little"
    if at_edge >= Pc_kW:
        verdict = "enough" if at_edge >= worst * wanted else "close"
    return PowerReserve(
        at_edge_kW=at_edge,
        needed_kW=Pc_kW,
        needed_high_kW=worst,
        reserve=at_edge / Pc_kW,
        reserve_high=at_edge / worst,
        verdict=verdict,
    )


def drive_efficiency(drive: str, rows: Callable[[str], tuple[Row, ...]]) -> tuple[float, float, str]:
    """Give the usual efficiency of a kind of drive.

    Args:
        drive: "direct belt", "back gears", "geared head", "oil-hydraulic" or "unknown".
        rows: reader of one table by name.

    Returns:
        Lowest and highest efficiency, and the source keys.

    Raises:
        UnknownName: no such drive in the table.
    """
    table = rows("drive_efficiency")
    for row in table:
        if row["drive"] == drive:
            return float(row["low"]), float(row["high"]), row["source"]
    raise UnknownName("kind of drive", drive, [row["drive"] for row in table])


def spindle_torque_Nm(Fc_N: float, d_mm: float) -> float:
    """Give the spindle torque in N m of a force in N at a diameter in mm: M = Fc D / 2000."""
    return Fc_N * d_mm / 2000.0


def torque_from_power_Nm(Pc_kW: float, n_rev_min: float) -> float:
    """Give the torque in N m of a power in kW at a spindle speed in rev/min: M = 60000 Pc / (2 pi n).

    Raises:
        InputError: the spindle speed isn't positive.
    """
    _positive("a spindle speed", n_rev_min)
    return Pc_kW * 60000.0 / (2.0 * pi * n_rev_min)


def removal_rate_cm3_min(vc_m_min: float, f_mm: float, ap_mm: float) -> float:
    """Give the removal rate in cm3/min the handbook way: Q = vc f ap.

    Reckons with the speed at the uncut diameter, so it overstates by the part ap / D.

    Args:
        vc_m_min: cutting speed in m/min.
        f_mm: feed in mm/rev.
        ap_mm: depth of cut in mm, on the side.
    """
    return vc_m_min * f_mm * ap_mm


def removal_rate_exact_cm3_min(from_mm: float, to_mm: float, f_mm: float, n_rev_min: float) -> float:
    """Give the removal rate in cm3/min from the ring that is cut away each turn.

    Args:
        from_mm: diameter before the cut, in mm.
        to_mm: diameter after it, in mm; larger than before when boring.
        f_mm: feed in mm/rev.
        n_rev_min: spindle speed in rev/min.
    """
    return abs(from_mm**2 - to_mm**2) * pi / 4.0 * f_mm * n_rev_min / 1000.0


def _positive(what: str, value: float) -> None:
    if not value > 0:
        raise InputError(f"{what} of {value:g} can't be", "it must be more than zero")
