"""A shop's own proven speeds: entering one, listing them, withdrawing a wrong one. Nothing is deleted."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from crib.desk import tables
from crib.desk.lookup import my_id
from crib.desk.picking.job import machine_of
from crib.desk.starting.conditions import Conditions
from crib.desk.starting.own import ProvenSpeed, shown
from crib.desk.starting.start import start, start_operation
from crib.desk.typed import sized, text
from crib.desk.withdrawing import withdraw_row
from crib.errors import CribError, InputError, NothingFound, UnknownName
from crib.store.read import reading
from crib.trade.cutting.materials import find_material
from crib.trade.cutting.speeds import CUTS, Range, find_tool_material
from crib.trade.cutting.spindle import cutting_speed
from crib.units import Kind

FAR_ABOVE = 3.0  # times the book's highest: no edge is so much better, a digit was typed too often
FASTEST_M_MIN = 1e5  # a slip of the keyboard, no cutting speed
LATHE = ("turning", "facing", "boring")  # operations that have kinds of cut


@dataclass(frozen=True, slots=True, kw_only=True)
class ProvenRequest(Conditions):
    """A speed that proved itself, everything as typed; empty means not told.

    Attributes:
        material: any name of the work material.
        tool: tool material.
        op: turn, face, bore, drill …
        cut: finish, medium, rough or heavy rough; empty for any.
        vc: cutting speed; or else:
        n: spindle speed, with
        diameter: where it cut.
        feed: per revolution.
        depth: on the side.
        machine: where it was proven; empty for any.
        note: anything.
        result: how it went.
    """

    material: str
    tool: str
    op: str = "turn"
    cut: str = ""
    vc: str = ""
    n: str = ""
    diameter: str = ""
    feed: str = ""
    depth: str = ""
    machine: str = ""
    note: str = ""
    result: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProvenList:
    """The shop's own proven speeds, oldest first, and whose speeds win."""

    proven: tuple[ProvenSpeed, ...]
    speeds: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """What was entered, beside what the book says for the same cut; None where it says nothing.

    `doubt` asks whether it is a slip where it is far above the book; empty elsewhere.
    """

    proven: ProvenSpeed
    book_vc_m_min: Range | None
    speeds: str
    doubt: str


def proven(address: str, *, material: str = "", withdrawn: bool = False) -> ProvenList:
    """Give the shop's own proven speeds.

    Args:
        address: the store.
        material: of this material only, by any of its names.
        withdrawn: those that were withdrawn too.

    Raises:
        UnknownName: no such material.
        NothingFound: none is on record.
    """
    wanted = find_material(material, tables.materials()).id if material else ""
    with reading(address) as reader:
        settings = reader.settings()
        rows = reader.proven(wanted, withdrawn=withdrawn)
    if not rows:
        what = f" for {material}" if material else ""
        raise NothingFound(f"no speed of the shop's own is on record{what}", "crib proven add enters one")
    system = settings.get("units", "metric")
    return ProvenList(proven=tuple(shown(row, system) for row in rows), speeds=settings.get("speeds", "book"))


def add_proven(
    address: str, request: ProvenRequest, *, system: str = "", at: datetime | None = None
) -> Added:
    """Enter a speed that proved itself.

    Args:
        address: the store.
        request: as typed.
        system: "metric" or "inch": what bare numbers mean; the setting, if not told.
        at: when it proved itself; now, if not told.

    Raises:
        InputError: something typed that can't be read or can't be.
        UnknownName: a material, tool material, operation, cut or machine that is not known.
        StoreError: the store can't be used.
    """
    from crib.store import models
    from crib.store.writing import writing  # SQLAlchemy: listing needs none of it

    with reading(address) as reader:
        settings = reader.settings()
        system = system or settings.get("units", "metric")
        values = _values(request, system)
        machine = machine_of(request.machine, reader.machines())
        by_id = my_id(reader)
    entry = models.Proven(
        at=at or datetime.now(UTC), by_id=by_id, machine_id=machine.place_id if machine else None, **values
    )
    with writing(address) as session:
        session.add(entry)
        session.flush()
        number = entry.id
    with reading(address) as reader:
        row = next(row for row in reader.proven() if row.id == number)
    book = _book(request, values)
    return Added(
        proven=shown(row, system),
        book_vc_m_min=book,
        speeds=settings.get("speeds", "book"),
        doubt=_doubt(number, values["vc_m_min"], book),
    )


def forget(address: str, number: int, *, why: str = "") -> ProvenSpeed:
    """Withdraw one of the shop's own speeds: it stays on record, marked, and counts no more.

    Args:
        address: the store.
        number: its number, as `crib proven` lists it.
        why: what was wrong with it.

    Raises:
        UnknownName: there is none of that number.
        NotPossible: it is withdrawn already.
    """
    from crib.store.models import Proven

    return withdraw_row(
        address,
        Proven,
        number,
        what="proven speed",
        why=why,
        rows=lambda reader, withdrawn: reader.proven(withdrawn=withdrawn),
        shown=shown,
        listed_by="crib proven",
    )


# -- reading what was typed -------------------------------------------------------------------------------


def _values(request: ProvenRequest, system: str) -> dict[str, Any]:
    """Give the columns of the record."""
    material = find_material(request.material, tables.materials())
    operation = start_operation(request.op)
    cut = request.cut.strip().lower()
    if cut and (cut not in CUTS or operation not in LATHE):
        raise UnknownName("kind of cut", request.cut, CUTS if operation in LATHE else ())
    return {
        "material": material.id,
        "tool_material": find_tool_material(request.tool, tables.speeds()),
        "operation": operation,
        "cut": cut or None,
        "conditions": ";".join(request.conditions),
        "vc_m_min": _speed(request, system),
        "f_mm": sized(request.feed, "feed", Kind.FEED, system),
        "ap_mm": sized(request.depth, "depth", Kind.LENGTH, system),
        "note": text(request.note, "note"),
        "result": text(request.result, "result"),
    }


def _speed(request: ProvenRequest, system: str) -> float:
    """Read the cutting speed, or reckon it from spindle speed and diameter."""
    if request.vc and request.n:
        raise InputError("the speed is told twice", "either --vc, or --n with --diameter")
    if request.vc:
        found = sized(request.vc, "cutting speed", Kind.SPEED, system)
    else:
        n = sized(request.n, "spindle speed", Kind.ROTATION, system)
        d_mm = sized(request.diameter, "diameter", Kind.LENGTH, system)
        if n is None or d_mm is None:
            raise InputError("how fast was it?", "--vc '110 m/min', or --n 246 --diameter '3 in'")
        found = cutting_speed(n, d_mm)
    if found is None or found > FASTEST_M_MIN:
        raise InputError(f"a cutting speed of {request.vc or request.n} can't be", "for example 110 m/min")
    return found


def _doubt(number: int, vc_m_min: float, book: Range | None) -> str:
    if book is None or vc_m_min <= FAR_ABOVE * book.high:
        return ""
    times = f"{vc_m_min / book.high:.0f} times the book's highest"
    return f"{times}: a slip? crib proven forget {number} withdraws it"


def _book(request: ProvenRequest, values: dict[str, Any]) -> Range | None:
    """Give the book's speeds for the same cut; None where it has none or needs to know more."""
    asked = {"cut": values["cut"]} if values["cut"] else {}
    asked |= {word.replace(" ", "_"): True for word in request.conditions}
    try:
        # no store is asked: only the book
        return start("", material=request.material, tool=request.tool, op=request.op, **asked).vc_m_min
    except CribError:
        return None
