"""Sizes as they are said aloud, put in figures: "inch and a half", "five eighths", "sixteen and a half"."""

import re

_TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
_ONES = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", *_TEENS.split(" ")]
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_NUMBERS = {name: value for value, name in enumerate(_ONES, 1)}
_NUMBERS |= {name: 10 * value for value, name in enumerate(_TENS, 2)}
_PARTS = {"half": 2, "quarter": 4, "eighth": 8, "sixteenth": 16, "thirty-second": 32, "sixty-fourth": 64}
_UNITS = {"inch": "in", "inches": "in", "in": "in", "mm": "mm", "millimetre": "mm", "millimetres": "mm"}

# no line of talk without one of the first and one of the second holds a size that is said aloud
_HINTS = ("inch", "half", "halves", "quarter", "eighth", "sixteenth", "second", "fourth", "mm", "millimetre")
_SPELLED = {*_NUMBERS, *_PARTS, "halves", "quarters", "eighths", "sixteenths", "seconds", "fourths"}
_GAP = r"[\s-]+"
_ONE = "|".join(sorted(_ONES, key=len, reverse=True))
_TEN = "|".join(_TENS)
_NUMBER = rf"(?:(?:{_TEN})(?:{_GAP}(?:{_ONE}))?|{_ONE}|\d+)"
_PART = r"(?:halves|half|quarters?|eighths?|sixteenths?|thirty[\s-]seconds?|sixty[\s-]fourths?)"
_SOME = rf"(?:an?|{_ONE}|{_TEN})"
_OF_INCH = rf"{_GAP}(?:(?:of{_GAP})?an{_GAP})?inch(?:es)?"
# the longest way to say a size stands first
_SAID = (
    rf"(?:(?:an?|one){_GAP})?(?P<inch>inch){_GAP}and{_GAP}(?P<over>(?:{_SOME}{_GAP})?{_PART})",
    rf"(?P<whole>{_NUMBER}){_GAP}and{_GAP}(?P<more>(?:{_SOME}{_GAP})?{_PART})"
    rf"(?:{_GAP}(?P<unit>inch(?:es)?|mm|millimetres?))?",
    rf"(?P<part>(?:{_SOME}{_GAP})?{_PART}){_OF_INCH}",
    rf"(?P<alone>(?:{_SOME}){_GAP}(?:quarters?|eighths?|sixteenths?|thirty[\s-]seconds?|sixty[\s-]fourths?))",
    rf"(?P<count>(?:{_TEN})(?:{_GAP}(?:{_ONE}))?|{_ONE}){_GAP}(?P<of>inch(?:es)?|mm|millimetres?)",
)
_LOW_END = rf"\b(?P<low>(?:{_TEN})(?:{_GAP}(?:{_ONE}))?|{_ONE})(?P<to>\s+to\s+)(?=\d)"


def figures(text: str) -> str:
    """Put the sizes that are said aloud into figures; all other text stays as it was typed.

    A number in words is taken for a size only where a unit, a fraction, or "to" and a size stand beside it,
    so that "three jaw chuck" stays a chuck. A fraction without a unit is in inches, as it is at the machine.

    Args:
        text: shop talk, for example "my inch-and-a-half bar" or "bore sixteen to sixteen and a half".

    Returns:
        The same talk with "1 1/2 in" or "16 to 16 1/2 in" in it.
    """
    plain = text.lower()
    if not any(hint in plain for hint in _HINTS):
        return text
    if _SPELLED.isdisjoint("".join(sign if sign.isalpha() else " " for sign in plain).split()):
        return text
    for pattern in _SAID:
        text = re.sub(rf"\b{pattern}\b", _in_figures, text, flags=re.IGNORECASE)
    return re.sub(_LOW_END, lambda said: f"{_number(said['low'])}{said['to']}", text, flags=re.IGNORECASE)


def _in_figures(said: re.Match[str]) -> str:
    found = {name: value for name, value in said.groupdict().items() if value}
    if "inch" in found:
        return f"1 {'/'.join(_fraction(found['over']))} in"
    if "whole" in found:
        whole, (count, part) = _number(found["whole"]), _fraction(found["more"])
        if _UNITS.get(found.get("unit", "").lower()) == "mm":
            return f"{int(whole) + int(count) / int(part):g} mm"
        return f"{whole} {count}/{part} in"
    if "count" in found:
        return f"{_number(found['count'])} {_UNITS[found['of'].lower()]}"
    return f"{'/'.join(_fraction(found.get('part') or found['alone']))} in"


def _number(said: str) -> str:
    """Give a whole number that is said or typed, in figures: "twenty-five", "16"."""
    return said if said.isdigit() else str(sum(_NUMBERS[word] for word in re.split(_GAP, said.lower())))


def _fraction(said: str) -> tuple[str, str]:
    """Give a part of an inch as it is said, above and below: "a half", "five thirty-seconds"."""
    plain = re.sub(r"(thirty|sixty)[\s-](second|fourth)", r"\1-\2", said.lower())
    *count, part = plain.split() if " " in plain else re.split(r"(?<!thirty)(?<!sixty)-", plain)
    part = "half" if part == "halves" else part.removesuffix("s")
    many = "1" if not count or count[0] in ("a", "an") else _number(" ".join(count))
    return many, str(_PARTS[part])
