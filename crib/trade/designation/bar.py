"""Reading boring bars: ISO 6261 (ISO 5609) and the inch form."""

from crib.trade.designation.letters import MM_PER_INCH, Letters
from crib.trade.designation.misread import Misread, said
from crib.trade.designation.normalise import Breaks
from crib.trade.designation.reading import CERTAIN, MAKER, BarReading, PositionReading
from crib.trade.designation.seat import (
    Five,
    five_letters,
    inch_size,
    inch_size_code,
    metric_size,
    shank_place,
    suffix_of,
)
from crib.trade.designation.symbols import Size, Symbol

HEAD = 9  # characters before the insert size
SIXTEENTH_MM = MM_PER_INCH / 16.0


def read_bar(compact: str, breaks: Breaks, letters: Letters) -> BarReading:
    """Read a boring bar of either system: two digits of insert size are metric, one (or n.n) inch.

    Args:
        compact: bare code (normalise.clean).
        breaks: where separators stood.
        letters: the tables.

    Raises:
        Misread: a position does not hold what the standard allows.

    Source: ISO 6261 positions 1 to 9 (GOST ISO 5609-2015, table 1 and 7); inch rules recalled.
    """
    bar_type = letters.bar_types.get(compact[:1])
    if bar_type is None:
        why = said(compact[:1], "a bar type letter", "the bar type")
        tries = [letter + compact for letter in "SAE"] if compact[:1].isdigit() else []
        raise Misread("bar", "metric", 1, 0, compact[:1], letters.bar_types, why, tries)
    digits = compact[1:3]
    if len(digits) != 2 or not digits.isdigit() or digits == "00":
        why = "the shank diameter needs two digits, in mm"
        raise Misread("bar", "metric", 2, 1, digits, ("08", "10", "12", "16", "20", "25", "32", "40"), why)
    if not compact[3:4] or compact[3] not in letters.lengths:
        why = said(compact[3:4], "a length letter", "the length letter")
        raise Misread("bar", "metric", 3, 3, compact[3:4], letters.lengths, why)
    five = five_letters(compact, 4, 4, "bar", letters)
    if five[1].code + compact[9:11] in letters.sizes or _looks_metric(compact, five, letters):
        return _metric(compact, breaks, bar_type, five, letters)
    return _inch(compact, breaks, bar_type, five, letters)


def _looks_metric(compact: str, five: Five, letters: Letters) -> bool:
    """Tell whether the insert size is metric: two digits, or nothing that an inch code could be."""
    code = inch_size_code(compact, HEAD, letters)
    follows = compact[HEAD + len(code) : HEAD + len(code) + 1]
    return not code or (code.isdigit() and len(code) > 1) or follows.isdigit() or five[1].edge_per_IC is None


def _metric(compact: str, breaks: Breaks, bar_type: Symbol, five: Five, letters: Letters) -> BarReading:
    """Read the metric form."""
    size = metric_size(compact, HEAD, five[1], "bar", letters)
    suffix = suffix_of(compact, breaks, HEAD + 2, "bar", "metric", 10)
    length = letters.lengths[compact[3]]
    DCON_mm = float(compact[1:3])
    place = shank_place(2, compact[1:3], "shank diameter")
    return _build("metric", compact, bar_type, (DCON_mm, place), length, five, size, suffix, letters)


def _inch(compact: str, breaks: Breaks, bar_type: Symbol, five: Five, letters: Letters) -> BarReading:
    """Read the inch form: diameter in 1/16 in, insert size in 1/8 in of inscribed circle."""
    code = inch_size_code(compact, HEAD, letters)
    suffix = suffix_of(compact, breaks, HEAD + len(code), "bar", "inch", 10)
    length = letters.inch_bar_lengths.get(compact[3])
    if length is None:
        why = f"{compact[3]} is not a length letter of inch bars"
        raise Misread("bar", "inch", 3, 3, compact[3], letters.inch_bar_lengths, why)
    DCON_mm = int(compact[1:3]) * SIXTEENTH_MM
    place = PositionReading(2, compact[1:3], f"shank diameter {DCON_mm / MM_PER_INCH:g} in", CERTAIN)
    size = inch_size(code, five[1], letters)
    return _build("inch", compact, bar_type, (DCON_mm, place), length, five, size, suffix, letters)


def _build(
    system: str, compact: str, bar_type: Symbol, shank: tuple[float, PositionReading], length: Symbol,
    five: Five, size: Size, suffix: str | None, letters: Letters,
) -> BarReading:  # fmt: skip
    """Put the reading of a boring bar together."""
    clamping, shape, style, clearance, hand = five
    code = size.inch if system == "inch" else size.code
    designation = f"{compact[:4]}-{compact[4:9]}{code}"
    positions: tuple[PositionReading, ...] = (
        bar_type.places[0], shank[1], length.places[2 if system == "metric" else 0], clamping.places[2],
        shape.places[2], style.places[2], clearance.places[2], hand.places[2], size.places[2],
    )  # fmt: skip
    if suffix:
        designation += f"-{suffix}"
        positions += (PositionReading(11, suffix, "the maker's own symbol", MAKER),)
    material, coolant, damped = letters.bar_builds[bar_type.code]
    return BarReading(
        "bar", system, designation, None, bar_type.code, material, coolant, damped, shank[0], length.value,
        clamping.code, letters.holes_needed[clamping.code], shape.code, style.code, style.value,
        clearance.value, hand.code, size.L_mm, size.IC_mm, f"{shape.code}{clearance.code}..{code}", size.code,
        suffix, positions,
        bar_type.notes + length.notes + clamping.notes + style.notes + clearance.notes + size.notes,
    )  # fmt: skip
