"""From what a calliper says about an insert without a name to the codes that it can have.

Every measured value is compared with every symbol of the tables. It agrees while it is off by no more than
its stated error and the widest standard tolerance together, the band; the misfit of a code is the sum of
(deviation / band) squared, as in a chi-square, so that the best codes come first.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import floor, radians, tan

from crib.errors import InputError
from crib.trade.designation.letters import Letters
from crib.trade.designation.reading import InsertReading
from crib.trade.designation.symbols import Shape, Size, Symbol

WIDEST = "U"  # the tolerance class with the widest bands: pressed inserts for the plainest work
WIDEST_mm = 0.25  # of d, where the table has no row for the shape and size
LARGEST_NOSE_mm = 1.6  # up to here an unmeasured nose is thought to shorten an edge
NEAREST = 5
CLOSE = 1.0  # codes whose misfit is this near the best are told apart
ANY = "?"
ROUNDING = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Errors:
    """What each measurement may be off by.

    Attributes:
        length_mm: inscribed circle, edge, thickness.
        nose_mm: corner radius.
        angle_deg: included angle.
        clearance_deg: clearance angle.
    """

    length_mm: float
    nose_mm: float
    angle_deg: float
    clearance_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What was measured of an insert; None for what was not.

    Attributes:
        shapes: shape letters that it can have; empty for any.
        EPSR_deg: included angle of the corner.
        IC_mm: inscribed circle: between parallel sides, or the diameter.
        edge_mm: edge length, over the rounded corners.
        S_mm: thickness, from the seat to the cutting edge.
        RE_mm: corner radius.
        AN_deg: clearance angle.
        hole: it has a hole.
        errors: what these may be off by.
    """

    shapes: tuple[str, ...] = ()
    EPSR_deg: float | None = None
    IC_mm: float | None = None
    edge_mm: float | None = None
    S_mm: float | None = None
    RE_mm: float | None = None
    AN_deg: float | None = None
    hole: bool | None = None
    errors: Errors


@dataclass(frozen=True, slots=True, kw_only=True)
class Deviation:
    """How one measurement compares with a code.

    Attributes:
        field: what was measured.
        measured: the value.
        nominal: what the code says; edge lengths as a calliper would find them over the corners.
        band: stated error and standard tolerance together; unit as the field's.
    """

    field: str
    measured: float
    nominal: float
    band: float

    @property
    def part(self) -> float:
        """Deviation over band: up to 1 agrees."""
        return abs(self.measured - self.nominal) / self.band


@dataclass(frozen=True, slots=True, kw_only=True)
class Likely:
    """A code that the measurements suggest.

    Attributes:
        code: metric code with `?` for what was not measured; None where the size has none.
        inch: the same in the inch system; None where that has none.
        SC: shape letter.
        EPSR_deg: included angle.
        IC_mm: inscribed circle.
        S_mm: thickness; None when not measured.
        RE_mm: corner radius; None when not measured, or round.
        AN_deg: clearance; None when not measured.
        misfit: 0 for a perfect match; up to 1 for each measurement agrees.
        agrees: every measurement is inside its band.
        deviations: of each measurement.
    """

    code: str
    inch: str | None
    SC: str
    EPSR_deg: float | None
    IC_mm: float | None
    S_mm: float | None
    RE_mm: float | None
    AN_deg: float | None
    misfit: float
    agrees: bool
    deviations: tuple[Deviation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Likeness:
    """The codes that measurements suggest.

    Attributes:
        likely: those that agree, best first; when none does, the nearest few.
        agrees: there are some that agree.
        types: letters of position 4 that go with what is known of the hole.
        tells_apart: what to measure next to tell the best ones apart.
    """

    likely: tuple[Likely, ...]
    agrees: bool
    types: tuple[str, ...]
    tells_apart: tuple[str, ...]


def seen_edge_mm(L_mm: float, RE_mm: float, shape: Shape) -> float:
    """Give the edge length that a calliper finds over the rounded corners.

    A corner of angle e rounded by r ends r (cot(e/2) - 1) before its sharp point, along the edge. Regular
    shapes are rounded at both ends; rhombic and trigon ones are taken as sharp at their obtuse corners.

    Args:
        L_mm: theoretical edge length, to the sharp corners.
        RE_mm: corner radius.
        shape: row of the shapes.

    Source: plane geometry.
    """
    if shape.EPSR_deg is None:
        return L_mm
    ends = 2 if shape.form in ("regular", "rectangle") else 1
    return L_mm - ends * RE_mm * (1.0 / tan(radians(shape.EPSR_deg / 2.0)) - 1.0)


def likely_codes(measured: Measured, letters: Letters) -> Likeness:
    """Give the codes that agree with what was measured, best first.

    Args:
        measured: in mm and degrees.
        letters: the tables.

    Raises:
        InputError: neither inscribed circle nor edge length, or a value that no insert has.

    Source: ISO 1832, positions 1, 2 and 5 to 7, and tolerance class U; ANSI B212.4 beside it.
    """
    _check(measured)
    found = sorted(_all(measured, letters), key=lambda one: (round(one.misfit, 6), one.inch is None))
    agree = [one for one in found if one.agrees]
    return Likeness(
        likely=tuple(agree or found[:NEAREST]),
        agrees=bool(agree),
        types=_types(measured.hole, letters),
        tells_apart=tuple(_tells_apart(agree, measured, letters)),
    )


def _check(measured: Measured) -> None:
    """Refuse what can't be answered."""
    if measured.IC_mm is None and measured.edge_mm is None:
        raise InputError(
            "an insert's size is wanted", "give --ic (across parallel sides, or the diameter) or --edge"
        )
    sizes = {
        "inscribed circle": measured.IC_mm, "edge": measured.edge_mm, "thickness": measured.S_mm,
        "error": measured.errors.length_mm, "nose error": measured.errors.nose_mm,
    }  # fmt: skip
    for name, value in sizes.items():
        if value is not None and not 0.0 < value < 1000.0:
            raise InputError(f"{name} {value:g} mm: no insert has that", "give it in mm, or as 1/2 in")
    if measured.RE_mm is not None and not 0.0 <= measured.RE_mm < 1000.0:
        raise InputError(f"nose radius {measured.RE_mm:g} mm: no insert has that", "0 is a sharp corner")


def _all(measured: Measured, letters: Letters) -> Iterator[Likely]:
    """Compare with everything in the tables; thickness, radius and clearance by their nearest symbols."""
    clearances = _clearances(measured, letters)
    thicknesses = _near(measured.S_mm, letters.thicknesses, measured.errors.length_mm, "S_mm", letters)
    corners = _near(measured.RE_mm, letters.corners, measured.errors.nose_mm, "RE_mm", letters)
    for shape, size, code in _sizes(measured, letters):
        angle = _angle(measured, shape)
        noses = corners if shape.corners is not None else [(None, ())]
        for (thick, by_S), (corner, by_RE), (clearance, by_AN) in product(thicknesses, noses, clearances):
            by_size = _by_size(measured, shape, size, corner)
            if by_size is not None:
                deviations = (*angle, *by_size, *by_S, *by_RE, *by_AN)
                yield _likely(shape, size, code, (clearance, thick, corner), deviations)


Compared = tuple[Symbol | None, tuple[Deviation, ...]]
"""A symbol, None for one not measured, and how it compares."""


def _near(
    value: float | None, symbols: Mapping[str, Symbol], error: float, field: str, letters: Letters
) -> list[Compared]:
    """Compare one value with a table; keep what agrees, or the nearest few."""
    if value is None:
        return [(None, ())]
    tolerance = (letters.open_tolerances[WIDEST].s_mm or 0.0) if field == "S_mm" else 0.0
    found: list[Compared] = [
        (symbol, (Deviation(field=field, measured=value, nominal=symbol.value, band=error + tolerance),))
        for symbol in symbols.values()
        if symbol.value is not None
    ]
    found.sort(key=lambda one: one[1][0].part)
    agree = [one for one in found if one[1][0].part <= 1.0 + ROUNDING]
    return agree or found[:2]


def _clearances(measured: Measured, letters: Letters) -> list[Compared]:
    """Compare the clearance angle."""
    return _near(measured.AN_deg, letters.metric_clearances, measured.errors.clearance_deg, "AN_deg", letters)


def _angle(measured: Measured, shape: Shape) -> tuple[Deviation, ...]:
    """Compare the included angle."""
    if measured.EPSR_deg is None or shape.EPSR_deg is None:
        return ()
    band = measured.errors.angle_deg
    return (Deviation(field="EPSR_deg", measured=measured.EPSR_deg, nominal=shape.EPSR_deg, band=band),)


def _sizes(measured: Measured, letters: Letters) -> Iterator[tuple[Shape, Size, str]]:
    """Give every shape and size that may be meant, and the size's code (of round ones with the corner)."""
    for letter, shape in letters.shapes.items():
        if (measured.shapes and letter not in measured.shapes) or (
            measured.EPSR_deg is not None and shape.EPSR_deg is None
        ):
            continue
        if shape.corners is None:
            yield from ((shape, size, key) for key, size in letters.rounds.items())
        elif shape.edge_per_IC is None:
            yield from _oblong(shape, measured)
        else:
            known: set[float | None] = set()
            for key, size in letters.sizes.items():
                if key[0] == letter and size.IC_mm not in known:  # some have a second symbol
                    known.add(size.IC_mm)
                    yield shape, size, key[1:]


def _oblong(shape: Shape, measured: Measured) -> Iterator[tuple[Shape, Size, str]]:
    """Sizes of a rectangle or parallelogram: whole millimetres of its longer edge; the width is not coded."""
    if measured.edge_mm is None:
        return
    around = floor(measured.edge_mm)
    for whole in range(max(1, around - 2), min(99, around + 4)):
        yield shape, Size(f"{whole:02}", None, None, None, (), {}, ()), f"{whole:02}"


def _by_size(
    measured: Measured, shape: Shape, size: Size, corner: Symbol | None
) -> tuple[Deviation, ...] | None:
    """Compare inscribed circle and edge; None when the corner is too large, or nothing can be compared."""
    error = measured.errors.length_mm
    if size.IC_mm is None:
        return _by_whole_edge(measured, shape, size, corner)
    if corner is not None and 2.0 * (corner.value or 0.0) >= size.IC_mm:
        return None
    found: list[Deviation] = []
    widest = size.tolerances.get(WIDEST)
    tolerance_mm = (widest.d_mm if widest else None) or WIDEST_mm
    if measured.IC_mm is not None:
        band = error + tolerance_mm
        found.append(Deviation(field="IC_mm", measured=measured.IC_mm, nominal=size.IC_mm, band=band))
    if measured.edge_mm is not None and size.L_mm is not None and shape.edge_per_IC is not None:
        noses_mm = (0.0, LARGEST_NOSE_mm) if corner is None else (corner.value or 0.0,) * 2
        ends = sorted(seen_edge_mm(size.L_mm, nose_mm, shape) for nose_mm in noses_mm)
        seen_mm = min(max(measured.edge_mm, ends[0]), ends[1])
        band = error + tolerance_mm * shape.edge_per_IC
        found.append(Deviation(field="edge_mm", measured=measured.edge_mm, nominal=seen_mm, band=band))
    return tuple(found) or None


def _by_whole_edge(
    measured: Measured, shape: Shape, size: Size, corner: Symbol | None
) -> tuple[Deviation, ...] | None:
    """Compare the edge of an oblong insert, of which the code tells whole millimetres only."""
    if measured.edge_mm is None or not size.code:
        return None
    nose_mm = (corner.value if corner else measured.RE_mm) or 0.0
    sharp_mm = measured.edge_mm - seen_edge_mm(0.0, nose_mm, shape)
    nominal = min(max(sharp_mm, float(size.code)), float(size.code) + 1.0)
    return (Deviation(field="edge_mm", measured=sharp_mm, nominal=nominal, band=measured.errors.length_mm),)


def _likely(
    shape: Shape, size: Size, code: str, symbols: Sequence[Symbol | None], deviations: tuple[Deviation, ...]
) -> Likely:
    """Put one code together."""
    clearance, thick, corner = symbols
    head = shape.code + (clearance.code if clearance else ANY) + ANY + ANY
    end, inch_end = (corner.code, corner.other) if corner else (ANY + ANY, ANY)
    if shape.corners is None:
        end, inch_end = code[2:], ""
    inch_thick = thick.other if thick else "*"
    inch = None
    if size.inch is not None and inch_thick is not None and inch_end is not None:
        inch = head + size.inch + inch_thick + inch_end
    return Likely(
        code=head + code[:2] + (thick.code if thick else ANY + ANY) + end,
        inch=inch,
        SC=shape.code,
        EPSR_deg=shape.EPSR_deg,
        IC_mm=size.IC_mm,
        S_mm=thick.value if thick else None,
        RE_mm=corner.value if corner else None,
        AN_deg=clearance.value if clearance else None,
        misfit=sum(one.part**2 for one in deviations),
        agrees=all(one.part <= 1.0 + ROUNDING for one in deviations),
        deviations=deviations,
    )


def misfit(measured: Measured, insert: InsertReading, letters: Letters) -> float | None:
    """Give how far an insert of known code is from what was measured; None when it does not agree.

    Args:
        measured: in mm and degrees.
        insert: its reading.
        letters: the tables.
    """
    shape = letters.shapes[insert.SC]
    hole = None if insert.fixing.hole == "special" else insert.fixing.hole != "none"
    if measured.shapes and insert.SC not in measured.shapes:
        return None
    if measured.hole is not None and hole is not None and measured.hole != hole:
        return None
    corner = Symbol("", insert.RE_mm, None, (), ()) if shape.corners is not None else None
    size = _size_of(insert, letters)
    by_size = _by_size(measured, shape, size, corner) if size else None
    if by_size is None or (shape.EPSR_deg is None and measured.EPSR_deg is not None):
        return None
    tolerance = letters.open_tolerances[WIDEST].s_mm or 0.0
    pairs = (
        ("S_mm", measured.S_mm, insert.S_mm, measured.errors.length_mm + tolerance),
        ("RE_mm", measured.RE_mm, insert.RE_mm if corner else None, measured.errors.nose_mm),
        ("AN_deg", measured.AN_deg, insert.AN_deg, measured.errors.clearance_deg),
    )
    others = tuple(
        Deviation(field=field, measured=value, nominal=nominal, band=band)
        for field, value, nominal, band in pairs
        if value is not None and nominal is not None
    )
    deviations = (*_angle(measured, shape), *by_size, *others)
    if any(one.part > 1.0 + ROUNDING for one in deviations):
        return None
    return sum(one.part**2 for one in deviations)


def _size_of(insert: InsertReading, letters: Letters) -> Size | None:
    """Give the size of an insert in the form that is compared; None where its code leaves it open."""
    known = letters.sizes.get(f"{insert.SC}{insert.size}")
    if known is not None or (insert.IC_mm is None and insert.size is None):
        return known
    return Size(insert.size, insert.IC_mm, insert.L_mm, None, (), {}, ())


def _types(hole: bool | None, letters: Letters) -> tuple[str, ...]:
    """Give the letters of position 4 that go with a hole, or with none."""
    return tuple(
        code
        for code in letters.metric_types
        if hole is None
        or letters.fixings[code].hole == "special"
        or (letters.fixings[code].hole != "none") == hole
    )


# -- what to measure next ----------------------------------------------------------------------------------


def _tells_apart(agree: Sequence[Likely], measured: Measured, letters: Letters) -> Iterator[str]:
    """Say what would tell the best ones apart, and what was not measured at all."""
    best = [one for one in agree if one.misfit <= agree[0].misfit + CLOSE + ROUNDING]
    if not best:
        return
    shapes = list(dict.fromkeys(one.SC for one in best))
    if len(shapes) > 1:
        named = " or ".join(f"{letters.shapes[code].places[0].meaning} ({code})" for code in shapes)
        yield f"compare the outline: {named}"
    for name, values, measuring in (
        ("inscribed circle", [one.IC_mm for one in best], "measure it closer"),
        ("thickness", [one.S_mm for one in best], "measure it closer, from the seat to the cutting edge"),
        ("nose radius", [one.RE_mm for one in best], "hold a radius gauge against it"),
        ("clearance", [one.AN_deg for one in best], "measure it closer"),
    ):
        found = sorted({value for value in values if value is not None})
        if len(found) > 1:
            unit = "°" if name == "clearance" else " mm"
            listed = " or ".join(f"{value:g}" for value in found)
            yield f"{name} {listed}{unit}: {measuring}"
    yield from _unmeasured(measured, shapes != ["R"], letters)


def _unmeasured(measured: Measured, cornered: bool, letters: Letters) -> Iterator[str]:
    """Name what was not measured."""
    if measured.AN_deg is None:
        usual = [symbol for symbol in letters.metric_clearances.values() if symbol.value is not None][:4]
        angles = sorted((symbol.value or 0.0, symbol.code) for symbol in usual)
        listed = ", ".join(f"{angle:g}° ({code})" for angle, code in angles)
        yield f"measure the clearance of the side face: {listed} are the usual ones"
    if measured.S_mm is None:
        yield "measure the thickness, from the seat to the cutting edge"
    if measured.RE_mm is None and cornered:
        yield "hold a radius gauge against the nose"
    if measured.hole is None:
        yield "say whether it has a hole"
