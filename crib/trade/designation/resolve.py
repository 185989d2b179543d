"""Telling inserts, holders and boring bars apart, and what to say when a code is none of them."""

from crib.errors import BadDesignation
from crib.trade.designation.bar import read_bar
from crib.trade.designation.holder import read_holder
from crib.trade.designation.inch import read_inch
from crib.trade.designation.insert import read_metric
from crib.trade.designation.letters import Letters
from crib.trade.designation.misread import Misread
from crib.trade.designation.normalise import Breaks, clean
from crib.trade.designation.reading import InsertReading, Reading

INSERT_LETTERS = 4
HOLDER_LETTERS = 5


def read(text: str, letters: Letters) -> Reading:
    """Read the code of an insert, a turning holder or a boring bar, metric or inch.

    Args:
        text: as typed or read off the box: case, blanks, dashes, slashes, full-width and look-alike
            characters do not matter.
        letters: the tables, `Letters.load(tables.rows)`.

    Raises:
        BadDesignation: naming the position, what stands there, what may stand there, and codes near by.
    """
    compact, breaks = clean(text)
    try:
        return read_clean(compact, breaks, letters)
    except Misread as misread:
        from crib.trade.designation.rescue import explain, rescue  # only when something is wrong

        rescued = rescue(compact, breaks, letters)
        if rescued is not None:
            return rescued
        error: BadDesignation = explain(text, compact, breaks, misread, letters)
    raise error


def read_clean(compact: str, breaks: Breaks, letters: Letters) -> Reading:
    """Read a bare code by its kind, which the place of the first digit tells.

    Raises:
        Misread: it does not make sense as what it looks like most.
    """
    first = _letters_before_digit(compact)
    if first == INSERT_LETTERS or first == INSERT_LETTERS - 1:
        return read_insert(compact, breaks, letters)
    if first == HOLDER_LETTERS:
        try:
            return read_holder(compact, breaks, letters)
        except Misread as misread:
            if compact[:1] + compact[4:6] not in letters.sizes:  # sizes such as L3 begin with a letter
                raise
            try:
                return read_metric(compact, breaks, letters)
            except Misread:
                raise misread from None
    if first == 1:
        return read_bar(compact, breaks, letters)
    if first == 0 or (first == len(compact) and first not in (3, 4, 5)) or first > HOLDER_LETTERS:
        raise _unlike(compact, first)
    return read_metric(compact, breaks, letters)


def read_insert(compact: str, breaks: Breaks, letters: Letters) -> InsertReading:
    """Read an insert by the system that its digits follow.

    Raises:
        Misread: by the system that it looks like.
    """
    if compact[6:8] in letters.thicknesses and len(compact) > 8 and compact[3].isalpha():
        size = compact[4:6]
        if compact[0] + size in letters.sizes or (compact[0] in "RABKL" and size.isdigit()):
            return read_metric(compact, breaks, letters)
    metric_like = sum(map(str.isdigit, compact)) >= 4 and "." not in compact
    try:
        return read_inch(compact, breaks, letters)
    except Misread as misread:
        if not metric_like:
            raise
        try:
            return read_metric(compact, breaks, letters)
        except Misread as metric:
            raise metric from misread


def _letters_before_digit(compact: str) -> int:
    """Give how many characters stand before the first digit."""
    for index, sign in enumerate(compact):
        if not sign.isalpha():
            return index
    return len(compact)


def _unlike(compact: str, first: int) -> Misread:
    """Say that a text is none of the codes."""
    from crib.trade.designation.normalise import EXAMPLES

    why = "it looks like no insert, holder or boring bar"
    return Misread("", "", 0, 0 if not first else min(first, len(compact)), compact[:20], EXAMPLES, why)


__all__ = ["read", "read_clean"]
