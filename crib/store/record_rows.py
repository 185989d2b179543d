"""Rows of tools with their details, machines, set-ups, cuts and the ledger; see crib.store.rows.

Apart from the rows of a search, whose start-up is waited for: making two dozen classes takes 3 ms.
"""

from datetime import date, datetime
from typing import NamedTuple

from crib.store.rows import ItemRow


class HolderRow(NamedTuple):
    """A holder with a square shank."""

    item: ItemRow
    clamping: str | None
    style: str | None
    kapr_deg: float | None
    h_mm: float | None
    b_mm: float | None
    lf_mm: float | None
    dmin_mm: float | None


class BarRow(NamedTuple):
    """A boring bar."""

    item: ItemRow
    shank_type: str | None
    dcon_mm: float | None
    lf_mm: float | None
    dmin_mm: float | None
    reach_mm: float | None
    style: str | None
    kapr_deg: float | None
    clamping: str | None
    shank_material: str | None


class BitRow(NamedTuple):
    """A ground or brazed bit."""

    item: ItemRow
    tool_material: str | None
    shank_mm: float | None
    kapr_deg: float | None
    re_mm: float | None
    rake_deg: float | None
    clearance_deg: float | None
    inclination_deg: float | None


class InsertRow(NamedTuple):
    """A batch of inserts."""

    item: ItemRow
    type_letter: str | None
    tolerance: str | None
    s_mm: float | None
    re_mm: float | None
    epsr_deg: float | None
    edge_condition: str | None
    cedc: int | None
    grade: str | None
    chipbreaker: str | None
    tool_material: str | None
    application: str | None
    coating: str | None


class RotaryRow(NamedTuple):
    """A drill, reamer, end mill or tap."""

    item: ItemRow
    what: str | None
    dc_mm: float | None
    lf_mm: float | None
    tool_material: str | None


class RodRow(NamedTuple):
    """One rod of a gauge."""

    id: int
    length_mm: float
    owner_id: int | None
    owner: str | None
    present: bool


class CheckRow(NamedTuple):
    """One calibration or comparison."""

    on_date: date
    result: str
    due: date | None
    by: str | None


class GaugeRow(NamedTuple):
    """A measuring tool with its rods and its last check."""

    item: ItemRow
    measures: str
    low_mm: float | None
    high_mm: float | None
    resolution_mm: float | None
    uncertainty_mm: float | None
    rods: tuple[RodRow, ...]
    last_check: CheckRow | None


class Tooling(NamedTuple):
    """All that a holder-insert pair may be chosen from."""

    holders: tuple[HolderRow, ...]
    bars: tuple[BarRow, ...]
    bits: tuple[BitRow, ...]
    inserts: tuple[InsertRow, ...]


class MachineRow(NamedTuple):
    """A machine with its speeds and feeds, each from low to high."""

    place_id: int
    name: str
    path: str
    site_id: int
    kind: str
    speed_low_rev_min: float | None
    speed_high_rev_min: float | None
    power_kw: float | None
    efficiency: float | None
    swing_mm: float | None
    travel_mm: float | None
    shank_low_mm: float | None
    shank_high_mm: float | None
    bar_low_mm: float | None
    bar_high_mm: float | None
    facing_head: bool
    least_bore_mm: float | None
    head_speed_limit_rev_min: float | None
    head_tangential_limit_m_min: float | None
    note: str | None
    speeds_rev_min: tuple[float, ...]
    feeds_mm: tuple[float, ...]


class ProvenRow(NamedTuple):
    """One of the shop's own proven speeds, with names."""

    id: int
    at: datetime
    by: str | None
    material: str
    tool_material: str
    operation: str
    cut: str | None
    conditions: str
    vc_m_min: float
    f_mm: float | None
    ap_mm: float | None
    machine_id: int | None
    machine: str | None
    note: str | None
    result: str | None
    withdrawn_at: datetime | None
    withdrawn_by: str | None
    withdrawn_why: str | None


class SetupPointRow(NamedTuple):
    """One measurement at one point of a set-up; None where it was not measured."""

    id: int
    at: datetime
    point: str
    gives: str | None
    k_n_mm: float | None
    k_low_n_mm: float | None
    k_high_n_mm: float | None
    frequency_hz: float | None
    damping_ratio: float | None
    damping_low: float | None
    damping_high: float | None
    by: str | None
    how: str | None


class SetupRow(NamedTuple):
    """A kept set-up with all its measurements, oldest first."""

    id: int
    name: str
    machine_id: int | None
    machine: str | None
    note: str | None
    measured: tuple[SetupPointRow, ...]


class CutRow(NamedTuple):
    """One logged cut, with names."""

    id: int
    at: datetime
    operation: str
    material: str
    result: str
    by: str | None
    job: str | None
    machine_id: int | None
    machine: str | None
    setup_id: int | None
    setup: str | None
    setup_point: str | None
    setup_words: str | None
    arm_item_id: int | None
    arm: str | None
    insert_item_id: int | None
    insert: str | None
    tool_material: str | None
    conditions: str
    diameter_mm: float | None
    n_rev_min: float | None
    vc_m_min: float | None
    f_mm: float | None
    ap_mm: float | None
    length_mm: float | None
    minutes: float | None
    heard_hz: float | None
    regenerative_n_mm: float | None
    margin: float | None
    note: str | None
    withdrawn_at: datetime | None
    withdrawn_by: str | None
    withdrawn_why: str | None


class LedgerRow(NamedTuple):
    """One line of the ledger, with names."""

    id: int
    at: datetime
    what: str
    item_id: int
    actor: str | None
    quantity_change: int
    edges_change: int | None
    from_owner: str | None
    to_owner: str | None
    from_place: str | None
    to_place: str | None
    from_held_by: str | None
    to_held_by: str | None
    from_condition: str | None
    to_condition: str | None
    due_back: date | None
    why: str | None
    cut_ref: str | None
    key: str | None
    told: str | None
    act: str | None
    corrects_id: int | None
    other: str | None
    from_dc_mm: float | None
    to_dc_mm: float | None
    from_lf_mm: float | None
    to_lf_mm: float | None


class RecentRow(NamedTuple):
    """One line of a doing, as far as it tells what was done."""

    act: str
    id: int
    at: datetime
    what: str
    actor: str | None
    tag: str
    why: str | None
    corrects_id: int | None


class StocktakeRow(NamedTuple):
    """A count of a place that is under way."""

    id: int
    place_id: int
    place: str
    begun_at: datetime
    by: str | None


class OutRow(NamedTuple):
    """One tool that somebody has, and the line by which it went there."""

    item: ItemRow
    since: datetime
    what: str
    actor: str | None
    why: str | None
