from itertools import pairwise

import pytest

from crib.errors import NotPossible
from crib.trade import tables
from crib.trade.cutting.grade import Grade, grade_of, place
from crib.trade.cutting.speeds import Range, Speeds, find_tool_material
from crib.trade.designation.iso513 import Applications, read_application

TABLES = Applications.load(tables.rows)
SPEEDS = Speeds.load(tables.rows)


def ask(code: str, work: str = "P") -> Grade:
    return grade_of(read_application(code, TABLES), work)


@pytest.mark.parametrize(
    ("code", "tool"),
    [
        ("HC-P25", "coated carbide"),
        ("HW-K20", "carbide"),
        ("HF-K20", "carbide"),
        ("HT-P10", "cermet"),
        ("CN-K10", "ceramic"),
        ("BL-H10", "CBN"),
        ("DP-N10", "PCD"),
        ("P25", "carbide"),
    ],
)
def test_the_letters_give_a_tool_material_that_has_speeds(code: str, tool: str) -> None:
    found = ask(code)
    assert found.tool_material == tool
    assert find_tool_material(tool, SPEEDS) == tool


def test_every_cutting_material_of_the_standard_has_an_answer() -> None:
    for letters in TABLES.materials:
        try:
            assert find_tool_material(ask(letters).tool_material, SPEEDS)
        except NotPossible as error:
            assert letters == "DM"  # single-crystal diamond: no speeds on record
            assert error.hint


def test_a_harder_grade_starts_higher_and_a_tougher_one_lower() -> None:
    for group, numbers in TABLES.numbers.items():
        places = [place(group, int(number)) for number in numbers]
        assert places[0] == 1.0
        assert places[-1] == 0.0
        assert all(one > two for one, two in pairwise(places))
    assert Range.over(50, 200, at=place("P", 1)).start == 200
    assert Range.over(50, 200, at=place("P", 50)).start == 50


def test_what_is_assumed_of_a_grade_is_said() -> None:
    assert any("coated" in line for line in ask("P25").assumed)
    assert not any("coated" in line for line in ask("HC-P25").assumed)
    assert any("the work is M" in line for line in ask("HC-P25", "M").assumed)
    assert ask("HC").at is None
    assert ask("HC-P10-P30").at == place("P", 20)
