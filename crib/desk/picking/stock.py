"""Stock for a job: which holder, bar or bit can do it, with which insert, and why the others can't."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Protocol

from crib.desk.asking.codes import readable
from crib.desk.hands import HAND_WORDS
from crib.desk.picking.job import Job
from crib.desk.tables import pick_rules
from crib.store.rows import BarRow, BitRow, HolderRow, InsertRow, ItemRow, Tooling
from crib.trade import tables
from crib.trade.designation.fit import InsertShape, Seat, fits
from crib.trade.designation.reading import InsertReading
from crib.trade.rigidity.setup import Setup
from crib.units import Kind, show

ArmRow = HolderRow | BarRow | BitRow
TAKE_A_BAR = "bores take a bar"
PLAIN_TO_SEE = ("is wanted", "this is outside work", TAKE_A_BAR, "for facing")
"""Ends of reasons that one sees by looking at the tool."""
_INCOMPLETE = re.compile(r"(?<!nothing )(?<!none )(?<!not )\bmissing\b", re.IGNORECASE)


class Held(Protocol):
    """A cut as far as its springs go: how the work is held, how far a bar reaches, how far a tool is out."""

    @property
    def operation(self) -> str:
        """What is done."""

    @property
    def setup(self) -> Setup:
        """How it gives."""

    @property
    def overhang_mm(self) -> float | None:
        """How far the tool stands out; None where it is not told."""

    @property
    def length_mm(self) -> float | None:
        """Way of the tool; None where it is not told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Springs:
    """Just that, where there is no whole job."""

    operation: str
    setup: Setup
    length_mm: float | None = None
    overhang_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """What would cut: a holder or bar with an insert that fits it, or a bit by itself.

    Attributes:
        arm: the holder, bar or bit.
        insert: its insert; None for a bit.
        KAPR_deg: entering angle in this operation; None where it is not known.
        notes: what speaks against it.
    """

    arm: ArmRow
    insert: InsertRow | None
    KAPR_deg: float | None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfit:
    """What can't do the job, and the first reason."""

    item: ItemRow
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What there is for a job.

    Attributes:
        here: pairs on hand.
        elsewhere: pairs of which one part is at home, at another site or lent out.
        rejected: tools that can't do it.
    """

    here: tuple[Pair, ...]
    elsewhere: tuple[Pair, ...]
    rejected: tuple[Unfit, ...]


def stock_for(job: Job, tooling: Tooling) -> Stock:
    """Sort the tooling into what can do the job here, what could from elsewhere, and what can't."""
    inserts = [(row, shape) for row in tooling.inserts if (shape := _shape(row)) and not _spent(row.item)]
    here: list[Pair] = []
    elsewhere: list[Pair] = []
    rejected: list[Unfit] = []
    arms: tuple[ArmRow, ...] = (*tooling.holders, *tooling.bars, *tooling.bits)
    for arm in arms:
        if why := _why_not(job, arm):
            rejected.append(Unfit(item=arm.item, why=why))
            continue
        pairs = list(_pairs(job, arm, inserts))
        on_hand = [pair for pair in pairs if not away_of(job, pair)]
        here += on_hand
        elsewhere += [pair for pair in pairs if away_of(job, pair)]
        if not on_hand:
            rejected.append(Unfit(item=arm.item, why=_none_here(job, arm, pairs)))
    return Stock(here=tuple(here), elsewhere=tuple(elsewhere), rejected=tuple(rejected))


def is_here(job: Job, item: ItemRow) -> bool:
    """Whether an item is on the job's site and not lent out."""
    return item.site_id == job.site_id and item.held_by_id is None


def away_of(job: Job, pair: Pair) -> tuple[ItemRow, ...]:
    """Give the parts of a pair that are not on hand."""
    return tuple(item for item in _items(pair) if not is_here(job, item))


def whereabouts(item: ItemRow) -> str:
    """Say where an item is, or who has it."""
    if item.held_by:
        return f"lent to {item.held_by}" + (f" until {item.due_back}" if item.due_back else "")
    return f"at {item.place}"


def uses_facing_head(job: Job) -> bool:
    """Whether the tool would turn in the machine's facing head, off its centre."""
    return job.machine is not None and job.machine.facing_head


def overhang_of(job: Held, arm: ArmRow) -> float | None:
    """Give how far a tool stands out: as told; else a bar by the length of the bore, or its whole reach."""
    if job.overhang_mm is not None or not isinstance(arm, BarRow):
        return job.overhang_mm
    return job.length_mm if job.length_mm is not None else arm.reach_mm


# -- does the arm do the job ------------------------------------------------------------------------------


def out_of_use(item: ItemRow) -> str:
    """Say why an item can't be used as it is: damaged, none left, incomplete; empty when it can."""
    if item.condition in ("damaged", "scrap"):
        return f"{item.condition}" + (f": {item.note}" if item.note else "")
    if item.quantity < 1:
        return "none left"
    if item.note and _INCOMPLETE.search(item.note):
        return item.note
    return f"{item.lacks} missing" if item.lacks else ""


def _why_not(job: Job, arm: ArmRow) -> str:
    """Give the first reason why a holder, bar or bit can't do the job; empty when it can."""
    item = arm.item
    if why := out_of_use(item):
        return why
    if job.hand and item.hand not in (job.hand, "N", None):
        return f"{HAND_WORDS[item.hand]}, {HAND_WORDS[job.hand]} is wanted"
    return _why_not_machine(job, arm) or _why_not_operation(job, arm)


def _why_not_machine(job: Job, arm: ArmRow) -> str:
    if job.machine is None:
        return ""
    if isinstance(arm, BarRow):
        size, low, high = arm.dcon_mm, job.machine.bar_low_mm, job.machine.bar_high_mm
        what = "bar"
    else:
        size = arm.h_mm if isinstance(arm, HolderRow) else arm.shank_mm
        low, high, what = None, job.machine.shank_high_mm, "shank"  # a small shank can be packed up
    if size is None:
        return ""
    said = f"{what} {show(size, Kind.LENGTH, job.system)}"
    if high is not None and size > high + 0.05:
        return f"{said}: {job.machine.name} takes up to {show(high, Kind.LENGTH, job.system)}"
    if low is not None and size < low - 0.05:
        return f"{said}: {job.machine.name} takes from {show(low, Kind.LENGTH, job.system)}"
    return ""


def _why_not_operation(job: Job, arm: ArmRow) -> str:
    if job.operation == "boring":
        return _why_not_bore(job, arm) if isinstance(arm, BarRow) else _why_not_head(job, arm)
    if isinstance(arm, BarRow):
        return "a boring bar; this is outside work"
    if isinstance(arm, HolderRow) and job.operation == "turning" and _cuts(arm.style) == "end":
        return f"style {arm.style} cuts on its end: for facing"
    return ""


def _why_not_bore(job: Job, bar: BarRow) -> str:
    smallest = bar.dmin_mm
    if smallest is not None and smallest > job.from_mm:
        return f"needs a bore of {show(smallest, Kind.LENGTH, job.system)}"
    widest = job.from_mm / pick_rules().bore_over_bar
    if smallest is None and bar.dcon_mm is not None and bar.dcon_mm > widest:
        return "smallest bore not on record, and this one is hardly wider than the bar"
    reach = bar.reach_mm if bar.reach_mm is not None else bar.lf_mm
    needed = job.overhang_mm if job.overhang_mm is not None else job.length_mm
    if needed is not None and reach is not None and reach < needed:
        return f"reaches {show(reach, Kind.LENGTH, job.system)}"
    return ""


def _why_not_head(job: Job, arm: HolderRow | BitRow) -> str:
    machine = job.machine
    if isinstance(arm, HolderRow) and arm.dmin_mm is not None and arm.dmin_mm > job.from_mm:
        return f"needs a bore of {show(arm.dmin_mm, Kind.LENGTH, job.system)}"
    if machine is None:
        return f"a square shank, and no machine named that has a facing head: {TAKE_A_BAR}"
    if not machine.facing_head:
        return f"a square shank, and the {machine.name} has no facing head: {TAKE_A_BAR}"
    if machine.least_bore_mm is None:
        return "how small a bore the facing head can work in is not on record"
    if job.from_mm < machine.least_bore_mm:
        return f"the facing head works from ⌀{show(machine.least_bore_mm, Kind.LENGTH, job.system)} up"
    return ""


@cache
def _styles() -> dict[str, str]:
    return {row["code"]: row["cutting"] for row in tables.rows("holder_style")}


def _cuts(style: str | None) -> str:
    """Give how a holder's style cuts: side, end, both, or empty where it is not known."""
    return _styles().get(style or "", "")


# -- which inserts go in it -------------------------------------------------------------------------------


def _pairs(job: Job, arm: ArmRow, inserts: Sequence[tuple[InsertRow, InsertShape]]) -> Iterator[Pair]:
    if isinstance(arm, BitRow):
        unknown = (
            ("its end edge is not on record: reckoned as in turning",) if job.operation == "facing" else ()
        )
        yield Pair(arm=arm, insert=None, KAPR_deg=arm.kapr_deg, notes=(*unknown, *_wear(arm.item)))
        return
    seat = _seat(arm.item.designation)
    if seat is None:
        return
    for row, shape in inserts:
        if fits(seat, shape).ok:
            KAPR_deg = entering_angle(job.operation, arm, row)
            if KAPR_deg is None and job.operation == "facing" and isinstance(arm, HolderRow):
                continue
            notes = (*_fit_notes(job, row), *_wear(arm.item), *_wear(row.item))
            yield Pair(arm=arm, insert=row, KAPR_deg=KAPR_deg, notes=notes)


def inserts_of(arm: HolderRow | BarRow, inserts: Iterable[InsertRow]) -> list[InsertRow]:
    """Give the inserts on record that fit a holder or bar and have an edge left."""
    seat = _seat(arm.item.designation)
    shapes = ((row, _shape(row)) for row in inserts if not _spent(row.item))
    return [row for row, shape in shapes if seat and shape and fits(seat, shape).ok]


def entering_angle(operation: str, arm: HolderRow | BarRow, insert: InsertRow) -> float | None:
    """Give the entering angle of a holder or bar with an insert in an operation; None where not known."""
    if operation == "facing" and isinstance(arm, HolderRow):
        return _facing_angle(arm, insert)
    return arm.kapr_deg


def _facing_angle(holder: HolderRow, insert: InsertRow) -> float | None:
    """Give the entering angle when facing: of the main edge for end-cutting styles, else of the minor edge.

    A side-cutting tool faces with its minor edge, which stands at 180° - EPSR - KAPR to the turned surface
    and so at 90° more to the face; only a nearly square one cuts there.
    """
    if holder.kapr_deg is None:
        return None
    if _cuts(holder.style) == "end" or insert.epsr_deg is None or holder.kapr_deg == 45.0:
        return holder.kapr_deg
    trail = 180.0 - insert.epsr_deg - holder.kapr_deg
    return 90.0 + trail if 0.0 <= trail <= pick_rules().most_trail_deg else None


def _fit_notes(job: Job, insert: InsertRow) -> tuple[str, ...]:
    meant, work = (insert.application or "")[:1].upper(), job.material.iso513
    # K grades without a coating are what bronze and aluminium are cut with (common practice)
    if not meant or meant == work or (meant == "K" and work == "N" and not is_coated(insert)):
        return ()
    return (f"its grade is meant for ISO 513 {meant}, the work is {work}",)


def is_coated(insert: InsertRow) -> bool:
    """Whether an insert is recorded as coated."""
    return "coated" in (insert.tool_material or "").lower().replace("uncoated", "")


def _wear(item: ItemRow) -> tuple[str, ...]:
    if item.condition != "worn":
        return ()
    return (f"{item.tag} is worn" + (f": {item.note}" if item.note else ""),)


@cache
def _seat(designation: str | None) -> Seat | None:
    read = readable(designation)
    return None if read is None or isinstance(read, InsertReading) else read.seat()


def _shape(row: InsertRow) -> InsertShape | None:
    read = readable(row.item.designation)
    return read.shape() if isinstance(read, InsertReading) else None


def _spent(item: ItemRow) -> bool:
    return item.quantity < 1 or item.edges_left == 0 or item.condition in ("damaged", "scrap")


def _items(pair: Pair) -> Iterable[ItemRow]:
    yield pair.arm.item
    if pair.insert:
        yield pair.insert.item


def _none_here(job: Job, arm: ArmRow, pairs: Sequence[Pair]) -> str:
    if not is_here(job, arm.item):
        return whereabouts(arm.item)
    for pair in pairs:
        if pair.insert:
            return f"its insert {pair.insert.item.tag} is {whereabouts(pair.insert.item)}"
    return "no insert on hand fits it" + (" and faces" if job.operation == "facing" else "")
