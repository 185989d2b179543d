"""Process damping: at a slow cutting speed the flank rubs on the waves and stops them growing.

The flank presses against a wave in proportion to its slope, that is to vibration speed over cutting speed,
and to the length of edge that meets it: F = -(C b / v) x'. With it the limit for all speeds rises as the
cutting speed falls, and below one speed there is none. C grows with what lies flat on the flank, hone and
wear: a keen edge rubs less and has to run slower for the same. Trust the trend, within a factor of two.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import cos, inf, sin, sqrt

from crib.errors import TableError
from crib.trade.cutting.edge import engage
from crib.trade.cutting.tool import CuttingTool
from crib.trade.rigidity.chatter import process_damping_speed
from crib.trade.rigidity.setup import Gives


@dataclass(frozen=True, slots=True, kw_only=True)
class Rubbing:
    """How strongly an edge rubs on waves, in N/m: as reckoned with, and its band."""

    up_to_hone_um: float
    C_N_m: float
    low_N_m: float
    high_N_m: float
    source: str


def load_rubbing(rows: Iterable[Mapping[str, str]]) -> tuple[Rubbing, ...]:
    """Build from the rows of the table "process_damping", keenest edge first."""
    return tuple(
        sorted(
            (
                Rubbing(
                    up_to_hone_um=float(row["up_to_hone_um"]),
                    C_N_m=float(row["C_N_m"]),
                    low_N_m=float(row["low_N_m"]),
                    high_N_m=float(row["high_N_m"]),
                    source=row["source"],
                )
                for row in rows
            ),
            key=lambda one: one.up_to_hone_um,
        )
    )


def rubbing_of(hone_um: float, known: Iterable[Rubbing]) -> Rubbing:
    """Give the rubbing of an edge by its rounding.

    Raises:
        TableError: no row reaches so far.
    """
    for one in known:
        if hone_um <= one.up_to_hone_um:
            return one
    raise TableError(f"table process_damping: no row for a rounding of {hone_um:g} µm")


def contact_mm(ap_mm: float, f_mm: float, tool: CuttingTool, gives: Gives) -> float:
    """Give the length of edge that meets the waves, each piece by how squarely it does, in mm.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: what cuts.
        gives: direction of the vibration; motion along the cutting speed slides along the flank: 0.

    Raises:
        InputError: a depth, feed, nose or entering angle that can't be.
    """
    edge = engage(ap_mm, f_mm, tool.RE_mm, tool.KAPR_deg)
    return sum(
        (gives.away * cos(piece.kappa_rad) + gives.along * sin(piece.kappa_rad)) ** 2 * piece.dl_mm
        for piece in edge.pieces
    )


def quiet_speed(
    K_N_mm: float, contact: float, frequency_hz: float, damping_ratio: float, C_N_m: float
) -> float:
    """Give the cutting speed below which rubbing stops all chatter, in m/min; 0 where it does nothing.

    Args:
        K_N_mm: regenerative stiffness of the cut.
        contact: length of edge that meets the waves, in mm.
        frequency_hz: natural frequency of the set-up.
        damping_ratio: its damping.
        C_N_m: rubbing of the edge.

    Returns:
        Infinite for a cut that does not regenerate.
    """
    if contact <= 0.0:
        return 0.0
    if K_N_mm == 0.0:
        return inf
    return process_damping_speed(frequency_hz, damping_ratio, abs(K_N_mm) / contact, C_N_m)


def damped_gain(vc_m_min: float, quiet_m_min: float, damping_ratio: float) -> float:
    """Give how many times further from chatter a cut is at a cutting speed than without rubbing.

    Args:
        vc_m_min: the cutting speed.
        quiet_m_min: from `quiet_speed`.
        damping_ratio: of the set-up.

    Returns:
        1 at high speed; infinite at or below the quiet speed.

    Source: absolute limit of one mode with damping c + C b / v, solved for b (key rig_process_damping).
    """
    if vc_m_min <= quiet_m_min:
        return inf
    zeta = damping_ratio
    # A = C w / (Ks v); at the quiet speed A (sqrt(zeta) + sqrt(1 + zeta))^2 = 1
    A = quiet_m_min / vc_m_min / (sqrt(zeta) + sqrt(1.0 + zeta)) ** 2
    if A == 0.0:
        return 1.0
    rest = 1.0 - A * (1.0 + 2.0 * zeta)
    product = 4.0 * A * A * zeta * (1.0 + zeta)
    return 2.0 / (rest + sqrt(max(0.0, rest * rest - product)))
