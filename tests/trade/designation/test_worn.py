"""Codes with characters that can't be read: all that they can be, and nothing else."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crib.errors import BadDesignation
from crib.trade import tables
from crib.trade.designation import Letters, read
from crib.trade.designation.pattern import Pattern, pattern_of
from crib.trade.designation.worn import Worn, worn

LETTERS = Letters(tables.rows)


def can_be(text: str, most: int = 2000) -> Worn:
    return worn(text, LETTERS, tables.rows, most=most)


def codes(found: Worn, *, guessed: bool = False) -> list[str]:
    return [one.designation for one in found.possible if guessed or not one.guessed]


def options(found: Worn, kind: str, system: str, position: int) -> list[str]:
    for choice in found.positions:
        if (choice.kind, choice.system, choice.position) == (kind, system, position):
            return [option.code for option in choice.options]
    return []


# -- outside checks: the standards' tables by hand ---------------------------------------------------------


def test_thickness_of_which_one_digit_is_gone() -> None:
    """ISO 1832 position 6 knows 04, 14 and T4 that end in 4; position 4 has fifteen letters."""
    found = can_be("CNM? 12?4 08")
    assert options(found, "insert", "metric", 6) == ["04", "14", "T4"]
    assert sorted(options(found, "insert", "metric", 4)) == sorted("GMATNRFWQUBHCJX")
    assert len(codes(found)) == 3 * 15
    assert found.complete
    assert "CNMG120408" in codes(found)


def test_holder_whose_clamping_is_gone() -> None:
    """ISO 5608 position 1 has C, M, P and S; makers and JIS B 4125 add others."""
    found = can_be("?CLNL 2525M12")
    assert {f"{letter}CLNL2525M12" for letter in "CMPS"} <= set(codes(found))
    assert {one.reading.kind for one in found.possible} == {"holder"}
    assert options(found, "holder", "metric", 3) == ["L"]


def test_bar_whose_diameter_is_half_gone() -> None:
    """GOST 28101-2015, table 10, has bars of 20 and 25 mm; no other usual one begins with 2."""
    found = can_be("S2?R-SCLCR09")
    assert set(codes(found)) == {"S20R-SCLCR09", "S25R-SCLCR09"}
    assert any("shank" in note for note in found.notes)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("CNMG 4?2", {f"CNMG4{n}2" for n in "123456789"}),  # ANSI B212.4: thickness in sixteenths
        ("MCLNR 1?-4D", {"MCLNR10-4D", "MCLNR12-4D", "MCLNR16-4D"}),  # ANSI B212.5: shank in sixteenths
        ("RCMT12?4M0", {"RCMT1204M0", "RCMT1214M0", "RCMT12T4M0"}),
        ("CNMG12.408", {"CNMG120408", "CNMG121408", "CNMG12T408"}),
        ("cnmg_20408", {"CNMG120408", "CNMG220408", "CNMG320408"}),
        ("CNMG120408-P?", {"CNMG120408-P?"}),
        ("CNMG12?408-PM", {"CNMG120408-PM", "CNMG121408-PM", "CNMG12T408-PM"}),
        ("CNMG1204*", {"CNMG1204" + code for code in LETTERS.corners} | {"more"}),
        ("CNMG120408", {"CNMG120408"}),
        ("CNMG12O4?8", {"CNMG120408", "CNMG120428", "CNMG120448"}),  # O stamped for 0
    ],
)
def test_what_a_worn_code_can_be(text: str, expected: set[str]) -> None:
    found = set(codes(can_be(text)))
    if "more" in expected:
        assert found >= {code for code in expected if code != "more" and code[-2:] < "60"}
    else:
        assert found == expected


def test_a_point_between_digits_is_a_decimal_point_first() -> None:
    found = can_be("CCMT 32.5?")
    assert "CCMT32.51" in codes(found)
    assert any("decimal point" in note for note in found.notes)


def test_a_shank_that_no_table_has_is_let_through_and_said() -> None:
    found = can_be("PCLNR3325M?2")
    assert all("3325" in code for code in codes(found))
    found = can_be("S3?R-SCLCR09")
    assert codes(found) == ["S32R-SCLCR09"]
    found = can_be("S9?R-SCLCR09")
    assert len(codes(found)) == 10
    assert any("any two digits" in note for note in found.notes)


@pytest.mark.parametrize("text", ["????", "C?", "*", "", "?C?N??", "   "])
def test_too_little_left_is_said(text: str) -> None:
    with pytest.raises(BadDesignation) as caught:
        can_be(text)
    assert "too little" in caught.value.message
    assert "measure" in caught.value.hint


@pytest.mark.parametrize("text", ["CNM? €2?408", "CNM?" * 40])
def test_what_no_code_holds_is_said(text: str) -> None:
    with pytest.raises(BadDesignation) as caught:
        can_be(text)
    assert caught.value.hint


def test_nothing_fits_and_what_would() -> None:
    assert can_be("CNM?").near[0] == "CNM?*"
    found = can_be("CNMX12048")
    assert not found.possible
    assert found.total == 0
    assert found.near


def test_a_count_that_is_cut_short_says_so_and_positions_stay_whole() -> None:
    cut = can_be("C???120408", most=40)
    whole = can_be("C???120408")
    assert (cut.total, cut.complete) == (40, False)
    assert (whole.total, whole.complete) == (10 * 12 * 15, True)  # clearances x classes x types, ISO 1832
    for position in (2, 3, 4):
        assert set(options(cut, "insert", "metric", position)) == set(
            options(whole, "insert", "metric", position)
        )


def test_no_corner_is_larger_than_its_insert() -> None:
    for one in can_be("CNMG03??48").possible:
        reading = one.reading
        assert reading.kind == "insert"
        assert 2 * reading.RE_mm < reading.IC_mm  # type: ignore[union-attr, operator]


# -- properties --------------------------------------------------------------------------------------------

SIZES = sorted(LETTERS.sizes)
METRIC = st.builds(
    "{}{}{}{}{}{}{}{}".format,
    st.sampled_from(SIZES).map(lambda key: key[0]),
    st.sampled_from(sorted(LETTERS.metric_clearances)),
    st.sampled_from(sorted(LETTERS.metric_classes)),
    st.sampled_from(sorted(LETTERS.metric_types)),
    st.just("{size}"),
    st.sampled_from(sorted(LETTERS.thicknesses)),
    st.sampled_from([c for c in LETTERS.corners if c <= "12"] + ["PD", "ZZ"]),
    st.sampled_from(["", "E", "EN", "R", "-PM", "FR-12"]),
).flatmap(
    lambda code: st.sampled_from([key[1:] for key in SIZES if key[0] == code[0]]).map(
        lambda size: code.replace("{size}", size)
    )
)
INCH = st.builds(
    "{}{}{}{}{}{}{}".format,
    st.sampled_from("CDSTVW"),
    st.sampled_from(sorted(LETTERS.inch_clearances)),
    st.sampled_from(sorted(LETTERS.classes)),
    st.sampled_from([code for code in LETTERS.types if code not in ("", "D", "E")]),
    st.sampled_from(["2", "2.5", "3", "4", "5", "6"]),
    st.sampled_from(["1.5", "2", "2.5", "3", "4"]),
    st.sampled_from(["0", "1", "2", "3"]),
)
HOLDERS = st.builds(
    "{}{}{}{}{}{}{}{}".format,
    st.sampled_from(sorted(LETTERS.clampings)),
    st.sampled_from("CDSTVW"),
    st.sampled_from(sorted(LETTERS.styles)),
    st.sampled_from(sorted(LETTERS.metric_clearances)),
    st.sampled_from("RLN"),
    st.sampled_from(["2525", "2020", "3225", "1212"]),
    st.sampled_from(sorted(LETTERS.lengths)),
    st.sampled_from(["16", "11"]),
)
BARS = st.builds(
    "S{}{}-{}{}{}{}{}{}".format,
    st.sampled_from(["16", "20", "25", "32"]),
    st.sampled_from(sorted(LETTERS.lengths)),
    st.sampled_from(sorted(LETTERS.clampings)),
    st.sampled_from("CDST"),
    st.sampled_from(sorted(LETTERS.styles)),
    st.sampled_from(sorted(LETTERS.metric_clearances)),
    st.sampled_from("RL"),
    st.sampled_from(["06", "09", "11"]),
)
CODES = st.one_of(METRIC, INCH, HOLDERS, BARS)


def valid(code: str) -> str | None:
    """Give the normal form of a code; None where it is none, or its corner is larger than the insert."""
    try:
        reading = read(code, LETTERS)
    except BadDesignation:
        return None
    nose, circle = getattr(reading, "RE_mm", None), reading.IC_mm
    return None if nose and circle and 2 * nose >= circle else reading.designation


@settings(max_examples=60, deadline=None)
@given(CODES, st.data())
def test_the_original_is_among_the_answers(code: str, data: st.DataObject) -> None:
    original = valid(code)
    if original is None:
        return
    end = len(original) if "-" not in original[9:] else original.index("-", 9)
    blots = data.draw(st.sets(st.integers(0, end - 1), min_size=1, max_size=3))
    text = "".join("?" if n in blots else sign for n, sign in enumerate(original))
    found = can_be(text)
    assert pattern_of(text, points=True).fits(original)
    if found.complete:
        assert original in codes(found, guessed=True), text
    for one in found.possible[:50]:
        if "?" in one.maker:
            continue  # a maker's own symbol is kept as it is seen
        assert read(one.designation, LETTERS).designation == one.designation
        # an inch code of a round insert loses the 0 of its corner in the normal form
        assert found.pattern.fits(one.designation) or one.reading.SC == "R"


@settings(max_examples=40, deadline=None)
@given(CODES, st.integers(0, 12), st.integers(1, 4))
def test_a_gap_of_unknown_length_holds_the_original(code: str, start: int, long: int) -> None:
    original = valid(code)
    if original is None or "-" in original or start + long >= len(original):
        return
    text = original[:start] + "*" + original[start + long :]
    found = can_be(text)
    if found.complete:
        assert original in codes(found, guessed=True), text


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet="CNMGSTR012468?*_.- ÄЕ０", max_size=20))
def test_any_text_gets_readings_or_a_reason(text: str) -> None:
    try:
        found = can_be(text, most=50)
    except BadDesignation as error:
        assert error.hint
        return
    assert found.total == len(found.possible) == len(set(codes(found, guessed=True)))


@given(st.text(alphabet="AB01", min_size=3, max_size=8))
def test_a_pattern_fits_as_the_regular_expression_does(code: str) -> None:
    pattern = Pattern("A?*B", {})
    assert pattern.fits(code) == bool(re.fullmatch("A.(.*)B", code))
