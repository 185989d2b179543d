"""Minutes of facing and turning where spindle speed or cutting speed is held.

Most manual lathes hold the spindle speed; a machine that holds the cutting speed does so until its spindle
can't turn faster, and from there to the centre runs at that cap.

Source: way over feed; textbooks on turning (key times_facing).
"""

from math import isfinite, pi

from crib.errors import InputError

FACING_SOURCE = "times_facing"


def facing_minutes(from_mm: float, to_mm: float, f_mm: float, n_rev_min: float) -> float:
    """Give the minutes of one facing cut at a held spindle speed: T = (D1 - D2) / (2 f n).

    Args:
        from_mm: diameter where it starts.
        to_mm: diameter where it ends; 0 for the centre.
        f_mm: feed in mm/rev.
        n_rev_min: spindle speed.

    Raises:
        InputError: a value that can't be.
    """
    way = _way(from_mm, to_mm)
    _positive("a feed", f_mm)
    _positive("a spindle speed", n_rev_min)
    return way / (f_mm * n_rev_min)


def facing_minutes_at_speed(
    from_mm: float, to_mm: float, f_mm: float, vc_m_min: float, n_most_rev_min: float
) -> float:
    """Give the minutes of one facing cut at a held cutting speed with a cap on the spindle.

    Down to the radius where the cap bites, T = pi (R² - r²) / (1000 f vc); from there at the cap.

    Args:
        from_mm: one diameter.
        to_mm: the other; 0 for the centre.
        f_mm: feed in mm/rev.
        vc_m_min: cutting speed.
        n_most_rev_min: fastest that the spindle may turn.

    Raises:
        InputError: a value that can't be.
    """
    _way(from_mm, to_mm)
    for what, value in (("a feed", f_mm), ("a cutting speed", vc_m_min), ("a spindle speed", n_most_rev_min)):
        _positive(what, value)
    inner, outer = sorted((from_mm / 2.0, to_mm / 2.0))
    cap = min(max(1000.0 * vc_m_min / (2.0 * pi * n_most_rev_min), inner), outer)
    return pi * (outer**2 - cap**2) / (1000.0 * vc_m_min * f_mm) + (cap - inner) / (f_mm * n_most_rev_min)


def turning_minutes_at_speed(d_mm: float, length_mm: float, f_mm: float, vc_m_min: float) -> float:
    """Give the minutes of one turning cut at a cutting speed: T = pi D L / (1000 f vc).

    Args:
        d_mm: diameter before the cut.
        length_mm: way of the tool, with approach and overrun.
        f_mm: feed in mm/rev.
        vc_m_min: cutting speed.

    Raises:
        InputError: a value that isn't positive.
    """
    for what, value in (
        ("a diameter", d_mm),
        ("a length", length_mm),
        ("a feed", f_mm),
        ("a cutting speed", vc_m_min),
    ):
        _positive(what, value)
    return pi * d_mm * length_mm / (1000.0 * f_mm * vc_m_min)


def _way(from_mm: float, to_mm: float) -> float:
    for size in (from_mm, to_mm):
        if not (size >= 0.0 and isfinite(size)):
            raise InputError(f"a diameter of {size:g} mm can't be", "give 0 for the centre, or more")
    if from_mm == to_mm:
        raise InputError(f"facing from {from_mm:g} to {to_mm:g} mm goes nowhere", "give two diameters")
    return abs(from_mm - to_mm) / 2.0


def _positive(what: str, value: float) -> None:
    if not (value > 0.0 and isfinite(value)):
        raise InputError(f"{what} of {value:g} can't be", "it must be more than zero")
