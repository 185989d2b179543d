"""Torque, thrust, power and way of a twist drill.

Two ways of reckoning, kept apart: Kienzle's specific force of the work (both lips cut half the feed each),
and the handbook's factors after Shaw and Oxford, which also know the chisel edge. The handbook stands higher,
by half in small holes: show both as a band.

Source: keys drill_handbook, drill_kienzle; tables "drill_work" and "drill_point".
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import isfinite, pi, radians, sin, tan

from crib.errors import InputError, UnknownName
from crib.trade.cutting.materials import Material

Row = Mapping[str, str]

KIENZLE_SOURCE = "drill_kienzle"
HANDBOOK_SOURCE = "drill_handbook"
# Exponents of feed and diameter in the handbook's tables of factors, which are these powers to the printed
# digit (Machinery's Handbook, 31st edition, tables 8 and 9).
_FEED_POWER = 0.8
_THRUST_POWER = 0.8
_TORQUE_POWER = 1.8
_INCH_MM = 25.4
_LBF_N = 4.4482216152605
_LBF_IN_NM = _LBF_N * _INCH_MM / 1000.0
STANDARD_POINT_DEG = 118.0
STANDARD_CHISEL = 0.18
"""Chisel edge over diameter of a drill of standard design; a split point has 0.03 (handbook)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillLoad:
    """What a drill asks of machine and work.

    Attributes:
        M_Nm: torque.
        thrust_low_N, thrust_high_N: along the drill; the same where the source gives one figure.
        source: source keys.
    """

    M_Nm: float
    thrust_low_N: float
    thrust_high_N: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChiselEdge:
    """Factors of a chisel edge: A on torque; B and J on thrust."""

    A: float
    B: float
    J: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillWork:
    """Work-material factors Kd of the handbook for torque and thrust, sharp drill."""

    name: str
    Kd_torque: float
    Kd_thrust: float
    source: str


def kienzle_load(
    d_mm: float,
    f_mm: float,
    kc11_N_mm2: float,
    mc: float,
    *,
    point_deg: float = STANDARD_POINT_DEG,
    pilot_mm: float = 0.0,
    correction: float = 1.0,
) -> DrillLoad:
    """Give torque and thrust of a two-lipped drill from the specific force of the work.

    Args:
        d_mm: diameter of the drill.
        f_mm: feed per revolution.
        kc11_N_mm2: specific cutting force at h = b = 1 mm.
        mc: Kienzle's exponent.
        point_deg: point angle.
        pilot_mm: diameter of the hole that is there already; 0 into the solid.
        correction: product of the corrections wanted (table "force_factors": drilling, wear, tool material).

    Returns:
        M = kc f (D² - d²) / 8000; thrust 0.5 kc (D - d) / 2 f sin(half the point angle), and into the solid a
        further 30 to 60 % for the chisel edge.

    Raises:
        InputError: a value that can't be.
    """
    _positive("a drill diameter", d_mm)
    _positive("a feed", f_mm)
    _positive("a specific force", kc11_N_mm2)
    _positive("a correction", correction)
    if not 0.0 <= pilot_mm < d_mm:
        raise InputError(
            f"a pilot hole of {pilot_mm:g} mm can't be", f"it is smaller than the {d_mm:g} mm drill"
        )
    half = radians(_point(point_deg) / 2.0)
    h_mm = f_mm / 2.0 * sin(half)
    kc = kc11_N_mm2 * h_mm**-mc * correction
    thrust = 0.5 * kc * (d_mm - pilot_mm) / 2.0 * f_mm * sin(half)
    chisel_low, chisel_high = (1.0, 1.0) if pilot_mm > 0.0 else (1.3, 1.6)
    return DrillLoad(
        M_Nm=kc * f_mm * (d_mm**2 - pilot_mm**2) / 8000.0,
        thrust_low_N=thrust * chisel_low,
        thrust_high_N=thrust * chisel_high,
        source=KIENZLE_SOURCE,
    )


def handbook_load(
    d_mm: float, f_mm: float, work: DrillWork, edge: ChiselEdge, *, wear: float = 1.0
) -> DrillLoad:
    """Give torque and thrust of a twist drill into the solid by the handbook's factors.

    Args:
        d_mm: diameter of the drill.
        f_mm: feed per revolution.
        work: factors of the work material.
        edge: factors of the chisel edge.
        wear: 1 sharp, 1.3 for usual wear, 1.5 for hard work and a dull drill.

    Returns:
        T = 2 Kd f^0.8 D^0.8 B W + Kd D² J W and M = Kd f^0.8 D^1.8 A W, reckoned in inches and pounds as
        printed and turned into newtons exactly.

    Raises:
        InputError: a value that isn't positive.
    """
    _positive("a drill diameter", d_mm)
    _positive("a feed", f_mm)
    _positive("a wear factor", wear)
    d_in, f_in = d_mm / _INCH_MM, f_mm / _INCH_MM
    feed = f_in**_FEED_POWER
    along = 2.0 * feed * d_in**_THRUST_POWER * edge.B + d_in**2 * edge.J
    thrust = work.Kd_thrust * along * wear * _LBF_N
    torque = work.Kd_torque * feed * d_in**_TORQUE_POWER * edge.A * wear * _LBF_IN_NM
    return DrillLoad(
        M_Nm=torque, thrust_low_N=thrust, thrust_high_N=thrust, source=f"{HANDBOOK_SOURCE} {work.source}"
    )


def drill_work(name: str, rows: Callable[[str], tuple[Row, ...]]) -> DrillWork:
    """Give the handbook's factors of a work material.

    Raises:
        UnknownName: the table has no such material.
    """
    table = rows("drill_work")
    for row in table:
        if row["work"] == name:
            return DrillWork(
                name=name,
                Kd_torque=float(row["Kd_torque"]),
                Kd_thrust=float(row["Kd_thrust"]),
                source=row["source"],
            )
    raise UnknownName("drilled material", name, [row["work"] for row in table])


def drill_work_for(
    material: Material, hb: float | None, rows: Callable[[str], tuple[Row, ...]]
) -> DrillWork | None:
    """Give the handbook's factors that speak for a work material; None where it prints none.

    A row that names the material comes first, then one of its VDI 3323 group; of rows told apart by hardness
    the first that is not softer.

    Args:
        material: what is drilled.
        hb: its hardness as told; the middle of its usual band where None.
        rows: reader of one table by name.
    """
    if hb is None and material.hb_min is not None and material.hb_max is not None:
        hb = (material.hb_min + material.hb_max) / 2.0
    table = rows("drill_work")
    named = [row for row in table if material.id in row["materials"].split()]
    of_group = [row for row in table if str(material.vdi3323) in row["vdi3323"].split()]
    for row in (*named, *of_group):
        if not row["hb_most"] or (hb is not None and hb <= float(row["hb_most"])):
            return drill_work(row["work"], rows)
    return None


def chisel_edge(part: float, rows: Callable[[str], tuple[Row, ...]]) -> ChiselEdge:
    """Give the factors of a chisel edge, between the printed lines in proportion.

    Args:
        part: chisel edge over diameter: 0.18 standard, 0.03 split point.
        rows: reader of one table by name.

    Raises:
        InputError: outside the printed range.
    """
    table = [tuple(float(row[name]) for name in ("c_of_d", "A", "B", "J")) for row in rows("drill_point")]
    if not table[0][0] <= part <= table[-1][0]:
        raise InputError(
            f"a chisel edge of {part:g} of the diameter is not printed",
            f"{table[0][0]:g} (split point) to {table[-1][0]:g}; 0.18 is standard",
        )
    below = max(row for row in table if row[0] <= part)
    above = min(row for row in table if row[0] >= part)
    way = (part - below[0]) / (above[0] - below[0]) if above is not below else 0.0
    A, B, J = (low + way * (high - low) for low, high in zip(below[1:], above[1:], strict=True))
    return ChiselEdge(A=A, B=B, J=J)


def drilling_power_kW(M_Nm: float, n_rev_min: float) -> float:
    """Give the power in kW of a torque in N m at a spindle speed in rev/min: P = 2 pi n M / 60000."""
    return 2.0 * pi * n_rev_min * M_Nm / 60000.0


def drilling_removal_cm3_min(d_mm: float, f_mm: float, n_rev_min: float, pilot_mm: float = 0.0) -> float:
    """Give the removal rate in cm³/min: Q = pi (D² - d²) f n / 4000."""
    return pi * (d_mm**2 - pilot_mm**2) * f_mm * n_rev_min / 4000.0


def point_mm(d_mm: float, point_deg: float = STANDARD_POINT_DEG) -> float:
    """Give the height of the drill's point, which it travels beyond the full depth: 0.3 D at 118°.

    Args:
        d_mm: diameter of the drill.
        point_deg: point angle.

    Raises:
        InputError: a value that can't be.
    """
    _positive("a drill diameter", d_mm)
    return d_mm / 2.0 / tan(radians(_point(point_deg) / 2.0))


def drilling_way_mm(
    depth_mm: float, d_mm: float, *, point_deg: float = STANDARD_POINT_DEG, clearance_mm: float
) -> float:
    """Give the way of a drill at feed: full depth, its point, and the room left before and behind.

    Args:
        depth_mm: full-diameter depth; the thickness of the work for a through hole.
        d_mm: diameter of the drill; 0 for a reamer with no point: add its lead to the clearance.
        point_deg: point angle.
        clearance_mm: approach and overrun together; 1 to 3 mm each is usual.

    Raises:
        InputError: a value that can't be.
    """
    _positive("a depth of hole", depth_mm)
    if not clearance_mm >= 0.0:
        raise InputError(f"an approach of {clearance_mm:g} mm can't be", "give 0 or more")
    return depth_mm + clearance_mm + (point_mm(d_mm, point_deg) if d_mm else 0.0)


def _point(point_deg: float) -> float:
    if not 20.0 <= point_deg <= 180.0:
        raise InputError(f"a point angle of {point_deg:g}° can't be", "118° is standard; give 20° to 180°")
    return point_deg


def _positive(what: str, value: float) -> None:
    if not (value > 0.0 and isfinite(value)):
        raise InputError(f"{what} of {value:g} can't be", "it must be more than zero")
