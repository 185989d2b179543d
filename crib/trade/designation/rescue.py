"""When a code does not read: mending look-alikes, wording the error, and near codes.

Only imported when something is wrong, so it may take its time.
"""

from collections.abc import Iterator

from crib.errors import BadDesignation
from crib.trade.designation.letters import Letters
from crib.trade.designation.misread import Misread
from crib.trade.designation.normalise import Breaks, clean, place, plain
from crib.trade.designation.reading import Reading

TO_LETTER = str.maketrans("01", "OI")
TO_DIGIT = str.maketrans("OI", "01")
SMALL_L = str.maketrans("OIL", "011")  # a small l was typed, and all letters are capitals by now
MOST = 3  # codes offered
FAR = 2
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
    """Read a code whose only fault is O for 0, I for 1 or the like, or stray points.

    Returns:
        The reading, with a note that says what was taken; None if that does not help.
    """
    from crib.trade.designation.resolve import read_clean

    for mended in _mended(compact):
        if mended == compact:
            continue
        try:
            reading = read_clean(mended, breaks if len(mended) == len(compact) else (), letters)
        except Misread:
            continue
        return _with_note(
            reading, f"read as {reading.designation}: O and 0, I and 1 were told apart by position"
        )
    return None


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


def _with_note(reading: Reading, note: str) -> Reading:
    """Give the reading with one more note."""
    from dataclasses import replace

    return replace(reading, notes=(*reading.notes, note))


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
    hint = "did you mean " + " or ".join(near) + "?" if near else _expect(misread)
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
    return f"expected: {listed}" + (", …" if len(misread.expected) > 24 else "")


def _near(compact: str, breaks: Breaks, misread: Misread, letters: Letters) -> list[str]:
    """Give up to MOST valid codes that lie near, likeliest first."""
    from crib.trade.designation.resolve import read_clean

    found: list[str] = []
    for candidate in _candidates(compact, misread):
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
