"""From dimensions to codes: exact, nearest, or refused by the name of the field."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import BadDesignation
from crib.trade import tables
from crib.trade.designation import InsertReading, Letters, read
from crib.trade.designation.encode import cross, write
from crib.trade.designation.encode_shank import write_bar, write_holder
from crib.trade.designation.pen import Written
from crib.trade.designation.spec import BarSpec, HolderSpec, InsertSpec, spec_of

LETTERS = Letters(tables.rows)
CNMG = InsertSpec(SC="C", clearance="N", tolerance="M", fixing="G", IC_mm=12.7, S_mm=4.76, RE_mm=0.8)
PCLNR = HolderSpec(
    clamping="P", SC="C", style="L", clearance="N", HAND="R", H_mm=25, B_mm=25, LF_mm=150, IC_mm=12.7
)
SCLCR = BarSpec(
    shank_type="S",
    DCON_mm=25,
    LF_mm=200,
    clamping="S",
    SC="C",
    style="L",
    clearance="C",
    HAND="R",
    IC_mm=9.525,
)


def insert(**changes: Any) -> Written:
    return write(replace(CNMG, **changes), LETTERS)


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({}, "CNMG120408"),
        ({"system": "inch", "RE_mm": 0.79375}, "CNMG432"),
        ({"IC_mm": None, "L_mm": 12.9}, "CNMG120408"),
        ({"SC": "T", "IC_mm": 12.7}, "TNMG220408"),  # 21.997 mm is coded 22
        ({"SC": "W"}, "WNMG080408"),
        ({"SC": "D", "S_mm": 6.35}, "DNMG150608"),
        ({"SC": "R", "IC_mm": 12.0, "RE_mm": None}, "RNMG1204M0"),
        ({"SC": "R", "IC_mm": 12.7, "RE_mm": None}, "RNMG120400"),
        ({"SC": "R", "RE_mm": None, "system": "inch"}, "RNMG43"),
        ({"clearance": 7.0}, "CCMG120408"),
        ({"clearance": "h", "system": "inch", "RE_mm": 0.794}, "CHMG432"),
        ({"SC": "K", "IC_mm": None, "L_mm": 16.0}, "KNMG160408"),
        (
            {"SC": "L", "IC_mm": None, "L_mm": 25.4, "W1_mm": 9.525, "system": "inch", "RE_mm": 0.794},
            "LNMG3432",
        ),
        ({"RE_mm": None, "corner": "en"}, "CNMG1204EN"),
        ({"RE_mm": None, "corner": "A", "system": "inch"}, "CNMG43A"),
        ({"edge_condition": "T", "chamfer_width_mm": 0.1, "chamfer_angle_deg": 20}, "CNMG120408T01020"),
        ({"HAND": "R", "facet_width_mm": 1.5875, "system": "inch", "RE_mm": 0.794}, "CNMG432R4"),
        ({"S_mm": 3.97, "SC": "C", "IC_mm": 9.52, "clearance": "C", "fixing": "T"}, "CCMT09T308"),
    ],
)
def test_dimensions_of_the_tables_are_exact(changes: dict[str, Any], code: str) -> None:
    """Codes by ISO 1832 and ANSI B212.4, tables of size, thickness and corner."""
    written = insert(**changes)
    assert written.designation == code
    assert all(written.exact.values()), written.notes


@pytest.mark.parametrize(
    ("changes", "code", "field", "says"),
    [
        ({"IC_mm": 13.0}, "CNMG120408", "IC_mm", "13 mm was asked; 12 stands for 12.7 mm (nearest)"),
        ({"S_mm": 5.0}, "CNMG120408", "S_mm", "04 stands for 4.76 mm"),  # 4.96 is recalled: only if exact
        ({"RE_mm": 0.794}, "CNMG120408", "RE_mm", "08 stands for 0.8 mm"),
        ({"RE_mm": 0.8, "system": "inch"}, "CNMG432", "RE_mm", "2 stands for 0.794 mm"),
        ({"clearance": 10.0}, "CPMG120408", "clearance", "P stands for 11 deg"),
        ({"IC_mm": None, "L_mm": 16.6, "SC": "V", "S_mm": 4.8}, "VNMG160408", "S_mm", "04 stands"),
        ({"SC": "K", "IC_mm": None, "L_mm": 16.6}, "KNMG160408", "L_mm", "the code drops it"),
    ],
)
def test_what_no_table_holds_is_the_nearest_and_said(
    changes: dict[str, Any], code: str, field: str, says: str
) -> None:
    written = insert(**changes)
    assert written.designation == code
    assert [name for name, exact in written.exact.items() if not exact] == [field]
    assert says in written.notes[0]


@pytest.mark.parametrize(
    ("changes", "field", "position", "offered"),
    [
        ({"SC": "Y"}, "SC", 1, "C"),
        ({"clearance": "Q"}, "clearance", 2, "N"),
        ({"clearance": "H"}, "clearance", 2, "N"),
        ({"clearance": 60.0}, "clearance", 2, "30"),
        ({"tolerance": "B"}, "tolerance", 3, "G"),
        ({"fixing": "D"}, "fixing", 4, "A"),
        ({"IC_mm": None}, "IC_mm", 5, "L_mm"),
        ({"IC_mm": 12.7, "L_mm": 16.1}, "L_mm", 5, "12.90"),
        ({"IC_mm": 80.0}, "IC_mm", 5, "31.75"),
        ({"SC": "K", "IC_mm": None}, "L_mm", 5, "the longer edge"),
        ({"SC": "K", "IC_mm": None, "L_mm": 120.0}, "L_mm", 5, "1 to 99 mm"),
        ({"SC": "K", "IC_mm": None, "L_mm": 16.0, "system": "inch"}, "W1_mm", 5, "the width"),
        ({"S_mm": 40.0}, "S_mm", 6, "15.875"),
        ({"RE_mm": 12.0}, "RE_mm", 7, "0 to 9.9 mm"),
        ({"RE_mm": None}, "RE_mm", 7, "corner"),
        ({"RE_mm": None, "corner": "XX"}, "corner", 7, "A+clearance letter"),
        ({"SC": "R", "RE_mm": None, "corner": "EN"}, "corner", 7, "nothing"),
        ({"edge_condition": "W"}, "edge_condition", 8, "F"),
        ({"HAND": "X"}, "HAND", 9, "R"),
        ({"chamfer_width_mm": 0.1, "chamfer_angle_deg": 20.0}, "edge_condition", 8, "T"),
        ({"edge_condition": "T", "chamfer_width_mm": 0.1}, "chamfer_angle_deg", 10, "chamfer_angle_deg"),
        ({"facet_width_mm": 1.0}, "facet_width_mm", 10, "nothing"),
        ({"RE_mm": None, "corner": "A", "edge_condition": "F", "system": "inch"}, "corner", 7, "AF"),
        ({"maker_suffix": "?"}, "maker_suffix", 13, None),
    ],
)
def test_what_no_code_can_state_is_refused_by_its_field(
    changes: dict[str, Any], field: str, position: int, offered: str | None
) -> None:
    with pytest.raises(BadDesignation) as caught:
        insert(**changes)
    assert caught.value.details["field"] == field
    assert caught.value.position == position
    assert offered is None or offered in caught.value.expected
    assert caught.value.hint


@pytest.mark.parametrize(
    ("code", "other", "exact"),
    [
        ("CNMG120408", "CNMG432", ["RE_mm"]),
        ("CNMG432", "CNMG120408", ["RE_mm"]),
        ("SNGN120400", "SNGN430", []),
        ("CNMG120405", "CNMG431", ["RE_mm"]),  # 0.5 mm lies nearer to 1/64 in than to 1/32 in
        ("RCMT1204M0", "RCMT43", ["IC_mm"]),
    ],
)
def test_the_other_system_exact_or_nearest(code: str, other: str, exact: list[str]) -> None:
    reading = read(code, LETTERS)
    assert isinstance(reading, InsertReading)
    written = cross(reading, LETTERS)
    assert written.designation == other
    assert [name for name, same in written.exact.items() if not same] == exact


def test_holders_and_bars() -> None:
    assert write_holder(PCLNR, LETTERS).designation == "PCLNR2525M12"
    assert write_holder(replace(PCLNR, style=None, KAPR_deg=95), LETTERS).designation == "PCLNR2525M12"
    assert write_holder(replace(PCLNR, length="-", H_mm=32), LETTERS).designation == "PCLNR3225-12"
    assert write_holder(replace(PCLNR, cartridge="A", H_mm=16), LETTERS).designation == "PCLNR16CA-12"
    assert write_holder(replace(PCLNR, qualified="F"), LETTERS).designation == "PCLNR2525M12F"
    assert write_bar(SCLCR, LETTERS).designation == "S25R-SCLCR09"
    assert (
        write(replace(SCLCR, SC="R", IC_mm=10.0, style="D", clearance="N"), LETTERS).designation
        == "S25R-SRDNR10"
    )
    inch = write_holder(spec_of(read("PCLNR2525M12", LETTERS), "inch"), LETTERS)  # type: ignore[arg-type]
    assert inch.designation == "PCLNR16-4D"
    assert [name for name, exact in inch.exact.items() if not exact] == ["H_mm", "B_mm", "LF_mm"]
    assert any("front and end" in note for note in inch.notes)


@pytest.mark.parametrize(
    ("changes", "field", "offered"),
    [
        ({"style": None}, "style", "L"),
        ({"style": None, "KAPR_deg": 93.0}, "style", "cuts at the end"),
        ({"H_mm": None}, "H_mm", "1 to 99 mm"),
        ({"H_mm": 120.0}, "H_mm", "99"),
        ({"LF_mm": None}, "length", "M"),
        ({"LF_mm": 5000.0}, "LF_mm", "500"),
        ({"length": "I"}, "length", "M"),
        ({"size": "13"}, "size", "12"),
        ({"SC": "K", "IC_mm": None}, "size", "as the insert"),
        ({"system": "inch", "H_mm": 60.0}, "H_mm", "50.8"),
        ({"system": "inch", "qualified": "F"}, "qualified", "nothing"),
        ({"coupling": "C7"}, "coupling", "C5"),
    ],
)
def test_holders_that_no_code_can_state(changes: dict[str, Any], field: str, offered: str) -> None:
    with pytest.raises(BadDesignation) as caught:
        write_holder(replace(PCLNR, **changes), LETTERS)
    assert caught.value.details["field"] == field
    assert offered in " ".join(caught.value.expected)


def test_a_bar_has_a_hand() -> None:
    with pytest.raises(BadDesignation, match="R or L"):
        write_bar(replace(SCLCR, HAND="N"), LETTERS)


@given(
    st.sampled_from("CDEHLMOPRSTVWABKXYQ"), st.floats(0.1, 60), st.floats(0.1, 30), st.floats(0, 20),
    st.floats(0, 60), st.sampled_from(["metric", "inch"]), st.text(max_size=3),
)  # fmt: skip
def test_any_dimensions_give_a_code_that_reads_back_or_a_field_that_is_refused(
    SC: str, IC_mm: float, S_mm: float, RE_mm: float, AN_deg: float, system: str, suffix: str
) -> None:
    spec = replace(
        CNMG, SC=SC, IC_mm=IC_mm, S_mm=S_mm, RE_mm=RE_mm, clearance=AN_deg, system=system, maker_suffix=suffix
    )
    try:
        written = write(spec, LETTERS)
    except BadDesignation as error:
        assert error.message and error.hint
        return
    reading = read(written.designation, LETTERS)
    assert isinstance(reading, InsertReading)
    assert reading.IC_mm is not None
    # half of the widest step between sizes, 31.75 after 25.4; or below the smallest of a shape, 3.97
    assert abs(reading.IC_mm - IC_mm) < (3.3 if IC_mm > 3.96875 else 3.96875)
    assert (reading.IC_mm == pytest.approx(IC_mm, abs=0.011)) == written.exact["IC_mm"]
