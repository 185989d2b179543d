"""One map of words for hands, whoever asks."""

import pytest

from crib.desk.hands import hand_of
from crib.errors import UnknownName
from crib.trade.tables import rows

SHOP_WORDS = [(row["phrase"], row["value"]) for row in rows("shop_words") if row["field"] == "hand"]


@pytest.mark.parametrize(("typed", "hand"), [*SHOP_WORDS, ("R", "R"), ("n", "N"), (" Left-Hand ", "L")])
def test_a_hand_as_people_say_it(typed: str, hand: str) -> None:
    assert hand_of(typed) == hand


@pytest.mark.parametrize("typed", ["", "both", "hand", "leftish", "h", "lefth andy", "rl"])
def test_what_is_no_hand_is_said(typed: str) -> None:
    with pytest.raises(UnknownName, match="no hand"):
        hand_of(typed)
