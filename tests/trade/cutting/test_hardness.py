import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import BadQuantity
from crib.trade import tables
from crib.trade.cutting.hardness import read_hardness

ROWS = tables.rows("hardness_scales")


@pytest.mark.parametrize(
    ("typed", "hb"),
    [
        ("220 HB", 220),
        ("220HB", 220),
        ("220 hbw", 220),
        ("220 BHN", 220),
        ("220", 220),
        ("32 HRC", 301),
        ("32HRC", 301),
        ("32 Rc", 301),
        ("28-32 HRC", 301),
        ("28 to 32 HRC", 301),
        ("45,0 HRC", 421),
        ("31 HRC", 293.5),  # half-way between 286 (30 HRC) and 301 (32 HRC)
        ("513 HV", 481),
    ],
)
def test_hardness_as_people_give_it(typed: str, hb: float) -> None:
    assert read_hardness(typed, ROWS).hb == pytest.approx(hb)


def test_what_was_taken_for_granted_is_said() -> None:
    assert read_hardness("220 HB", ROWS).assumed == ()
    assert "taken as Brinell" in read_hardness("220", ROWS).assumed[0]
    assert "harder end" in read_hardness("28-32 HRC", ROWS).assumed[0]
    assert "ASTM E140" in read_hardness("32 HRC", ROWS).assumed[0]
    assert "rough guide" in read_hardness("32 HRC", ROWS, "S").assumed[0]
    assert read_hardness("32 HRC", ROWS).source == "cut_hardness"


@pytest.mark.parametrize(
    "typed",
    ["", "hard", "32", "HRC", "-5 HB", "0 HB", "900 HB", "12 HRC", "70 HRC", "80 HRB", "1e9", "2 2 HB"],
)
def test_what_can_t_be_read_says_what_would_be_right(typed: str) -> None:
    with pytest.raises(BadQuantity) as told:
        read_hardness(typed, ROWS)
    assert told.value.hint


@given(st.floats(20, 65), st.floats(20, 65))
def test_harder_in_one_scale_is_harder_in_the_other(one: float, two: float) -> None:
    low, high = sorted((one, two))
    assert read_hardness(f"{low:.6f} HRC", ROWS).hb <= read_hardness(f"{high:.6f} HRC", ROWS).hb + 1e-6


@given(st.text(max_size=20))
def test_any_text_gives_a_hardness_or_one_clear_line(text: str) -> None:
    try:
        assert read_hardness(text, ROWS).hb > 0
    except BadQuantity as error:
        assert error.hint
