"""Application groups and cutting materials by ISO 513."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import BadDesignation
from crib.trade import tables
from crib.trade.designation.iso513 import NUMBERS_RECALLED, Applications, read_application

TABLES = Applications.load(tables.rows)


@pytest.mark.parametrize(
    ("typed", "normal", "letters", "group", "numbers"),
    [
        ("P25", "P25", None, "P", (25,)),
        ("hc-k20", "HC-K20", "HC", "K", (20,)),
        ("HC K 20", "HC-K20", "HC", "K", (20,)),
        ("HW", "HW", "HW", None, ()),
        ("BH-H10", "BH-H10", "BH", "H", (10,)),
        ("HW-K1O", "HW-K10", "HW", "K", (10,)),
        ("\u0420\uff12\uff15", "P25", None, "P", (25,)),  # Cyrillic Er, full-width digits
        ("K5", "K05", None, "K", (5,)),
        ("P10-P30", "P10-P30", None, "P", (10, 30)),
        ("P30-10", "P10-P30", None, "P", (10, 30)),
        ("HC-M15-M35", "HC-M15-M35", "HC", "M", (15, 35)),
    ],
)
def test_what_is_on_the_box(
    typed: str, normal: str, letters: str | None, group: str | None, numbers: tuple[int, ...]
) -> None:
    """The form of ISO 513:2012, clause 2; its own examples are HW-P10 and HC-K20 in form."""
    reading = read_application(typed, TABLES)
    assert (reading.designation, reading.material_letters) == (normal, letters)
    assert (reading.group, reading.numbers) == (group, numbers)
    assert read_application(reading.designation, TABLES) == reading


def test_low_numbers_are_hard_and_high_ones_tough() -> None:
    tempers = [read_application(f"P{n}", TABLES).temper or "" for n in ("01", "10", "20", "25", "40", "50")]
    assert [temper.split()[0] for temper in tempers] == [
        "hard",
        "hard",
        "between",
        "between",
        "tough",
        "tough",
    ]


def test_what_is_recalled_says_so_and_groups_that_were_read_do_not() -> None:
    reading = read_application("HF-N10", TABLES)
    recalled = "depends on the maker"
    assert [place.mark for place in reading.positions] == [recalled, "certain", recalled]
    assert reading.notes == ("letters HF: recalled, not seen in the standard", NUMBERS_RECALLED)
    assert read_application("S20", TABLES).notes == (NUMBERS_RECALLED,)


@pytest.mark.parametrize(
    ("typed", "position", "found", "offered"),
    [
        ("HX-P10", 1, "HX", "HW"),
        ("HC-Q10", 2, "Q", "P, M, K"),
        ("P12", 3, "12", "P10 or P15"),
        ("N50", 3, "50", "N30"),
        ("P10-K20", 2, "K", "P"),
        ("25", 0, "25", "P25"),
        ("", 0, "", "CNMG"),
    ],
)
def test_what_is_wrong_is_named(typed: str, position: int, found: str, offered: str) -> None:
    with pytest.raises(BadDesignation) as caught:
        read_application(typed, TABLES)
    assert (caught.value.position, caught.value.found) == (position, found)
    assert offered in caught.value.hint


@given(st.text(max_size=20) | st.text(alphabet="PMKNSHCDWTFB0123456789OIl- ", max_size=9))
def test_no_text_raises_anything_else(text: str) -> None:
    try:
        reading = read_application(text, TABLES)
    except BadDesignation as error:
        assert error.hint
        return
    assert read_application(reading.designation, TABLES) == reading
