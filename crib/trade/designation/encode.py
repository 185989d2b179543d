"""Writing codes: from dimensions to the code of an insert, a turning holder or a boring bar.

Sizes go by the tables, as in reading; what a code can't state is written as the nearest that it can, and
that is said.
"""

from crib.trade.designation.insert import wiper_pair
from crib.trade.designation.letters import Letters
from crib.trade.designation.pen import (
    EXACT_DEG,
    EXACT_MM,
    EXACT_RADIUS_MM,
    Pen,
    Written,
    choices,
    take_clearance,
    take_size,
)
from crib.trade.designation.reading import InsertReading
from crib.trade.designation.spec import CORNER, BarSpec, InsertSpec, Spec, spec_of
from crib.trade.designation.symbols import Shape

EIGHTH_MM, QUARTER_MM = 25.4 / 8.0, 25.4 / 4.0


def write(spec: Spec, letters: Letters) -> Written:
    """Write the code of an insert, a holder or a bar.

    Raises:
        BadDesignation: a field that no code can state, by its name, with what may stand there.
    """
    if isinstance(spec, InsertSpec):
        return write_insert(spec, letters)
    from crib.trade.designation.encode_shank import write_bar, write_holder

    return write_bar(spec, letters) if isinstance(spec, BarSpec) else write_holder(spec, letters)


def write_insert(spec: InsertSpec, letters: Letters) -> Written:
    """Write the code of an insert.

    Args:
        spec: its dimensions and letters.
        letters: the tables.

    Returns:
        The code, its twin in the other system, and by field whether it is exact.

    Raises:
        BadDesignation: a field that no code can state, by its name, with what may stand there.

    Source: ISO 1832 and ANSI B212.4, the tables of each position.
    """
    pen = Pen(spec.system)
    inch = spec.system == "inch"
    shape = letters.shapes[pen.letter("SC", 1, spec.SC, letters.shapes)]
    head = shape.code + take_clearance(pen, 2, spec.clearance, letters)
    head += pen.letter("tolerance", 3, spec.tolerance, letters.classes if inch else letters.metric_classes)
    head += pen.letter("fixing", 4, spec.fixing, letters.types if inch else letters.metric_types)
    size, round_corner = _size(pen, spec, shape, letters)
    table = letters.inch_thicknesses if inch else letters.thicknesses
    thickness = pen.nearest("S_mm", 6, spec.S_mm, choices(table), "mm", EXACT_MM)
    corner = round_corner if shape.corners is None else _corner(pen, spec, letters)
    if shape.corners is None and spec.corner is not None:
        raise pen.refuse("corner", 7, spec.corner, ["nothing"], "a round insert has no corner")
    text = head + size + thickness + corner + _ends(pen, spec, letters)
    written, reading = pen.done(text, letters)
    back = spec_of(reading)
    for name in ("corner", "edge_condition", "HAND", "other_conditions"):
        asked, found = getattr(spec, name), getattr(back, name, None)
        if (asked or "").upper() != (found or ""):
            why = f"{written.designation} would be read with {name} {found or 'left out'}"
            raise pen.refuse(
                name, CORNER, str(asked), [str(found or "nothing")], why, "no code can tell these apart"
            )
    return written


def cross(reading: InsertReading, letters: Letters) -> Written:
    """Write an insert's code in the other system: exact, or the nearest there is, saying which.

    Args:
        reading: of its code.
        letters: the tables.

    Raises:
        BadDesignation: the other system has nothing near.
    """
    other = "inch" if reading.system == "metric" else "metric"
    return write(spec_of(reading, other), letters)


def _size(pen: Pen, spec: InsertSpec, shape: Shape, letters: Letters) -> tuple[str, str]:
    """Give position 5, and the corner of a round insert, which its kind of diameter settles."""
    if shape.edge_per_IC is None:
        return _oblong(pen, spec), ""
    code = take_size(pen, 5, shape, spec.IC_mm, spec.L_mm, letters)
    if shape.corners is None and pen.system == "metric":
        return code[:2], code[2:]
    return code, ""


def _oblong(pen: Pen, spec: InsertSpec) -> str:
    """Give position 5 of a rectangle or parallelogram: the edge in whole millimetres, or width and length."""
    if spec.L_mm is None:
        raise pen.refuse("L_mm", 5, "", ["the longer edge"], "this shape has no inscribed circle")
    if pen.system == "inch":
        if spec.W1_mm is None:
            raise pen.refuse("W1_mm", 5, "", ["the width"], "inch codes of this shape state width and length")
        return _steps(pen, "W1_mm", spec.W1_mm, EIGHTH_MM) + _steps(pen, "L_mm", spec.L_mm, QUARTER_MM)
    whole = int(spec.L_mm + EXACT_MM)
    if not 1 <= whole <= 99:
        raise pen.refuse("L_mm", 5, f"{spec.L_mm:g}", ["1 to 99 mm"], f"{spec.L_mm:g} mm has no two digits")
    pen.exact["L_mm"] = abs(whole - spec.L_mm) <= EXACT_MM
    if not pen.exact["L_mm"]:
        pen.notes.append(f"L_mm: {whole:02d} stands for {whole} mm and a fraction; the code drops it")
    return f"{whole:02d}"


def _steps(pen: Pen, name: str, value_mm: float, step_mm: float) -> str:
    """Give a length as one digit of steps."""
    steps = [(str(n), n * step_mm, True) for n in range(1, 10)]
    return pen.nearest(name, 5, value_mm, steps, "mm", EXACT_MM)


def _corner(pen: Pen, spec: InsertSpec, letters: Letters) -> str:
    """Give position 7: the radius, wiper letters, or a corner letter of the inch system."""
    code = ""
    if spec.RE_mm is not None:
        code = _radius(pen, spec.RE_mm, letters)
    if spec.corner is None:
        if not code:
            raise pen.refuse(
                "RE_mm", 7, "", ["RE_mm", "corner"], "neither radius nor corner letters were given"
            )
        return code
    corner = spec.corner.strip().upper()
    single = pen.system == "inch" and not code and corner in letters.inch_corner_letters
    if not single and wiper_pair(corner, letters) is None:
        wanted = [a + "+clearance letter" for a in letters.wiper_angles]
        wanted += letters.inch_corner_letters if pen.system == "inch" else ()
        raise pen.refuse("corner", 7, spec.corner, wanted, f"{spec.corner!r} is no corner")
    pen.exact["corner"] = True
    return code + corner


def _radius(pen: Pen, RE_mm: float, letters: Letters) -> str:
    """Give the code of a radius: 1/10 mm in two digits, or 1/64 in."""
    if pen.system == "inch":
        return pen.nearest("RE_mm", 7, RE_mm, choices(letters.inch_corners), "mm", EXACT_RADIUS_MM)
    tenths = round(RE_mm * 10.0)
    if not 0 <= tenths <= 99:
        raise pen.refuse("RE_mm", 7, f"{RE_mm:g}", ["0 to 9.9 mm"], f"{RE_mm:g} mm has no two digits")
    code = f"{tenths:02d}"
    pen.exact["RE_mm"] = abs(tenths / 10.0 - RE_mm) <= EXACT_RADIUS_MM
    if not pen.exact["RE_mm"]:
        pen.say("RE_mm", RE_mm, code, tenths / 10.0, "mm")
    return code


def _ends(pen: Pen, spec: InsertSpec, letters: Letters) -> str:
    """Give what follows the corner."""
    text = ""
    if spec.edge_condition is not None:
        text += pen.letter("edge_condition", 8, spec.edge_condition, letters.edges)
    if spec.HAND is not None:
        text += pen.letter("HAND", 9, spec.HAND, letters.hands)
    text += _chamfer(pen, spec, letters) + _inch_ends(pen, spec, letters)
    return text + (f"-{spec.maker_suffix}" if spec.maker_suffix else "")


def _chamfer(pen: Pen, spec: InsertSpec, letters: Letters) -> str:
    """Give position 10: three digits of 1/100 mm, two of degrees."""
    width_mm, angle_deg = spec.chamfer_width_mm, spec.chamfer_angle_deg
    if width_mm is None and angle_deg is None:
        return ""
    if (spec.edge_condition or "").upper() not in letters.chamfered:
        wanted = sorted(letters.chamfered)
        raise pen.refuse(
            "edge_condition", 8, spec.edge_condition or "", wanted, "a chamfer needs one of its letters"
        )
    if width_mm is None or angle_deg is None:
        name = "chamfer_width_mm" if width_mm is None else "chamfer_angle_deg"
        raise pen.refuse(name, 10, "", [name], "a chamfer has a width and an angle")
    hundredths, degrees = round(width_mm * 100.0), round(angle_deg)
    if not (0 <= hundredths <= 999 and 0 <= degrees <= 99):
        found = f"{width_mm:g} mm x {angle_deg:g} deg"
        wanted = ["0 to 9.99 mm", "0 to 99 deg"]
        raise pen.refuse("chamfer_width_mm", 10, found, wanted, f"{found} has not three and two digits")
    for name, asked, taken, unit, exact in (
        ("chamfer_width_mm", width_mm, hundredths / 100.0, "mm", EXACT_RADIUS_MM),
        ("chamfer_angle_deg", angle_deg, float(degrees), "deg", EXACT_DEG),
    ):
        pen.exact[name] = abs(asked - taken) <= exact
        if not pen.exact[name]:
            pen.say(name, asked, f"{hundredths:03d}{degrees:02d}", taken, unit)
    return f"{hundredths:03d}{degrees:02d}"


def _inch_ends(pen: Pen, spec: InsertSpec, letters: Letters) -> str:
    """Give facet and other conditions, which inch codes alone have."""
    text = ""
    for name, value in (("facet_width_mm", spec.facet_width_mm), ("other_conditions", spec.other_conditions)):
        if value is not None and (pen.system != "inch" or spec.chamfer_width_mm is not None):
            raise pen.refuse(name, 10, str(value), ["nothing"], "only inch codes without a chamfer have this")
    if spec.facet_width_mm is not None:
        if spec.HAND is None:
            raise pen.refuse("HAND", 9, "", list(letters.hands), "a facet stands after the hand")
        facets = choices(letters.inch_facets)
        text += pen.nearest("facet_width_mm", 10, spec.facet_width_mm, facets, "mm", EXACT_MM)
    if spec.other_conditions is not None:
        text += pen.letter("other_conditions", 10, spec.other_conditions, letters.inch_conditions)
    return text
