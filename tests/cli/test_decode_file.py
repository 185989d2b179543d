"""crib decode: a file of codes, what grades are for, and the other system."""

from pathlib import Path

import pytest
from commands import Crib


@pytest.fixture
def crib(capsys: pytest.CaptureFixture[str]) -> Crib:
    return Crib(capsys)


@pytest.fixture
def codes(tmp_path: Path) -> Path:
    path = tmp_path / "codes.txt"
    path.write_bytes(
        b"\xef\xbb\xbfCNMG120408  # the full box\n\n# old ones\n  pclnr 2525 m12\r\nS25R-SCLCR09\nHC-P25\n"
    )
    return path


def test_one_line_a_code(crib: Crib, codes: Path) -> None:
    ran = crib("decode", "--file", str(codes))
    assert ran.status == 0
    assert [line.split()[0] for line in ran.lines] == ["1", "4", "5", "6"]
    assert "CNMG120408, insert, = CNMG432" in ran.lines[0]
    assert "PCLNR2525M12, holder, takes CN..12" in ran.lines[1]


def test_a_list_for_programs(crib: Crib, codes: Path) -> None:
    results = crib.json("decode", "--file", str(codes))
    assert [result["line"] for result in results] == [1, 4, 5, 6]
    assert [result["reading"]["kind"] for result in results] == ["insert", "holder", "bar", "application"]
    assert results[1]["typed"] == "pclnr 2525 m12"


def test_what_cannot_be_read_is_told_in_its_line_and_by_the_status(crib: Crib, codes: Path) -> None:
    with codes.open("ab") as file:
        file.write(b"CNMG130408\n\xff\xfe\n\x1b[31mX\nCNMG432\n")
    ran = crib("decode", "--file", str(codes))
    assert ran.status == 1
    assert len(ran.lines) == 8
    assert "position 5" in ran.lines[4]
    assert "did you mean CNMG120408" in ran.lines[4]
    assert "\x1b" not in ran.out
    results = crib.json("decode", "--file", str(codes), status=1)
    assert [("error" in result) for result in results] == [False] * 4 + [True] * 3 + [False]
    assert results[4]["error"]["position"] == 5


def test_the_file_must_be_there_and_nothing_else(crib: Crib, tmp_path: Path) -> None:
    assert "nowhere" in crib.error("decode", "--file", str(tmp_path / "nowhere"), status=2)["message"]
    assert crib.error("decode", "--file", "x", "CNMG432", status=2)["hint"]
    assert crib.error("decode", status=2)["hint"]


def test_an_empty_file_is_an_empty_list(crib: Crib, tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.touch()
    assert crib.json("decode", "--file", str(empty)) == []


def test_what_a_grade_is_meant_for(crib: Crib) -> None:
    document = crib.json("decode", "HC-P25")
    assert document["kind"] == "application"
    assert (document["material_letters"], document["group"], document["numbers"]) == ("HC", "P", [25])
    assert "steel" in "".join(crib("decode", "HC-P25").lines)
    assert crib.error("decode", "P12", status=2)["expected"][:3] == ["01", "05", "10"]
    assert crib.error("decode", "HX-P10", status=2)["hint"]  # neither a tool nor what a grade is for


def test_the_other_system_and_tolerances_in_both(crib: Crib) -> None:
    lines = crib("decode", "CNMG120408").lines
    assert "CNMG432 in the other system (nearest" in lines[0]
    assert any("corner ±0.13 mm (0.0051 in)" in line for line in lines)
    assert "(exact)" in crib("decode", "SNGN120400").lines[0]
