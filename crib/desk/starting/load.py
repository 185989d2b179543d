"""What a cut asks of the machine: power with its reserve, and a drill's torque and thrust."""

from dataclasses import dataclass

from crib.desk import tables
from crib.desk.keeping.sources import cite
from crib.desk.picking.job import efficiency
from crib.errors import NotPossible
from crib.store.rows import MachineRow
from crib.trade.cutting.drilling import (
    STANDARD_CHISEL,
    STANDARD_POINT_DEG,
    DrillLoad,
    chisel_edge,
    drill_work_for,
    drilling_power_kW,
    handbook_load,
    kienzle_load,
)
from crib.trade.cutting.force_factors import ForceFactor
from crib.trade.cutting.materials import Material
from crib.trade.cutting.power import PowerReserve, power_from_kc_kW, power_reserve
from crib.trade.tables import rows
from crib.units import Kind, show, span

HSS_LIKE = ("HSS", "cobalt HSS", "cast cobalt")
WEAR_OF_CUT = {
    "finish": "finish turning",
    "medium": "rough turning",
    "rough": "rough turning",
    "heavy rough": "heavy rough turning",
}
WORDS = {
    "enough": "enough",
    "close": "close: it may stall when the edge is worn or the work is at the hard end",
    "too little": "too little, even sharp",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Power:
    """Power at the edge against what the motor brings there.

    Attributes:
        needed_kW: sharp, by the specific force reckoned with.
        needed_high_kW: worn, by the highest specific force of the sources.
        at_edge_kW: what the motor brings; None where none is on record.
        reserve: at_edge over needed; None likewise.
        verdict: enough, close or too little; empty likewise.
        source: where the worn edge, the reserve and the force are from.
        said: in a sentence.
    """

    needed_kW: float
    needed_high_kW: float
    at_edge_kW: float | None
    reserve: float | None
    verdict: str
    source: tuple[str, ...]
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Drill:
    """What a twist drill asks of machine and work, over two ways of reckoning.

    Attributes:
        M_low_Nm, M_high_Nm: torque: sharp by the lower way, worn by the higher.
        thrust_low_N, thrust_high_N: along the drill, likewise.
        Pc_low_kW, Pc_high_kW: power; None without a spindle speed.
        kienzle: sharp, by the specific cutting force; None where none is on record.
        handbook: sharp, by the handbook's factors; None where it prints none for the material.
        handbook_work: the line of the handbook's table that was taken; empty likewise.
        wear: factor of usual wear.
        source: where both are from.
        said: in sentences.
    """

    M_low_Nm: float
    M_high_Nm: float
    thrust_low_N: float
    thrust_high_N: float
    Pc_low_kW: float | None
    Pc_high_kW: float | None
    kienzle: DrillLoad | None
    handbook: DrillLoad | None
    handbook_work: str
    wear: float
    source: tuple[str, ...]
    said: tuple[str, ...]


def force_factor(name: str, case: str) -> ForceFactor:
    """Give one correction of the cutting force."""
    return tables.force_factors().of(name, case)


def power_of(
    needed_kW: float, material: Material, cut: str, machine: MachineRow | None, system: str
) -> Power:
    """Weigh the power of a cut against the machine's motor.

    Args:
        needed_kW: at the edge, sharp.
        material: what is cut, with the band of its sources.
        cut: kind of cut, for how worn the edge gets; "drilling" for a drill.
        machine: what is known of it.
        system: units of the user, for the words.
    """
    wear = force_factor("wear", WEAR_OF_CUT.get(cut, cut))
    wanted = force_factor("reserve", "power")
    band = max((material.kc_high_N_mm2 or 1.0) / (material.kc11_N_mm2 or 1.0), 1.0)
    keys = " ".join((wear.source, wanted.source, material.kc_band_source))
    source = tuple(dict.fromkeys(cite(key) for key in keys.split()))
    high_kW = needed_kW * band * wear.high
    needed, high = (show(value, Kind.POWER, system, both=False) for value in (needed_kW, high_kW))
    said = f"{needed} at the edge sharp, up to {high} worn and by the highest force on record"
    if machine is None or not machine.power_kw:
        return Power(
            needed_kW=needed_kW,
            needed_high_kW=high_kW,
            at_edge_kW=None,
            reserve=None,
            verdict="",
            source=source,
            said=f"{said}; the machine's power is not known",
        )
    found = power_reserve(
        needed_kW,
        machine.power_kw,
        efficiency(machine),
        kc_band_high=band,
        wear_high=wear.high,
        wanted=wanted.high,
    )
    return _weighed(found, said, source, system)


def _weighed(found: PowerReserve, said: str, source: tuple[str, ...], system: str) -> Power:
    brings = show(found.at_edge_kW, Kind.POWER, system, both=False)
    return Power(
        needed_kW=found.needed_kW,
        needed_high_kW=found.needed_high_kW,
        at_edge_kW=found.at_edge_kW,
        reserve=found.reserve,
        verdict=found.verdict,
        source=source,
        said=f"{said}; the motor brings {brings}: {WORDS[found.verdict]}",
    )


def turning_power_kW(material: Material, vc_m_min: float, f_mm: float, ap_mm: float) -> float | None:
    """Give the power of a turning cut at a 90° edge without corrections; None without a specific force."""
    try:
        kc11, mc = material.kienzle()
    except NotPossible:
        return None
    return power_from_kc_kW(ap_mm, f_mm, vc_m_min, kc11 * f_mm**-mc)


def drill_of(
    material: Material,
    hb: float | None,
    tool: str,
    d_mm: float,
    f_mm: float,
    n_rev_min: float | None,
    system: str,
) -> Drill | None:
    """Give torque, thrust and power of a twist drill into the solid; None where nothing is on record.

    Args:
        material: what is drilled.
        hb: its hardness as told.
        tool: tool material.
        d_mm: diameter of the drill.
        f_mm: feed per revolution.
        n_rev_min: spindle speed; None where it is not known.
        system: units of the user, for the words.
    """
    kienzle = _kienzle(material, tool, d_mm, f_mm)
    handbook, work = _handbook(material, hb, d_mm, f_mm)
    loads = [load for load in (kienzle, handbook) if load is not None]
    if not loads:
        return None
    wear = force_factor("wear", "drilling")
    low, high = min(load.M_Nm for load in loads), max(load.M_Nm for load in loads) * wear.high
    thrust = (
        min(load.thrust_low_N for load in loads),
        max(load.thrust_high_N for load in loads) * wear.high,
    )
    powers = [drilling_power_kW(M_Nm, n_rev_min) if n_rev_min else None for M_Nm in (low, high)]
    keys = " ".join((*(load.source for load in loads), wear.source))
    said = [
        f"torque {_band(low, high, Kind.TORQUE, system)}, thrust {_band(*thrust, Kind.FORCE, system)}: "
        f"from a sharp drill by the lower way of reckoning to a worn one by the higher"
    ]
    if handbook is None:
        said.append(f"the handbook prints no drilling factor for {material.label}: by its cutting force")
    elif kienzle is None:
        said.append("no cutting force is on record: by the handbook's factors alone")
    return Drill(
        M_low_Nm=low,
        M_high_Nm=high,
        thrust_low_N=thrust[0],
        thrust_high_N=thrust[1],
        Pc_low_kW=powers[0],
        Pc_high_kW=powers[1],
        kienzle=kienzle,
        handbook=handbook,
        handbook_work=work,
        wear=wear.high,
        source=tuple(dict.fromkeys(cite(key) for key in keys.split())),
        said=tuple(said),
    )


def drill_correction(tool: str) -> tuple[ForceFactor, ForceFactor]:
    """Give the corrections of a drill's specific force: the operation, and the tool material."""
    return (
        force_factor("operation", "drilling"),
        force_factor("tool material", "HSS" if tool in HSS_LIKE else "carbide"),
    )


def _kienzle(material: Material, tool: str, d_mm: float, f_mm: float) -> DrillLoad | None:
    try:
        kc11, mc = material.kienzle()
    except NotPossible:
        return None
    operation, edge = drill_correction(tool)
    return kienzle_load(
        d_mm, f_mm, kc11, mc, point_deg=STANDARD_POINT_DEG, correction=operation.high * edge.high
    )


def _handbook(material: Material, hb: float | None, d_mm: float, f_mm: float) -> tuple[DrillLoad | None, str]:
    work = drill_work_for(material, hb, rows)
    if work is None:
        return None, ""
    return handbook_load(d_mm, f_mm, work, chisel_edge(STANDARD_CHISEL, rows)), work.name


def _band(low: float, high: float, kind: Kind, system: str) -> str:
    return span(*(show(end, kind, system, both=False) for end in (low, high)))
