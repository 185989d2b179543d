"""Reading what a grade is meant for: the application groups and cutting-material letters of ISO 513.

`read_application("HC-P25", Applications.load(tables.rows))`. Grades themselves are makers' products; the
standard makes none of them equal to another.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from crib.errors import BadDesignation
from crib.trade.designation.normalise import clean, place, plain
from crib.trade.designation.reading import MAKER, PositionReading
from crib.trade.designation.symbols import Symbol, mark_of, meaning_of, notes_of, places

Rows = Callable[[str], "tuple[Mapping[str, str], ...]"]
FORM = re.compile(r"([A-Z]{2})?(?:([A-Z])([0-9OIL]{1,3})(?:([A-Z])?([0-9OIL]{2}))?)?")
LOOK_ALIKE = str.maketrans("OIL", "011")
HARD, TOUGH = 15, 30
"""Numbers up to the first are the hard end, from the second on the tough end: the thirds of P01 to P50."""
NUMBER = 3  # position
EXAMPLES = ("P25", "HC-K20", "HW", "P10-P30")


class ApplicationReading(NamedTuple):
    """An application group, a cutting material, or both.

    Attributes:
        kind: "application".
        designation: the code in its normal form, as HC-P25.
        material_letters: of the cutting material; None where the code has none.
        material: what they mean.
        group: letter of the main group; None where the code has none.
        work: what that group is meant to cut.
        numbers: one number, or the two ends of a range; empty where the code has none.
        temper: what the number says of hardness against toughness, in words.
        positions: each part with its meaning.
        notes: what the reader of the code should know.
    """

    kind: str
    designation: str
    material_letters: str | None
    material: str | None
    group: str | None
    work: str | None
    numbers: tuple[int, ...]
    temper: str | None
    positions: tuple[PositionReading, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Applications:
    """The tables of ISO 513.

    Attributes:
        groups: main groups by letter.
        numbers: the numbers of each group, as written.
        materials: cutting materials by their two letters.
    """

    groups: Mapping[str, Symbol]
    numbers: Mapping[str, tuple[str, ...]]
    materials: Mapping[str, Symbol]

    @staticmethod
    def load(rows: Rows) -> "Applications":
        """Build the tables.

        Args:
            rows: gives the rows of a table by its name (`crib.trade.tables.rows`).
        """
        return Applications(
            {row["code"]: _symbol(row, "work", "group", 2) for row in rows("iso513_group")},
            {row["code"]: tuple(row["numbers"].split()) for row in rows("iso513_group")},
            {row["code"]: _symbol(row, "meaning", "letters", 1) for row in rows("iso513_material")},
        )


NUMBERS_RECALLED = "the numbers of a group are recalled, not seen in the standard"


def _symbol(row: Mapping[str, str], column: str, what: str, position: int) -> Symbol:
    """Make the symbol of a row."""
    words = meaning_of(row, row[column])
    return Symbol(
        row["code"], None, None, notes_of(row, what), places(row["code"], words, mark_of(row), position)
    )


def read_application(text: str, tables: Applications) -> ApplicationReading:
    """Read an application group, a cutting material, or both joined by a dash.

    Args:
        text: as P25, HC-K20, HW, or a range as P10-P30 or P10-30; case, blanks and look-alikes don't matter.
        tables: `Applications.load(tables.rows)`.

    Raises:
        BadDesignation: naming the part (1 material, 2 group, 3 number), what stands there and what may.

    Source: ISO 513:2012, clause 2 (letters of the material, a dash, letter and number of the group).
    """
    compact, _ = clean(text)
    form = FORM.fullmatch(compact)
    if form is None or not compact.isalnum():
        found = plain(compact[:20])
        raise _bad(text, 0, 0, found, EXAMPLES, f"{found} is no application group or cutting material")
    letters, group, first, again, last = form.groups()
    material = _found(text, tables.materials, letters, 1, 0, "a cutting material")
    at = len(letters or "")
    work = _found(text, tables.groups, group, 2, at, "an application group")
    if again is not None and again != group:
        raise _bad(
            text, 2, at + 3, again, (group,), f"a range stays within one group, not {group} and {again}"
        )
    numbers: tuple[int, ...] = ()
    shown = letters or ""
    positions = material.places if material else ()
    notes = material.notes if material else ()
    temper = None
    if work is not None:
        codes = [_number(text, group, code, at + 1, tables) for code in (first, last) if code]
        numbers = tuple(sorted(int(code) for code in codes))
        joined = "-".join(f"{group}{number:02d}" for number in numbers)
        shown += ("-" if letters else "") + joined
        temper = _temper(numbers)
        positions += (
            *work.places,
            PositionReading(3, joined.replace(group, ""), temper, MAKER if numbers else work.places[0].mark),
        )
        notes += (*work.notes, *[NUMBERS_RECALLED] * bool(numbers))
    return ApplicationReading(
        "application", shown, letters, _meaning(material), group, _meaning(work), numbers, temper,
        positions, notes,
    )  # fmt: skip


def _found(
    text: str, table: Mapping[str, Symbol], code: str | None, position: int, at: int, what: str
) -> Symbol | None:
    """Look a code up; None where there is none."""
    if code is None:
        return None
    symbol = table.get(code)
    if symbol is None:
        raise _bad(text, position, at, code, tuple(table), f"{code} is not {what} of ISO 513")
    return symbol


def _number(text: str, group: str, code: str, at: int, tables: Applications) -> str:
    """Give the number of a group as the standard writes it."""
    code = code.translate(LOOK_ALIKE)
    number = code.zfill(2)
    allowed = tables.numbers[group]
    if number not in allowed:
        near = sorted(allowed, key=lambda n: abs(int(n) - int(code)))[:2]
        hint = "did you mean " + " or ".join(group + n for n in near) + "?"
        raise _bad(text, NUMBER, at, code, allowed, f"{code} is not a number of group {group}", hint)
    return number


def _meaning(symbol: Symbol | None) -> str | None:
    """Give the plain words of a symbol."""
    return None if symbol is None else symbol.places[0].meaning


def _temper(numbers: tuple[int, ...]) -> str:
    """Say where between hard and tough a number, or the middle of a range, lies.

    Source: ISO 513: low numbers for wear resistance and speed, high ones for toughness and feed. The bounds
    of our three words are an assumption.
    """
    middle = sum(numbers) / len(numbers)
    if middle <= HARD:
        return "hard end: resists wear, for higher speed, light feed and steady cuts"
    if middle >= TOUGH:
        return "tough end: resists breaking, for heavier feed, interrupted cuts and lower speed"
    return "between hard and tough: general work"


def _bad(
    text: str, position: int, at: int, found: str, expected: tuple[str, ...], why: str, hint: str = ""
) -> BadDesignation:
    """Put a misreading into words."""
    return BadDesignation(
        f"{plain(text.strip())!r} read by ISO 513: {why}", position=position, found=found, expected=expected,
        hint=hint or "expected: " + ", ".join(expected), kind="application", character=place(text, at),
    )  # fmt: skip
