"""Telling codes apart, what people type, errors and near codes."""

import csv
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

LETTERS = Letters(tables.rows)
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


@pytest.mark.parametrize(
    ("code", "system", "told"),
    [
        ("SNMG510P", "inch", "5|10|P may also be 5|1|0"),  # 10 is a thickness, 1 and 0 are symbols as well
        ("SNG43AF", "inch", "corner A and then F"),
        ("KNUX161004", "metric", ""),
        ("KNUX221002", "metric", ""),
        ("KNUX2210PCE", "metric", "as an inch code"),
        ("CGAX1214FN", "metric", "as an inch code"),  # 12, 14, wiper FN; or 1, 2, 14, F, N
        ("SNKN1204ENN", "metric", ""),
        ("KNUX2210EN6", "inch", ""),  # EN is no corner before a 6 without a hand: 22, 1, 0, E, N, 6
    ],
)
def test_codes_that_could_be_read_in_two_ways_say_so(code: str, system: str, told: str) -> None:
    reading = as_insert(code)
    assert reading.system == system
    assert any(told in note for note in reading.notes) or not told


def test_a_dash_in_place_of_the_length_and_a_size_that_begins_with_a_letter() -> None:
    reading = read("MCGGL2010-S4F-XY7", LETTERS)
    assert isinstance(reading, HolderReading)
    assert (reading.system, reading.size, reading.qualified, reading.maker_suffix) == (
        "metric",
        "S4",
        "F",
        "XY7",
    )


def test_an_inch_holder_for_ten_eighths_is_told_from_a_metric_shank_by_its_dash() -> None:
    inch, metric = read("SEJGL08-10B-13", LETTERS), read("SEJGL0810B13", LETTERS)
    assert (inch.system, metric.system) == ("inch", "metric")


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


@pytest.mark.parametrize(
    ("code", "position", "about"),
    [
        ("SVVBN2525M16", 3, "style V"),
        ("PCLNR2525W12", 8, "length W"),
        ("PCLNR2525M12Q", 10, "tolerance Q"),
        ("MCLNR86-4D", 6, "shank 86"),
        ("S16T-SCLCR3", 3, "length T"),
        ("CNMG120408P", 8, "edge condition P"),
        ("CNMG12T408", 6, "thickness T4"),
    ],
)
def test_what_is_only_recalled_says_so_and_is_never_certain(code: str, position: int, about: str) -> None:
    reading = read(code, LETTERS)
    place = next(place for place in reading.positions if place.position == position)
    assert place.mark == "depends on the maker"
    assert "recalled" in place.meaning
    assert any(about in note and "recalled, not seen in the standard" in note for note in reading.notes)
    assert read("SVJBR2020K16", LETTERS).notes == ()


def test_tolerances_that_are_recalled_or_were_not_found_are_told() -> None:
    assert "2017 edition" in as_insert("VNMG220408").notes[0]
    assert "recalled" in as_insert("CNMG080304").notes[0]
    assert "not found" in as_insert("DNUG150408").notes[0]
    assert as_insert("CNGG080304").notes == ()  # class G is the same for every size


def test_tipped_corners_are_shown_as_recalled_and_the_symbol_is_kept() -> None:
    reading = as_insert("CNGA120408S01020-BL-XY7")
    assert reading.maker_suffix == "BL-XY7"
    ends = [(place.position, place.found, place.mark) for place in reading.positions[-3:]]
    mark = "depends on the maker"
    assert ends == [(11, "B", mark), (12, "L", mark), (13, "XY7", mark)]
    assert any("positions 11 and 12" in note for note in reading.notes)
    assert as_insert("CNMG120408-ML").positions[-1].position == 13  # no chamfer: nothing but the maker's


@pytest.mark.parametrize(
    ("typed", "normal", "coupling", "flange_mm", "WF_mm", "LF_mm", "size"),
    [
        ("C5-PCLNR-35060-12", "C5-PCLNR-35060-12", "C5", 50, 35, 60, "12"),
        ("c10 ddunl 65080-15", "C10-DDUNL-65080-15", "C10", 100, 65, 80, "15"),
        ("C4SCLCR 12", "C4-SCLCR-12", "C4", 40, None, None, "12"),
        ("HSK-T63-PCLNL-45065-12", "HSK-T63-PCLNL-45065-12", "HSK-T63", 63, 45, 65, "12"),
        ("T63 PCLNL 45065 12 X1", "HSK-T63-PCLNL-45065-12-X1", "HSK-T63", 63, 45, 65, "12"),
    ],
)
def test_heads_with_a_modular_shank_in_brief(
    typed: str, normal: str, coupling: str, flange_mm: float, WF_mm: float | None, LF_mm: float | None,
    size: str,
) -> None:  # fmt: skip
    reading = read(typed, LETTERS)
    assert isinstance(reading, HolderReading)
    assert (reading.designation, reading.coupling, reading.coupling_mm) == (normal, coupling, flange_mm)
    assert (reading.WF_mm, reading.LF_mm, reading.size) == (WF_mm, LF_mm, size)
    assert (reading.H_mm, reading.B_mm) == (None, None)
    assert any("modular" in note for note in reading.notes)
    assert reading.positions[0].mark == "depends on the maker"


@pytest.mark.parametrize(
    "code", ["C10H-SCLCR06", "HSKN433", "HSKN463-DDUNR", "HSKT632-PCLNR12", "C10M-SCLCR06"]
)
def test_bars_and_inserts_that_begin_like_a_modular_shank(code: str) -> None:
    assert read(code, LETTERS).designation == code


def test_cartridges_and_qualified_holders() -> None:
    cartridge = read("PSKNR 16CA-12", LETTERS)
    assert isinstance(cartridge, HolderReading)
    assert (cartridge.cartridge, cartridge.H_mm, cartridge.B_mm, cartridge.LF_mm) == ("A", 16, None, None)
    qualified = read("PCLNR2525M12F", LETTERS)
    assert isinstance(qualified, HolderReading)
    assert qualified.qualified == "F"


@pytest.mark.parametrize(
    ("code", "exact"),
    [("CNMG120408", False), ("CNMG432", False), ("SNGN120400", True), ("RNMG120400", True), ("RNMG43", True),
     ("SNKN1204ENN", True), ("RCMT1204M0", None)],
)  # fmt: skip
def test_the_other_system_is_told_exact_or_nearest(code: str, exact: bool | None) -> None:
    """0.8 mm is not 1/32 in; sharp corners and inch diameters are the same in both."""
    assert as_insert(code).equivalent_exact is exact


def test_the_width_of_oblong_inserts_is_told_by_inch_codes_only() -> None:
    assert as_insert("LNU3432").W1_mm == pytest.approx(9.525)
    assert as_insert("KNUX160405R11").W1_mm is None


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


@pytest.mark.parametrize("typed", ["", "   ", "-", ".", "hello world", "12345", "CN", "\x1b[31m"])
def test_what_is_no_code_at_all(typed: str) -> None:
    with pytest.raises(BadDesignation) as caught:
        read(typed, LETTERS)
    assert caught.value.position == 0
    assert caught.value.hint
    assert "\x1b" not in caught.value.message + caught.value.found


@pytest.mark.parametrize(
    ("typed", "normal"),
    [
        ("5NMG120408", "SNMG120408"),
        ("DNMG1S0408", "DNMG150408"),
        ("V8MT160404", "VBMT160404"),
        ("CNMG12040B", "CNMG120408"),
        ("PCLNR2S2SM12", "PCLNR2525M12"),
        ("525R-SCLCR09", "S25R-SCLCR09"),
    ],
)
def test_s_and_5_b_and_8_are_told_apart_where_only_one_code_comes_of_it(typed: str, normal: str) -> None:
    reading = read(typed, LETTERS)
    assert reading.designation == normal
    assert "look again" in reading.notes[-1]


def test_codes_with_these_letters_are_left_as_they_are() -> None:
    for code in ("SBMT09T308S", "WNMGS30204", "TPGN110304S00820", "CNMG432-B5"):
        assert not any("told apart" in note for note in read(code, LETTERS).notes)


def test_letters_of_other_alphabets_are_named() -> None:
    assert "\u0421, \u041c" in as_insert("\u0421N\u043cG120408").notes[-1]
    assert as_insert("\uff23NMG120408").notes == ()  # full-width is the same letter
    with pytest.raises(BadDesignation, match="Cyrillic letter be"):
        read("CNMG12\u0411408", LETTERS)


def test_a_wrong_code_tells_what_may_stand_there_and_what_is_near() -> None:
    with pytest.raises(BadDesignation) as caught:
        read("CNMG130408", LETTERS)
    assert caught.value.hint.startswith("did you mean CNMG120408 or")
    assert "there may stand: 03, S4, 04" in caught.value.hint


@pytest.mark.parametrize("code", KNOWN)
def test_one_wrong_character_never_leaves_without_a_near_code(code: str) -> None:
    """What is one slip from a valid code gets a valid code offered."""
    for at in range(len(code)):
        if code[at].isalnum():
            try:
                read(code[:at] + "Q" + code[at + 1 :], LETTERS)
            except BadDesignation as error:
                near = error.details["near"]
                assert isinstance(near, list)
                assert near, f"{code} with Q at {at}"


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
    other = reading._replace(maker_suffix="XY")
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
    return {name: value for name, value in reading._asdict().items() if name != "notes"}


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
