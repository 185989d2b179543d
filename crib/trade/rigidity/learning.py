"""What cuts on a set-up taught of its chatter limit.

Each logged cut was made at a known regenerative stiffness K. Clean, it says that the limit lies above; with
chatter, below; with mere marks, that it was about there. Before any cut the limit is believed to lie around
the one reckoned from stiffness and damping, within a stated factor; Bayes' rule does the rest, on a grid of
limits. K itself is known only within a factor, the doubt; cuts that contradict each other raise it by their
overlap, so they widen the answer and never break it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import erfc, exp, inf, isfinite, log, sqrt

from crib.errors import InputError, TableError

CLEAN, RANG, MARKED = "clean", "chatter", "marks"
RESULTS = (CLEAN, RANG, MARKED)
_STEPS = 240  # of the grid
_REACH = 4.0  # how many widths of the prior it spans, beyond what the cuts span
_LEAST = 1e-300  # below any probability that counts


@dataclass(frozen=True, slots=True, kw_only=True)
class LearningRules:
    """What is believed before any cut, from the table "learning_rules".

    Attributes:
        prior_measured: factor within which (one sigma) a limit from measured figures lies.
        prior_assumed: the same from assumed figures.
        doubt: factor within which the regenerative stiffness of a cut is known.
        band: part of the belief that the stated band holds.
    """

    prior_measured: float
    prior_assumed: float
    doubt: float
    band: float

    @classmethod
    def load(cls, rows: Iterable[Mapping[str, str]]) -> "LearningRules":
        """Build from the rows of the table.

        Raises:
            TableError: a row is missing, or one too many.
        """
        try:
            return cls(**{row["name"]: float(row["value"]) for row in rows})
        except TypeError as error:
            raise TableError(f"table learning_rules: {error}") from error


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One cut that tells something: regenerative stiffness in N/mm, and one of `RESULTS`."""

    K_N_mm: float
    result: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """The limit of a set-up after the cuts on it, as regenerative stiffness in N/mm.

    Attributes:
        N_mm: taken as: as likely too high as too low.
        low_N_mm, high_N_mm: band that holds the stated part of the belief.
        reckoned_N_mm: before any cut.
        clean, rang, marked: how many cuts of each sort.
        clean_to_N_mm: the stiffest that was clean; None without one.
        rang_from_N_mm: the softest that rang; None without one.
        contradictory: a stiffer cut was clean than one that rang.
    """

    N_mm: float
    low_N_mm: float
    high_N_mm: float
    reckoned_N_mm: float
    clean: int
    rang: int
    marked: int
    clean_to_N_mm: float | None
    rang_from_N_mm: float | None
    contradictory: bool


def learn(reckoned_N_mm: float, trials: Sequence[Trial], rules: LearningRules, *, assumed: bool) -> Limit:
    """Give the limit of a set-up from what was reckoned and what was cut.

    Args:
        reckoned_N_mm: limit from stiffness and damping, 2 k zeta (1 + zeta).
        trials: the cuts; with none the limit is as reckoned.
        rules: what is believed before.
        assumed: the figures behind the reckoned limit are not all measured.

    Raises:
        InputError: a limit, stiffness or result that can't be.

    Source: Bayes' rule with a lognormal prior and a probit likelihood (keys learn_bayes, learn_prior).
    """
    _check(reckoned_N_mm, trials)
    width = log(rules.prior_assumed if assumed else rules.prior_measured)
    stiff = {result: [log(one.K_N_mm) for one in trials if one.result == result] for result in RESULTS}
    clean_to, rang_from = max(stiff[CLEAN], default=-inf), min(stiff[RANG], default=inf)
    doubt = log(rules.doubt) + max(0.0, clean_to - rang_from)
    centre = log(reckoned_N_mm)
    spans = (centre, *(at for ats in stiff.values() for at in ats))
    low, high = min(spans) - _REACH * width, max(spans) + _REACH * width
    grid = [low + (high - low) * step / _STEPS for step in range(_STEPS + 1)]
    logs = [_belief(at, centre, width, stiff, doubt) for at in grid]
    top = max(logs)
    share = [exp(one - top) for one in logs]
    outside = (1.0 - rules.band) / 2.0
    lower, middle, upper = (exp(at) for at in _quantiles(grid, share, (outside, 0.5, 1.0 - outside)))
    return Limit(
        N_mm=middle,
        low_N_mm=lower,
        high_N_mm=upper,
        reckoned_N_mm=reckoned_N_mm,
        clean=len(stiff[CLEAN]),
        rang=len(stiff[RANG]),
        marked=len(stiff[MARKED]),
        clean_to_N_mm=exp(clean_to) if stiff[CLEAN] else None,
        rang_from_N_mm=exp(rang_from) if stiff[RANG] else None,
        contradictory=clean_to > rang_from,
    )


def damping_for(limit_N_mm: float, k_N_mm: float) -> float:
    """Give the damping ratio with which a stiffness has just that limit: 2 k zeta (1 + zeta) solved for zeta.

    Damping is the figure of a set-up that is known least; what cuts taught is best put there.

    Args:
        limit_N_mm: as regenerative stiffness.
        k_N_mm: stiffness of the set-up.
    """
    return (sqrt(1.0 + 2.0 * limit_N_mm / k_N_mm) - 1.0) / 2.0


def _check(reckoned_N_mm: float, trials: Sequence[Trial]) -> None:
    for value in (reckoned_N_mm, *(one.K_N_mm for one in trials)):
        if not (isfinite(value) and value > 0.0):
            raise InputError(f"a stiffness of {value:g} N/mm can't be", "it is more than zero")
    for one in trials:
        if one.result not in RESULTS:
            raise InputError(f"{one.result!r} tells nothing of a limit", "one of: " + ", ".join(RESULTS))


def _belief(
    at: float, centre: float, width: float, stiff: Mapping[str, Sequence[float]], doubt: float
) -> float:
    """Give the logarithm of the belief in a limit (both as logarithms), up to a constant."""
    found = -((at - centre) ** 2) / (2.0 * width * width)
    found += sum(_log_share((at - K) / doubt) for K in (*stiff[CLEAN], *stiff[MARKED]))
    return found + sum(_log_share((K - at) / doubt) for K in (*stiff[RANG], *stiff[MARKED]))


def _log_share(sigmas: float) -> float:
    """Give the logarithm of the normal distribution up to so many sigmas."""
    return log(max(erfc(-sigmas / sqrt(2.0)) / 2.0, _LEAST))


def _quantiles(grid: Sequence[float], share: Sequence[float], wanted: Sequence[float]) -> list[float]:
    """Give where a belief on a grid reaches each of the wanted parts, in rising order, between its points."""
    areas = [0.0]
    for one, other in pairwise(share):
        areas.append(areas[-1] + (one + other) / 2.0)
    found, index = [], 1
    for part in wanted:
        target = part * areas[-1]
        while areas[index] < target:
            index += 1
        inside = (target - areas[index - 1]) / (areas[index] - areas[index - 1])
        found.append(grid[index - 1] + inside * (grid[index] - grid[index - 1]))
    return found
