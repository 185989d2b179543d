"""Reading what people type: one quantity, or a range of them."""

import math
import re
from dataclasses import dataclass

from crib.errors import BadQuantity
from crib.units.kinds import CALLED, EXAMPLES, Kind, System
from crib.units.numbers import Asked, Number, plain, quoted, take_number
from crib.units.registry import convert
from crib.units.words import AMBIGUOUS, BARE, KIND_OF, Unit, find, tidy

# Beyond these nothing in a shop is measured, in any canonical unit: a slip of the keyboard.
LARGEST = 1e12
SMALLEST = 1e-12
ABSOLUTE_ZERO_C = -273.15

_SIGNED = (Kind.TEMPERATURE, Kind.ANGLE)
_FEET = r"([+-]?) ?([0-9]+) ?(?:'|ft\.?|foot|feet) ?-? ?([0-9.,].*?) ?(?:\"|in\.?|inch|inches)?"
_ARC = r"([+-]?) ?([0-9]+) ?(?:°|deg\.?|degrees?) ?([0-9]+) ?(?:'|min\.?)(?: ?([0-9]+) ?(?:\"|sec\.?))?"
_DIAMETER = r"(?:Ø|diameter|diam\.?|dia\.?)"
_UNTIL = r" ?(?:\.\.\.?|(?<![A-Za-z])to(?![A-Za-z])) ?"


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """One quantity as read.

    Attributes:
        value: in the canonical unit of its kind (see `crib.units`).
        kind: what sort of quantity it is.
        system: the system in which it was typed; the asker's own where the unit belongs to both (Hz, °).
        text: what was typed, unchanged; of a range, its piece.
    """

    value: float
    kind: Kind
    system: System
    text: str


def read(text: str, kind: Kind, system: System | str = System.METRIC, *, signed: bool = False) -> Quantity:
    """Read one quantity.

    Args:
        text: what was typed. A bare number is in the asker's system; a bare fraction, as a length or feed, is
            in inches whatever the system. Kilograms and pounds are taken as forces where a force is asked,
            a length as a feed per revolution where a feed is asked.
        kind: what is asked.
        system: the asker's system of units.
        signed: whether a value below zero makes sense; temperatures and angles may always be below zero.

    Returns:
        The quantity in the canonical unit of its kind. Zero is let through: whether it makes sense is for
        the asker to say.

    Raises:
        BadQuantity: it cannot be read, is of another kind, or cannot be.
    """
    asked = Asked(text, Kind(kind), System(system), signed)
    number = _split(asked, plain(asked))
    return _settle(asked, number, _unit(asked, number), text)


def read_range(
    text: str, kind: Kind, system: System | str = System.METRIC, *, signed: bool = False
) -> tuple[Quantity, Quantity]:
    """Read a range: `410-440 mm`, `16 to 16 1/2`, `16..16 1/2 in`, `410–440 mm`.

    One quantity alone is a range from itself to itself; so is `16-3/8"`, a mixed number. An end without a
    unit takes the unit of the other end.

    Args:
        text: what was typed.
        kind: what is asked.
        system: the asker's system of units.
        signed: as for `read`.

    Returns:
        The lower and the upper end.

    Raises:
        BadQuantity: an end cannot be read, or the range runs downwards.
    """
    asked = Asked(text, Kind(kind), System(system), signed)
    whole = plain(asked)
    ends = re.split(_UNTIL, whole, flags=re.IGNORECASE)
    if len(ends) > 2:
        raise asked.wrong("a range has two ends", hint=_range_hint(asked))
    if len(ends) == 2:
        return _between(asked, ends[0], ends[1])
    try:
        alone = read(text, kind, system, signed=signed)
    except BadQuantity as error:
        return _hyphenated(asked, whole, error)
    return alone, alone


def _hyphenated(asked: Asked, whole: str, error: BadQuantity) -> tuple[Quantity, Quantity]:
    """Find the one hyphen that parts two quantities; complain as `error` does if there is none."""
    found: list[tuple[Number, Number]] = []
    for hyphen in re.finditer("-", whole):
        try:
            low = _split(asked, whole[: hyphen.start()])
            _unit(asked, low)
        except BadQuantity:
            continue
        try:
            high = _split(asked, whole[hyphen.end() :].strip())
            _unit(asked, high)
        except BadQuantity as worse:
            error = worse
            continue
        found.append((low, high))
    if len(found) != 1:
        raise error
    return _ordered(asked, *found[0])


def _between(asked: Asked, low: str, high: str) -> tuple[Quantity, Quantity]:
    if not low.strip() or not high.strip():
        raise asked.wrong("one end of the range is missing", hint=_range_hint(asked))
    return _ordered(asked, _split(asked, low.strip()), _split(asked, high.strip()))


def _ordered(asked: Asked, first: Number, second: Number) -> tuple[Quantity, Quantity]:
    """Give both ends the units they lack, and see that they run upwards."""
    first_unit = _unit(asked, first, second)
    second_unit = _unit(asked, second, first)
    low = _settle(asked, first, first_unit, first.piece)
    high = _settle(asked, second, second_unit, second.piece)
    if low.value > high.value:
        raise asked.wrong("the range runs downwards", hint="write its smaller end first")
    return low, high


def _range_hint(asked: Asked) -> str:
    return f"write both ends with “to” between them, each like {', '.join(EXAMPLES[asked.kind])}"


def _split(asked: Asked, text: str) -> Number:
    """Part a quantity into its number and its unit; feet and inches, degrees and minutes are one number."""
    if asked.kind is Kind.LENGTH:
        text = re.sub(f"^{_DIAMETER}|{_DIAMETER}$", "", text, flags=re.IGNORECASE).strip()
        together = _feet_and_inches(asked, text)
        if together:
            return together
    if asked.kind is Kind.ANGLE:
        together = _degrees_and_minutes(asked, text)
        if together:
            return together
    return take_number(asked, text)


def _feet_and_inches(asked: Asked, text: str) -> Number | None:
    match = re.fullmatch(_FEET, text, flags=re.IGNORECASE)
    if not match:
        return None
    try:
        inches = take_number(asked, match[3])
    except BadQuantity:
        return None
    if inches.rest:
        return None
    if inches.value >= 12:
        raise asked.wrong(f"{quoted(inches.text)} inches are a foot or more", inches.text)
    total = int(match[2]) * 12 + inches.value
    return Number(-total if match[1] == "-" else total, True, text, "in", text)


def _degrees_and_minutes(asked: Asked, text: str) -> Number | None:
    match = re.fullmatch(_ARC, text, flags=re.IGNORECASE)
    if not match:
        return None
    minutes, seconds = int(match[3]), int(match[4] or 0)
    if minutes >= 60 or seconds >= 60:
        raise asked.wrong("minutes and seconds of arc run to 59", text)
    total = int(match[2]) + (minutes * 60 + seconds) / 3600
    return Number(-total if match[1] == "-" else total, False, text, "deg", text)


def _unit(asked: Asked, number: Number, other: Number | None = None) -> Unit:
    """Find the unit of a number: its own, that of the other end of a range, or that of a bare number."""
    words = number.rest or (other.rest if other else "")
    if not words:
        fraction = number.fraction or (other is not None and other.fraction)
        inch = asked.system is System.INCH or (fraction and asked.kind in (Kind.LENGTH, Kind.FEED))
        return BARE[asked.kind][inch]
    unit = find(words, asked.kind, asked.system)
    if unit is None:
        raise _unknown(asked, number, words)
    kind = KIND_OF.get(unit.dimension)
    if kind is not asked.kind:
        what = CALLED[kind] if kind else "an area" if unit.dimension == "A" else "no whole unit"
        raise asked.wrong(f"{quoted(asked.text.strip())} is {what}; {CALLED[asked.kind]} was asked", words)
    return unit


def _unknown(asked: Asked, number: Number, words: str) -> BadQuantity:
    for word in tidy(words).lower().replace("/", " ").split():
        if word in AMBIGUOUS:
            return asked.wrong(f"{quoted(word)} is ambiguous", word, AMBIGUOUS[word])
    if re.search(r"(?:^|[\s+\-/.,'\"°])[0-9]", words):
        two = f"{quoted(number.text)} and {quoted(words)}"
        return asked.wrong(f"more than one number ({two}); {CALLED[asked.kind]} was asked", words)
    return asked.wrong(f"{quoted(words)} is no unit that crib knows; {CALLED[asked.kind]} was asked", words)


def _settle(asked: Asked, number: Number, unit: Unit, text: str) -> Quantity:
    """Convert to the canonical unit and see that the value can be."""
    if not math.isfinite(number.value) or abs(number.value) > LARGEST:
        raise asked.wrong(f"{quoted(number.text)} is too large for {CALLED[asked.kind]}", number.text)
    value = convert(number.value, unit.name, BARE[asked.kind][0].name)
    why = _cannot_be(asked, number, value)
    if why:
        raise asked.wrong(why, number.text)
    return Quantity(value=value + 0.0, kind=asked.kind, system=unit.system or asked.system, text=text)


def _cannot_be(asked: Asked, number: Number, value: float) -> str:
    """Say why no quantity of that kind has that value; nothing if it may."""
    if asked.kind is Kind.TEMPERATURE:
        return "colder than absolute zero (-273.15 °C)" if value < ABSOLUTE_ZERO_C else ""
    if abs(value) > LARGEST:
        return f"too large for {CALLED[asked.kind]}"
    # 1e-400 has become 0 on the way: its digits still tell it from a true zero
    vanished = not number.fraction and re.search("[1-9]", number.text.lower().partition("e")[0])
    if abs(value) < SMALLEST and (number.value or vanished):
        return f"too small for {CALLED[asked.kind]}"
    if value < 0 and not asked.signed and asked.kind not in _SIGNED:
        return f"below zero; {CALLED[asked.kind]} cannot be"
    return ""
