"""Which way a set-up gives, from what people say: a word, the spindle, or several ways at once."""

import re
from collections.abc import Mapping
from functools import reduce
from math import sqrt

from crib.trade.rigidity.setup import Gives, find_gives

_BOTH_WAYS = re.compile(r"\bup[\s-]*and[\s-]*down\b|\bvertically\b")
_JOINT = re.compile(r"\s*(?:\+|,|&|\band\b)\s*")
_SPINDLE = re.compile(r"(?:along |with |in )?(?:the )?spindle(?:'s)?(?: axis)?")


def read_gives(text: str, directions: Mapping[str, Gives], *, facing: bool = False) -> Gives:
    """Give the direction that words name: "away", "along the spindle", "up and down", "away and along".

    Args:
        text: a name or another word for it, in any case, or several joined by "and", "+" or a comma.
        directions: from `load_gives`.
        facing: the feed runs across the spindle, so along the spindle is away from the tool.

    Raises:
        UnknownName: no direction is called so.
    """
    told = _BOTH_WAYS.sub("down", " ".join(text.lower().split()))
    spindle = "away" if facing else "along"
    words = [spindle if _SPINDLE.fullmatch(word) else word for word in _JOINT.split(told)]
    found = [find_gives(word, directions) for word in dict.fromkeys(words)]
    return reduce(_mixed, found)


def _mixed(one: Gives, other: Gives) -> Gives:
    """Give the direction halfway between two, with the pressure of either counted."""
    away, along, down = one.away + other.away, one.along + other.along, one.down + other.down
    size = sqrt(away * away + along * along + down * down)
    return Gives(
        name=f"{one.name} and {other.name}",
        words=f"{one.words} and {other.words}",
        also=(),
        away=away / size,
        along=along / size,
        down=down / size,
        weight_away=max(one.weight_away, other.weight_away),
        weight_along=max(one.weight_along, other.weight_along),
        weight_down=max(one.weight_down, other.weight_down),
    )
