"""Reading turning holders: ISO 5608 and the inch form ANSI B212.5."""

from functools import cache

from crib.trade.designation.letters import MM_PER_INCH, Letters
from crib.trade.designation.misread import Misread, said
from crib.trade.designation.normalise import Breaks
from crib.trade.designation.reading import CERTAIN, MAKER, HolderReading, PositionReading
from crib.trade.designation.seat import (
    Five,
    five_letters,
    inch_size,
    inch_size_code,
    metric_size,
    shank_place,
    suffix_of,
)
from crib.trade.designation.symbols import RECALLED, Size, Symbol

NO_TABLE_LENGTH = (
    "the dash stands for the preferred length of ISO 5610, which is not in our tables for this shank"
)
CARTRIDGE = "a cartridge: the height is that of the cutting point; width and length are not coded"


def read_holder(compact: str, breaks: Breaks, letters: Letters) -> HolderReading:
    """Read a holder of either system.

    Args:
        compact: bare code (normalise.clean).
        breaks: where separators stood.
        letters: the tables.

    Raises:
        Misread: a position does not hold what the standard allows.

    Source: ISO 5608 positions 1 to 10; ANSI B212.5.
    """
    five = five_letters(compact, 0, 1, "holder", letters)
    inch = compact[5:7] in letters.inch_shanks and _inch_end(compact, letters)
    if inch and breaks[:1] == INCH_DASH:  # the only way to tell a size of 10/8 in from a shank width of 10 mm
        return _inch(compact, breaks, five, letters)
    if compact[5:9].isdigit() and compact[9:10] in letters.lengths and len(compact) > HEAD:
        dashed = (9, "-") in breaks  # in place of the length letter; S4 and the like are sizes
        size = compact[9:11] if dashed else compact[10:12]
        if not inch or size.isdigit() or five[1].code + size in letters.sizes:
            return _metric(compact, breaks, five, letters)
    if inch:
        return _inch(compact, breaks, five, letters)
    digits = sum(map(str.isdigit, compact[5:9]))
    if "." in compact or (digits in (2, 3) and not compact[9:]):
        return _inch(compact, breaks, five, letters)
    return _metric(compact, breaks, five, letters)


HEAD = 10  # characters of positions 1 to 8
INCH_DASH = ((7, "-"),)  # where the first break of an inch code stands


def _inch_end(compact: str, letters: Letters) -> int:
    """Give where an inch code ends, after its length letter; 0 if it is none."""
    code = inch_size_code(compact, 7, letters)
    at = 7 + len(code)
    return at + 1 if code and compact[at : at + 1] in letters.inch_lengths and compact[at : at + 1] else 0


def _metric(compact: str, breaks: Breaks, five: Five, letters: Letters) -> HolderReading:
    """Read positions 6 to 10 by ISO 5608."""
    H_mm = _two_digits(compact, 5, 6, "the shank height")
    if compact[7:9] == "CA":
        return _cartridge(compact, breaks, five, H_mm, letters)
    B_mm = _two_digits(compact, 7, 7, "the shank width")
    shown = ""
    notes: tuple[str, ...] = ()
    at = 9
    if (9, "-") in breaks:
        LF_mm = letters.preferred_lengths_mm.get((H_mm, B_mm))
        words = "length not in our tables" if LF_mm is None else f"preferred length {LF_mm:g} mm"
        length = PositionReading(8, "-", words, MAKER if LF_mm is None else CERTAIN)
        notes = (NO_TABLE_LENGTH,) if LF_mm is None else ()
        letter = "-"
    else:
        symbol = letters.lengths.get(compact[9:10])
        if symbol is None:
            raise _wrong_length(compact, letters)
        LF_mm, length, letter, notes, at = symbol.value, symbol.places[1], symbol.code, symbol.notes, 10
    size = metric_size(compact, at, five[1], "holder", letters)
    at += 2
    tolerance = letters.holder_tolerances.get(compact[at : at + 1])
    if tolerance is not None and (breaks == () or _bare(breaks, at, len(compact))):
        shown = tolerance.code
        at += 1
    else:
        tolerance = None
    suffix = suffix_of(compact, breaks, at, "holder", "metric", 10)
    text = compact[:9] + letter + (size.code or "") + shown + (f"-{suffix}" if suffix else "")
    middle = (
        shank_place(6, compact[5:7], "shank height"),
        shank_place(7, compact[7:9], "shank width"),
        length,
        size.places[1],
    )
    return _build("metric", text, five, (H_mm, B_mm, LF_mm), size, tolerance, suffix, middle, notes, letters)


def _bare(breaks: Breaks, at: int, end: int) -> bool:
    """Tell whether a letter is not set off as the maker's: no dash; a blank only if it is the last."""
    return all(index != at or (mark == " " and at + 1 == end) for index, mark in breaks)


def _cartridge(compact: str, breaks: Breaks, five: Five, H_mm: float, letters: Letters) -> HolderReading:
    """Read a cartridge: CA stands in the place of the width, and there is no length letter."""
    size = metric_size(compact, 9, five[1], "holder", letters)
    suffix = suffix_of(compact, breaks, 11, "holder", "metric", 10)
    text = f"{compact[:9]}-{size.code}" + (f"-{suffix}" if suffix else "")
    middle = (
        PositionReading(6, compact[5:7], f"height of the cutting point {H_mm:g} mm", CERTAIN),
        PositionReading(7, "CA", "cartridge of form A (ISO 5611)", CERTAIN),
        size.places[1],
    )
    return _build(
        "metric", text, five, (H_mm, None, None), size, None, suffix, middle, (CARTRIDGE,), letters, "A"
    )


def _inch(compact: str, breaks: Breaks, five: Five, letters: Letters) -> HolderReading:
    """Read shank, insert size and length of an inch holder."""
    shank = letters.inch_shanks.get(compact[5:7])
    if shank is None:
        why = said(compact[5:7], "an inch shank size", "the shank size")
        raise Misread("holder", "inch", 6, 5, compact[5:7], letters.inch_shanks, why)
    code = inch_size_code(compact, 7, letters)
    if not code:
        why = said(compact[7:8], "an inscribed circle in 1/8 in", "the insert size")
        raise Misread("holder", "inch", 7, 7, compact[7:8], letters.inch_size_symbols, why)
    at = 7 + len(code)
    length = letters.inch_lengths.get(compact[at : at + 1])
    if length is None:
        why = said(compact[at : at + 1], "a length letter", "the length letter")
        raise Misread("holder", "inch", 8, at, compact[at : at + 1], letters.inch_lengths, why)
    size = inch_size(code, five[1], letters)
    suffix = suffix_of(compact, breaks, at + 1, "holder", "inch", 8)
    LF_mm = length.value
    if LF_mm is None and suffix:
        LF_mm = _stated_length_mm(suffix)
    text = f"{compact[:7]}-{code}{length.code}" + (f"-{suffix}" if suffix else "")
    H_mm, B_mm = shank
    recalled = compact[5:7] in letters.recalled_shanks
    middle = (_inch_shank_place(compact[5:7], H_mm, B_mm, recalled), size.places[1], length.places[0])
    notes = (f"shank {compact[5:7]}: {RECALLED}",) if recalled else ()
    return _build("inch", text, five, (H_mm, B_mm, LF_mm), size, length, suffix, middle, notes, letters)


@cache
def _inch_shank_place(code: str, H_mm: float, B_mm: float, recalled: bool) -> PositionReading:
    """Give the place of an inch shank code; there are few of them, so they are kept."""
    words = f"shank {H_mm / MM_PER_INCH:g} in high, {B_mm / MM_PER_INCH:g} in wide"
    return PositionReading(
        6, code, words + (" (recalled)" if recalled else ""), MAKER if recalled else CERTAIN
    )


def _stated_length_mm(suffix: str) -> float | None:
    """Give the length that stands beside the letter Z, in inches there; None if it is no number."""
    whole, _, part = suffix.partition(".")
    if whole.isdigit() and (part.isdigit() or not part) and len(whole) <= 2:
        return round(float(suffix) * MM_PER_INCH, 3)
    return None


def _build(
    system: str, designation: str, five: Five, sizes_mm: tuple[float, float | None, float | None], size: Size,
    qualified: Symbol | None, suffix: str | None, middle: tuple[PositionReading, ...], notes: tuple[str, ...],
    letters: Letters, cartridge: str | None = None,
) -> HolderReading:  # fmt: skip
    """Put the reading of a holder together."""
    clamping, shape, style, clearance, hand = five
    positions: tuple[PositionReading, ...] = (
        clamping.places[1], shape.places[1], style.places[1], clearance.places[1], hand.places[1], *middle,
    )  # fmt: skip
    if qualified is not None:
        notes = notes + qualified.notes
        if system == "metric":
            positions += (qualified.places[0],)
    if suffix:
        positions += (
            PositionReading(9 if system == "inch" else 11, suffix, "the maker's own symbol", MAKER),
        )
    H_mm, B_mm, LF_mm = sizes_mm
    return HolderReading(
        "holder", system, designation, None, clamping.code, letters.holes_needed[clamping.code], shape.code,
        style.code, style.value, clearance.value, hand.code, H_mm, B_mm, LF_mm, None, size.L_mm,
        f"{shape.code}{clearance.code}..{size.inch if system == 'inch' else size.code}", size.code,
        size.IC_mm, qualified.code if qualified else None, cartridge, None, None, suffix, positions,
        clamping.notes + style.notes + clearance.notes + size.notes + notes,
    )  # fmt: skip


def _two_digits(compact: str, at: int, position: int, what: str) -> float:
    """Read two digits in millimetres.

    Raises:
        Misread: pointing at the first character that is no digit.
    """
    code = compact[at : at + 2]
    if len(code) == 2 and code.isdigit() and code != "00":
        return float(code)
    bad = next((n for n, sign in enumerate(code) if not sign.isdigit()), len(code) if code != "00" else 0)
    why = f"{what} needs two digits, in mm"
    raise Misread(
        "holder", "metric", position, at + bad, code, ("08", "10", "12", "16", "20", "25", "32", "40"), why
    )


def _wrong_length(compact: str, letters: Letters) -> Misread:
    """Say what is wrong with position 8."""
    sign = compact[9:10]
    why = said(sign, "a length letter", "the length letter")
    tries = [compact[:9] + "-" + compact[9:]] if sign.isdigit() else []
    return Misread("holder", "metric", 8, 9, sign, [*letters.lengths, "-"], why, tries)
