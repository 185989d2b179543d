"""Readings as a machinist writes them down: lists of forces and deflections, and how a ring dies away."""

import re
from collections.abc import Callable, Sequence

from crib.desk.starting.chart import parted
from crib.errors import BadQuantity, InputError
from crib.trade.rigidity.measuring import damping_from_band, damping_from_decibels, damping_from_ratio
from crib.units import Kind, read, read_range

MOST_READINGS = 200
_NUMBER = r"(\d+(?:[.,]\d+)?|[.,]\d+)"
_CYCLES = rf"(?:in|over|after|within) {_NUMBER} ?(?:cycles?|swings?|waves?|periods?)?"
_FELL = re.compile(rf"(?:from )?{_NUMBER} ?(?:to|->|→|down to) {_NUMBER} {_CYCLES}")
_RATIO = re.compile(rf"(?:ratio )?{_NUMBER} ?(?:times|x|×|: ?1)? {_CYCLES}")
_PART = re.compile(rf"(?:to )?{_NUMBER} ?% {_CYCLES}")
_HALF = re.compile(rf"(?:to )?(?:a )?half {_CYCLES}")
_DROP = re.compile(rf"-?{_NUMBER} ?db {_CYCLES}")
_DROP_TIME = re.compile(rf"-?{_NUMBER} ?db (?:in|over|within) {_NUMBER} ?(ms|s|sec|seconds?)")
_T60 = re.compile(rf"t ?60 ?=? ?{_NUMBER} ?(ms|s|sec|seconds?)?")
_DIGITS = re.compile(r"[\d.,]*\d[\d.,]*")
DECAY_HINT = (
    '"10 to 4 in 5 cycles", "ratio 2.5 in 5 cycles", "8 dB in 5 cycles", "20 dB in 0.4 s", "T60 1.2 s", '
    '"90 to 95 Hz" (where the peak is 3 dB down), or the damping ratio itself: "3 %"'
)


def read_list(texts: Sequence[str], kind: Kind, system: str) -> tuple[float, ...]:
    """Read a list of quantities in the order typed: `100 200 300 N`, or several texts of one each.

    Raises:
        BadQuantity: one can't be read.
        InputError: too many.
    """
    pieces = [piece for text in texts for piece in parted(text)]
    if len(pieces) > MOST_READINGS:
        raise InputError(f"{len(pieces)} readings are more than a person takes", f"at most {MOST_READINGS}")
    return tuple(read(piece, kind, system).value for piece in pieces)


def step_as_typed(texts: Sequence[str], system: str) -> float:
    """Give the finest step of an indicator by the last digit of its readings, in mm; 0 for fractions.

    `0.05 mm` was read to 0.01 mm, `2 thou` to a thousandth of an inch.
    """
    steps = []
    for piece in (piece for text in texts for piece in parted(text)):
        digits = _DIGITS.search(piece)
        if digits is None or "/" in piece:
            return 0.0
        last = re.sub(r"\d", "0", digits[0][:-1]) + "1"
        steps.append(read(piece[: digits.start()] + last + piece[digits.end() :], Kind.LENGTH, system).value)
    return min(steps, default=0.0)


def read_decay(text: str, frequency_hz: float | None) -> tuple[float, float | None]:
    """Read how a ring dies away.

    Args:
        text: as DECAY_HINT lists.
        frequency_hz: at which it rings; needed where only a time is told.

    Returns:
        Damping ratio, and the frequency where the text itself tells it.

    Raises:
        InputError: it can't be read.
    """
    plain = " ".join(text.lower().split())
    for pattern, reckon in _WAYS:
        if found := pattern.fullmatch(plain):
            return reckon([_number(group) for group in found.groups() if group], frequency_hz), None
    if found := _DROP_TIME.fullmatch(plain) or _T60.fullmatch(plain):
        *numbers, unit = found.groups()
        drop, time = numbers if len(numbers) == 2 else ("60", numbers[0])
        seconds = _number(time) / (1000.0 if unit == "ms" else 1.0)
        if frequency_hz is None:
            raise InputError(f"{text!r} is a time: at what frequency does it ring?", '--frequency "92 Hz"')
        return damping_from_decibels(_number(drop), frequency_hz * seconds), None
    if "hz" in plain:
        low, high = read_range(plain.removeprefix("band ").removeprefix("from "), Kind.FREQUENCY)
        return damping_from_band(low.value, high.value)
    try:
        ratio = read(text, Kind.RATIO).value
    except BadQuantity as error:
        raise InputError(f"{text!r} tells no decay", DECAY_HINT) from error
    if not 0.0 < ratio < 1.0:
        raise InputError(f"damping ratio {text} can't be", "between 0 and 1; 0.03 or 3 % is usual")
    return ratio, None


def _number(text: str) -> float:
    return float(text.replace(",", "."))


Numbers = Sequence[float]
_WAYS: tuple[tuple[re.Pattern[str], Callable[[Numbers, float | None], float]], ...] = (
    (_FELL, lambda n, _: damping_from_ratio(n[0] / n[1] if n[1] else 0.0, n[2])),
    (_DROP, lambda n, _: damping_from_decibels(n[0], n[1])),
    (_PART, lambda n, _: damping_from_ratio(n[0] / 100.0, n[1])),
    (_HALF, lambda n, _: damping_from_ratio(2.0, n[0])),
    (_RATIO, lambda n, _: damping_from_ratio(n[0], n[1])),
)
