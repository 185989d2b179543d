"""Numbers as people write them: fractions, decimal commas, grouped digits, and the marks of many keyboards.

What was decided:
- A point is the decimal mark: `1.234` is a little over one.
- A comma is the decimal mark too (`415,9`), save where it could as well group thousands: `1,234` is refused
  and asked back. `0,250`, `1234,567` and `12,34` cannot be grouped, so they are decimals.
- With both marks the last is the decimal mark and the other groups: `1,234.5`, `1.234,5`. One mark that comes
  more than once groups: `1,234,567`.
- A blank groups thousands only beside a decimal mark (`1 234,5`) or when it is a hard or thin one: `410 440`
  may well be two numbers and is asked back.
- `16 3/8`, `16-3/8` and `16⅜` are one mixed number. Its fraction is less than one, and `0-3/8` is none:
  nobody writes that, but it is a good range.
"""

import re
from dataclasses import dataclass

from crib.errors import BadQuantity
from crib.units.kinds import CALLED, EXAMPLES, Kind, System

LONGEST = 80

_MARKS = str.maketrans({
    "″": '"', "“": '"', "”": '"', "„": '"', "ʺ": '"', "′": "'", "‘": "'", "’": "'", "´": "'", "ʹ": "'",
    "º": "°", "˚": "°", "⌀": "Ø", "ø": "Ø", "∅": "Ø", "Φ": "Ø", "φ": "Ø", "ϕ": "Ø",
    "−": "-", "‐": "-", "‑": "-", "‒": "-", "–": "-", "—": "-", "⁄": "/", "∕": "/", "µ": "u", "μ": "u",
})  # fmt: skip
_HARD_BLANK = r"(?<=\d)[\u00a0\u2007\u2009\u202f](?=\d{3}(?![\d/⁄∕.,]*[/⁄∕]))"
_RAISED = r"(?:^|[^A-Za-zµμ⁻])\s*[⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉]"
_MIXED = r"([0-9]+)(?P<joint> ?- ?| )([0-9]+) ?/ ?([0-9]+)"
_FRACTION = r"([0-9]+) ?/ ?([0-9]+)"
_DECIMAL = r"((?:[0-9]{1,3}(?: [0-9]{3})+(?![0-9]))|[0-9]+|(?=[.,][0-9]))((?:[.,][0-9]*)*)([eE][+-]?[0-9]+)?"


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked for and what was answered: all that a complaint needs.

    Attributes:
        text: as typed.
        kind: the kind of quantity that was asked.
        system: the asker's system of units.
        signed: whether a value below zero makes sense here.
    """

    text: str
    kind: Kind
    system: System
    signed: bool = False

    def wrong(self, why: str, found: str = "", hint: str = "") -> BadQuantity:
        """Make the error: why it cannot be read, which piece, and what would be right."""
        found = found.strip()
        position = self.text.find(found) + 1 if found else 0
        examples = ", ".join(EXAMPLES[self.kind])
        typed = quoted(self.text.strip())
        return BadQuantity(
            why if why.startswith(typed) else f"{typed}: {why}",
            hint or f"write it like {examples}",
            text=self.text[:LONGEST], kind=self.kind.value, found=found[:LONGEST], position=position,
            examples=list(EXAMPLES[self.kind]),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Number:
    """A number and what follows it.

    Attributes:
        value: its value.
        fraction: whether it was written as a fraction.
        text: how it was written.
        rest: what stands behind it: the unit.
        piece: number and unit as they stood together.
    """

    value: float
    fraction: bool
    text: str
    rest: str
    piece: str


def quoted(text: str) -> str:
    """Show a piece of what was typed: shortened, in quotes, with nothing that a terminal would obey."""
    short = text if len(text) <= 40 else text[:39] + "…"
    return "“" + "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in short) + "”"


def plain(asked: Asked) -> str:
    """Bring what was typed to plain marks: ASCII digits and quotes, single blanks, fractions written out.

    Raises:
        BadQuantity: there is nothing, too much, or a raised digit (10² is no 102).
    """
    text = asked.text
    if not text.strip():
        raise asked.wrong(f"nothing typed; {CALLED[asked.kind]} was asked")
    if len(text) > LONGEST:
        raise asked.wrong(f"too long for one quantity ({len(text)} characters)")
    if not text.isascii():
        from unicodedata import normalize

        raised = re.search(_RAISED, text)
        if raised:
            raise asked.wrong("a raised or lowered digit belongs behind a unit only", raised[0])
        text = re.sub(_HARD_BLANK, "", text)
        text = "".join(f" {normalize('NFKC', c)} " if c in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒" else c for c in text)
        text = normalize("NFKC", text.translate(_MARKS)).translate(_MARKS)
    return " ".join(text.replace("''", '"').split())


def take_number(asked: Asked, text: str) -> Number:
    """Take the number that a text begins with.

    Args:
        asked: for complaints.
        text: plain text (see `plain`).

    Raises:
        BadQuantity: it begins with no number, or with one that cannot be.
    """
    sign = re.match(r"[+-] ?", text)
    start = sign.end() if sign else 0
    value, fraction, end = _unsigned(asked, text, start)
    if sign and text[0] == "-":
        value = -value
    return Number(value, fraction, text[:end].strip(), text[end:].strip(), text)


def _unsigned(asked: Asked, text: str, start: int) -> tuple[float, bool, int]:
    mixed = re.compile(_MIXED).match(text, start)
    if mixed and ("-" not in mixed["joint"] or int(mixed[1]) > 0):
        part = _divide(asked, mixed[3], mixed[4], mixed[0])
        if part < 1:
            return int(mixed[1]) + part, True, mixed.end()
        if "-" not in mixed["joint"]:
            raise asked.wrong(f"the fraction in {quoted(mixed[0])} is not less than one", mixed[0])
    fraction = re.compile(_FRACTION).match(text, start)
    if fraction:
        return _divide(asked, fraction[1], fraction[2], fraction[0]), True, fraction.end()
    decimal = re.compile(_DECIMAL).match(text, start)
    if not decimal:
        raise asked.wrong(_no_number(asked, text[start:]), text[start:])
    value = float(_digits(asked, decimal[1], decimal[2], decimal[0]) + (decimal[3] or ""))
    return value, False, decimal.end()


def _no_number(asked: Asked, text: str) -> str:
    if re.match(r"(nan|inf|infinity|∞)(?![a-z])", text.lower()):
        return f"{quoted(text)} is not a number that can be measured"
    return f"no number at its start; {CALLED[asked.kind]} was asked"


def _divide(asked: Asked, over: str, under: str, found: str) -> float:
    if int(under) == 0:
        raise asked.wrong(f"the fraction {quoted(found)} divides by zero", found)
    return int(over) / int(under)


def _digits(asked: Asked, whole: str, tail: str, found: str) -> str:
    """Sort out decimal marks and grouped digits; give what float() reads."""
    marks = re.findall(r"[.,]", tail)
    if " " in whole and (not marks or len(set(marks)) > 1 or len(marks) > 1):
        joined = whole.replace(" ", "")
        raise asked.wrong(
            f"{quoted(found)} may be {joined} or several numbers",
            found, f"write {joined}{tail}, or one number only",
        )  # fmt: skip
    whole = whole.replace(" ", "")
    if not marks:
        return whole
    if len(marks) == 1:
        after = tail[1:]
        if marks == [","] and _could_group(whole, [after]):
            raise asked.wrong(
                f"{quoted(found)} may be {whole}{after} or {whole}.{after}",
                found, f"write {whole}{after} or {whole}.{after}",
            )  # fmt: skip
        if marks == [","] and not after:
            raise asked.wrong(f"nothing follows the comma in {quoted(found)}", found)
        return f"{whole or 0}.{after}"
    pieces = re.split(r"[.,]", tail)[1:]
    one_mark = len(set(marks)) == 1
    groups, after = (pieces, "") if one_mark else (pieces[:-1], pieces[-1])
    if (not one_mark and marks[-1] in marks[:-1]) or len(set(marks[: len(groups)])) > 1:
        raise asked.wrong(f"the marks in {quoted(found)} do not make one number", found)
    if not _could_group(whole, groups):
        raise asked.wrong(f"the marks in {quoted(found)} do not make one number", found)
    return whole + "".join(groups) + "." + (after or "0")


def _could_group(whole: str, groups: list[str]) -> bool:
    """Tell whether these could be thousands: one to three digits, no zero in front, then threes."""
    return 1 <= len(whole) <= 3 and whole[0] != "0" and all(len(group) == 3 for group in groups)
