"""Which way a set-up gives, in people's words."""

import pytest
from mechanics import GIVES

from crib.errors import UnknownName
from crib.trade.rigidity.directions import read_gives


@pytest.mark.parametrize(
    ("text", "facing", "way"),
    [
        ("away", False, (1, 0, 0)),
        ("Along the spindle", False, (0, 1, 0)),
        ("the spindle", True, (1, 0, 0)),
        ("along", True, (0, 1, 0)),
        ("up and down", False, (0, 0, 1)),
        ("up-and-down", False, (0, 0, 1)),
        ("away and along", False, (0.7071, 0.7071, 0)),
        ("away + down", False, (0.7071, 0, 0.7071)),
        ("mix", False, (0.7071, 0, 0.7071)),
        ("away, up and down", False, (0.7071, 0, 0.7071)),
        ("away and away", False, (1, 0, 0)),
    ],
)
def test_words_for_a_direction(text: str, facing: bool, way: tuple[float, float, float]) -> None:
    found = read_gives(text, GIVES, facing=facing)
    assert (found.away, found.along, found.down) == pytest.approx(way, abs=1e-4)


def test_a_mix_counts_the_push_of_each_way_in_full() -> None:
    found = read_gives("away and along", GIVES)
    assert (found.weight_away, found.weight_along, found.weight_down) == (1.0, 1.0, 0.2)


@pytest.mark.parametrize("text", ["sideways", "away and", "and", "away or along"])
def test_other_words_are_told_what_would_be_right(text: str) -> None:
    with pytest.raises(UnknownName) as raised:
        read_gives(text, GIVES)
    assert "away" in raised.value.hint
