"""Spindle speed and feed that the machine really has.

Source: vc = pi D n / 1000 by definition; the nearest speed not above the wanted one as in US Army OD1645,
pp. 50-52 (key cut_army_lathe).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite, pi

from crib.errors import InputError

STEP_SOURCE = "cut_army_lathe"
_SAME = 1e-9
"""Relative slack within which a computed speed is the step itself: rounding of floats, not of the machine."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineSpeeds:
    """The spindle speeds (or feeds) that a machine has: steps of a gearbox, or a range.

    Attributes:
        steps: the speeds on the chart, in rev/min (feeds: mm/rev); empty for a stepless drive.
        low: slowest of a stepless drive.
        high: fastest of a stepless drive.

    Raises:
        InputError: neither steps nor a range, both, or a value that isn't positive.
    """

    steps: tuple[float, ...] = ()
    low: float | None = None
    high: float | None = None

    def __post_init__(self) -> None:
        if self.steps:
            if self.low is not None or self.high is not None:
                raise InputError("a machine has either speed steps or a range, not both", "give one of them")
            _positive("a step of the machine", *self.steps)
            return
        if self.low is None or self.high is None:
            raise InputError("the machine's speeds are missing", "give its steps, or its lowest and highest")
        _positive("an end of the machine's range", self.low, self.high)
        if self.low > self.high:
            raise InputError(
                f"the machine's range runs backwards: {self.low:g} to {self.high:g}",
                "give the lower one first",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What the machine can do nearest to what was wanted.

    Attributes:
        value: the speed in rev/min, or the feed in mm/rev.
        wanted: what was asked for.
        too_high: even the machine's lowest is above what was wanted.
        note: said when that is so; else empty.
    """

    value: float
    wanted: float
    too_high: bool
    note: str


def spindle_speed(vc_m_min: float, d_mm: float) -> float:
    """Give the spindle speed for a cutting speed.

    Args:
        vc_m_min: cutting speed in m/min.
        d_mm: diameter where it cuts, in mm: before the cut when turning, the finished bore when boring.

    Returns:
        Speed in rev/min: n = 1000 vc / (pi D).

    Raises:
        InputError: a value that isn't positive.
    """
    _positive("a cutting speed", vc_m_min)
    _positive("a diameter", d_mm)
    return 1000.0 * vc_m_min / (pi * d_mm)


def cutting_speed(n_rev_min: float, d_mm: float) -> float:
    """Give the cutting speed in m/min at a spindle speed in rev/min and a diameter in mm.

    Raises:
        InputError: a value that isn't positive.
    """
    _positive("a spindle speed", n_rev_min)
    _positive("a diameter", d_mm)
    return pi * d_mm * n_rev_min / 1000.0


def nearest_not_above(n_rev_min: float, speeds: MachineSpeeds) -> Chosen:
    """Give the fastest spindle speed of the machine that isn't above the wanted one.

    Args:
        n_rev_min: wanted speed in rev/min.
        speeds: what the machine has.

    Returns:
        The speed; its slowest, and said so, when even that is too fast.

    Raises:
        InputError: the wanted speed isn't positive.
    """
    return _not_above(n_rev_min, speeds, "spindle speed", "rev/min")


def nearest_feed_not_above(f_mm: float, feeds: MachineSpeeds) -> Chosen:
    """Give the largest feed of the machine, in mm/rev, that isn't above the wanted one.

    Raises:
        InputError: the wanted feed isn't positive.
    """
    return _not_above(f_mm, feeds, "feed", "mm/rev")


def _not_above(wanted: float, speeds: MachineSpeeds, what: str, unit: str) -> Chosen:
    _positive(f"a {what}", wanted)
    limit = wanted * (1.0 + _SAME)
    if speeds.steps:
        fitting: Sequence[float] = [step for step in speeds.steps if step <= limit]
        slowest = min(speeds.steps)
    else:
        slowest = speeds.low if speeds.low is not None else 0.0
        highest = speeds.high if speeds.high is not None else inf
        fitting = [min(wanted, highest)] if slowest <= limit else []
    if fitting:
        return Chosen(value=max(fitting), wanted=wanted, too_high=False, note="")
    note = f"the machine's lowest {what}, {slowest:g} {unit}, is above the {wanted:.4g} {unit} wanted"
    return Chosen(value=slowest, wanted=wanted, too_high=True, note=note)


def _positive(what: str, *values: float) -> None:
    for value in values:
        if not (value > 0 and isfinite(value)):
            raise InputError(f"{what} of {value:g} can't be", "it must be more than zero")
