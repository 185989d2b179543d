"""What a code is to say, in dimensions and letters: `encode` writes from it, a reading goes back to it."""

from dataclasses import dataclass, replace

from crib.trade.designation.reading import BarReading, HolderReading, InsertReading, Reading

CORNER = 7  # position


@dataclass(frozen=True, slots=True, kw_only=True)
class InsertSpec:
    """An insert to be written as a code.

    Attributes:
        SC: shape letter.
        clearance: its letter, or the normal clearance in degrees.
        tolerance: class letter.
        fixing: letter of hole and chip breaker.
        S_mm: thickness.
        IC_mm: inscribed circle, or the diameter of a round insert.
        L_mm: theoretical edge length, where there is no inscribed circle or it is not known.
        W1_mm: width; inch rectangles and parallelograms need it.
        RE_mm: corner radius; None for a round insert or where `corner` says it.
        corner: the two letters of a wiper, or a corner letter of the inch system.
        edge_condition: position 8 letter.
        HAND: R, L or N.
        chamfer_width_mm: of the edge.
        chamfer_angle_deg: of the edge.
        facet_width_mm: inch codes only.
        other_conditions: letter of older inch codes.
        maker_suffix: the maker's own symbol.
        system: "metric" or "inch".
    """

    SC: str
    clearance: str | float
    tolerance: str
    fixing: str
    S_mm: float
    IC_mm: float | None = None
    L_mm: float | None = None
    W1_mm: float | None = None
    RE_mm: float | None = None
    corner: str | None = None
    edge_condition: str | None = None
    HAND: str | None = None
    chamfer_width_mm: float | None = None
    chamfer_angle_deg: float | None = None
    facet_width_mm: float | None = None
    other_conditions: str | None = None
    maker_suffix: str | None = None
    system: str = "metric"


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatSpec:
    """What holders and bars say alike: the five letters and the insert's size.

    Attributes:
        clamping: letter.
        SC: shape of the insert.
        style: its letter; or None, and KAPR_deg says it.
        KAPR_deg: tool cutting edge angle.
        clearance: letter, or the insert's normal clearance in degrees.
        HAND: R, L or N.
        size: the insert's size as its code writes it; or None, and IC_mm or L_mm says it.
        IC_mm: inscribed circle or diameter of the insert.
        L_mm: theoretical edge length of the insert.
        length: letter of the length, or a dash for the preferred length; or None, and LF_mm says it.
        LF_mm: functional length.
        maker_suffix: the maker's own symbol.
        system: "metric" or "inch".
    """

    clamping: str
    SC: str
    clearance: str | float
    HAND: str
    style: str | None = None
    KAPR_deg: float | None = None
    size: str | None = None
    IC_mm: float | None = None
    L_mm: float | None = None
    length: str | None = None
    LF_mm: float | None = None
    maker_suffix: str | None = None
    system: str = "metric"


@dataclass(frozen=True, slots=True, kw_only=True)
class HolderSpec(SeatSpec):
    """A turning holder, cartridge or modular head to be written as a code.

    Attributes:
        H_mm: shank height; of a cartridge the height of the cutting point; None for a modular head.
        B_mm: shank width; None for a cartridge or modular head.
        qualified: letter of the special tolerance.
        cartridge: form letter, A.
        coupling: shank of a modular head, as C5 or HSK-T63.
        WF_mm: functional width of a modular head.
    """

    H_mm: float | None = None
    B_mm: float | None = None
    qualified: str | None = None
    cartridge: str | None = None
    coupling: str | None = None
    WF_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BarSpec(SeatSpec):
    """A boring bar to be written as a code.

    Attributes:
        shank_type: letter of the bar type.
        DCON_mm: shank diameter.
    """

    shank_type: str
    DCON_mm: float


Spec = InsertSpec | HolderSpec | BarSpec


def spec_of(reading: Reading, system: str = "") -> Spec:
    """Give back the dimensions and letters that a reading's code states.

    Args:
        reading: of an insert, a holder or a bar.
        system: for a code in this system; else in the reading's own. Letters of sizes and lengths, which
            differ between the systems, are then left out for the measures themselves.
    """
    spec: Spec
    if isinstance(reading, InsertReading):
        spec = _insert_spec(reading)
    else:
        spec = _holder_spec(reading) if isinstance(reading, HolderReading) else _bar_spec(reading)
    if not system or system == reading.system:
        return spec
    if isinstance(spec, InsertSpec):
        return replace(spec, system=system)
    return replace(spec, system=system, size=None, IC_mm=reading.IC_mm, length=None)


def _insert_spec(reading: InsertReading) -> InsertSpec:
    """Give the dimensions of an insert; letters that state none come from its positions."""
    found = {place.position: place.found for place in reading.positions[:4]}
    corners = [place.found for place in reading.positions[4:] if place.position == CORNER]
    corner = corners[-1] if corners and corners[-1].isalpha() else None
    RE_mm = reading.RE_mm
    if reading.SC == "R" or (RE_mm is None and corner is None):
        RE_mm = corner = None
    oblong = reading.IC_mm is None
    L_mm = reading.L_mm
    if oblong and L_mm is None and reading.size is not None:
        L_mm = float(reading.size)  # the code drops the fraction
    return InsertSpec(
        SC=reading.SC, clearance=found[2], tolerance=found[3], fixing=reading.fixing.letter,
        S_mm=reading.S_mm, IC_mm=reading.IC_mm, L_mm=L_mm if oblong else None, W1_mm=reading.W1_mm,
        RE_mm=RE_mm, corner=corner, edge_condition=reading.edge_condition, HAND=reading.HAND,
        chamfer_width_mm=reading.chamfer_width_mm, chamfer_angle_deg=reading.chamfer_angle_deg,
        facet_width_mm=reading.facet_width_mm, other_conditions=reading.other_conditions,
        maker_suffix=reading.maker_suffix, system=reading.system,
    )  # fmt: skip


def _found(reading: HolderReading | BarReading, position: int) -> str:
    """Give the letters at one position; empty where there is none."""
    return next((place.found for place in reading.positions if place.position == position), "")


def _holder_spec(reading: HolderReading) -> HolderSpec:
    """Give the dimensions of a holder."""
    length: str | None = _found(reading, 8)
    if reading.cartridge or reading.coupling:
        length = None
    qualified = None if reading.system == "inch" else reading.qualified
    return HolderSpec(
        clamping=reading.clamping, SC=reading.SC, clearance=_found(reading, 4), HAND=reading.HAND,
        style=reading.style, size=reading.insert_seat[4:], length=length, LF_mm=reading.LF_mm,
        maker_suffix=reading.maker_suffix, system=reading.system, H_mm=reading.H_mm, B_mm=reading.B_mm,
        qualified=qualified, cartridge=reading.cartridge, coupling=reading.coupling, WF_mm=reading.WF_mm,
    )  # fmt: skip


def _bar_spec(reading: BarReading) -> BarSpec:
    """Give the dimensions of a boring bar."""
    return BarSpec(
        clamping=reading.clamping, SC=reading.SC, clearance=_found(reading, 7), HAND=reading.HAND,
        style=reading.style, size=reading.insert_seat[4:], length=_found(reading, 3), LF_mm=reading.LF_mm,
        maker_suffix=reading.maker_suffix, system=reading.system, shank_type=reading.shank_type,
        DCON_mm=reading.DCON_mm,
    )  # fmt: skip
