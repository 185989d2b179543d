"""The rows of the designation tables as the readings use them."""

from collections.abc import Mapping
from math import pi, radians, sin, tan
from typing import NamedTuple

from crib.trade.designation.reading import CERTAIN, MAKER, PositionReading, Tolerance

RECALLED = "recalled, not seen in the standard"
NO_DOUBTS: Mapping[str, tuple[str, ...]] = {}


class Symbol(NamedTuple):
    """One symbol of one position.

    Attributes:
        code: as written.
        value: its number (degrees or millimetres); None where it states none.
        other: the symbol of the other system, if it has one.
        notes: what to tell whoever reads it; empty for most.
        places: its position in an insert, a holder and a bar; the same where only one applies.
    """

    code: str
    value: float | None
    other: str | None
    notes: tuple[str, ...]
    places: tuple[PositionReading, ...]


class Shape(NamedTuple):
    """A shape letter.

    Attributes:
        code: the letter.
        EPSR_deg: included angle; None for round.
        corners: usable corners of one face; None for round.
        edge_per_IC: theoretical edge length over inscribed circle; None where there is no circle.
        form: regular, rhombic, trigon, rectangle, parallelogram or round.
        places: as in Symbol.
    """

    code: str
    EPSR_deg: float | None
    corners: int | None
    edge_per_IC: float | None
    form: str
    places: tuple[PositionReading, ...]


class Size(NamedTuple):
    """An insert size of one shape.

    Attributes:
        code: metric symbol; None where there is none.
        IC_mm: inscribed circle; None for parallelograms and rectangles.
        L_mm: theoretical edge length to the sharp corner; None where the code does not settle it.
        inch: inch symbol; None for sizes that the inch system lacks.
        notes: as in Symbol.
        tolerances: by class letter, for the classes that depend on size.
        places: its position in a metric insert, holder and bar.
        doubts: by class letter, what to tell of tolerances that were recalled or not found.
        W1_mm: width of inch rectangles and parallelograms; None for all others.
    """

    code: str | None
    IC_mm: float | None
    L_mm: float | None
    inch: str | None
    notes: tuple[str, ...]
    tolerances: Mapping[str, Tolerance]
    places: tuple[PositionReading, ...]
    doubts: Mapping[str, tuple[str, ...]] = NO_DOUBTS
    W1_mm: float | None = None


Symbols = Mapping[str, Symbol]


def number(text: str) -> float | None:
    """Give the number of a cell; None for an empty one."""
    return float(text) if text else None


def places(code: str, meaning: str, mark: str, *positions: int) -> tuple[PositionReading, ...]:
    """Give one PositionReading for each position at which a symbol may stand."""
    return tuple([PositionReading(position, code, meaning, mark) for position in positions])


def recalled(row: Mapping[str, str]) -> bool:
    """Tell whether nobody saw this row in a source."""
    return row.get("confidence") == "memory"


def mark_of(row: Mapping[str, str]) -> str:
    """Give the mark of a row's position; what is only recalled is never certain: see the maker's page."""
    mark = row.get("mark", CERTAIN)
    return MAKER if mark == CERTAIN and recalled(row) else mark


def meaning_of(row: Mapping[str, str], meaning: str) -> str:
    """Give the words of a row's position; a recalled one says so."""
    return f"{meaning} (recalled)" if recalled(row) else meaning


def notes_of(row: Mapping[str, str], what: str) -> tuple[str, ...]:
    """Give the notes of a row; a recalled row always has one."""
    note = row.get("note", "")
    if recalled(row) and RECALLED not in note:
        note = f"{note}; {RECALLED}" if note else f"{what} {row['code']}: {RECALLED}"
    return (note,) if note else ()


def edge_per_IC(form: str, sides: int, EPSR_deg: float) -> float | None:
    """Give the theoretical edge length over the inscribed circle (length to the sharp corner).

    Args:
        form: of the shape table.
        sides: number of sides (regular shapes).
        EPSR_deg: included angle (rhombic and trigon shapes).

    Returns:
        The ratio; None for shapes without an inscribed circle.

    Source: ISO 1832 position 5; plane geometry of a polygon about a circle.
    """
    if form == "regular":
        return tan(pi / sides)
    if form == "rhombic":
        return 1.0 / sin(radians(EPSR_deg))
    if form == "trigon":  # six sides, corners of EPSR and of 240 - EPSR in turn
        return 0.5 * (1.0 / tan(radians(EPSR_deg / 2.0)) + 1.0 / tan(radians((240.0 - EPSR_deg) / 2.0)))
    return 1.0 if form == "round" else None
