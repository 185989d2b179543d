"""Telling codes apart, what people type, errors and near codes."""

import csv
from dataclasses import fields, replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import BadDesignation
from crib.trade import tables
from crib.trade.designation import (
    BarReading,
    HolderReading,
    InsertReading,
    Letters,
    Reading,
    edges_per_insert,
    read,
)
from crib.trade.designation.normalise import clean, place, tail

LETTERS = Letters.load(tables.rows)
STANDARDS = Path(__file__).parents[2] / "standards" / "designations.csv"
KNOWN = [
    row["designation"]
    for row in csv.DictReader(STANDARDS.read_text(encoding="utf-8").splitlines())
    if row["valid"] == "yes"
]


def as_insert(text: str) -> InsertReading:
    reading = read(text, LETTERS)
    assert isinstance(reading, InsertReading)
    return reading


@pytest.mark.parametrize(
    ("typed", "normal"),
    [
        ("cnmg 12 04 08", "CNMG120408"),
        ("CNMG-12-04-08", "CNMG120408"),
        ("CNMG 12/04/08", "CNMG120408"),
        ("  cnmg120408 ", "CNMG120408"),
        ("\uff23\uff2e\uff2d\uff27\uff11\uff12\uff10\uff14\uff10\uff18", "CNMG120408"),  # full-width
        ("\u0421N\u041cG120408", "CNMG120408"),  # Cyrillic Es and Em
        ("CNMG12O4O8", "CNMG120408"),
        ("CNMGI20408", "CNMG120408"),
        ("CNMGl20408", "CNMG120408"),
        ("RCMT12O4MO", "RCMT1204M0"),
        ("CNMG-432", "CNMG432"),
        ("CCMT 32,52", "CCMT32.52"),
        ("CCMT3(2.5)2", "CCMT32.52"),
        ("DCMT 21.51", "DCMT21.51"),
        ("DCMT 11T304", "DCMT11T304"),
        ("TCMT 16T304", "TCMT16T304"),
        ("CNMG 120408 PM", "CNMG120408-PM"),
        ("CNMG 120408-PM 4325", "CNMG120408-PM 4325"),
        ("TNMG160408 L", "TNMG160408L"),
        ("KNUX160405R11", "KNUX160405R-11"),
        ("pclnr 25 25 m 12", "PCLNR2525M12"),
        ("PCLNR-2525M12", "PCLNR2525M12"),
        ("PSRNR 3225-15", "PSRNR3225-15"),
        ("MWLNL 2525 M08", "MWLNL2525M08"),
        ("MCLNR 16-4D", "MCLNR16-4D"),
        ("DCLNL164D", "DCLNL16-4D"),
        ("A16M SCLCR 09", "A16M-SCLCR09"),
        ("S32TSCLCR12", "S32T-SCLCR12"),
        ("S25\u2013R\u2013SCLCR09", "S25R-SCLCR09"),
        ("S16TSCLCR3", "S16T-SCLCR3"),
    ],
)
def test_what_people_type_comes_to_its_normal_form(typed: str, normal: str) -> None:
    assert read(typed, LETTERS).designation == normal


def test_kinds_are_told_apart() -> None:
    assert isinstance(read("WNMG432", LETTERS), InsertReading)
    assert isinstance(read("MTJNR2020K16", LETTERS), HolderReading)
    assert isinstance(read("S16T-SCLCR3", LETTERS), BarReading)
    # size L3 begins with a letter, so this insert has five letters before its first digit, as holders have
    assert isinstance(read("WNMGL30204", LETTERS), InsertReading)


@pytest.mark.parametrize(
    ("code", "other"),
    [
        ("WNMG080408", "WNMG432"),
        ("DNMG150408", "DNMG432"),
        ("DNMG150608", "DNMG442"),
        ("TPGN160308", "TPGN322"),
        ("VPGT060202", "VPGT1.21.50.5"),
        ("RNMG120400", "RNMG43"),
        ("TCMT090204", "TCMT1.81.51"),
    ],
)
def test_the_other_system_and_back(code: str, other: str) -> None:
    """The pairs are those of ISO 1832 and ANSI B212.4 as printed side by side in makers' catalogues."""
    assert as_insert(code).equivalent == other
    assert as_insert(other).equivalent == code


@pytest.mark.parametrize("code", ["RCMT1204M0", "KNUX160405R-11", "CNMG120405", "CNGA120408T01020", "SNG43A"])
def test_codes_without_a_twin(code: str) -> None:
    assert as_insert(code).equivalent is None


@pytest.mark.parametrize(
    ("code", "double_sided", "edges"),
    [("CNMG120408", True, 4), ("CNMM120408", False, 2), ("CNMA120408", True, 4), ("WNMG080408", True, 6),
     ("CCMT09T308", False, 2), ("TPUN160308", False, 3), ("SNUN120408", True, 8), ("ONMU050505", True, 16),
     ("KNUX160405R-11", None, None), ("RNMG120400", True, None)],
)  # fmt: skip
def test_faces_and_edges(code: str, double_sided: bool | None, edges: int | None) -> None:
    reading = as_insert(code)
    assert reading.double_sided is double_sided
    assert edges_per_insert(reading) == edges


def test_a_wiper_corner_takes_two_letters_before_edge_and_hand() -> None:
    reading = as_insert("SNKN1204ENN")
    assert (reading.wiper_angle_deg, reading.wiper_clearance_deg) == (75, 0)
    assert (reading.edge_condition, reading.HAND, reading.RE_mm) == (None, "N", None)


def test_a_radius_with_wiper_letters_is_read_and_said_to_be_outside_the_standard() -> None:
    reading = as_insert("APMT160408PDER")
    assert (reading.RE_mm, reading.wiper_angle_deg, reading.edge_condition, reading.HAND) == (
        0.8,
        90,
        "E",
        "R",
    )
    assert "not in the standard" in {place.mark for place in reading.positions}
    assert any("outside the standard" in note for note in reading.notes)


def test_old_small_inch_inserts_are_read_in_thirty_seconds_when_the_type_letter_says_so() -> None:
    reading = as_insert("SPGD632")
    assert (reading.IC_mm, reading.S_mm) == (pytest.approx(4.7625), 2.38)
    doubtful = as_insert("CNMG543")
    assert doubtful.IC_mm == 15.875
    today = as_insert("TPGN521")
    assert any("5/32 in" in note for note in today.notes)


def test_marks_tell_what_is_the_makers_affair() -> None:
    marks = {place.position: place.mark for place in read("S20S-SVUBR11", LETTERS).positions}
    assert marks[6] == "depends on the maker"  # style U is printed as 93 and as 95 degrees
    assert marks[5] == "certain"
    assert read("DCLNL2525M12", LETTERS).positions[0].mark == "not in the standard"
    assert all(place.mark == "certain" for place in read("PCLNR2525M12", LETTERS).positions)


def test_recalled_symbols_say_so() -> None:
    assert any("recalled" in note for note in read("SVVBN2525M16", LETTERS).notes)
    assert read("SVJBR2020K16", LETTERS).notes == ()


@pytest.mark.parametrize(
    ("typed", "position", "found", "offered"),
    [
        ("CMNG120408", 2, "M", "CNMG120408"),
        ("WNMG120408", 5, "12", "WNMG080408"),
        ("DNMG120408-AB", 5, "12", "DNMG150408-AB"),
        ("TNMG210408", 5, "21", "TNMG220408"),
        ("CNMG130408", 5, "13", "CNMG120408"),
        ("CNM120408", 4, "1", "CNMG120408"),
        ("CNMG12048", 7, "8", "CNMG120408"),
        ("CNMG120408MF", 8, "M", "CNMG120408-MF"),
        ("CNMG1204080", 8, "0", "CNMG120408"),
        ("RCMT120408", 7, "08", "RCMT1204M0"),
        ("PCLNR2525M13", 9, "13", "PCLNR2525M12"),
        ("PSRNR322515", 8, "1", "PSRNR3225-15"),
        ("25R-SCLCR09", 1, "2", "S25R-SCLCR09"),
    ],
)
def test_errors_name_the_position_and_offer_near_codes(
    typed: str, position: int, found: str, offered: str
) -> None:
    with pytest.raises(BadDesignation) as caught:
        read(typed, LETTERS)
    error = caught.value
    assert (error.position, error.found) == (position, found)
    assert offered in error.hint
    near = error.details["near"]
    assert isinstance(near, list)
    assert all(read(code, LETTERS).designation == code for code in near)


@pytest.mark.parametrize(
    "typed", ["", "   ", "-", ".", "hello world", "12345", "CN", "C5-PCLNR-35060-12", "\x1b[31m"]
)
def test_what_is_no_code_at_all(typed: str) -> None:
    with pytest.raises(BadDesignation) as caught:
        read(typed, LETTERS)
    assert caught.value.position == 0
    assert caught.value.hint
    assert "\x1b" not in caught.value.message + caught.value.found


def test_half_a_code_says_what_is_missing() -> None:
    with pytest.raises(BadDesignation, match="the size is missing") as caught:
        read("CNMG", LETTERS)
    assert caught.value.position == 5
    assert caught.value.details["character"] == 5
    with pytest.raises(BadDesignation, match="the insert size is missing"):
        read("PCLNR2525M", LETTERS)


def test_the_character_is_counted_in_the_text_as_typed() -> None:
    with pytest.raises(BadDesignation) as caught:
        read(" WNMG - 12 04 08", LETTERS)
    assert caught.value.details["character"] == 9
    assert place("CNMG 12", 6) == 8


def test_a_reading_is_frozen_and_can_be_replaced() -> None:
    reading = as_insert("CNMG120408")
    with pytest.raises(AttributeError):
        reading.IC_mm = 1.0
    with pytest.raises(AttributeError):
        del reading.IC_mm
    assert reading == as_insert("cnmg 120408")
    assert hash(reading) == hash(as_insert("cnmg 120408"))
    assert reading != as_insert("CNMG120404")
    other = replace(reading, maker_suffix="XY")
    assert type(other) is InsertReading
    assert (other.maker_suffix, other.IC_mm) == ("XY", 12.7)
    assert repr(reading).startswith("InsertReading(kind='insert', system='metric'")
    with pytest.raises(AttributeError):
        LETTERS.sizes = {}


def test_separators_are_put_back_in_the_makers_symbol() -> None:
    compact, breaks = clean("CNMG 120408-PM 4325")
    assert compact == "CNMG120408PM4325"
    assert tail(compact, breaks, 10) == "PM 4325"


def without_notes(reading: Reading) -> dict[str, object]:
    """A note may tell how the text was mended, which the normal form needs no more."""
    return {field.name: getattr(reading, field.name) for field in fields(reading) if field.name != "notes"}


def holds_its_normal_form(text: str) -> None:
    try:
        reading = read(text, LETTERS)
    except BadDesignation as error:
        assert error.message
        assert error.hint
        assert error.message.isprintable()
        return
    again = read(reading.designation, LETTERS)
    assert without_notes(again) == without_notes(reading)


@given(st.text(max_size=70))
def test_no_text_raises_anything_else(text: str) -> None:
    holds_its_normal_form(text)


@given(st.text(alphabet="CDWTSVRKANMGPLBX0123456789T.- /mo\u0421\uff11", min_size=3, max_size=16))
def test_no_jumble_of_symbols_raises_anything_else(text: str) -> None:
    holds_its_normal_form(text)


@given(
    st.sampled_from(KNOWN), st.integers(0, 15), st.integers(0, 2),
    st.sampled_from(["", " ", "-", "X", "0", "T3", "R", "PM", ".", "é", "\u0422"]),
)  # fmt: skip
def test_no_slip_in_a_known_code_raises_anything_else(code: str, at: int, cut: int, put: str) -> None:
    holds_its_normal_form(code[:at] + put + code[at + cut :])


@pytest.mark.parametrize("code", KNOWN)
def test_the_normal_form_reads_the_same(code: str) -> None:
    reading = read(code, LETTERS)
    again = read(reading.designation, LETTERS)
    assert without_notes(again) == without_notes(reading)
