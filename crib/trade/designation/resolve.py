"""Telling inserts, holders and boring bars apart, and what to say when a code is none of them."""

from crib.errors import BadDesignation
from crib.trade.designation.bar import read_bar
from crib.trade.designation.holder import read_holder
from crib.trade.designation.inch import read_inch
from crib.trade.designation.insert import read_metric
from crib.trade.designation.letters import Letters
from crib.trade.designation.misread import Misread
from crib.trade.designation.normalise import EXAMPLES, Breaks, clean
from crib.trade.designation.reading import HolderReading, InsertReading, Reading

INSERT_LETTERS = 4
SHORT = 8  # an inch code may look metric up to here
UNSIZED = "RABKL"  # shapes whose sizes are not under one inscribed circle
EITHER = "read as metric; as an inch code it would make sense too"
LONG = 4  # digits: from here on a code looks metric
HOLDER_LETTERS = 5


def read(text: str, letters: Letters) -> Reading:
    """Read the code of an insert, a turning holder or a boring bar, metric or inch.

    Args:
        text: as typed or read off the box: case, blanks, dashes, slashes, full-width and look-alike
            characters do not matter.
        letters: the tables, `Letters(tables.rows)`.

    Raises:
        BadDesignation: naming the position, what stands there, what may stand there, and codes near by.
    """
    compact, breaks = clean(text)
    try:
        reading = read_clean(compact, breaks, letters)
    except Misread as misread:
        from crib.trade.designation.rescue import explain, rescue  # only when something is wrong

        rescued = rescue(compact, breaks, letters)
        if rescued is None:
            error: BadDesignation = explain(text, compact, breaks, misread, letters)
            raise error from None
        reading = rescued
    if text.isascii():
        return reading
    from crib.trade.designation.rescue import tell_foreign  # only for letters of other alphabets

    return tell_foreign(reading, text)


def read_clean(compact: str, breaks: Breaks, letters: Letters) -> Reading:
    """Read a bare code by its kind, which the place of the first digit tells.

    Raises:
        Misread: it does not make sense as what it looks like most.
    """
    if compact[4:5].isdigit() and compact[:4].isalpha():
        return read_insert(compact, breaks, letters)
    first = _letters_before_digit(compact)
    if first in (INSERT_LETTERS, INSERT_LETTERS - 1):
        return (read_metric if first == len(compact) else read_insert)(compact, breaks, letters)
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
    if first == 1 or (compact[:2].isdigit() and compact[2:3].isalpha() and compact[3:4].isalpha()):
        return _read_bar(compact, breaks, letters)
    if first == 0 or first == len(compact) or first > HOLDER_LETTERS:
        raise Misread("", "", 0, 0, compact[:20], EXAMPLES, "it looks like no insert, holder or boring bar")
    return read_metric(compact, breaks, letters)


def _read_bar(compact: str, breaks: Breaks, letters: Letters) -> Reading:
    """Read a boring bar, or a head with a modular shank, which begins like one.

    T is no bar type, bars have two digits, and C10 may be either.

    Raises:
        Misread: as what it looks like most.
    """
    if compact[0] == "T" or (compact[0] == "C" and compact[2:3].isalpha()):
        return _modular(compact, breaks, letters)
    try:
        return read_bar(compact, breaks, letters)
    except Misread as misread:
        if not compact.startswith("C10"):
            raise
        try:
            return _modular(compact, breaks, letters)
        except Misread:
            raise misread from None


def _modular(compact: str, breaks: Breaks, letters: Letters) -> HolderReading:
    """Read a head with a modular shank; few codes are of this kind."""
    from crib.trade.designation.modular import read_modular

    return read_modular(compact, breaks, letters)


def _modular_first(compact: str, breaks: Breaks, letters: Letters) -> InsertReading | HolderReading:
    """Read what looks like a hollow taper shank; an insert with a maker's own symbol may look so too.

    Raises:
        Misread: as a shank, if neither makes sense.
    """
    try:
        return _modular(compact, breaks, letters)
    except Misread as misread:
        try:
            return read_inch(compact, breaks, letters)
        except Misread:
            raise misread from None


def read_insert(compact: str, breaks: Breaks, letters: Letters) -> InsertReading | HolderReading:
    """Read an insert by the system that its digits follow.

    A hollow taper shank (HSK-T63) begins with what could be the letters of an insert.

    Raises:
        Misread: by the system that it looks like.
    """
    if compact[6:8] in letters.thicknesses and len(compact) > SHORT:
        size = compact[0] + compact[4:6]
        if size in letters.sizes or (compact[0] in UNSIZED and compact[4:6].isdigit()):
            return _metric_first(compact, breaks, letters)
    if compact.startswith("HSK"):
        from crib.trade.designation.modular import HOLLOW_TAPER

        if HOLLOW_TAPER.match(compact):
            return _modular_first(compact, breaks, letters)
    try:
        return read_inch(compact, breaks, letters)
    except Misread as misread:
        if "." in compact or sum(map(str.isdigit, compact)) < LONG:
            raise
        try:
            return read_metric(compact, breaks, letters)
        except Misread as metric:
            raise metric from misread


def _metric_first(compact: str, breaks: Breaks, letters: Letters) -> InsertReading:
    """Read what looks metric; inch digits may look so too.

    Raises:
        Misread: by the metric system, if neither makes sense.
    """
    try:
        reading = read_metric(compact, breaks, letters)
    except Misread as misread:
        try:
            return read_inch(compact, breaks, letters)
        except Misread:
            raise misread from None
    # Sizes of shapes without a circle are any two digits in both systems, 10 is a size in both, and before
    # letters the four digits may be an inch size, thickness and radius.
    if reading.IC_mm is None or compact[4:6] == "10" or (compact[8:9].isalpha() and compact[0] != "R"):
        try:
            read_inch(compact, breaks, letters)
        except Misread:
            return reading
        return reading._replace(notes=(*reading.notes, EITHER))
    return reading


def _letters_before_digit(compact: str) -> int:
    """Give how many characters stand before the first digit."""
    for index, sign in enumerate(compact):
        if not sign.isalpha():
            return index
    return len(compact)
