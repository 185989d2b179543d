"""The logbook: how a cut went; recorded, listed, withdrawn where it was wrong, never deleted."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from crib.desk import tables
from crib.desk.lookup import my_id
from crib.desk.ringing.holding import called
from crib.desk.ringing.offered import Offered
from crib.desk.typed import sized, text
from crib.desk.withdrawing import withdraw_row
from crib.errors import InputError, NothingFound, UnknownName
from crib.store.read import Reader, reading
from crib.store.rows import CutRow
from crib.store.words import CUT_RESULTS
from crib.trade.cautions import DEFER, triggered
from crib.trade.cutting.materials import find_material
from crib.trade.cutting.spindle import cutting_speed
from crib.trade.rigidity.learning import RESULTS
from crib.units import Kind, show

SAID = {"broke": "edge broke", "broken": "edge broke", "worn": "worn out", "rang": "chatter", "ok": "clean"}
TRIGGER = {"clean": "deburring", "edge broke": "edge broke"}  # what a result calls attention to
LONGEST_MINUTES = 10_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LogRequest:
    """How a cut went, as typed; empty means as it was offered, or not told.

    Attributes:
        result: clean, marks, chatter, edge broke or worn out.
        n: spindle speed, if another than offered.
        feed: per revolution, likewise.
        depth: on the side, likewise.
        minutes: in the cut.
        heard: pitch of the chatter.
        job: what it was for.
        note: anything.
    """

    result: str
    n: str = ""
    feed: str = ""
    depth: str = ""
    minutes: str = ""
    heard: str = ""
    job: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedLine:
    """One logged cut in figures and in words; None for what was not told."""

    id: int
    at: str
    by: str | None
    op: str
    material: str
    result: str
    machine: str | None
    setup: str | None
    point: str | None
    tool: str | None
    insert: str | None
    n_rev_min: float | None
    vc_m_min: float | None
    f_mm: float | None
    ap_mm: float | None
    minutes: float | None
    heard_hz: float | None
    regenerative_stiffness_N_mm: float | None
    note: str | None
    withdrawn_at: str | None
    withdrawn_by: str | None
    withdrawn_why: str | None
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Logged:
    """What was recorded, what it will change, and the cautions that the result calls for."""

    cut: LoggedLine
    next_step: str
    cautions: tuple[str, ...]
    defer: str = DEFER


def log_cut(address: str, request: LogRequest, of: Offered) -> Logged:
    """Record how a cut went that a pick had offered.

    Args:
        address: the store.
        request: how it went, and what was done otherwise than offered.
        of: the cut as it was offered.

    Raises:
        InputError: something typed that can't be read or can't be.
        UnknownName: a result that is none, or a tool, machine or set-up that is no longer on record.
        StoreError: the store can't be used.
    """
    from crib.store import models
    from crib.store.writing import writing  # SQLAlchemy: listing needs none of it

    result = result_of(request.result)
    with reading(address) as reader:
        system = reader.settings().get("units", "metric")
        by_id = my_id(reader)
        ids = {item: _item_id(reader, item) for item in (of.tool, of.insert) if item}
        machines = {one.name: one.place_id for one in reader.machines()}
        setups = {one.name: one.id for one in reader.setups()}
    n = sized(request.n, "spindle speed", Kind.ROTATION, system)
    f_mm = sized(request.feed, "feed", Kind.FEED, system)
    ap_mm = sized(request.depth, "depth", Kind.LENGTH, system)
    minutes = sized(request.minutes, "time", Kind.TIME, system)
    if minutes is not None and minutes > LONGEST_MINUTES:
        raise InputError(f"{request.minutes} in one cut can't be", "minutes in the cut, as 12 min")
    as_offered = f_mm is None and ap_mm is None
    if of.setup is not None and of.setup not in setups:
        raise UnknownName("set-up", of.setup, list(setups))
    n = n or of.n_rev_min
    entry = models.LoggedCut(
        at=datetime.now(UTC),
        operation=of.op,
        material=of.material,
        result=result,
        by_id=by_id,
        job=text(request.job, "job"),
        machine_id=machines.get(of.machine or ""),
        setup_id=setups[of.setup] if of.setup is not None else None,
        setup_point=of.point or None,
        setup_words=of.setup_words,
        arm_item_id=ids[of.tool],
        insert_item_id=ids[of.insert] if of.insert else None,
        conditions=of.conditions,
        diameter_mm=of.diameter_mm,
        n_rev_min=n,
        vc_m_min=cutting_speed(n, of.diameter_mm),
        f_mm=f_mm or of.f_mm,
        ap_mm=ap_mm or of.ap_mm,
        length_mm=of.length_mm,
        minutes=minutes,
        heard_hz=sized(request.heard, "pitch", Kind.FREQUENCY, system),
        # of another feed or depth it is reckoned anew when it is looked at
        regenerative_n_mm=of.regenerative_N_mm if as_offered else None,
        margin=of.margin if as_offered else None,
        note=text(request.note, "note"),
    )
    with writing(address) as session:
        session.add(entry)
        session.flush()
        number = entry.id
    with reading(address) as reader:
        row = next(row for row in reader.cuts() if row.id == number)
    triggers = {TRIGGER[result]} if result in TRIGGER else set[str]()
    shown = triggered(triggers, tables.cautions())
    return Logged(
        cut=_line(row, system), next_step=_next(of, result), cautions=tuple(one.said for one in shown)
    )


def logged(
    address: str, *, material: str = "", setup: str = "", withdrawn: bool = False
) -> tuple[LoggedLine, ...]:
    """Give the logged cuts, latest first.

    Args:
        address: the store.
        material: in that material only, by any of its names.
        setup: on that kept set-up only.
        withdrawn: those that were withdrawn too.

    Raises:
        UnknownName: no such material or set-up.
        NothingFound: none is on record.
    """
    wanted = find_material(material, tables.materials()).id if material else ""
    with reading(address) as reader:
        system = reader.settings().get("units", "metric")
        kept = {one.name.lower(): one.id for one in reader.setups()}
        if setup and setup.strip().lower() not in kept:
            raise UnknownName("set-up", setup, list(kept))
        setup_id = kept[setup.strip().lower()] if setup else None
        rows = reader.cuts(material=wanted, setup_id=setup_id, withdrawn=withdrawn)
    if not rows:
        raise NothingFound("no such cut is logged", "crib pick …, cut, then: crib log clean")
    return tuple(_line(row, system) for row in reversed(rows))


def withdraw(address: str, number: int, *, why: str = "") -> LoggedLine:
    """Withdraw a logged cut: it stays on record, marked, and teaches nothing more.

    Args:
        address: the store.
        number: its number, as `crib log` lists it.
        why: what was wrong with it.

    Raises:
        UnknownName: there is none of that number.
        NotPossible: it is withdrawn already.
    """
    from crib.store.models import LoggedCut

    return withdraw_row(
        address,
        LoggedCut,
        number,
        what="logged cut",
        why=why,
        rows=lambda reader, withdrawn: reader.cuts(withdrawn=withdrawn),
        shown=_line,
        listed_by="crib log",
    )


def result_of(typed: str) -> str:
    """Give the result that a word means.

    Raises:
        UnknownName: it means none.
    """
    word = " ".join(typed.lower().replace("-", " ").split())
    word = SAID.get(word, word)
    if word not in CUT_RESULTS:
        raise UnknownName("result", typed, CUT_RESULTS, "one of: " + ", ".join(CUT_RESULTS))
    return word


def _item_id(reader: Reader, tag: str) -> int:
    from crib.store.filters import Filters

    for row in reader.find_items(Filters(tag="".join(tag.lower().split()))).rows:
        if row.tag == tag:
            return row.id
    raise UnknownName("tool", tag, hint="it was there when the pick was made: crib find")


def _next(of: Offered, result: str) -> str:
    """Say what the entry is good for."""
    if result not in RESULTS:
        return "It stands beside the book's tool life from now on."
    if of.setup is None:
        return "A cut teaches a limit only on a set-up with a name: crib setup keeps one."
    return f"The next pick on the {called(of.setup, of.point or '')} reckons with it."


def _line(row: CutRow, system: str) -> LoggedLine:
    gone = row.withdrawn_at
    return LoggedLine(
        id=row.id,
        at=row.at.isoformat(),
        by=row.by,
        op=row.operation,
        material=_label(row.material),
        result=row.result,
        machine=row.machine,
        setup=row.setup,
        point=row.setup_point,
        tool=row.arm,
        insert=row.insert,
        n_rev_min=row.n_rev_min,
        vc_m_min=row.vc_m_min,
        f_mm=row.f_mm,
        ap_mm=row.ap_mm,
        minutes=row.minutes,
        heard_hz=row.heard_hz,
        regenerative_stiffness_N_mm=row.regenerative_n_mm,
        note=row.note,
        withdrawn_at=gone.isoformat() if gone else None,
        withdrawn_by=row.withdrawn_by,
        withdrawn_why=row.withdrawn_why,
        said=_said(row, system),
    )


def _said(row: CutRow, system: str) -> str:
    """Put a cut into one line: result first, then with what and how."""

    def sized_in(value: float | None, kind: Kind) -> str:
        return "" if value is None else show(value, kind, system, both=False)

    tools = " + ".join(tag for tag in (row.arm, row.insert) if tag)
    deep = sized_in(row.ap_mm, Kind.LENGTH)
    parts: Sequence[str] = (
        f"{row.result}: {row.operation}" + (f" with {tools}" if tools else ""),
        f"{row.n_rev_min:.4g} rev/min" if row.n_rev_min else "",
        sized_in(row.f_mm, Kind.FEED),
        f"{deep} deep" if deep else "",
        f"{row.minutes:.3g} min" if row.minutes else "",
        f"heard {row.heard_hz:.3g} Hz" if row.heard_hz else "",
        f"on the {called(row.setup, row.setup_point or '')}" if row.setup else "",
        row.note or "",
    )
    return ", ".join(part for part in parts if part)


def _label(material_id: str) -> str:
    known = tables.materials()
    return next(
        (known.label(index) for index, row in enumerate(known.rows) if row["id"] == material_id), material_id
    )
