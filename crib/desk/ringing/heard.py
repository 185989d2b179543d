"""Which mode rings? What each point of a set-up would sound like and mark, against what was heard."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

from crib.desk.ringing.holding import Held, Point
from crib.trade.rigidity.chatter import chatter_frequency, wave_length
from crib.trade.rigidity.setup import Setup

FITS_BELOW, FITS_ABOVE = 0.95, 1.2
"""Chatter rings from just under the natural frequency, as read, to a fifth above it, high up in a lobe."""
MOST_A_TURN, SAME_PITCH = 8, 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class Mode:
    """How one point of a set-up would sound and mark.

    Attributes:
        point: its name; empty where there is only one.
        frequency_hz: natural frequency there.
        chatter_hz: pitch at which it starts to ring.
        marks_mm: spacing of its marks at the present cutting speed; null where that is not told.
        off: part by which what was heard lies above that pitch; null where nothing was heard.
        fits: it can be what was heard.
    """

    point: str
    frequency_hz: float
    chatter_hz: float
    marks_mm: float | None
    off: float | None
    fits: bool


def modes_of(
    setup: Setup, held: Held | None, vc_m_min: float | None, heard_hz: float | None
) -> tuple[Mode, ...]:
    """Give every point of a set-up as it would sound, nearest to what was heard first.

    Args:
        setup: that is reckoned with.
        held: the kept set-up behind it.
        vc_m_min: cutting speed, where it is told.
        heard_hz: pitch that was heard.
    """
    points: Sequence[Point] = held.points if held else (Point(name="", setup=setup),)
    found = [_mode(one, vc_m_min, heard_hz) for one in points]
    if heard_hz is not None:
        found.sort(key=lambda mode: abs(log(heard_hz / mode.chatter_hz)))
    return tuple(found)


def _mode(point: Point, vc_m_min: float | None, heard_hz: float | None) -> Mode:
    setup = point.setup
    pitch = chatter_frequency(setup.frequency_hz, setup.damping_ratio)
    ratio = heard_hz / setup.frequency_hz if heard_hz else None
    return Mode(
        point=point.name,
        frequency_hz=setup.frequency_hz,
        chatter_hz=pitch,
        marks_mm=wave_length(vc_m_min, pitch) if vc_m_min else None,
        off=None if heard_hz is None else heard_hz / pitch - 1.0,
        fits=ratio is not None and FITS_BELOW <= ratio <= FITS_ABOVE,
    )


def what_rings(modes: Sequence[Mode], heard_hz: float, n_rev_min: float | None) -> str:
    """Say which of the modes it can be that was heard.

    Args:
        modes: from `modes_of`.
        heard_hz: pitch that was heard.
        n_rev_min: spindle speed, where it is told.
    """
    fitting = [mode for mode in modes if mode.fits]
    if turning(heard_hz, n_rev_min):
        rest = f"; {_named(fitting[0])} would fit too" if fitting else ""
        return f"{heard_hz:.0f} Hz goes with the turning: look at jaws, gears, balance first{rest}."
    if not fitting:
        near = modes[0]
        return (
            f"{heard_hz:.0f} Hz is none of these ({_named(near)} would ring at {near.chatter_hz:.0f} Hz): "
            "tap tool, post and work one by one, and look for what rings so."
        )
    names = " or ".join(_named(mode) for mode in fitting)
    return (
        f"{heard_hz:.0f} Hz fits {names}: stiffen or damp it there; less depth or another nose helps there."
    )


def turning(heard_hz: float | None, n_rev_min: float | None) -> tuple[str, ...]:
    """Say where a pitch is a small multiple of the turning: then it can be forced, not chatter."""
    if heard_hz is None or n_rev_min is None:
        return ()
    times = heard_hz * 60.0 / n_rev_min
    whole = round(times)
    if not 1 <= whole <= MOST_A_TURN or abs(times / whole - 1.0) > SAME_PITCH:
        return ()
    return (
        f"{heard_hz:.0f} Hz is {whole} times a turn: it may be forced (jaws, gears, balance), not chatter",
    )


def _named(mode: Mode) -> str:
    where = f"'{mode.point}'" if mode.point else "this set-up"
    return f"{where} at {mode.frequency_hz:.4g} Hz"
