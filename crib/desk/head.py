"""How fast a facing head may turn: by the machine's record only, never by a number of ours."""

from crib.store.rows import MachineRow
from crib.trade.cutting.spindle import cutting_speed, spindle_speed

HEAD_OPERATIONS = ("turning", "facing", "boring")  # those that a tool in the head's slide does


def turns(machine: MachineRow | None, operation: str) -> bool:
    """Whether the tool would turn in the machine's facing head, off its centre."""
    return machine is not None and machine.facing_head and operation in HEAD_OPERATIONS


def limit_unknown(machine: MachineRow) -> bool:
    """Whether no limit of the head is on record."""
    return machine.head_speed_limit_rev_min is None and machine.head_tangential_limit_m_min is None


def held(machine: MachineRow, n_rev_min: float, d_mm: float) -> tuple[float, tuple[str, ...]]:
    """Hold a spindle speed to the head's own limits.

    Args:
        machine: a machine with a facing head.
        n_rev_min: the speed wanted.
        d_mm: where the tool cuts.

    Returns:
        The speed, not above what is on record, and what to say of it.
    """
    said: list[str] = []
    limit = machine.head_speed_limit_rev_min
    if limit is not None and n_rev_min > limit:
        n_rev_min = limit
        said.append(f"held to {limit:g} rev/min, the facing head's limit on record")
    tangential = machine.head_tangential_limit_m_min
    if tangential is not None and cutting_speed(n_rev_min, d_mm) > tangential:
        n_rev_min = spindle_speed(tangential, d_mm)
        said.append(
            f"held to {n_rev_min:.4g} rev/min: {tangential:.4g} m/min where it cuts is the facing head's "
            "limit on record"
        )
    return n_rev_min, tuple(said)
