"""What is this? By calliper: inserts, and holders and bars in brief, set beside the stock."""

from collections.abc import Mapping
from dataclasses import dataclass, fields

from crib.desk.asking.codes import decode, designations
from crib.desk.asking.identify import Candidate, Held, Identified, by_having, held, said_of_stock
from crib.desk.hands import hand_of
from crib.errors import BadDesignation, InputError, StoreMissing
from crib.store.filters import Filters, Range
from crib.store.read import reading
from crib.trade import tables
from crib.trade.designation.measured import Errors, Likely, Measured, likely_codes, misfit
from crib.trade.designation.measured_holder import (
    LikelyHolder,
    MeasuredHolder,
    holder_misfit,
    likely_holders,
)
from crib.trade.designation.pattern import SOME, pattern_of
from crib.trade.designation.reading import InsertReading
from crib.trade.designation.shape_words import shapes_of, usual_errors
from crib.trade.designation.worn import worn
from crib.units import Kind, show

SHOWN_ERRORS = {
    "length": "lengths",
    "nose": "nose radius",
    "angle": "included angle",
    "clearance": "clearance",
    "shank": "shank",
    "overall": "length of the tool",
}
FIELD_WORDS = {
    "EPSR_deg": "The included angle",
    "IC_mm": "The inscribed circle",
    "edge_mm": "The edge",
    "S_mm": "The thickness",
    "RE_mm": "The nose radius",
    "AN_deg": "The clearance",
}
WANTED = {"length": "length", "hand": "hand", "entering": "entering angle", "insert": "insert that it takes"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What was measured, as typed; empty for what was not.

    Attributes:
        shape: words, a letter or an angle.
        angle: included angle, measured.
        ic: inscribed circle.
        edge: edge length over the rounded corners.
        thickness: from the seat to the cutting edge.
        nose: corner radius.
        clearance: clearance angle.
        hole: it has a hole; None for not said.
        error: of lengths.
        nose_error: of the nose.
        shank: of a holder "25x25", of a bar "25".
        length: of a holder or bar.
        hand: right, left or neutral.
        entering: entering angle.
        insert: code of the insert that a holder takes; may have unreadable characters.
    """

    shape: str = ""
    angle: str = ""
    ic: str = ""
    edge: str = ""
    thickness: str = ""
    nose: str = ""
    clearance: str = ""
    hole: bool | None = None
    error: str = ""
    nose_error: str = ""
    shank: str = ""
    length: str = ""
    hand: str = ""
    entering: str = ""
    insert: str = ""

    def given(self) -> tuple[str, ...]:
        """Give the names of what was said."""
        return tuple(field.name for field in fields(self) if getattr(self, field.name) not in ("", None))


def identify_sizes(address: str, sizes: Sizes, *, limit: int = 20) -> Identified:
    """Say what a measured part can be, what is on hand first.

    Args:
        address: the store; it need not exist.
        sizes: as typed.
        limit: how many codes to give.

    Raises:
        InputError: a size that can't be read, or too few of them.
        StoreError: the store is there, but can't be used.
    """
    system = _system(address)
    if sizes.shank:
        return _identify_holder(address, sizes, system, limit)
    wrong = [name for name in ("length", "hand", "entering", "insert") if name in sizes.given()]
    if wrong:
        raise InputError(f"--{wrong[0]} is of a holder or a bar", "give its --shank as well, as 25x25")
    return _identify_insert(address, sizes, system, limit)


def _system(address: str) -> str:
    """Give the user's system of units; metric without a store."""
    try:
        with reading(address) as reader:
            return reader.settings().get("units", "metric")
    except StoreMissing:
        return "metric"


def _value(text: str, kind: Kind, system: str) -> float | None:
    if not text:
        return None
    from crib.units import read  # asking by code needs none of it

    return read(text, kind, system).value


# -- inserts -----------------------------------------------------------------------------------------------


def _identify_insert(address: str, sizes: Sizes, system: str, limit: int) -> Identified:
    measured, assumed = _measured(sizes, system)
    letters = designations()
    found = likely_codes(measured, letters)
    stock = held(
        address,
        _inserts(measured),
        lambda read: misfit(measured, read, letters) if isinstance(read, InsertReading) else None,
    )
    best = found.likely[0] if found.likely else None
    candidates = by_having(_candidate(one, stock) for one in found.likely)
    types = "" if measured.hole is None else f"its fourth letter is one of {' '.join(found.types)}"
    notes = ["the third letter, the tolerance class, is too fine for a calliper", *([types] if types else [])]
    return Identified(
        asked=_said(measured, system),
        verdict=_verdict(best, found.agrees, len(found.likely)),
        detail=said_of_stock(stock) if found.agrees else _off(best, system),
        next_step=_next(stock, found.agrees, found.tells_apart),
        stock_known=stock.known,
        on_site=stock.on_site,
        elsewhere=stock.elsewhere,
        candidates=candidates[:limit],
        total=len(found.likely) if found.agrees else 0,
        complete=True,
        tells_apart=found.tells_apart,
        assumed=assumed,
        notes=tuple(notes),
    )


def _measured(sizes: Sizes, system: str) -> tuple[Measured, tuple[str, ...]]:
    """Read the sizes; the errors that were not stated are assumed, and said."""
    usual = usual_errors(tables.rows("measuring_error"))
    length_mm = _value(sizes.error, Kind.LENGTH, system)
    nose_mm = _value(sizes.nose_error, Kind.LENGTH, system)
    errors = Errors(
        length_mm=usual["length"] if length_mm is None else length_mm,
        nose_mm=usual["nose"] if nose_mm is None else nose_mm,
        angle_deg=usual["angle"],
        clearance_deg=usual["clearance"],
    )
    measured = Measured(
        shapes=shapes_of(sizes.shape, designations(), tables.rows("shape_word")) if sizes.shape else (),
        EPSR_deg=_value(sizes.angle, Kind.ANGLE, system),
        IC_mm=_value(sizes.ic, Kind.LENGTH, system),
        edge_mm=_value(sizes.edge, Kind.LENGTH, system),
        S_mm=_value(sizes.thickness, Kind.LENGTH, system),
        RE_mm=_value(sizes.nose, Kind.LENGTH, system),
        AN_deg=_value(sizes.clearance, Kind.ANGLE, system),
        hole=sizes.hole,
        errors=errors,
    )
    used = {
        "length": length_mm is None,
        "nose": nose_mm is None and measured.RE_mm is not None,
        "angle": measured.EPSR_deg is not None,
        "clearance": measured.AN_deg is not None,
    }
    return measured, _assumed(usual, used, system)


def _assumed(usual: Mapping[str, float], used: Mapping[str, bool], system: str) -> tuple[str, ...]:
    """Say which errors were assumed."""
    said = []
    for what, is_used in used.items():
        if is_used:
            kind = Kind.ANGLE if what in ("angle", "clearance") else Kind.LENGTH
            said.append(f"{SHOWN_ERRORS[what]} measured to ±{show(usual[what], kind, system)}")
    return tuple(said)


def _inserts(measured: Measured) -> tuple[Filters, ...]:
    """Narrow the stock by shape and inscribed circle; the rest is compared code by code."""
    wide_mm = 2.0 + measured.errors.length_mm
    ranges: tuple[Range, ...] = ()
    if measured.IC_mm is not None and measured.edge_mm is None:
        ranges = (Range("ic_mm", measured.IC_mm - wide_mm, measured.IC_mm + wide_mm),)
    if not measured.shapes:
        return (Filters(kinds=("insert",), ranges=ranges),)
    return tuple(Filters(kinds=("insert",), sc=shape, ranges=ranges) for shape in measured.shapes)


def _candidate(one: Likely, stock: Held) -> Candidate:
    letters = designations()
    size = "" if one.IC_mm is None else f", IC {show(one.IC_mm, Kind.LENGTH)}"
    nose = "" if one.RE_mm is None else f", nose {one.RE_mm:g}"
    thick = "" if one.S_mm is None else f", {one.S_mm:g} thick"
    return Candidate(
        code=one.code,
        equivalent=one.inch,
        kind="insert",
        system="metric",
        label=letters.shapes[one.SC].places[0].meaning + size + thick + nose,
        have=_have(stock, one.code, one.inch),
        misfit=one.misfit,
        agrees=one.agrees,
    )


def _have(stock: Held, *codes: str | None) -> str:
    """Say where an item is whose code agrees with one of some patterns."""
    patterns = [pattern_of(code + SOME, points=True, least=0) for code in codes if code]
    return stock.have(*(code for code, _ in stock.codes if any(pattern.fits(code) for pattern in patterns)))


def _said(measured: Measured, system: str) -> str:
    """Say how the measurements were understood."""
    parts = ["shape " + " or ".join(measured.shapes)] if measured.shapes else []
    for name, value, kind in (
        ("included angle", measured.EPSR_deg, Kind.ANGLE),
        ("inscribed circle", measured.IC_mm, Kind.LENGTH),
        ("edge", measured.edge_mm, Kind.LENGTH),
        ("thickness", measured.S_mm, Kind.LENGTH),
        ("nose", measured.RE_mm, Kind.LENGTH),
        ("clearance", measured.AN_deg, Kind.ANGLE),
    ):
        if value is not None:
            parts.append(f"{name} {show(value, kind, system)}")
    if measured.hole is not None:
        parts.append("with a hole" if measured.hole else "without a hole")
    return ", ".join(parts)


def _verdict(best: Likely | None, agrees: bool, count: int) -> str:
    if best is None:
        return "Nothing in the standards has that shape and size."
    inch = f" (inch {best.inch})" if best.inch else ""
    if not agrees:
        return f"Nothing fits inside the errors; the nearest is {best.code}{inch}."
    return f"It is {best.code}{inch}." if count == 1 else f"Most likely {best.code}{inch}; {count} fit."


def _off(best: Likely | None, system: str) -> str:
    """Say what is off most in the nearest code."""
    if best is None:
        return "See that the shape is right: crib identify --help names them."
    worst = max(best.deviations, key=lambda one: one.part)
    kind = Kind.ANGLE if worst.field.endswith("deg") else Kind.LENGTH
    measured, nominal = show(worst.measured, kind, system), show(worst.nominal, kind, system)
    return f"{FIELD_WORDS[worst.field]} is {measured}, where that code has {nominal}."


def _next(stock: Held, agrees: bool, tells_apart: tuple[str, ...]) -> str:
    best = (*stock.on_site, *stock.elsewhere)
    if best:
        return f"Compare it with {best[0].tag}: crib show {best[0].tag}"
    if not agrees:
        return "Measure again, or state a larger --error."
    return (
        tells_apart[0][0].upper() + tells_apart[0][1:] if tells_apart else "crib find says what goes with it."
    )


# -- holders and bars, in brief ----------------------------------------------------------------------------


def _identify_holder(address: str, sizes: Sizes, system: str, limit: int) -> Identified:
    measured, assumed = _measured_holder(sizes, system)
    letters = designations()
    found = likely_holders(measured, letters, tables.rows)
    agrees = bool(found) and found[0].agrees
    kind = "bar" if measured.DCON_mm is not None else "holder"
    sc = None if measured.SC == "?" else measured.SC
    stock = held(
        address,
        (Filters(kinds=(kind,), sc=sc),),
        lambda read: None if isinstance(read, InsertReading) else holder_misfit(measured, read, letters),
    )
    candidates = by_having(_holder_candidate(one, stock) for one in found)
    best = candidates[0] if candidates else None
    verdict = (
        f"Most likely {found[0].code}; {len(found)} fit." if agrees else "Nothing fits inside the errors."
    )
    if best and not agrees:
        verdict += f" The nearest is {found[0].code}."
    if agrees and len(found) == 1:
        verdict = f"It is a {found[0].code}."
    open_ = ["how the insert is clamped (first letter)"] if kind == "holder" else ["type and clamping"]
    open_ += [f"give its {words}" for what, words in WANTED.items() if not getattr(sizes, what)]
    return Identified(
        asked=", ".join(f"{name} {getattr(sizes, name)}" for name in sizes.given()),
        verdict=verdict,
        detail=said_of_stock(stock),
        next_step=_next(stock, agrees, tuple(open_)),
        stock_known=stock.known,
        on_site=stock.on_site,
        elsewhere=stock.elsewhere,
        candidates=candidates[:limit],
        total=len(found) if agrees else 0,
        complete=True,
        tells_apart=tuple(open_),
        assumed=assumed,
    )


def _measured_holder(sizes: Sizes, system: str) -> tuple[MeasuredHolder, tuple[str, ...]]:
    """Read what is known of a holder or a bar."""
    usual = usual_errors(tables.rows("measuring_error"))
    shank = [_value(part, Kind.LENGTH, system) for part in sizes.shank.lower().replace("×", "x").split("x")]
    if len(shank) > 2 or not all(shank):
        raise InputError(f"{sizes.shank!r} is no shank", "25x25 (height x width), or 25 for a round one")
    hand = hand_of(sizes.hand) if sizes.hand else "?"
    seat = _seat(sizes.insert)
    error_mm = _value(sizes.error, Kind.LENGTH, system)
    measured = MeasuredHolder(
        H_mm=shank[0] if len(shank) == 2 else None,
        B_mm=shank[1] if len(shank) == 2 else None,
        DCON_mm=shank[0] if len(shank) == 1 else None,
        LF_mm=_value(sizes.length, Kind.LENGTH, system),
        HAND=hand,
        KAPR_deg=_value(sizes.entering, Kind.ANGLE, system),
        SC=seat.get("SC", "?"),
        clearance=seat.get("clearance", "?"),
        size=seat.get("size"),
        inch_size=seat.get("inch_size"),
        shank_error_mm=usual["shank"] if error_mm is None else error_mm,
        overall_error_mm=usual["overall"],
    )
    used = {"shank": error_mm is None, "overall": measured.LF_mm is not None}
    return measured, _assumed(usual, used, system)


def _seat(code: str) -> dict[str, str]:
    """Give what all readings of an insert's code share: shape, clearance, size.

    Raises:
        BadDesignation: it is no insert.
    """
    if not code:
        return {}
    letters = designations()
    try:
        inserts = [decode(code)]
    except BadDesignation:
        possible = (
            *worn(code, letters, tables.rows).possible,
            *worn(code + "*", letters, tables.rows).possible,
        )
        inserts = [one.reading for one in possible if not one.guessed]
    found = [one for one in inserts if isinstance(one, InsertReading)]
    if not found:
        raise InputError(f"{code!r} is no insert", "the insert that it takes, as CNMG1204 or CNMG120408")
    seat: dict[str, set[str]] = {"SC": set(), "clearance": set(), "size": set(), "inch_size": set()}
    for one in found:
        size = letters.sizes.get(f"{one.SC}{one.size}")
        seat["SC"].add(one.SC)
        seat["clearance"].add(one.positions[1].found)
        seat["size"].add(one.size or "")
        seat["inch_size"].add((size.inch if size else None) or "")
    return {key: next(iter(values)) for key, values in seat.items() if len(values) == 1 and "" not in values}


def _holder_candidate(one: LikelyHolder, stock: Held) -> Candidate:
    return Candidate(
        code=one.code,
        equivalent=None,
        kind=one.kind,
        system=one.system,
        label="boring bar" if one.kind == "bar" else "turning holder",
        have=_have(stock, one.code),
        misfit=one.misfit,
        agrees=one.agrees,
    )
