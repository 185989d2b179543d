"""A shop's own proven speeds beside the book's, and in their place where the user says so.

Which one counts: of the same material, tool material and operation, and the same kind of cut or none told;
proven on the machine at hand or on none; not for a deeper cut than it was proven at, and not without a
condition under which it was proven. Of several the one of the same machine, then of the same kind of cut,
then the latest. A condition under which it was not proven lowers it as it lowers the book's.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, TypeVar

from crib.desk import tables
from crib.store.rows import ProvenRow
from crib.trade.cutting.operations import OperationData
from crib.trade.cutting.speeds import Factor, Range, StartingData
from crib.units import Kind, show

if TYPE_CHECKING:
    from crib.desk.picking.job import Job

SOURCE = "own_proven"
SAID = "the shop's own: "  # how one of them begins in words
BOOK_SAID = "the book: "
OWN, BOOK = "own", "book"
UNDER = {
    "scale": "under scale",
    "sand": "under sand skin",
    "flame cut": "on a flame-cut edge",
    "weld": "through a weld",
    "interrupted": "in an interrupted cut",
}
_SAME = 1.0 + 1e-6  # a depth read from inches is the same depth

Data = TypeVar("Data", bound=StartingData | OperationData)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """The cut for which a speed is asked.

    Attributes:
        tool: tool material.
        operation: as the tables call it.
        cut: kind of cut; empty where there are none.
        conditions: what lowers the speed.
        machine_id: the machine; None when not told.
        ap_mm: depth of the cut on the side; None when not told.
        system: units of the user.
    """

    tool: str
    operation: str
    cut: str = ""
    conditions: tuple[str, ...] = ()
    machine_id: int | None = None
    ap_mm: float | None = None
    system: str = "metric"


@dataclass(frozen=True, slots=True, kw_only=True)
class ProvenSpeed:
    """One of the shop's own proven speeds; None for what was not told.

    Attributes:
        id: its number.
        at: when it was entered, UTC.
        by: by whom.
        material: label of the work material.
        material_id: its id in the tables.
        tool: tool material.
        op: operation.
        cut: kind of cut; None for any.
        conditions: under which it was proven.
        vc_m_min: cutting speed.
        f_mm: feed.
        ap_mm: depth on the side.
        machine: where it was proven; None for any.
        note: anything.
        result: how it went.
        withdrawn_at: when it was withdrawn; None while it counts.
        withdrawn_by: by whom.
        withdrawn_why: why.
        said: all of it in words.
    """

    id: int
    at: str
    by: str | None
    material: str
    material_id: str
    tool: str
    op: str
    cut: str | None
    conditions: tuple[str, ...]
    vc_m_min: float
    f_mm: float | None
    ap_mm: float | None
    machine: str | None
    note: str | None
    result: str | None
    withdrawn_at: str | None
    withdrawn_by: str | None
    withdrawn_why: str | None
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """One of the shop's own speeds beside the book's.

    Attributes:
        proven: the speed.
        counts: it is the one that counts for the cut asked.
        why_not: why it doesn't; empty where another is nearer or later.
    """

    proven: ProvenSpeed
    counts: bool
    why_not: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The shop's own speeds for a cut.

    Attributes:
        best: the one that counts for it; None where none does.
        others: those that don't, each with why not; empty where it is only older or less near.
    """

    best: ProvenRow | None
    others: tuple[tuple[ProvenRow, str], ...]


def conditions_of(row: ProvenRow) -> tuple[str, ...]:
    """Give the conditions under which a speed was proven."""
    return tuple(filter(None, row.conditions.split(";")))


def look(rows: Sequence[ProvenRow], wanted: Wanted) -> Found:
    """Find the shop's own speeds for a cut.

    Args:
        rows: those on record for its material, withdrawn ones left out.
        wanted: the cut.
    """
    same = [row for row in rows if (row.tool_material, row.operation) == (wanted.tool, wanted.operation)]
    why = {row.id: _why_not(row, wanted) for row in same}
    fitting = [row for row in same if not why[row.id]]
    best = max(fitting, key=lambda row: _order(row, wanted), default=None)
    return Found(best=best, others=tuple((row, why[row.id]) for row in same if row is not best))


def _order(row: ProvenRow, wanted: Wanted) -> tuple[object, ...]:
    here = wanted.machine_id is not None and row.machine_id == wanted.machine_id
    return here, row.cut is not None, row.at, row.id


def _why_not(row: ProvenRow, wanted: Wanted) -> str:
    """Say why a speed doesn't count for a cut; empty when it does."""
    by_depth = row.ap_mm is not None and wanted.ap_mm is not None  # then the depth itself tells
    if row.cut and wanted.cut and row.cut != wanted.cut and not by_depth:
        return f"for a {row.cut} cut"
    if row.machine_id is not None and wanted.machine_id not in (None, row.machine_id):
        return f"proven on the {row.machine}"
    if row.ap_mm is not None and wanted.ap_mm is not None and wanted.ap_mm > row.ap_mm * _SAME:
        return f"proven no deeper than {show(row.ap_mm, Kind.LENGTH, wanted.system)} a side"
    extra = [word for word in conditions_of(row) if word not in wanted.conditions]
    return f"proven {' and '.join(UNDER.get(word, word) for word in extra)}" if extra else ""


def said(row: ProvenRow, system: str = "metric") -> str:
    """Put one of the shop's own speeds into words: what, by whom, when."""
    parts = [show(row.vc_m_min, Kind.SPEED, system)]
    parts += [show(row.f_mm, Kind.FEED, system)] if row.f_mm is not None else []
    parts += [f"{show(row.ap_mm, Kind.LENGTH, system)} a side"] if row.ap_mm is not None else []
    parts += [f"{row.cut} cut"] if row.cut else []
    parts += [UNDER.get(word, f"under {word}") for word in conditions_of(row)]
    parts += [f"on the {row.machine}"] if row.machine else []
    parts += [f"by {row.by}" if row.by else "by whom is not recorded", f"on {row.at.date().isoformat()}"]
    parts += [word for word in (row.result, row.note) if word]
    return f"{SAID}{', '.join(parts)} (no. {row.id})"


def listed(found: Found, system: str) -> tuple[Beside, ...]:
    """Give all that was found for a cut, the one that counts first."""
    best = [] if found.best is None else [Beside(proven=shown(found.best, system), counts=True, why_not="")]
    others = [
        Beside(proven=shown(row, system), counts=False, why_not=why) for row, why in reversed(found.others)
    ]
    return (*best, *others)


def shown(row: ProvenRow, system: str) -> ProvenSpeed:
    """Give one of the shop's own speeds as it is shown, the user's own units first in its words."""
    known = tables.materials()
    label = next(
        (known.label(index) for index, one in enumerate(known.rows) if one["id"] == row.material),
        row.material,  # of a newer crib's table
    )
    gone = row.withdrawn_at
    return ProvenSpeed(
        id=row.id,
        at=row.at.isoformat(timespec="minutes"),
        by=row.by,
        material=label,
        material_id=row.material,
        tool=row.tool_material,
        op=row.operation,
        cut=row.cut,
        conditions=conditions_of(row),
        vc_m_min=row.vc_m_min,
        f_mm=row.f_mm,
        ap_mm=row.ap_mm,
        machine=row.machine,
        note=row.note,
        result=row.result,
        withdrawn_at=gone.isoformat(timespec="minutes") if gone else None,
        withdrawn_by=row.withdrawn_by,
        withdrawn_why=row.withdrawn_why,
        said=said(row, system),
    )


def for_job(job: "Job", data: StartingData, cut: str, ap_mm: float) -> StartingData:
    """Put the shop's own speed for a job beside the book's data, or in their place.

    Args:
        job: the job, with the shop's own speeds for its material.
        data: what the book says for it and one tool material.
        cut: kind of cut that the data are for.
        ap_mm: depth of the cut on the side.
    """
    if not job.own:
        return data
    wanted = Wanted(
        tool=data.tool_material,
        operation=job.operation,
        cut=cut,
        conditions=job.conditions,
        machine_id=job.machine.place_id if job.machine else None,
        ap_mm=ap_mm,
        system=job.system,
    )
    found = look(job.own, wanted)
    if found.best is None:
        why = [f"{said(row, job.system)}; not for this cut: {why}" for row, why in reversed(found.others)]
        return replace(data, notes=(*why, *data.notes))
    if job.own_wins:
        return instead(data, found.best, wanted)
    return replace(data, notes=(said(found.best, job.system), *data.notes))


def beside(data: StartingData) -> tuple[str, ...]:
    """Give what was said in a job's data of the shop's own speeds, and of the book's that they stand for."""
    return tuple(line for line in (*data.assumed, *data.notes) if line.startswith((SAID, BOOK_SAID)))


def instead(data: Data, row: ProvenRow, wanted: Wanted) -> Data:
    """Put the shop's own speed in the place of the book's, which goes into the notes.

    Args:
        data: what the book says for the same cut.
        row: the shop's own speed that counts for it.
        wanted: the cut; where its depth is told the book's depths stay.
    """
    return replace(data, **_changes(data, row, wanted))


def _changes(data: StartingData | OperationData, row: ProvenRow, wanted: Wanted) -> dict[str, Any]:
    """Give the fields of the book's data that the shop's own speed changes."""
    factors, unlowered = _lowered(row, data, wanted)
    f_mm = data.f_mm if row.f_mm is None else _point(row.f_mm, "f", factors)
    ap_mm = data.ap_mm if row.ap_mm is None or wanted.ap_mm is not None else _point(row.ap_mm, "ap", ())
    from_book = ["feed"] * (row.f_mm is None) + ["depth"] * (ap_mm is data.ap_mm)
    book = data.vc_m_min
    low, start, high = (show(one, Kind.SPEED, wanted.system) for one in (book.low, book.start, book.high))
    assumed = [line for line in data.assumed if not line.startswith("start ")]
    assumed += [f"{one} as the book has it" for one in from_book]
    return {
        "vc_m_min": _point(row.vc_m_min, "vc", factors),
        "table_vc_m_min": _point(row.vc_m_min, "vc", ()),
        "f_mm": f_mm,
        "ap_mm": ap_mm,
        "rows": (),
        "factors": factors,
        "sources": (SOURCE, *(data.sources if from_book or factors else ())),
        "assumed": (said(row, wanted.system), *assumed, *unlowered),
        "notes": (f"{BOOK_SAID}start at {start}, from {low} to {high}", *data.notes),
    }


def _lowered(
    row: ProvenRow, data: StartingData | OperationData, wanted: Wanted
) -> tuple[tuple[Factor, ...], tuple[str, ...]]:
    """Give the factors that count, and the conditions for which the book has none to lower it by.

    Of the speed those of conditions under which it was not proven; of the feed likewise, where it is proven.
    """
    missing = [word for word in wanted.conditions if word not in conditions_of(row)]
    factors = tuple(
        one for one in data.factors if one.condition in missing or (one.quantity == "f" and row.f_mm is None)
    )
    lowers = {one.condition for one in factors if one.quantity == "vc"}
    # what a harder condition's factor holds too is named in the notes
    bare = [
        word
        for word in missing
        if word not in lowers and not any(note.startswith(f"{word}: counted") for note in data.notes)
    ]
    return factors, tuple(f"proven without {word}, and not lowered for it: mind that" for word in bare)


def _point(value: float, quantity: str, factors: Sequence[Factor]) -> Range:
    found = Range(low=value, start=value, high=value)
    for one in factors:
        if one.quantity == quantity:
            found = found.times(one.factor)
    return found
