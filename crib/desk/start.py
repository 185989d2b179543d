"""Where to start: speed, feed and depth for a material and a tool material, from the tables."""

from dataclasses import dataclass

from crib.desk import tables
from crib.desk.job import machine_of, operation_of, speeds_of
from crib.desk.sources import cite
from crib.errors import InputError
from crib.store.read import reading
from crib.store.rows import MachineRow
from crib.trade.cautions import DEFER, triggered
from crib.trade.cutting.materials import find_material
from crib.trade.cutting.speeds import CUTS, Range, find_tool_material, starting_data
from crib.trade.cutting.spindle import MachineSpeeds, nearest_feed_not_above, nearest_not_above, spindle_speed
from crib.units import Kind, read

USUAL_CUT = "medium"


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """Starting data; keys as in the contract.

    Attributes:
        material: as found.
        tool: tool material whose data they are.
        op: operation.
        cut: finish, medium, rough or heavy rough.
        vc_m_min: cutting speed: range and where to start.
        n_rev_min: spindle speed, of the machine's own where it is on record; None without a diameter.
        f_mm: feed.
        machine_f_mm: the machine's feed not above the start; None where none is on record.
        ap_mm: depth of a pass, on the side.
        source: where the numbers come from.
        assumed: what was taken for granted.
        notes: what else the sources say.
        cautions: what to mind.
    """

    material: str
    tool: str
    op: str
    cut: str
    vc_m_min: Range
    n_rev_min: float | None
    f_mm: Range
    machine_f_mm: float | None
    ap_mm: Range
    source: tuple[str, ...]
    assumed: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    defer: str = DEFER


def start(
    address: str,
    *,
    material: str,
    tool: str,
    op: str,
    cut: str = USUAL_CUT,
    diameter: str = "",
    machine: str = "",
    scale: bool = False,
    interrupted: bool = False,
    system: str = "metric",
) -> Start:
    """Give speed, feed and depth to start with.

    Args:
        address: the store; only opened when a machine is named.
        material: any name of the work material.
        tool: tool material: HSS, carbide, coated carbide, …
        op: turn, face or bore.
        cut: finish, medium, rough or heavy rough.
        diameter: where it cuts, as typed.
        machine: a machine on record, for the speeds that it has.
        scale: hard skin.
        interrupted: interrupted cut.
        system: "metric" or "inch": what a bare number means.

    Raises:
        InputError: a word or size that is not known or can't be read.
        StoreError: a machine is named and the store can't be used.
    """
    found = find_material(material, tables.materials())
    operation = operation_of(op)
    conditions = (*["scale"] * scale, *["interrupted"] * interrupted)
    data = starting_data(
        found,
        find_tool_material(tool, tables.speeds()),
        operation,
        cut,
        tables.speeds(),
        conditions=conditions,
    )
    row = _machine(address, machine)
    n_rev_min, said = _spindle(data.vc_m_min.start, diameter, row, system)
    feeds = MachineSpeeds(steps=row.feeds_mm) if row and row.feeds_mm else None
    triggers = {row.kind} if row else set()
    triggers |= {"scale or interrupted"} if conditions else set()
    return Start(
        material=found.label,
        tool=data.tool_material,
        op=operation,
        cut=cut,
        vc_m_min=data.vc_m_min,
        n_rev_min=n_rev_min,
        f_mm=data.f_mm,
        machine_f_mm=nearest_feed_not_above(data.f_mm.start, feeds).value if feeds else None,
        ap_mm=data.ap_mm,
        source=tuple(cite(key) for key in data.sources),
        assumed=(*data.assumed, *said),
        notes=data.notes,
        cautions=tuple(caution.text for caution in triggered(triggers, tables.cautions())),
    )


def cuts() -> tuple[str, ...]:
    """Give the kinds of cut that may be asked for."""
    return CUTS


def _machine(address: str, name: str) -> MachineRow | None:
    if not name:
        return None
    with reading(address) as reader:
        return machine_of(name, reader.machines())


def _spindle(
    vc_m_min: float, diameter: str, machine: MachineRow | None, system: str
) -> tuple[float | None, tuple[str, ...]]:
    """Give the spindle speed, and what to know of it."""
    if not diameter:
        return None, ("diameter not told: no spindle speed",)
    d_mm = read(diameter, Kind.LENGTH, system).value
    if d_mm <= 0:
        raise InputError(f"a diameter of {diameter} can't be", "it must be more than zero")
    wanted = spindle_speed(vc_m_min, d_mm)
    speeds = speeds_of(machine)
    if speeds is None:
        return wanted, ("machine not told, or its speeds not on record: the speed is not one of its steps",)
    chosen = nearest_not_above(wanted, speeds)
    return chosen.value, (chosen.note,) if chosen.note else ()
