"""From callipers to codes."""

from math import radians, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crib.errors import InputError
from crib.trade import tables
from crib.trade.designation import InsertReading, Letters, read
from crib.trade.designation.measured import Errors, Likeness, Measured, likely_codes, misfit, seen_edge_mm
from crib.trade.designation.measured_holder import LikelyHolder, MeasuredHolder, likely_holders
from crib.trade.designation.shape_words import shapes_of, usual_errors
from crib.trade.designation.worn import worn

LETTERS = Letters(tables.rows)
ERRORS = Errors(length_mm=0.1, nose_mm=0.2, angle_deg=2.0, clearance_deg=2.0)


def likeness(words: str = "", **values: float | bool) -> Likeness:
    return likely_codes(measured(words, **values), LETTERS)


def measured(words: str = "", **values: float | bool) -> Measured:
    shapes = shapes_of(words, LETTERS, tables.rows("shape_word")) if words else ()
    return Measured(shapes=shapes, errors=ERRORS, **values)  # type: ignore[arg-type]


# -- outside checks: sizes by the standards' tables --------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "values", "metric", "inch"),
    [
        # ISO 1832 and ANSI B212.4, tables of inscribed circle, thickness and corner
        ("80 degree diamond", {"IC_mm": 12.7, "S_mm": 4.76, "RE_mm": 0.8}, "C???120408", "C???432"),
        ("trigon", {"IC_mm": 12.72, "S_mm": 4.8, "RE_mm": 0.8}, "W???080408", "W???432"),
        ("55 degree diamond", {"IC_mm": 12.65, "S_mm": 6.3, "RE_mm": 0.9}, "D???150608", "D???442"),
        ("square", {"IC_mm": 19.05, "S_mm": 6.35, "RE_mm": 1.2}, "S???190612", "S???643"),
        ("triangle", {"IC_mm": 9.6, "S_mm": 3.2, "RE_mm": 0.4, "AN_deg": 11}, "TP??160304", "TP??321"),
        ("35 degree", {"IC_mm": 9.5, "S_mm": 4.76, "RE_mm": 0.4, "AN_deg": 5}, "VB??160404", "VB??331"),
        ("round", {"IC_mm": 12.0, "S_mm": 4.76}, "R???1204M0", None),
        ("round", {"IC_mm": 12.75, "S_mm": 4.76}, "R???120400", "R???43"),
        ("C", {"IC_mm": 9.525, "S_mm": 3.97, "RE_mm": 0.8, "AN_deg": 7}, "CC??09T308", "CC??32.52"),
    ],
)
def test_the_best_answer(words: str, values: dict[str, float], metric: str, inch: str | None) -> None:
    best = likeness(words, **values).likely[0]
    assert (best.code, best.inch) == (metric, inch)
    assert best.agrees


def test_an_edge_is_found_shorter_by_its_rounded_corners() -> None:
    """TPUN160308: ISO 1832 gives 16.5 mm to the sharp corners; the rest is plane geometry by another way.

    At a 60 deg corner the arc of radius r has its outermost point, seen along the edge, where the circle
    ends: the centre lies r / sin(30 deg) from the corner on the bisector, 30 deg off the edge.
    """
    centre_mm = 0.8 / sin(radians(30)) * (3**0.5 / 2)
    expected = 16.498 - 2 * (centre_mm - 0.8)
    assert seen_edge_mm(16.498, 0.8, LETTERS.shapes["T"]) == pytest.approx(expected)
    best = likeness("triangle", edge_mm=15.3, S_mm=3.2, RE_mm=0.8, AN_deg=11, hole=False)
    assert best.likely[0].code == "TP??160308"
    assert best.likely[0].inch == "TP??322"
    assert "G" not in best.types
    assert {"N", "R", "F"} <= set(best.types)


def test_an_edge_without_its_nose_still_gives_the_size() -> None:
    sharp_mm = 9.525 * tan(radians(60))
    for nose_mm in (0.0, 0.4, 0.8, 1.2, 1.6):
        edge_mm = seen_edge_mm(sharp_mm, nose_mm, LETTERS.shapes["T"])
        assert "T???16????" in [one.code for one in likeness("triangle", edge_mm=edge_mm).likely]


def test_oblong_inserts_by_their_longer_edge() -> None:
    found = likeness("parallelogram", edge_mm=16.2, S_mm=4.76, RE_mm=0.5, AN_deg=0, EPSR_deg=55.0)
    assert found.likely[0].code == "KN??160405"  # as in KNUX160405, ISO 1832 position 5: 16 of 16.15


# -- what tells them apart ---------------------------------------------------------------------------------


def test_an_angle_alone_leaves_two_shapes() -> None:
    found = likeness("80 degree", IC_mm=12.7, S_mm=4.76, RE_mm=0.8, hole=True)
    assert {one.SC for one in found.likely[:2]} == {"C", "W"}
    assert "rhombic (diamond) (C)" in found.tells_apart[0]
    assert "trigon (three-cornered) (W)" in found.tells_apart[0]
    assert any("0° (N)" in line and "7° (C)" in line for line in found.tells_apart)
    assert not any("hole" in line for line in found.tells_apart)


def test_what_was_not_measured_is_asked_for() -> None:
    asked = " ".join(likeness("square", IC_mm=12.7).tells_apart)
    for word in ("clearance", "thickness", "radius", "hole"):
        assert word in asked


def test_nothing_agrees_but_the_nearest_are_given() -> None:
    found = likeness("square", IC_mm=13.4, S_mm=4.8, RE_mm=0.8)
    assert not found.agrees
    assert found.likely
    assert not any(one.agrees for one in found.likely)
    assert found.tells_apart == ()


@pytest.mark.parametrize(
    "values",
    [{}, {"S_mm": 4.76}, {"IC_mm": 0.0}, {"IC_mm": -12.7}, {"IC_mm": 5000.0}, {"IC_mm": 12.7, "RE_mm": -1.0}],
)
def test_what_no_insert_has_is_refused(values: dict[str, float]) -> None:
    with pytest.raises(InputError) as caught:
        likeness("square", **values)
    assert caught.value.hint


@pytest.mark.parametrize(
    ("words", "letters"),
    [
        ("80 degree diamond", "C"), ("80°", "CW"), ("diamond", "CDEMV"), ("Triangle", "T"), ("squares", "S"),
        ("55deg", "DK"), ("trigon", "W"), ("w", "W"), ("hexagonal", "H"), ("85 degree parallelogram", "A"),
        ("90 degree", "SL"), ("round insert", "R"), ("35-degree diamond", "V"),
    ],
)  # fmt: skip
def test_words_for_shapes(words: str, letters: str) -> None:
    assert set(shapes_of(words, LETTERS, tables.rows("shape_word"))) == set(letters)


@pytest.mark.parametrize("words", ["banana", "81 degree", "80 degree square", "²"])
def test_words_for_no_shape(words: str) -> None:
    with pytest.raises(InputError) as caught:
        shapes_of(words, LETTERS, tables.rows("shape_word"))
    assert caught.value.hint


def test_errors_that_are_taken_when_none_is_stated() -> None:
    errors = usual_errors(tables.rows("measuring_error"))
    assert (errors["length"], errors["nose"]) == (0.1, 0.2)


# -- properties --------------------------------------------------------------------------------------------

KNOWN = [
    key for key, size in LETTERS.sizes.items() if size.inch is not None and size.IC_mm and size.IC_mm > 5
]
OFF = st.floats(-1.0, 1.0)


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(KNOWN),
    st.sampled_from([code for code, symbol in LETTERS.thicknesses.items() if symbol.other]),
    st.sampled_from(["02", "04", "08", "12", "16"]),
    st.sampled_from("NCBP"),
    st.sampled_from("CEGHMNU"),
    st.sampled_from("GMATN"),
    st.tuples(OFF, OFF, OFF, OFF, OFF, OFF, OFF),
)
def test_any_insert_measured_within_its_error_is_among_the_best(
    key: str, thick: str, corner: str, clearance: str, class_: str, type_: str, off: tuple[float, ...]
) -> None:
    insert = read(f"{key[0]}{clearance}{class_}{type_}{key[1:]}{thick}{corner}", LETTERS)
    assert isinstance(insert, InsertReading)
    assert insert.IC_mm
    assert insert.RE_mm is not None
    if 2 * insert.RE_mm >= insert.IC_mm:
        return
    made_mm, measured_mm = insert.tolerance, 0.1
    values = Measured(
        shapes=(insert.SC,),
        IC_mm=insert.IC_mm + off[0] * (made_mm.d_mm or 0.0) + off[1] * measured_mm,
        S_mm=insert.S_mm + off[2] * (made_mm.s_mm or 0.0) + off[3] * measured_mm,
        RE_mm=max(0.0, insert.RE_mm + off[4] * 0.2),
        AN_deg=(insert.AN_deg or 0.0) + off[5] * 2.0,
        hole=insert.fixing.hole != "none",
        errors=ERRORS,
    )
    found = likely_codes(values, LETTERS)
    assert found.agrees
    code = f"{key[0]}{clearance}??{insert.size}{thick}{corner}"
    listed = [one.code for one in found.likely]
    # two symbols of one size (03 and S4): the usual one is given
    same = {code, *(f"{key[0]}{clearance}??{k[1:]}{thick}{corner}" for k in LETTERS.sizes
                    if k[0] == key[0] and LETTERS.sizes[k].IC_mm == insert.IC_mm)}  # fmt: skip
    assert same & set(listed), (code, listed)
    assert type_ in found.types
    own = misfit(values, insert, LETTERS)
    assert own is not None
    assert own == pytest.approx(next(one.misfit for one in found.likely if one.code in same))
    # exactly what was measured is always the first
    exact = Measured(
        shapes=(insert.SC,), IC_mm=insert.IC_mm, S_mm=insert.S_mm, RE_mm=insert.RE_mm, AN_deg=insert.AN_deg,
        errors=ERRORS,
    )  # fmt: skip
    assert likely_codes(exact, LETTERS).likely[0].code in same


@settings(max_examples=60, deadline=None)
@given(
    st.floats(1, 40), st.floats(1, 13), st.floats(0, 6.5), st.sampled_from(["", "80 degree", "square", "W"])
)
def test_answers_are_sorted_and_their_codes_read(IC_mm: float, S_mm: float, RE_mm: float, words: str) -> None:
    found = likeness(words, IC_mm=IC_mm, S_mm=S_mm, RE_mm=RE_mm)
    misfits = [round(one.misfit, 6) for one in found.likely]
    assert misfits == sorted(misfits) or not found.agrees
    for one in found.likely[:2]:
        assert worn(one.code, LETTERS, tables.rows, most=1).possible, one.code
        if one.inch:
            assert worn(one.inch, LETTERS, tables.rows, most=1).possible, one.inch


def test_an_insert_that_does_not_agree_has_no_misfit() -> None:
    insert = read("CNMG120408", LETTERS)
    assert isinstance(insert, InsertReading)
    for words, values in [
        ("trigon", {"IC_mm": 12.7}),
        ("", {"IC_mm": 9.5}),
        ("", {"IC_mm": 12.7, "hole": False}),
        ("", {"IC_mm": 12.7, "AN_deg": 7.0}),
        ("", {"IC_mm": 12.7, "RE_mm": 1.2}),
    ]:
        assert misfit(measured(words, **values), insert, LETTERS) is None
    assert misfit(measured("", IC_mm=12.7, RE_mm=0.8), insert, LETTERS) == pytest.approx(0.0)


# -- holders -----------------------------------------------------------------------------------------------


def holders(**values: object) -> tuple[LikelyHolder, ...]:
    asked = MeasuredHolder(shank_error_mm=0.5, overall_error_mm=2.0, **values)  # type: ignore[arg-type]
    return likely_holders(asked, LETTERS, tables.rows)


def test_a_holder_by_its_shank_and_insert() -> None:
    """DIN 4984-11 and ISO 5608: 32 x 25, 170 mm long is 3225P."""
    found = holders(
        H_mm=31.9, B_mm=25.1, LF_mm=170.5, HAND="R", KAPR_deg=95.0, SC="C", clearance="N", size="12",
        inch_size="4",
    )  # fmt: skip
    assert found[0].code == "?CLNR 3225P12"
    assert worn(found[0].code, LETTERS, tables.rows).possible


def test_an_inch_holder_beside_the_metric_one() -> None:
    """ANSI B212.5: shank 16 is 1 in square."""
    codes = [one.code for one in holders(H_mm=25.2, B_mm=25.2, LF_mm=152.4, HAND="L")]
    assert "????L 16-?D" in codes
    assert "????L 2525M??" not in codes  # 150 mm is 2.4 mm off


def test_a_bar_by_its_diameter() -> None:
    """GOST 28101-2015, table 10: 25 mm bars are 200 mm (R) long."""
    codes = [
        one.code for one in holders(DCON_mm=25.1, LF_mm=200.5, HAND="R", SC="C", clearance="C", size="09")
    ]
    assert codes == ["?25R-?C?CR09"]


def test_a_shank_is_wanted() -> None:
    with pytest.raises(InputError):
        holders(LF_mm=150.0)
    nearest = holders(H_mm=28.0, B_mm=28.0)
    assert nearest
    assert not nearest[0].agrees
