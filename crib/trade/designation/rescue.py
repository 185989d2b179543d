"""When a code does not read: mending look-alikes, wording the error, and near codes.

Only imported when something is wrong, so it may take its time.
"""

from collections.abc import Iterable, Iterator
from itertools import chain

from crib.errors import BadDesignation
from crib.trade.designation.letters import Letters
from crib.trade.designation.misread import Misread
from crib.trade.designation.normalise import Breaks, clean, look_alikes, place, plain
from crib.trade.designation.reading import Reading

TO_LETTER = str.maketrans("01", "OI")
TO_DIGIT = str.maketrans("OI", "01")
WORN_LETTER = str.maketrans("0158", "OISB")  # less alike: taken only if it leads to one code
WORN_DIGIT = str.maketrans("OISB", "0158")
SMALL_L = str.maketrans("OIL", "011")  # a small l was typed, and all letters are capitals by now
MOST = 3  # codes offered
FAR = 2
SHORT, LONG = 5, 18  # characters: no others are searched for a slip just anywhere
SIGNS = "0123456789ABCDEFGHJKLMNPQRSTUVWXYZ"
ENDS = 8  # from this position on nothing is compulsory
STANDARDS = {
    ("insert", "metric"): "ISO 1832",
    ("insert", "inch"): "ANSI B212.4",
    ("holder", "metric"): "ISO 5608",
    ("holder", "inch"): "ANSI B212.5",
    ("bar", "metric"): "ISO 6261",
    ("bar", "inch"): "inch form",
}
NAMES = {"insert": "insert", "holder": "turning holder", "bar": "boring bar"}
KEYBOARD = ("QWERTYUIOP", "ASDFGHJKL", "ZXCVBNM")
PRINTED_ALIKE = ("CG", "OQ", "DO", "VY", "MN", "PR", "BE", "EF", "UV", "KX", "SZ", "BR", "VW", "TY", "HN")


def rescue(compact: str, breaks: Breaks, letters: Letters) -> Reading | None:
    """Read a code whose only fault is O for 0, I for 1, S for 5, B for 8 or the other way round.

    Returns:
        The reading, with a note that says what was taken; None if that does not help, or if S, 5, B and 8
        could be taken in more than one way.
    """
    for reading in _readings(_mended(compact), compact, breaks, letters):
        return with_note(
            reading, f"read as {reading.designation}: O and 0, I and 1 were told apart by position"
        )
    worn = {r.designation: r for r in _readings(_worn(compact), compact, breaks, letters)}
    if len(worn) != 1:
        return None
    (reading,) = worn.values()
    return with_note(
        reading, f"read as {reading.designation}: S and 5, B and 8 were told apart by position; look again"
    )


def _readings(codes: Iterable[str], compact: str, breaks: Breaks, letters: Letters) -> Iterator[Reading]:
    """Give the readings of those codes that make sense and are not the code itself."""
    from crib.trade.designation.resolve import read_clean

    for code in codes:
        if code == compact:
            continue
        try:
            yield read_clean(code, breaks, letters)
        except Misread:
            continue


def _worn(compact: str) -> Iterator[str]:
    """Give the code with S and 5, B and 8 as each kind would have them."""
    yield compact[:4].translate(WORN_LETTER) + compact[4:10].translate(WORN_DIGIT) + compact[10:]
    yield compact[:4].translate(WORN_LETTER) + compact[4:7].translate(WORN_DIGIT) + compact[7:]
    holder = compact[:5].translate(WORN_LETTER) + compact[5:9].translate(WORN_DIGIT)
    yield holder + compact[9:10].translate(WORN_LETTER) + compact[10:12].translate(WORN_DIGIT) + compact[12:]
    bar = compact[:1].translate(WORN_LETTER) + compact[1:3].translate(WORN_DIGIT)
    yield bar + compact[3:9].translate(WORN_LETTER) + compact[9:11].translate(WORN_DIGIT) + compact[11:]


def tell_foreign(reading: Reading, text: str) -> Reading:
    """Say which letters of other alphabets were taken for Latin ones."""
    signs = look_alikes(text)
    if not signs:
        return reading
    return with_note(
        reading, f"{', '.join(signs)}: of another alphabet, taken for the letters they look like"
    )


def _mended(compact: str) -> Iterator[str]:
    """Give the code as each kind would have it: letters where letters stand, digits where digits stand."""
    yield compact[:4].translate(TO_LETTER) + compact[4:10].translate(TO_DIGIT) + compact[10:]
    yield compact[:4].translate(TO_LETTER) + compact[4:10].translate(SMALL_L) + compact[10:]
    yield compact[:3].translate(TO_LETTER) + compact[3:].translate(TO_DIGIT)
    holder = compact[:5].translate(TO_LETTER) + compact[5:9].translate(TO_DIGIT)
    yield holder + compact[9:10] + compact[10:12].translate(TO_DIGIT) + compact[12:]
    yield holder + compact[9:].translate(TO_DIGIT)
    bar = compact[:1] + compact[1:3].translate(TO_DIGIT) + compact[3:9].translate(TO_LETTER)
    yield bar + compact[9:11].translate(TO_DIGIT) + compact[11:]


def with_note(reading: Reading, note: str) -> Reading:
    """Give the reading with one more note."""
    return reading._replace(notes=(*reading.notes, note))


def explain(text: str, compact: str, breaks: Breaks, misread: Misread, letters: Letters) -> BadDesignation:
    """Put a misreading into words, with near codes that do read.

    Args:
        text: as typed.
        compact: bare code.
        breaks: where separators stood.
        misread: what went wrong.
        letters: the tables.
    """
    shown = plain(text.strip())
    if not misread.kind:
        message = f"{shown!r}: {misread.why}"
    else:
        standard = STANDARDS[misread.kind, misread.system]
        kind = _a(NAMES[misread.kind])
        message = f"{shown!r} read as {kind} ({standard}): position {misread.position}: {misread.why}"
    near = _near(compact, breaks, misread, letters)
    expected = _expect(misread)
    hint = f"did you mean {' or '.join(near)}? ({expected})" if near else expected
    return BadDesignation(
        message, position=misread.position, found=misread.found, expected=misread.expected, hint=hint,
        kind=misread.kind or None, system=misread.system or None, character=place(text, misread.offset),
        near=near,
    )  # fmt: skip


def _a(noun: str) -> str:
    """Put the article before a noun."""
    return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"


def _expect(misread: Misread) -> str:
    """Say what may stand there."""
    listed = ", ".join(misread.expected[:24])
    there = "there may stand" if misread.kind else "expected"
    return f"{there}: {listed}" + (", …" if len(misread.expected) > 24 else "")


def _near(compact: str, breaks: Breaks, misread: Misread, letters: Letters) -> list[str]:
    """Give up to MOST valid codes that lie near, likeliest first."""
    from crib.trade.designation.resolve import read_clean

    found: list[str] = []
    candidates = _candidates(compact, misread)
    for candidate in chain(candidates, _if_none(found, _anywhere(compact, misread.offset))):
        try:
            bare, marks = clean(candidate)
            moved = len(bare) - len(compact)
            kept = tuple([(i + moved if i > misread.offset else i, mark) for i, mark in breaks])
            designation = read_clean(bare, marks or kept, letters).designation
        except (Misread, BadDesignation):
            continue
        if designation not in found:
            found.append(designation)
        if len(found) == MOST:
            break
    return found


def _if_none(found: list[str], more: Iterator[str]) -> Iterator[str]:
    """Go on to more candidates only if nothing was found by then."""
    if not found:
        yield from more


def _anywhere(compact: str, at: int) -> Iterator[str]:
    """Give the code with any one character changed, left out or put in: first near the fault, then alike."""
    if not SHORT <= len(compact) <= LONG:
        return
    for index in sorted(range(len(compact) + 1), key=lambda i: abs(i - at)):
        sign = compact[index : index + 1]
        if sign:
            others = sorted((c for c in SIGNS if c != sign), key=lambda c: _apart(sign, c))
            yield from (compact[:index] + c + compact[index + 1 :] for c in others)
            yield compact[:index] + compact[index + 1 :]
        yield from (compact[:index] + c + compact[index:] for c in SIGNS)


def _candidates(compact: str, misread: Misread) -> Iterator[str]:
    """Give codes that one slip away might have been meant."""
    yield from misread.tries
    at = misread.offset
    for left in (at, at - 1, at - 2):  # neighbours swapped
        if 0 <= left < len(compact) - 1:
            yield compact[:left] + compact[left + 1] + compact[left] + compact[left + 2 :]
    sign = compact[at : at + 1]
    single = [code for code in misread.expected if len(code) == 1 and code != "-"]
    if sign:
        alike = sorted((c for c in single if _apart(sign, c) < FAR), key=lambda c: _apart(sign, c))
        yield from (compact[:at] + c + compact[at + 1 :] for c in alike)
        yield compact[:at] + compact[at + 1 :]  # one too many
        if misread.position < ENDS:
            yield from (compact[:at] + c + compact[at:] for c in single)  # one too few
    if at > 0:
        yield compact[: at - 1] + compact[at:]


def _apart(one: str, other: str) -> int:
    """Give how unlikely a mix-up of two letters is: 0 look alike, 1 neighbouring keys, 2 neither."""
    if any(one in pair and other in pair for pair in PRINTED_ALIKE):
        return 0
    for row in KEYBOARD:
        if one in row and other in row and abs(row.index(one) - row.index(other)) == 1:
            return 1
    return FAR
