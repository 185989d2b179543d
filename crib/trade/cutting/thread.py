"""Cutting a thread in passes of about the same chip.

A thread tool cuts wider the deeper it stands, so even steps would load the last pass most. With the depth
reached growing as the root of the pass number each pass takes about the same area.

Source: depths from the basic profile, ISO 68-1 and ASME B1.1; infeed: key thread_infeed; number of passes:
table "thread_passes".
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite, sqrt

from crib.errors import InputError

Row = Mapping[str, str]

INFEED_SOURCE = "thread_infeed"
_HEIGHT = sqrt(3.0) / 2.0
_FIRST = 0.3
"""What the first pass counts for: less than a full share, the tip alone cuts (published guides)."""
LEAST_MM = 0.05
"""Thinner last passes rub and harden (published guides)."""
MOST_MM = 0.5
"""Deeper single passes break tips (published guide)."""
_MOST_PASSES = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadPass:
    """One pass of a thread: its number, the depth it takes and the depth reached, both radial."""

    number: int
    ap_mm: float
    depth_mm: float


def external_depth_mm(pitch_mm: float) -> float:
    """Give the depth of an external 60° thread, rounded root: h3 = 17/24 H = 0.6134 P."""
    _positive("a pitch", pitch_mm)
    return 17.0 / 24.0 * _HEIGHT * pitch_mm


def internal_depth_mm(pitch_mm: float) -> float:
    """Give the depth of an internal 60° thread: H1 = 5/8 H = 0.5413 P."""
    _positive("a pitch", pitch_mm)
    return 5.0 / 8.0 * _HEIGHT * pitch_mm


def thread_feed_mm(pitch_mm: float, starts: int = 1) -> float:
    """Give the feed per revolution: the lead, pitch times starts."""
    _positive("a pitch", pitch_mm)
    if starts < 1:
        raise InputError(f"a thread of {starts} starts can't be", "it has one or more")
    return pitch_mm * starts


def usual_passes(pitch_mm: float, rows: Callable[[str], tuple[Row, ...]]) -> tuple[int, int, str]:
    """Give how many passes a 60° thread usually takes: least, most, and source keys.

    Between printed pitches the next coarser one is taken.

    Args:
        pitch_mm: pitch.
        rows: reader of one table by name.

    Raises:
        InputError: a pitch coarser than any printed, or none at all.
    """
    _positive("a pitch", pitch_mm)
    for row in rows("thread_passes"):
        if pitch_mm <= float(row["pitch_max_mm"]):
            return int(row["least"]), int(row["most"]), row["source"]
    raise InputError(
        f"a pitch of {pitch_mm:g} mm is coarser than the printed ones", "count the passes yourself"
    )


def thread_passes(depth_mm: float, count: int) -> tuple[ThreadPass, ...]:
    """Plan the passes of a thread: depth reached = depth sqrt(phi / (N - 1)) with phi 0.3, 1, 2, 3.

    Args:
        depth_mm: whole radial depth.
        count: number of passes, two or more.

    Raises:
        InputError: a depth or number that can't be.
    """
    _positive("a thread depth", depth_mm)
    if not 2 <= count <= _MOST_PASSES:
        raise InputError(f"a thread in {count} passes can't be planned", f"give 2 to {_MOST_PASSES}")
    shares = (0.0, _FIRST, *range(1, count))
    reached = [depth_mm * sqrt(share / (count - 1)) for share in shares]
    return tuple(
        ThreadPass(number=number, ap_mm=after - before, depth_mm=after)
        for number, (before, after) in enumerate(pairwise(reached), start=1)
    )


def thread_warnings(passes: tuple[ThreadPass, ...]) -> tuple[str, ...]:
    """Say where planned passes are too deep or too thin."""
    said = []
    deepest = max(one.ap_mm for one in passes)
    if deepest > MOST_MM:
        said.append(f"a pass takes {deepest:.2f} mm: more than {MOST_MM:g} mm breaks tips; plan more passes")
    if passes[-1].ap_mm < LEAST_MM:
        said.append(
            f"the last pass takes {passes[-1].ap_mm:.3f} mm: under {LEAST_MM:g} mm rubs; plan fewer passes"
        )
    return tuple(said)


def _positive(what: str, value: float) -> None:
    if not (value > 0.0 and isfinite(value)):
        raise InputError(f"{what} of {value:g} can't be", "it must be more than zero")
