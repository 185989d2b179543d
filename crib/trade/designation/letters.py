"""The symbols of the designation standards as typed tables, indexed for reading.

Everything a reading needs of a symbol is made once, here: its value, its words, its note.
"""

from collections.abc import Callable, Mapping

from crib.trade.designation.reading import CERTAIN, Fixing, Tolerance
from crib.trade.designation.symbols import (
    RECALLED,
    Shape,
    Size,
    Symbol,
    Symbols,
    edge_per_IC,
    mark_of,
    meaning_of,
    notes_of,
    number,
    places,
    recalled,
)

Rows = Callable[[str], "tuple[Mapping[str, str], ...]"]
Part = Callable[[Rows, "Letters"], Mapping[str, object]]
MM_PER_INCH = 25.4


class Letters:
    """All tables of the designation systems. Make it once, `Letters(tables.rows)`.

    Names say the table; `metric_…` and `inch_…` where the systems differ. Sizes are found under shape
    letter + code (`sizes["C12"]`), round ones under code + corner (`rounds["12M0"]`), inch ones under
    shape letter + inch code (`inch_sizes["C4"]`).

    Args:
        rows: gives the rows of a table by its name (`crib.trade.tables.rows`).
    """

    _rows: Rows
    _made: list[Part]
    shapes: Mapping[str, Shape]
    inch_clearances: Symbols
    metric_clearances: Symbols
    classes: Symbols
    metric_classes: Symbols
    fixed_tolerances: Mapping[str, Tolerance]
    open_tolerances: Mapping[str, Tolerance]
    round_tolerances: Mapping[str, Tolerance]
    oblong_tolerances: Mapping[str, Tolerance]
    types: Symbols
    metric_types: Symbols
    fixings: Mapping[str, Fixing]
    double_sided: Mapping[str, bool | None]
    sizes: Mapping[str, Size]
    rounds: Mapping[str, Size]
    inch_sizes: Mapping[str, Size]
    inch_size_symbols: Symbols
    old_inch_sizes: Mapping[str, str]
    thicknesses: Symbols
    inch_thicknesses: Symbols
    corners: Symbols
    round_corners: Symbols
    inch_round_corner: Symbol
    inch_corners: Symbols
    inexact_corners: frozenset[str]
    inch_corner_letters: Symbols
    wiper_angles: Symbols
    wiper_clearances: Symbols
    edges: Symbols
    chamfered: frozenset[str]
    hands: Symbols
    tip_corners: Symbols
    tip_lengths: Symbols
    inch_conditions: Symbols
    inch_facets: Symbols
    clampings: Symbols
    holes_needed: Mapping[str, str]
    styles: Symbols
    lengths: Symbols
    preferred_lengths_mm: Mapping[tuple[float, float], float]
    holder_tolerances: Symbols
    inch_shanks: Mapping[str, tuple[float, float]]
    recalled_shanks: frozenset[str]
    couplings: Symbols
    inch_lengths: Symbols
    bar_types: Symbols
    bar_builds: Mapping[str, tuple[str, bool, bool]]
    inch_bar_lengths: Symbols

    def __init__(self, rows: Rows) -> None:
        made: list[Part] = []
        self.__dict__.update(_rows=rows, _made=made)

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"cannot assign to field {name!r}")

    def __getattr__(self, name: str) -> object:
        """Make the tables of one part after the other until the one that is asked for is there.

        An insert is read without the tables of holders: start-up counts. Two threads may both make a part;
        they make the same.
        """
        for part in PARTS if name[0] != "_" else ():
            if part not in self._made:
                self.__dict__.update(part(self._rows, self))
                self._made.append(part)
            if name in self.__dict__:
                return self.__dict__[name]
        raise AttributeError(f"there is no table of letters called {name!r}")


def _symbol(row: Mapping[str, str], what: str, meaning: str, value: float | None, *positions: int) -> Symbol:
    """Make the symbol of an ordinary row."""
    code = row["code"]
    words = meaning_of(row, meaning)
    return Symbol(code, value, None, notes_of(row, what), places(code, words, mark_of(row), *positions))


def _of_system(rows: tuple[Mapping[str, str], ...], symbols: Symbols, system: str) -> Symbols:
    """Keep the symbols that one system knows."""
    return {row["code"]: symbols[row["code"]] for row in rows if row["system"] in ("both", system)}


def _shape(row: Mapping[str, str]) -> Shape:
    """Make one shape."""
    code, form = row["code"], row["form"]
    angle = number(row["EPSR_deg"])
    ratio = edge_per_IC(form, int(row["sides"] or 0), angle or 0.0)
    corners = int(row["corners_per_face"]) if row["corners_per_face"] else None
    return Shape(code, angle, corners, ratio, form, places(code, row["name"], CERTAIN, 1, 2, 5))


def _insert_letters(rows: Rows, _letters: Letters) -> Mapping[str, object]:
    """Positions 1 to 4 of an insert; shape and clearance serve holders and bars too."""
    clearance_rows = rows("insert_clearance")
    clearances = {}
    for row in clearance_rows:
        value, second = number(row["AN_deg"]), row["second_deg"]
        words = "other clearance" if value is None else f"clearance {value:g} deg"
        words += f", second facet {second} deg" if second else ""
        words += "" if value is None else " (positive insert)" if value else " (negative insert)"
        other = row["code"] if row["system"] == "both" else None
        clearances[row["code"]] = Symbol(
            row["code"],
            value,
            other,
            notes_of(row, "clearance"),
            places(row["code"], words, mark_of(row), 2, 4, 7),
        )
    classes, fixed, still_open, rounds, oblong = {}, {}, {}, {}, {}
    class_rows = rows("insert_tolerance")
    for row in class_rows:
        code = row["code"]
        d_mm, m_mm, s_mm = number(row["d_mm"]), number(row["m_mm"]), number(row["s_mm"])
        other = code if row["system"] == "both" else None
        words = f"tolerance class {code}"
        classes[code] = Symbol(
            code, s_mm, other, notes_of(row, "class"), places(code, words, mark_of(row), 3)
        )
        if d_mm is not None:
            fixed[code] = Tolerance(code, d_mm, m_mm, s_mm)
            rounds[code] = Tolerance(code, d_mm, None, s_mm)
            oblong[code] = fixed[code]
        else:  # without an inscribed circle neither d nor m can be told
            oblong[code] = Tolerance(code, None, None, s_mm)
        still_open[code] = Tolerance(code, None, m_mm if d_mm is None else None, s_mm)
    return {
        "shapes": {row["code"]: _shape(row) for row in rows("insert_shape")},
        "inch_clearances": _of_system(clearance_rows, clearances, "inch"),
        "metric_clearances": _of_system(clearance_rows, clearances, "metric"),
        "classes": classes,
        "metric_classes": _of_system(class_rows, classes, "metric"),
        "fixed_tolerances": fixed,
        "open_tolerances": still_open,
        "round_tolerances": rounds,
        "oblong_tolerances": oblong,
        **_types(rows, clearance_rows),
    }


def _types(rows: Rows, clearance_rows: tuple[Mapping[str, str], ...]) -> Mapping[str, object]:
    """Position 4, and from it and the clearance whether the insert can be turned over."""
    types, fixings, double = {}, {}, {}
    type_rows = rows("insert_type")
    for row in type_rows:
        code, hole = row["code"], row["hole"]
        faces = int(row["chipbreaker_faces"]) if row["chipbreaker_faces"] else None
        words = {"none": "no hole", "special": "special"}.get(hole, f"hole, {hole}")
        words += "" if faces is None else f", chip breaker on {('no face', 'one face', 'both faces')[faces]}"
        other = (row["stands_for"] or code) if row["system"] == "both" else None
        types[code] = Symbol(code, None, other, notes_of(row, "type"), places(code, words, mark_of(row), 4))
        fixings[code] = Fixing(code, hole, faces)
        alike = None if faces is None else faces != 1 and not hole.startswith("one ")
        for clearance in clearance_rows:
            double[clearance["code"] + code] = _double(alike, faces, clearance)
    metric = _of_system(type_rows, types, "metric")
    # inch codes leave the letter out where there is no hole: it then counts as N
    types[""] = Symbol("", None, "N", (), places("", "no letter: no hole, no chip breaker", CERTAIN, 4))
    fixings[""] = fixings["N"]
    double.update({clearance["code"]: double[clearance["code"] + "N"] for clearance in clearance_rows})
    return {
        "types": types,
        "metric_types": metric,
        "fixings": fixings,
        "double_sided": double,
    }


def _double(alike: bool | None, faces: int | None, clearance: Mapping[str, str]) -> bool | None:
    """Tell whether an insert can be turned over: both faces alike, and no clearance."""
    if alike is False or alike is None:
        return alike
    if clearance["AN_deg"] == "0" and not clearance["second_deg"]:
        return True
    # with clearance the second face has no edge, unless the maker gives it one
    return None if faces == 2 or not clearance["AN_deg"] else False


Sized = tuple[dict[str, Tolerance], dict[str, tuple[str, ...]]]
"""Tolerances of one shape and size by class, and what to tell of them."""


def _size_tolerances(
    rows: Rows, still_open: Mapping[str, Tolerance], fixed: Mapping[str, Tolerance]
) -> Callable[[str, float], Sized]:
    """Tolerances of the classes that depend on size, by shape and inscribed circle."""
    unfound: dict[str, tuple[str, ...]] = {
        code: (f"class {code}: its tolerance for this shape and size was not found",)
        for code in still_open
        if code not in fixed
    }
    found: dict[tuple[str, float], Sized] = {}  # rows say which shapes are alike: these share what is made
    for row in rows("insert_tolerance_size"):
        IC_mm, d_mm, m_mm = float(row["IC_mm"]), number(row["d_mm"]), number(row["m_mm"])
        doubt = row["note"] or (f"its tolerance for this size is {RECALLED}" if recalled(row) else "")
        if (row["shapes"], IC_mm) not in found:
            found[row["shapes"], IC_mm] = ({}, unfound.copy())
        tolerances, doubts = found[row["shapes"], IC_mm]
        for code in row["classes"]:
            plain = still_open[code]
            tolerances[code] = Tolerance(code, d_mm, plain.m_mm if m_mm is None else m_mm, plain.s_mm)
            doubts[code] = (f"class {code}: {doubt}",) if doubt else ()
    by_shape = {(shape, IC_mm): made for (shapes, IC_mm), made in found.items() for shape in shapes}
    for (shape, IC_mm), (made, doubts) in by_shape.items():
        if shape == "R":  # a round insert has no corner height
            flat = {code: Tolerance(code, t.d_mm, None, t.s_mm) for code, t in made.items()}
            by_shape[shape, IC_mm] = (flat, doubts)
    return lambda shape, IC_mm: by_shape.get((shape, IC_mm), ({}, unfound))


def _insert_sizes(rows: Rows, letters: Letters) -> Mapping[str, object]:
    """Position 5, both systems."""
    tolerances = _size_tolerances(rows, letters.open_tolerances, letters.fixed_tolerances)
    symbols, old, inch_code = {}, {}, {}
    for row in rows("inch_size"):
        IC_mm = float(row["IC_mm"])
        words = f"inscribed circle {row['IC_in']} in ({IC_mm:g} mm)"
        symbols[row["code"]] = _symbol(row, "size", words, IC_mm, 5, 7, 9)
        inch_code[IC_mm] = row["code"]
        if row["code_in_32nds"]:
            old[row["code_in_32nds"]] = row["code"]
    sizes, rounds, by_inch = {}, {}, {}
    for row in rows("insert_size"):
        letter, code, IC_mm = row["shape"], row["code"], float(row["IC_mm"])
        ratio = letters.shapes[letter].edge_per_IC or 1.0
        L_mm = round(IC_mm * ratio, 3)
        words = f"edge {L_mm:.2f} mm, inscribed circle {IC_mm:g} mm"
        allowed, doubts = tolerances(letter, IC_mm)
        size = Size(
            code, IC_mm, L_mm, inch_code.get(IC_mm), notes_of(row, "size"), allowed,
            places(code, words, mark_of(row), 5, 9, 9), doubts,
        )  # fmt: skip
        sizes[letter + code] = size
        if size.inch is not None and row["usual"] == "yes":
            by_inch[letter + size.inch] = size
    for row in rows("insert_round"):
        code, IC_mm = row["code"], float(row["IC_mm"])
        inch = inch_code.get(IC_mm) if row["corner"] == "00" else None
        allowed, doubts = tolerances("R", IC_mm)
        size = Size(
            code, IC_mm, IC_mm, inch, notes_of(row, "size"), allowed,
            places(code, f"diameter {IC_mm:g} mm", CERTAIN, 5), doubts,
        )  # fmt: skip
        rounds[code + row["corner"]] = size
        if inch is not None:
            by_inch["R" + inch] = size
    return {
        "sizes": sizes, "rounds": rounds, "inch_sizes": by_inch, "inch_size_symbols": symbols,
        "old_inch_sizes": old,
    }  # fmt: skip


def _insert_digits(rows: Rows, _letters: Letters) -> Mapping[str, object]:
    """Positions 6 and 7, both systems."""
    thick, inch_thick = {}, {}
    for row in rows("insert_thickness"):
        code, inch, S_mm = row["code"], row["inch_code"], float(row["S_mm"])
        notes, mark = notes_of(row, "thickness"), mark_of(row)
        words = meaning_of(row, f"thickness {S_mm:g} mm")
        thick[code] = Symbol(code, S_mm, inch or None, notes, places(code, words, mark, 6))
        if inch:
            words = f"thickness {row['S_in']} in ({S_mm:g} mm)" if row["S_in"] else f"thickness {S_mm:g} mm"
            words = meaning_of(row, words)
            inch_thick[inch] = Symbol(inch, S_mm, code, notes, places(inch, words, mark, 6))
    corner, inch_corner = {}, {}
    inexact: set[str] = set()
    for row in rows("insert_corner"):
        code, inch, RE_mm = row["code"], row["inch_code"], float(row["RE_mm"])
        words = f"corner radius {RE_mm:g} mm" if RE_mm else "sharp corner"
        corner[code] = Symbol(code, RE_mm, inch or None, (), places(code, words, CERTAIN, 7))
        if inch:
            RE_inch_mm = float(row["RE_inch_mm"])
            words = f"corner radius {row['RE_in']} in ({RE_inch_mm:g} mm)" if RE_inch_mm else "sharp corner"
            inch_corner[inch] = Symbol(inch, RE_inch_mm, code, (), places(inch, words, CERTAIN, 7))
            inexact |= {code, inch} if RE_inch_mm != RE_mm else set()
    letters = {row["code"]: _symbol(row, "corner", row["meaning"], None, 7) for row in rows("inch_corner")}
    rounds = {
        "00": Symbol("00", None, "", (), places("00", "round insert of inch diameter", CERTAIN, 7)),
        "M0": Symbol("M0", None, None, (), places("M0", "round insert of metric diameter", CERTAIN, 7)),
    }
    return {
        # radii that are not the same in both systems, under either code (the codes of both do not overlap
        # among those that have a twin)
        "inexact_corners": frozenset(inexact),
        "round_corners": rounds,
        "inch_round_corner": Symbol("", None, "00", (), places("", "no symbol: round insert", CERTAIN, 7)),
        "thicknesses": thick,
        "inch_thicknesses": inch_thick,
        "corners": corner,
        "inch_corners": inch_corner,
        "inch_corner_letters": letters,
    }


def _insert_ends(rows: Rows, _letters: Letters) -> Mapping[str, object]:
    """Wiper corners, and positions 8 to 12."""
    angles, clearances = {}, {}
    for row in rows("insert_wiper"):
        value = number(row["angle_deg"])
        words = "stated by the maker" if value is None else f"{value:g} deg"
        if row["which"] == "angle":
            angles[row["code"]] = _symbol(
                row, "wiper", f"wiper corner for a cutting edge angle of {words}", value, 7
            )
        else:
            clearances[row["code"]] = _symbol(row, "wiper", f"wiper clearance {words}", value, 7)
    edge_rows = rows("insert_edge")
    tips: dict[str, dict[str, Symbol]] = {"11": {}, "12": {}}
    for row in rows("insert_tipped"):
        place = int(row["position"])
        tips[row["position"]][row["code"]] = _symbol(row, "tip", row["meaning"], None, place)
    facets = {}
    for row in rows("inch_facet"):
        width_mm = float(row["width_mm"])
        facets[row["code"]] = _symbol(row, "facet", f"facet {width_mm:g} mm wide", width_mm, 10)
    return {
        "wiper_angles": angles,
        "wiper_clearances": clearances,
        "edges": {
            row["code"]: _symbol(row, "edge condition", f"edge {row['meaning']}", None, 8)
            for row in edge_rows
        },
        "chamfered": frozenset(row["code"] for row in edge_rows if row["chamfered"] == "yes"),
        "hands": {
            row["code"]: _symbol(row, "hand", row["meaning"], None, 9, 5, 8) for row in rows("insert_hand")
        },
        "tip_corners": tips["11"],
        "tip_lengths": tips["12"],
        "inch_conditions": {
            r["code"]: _symbol(r, "condition", r["meaning"], None, 10) for r in rows("inch_condition")
        },
        "inch_facets": facets,
    }


def _holder_letters(rows: Rows, _letters: Letters) -> Mapping[str, object]:
    """What holders have of their own; clamping, style and length serve bars too."""
    clamping_rows = rows("holder_clamping")
    styles = {}
    for row in rows("holder_style"):
        KAPR_deg = number(row["KAPR_deg"])
        words = (
            "special" if KAPR_deg is None else f"cutting edge angle {KAPR_deg:g} deg, {row['shank']} shank"
        )
        words += f", cuts at the {row['cutting']}" if row["cutting"] else ""
        styles[row["code"]] = _symbol(row, "style", words, KAPR_deg, 3, 3, 6)
    lengths = {}
    for row in rows("holder_length"):
        LF_mm = number(row["LF_mm"])
        words = "special length" if LF_mm is None else f"length {LF_mm:g} mm"
        lengths[row["code"]] = _symbol(row, "length", words, LF_mm, 8, 8, 3)
    inch_lengths = {}
    for row in rows("inch_length"):
        LF_mm = number(row["LF_mm"])
        words = row["meaning"] if LF_mm is None else f"length {LF_mm / MM_PER_INCH:g} in, {row['meaning']}"
        inch_lengths[row["code"]] = _symbol(row, "length", words, LF_mm, 8)
    return {
        "clampings": {
            row["code"]: _symbol(row, "clamping", f"insert held: {row['meaning']}", None, 1, 1, 4)
            for row in clamping_rows
        },
        "holes_needed": {row["code"]: row["hole"] for row in clamping_rows},
        "styles": styles,
        "lengths": lengths,
        "preferred_lengths_mm": {
            (float(row["H_mm"]), float(row["B_mm"])): float(row["LF_mm"]) for row in rows("holder_preferred")
        },
        "holder_tolerances": {
            row["code"]: _symbol(row, "tolerance", row["meaning"], None, 10)
            for row in rows("holder_tolerance")
        },
        "inch_shanks": {row["code"]: (float(row["H_mm"]), float(row["B_mm"])) for row in rows("inch_shank")},
        "recalled_shanks": frozenset(row["code"] for row in rows("inch_shank") if recalled(row)),
        "couplings": {
            row["code"]: _symbol(row, "shank", row["meaning"], float(row["flange_mm"]), 0)
            for row in rows("holder_coupling")
        },
        "inch_lengths": inch_lengths,
    }


def _bar_letters(rows: Rows, _letters: Letters) -> Mapping[str, object]:
    """What boring bars have of their own."""
    type_rows = rows("bar_type")
    lengths = {}
    for row in rows("inch_bar_length"):
        LF_mm = number(row["LF_mm"])
        words = "special length" if LF_mm is None else f"length {LF_mm / MM_PER_INCH:g} in"
        lengths[row["code"]] = _symbol(row, "length", words, LF_mm, 3)
    return {
        "bar_types": {row["code"]: _symbol(row, "bar type", row["meaning"], None, 1) for row in type_rows},
        "bar_builds": {
            row["code"]: (row["material"], row["coolant"] == "yes", row["damped"] == "yes")
            for row in type_rows
        },
        "inch_bar_lengths": lengths,
    }


PARTS = (_insert_letters, _insert_sizes, _insert_digits, _insert_ends, _holder_letters, _bar_letters)
"""Every part, in the order of need: sizes are made from the letters before them."""
