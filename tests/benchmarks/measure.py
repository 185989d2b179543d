"""Measuring: what a case reports, rounds in turns, and child processes that start as users' do."""

import compileall
import os
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """How much to do.

    Attributes:
        rounds: rounds of whole processes; the median counts.
        quick: few and small rounds: to see that everything runs, not to believe the figures.
        full: also what takes minutes (a million items).
        stores: where big stores are made, or are kept from an earlier run.
    """

    rounds: int
    quick: bool
    full: bool
    stores: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """One line of the table.

    Attributes:
        what: what was measured.
        floor: what it is compared with, measured in the same run.
        floor_ms, ours_ms: medians.
        budget: how many times the floor is allowed; None where the line only informs.
        also: a second condition that must hold, in words; empty when there is none.
        also_holds: whether it does.
    """

    what: str
    floor: str
    floor_ms: float
    ours_ms: float
    budget: float | None
    also: str = ""
    also_holds: bool = True

    @property
    def ratio(self) -> float:
        return self.ours_ms / self.floor_ms

    @property
    def verdict(self) -> str:
        if self.budget is None:
            return "–" if self.also_holds else "over"
        return "ok" if self.ratio <= self.budget and self.also_holds else "over"


def interleaved(
    cases: Mapping[str, Callable[[], object]], rounds: int, clock: Callable[[], float] = time.perf_counter
) -> dict[str, float]:
    """Give the median ms of each case; each round runs all of them, one warm-up round first.

    Args:
        cases: what to run.
        rounds: how often.
        clock: the wall's, or time.process_time for sums in this process, which others can't hold up.
    """
    taken: dict[str, list[float]] = {name: [] for name in cases}
    for number in range(rounds + 1):
        for name, run in cases.items():
            began = clock()
            run()
            if number:
                taken[name].append(1000 * (clock() - began))
    return {name: median(times) for name, times in taken.items()}


def environment(**changes: str) -> dict[str, str]:
    """Give a child's environment: byte code is written and used, nothing of the user's own is read."""
    kept = {key: os.environ[key] for key in ("PATH", "LANG", "LC_ALL", "TMPDIR") if key in os.environ}
    return {**kept, "PYTHONPATH": str(ROOT), "HOME": "/nonexistent", "PYTHONUTF8": "1", **changes}


def process(arguments: Sequence[str], env: Mapping[str, str]) -> Callable[[], None]:
    """Give a case that runs Python as a process of its own; it must succeed."""

    def run() -> None:
        subprocess.run(
            [sys.executable, *arguments], env=dict(env), check=True, cwd=ROOT,
            stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
        )  # fmt: skip

    return run


def compile_all() -> None:
    """Write the byte code of the checkout, so that no round pays for compiling."""
    compileall.compile_dir(ROOT / "crib", quiet=1)
    compileall.compile_dir(ROOT / "tests" / "benchmarks", quiet=1)


def percentile(times: Sequence[float], share: float) -> float:
    """Give the time that `share` of all stay below (nearest rank)."""
    ordered = sorted(times)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]
