"""Reading inserts by the inch system, ANSI B212.4: sizes in 1/8 in, thickness in 1/16 in, radius in 1/64 in.

The digits run together without leading zeros, so they are split by table: the longest size first for
which the rest also makes sense.
"""

from collections.abc import Iterator

from crib.trade.designation.ends import NOTHING, Ends, read_ends
from crib.trade.designation.insert import Head, Wiper, build, wiper_corner, wiper_pair, wrong_letter
from crib.trade.designation.letters import MM_PER_INCH, Letters
from crib.trade.designation.misread import Misread, said
from crib.trade.designation.normalise import Breaks
from crib.trade.designation.reading import CERTAIN, InsertReading, PositionReading
from crib.trade.designation.symbols import Shape, Size, Symbol, Symbols

LENGTHS = (3, 2, 1)  # characters of one symbol: n.n, 10, n
OLD_LETTERS = "DE"  # type letters of the older rule for small inserts
OLD_SIZES = "567"  # sizes whose digit meant 1/32 in under the older rule
OLD_THICKNESS = {"2": "1", "3": "1.5", "4": "2", "5": "2.5"}  # 1/32 in -> today's symbol in 1/16 in
Split = tuple[str, str, str]
"""Codes of size, thickness and corner."""


def read_inch(compact: str, breaks: Breaks, letters: Letters) -> InsertReading:
    """Read an insert by ANSI B212.4.

    Args:
        compact: bare code (normalise.clean).
        breaks: where separators stood.
        letters: the tables.

    Raises:
        Misread: a position does not hold what the standard allows.

    Source: ANSI B212.4 positions 1 to 10.
    """
    start = 4 if compact[3:4].isalpha() else 3
    shape = letters.shapes.get(compact[:1])
    clearance = letters.inch_clearances.get(compact[1:2])
    class_ = letters.classes.get(compact[2:3])
    type_ = letters.types.get(compact[3:start])
    if shape is None or clearance is None or class_ is None or type_ is None or len(compact) <= 3:
        raise wrong_letter(compact, letters, "inch")
    oblong = shape.edge_per_IC is None
    splits = _oblong_splits(compact, start, letters) if oblong else _splits(compact, start, shape, letters)
    split = next(splits, None)
    if split is None:
        raise _wrong_digits(compact, start, shape, letters)
    end = start + len(split[0]) + len(split[1]) + len(split[2])
    doubt: tuple[str, ...] = ()
    if "10" in split:  # 1 and 0 are symbols as well
        split, end, doubt = _ten(compact, breaks, start, [split, *splits], letters)
    size, thickness, place, notes = _size(split, shape, type_, letters)
    corner, wiper = _corner(split[2], shape, letters)
    ends = NOTHING if end == len(compact) else read_ends(compact, breaks, end, letters, inch=True)
    notes += doubt
    if wiper is not None:
        notes += _wiper_doubt(split[2], letters)
    if notes:
        size = Size(
            size.code, size.IC_mm, size.L_mm, size.inch, size.notes + notes, size.tolerances, size.places,
            size.doubts, size.W1_mm,
        )  # fmt: skip
    head = (shape, clearance, class_, type_, size, thickness, corner)
    if shape.corners is None and split[2]:
        end -= len(split[2])  # a round insert needs no corner symbol
    text = compact[:end] + ends.text
    return build("inch", text, metric_of(head, ends), head, wiper or ends.pair, ends, letters, place)


def _ten(
    compact: str, breaks: Breaks, start: int, splits: list[Split], letters: Letters
) -> tuple[Split, int, tuple[str, ...]]:
    """Choose among ways to split digits that hold 10: the first after which the rest makes sense.

    Returns:
        The split, where it ends, and a note that names the others.

    Raises:
        Misread: after none of them; as for the first.
    """
    first: Misread | None = None
    good = []
    for split in splits:
        end = start + sum(map(len, split))
        try:
            if end < len(compact):
                read_ends(compact, breaks, end, letters, inch=True)
        except Misread as misread:
            first = first or misread
        else:
            good.append((split, end))
    if not good:
        assert first is not None
        raise first
    (split, end), *others = good
    return split, end, tuple(f"{'|'.join(split)} may also be {'|'.join(other)}" for other, _ in others)


def _wiper_doubt(pair: str, letters: Letters) -> tuple[str, ...]:
    """Tell that two wiper letters could also be a corner letter and what follows it."""
    first, second = pair[0], pair[1]
    follows = second in letters.edges or second in letters.hands or second in letters.inch_conditions
    if first not in letters.inch_corner_letters or not follows:
        return ()
    return (f"{pair} is read as wiper letters; corner {first} and then {second} would look the same",)


def metric_of(head: Head, ends: Ends) -> str | None:
    """Give the metric code of an inch insert; None where ISO 1832 has none.

    Source: ANSI B212.4 and ISO 1832, tables of size, thickness and corner side by side.
    """
    shape, clearance, class_, type_, size, thickness, corner = head
    parts = (clearance.other, class_.other, type_.other, size.code, thickness.other, corner.other)
    if ends.condition is not None or ends.facet_mm is not None:
        return None
    if None in parts:
        return None
    return shape.code + "".join(parts) + ends.text  # type: ignore[arg-type]  # none of them is None


def _splits(compact: str, start: int, shape: Shape, letters: Letters) -> Iterator[Split]:
    """Give the ways to split the digits of a shape with an inscribed circle, long symbols first."""
    sizes = letters.inch_size_symbols
    for long in LENGTHS:
        size = compact[start : start + long]
        if size in sizes:
            for thickness, corner in _rest(compact, start + len(size), shape, letters):
                yield size, thickness, corner


def _oblong_splits(compact: str, start: int, letters: Letters) -> Iterator[Split]:
    """Give the ways to split the digits of an oblong shape: width and length are one digit each."""
    size = compact[start : start + 2]
    if len(size) == 2 and size.isdigit() and "0" not in size:
        for thickness, corner in _rest(compact, start + 2, None, letters):
            yield size, thickness, corner


def _rest(compact: str, at: int, shape: Shape | None, letters: Letters) -> Iterator[tuple[str, str]]:
    """Give the ways to split thickness and corner from `at` on."""
    thicknesses = letters.inch_thicknesses
    for wide in LENGTHS:
        thickness = compact[at : at + wide]
        if thickness in thicknesses:
            corner = _corner_code(compact, at + len(thickness), shape, letters)
            if corner is not None:
                yield thickness, corner


def _corner_code(compact: str, at: int, shape: Shape | None, letters: Letters) -> str | None:
    """Give the corner symbol that stands at `at`; None if none does."""
    for long in LENGTHS:
        code = compact[at : at + long]
        if code in letters.inch_corners and not _digit(compact, at + long):
            round_ = shape is not None and shape.corners is None
            return code if not round_ or code == "0" else None
    if shape is not None and shape.corners is None:
        return None if _digit(compact, at) else ""
    if wiper_pair(compact[at : at + 2], letters) is not None:
        return compact[at : at + 2]
    code = compact[at : at + 1]
    return code if code in letters.inch_corner_letters else None


def _digit(compact: str, at: int) -> bool:
    """Tell whether a digit or the decimal point stands at `at`."""
    sign = compact[at : at + 1]
    return sign.isdigit() or sign == "."


def _size(
    split: Split, shape: Shape, type_: Symbol, letters: Letters
) -> tuple[Size, Symbol, PositionReading, tuple[str, ...]]:
    """Look size and thickness up; see to the older rule that counted 1/32 in."""
    code, thick, _ = split
    thickness = letters.inch_thicknesses[thick]
    if shape.edge_per_IC is None:
        size, place = _oblong(code)
        return size, thickness, place, ()
    notes: tuple[str, ...] = ()
    if code in OLD_SIZES and thick in OLD_THICKNESS:
        small = letters.old_inch_sizes[code]
        if type_.code and type_.code in OLD_LETTERS:
            notes = (f"size {code} and thickness {thick} are read in 1/32 in, as type {type_.code} says",)
            code, thickness = small, letters.inch_thicknesses[OLD_THICKNESS[thick]]
        else:
            notes = (f"size {code} is read as {code}/8 in; codes of the older rule meant {code}/32 in",)
    symbol = letters.inch_size_symbols[code]
    place, IC_mm = symbol.places[0], symbol.value or 0.0
    size = letters.inch_sizes.get(shape.code + code) or _uncoded(code, IC_mm, shape)
    return size, thickness, place, notes


def _uncoded(code: str, IC_mm: float, shape: Shape) -> Size:
    """Give an inch size for which the metric table has no symbol."""
    L_mm = round(IC_mm * (shape.edge_per_IC or 0.0), 3)
    return Size(None, IC_mm, L_mm, code, (), {}, ())


def _oblong(code: str) -> tuple[Size, PositionReading]:
    """Give the size of a rectangle or parallelogram: width in 1/8 in, length in 1/4 in."""
    width_mm, L_mm = int(code[0]) / 8.0 * MM_PER_INCH, round(int(code[1]) / 4.0 * MM_PER_INCH, 3)
    place = PositionReading(5, code, f"width {width_mm:g} mm, length {L_mm:g} mm", CERTAIN)
    return Size(None, None, L_mm, code, (), {}, (place,), {}, width_mm), place


def _corner(code: str, shape: Shape, letters: Letters) -> tuple[Symbol, Wiper | None]:
    """Give the corner and, for two letters, its wiper."""
    if shape.corners is None:
        return letters.inch_round_corner, None
    symbol = letters.inch_corners.get(code) or letters.inch_corner_letters.get(code)
    if symbol is not None:
        return symbol, None
    pair = wiper_pair(code, letters)
    if pair is None:  # pragma: no cover - _corner_code let nothing else through
        raise AssertionError(code)
    return wiper_corner(pair), pair


def _wrong_digits(compact: str, start: int, shape: Shape, letters: Letters) -> Misread:
    """Say how far the digits made sense. A point that belongs to no symbol is stepped over."""
    at, position = start, 5
    tables: tuple[Symbols, ...] = (letters.inch_size_symbols, letters.inch_thicknesses)
    if shape.edge_per_IC is None and len(compact[start : start + 2]) == 2:
        at, position, tables = start + 2, 6, tables[1:]
    for table in tables:
        while compact[at : at + 1] == ".":
            at += 1
        code = next((c for n in LENGTHS if (c := compact[at : at + n]) in table), None)
        if code is None:
            break
        at, position = at + len(code), position + 1
    names = {5: "size", 6: "thickness", 7: "corner"}
    expected = (
        [*letters.inch_size_symbols], [*letters.inch_thicknesses], [*letters.inch_corners],
    )[position - 5]  # fmt: skip
    found = compact[at : at + 1]
    name = names[position]
    why = said(compact[at:][:3], f"a {name} of the inch system", f"the {name}")
    tries = [compact[:at] + c for c in ("2", "1", "3")] if position == 7 and not found else []
    return Misread("insert", "inch", position, at, found and compact[at:], expected, why, tries)
