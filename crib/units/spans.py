"""Spans of time as people type them, in whole days: 5, 5 days, 2 weeks, a month."""

import re

from crib.errors import BadQuantity
from crib.units.numbers import quoted

_SPAN = re.compile(r"(?P<count>\d{1,4}|an?|one|two|three)?\s*(?P<unit>days?|d|weeks?|wks?|w|months?|years?)?")
_COUNTS = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3}
_DAYS = {"d": 1, "w": 7, "m": 30, "y": 365}
MOST_DAYS = 3650


def read_days(text: str) -> int:
    """Read a span of one day or more; a bare number is days, a month thirty of them.

    Raises:
        BadQuantity: it is no span, or none that an order takes.
    """
    found = _SPAN.fullmatch(" ".join(text.lower().split()))
    if found is None or not found[0]:
        raise BadQuantity(f"{quoted(text)} is no span of time", "write it like 5 days or 2 weeks")
    typed = found["count"] or "1"
    days = (_COUNTS.get(typed) or int(typed)) * _DAYS[(found["unit"] or "d")[0]]
    if not 0 < days <= MOST_DAYS:
        raise BadQuantity(f"{quoted(text)} can't be waited for", f"from 1 to {MOST_DAYS} days")
    return days
