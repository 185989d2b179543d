"""Writing the codes of turning holders, cartridges, modular heads and boring bars."""

from crib.trade.designation.letters import MM_PER_INCH, Letters
from crib.trade.designation.modular import PREFIX
from crib.trade.designation.pen import (
    EXACT_DEG,
    EXACT_MM,
    Choice,
    Pen,
    Written,
    choices,
    take_clearance,
    take_size,
)
from crib.trade.designation.spec import BarSpec, HolderSpec, SeatSpec
from crib.trade.designation.symbols import Shape, Symbols

SIXTEENTH_MM = MM_PER_INCH / 16.0
PREFERRED = "-"  # stands for the preferred length of the shank
STATED = "Z"  # inch: the length is stated beside the code


def write_holder(spec: HolderSpec, letters: Letters) -> Written:
    """Write the code of a turning holder, a cartridge or a modular head.

    Args:
        spec: its dimensions and letters.
        letters: the tables.

    Returns:
        The code, and by field whether it is exact.

    Raises:
        BadDesignation: a field that no code can state, by its name, with what may stand there.

    Source: ISO 5608, ISO 5611 (cartridges), ANSI B212.5 (inch), the tables of each position.
    """
    pen = Pen(spec.system)
    shape, head = _letters(pen, spec, 1, letters)
    size = _seat_size(pen, spec, shape, 7 if spec.system == "inch" else 9, letters)
    if spec.coupling is not None:
        text = _modular(pen, spec, head, size, letters)
    elif spec.cartridge is not None:
        form = pen.letter("cartridge", 7, spec.cartridge, "A")
        text = f"{head}{_millimetres(pen, 'H_mm', 6, spec.H_mm)}C{form}-{size}"
    elif spec.system == "inch":
        text = head + _inch_shank(pen, spec, letters) + size
        text += _length(pen, spec, 8, letters.inch_lengths)
    else:
        text = head + _millimetres(pen, "H_mm", 6, spec.H_mm) + _millimetres(pen, "B_mm", 7, spec.B_mm)
        text += _metric_length(pen, spec, letters) + size
    if spec.qualified is not None:
        if spec.system == "inch" or spec.cartridge or spec.coupling:
            why = "only holders with a metric shank have this letter; inch ones say it with the length"
            raise pen.refuse("qualified", 10, spec.qualified, ["nothing"], why)
        text += pen.letter("qualified", 10, spec.qualified, letters.holder_tolerances)
    return pen.done(_with_suffix(text, spec), letters)[0]


def write_bar(spec: BarSpec, letters: Letters) -> Written:
    """Write the code of a boring bar.

    Args:
        spec: its dimensions and letters.
        letters: the tables.

    Returns:
        The code, and by field whether it is exact.

    Raises:
        BadDesignation: a field that no code can state, by its name, with what may stand there.

    Source: ISO 6261 (ISO 5609), the tables of each position; inch rules recalled.
    """
    pen = Pen(spec.system)
    text = pen.letter("shank_type", 1, spec.shank_type, letters.bar_types)
    step_mm = SIXTEENTH_MM if spec.system == "inch" else 1.0
    text += _two_digits(pen, "DCON_mm", 2, spec.DCON_mm, step_mm)
    text += _length(pen, spec, 3, letters.inch_bar_lengths if spec.system == "inch" else letters.lengths)
    shape, head = _letters(pen, spec, 4, letters)
    if head[-1] == "N":
        raise pen.refuse("HAND", 8, "N", ["R", "L"], "a bar has a hand: R or L")
    text += f"-{head}{_seat_size(pen, spec, shape, 9, letters)}"
    return pen.done(_with_suffix(text, spec), letters)[0]


def _with_suffix(text: str, spec: SeatSpec) -> str:
    """Add the maker's own symbol."""
    return text + (f"-{spec.maker_suffix}" if spec.maker_suffix else "")


def _letters(pen: Pen, spec: SeatSpec, first: int, letters: Letters) -> tuple[Shape, str]:
    """Give the shape, and the five letters: clamping, shape, style, clearance, hand."""
    text = pen.letter("clamping", first, spec.clamping, letters.clampings)
    shape = letters.shapes[pen.letter("SC", first + 1, spec.SC, letters.shapes)]
    text += shape.code + _style(pen, spec, first + 2, letters)
    text += take_clearance(pen, first + 3, spec.clearance, letters)
    return shape, text + pen.letter("HAND", first + 4, spec.HAND, letters.hands)


def _style(pen: Pen, spec: SeatSpec, position: int, letters: Letters) -> str:
    """Give the style by its letter, or by the cutting edge angle if only one letter has it."""
    if spec.style is not None:
        return pen.letter("style", position, spec.style, letters.styles)
    if spec.KAPR_deg is None:
        raise pen.refuse("style", position, "", list(letters.styles), "neither style nor angle was given")
    code = pen.nearest("KAPR_deg", position, spec.KAPR_deg, choices(letters.styles), "deg", EXACT_DEG)
    angle_deg = letters.styles[code].value
    same = [c for c, symbol in letters.styles.items() if symbol.value == angle_deg]
    if len(same) > 1:
        told = [f"{c} ({letters.styles[c].places[0].meaning})" for c in same]
        why = f"several styles have {angle_deg:g} deg"
        raise pen.refuse("style", position, "", told, why, "say which: " + "; ".join(told))
    return code


def _seat_size(pen: Pen, spec: SeatSpec, shape: Shape, position: int, letters: Letters) -> str:
    """Give the size of the insert that goes in."""
    inch = pen.system == "inch"
    if spec.size is not None:
        if inch:
            return pen.letter("size", position, spec.size, letters.inch_size_symbols)
        allowed = [key[1:] for key in letters.sizes if key[0] == shape.code]
        if shape.edge_per_IC is None:
            allowed = [f"{n:02d}" for n in range(1, 100)]
        elif shape.corners is None:
            allowed = list(dict.fromkeys(key[:2] for key in letters.rounds))
        return pen.letter("size", position, spec.size, allowed)
    if shape.edge_per_IC is None:
        raise pen.refuse(
            "size", position, "", ["the size as the insert's code has it"], "this shape has no circle"
        )
    code = take_size(pen, position, shape, spec.IC_mm, spec.L_mm, letters)
    return code[:2] if shape.corners is None and not inch else code


def _two_digits(pen: Pen, name: str, position: int, value_mm: float, step_mm: float) -> str:
    """Give a length as two digits of steps."""
    steps: list[Choice] = [(f"{n:02d}", n * step_mm, True) for n in range(1, 100)]
    return pen.nearest(name, position, value_mm, steps, "mm", EXACT_MM)


def _millimetres(pen: Pen, name: str, position: int, value_mm: float | None) -> str:
    """Give a shank's measure in whole millimetres."""
    if value_mm is None:
        raise pen.refuse(name, position, "", ["1 to 99 mm"], "the shank's measure is missing")
    return _two_digits(pen, name, position, value_mm, 1.0)


def _inch_shank(pen: Pen, spec: HolderSpec, letters: Letters) -> str:
    """Give the two digits of an inch shank, by height and width."""
    H_mm, B_mm = spec.H_mm, spec.B_mm
    if H_mm is None or B_mm is None:
        name = "H_mm" if H_mm is None else "B_mm"
        raise pen.refuse(name, 6, "", list(letters.inch_shanks), "the shank's measure is missing")
    off = {c: max(abs(h - H_mm), abs(b - B_mm)) for c, (h, b) in letters.inch_shanks.items()}
    code = min(off, key=lambda c: (off[c] > EXACT_MM and c in letters.recalled_shanks, off[c]))
    if off[code] > SIXTEENTH_MM:
        told = [f"{c} ({h:g} x {b:g} mm)" for c, (h, b) in letters.inch_shanks.items()]
        raise pen.refuse(
            "H_mm", 6, f"{H_mm:g} x {B_mm:g}", told, f"no inch shank is near {H_mm:g} x {B_mm:g} mm"
        )
    for name, asked, taken in zip(("H_mm", "B_mm"), (H_mm, B_mm), letters.inch_shanks[code], strict=True):
        pen.exact[name] = abs(asked - taken) <= EXACT_MM
        if not pen.exact[name]:
            pen.say(name, asked, code, taken, "mm")
    return code


def _metric_length(pen: Pen, spec: HolderSpec, letters: Letters) -> str:
    """Give position 8; a dash for the preferred length."""
    if spec.length == PREFERRED:
        pen.exact["length"] = True
        return PREFERRED
    return _length(pen, spec, 8, letters.lengths)


def _length(pen: Pen, spec: SeatSpec, position: int, table: Symbols) -> str:
    """Give the letter of the length; several letters may stand for one, as on inch holders."""
    if spec.length is not None:
        return pen.letter("length", position, spec.length, table)
    if spec.LF_mm is None:
        raise pen.refuse("length", position, "", list(table), "neither length letter nor length was given")
    known = [(code, value, True) for code, value, _ in choices(table)]  # all lengths but the special ones
    code = pen.nearest("LF_mm", position, spec.LF_mm, known, "mm", EXACT_MM)
    for other, symbol in table.items():
        if other != code and symbol.value == table[code].value:
            pen.notes.append(
                f"length {code}: {table[code].places[0].meaning}; {other}: {symbol.places[0].meaning}"
            )
    return code


def _modular(pen: Pen, spec: HolderSpec, head: str, size: str, letters: Letters) -> str:
    """Give the code of a modular head."""
    asked = (spec.coupling or "").upper().removeprefix(PREFIX).lstrip("- ")
    shank = pen.letter("coupling", 0, asked, letters.couplings)
    prefix = f"{PREFIX}-" if shank[0] == "T" else ""
    middle = ""
    if spec.WF_mm is not None and spec.LF_mm is not None:
        middle = f"{_two_digits(pen, 'WF_mm', 6, spec.WF_mm, 1.0)}{_three_digits(pen, spec.LF_mm)}-"
    return f"{prefix}{shank}-{head}-{middle}{size}"


def _three_digits(pen: Pen, LF_mm: float) -> str:
    """Give the length of a modular head."""
    return pen.nearest(
        "LF_mm", 7, LF_mm, [(f"{n:03d}", float(n), True) for n in range(1, 1000)], "mm", EXACT_MM
    )
