"""The five letters and the insert size that holders and boring bars share."""

from functools import cache

from crib.trade.designation.insert import oblong_size
from crib.trade.designation.letters import Letters
from crib.trade.designation.misread import Misread, said
from crib.trade.designation.normalise import Breaks, tail
from crib.trade.designation.reading import CERTAIN, MAKER, PositionReading
from crib.trade.designation.symbols import Shape, Size, Symbol

Five = tuple[Symbol, Shape, Symbol, Symbol, Symbol]
"""Clamping, shape, style, clearance, hand."""
UNMARKED = "a maker's own symbol stands after a dash"


def five_letters(compact: str, start: int, first: int, kind: str, letters: Letters) -> Five:
    """Read clamping, shape, style, clearance and hand.

    Args:
        compact: bare code.
        start: index of the clamping letter.
        first: its position in the standard.
        kind: "holder" or "bar"; a bar has no neutral hand.
        letters: the tables.

    Raises:
        Misread: one of them is no symbol of its position.

    Source: ISO 5608 positions 1 to 5; ISO 6261 positions 4 to 8.
    """
    clamping = letters.clampings.get(compact[start : start + 1])
    shape = letters.shapes.get(compact[start + 1 : start + 2])
    style = letters.styles.get(compact[start + 2 : start + 3])
    clearance = letters.metric_clearances.get(compact[start + 3 : start + 4])
    hand = letters.hands.get(compact[start + 4 : start + 5])
    if clamping is None or shape is None or style is None or clearance is None or hand is None:
        raise _wrong_letter(compact, start, first, kind, letters)
    if kind == "bar" and hand.code == "N":
        raise Misread(kind, "metric", first + 4, start + 4, "N", ("R", "L"), "a bar has a hand: R or L")
    return clamping, shape, style, clearance, hand


def _wrong_letter(compact: str, start: int, first: int, kind: str, letters: Letters) -> Misread:
    """Say which of the five is wrong."""
    tables = (
        (letters.clampings, "clamping"), (letters.shapes, "shape"), (letters.styles, "style"),
        (letters.metric_clearances, "clearance"), (letters.hands, "hand"),
    )  # fmt: skip
    for step, (table, what) in enumerate(tables):
        letter = compact[start + step : start + step + 1]
        if letter not in table:
            why = said(letter, f"a {what} letter", f"the {what}")
            return Misread(kind, "metric", first + step, start + step, letter, list(table), why)
    raise AssertionError("no letter is wrong")  # pragma: no cover - the caller saw one


@cache
def shank_place(position: int, digits: str, what: str) -> PositionReading:
    """Give the place of two digits in millimetres; there are few of them, so they are kept."""
    return PositionReading(position, digits, f"{what} {int(digits)} mm", CERTAIN)


def metric_size(compact: str, at: int, shape: Shape, kind: str, letters: Letters) -> Size:
    """Read a metric insert size.

    For round inserts the code alone does not tell metric from inch diameters, so the size has no circle.

    Raises:
        Misread: no size of this shape.
    """
    code = compact[at : at + 2]
    size = letters.sizes.get(shape.code + code)
    if size is not None:
        return size
    if shape.form == "round":
        diameters = [s.IC_mm for key, s in letters.rounds.items() if key[:2] == code]
        if diameters:
            words = "diameter " + " or ".join(f"{d:g} mm" for d in diameters)
            place = PositionReading(9, code, words, MAKER if len(diameters) > 1 else CERTAIN)
            note = f"size {code}: {words}; the insert's corner field tells (M0 metric, 00 inch)"
            return Size(code, None, None, None, (note,), {}, (place, place, place))
    elif shape.edge_per_IC is None and len(code) == 2 and code.isdigit() and code != "00":
        return oblong_size(code, letters)
    allowed = [key[1:] for key in letters.sizes if key[0] == shape.code]
    allowed = allowed or list(dict.fromkeys(key[:2] for key in letters.rounds)) or ["01", "to", "99"]
    why = said(code, f"an insert size of shape {shape.code}", "the insert size")
    tries = [compact[:at] + c + compact[at + 2 :] for c in allowed] if len(code) == 2 else []
    tries = sorted(tries, key=lambda t: abs(_digits(t[at : at + 2]) - _digits(code)))[:3]
    raise Misread(kind, "metric", 9, at, code, allowed, why, tries)


def _digits(code: str) -> int:
    """Give the number in a size code; letters count for nothing."""
    return int("".join(sign for sign in code if sign.isdigit()) or "0")


def inch_size(code: str, shape: Shape, letters: Letters) -> Size:
    """Give the size of an inch holder's insert, whose code is its inscribed circle in 1/8 in."""
    symbol = letters.inch_size_symbols[code]
    known = letters.inch_sizes.get(shape.code + code)
    ratio = shape.edge_per_IC
    IC_mm = symbol.value if ratio else None
    L_mm = None if IC_mm is None or ratio is None else round(IC_mm * ratio, 3)
    return Size(known.code if known else None, IC_mm, L_mm, code, (), {}, symbol.places)


def inch_size_code(compact: str, at: int, letters: Letters) -> str:
    """Give the inch size symbol that stands at `at`, the longest first; empty if none does."""
    for long in (3, 2, 1):
        if compact[at : at + long] in letters.inch_size_symbols:
            return compact[at : at + long]
    return ""


def suffix_of(compact: str, breaks: Breaks, at: int, kind: str, system: str, position: int) -> str | None:
    """Give the maker's own symbol at the end.

    Raises:
        Misread: something follows without a dash or a blank.
    """
    if at == len(compact):
        return None
    if any(index == at for index, _ in breaks):
        return tail(compact, breaks, at)
    why = f"{compact[at:]} has no meaning here; {UNMARKED}"
    tries = (f"{compact[:at]}-{compact[at:]}",)
    raise Misread(kind, system, position, at, compact[at:], ("- and the maker's own symbol",), why, tries)
