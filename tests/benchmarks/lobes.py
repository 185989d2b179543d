"""The stability chart of 2,000 speeds against the same sums done for all speeds at once by NumPy."""

import time
from collections.abc import Iterator

import numpy as np

from crib.trade.rigidity import chatter
from tests.benchmarks.measure import Plan, Result, interleaved

SPEEDS = [40.0 + n for n in range(2000)]
K_N_MM, FREQUENCY_HZ, DAMPING, CUT_N_MM2 = 5000.0, 120.0, 0.03, 1200.0
STEPS = 8  # of Newton, for the slowest of them


def chart(plan: Plan) -> Iterator[Result]:
    """Stability chart."""
    if not np.allclose(vectorised(), plain(), rtol=1e-9):
        raise AssertionError("the floor draws another chart")
    took = interleaved({"floor": vectorised, "ours": plain}, 5 if plan.quick else 25, time.process_time)
    yield Result(
        what=f"stability chart of one mode, {len(SPEEDS):,} speeds",
        floor="the same sums for all speeds at once, NumPy imported already",
        floor_ms=took["floor"],
        ours_ms=took["ours"],
        budget=None,
    )


def plain() -> list[float]:
    """Draw it as crib does, without NumPy."""
    drawn = chatter.lobes(
        SPEEDS,
        k_N_mm=K_N_MM,
        frequency_hz=FREQUENCY_HZ,
        damping_ratio=DAMPING,
        depth_of=lambda allowed: allowed / CUT_N_MM2,
    )
    return [point.b_lim_mm or 0.0 for point in drawn]


def vectorised() -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    """Draw it with arrays: the two lobes beside each speed, by Newton's method, and the lower of them."""
    width, worst = 2.0 * DAMPING, np.sqrt(1.0 + 2.0 * DAMPING)
    waves = 60.0 * FREQUENCY_HZ / np.array(SPEEDS)
    place = waves * worst - 1.0 - np.arctan((1.0 - worst * worst) / (width * worst)) / np.pi
    number = np.maximum(0.0, np.stack((np.floor(place), np.ceil(place))))
    ratio = np.maximum(1.0, (number + 0.5) / waves)
    for _ in range(STEPS):
        beyond, lag = ratio * ratio - 1.0, width * ratio
        over = number + 1.0 - np.arctan(beyond / lag) / np.pi - waves * ratio
        ratio = ratio + over / (
            waves + width * (ratio * ratio + 1.0) / (np.pi * (beyond * beyond + lag * lag))
        )
    beyond = np.maximum(ratio * ratio - 1.0, 1e-300)
    allowed = (beyond * beyond + (width * ratio) ** 2) / (2.0 * beyond)
    allowed = np.where((number + 1.0 > waves) & (ratio > 1.0), allowed, np.inf).min(axis=0)
    lowest: np.ndarray[tuple[int, ...], np.dtype[np.float64]] = np.maximum(
        2.0 * K_N_MM * DAMPING * (1.0 + DAMPING), K_N_MM * allowed
    )
    return lowest / CUT_N_MM2
