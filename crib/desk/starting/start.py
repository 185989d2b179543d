"""Where to start: speed, feed and depth for a material and a tool material, from the tables."""

import re
from dataclasses import dataclass

from crib.desk import tables
from crib.desk.keeping.sources import cite
from crib.desk.picking.job import OPERATIONS, machine_of, speeds_of
from crib.desk.starting import head, own
from crib.desk.starting.conditions import Conditions
from crib.desk.starting.costs import NO_COSTS, CostsTold, Prices, read_costs
from crib.desk.starting.effects import Done, Effects, effects_of
from crib.desk.starting.material import read_material
from crib.errors import InputError, StoreError, StoreMissing, UnknownName
from crib.store.read import reading
from crib.store.rows import MachineRow, ProvenRow
from crib.trade.cautions import DEFER, burning, triggered
from crib.trade.cutting.hardness import Hardness
from crib.trade.cutting.materials import Material
from crib.trade.cutting.operation_feeds import ToolSize
from crib.trade.cutting.operations import OperationData, operation_data
from crib.trade.cutting.speeds import CUTS, THIRD, Range, StartingData, find_tool_material, starting_data
from crib.trade.cutting.spindle import (
    MachineSpeeds,
    cutting_speed,
    nearest_feed_not_above,
    nearest_not_above,
    spindle_speed,
)
from crib.trade.tables import rows
from crib.units import Kind, read, show

USUAL_CUT = "medium"
OTHER_OPERATIONS = {
    "part": "parting",
    "parting": "parting",
    "part off": "parting",
    "cut off": "parting",
    "groove": "grooving",
    "grooving": "grooving",
    "drill": "drilling",
    "drilling": "drilling",
    "ream": "reaming",
    "reaming": "reaming",
    "thread": "threading",
    "threading": "threading",
    "screw cut": "threading",
}
_TPI = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:tpi|threads? per inch)", re.IGNORECASE)
_GRADE = re.compile(r"(?:[A-Za-z]{2}[- ]?)?[PMKNSHpmknsh] ?\d{2}(?:\s*-\s*[A-Za-z]? ?\d{2})?")
_INCH_MM = 25.4


@dataclass(frozen=True, slots=True, kw_only=True)
class ForceBand:
    """Specific cutting force over the sources, in N/mm2 at a chip of 1 mm, and its exponent."""

    low: float
    value: float
    high: float
    mc: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Infeed:
    """One pass of a thread: what it takes and what it reaches, radial."""

    ap_mm: float
    depth_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """Starting data; keys as in the contract.

    Attributes:
        material: as found.
        tool: tool material whose data they are.
        op: operation.
        cut: finish, medium, rough or heavy rough; empty for drilling and the like.
        hb: Brinell hardness that was told; None where the material's usual one counts.
        vc_m_min: cutting speed: range and where to start.
        n_rev_min: spindle speed, of the machine's own where it is on record; None without a diameter.
        f_mm: feed; None where the size it goes by isn't told.
        machine_f_mm: the machine's feed not above the start; None where none is on record.
        ap_mm: depth of a pass on the side; half a drill, width of a parting edge; None where not told.
        deepest_mm: how deep a parting edge may go, or a thread goes; None elsewhere.
        passes: infeed of each pass of a thread.
        factors: what the table's speed or feed was multiplied by, in words.
        kc11_N_mm2: specific cutting force with its band; None where no source gives one.
        speeds_from: "own" where the shop's own proven speed stands in the place of the book's, else "book".
        book_vc_m_min: cutting speed by the book, whichever counts.
        own: the shop's own proven speeds for such cuts, the one that counts first.
        effects: what follows: life of the edge, what pays, power, a drill's load, minutes.
        source: where the numbers come from.
        assumed: what was taken for granted.
        notes: what else the sources say, the ones that differ first.
        cautions: what to mind.
    """

    material: str
    tool: str
    op: str
    cut: str
    hb: float | None
    vc_m_min: Range
    n_rev_min: float | None
    f_mm: Range | None
    machine_f_mm: float | None
    ap_mm: Range | None
    deepest_mm: float | None
    passes: tuple[Infeed, ...]
    factors: tuple[str, ...]
    kc11_N_mm2: ForceBand | None
    speeds_from: str
    book_vc_m_min: Range
    own: tuple[own.Beside, ...]
    effects: Effects
    source: tuple[str, ...]
    assumed: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    defer: str = DEFER


@dataclass(frozen=True, slots=True, kw_only=True)
class StartRequest(Conditions):
    """What to start, everything as typed; empty means not told.

    Attributes:
        material: any name of the work material.
        tool: tool material (HSS, carbide, coated carbide, …) or what a grade is for (P25, HC-P25).
        op: turn, face, bore, part, groove, drill, ream or thread.
        cut: finish, medium, rough or heavy rough.
        diameter: where it cuts; of the drill or reamer.
        width: of the parting or grooving edge.
        pitch: of the thread: a length, or "12 tpi".
        depth: of the hole, the groove or the parting cut.
        length: of the cut, for its minutes.
        hardness: "220 HB", "32 HRC".
        machine: a machine on record, for the speeds that it has.
        costs: what time and edges cost.
        own: whether the shop's own proven speeds win; None leaves it to the setting.
        system: "metric" or "inch": what a bare number means.
    """

    material: str
    tool: str
    op: str = "turn"
    cut: str = USUAL_CUT
    diameter: str = ""
    width: str = ""
    pitch: str = ""
    depth: str = ""
    length: str = ""
    hardness: str = ""
    machine: str = ""
    costs: CostsTold = NO_COSTS
    own: bool | None = None
    system: str = "metric"


def start(address: str, **asked: object) -> Start:
    """Give speed, feed and depth to start with.

    Args:
        address: the store, for the machine and the shop's own speeds; empty for the book alone.
        asked: the fields of StartRequest.

    Raises:
        InputError: a word or size that is not known or can't be read.
        StoreError: a machine or the shop's own speeds are asked for, and the store can't be used.
    """
    return in_words(reckon(address, **asked))


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckoned:
    """What is behind starting data.

    Attributes:
        operation: as the tables call it.
        cut: kind of cut; empty for drilling and the like.
        material: what is cut.
        hardness: as told; None where the material's usual one counts.
        data: what the tables say, or the shop's own speed in its place.
        book: what the tables say.
        found: the shop's own speeds.
        system: units of the user.
        at: how far up the range of speeds to start, by ratio.
        tool_sources: source keys of reading a grade.
        tool_assumed: what that assumed.
        d_mm: where it cuts; None when not told.
        machine: what is known of the machine; None when not told.
        feeds: its feeds, where they count.
        conditions: what lowers speed and feed.
        depth_mm: of the hole, the groove or the parting cut; None when not told.
        length_mm: of the cut; None when not told.
        prices: what time and edges cost; None where nothing was told.
    """

    operation: str
    cut: str
    material: Material
    hardness: Hardness | None
    data: StartingData | OperationData
    book: StartingData | OperationData
    found: own.Found
    system: str
    at: float
    tool_sources: tuple[str, ...]
    tool_assumed: tuple[str, ...]
    d_mm: float | None
    machine: MachineRow | None
    feeds: MachineSpeeds | None
    conditions: tuple[str, ...]
    depth_mm: float | None
    length_mm: float | None
    prices: Prices | None


def reckon(address: str, **asked: object) -> Reckoned:
    """Find the starting data; arguments and errors as for `start`."""
    request = StartRequest(**asked)  # type: ignore[arg-type]  # click and the tests give the fields' own types
    operation = start_operation(request.op)
    material, hardness = read_material(request.material, request.hardness)
    tool, at, tool_said = _tool(request.tool, material)
    hb = hardness.hb if hardness else None
    book, cut = _data(request, material, tool, operation, hb, at)
    records = _records(address, request, material)
    row = records.machine
    wanted = own.Wanted(
        tool=tool,
        operation=operation,
        cut=cut,
        conditions=request.conditions,
        machine_id=row.place_id if row else None,
        system=request.system,
    )
    found = own.look(records.own, wanted)
    none = ("the shop's own speeds hold none for this cut: the book's",)
    return Reckoned(
        operation=operation,
        cut=cut,
        material=material,
        hardness=hardness,
        data=own.instead(book, found.best, wanted) if records.own_wins and found.best else book,
        book=book,
        found=found,
        system=request.system,
        at=at,
        tool_sources=tool_said.sources,
        tool_assumed=(
            *tool_said.assumed,
            *records.said,
            *(none if records.own_wins and not found.best else ()),
        ),
        d_mm=_diameter(request),
        machine=row,
        feeds=MachineSpeeds(steps=row.feeds_mm)
        if row and row.feeds_mm and operation != "threading"
        else None,
        conditions=request.conditions,
        depth_mm=_size(request.depth, request),
        length_mm=_size(request.length, request),
        prices=read_costs(request.costs, records.currency) if request.costs.told else None,
    )


def in_words(reckoned: Reckoned) -> Start:
    """Put starting data into an answer."""
    data, hardness, row, feeds = reckoned.data, reckoned.hardness, reckoned.machine, reckoned.feeds
    n_rev_min, spindle_said = spindle(reckoned)
    machine_f_mm = nearest_feed_not_above(data.f_mm.start, feeds).value if feeds and data.f_mm else None
    triggers = {row.kind} if row else set()
    triggers |= burning(reckoned.material.name)
    triggers |= {"scale or interrupted"} if reckoned.conditions else set()
    triggers |= {"screw-cutting"} if reckoned.operation == "threading" else set()
    triggers |= {"drilling"} if reckoned.operation in ("drilling", "reaming") else set()
    if row and head.turns(row, reckoned.operation):
        triggers |= {"facing head", *(["head limit unknown"] if head.limit_unknown(row) else [])}
    keys = [*data.sources, *([hardness.source] if hardness and hardness.source else [])]
    other = data if isinstance(data, OperationData) else None
    best = reckoned.found.best
    told = own.said(best, reckoned.system) if best else ""  # stands in `own`
    return Start(
        material=reckoned.material.label,
        tool=data.tool_material,
        op=reckoned.operation,
        cut=reckoned.cut,
        hb=hardness.hb if hardness else None,
        vc_m_min=data.vc_m_min,
        n_rev_min=n_rev_min,
        f_mm=data.f_mm,
        machine_f_mm=machine_f_mm,
        ap_mm=data.ap_mm,
        deepest_mm=other.deepest_mm if other else None,
        passes=tuple(Infeed(ap_mm=one.ap_mm, depth_mm=one.depth_mm) for one in other.passes) if other else (),
        factors=tuple(_factors_said(data)),
        kc11_N_mm2=_force(reckoned.material),
        speeds_from=own.BOOK if reckoned.data is reckoned.book else own.OWN,
        book_vc_m_min=reckoned.book.vc_m_min,
        own=own.listed(reckoned.found, reckoned.system),
        effects=effects(reckoned, n_rev_min, machine_f_mm),
        source=tuple(dict.fromkeys(cite(key) for key in [*keys, *reckoned.tool_sources])),
        assumed=(
            *(hardness.assumed if hardness else ()),
            *reckoned.tool_assumed,
            *(line for line in data.assumed if line != told),
            *spindle_said,
        ),
        notes=(*_notes(data), *_carriage(reckoned, n_rev_min)),
        cautions=tuple(one.said for one in triggered(triggers, tables.cautions())),
    )


def effects(reckoned: Reckoned, n_rev_min: float | None, machine_f_mm: float | None) -> Effects:
    """Give what follows from the starting data, at the speed and feed that the machine has."""
    data = reckoned.data
    vc_m_min = data.vc_m_min.start
    if n_rev_min is not None and reckoned.d_mm is not None:
        vc_m_min = cutting_speed(n_rev_min, reckoned.d_mm)
    return effects_of(
        Done(
            operation=reckoned.operation,
            cut=reckoned.cut,
            material=reckoned.material,
            hb=reckoned.hardness.hb if reckoned.hardness else None,
            tool=data.tool_material,
            vc_m_min=vc_m_min,
            n_rev_min=n_rev_min,
            f_mm=machine_f_mm or (data.f_mm.start if data.f_mm else None),
            ap_mm=data.ap_mm.start if data.ap_mm else None,
            d_mm=reckoned.d_mm,
            length_mm=reckoned.length_mm,
            depth_mm=reckoned.depth_mm,
            vc_most_m_min=data.vc_m_min.high,
            passes=len(data.passes) or 1 if isinstance(data, OperationData) else 1,
        ),
        reckoned.machine,
        reckoned.prices,
        reckoned.system,
    )


def cuts() -> tuple[str, ...]:
    """Give the kinds of cut that may be asked for."""
    return CUTS


def start_operation(op: str) -> str:
    """Give the operation that a word names, the lathe's and the others'.

    Raises:
        UnknownName: no such operation.
    """
    known = {**OPERATIONS, **OTHER_OPERATIONS}
    try:
        return known[" ".join(op.lower().replace("-", " ").split())]
    except KeyError:
        raise UnknownName(
            "operation", op, hint="turn, face, bore, part, groove, drill, ream or thread"
        ) from None


# -- reading what was asked -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Said:
    """What reading a grade assumed, and its source keys."""

    assumed: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


def _tool(typed: str, material: Material) -> tuple[str, float, _Said]:
    """Read a tool material, or what a grade is for: its tool material and its place in the range."""
    try:
        return find_tool_material(typed, tables.speeds()), THIRD, _Said()  # M42 is a steel before a grade
    except UnknownName:
        if not _GRADE.fullmatch(typed.strip()):
            raise
    # only a grade needs these two
    from crib.trade.cutting.grade import GRADE_SOURCES, grade_of
    from crib.trade.designation.iso513 import Applications, read_application

    grade = grade_of(read_application(typed, Applications.load(rows)), material.iso513)
    at = THIRD if grade.at is None else grade.at
    return grade.tool_material, at, _Said(grade.assumed, GRADE_SOURCES)


def _data(
    request: StartRequest, material: Material, tool: str, operation: str, hb: float | None, at: float
) -> tuple[StartingData | OperationData, str]:
    """Give the starting data and the kind of cut."""
    if operation in OPERATIONS.values():
        conditions = request.conditions
        lathe = starting_data(
            material, tool, operation, request.cut, tables.speeds(), conditions=conditions, hb=hb, at=at
        )
        return lathe, request.cut
    size = ToolSize(
        d_mm=_size(request.diameter, request) if operation in ("drilling", "reaming") else None,
        width_mm=_size(request.width, request),
        pitch_mm=_pitch(request),
        depth_mm=_to_depth(request, operation),
    )
    other = operation_data(
        material, tool, operation, tables.forms(), size=size, conditions=request.conditions, hb=hb, at=at
    )
    return other, ""


def _to_depth(request: StartRequest, operation: str) -> float | None:
    """Give how deep it goes: as told, else parting goes to the centre."""
    if operation == "parting" and not request.depth and request.diameter:
        return (_size(request.diameter, request) or 0.0) / 2.0
    return _size(request.depth, request)


def _size(text: str, request: StartRequest) -> float | None:
    if not text:
        return None
    value = read(text, Kind.LENGTH, request.system).value
    if value <= 0:
        raise InputError(f"a size of {text} can't be", "it must be more than zero")
    return value


def _pitch(request: StartRequest) -> float | None:
    """Read a pitch: a length, or threads to the inch."""
    threads = _TPI.fullmatch(request.pitch.strip())
    if threads is None:
        return _size(request.pitch, request)
    count = float(threads.group(1).replace(",", "."))
    if count <= 0:
        raise InputError(f"a pitch of {request.pitch} can't be", "it must be more than zero")
    return _INCH_MM / count


@dataclass(frozen=True, slots=True)
class _Records:
    """What the store says: the machine, the shop's own speeds, whether they win, and what to say of it."""

    machine: MachineRow | None = None
    own: tuple[ProvenRow, ...] = ()
    own_wins: bool = False
    currency: str = ""
    said: tuple[str, ...] = ()


def _records(address: str, request: StartRequest, material: Material) -> _Records:
    """Look the machine up, and the shop's own speeds for a material.

    The book's figures need no store: one that can't be used is only an error where it is asked for.
    """
    if not address:
        return _Records()
    try:
        with reading(address) as reader:
            row = machine_of(request.machine, reader.machines()) if request.machine else None
            proven = reader.proven(material.id)
            settings = reader.settings() if proven or request.costs.told else {}
            wins = settings.get("speeds") == own.OWN if request.own is None else request.own
    except StoreError as error:
        if request.machine or request.own:
            raise
        why = f"the shop's own speeds can't be looked up: {error.message}"
        return _Records(said=() if isinstance(error, StoreMissing) else (why,))
    return _Records(row, proven, wins, settings.get("currency", ""))


def _diameter(request: StartRequest) -> float | None:
    if not request.diameter:
        return None
    d_mm = read(request.diameter, Kind.LENGTH, request.system).value
    if d_mm <= 0:
        raise InputError(f"a diameter of {request.diameter} can't be", "it must be more than zero")
    return d_mm


def spindle(reckoned: Reckoned) -> tuple[float | None, tuple[str, ...]]:
    """Give the spindle speed, and what to know of it."""
    if reckoned.d_mm is None:
        return None, ("diameter not told: no spindle speed",)
    said: tuple[str, ...] = ()
    wanted = spindle_speed(reckoned.data.vc_m_min.start, reckoned.d_mm)
    if reckoned.machine and head.turns(reckoned.machine, reckoned.operation):
        wanted, said = head.held(reckoned.machine, wanted, reckoned.d_mm)
    speeds = speeds_of(reckoned.machine)
    if speeds is None:
        unknown = "machine not told, or its speeds not on record: the speed is not one of its steps"
        return wanted, (*said, unknown)
    chosen = nearest_not_above(wanted, speeds)
    return chosen.value, (*said, chosen.note) if chosen.note else said


# -- putting it into words --------------------------------------------------------------------------------


def _factors_said(data: StartingData | OperationData) -> list[str]:
    """Put what the table's figures were multiplied by into words."""
    names = {"vc": "speed", "f": "feed"}
    return [
        f"{names[factor.quantity]} x {factor.factor.start:.2g} ({factor.factor.low:g} to "
        f"{factor.factor.high:g}): {factor.condition}{f' ({factor.note})' if factor.note else ''}, "
        f"{cite(factor.source)}"
        for factor in data.factors
    ]


def _notes(data: StartingData | OperationData) -> tuple[str, ...]:
    """Give the notes, with the source named where sources differ."""
    named = {one.said: f"{one.said}: {cite(one.source)}" for one in data.differing}
    return tuple(named.get(note, note) for note in data.notes)


def _carriage(reckoned: Reckoned, n_rev_min: float | None) -> tuple[str, ...]:
    """Say how fast the carriage runs while it cuts a thread: a hand has to stop it."""
    if reckoned.operation != "threading" or n_rev_min is None or reckoned.data.f_mm is None:
        return ()
    a_second_mm = n_rev_min * reckoned.data.f_mm.start / 60.0
    return (f"the carriage runs {show(round(a_second_mm, 1), Kind.LENGTH, reckoned.system)} a second",)


def _force(material: Material) -> ForceBand | None:
    """Give the specific cutting force and the band of the sources."""
    value, low, high = material.kc11_N_mm2, material.kc_low_N_mm2, material.kc_high_N_mm2
    if value is None or low is None or high is None or material.mc is None:
        return None
    return ForceBand(low=low, value=value, high=high, mc=material.mc, source=cite(material.kc_band_source))
