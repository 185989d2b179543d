"""The hand of a tool as people say it: one map for questions, commands, lists and measured parts."""

import re

from crib.errors import UnknownName

_LETTERS = {"l": "L", "left": "L", "r": "R", "right": "R", "n": "N", "neutral": "N"}
HAND_WORDS = {"R": "right-hand", "L": "left-hand", "N": "neutral"}
_BESIDE = r"[\s.\-]+|hand(?:ed)?$|(?<=^[lrn])h$"  # a text: `decode` starts without making it a pattern


def hand_of(text: str) -> str:
    """Give R, L or N for a hand as typed: "left", "left-hand", "L.H.", "right handed", "N".

    Raises:
        UnknownName: it is no hand.
    """
    word = text.strip().lower()
    for _ in range(2):  # "l.h." has its points first, then its h
        word = re.sub(_BESIDE, "", word)
    try:
        return _LETTERS[word]
    except KeyError:
        raise UnknownName("hand", text, hint="left, right or neutral") from None
