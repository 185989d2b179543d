"""How fast a facing head may turn: by the machine's record only, never by a number of ours."""

from math import inf

from crib.store.rows import MachineRow
from crib.trade.cutting.spindle import spindle_speed

HEAD_OPERATIONS = ("turning", "facing", "boring")  # those that a tool in the head's slide does


def turns(machine: MachineRow | None, operation: str) -> bool:
    """Whether the tool would turn in the machine's facing head, off its centre."""
    return machine is not None and machine.facing_head and operation in HEAD_OPERATIONS


def limit_unknown(machine: MachineRow) -> bool:
    """Whether no limit of the head is on record."""
    return machine.head_speed_limit_rev_min is None and machine.head_tangential_limit_m_min is None


def limit(machine: MachineRow, d_mm: float) -> tuple[float, str]:
    """Give the fastest that the head may turn where the tool cuts at a diameter.

    Args:
        machine: a machine with a facing head.
        d_mm: where the tool cuts.

    Returns:
        rev/min and where that is from; infinite where no limit is on record.
    """
    found = [(inf, "")]
    if machine.head_speed_limit_rev_min is not None:
        found.append((machine.head_speed_limit_rev_min, "the facing head's limit on record"))
    tangential = machine.head_tangential_limit_m_min
    if tangential is not None:
        said = f"{tangential:.4g} m/min where it cuts is the facing head's limit on record"
        found.append((spindle_speed(tangential, d_mm), said))
    return min(found)


def held(machine: MachineRow, n_rev_min: float, d_mm: float) -> tuple[float, tuple[str, ...]]:
    """Hold a spindle speed to the head's own limits.

    Returns:
        The speed, not above what is on record, and what to say of it.
    """
    most, why = limit(machine, d_mm)
    return (n_rev_min, ()) if n_rev_min <= most else (most, (f"held to {most:.4g} rev/min: {why}",))
