"""Words, columns and bars."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from tui.fake_desk import item

from crib.tui import wording


@pytest.mark.parametrize("bad", ["\x1b[31m", "\r", "\n", "\x07", "\u202e", "\ud800", "\u2028"])
def test_nothing_that_a_terminal_obeys_is_left(bad):
    assert wording.clean(f"a{bad}b")[1] == "\N{REPLACEMENT CHARACTER}"


@given(st.text(), st.integers(1, 40))
def test_fitted_text_is_exactly_as_wide_as_asked(text, width):
    assert cell_len(wording.fitted(text, width)) == width


def test_what_is_cut_off_shows():
    assert wording.fitted("angle plate", 8) == "angle p…"


@pytest.mark.parametrize(
    ("value", "drawn"),
    [(0, "    "), (100, "████"), (50, "██  "), (37.5, "█▌  "), (0.01, "▏   "), (500, "████")],
)
def test_a_bar_is_as_long_as_its_share(value, drawn):
    assert wording.bar(value, 100, 4) == drawn


def test_a_bar_needs_something_to_compare_with():
    assert wording.bar(5, 0, 3) == "   "


COLUMNS = (
    wording.Column(title="a", least=4, most=6),
    wording.Column(title="b", least=4, most=100, rank=2),
    wording.Column(title="c", least=4, most=8, rank=1),
)


@pytest.mark.parametrize(("room", "widths"), [(14, [4, 4, 4]), (13, [6, 0, 6]), (30, [6, 14, 8])])
def test_columns_share_the_room(room, widths):
    assert wording.column_widths(COLUMNS, room) == widths


def test_the_end_of_a_path_is_what_fits():
    assert wording.end_of_path("shop / lathe / drawer 2", 17) == "lathe / drawer 2"


def test_the_hand_of_a_turning_holder_says_where_it_cuts():
    assert wording.hand_in_full("holder", "L") == "left hand, cuts toward the tailstock"
    assert wording.hand_in_full("bar", "L") == "left hand"


def test_lent_comes_before_here():
    assert wording.state(item(1, held_by="Bo Fell", on_site=False)) == "with Bo Fell"
    assert wording.state(item(1, edges_left=3, condition="worn")) == "here, 3 edges, worn"
    assert wording.state(item(1, on_site=False, site="Ada's home")) == "at Ada's home"


def test_what_is_not_recorded_is_said():
    words = " ".join(wording.in_words(item(1, owner="", place="", site="", note="shim missing")))
    assert "Owner not recorded" in words
    assert "Place not recorded" in words
    assert "Shim missing" in words


@pytest.mark.parametrize(
    ("value", "said"), [(0.0, "0"), (0.01234, "0.0123"), (12.34, "12.3"), (123.4, "123"), (98765.0, "98800")]
)
def test_numbers_keep_the_digits_that_count(value, said):
    assert wording.number(value) == said
