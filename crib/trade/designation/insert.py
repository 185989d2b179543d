"""Reading inserts by ISO 1832 (metric codes), and what the readings of both systems share.

Sizes are looked up, never computed from the digits: the standard truncates an already rounded length.
"""

from crib.trade.designation.ends import NOTHING, Ends, chamfer, read_ends
from crib.trade.designation.letters import Letters
from crib.trade.designation.misread import Misread, said
from crib.trade.designation.normalise import Breaks
from crib.trade.designation.reading import (
    CERTAIN,
    MAKER,
    OUTSIDE,
    InsertReading,
    PositionReading,
)
from crib.trade.designation.symbols import Shape, Size, Symbol

HEAD = 10  # characters of positions 1 to 7
Head = tuple[Shape, Symbol, Symbol, Symbol, Size, Symbol, Symbol]
"""Shape, clearance, tolerance class, type, size, thickness, corner."""
Wiper = tuple[Symbol, Symbol]
"""Cutting edge angle and clearance of a wiper corner."""
RADIUS_AND_WIPER = "a radius and wiper letters together are outside the standard; some makers print both"


def read_metric(compact: str, breaks: Breaks, letters: Letters) -> InsertReading:
    """Read an insert by ISO 1832.

    Args:
        compact: bare code (normalise.clean).
        breaks: where separators stood.
        letters: the tables.

    Raises:
        Misread: a position does not hold what the standard allows.

    Source: ISO 1832 positions 1 to 10 and 13.
    """
    shape = letters.shapes.get(compact[:1])
    clearance = letters.metric_clearances.get(compact[1:2])
    class_ = letters.metric_classes.get(compact[2:3])
    type_ = letters.metric_types.get(compact[3:4])
    if shape is None or clearance is None or class_ is None or type_ is None:
        raise wrong_letter(compact, letters, "metric")
    thickness = letters.thicknesses.get(compact[6:8])
    wiper: Wiper | None = None
    if shape.corners is None:
        size, thickness, corner = _round(compact, letters)
    else:
        size = letters.sizes.get(compact[0] + compact[4:6]) or _oblong(compact, shape, letters)
        if thickness is None:
            raise _wrong_thickness(compact, letters)
        radius = letters.corners.get(compact[8:10])
        corner, wiper = (radius, None) if radius is not None else _odd_corner(compact, letters)
    head = (shape, clearance, class_, type_, size, thickness, corner)
    if len(compact) == HEAD:
        return build("metric", compact, inch_of(head, NOTHING), head, wiper, NOTHING, letters)
    ends = _ends(compact, breaks, letters)
    text = compact[:HEAD] + ends.text
    return build("metric", text, inch_of(head, ends), head, wiper or ends.pair, ends, letters)


def inch_of(head: Head, ends: Ends) -> str | None:
    """Give the inch code of a metric insert; None where the inch system has none.

    Source: ANSI B212.4 and ISO 1832, tables of size, thickness and corner side by side.
    """
    shape, clearance, class_, type_, size, thickness, corner = head
    if size.inch is None or thickness.other is None or corner.other is None or clearance.other is None:
        return None
    text = shape.code + clearance.code + class_.code + type_.code + size.inch + thickness.other + corner.other
    if ends is NOTHING:
        return text
    return None if ends.chamfer or ends.pair else text + ends.text


def build(
    system: str, designation: str, equivalent: str | None, head: Head, wiper: Wiper | None, ends: Ends,
    letters: Letters, size_place: PositionReading | None = None,
) -> InsertReading:  # fmt: skip
    """Put the reading of an insert together from its symbols.

    Args:
        system: "metric" or "inch".
        designation: normal form.
        equivalent: code in the other system.
        head: positions 1 to 7.
        wiper: letters of a wiper corner.
        ends: what follows the corner.
        letters: the tables.
        size_place: position 5 in the words of the inch system.
    """
    shape, clearance, class_, type_, size, thickness, corner = head
    double_sided = letters.double_sided[clearance.code + type_.code]
    class_code, IC_mm = class_.code, size.IC_mm
    if shape.corners is None:
        RE_mm, CEDC = None if IC_mm is None else IC_mm / 2.0, None
        fixed = letters.round_tolerances.get(class_code)
    else:
        RE_mm, CEDC = corner.value, None if double_sided is None else shape.corners * (1 + double_sided)
        fixed = letters.fixed_tolerances.get(class_code)
    tolerance = fixed or size.tolerances.get(class_code) or letters.open_tolerances[class_code]
    positions: tuple[PositionReading, ...] = (
        shape.places[0], clearance.places[0], class_.places[0], type_.places[0], size_place or size.places[0],
        thickness.places[0], corner.places[0],
    )  # fmt: skip
    notes = clearance.notes + class_.notes + type_.notes + size.notes + thickness.notes + corner.notes
    if class_code in size.doubts:
        notes += size.doubts[class_code]
    chamfer_mm = chamfer_deg = None
    if ends is not NOTHING:
        positions += ends.places
        notes += ends.notes
        if ends.chamfer:
            chamfer_mm, chamfer_deg = chamfer(ends.chamfer)
    same = None if equivalent is None else corner.code not in letters.inexact_corners
    return InsertReading(
        "insert", system, designation, equivalent, same, shape.code, shape.EPSR_deg, clearance.value,
        tolerance, letters.fixings[type_.code], double_sided, size.code, IC_mm, size.L_mm, size.W1_mm,
        thickness.value or 0.0, RE_mm, ends.edge, ends.hand, CEDC, ends.suffix,
        wiper[0].value if wiper else None, wiper[1].value if wiper else None, chamfer_mm, chamfer_deg,
        ends.facet_mm, ends.condition, positions, notes,
    )  # fmt: skip


def _ends(compact: str, breaks: Breaks, letters: Letters) -> Ends:
    """Read what follows the corner; accept wiper letters after a radius if edge or hand follows them."""
    try:
        return read_ends(compact, breaks, HEAD, letters, inch=False)
    except Misread:
        pair = wiper_pair(compact[HEAD : HEAD + 2], letters)
        dashed = any(HEAD <= index < HEAD + 3 for index, _ in breaks)
        if pair is None or dashed or len(compact) < HEAD + 3:
            raise
        try:
            ends = read_ends(compact, breaks, HEAD + 2, letters, inch=False)
        except Misread:
            ends = NOTHING
        if ends.edge is None and ends.hand is None:
            raise
        ends.pair = pair
        ends.text = compact[HEAD : HEAD + 2] + ends.text
        words = "wiper letters: " + wiper_corner(pair).places[0].meaning
        ends.places = (PositionReading(7, compact[HEAD : HEAD + 2], words, OUTSIDE), *ends.places)
        ends.notes += (RADIUS_AND_WIPER,)
        return ends


def wiper_pair(code: str, letters: Letters) -> Wiper | None:
    """Give the two symbols of a wiper corner; None if it is none."""
    angle = letters.wiper_angles.get(code[:1])
    clearance = letters.wiper_clearances.get(code[1:2])
    return None if angle is None or clearance is None else (angle, clearance)


def wiper_corner(pair: Wiper) -> Symbol:
    """Give position 7 of a wiper corner."""
    code = pair[0].code + pair[1].code
    marks = {pair[0].places[0].mark, pair[1].places[0].mark}
    words = f"{pair[0].places[0].meaning}, {pair[1].places[0].meaning}"
    place = PositionReading(7, code, words, MAKER if MAKER in marks else CERTAIN)
    return Symbol(code, None, code, pair[0].notes + pair[1].notes, (place,))


def _oblong(compact: str, shape: Shape, letters: Letters) -> Size:
    """Size of a shape without inscribed circle, or what is wrong with it."""
    code = compact[4:6]
    if shape.edge_per_IC is None and len(code) == 2 and code.isdigit() and code != "00":
        return oblong_size(code, letters)
    whole = int(code) if code.isdigit() else 0
    allowed = [key[1:] for key in letters.sizes if key[0] == shape.code] or ["01", "to", "99"]
    near = sorted(allowed, key=lambda c: _how_near(shape.code + c, whole, letters))[:3]
    why = said(code, f"a size of shape {shape.code}", "the size")
    tries = [compact[:4] + c + compact[6:] for c in near]
    raise Misread("insert", "metric", 5, 4, code, allowed, why, tries)


def _how_near(key: str, whole: int, letters: Letters) -> tuple[bool, bool, int]:
    """Order sizes by how likely they were meant: a circle of that many millimetres, usual, near in number."""
    size = letters.sizes.get(key)
    if size is None or size.IC_mm is None:
        return (True, True, 0)
    usual = size.IC_mm in (6.35, 9.525, 12.7, 15.875, 19.05, 25.4)
    return (not (usual and int(size.IC_mm) == whole), not usual, abs(_digits(key[1:]) - whole))


def _digits(code: str) -> int:
    """Give the number in a size code; the letters of S3, S4, L3 count for nothing."""
    return int("".join(sign for sign in code if sign.isdigit()))


def oblong_size(code: str, letters: Letters) -> Size:
    """Give the size of a parallelogram or rectangle: only the long edge in whole millimetres is coded."""
    note = f"size {code}: the longer edge is {int(code)} mm and a fraction that the code drops"
    place = PositionReading(5, code, f"longer edge {int(code)} mm and a fraction", CERTAIN)
    seat = PositionReading(9, code, place.meaning, CERTAIN)
    return Size(code, None, None, None, (note,), letters.oblong_tolerances, (place, seat, seat))


def _wrong_thickness(compact: str, letters: Letters) -> Misread:
    """Say what is wrong with position 6."""
    code = compact[6:8]
    tries = [compact[:6] + c + compact[8:] for c in letters.thicknesses if code[1:2] and c[1] == code[1]]
    return Misread(
        "insert", "metric", 6, 6, code, letters.thicknesses, said(code, "a thickness", "the thickness"), tries
    )


def _round(compact: str, letters: Letters) -> tuple[Size, Symbol, Symbol]:
    """Positions 5 to 7 of a round insert: the corner field tells metric from inch diameters."""
    code, field = compact[4:6], compact[8:10]
    thickness = letters.thicknesses.get(compact[6:8])
    corner = letters.round_corners.get(field)
    size = letters.rounds.get(code + field)
    if size is not None and thickness is not None and corner is not None:
        return size, thickness, corner
    allowed = [c for c in letters.round_corners if code + c in letters.rounds]
    if not allowed:
        known = dict.fromkeys(key[:2] for key in letters.rounds)
        raise Misread("insert", "metric", 5, 4, code, known, said(code, "a diameter of shape R", "the size"))
    if thickness is None:
        raise _wrong_thickness(compact, letters)
    why = said(field, f"how a round insert of size {code} ends", "the corner (M0 metric, 00 inch diameter)")
    tries = [compact[:8] + c + compact[10:] for c in allowed] + [
        compact[:8] + c + compact[8:] for c in allowed
    ]
    raise Misread("insert", "metric", 7, 8, field, allowed, why, tries)


def _odd_corner(compact: str, letters: Letters) -> tuple[Symbol, Wiper | None]:
    """Position 7 where it is no radius of the table: any other radius, or wiper letters."""
    code = compact[8:10]
    if len(code) == 2 and code.isdigit():
        RE_mm = int(code) / 10.0
        place = PositionReading(7, code, f"corner radius {RE_mm:g} mm", CERTAIN)
        return Symbol(code, RE_mm, None, (), (place,)), None
    pair = wiper_pair(code, letters)
    if pair is not None:
        return wiper_corner(pair), pair
    if code in letters.round_corners:
        raise Misread("insert", "metric", 7, 8, code, letters.corners, f"{code} is only for round inserts")
    if code[:1] in letters.wiper_angles and code[1:].isalpha():
        why = f"{code[1]} is not a wiper clearance letter"
        raise Misread("insert", "metric", 7, 9, code, letters.wiper_clearances, why)
    expected = [*letters.corners, *(a + "+clearance letter" for a in letters.wiper_angles)]
    tries = [compact[:8] + "0" + code + compact[10:]] if len(code) == 1 else []
    tries += [compact[:8] + c for c in ("08", "04", "12")] if not code else []
    why = said(code, "a corner: two digits, or two wiper letters", "the corner")
    raise Misread("insert", "metric", 7, 8, code, expected, why, tries)


def wrong_letter(compact: str, letters: Letters, system: str) -> Misread:
    """Say which of positions 1 to 4 is wrong."""
    metric = system == "metric"
    tables = (
        (letters.shapes, "shape"),
        (letters.metric_clearances if metric else letters.inch_clearances, "clearance"),
        (letters.metric_classes if metric else letters.classes, "tolerance class"),
        (letters.metric_types if metric else letters.types, "type"),
    )
    for offset, (table, what) in enumerate(tables):
        letter = compact[offset : offset + 1]
        if letter in table and letter:
            continue
        article = f"a {what} letter" + (" of ISO 1832" if metric else " of the inch system")
        expected = [code for code in table if code]
        return Misread(
            "insert", system, offset + 1, offset, letter, expected, said(letter, article, f"the {what}")
        )
    raise AssertionError("no letter is wrong")  # pragma: no cover - callers saw one
