"""Stiffness, damping and moving mass of a set-up from what a shop can measure: a push, a tap, a copied step.

A push test gives the static stiffness; a tap gives natural frequency and damping; both together the modal
mass. Without a force to push with, a known mass clamped on lowers the frequency and tells mass and stiffness.

Source: keys measure_push, measure_decay, measure_mass, bar_copying.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import exp, inf, isfinite, log, pi, sqrt

from crib.errors import InputError, TableError

PUSH_SOURCE = "measure_push"
DECAY_SOURCE = "measure_decay"
MASS_SOURCE = "measure_mass"
CLAMP_SOURCE = "bar_clamp"


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuringRules:
    """One attribute a row of the table "measuring_rules"; what each means stands there, with its source."""

    one_tap_share: float
    force_error: float
    fine_share: float
    coarse_share: float
    clamp_low: float
    clamp_high: float
    clamp_frequency_low: float
    clamp_frequency_high: float

    @property
    def clamp(self) -> float:
        """What is reckoned of a bar's ideal stiffness: the middle of what a real clamp leaves."""
        return (self.clamp_low + self.clamp_high) / 2.0

    @property
    def clamp_frequency(self) -> float:
        """The same of its frequency."""
        return (self.clamp_frequency_low + self.clamp_frequency_high) / 2.0

    @classmethod
    def load(cls, rows: Iterable[Mapping[str, str]]) -> "MeasuringRules":
        """Build from the rows of the table.

        Raises:
            TableError: a row is missing, or one too many.
        """
        try:
            return cls(**{row["name"]: float(row["value"]) for row in rows})
        except TypeError as error:
            raise TableError(f"table measuring_rules: {error}") from error


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """A measured figure and the band that its readings leave; `high` is infinite where they leave it open."""

    value: float
    low: float
    high: float

    @property
    def spread(self) -> float:
        """How far the wider side of the band lies from the figure, as a share of it."""
        return max(self.high - self.value, self.value - self.low) / self.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Push:
    """A push test.

    Attributes:
        k_N_mm: stiffness with the band that the readings' steps leave.
        lost_motion_mm: how far the readings on the way back lie off the line; None where none were taken.
        misfit_mm: how far the readings of the way up lie off the line at most.
        used: readings that the line is drawn through.
    """

    k_N_mm: Estimate
    lost_motion_mm: float | None
    misfit_mm: float
    used: int


def push_test(
    forces_N: Sequence[float],
    deflections_mm: Sequence[float],
    *,
    step_mm: float = 0.0,
    force_error: float = 0.0,
    preload_N: float = 0.0,
) -> Push:
    """Give the stiffness from forces and the deflections read at them, in the order in which they were taken.

    The line is drawn through the readings on the way up, from the preload on, by least squares with the
    deflection as what may be misread. One reading alone is taken together with zero force, zero deflection.

    Args:
        forces_N: forces.
        deflections_mm: deflections.
        step_mm: finest step of the indicator: each reading may be out by half of it.
        force_error: part by which all forces may be out.
        preload_N: below it the play is taken up: such readings are left out.

    Raises:
        InputError: readings that don't pair, or from which no stiffness follows.
    """
    if len(forces_N) != len(deflections_mm) or not forces_N:
        raise InputError(
            f"{len(forces_N)} forces and {len(deflections_mm)} deflections don't pair",
            "one deflection for each force, in the order taken",
        )
    pairs = list(zip(forces_N, deflections_mm, strict=True))
    if len(pairs) == 1:
        pairs = [(0.0, 0.0), *pairs]
    turn = max(at for at, (force, _) in enumerate(pairs) if force == max(forces_N))
    up = [(force, x) for force, x in pairs[: turn + 1] if force >= preload_N]
    slope, start, lever = _line(up)
    play = lever * step_mm / 2.0
    back = [x - start - slope * force for force, x in pairs[turn + 1 :] if force >= preload_N]
    return Push(
        k_N_mm=Estimate(
            value=1.0 / slope,
            low=(1.0 - force_error) / (slope + play),
            high=(1.0 + force_error) / (slope - play) if slope > play else inf,
        ),
        lost_motion_mm=sum(back) / len(back) if back else None,
        misfit_mm=max(abs(x - start - slope * force) for force, x in up),
        used=len(up),
    )


def _line(pairs: Sequence[tuple[float, float]]) -> tuple[float, float, float]:
    """Give slope and start of the line of deflection over force, and slope error per error of a reading."""
    mean_F = sum(force for force, _ in pairs) / max(len(pairs), 1)
    mean_x = sum(x for _, x in pairs) / max(len(pairs), 1)
    size = sum((force - mean_F) ** 2 for force, _ in pairs)
    if len(pairs) < 2 or size == 0.0:
        raise InputError(
            "the readings hold one force only", "at least two different forces above the preload"
        )
    slope = sum((force - mean_F) * (x - mean_x) for force, x in pairs) / size
    if not (slope > 0.0 and isfinite(slope)):
        raise InputError("the deflection does not grow with the force", "more force, or a finer indicator")
    return slope, mean_x - slope * mean_F, sum(abs(force - mean_F) for force, _ in pairs) / size


def wanted_push_N(k_N_mm: float, step_mm: float, share: float) -> float:
    """Give the force at which one step of the indicator is only so large a share of the deflection.

    Args:
        k_N_mm: stiffness, roughly.
        step_mm: finest step of the indicator.
        share: wanted, for example 0.05.
    """
    return k_N_mm * step_mm / share


def damping_from_ratio(ratio: float, cycles: float) -> float:
    """Give the damping ratio from how many times the swing fell in how many cycles (decrement).

    Args:
        ratio: first amplitude over last; below 1 it is taken the other way round.
        cycles: from the first to the last.

    Raises:
        InputError: no decay, or no cycles.
    """
    _positive("a ratio of amplitudes", ratio)
    _positive("a number of cycles", cycles)
    decrement = abs(log(ratio)) / cycles
    if decrement == 0.0:
        raise InputError("the swing does not fall", "give how much smaller it is after some cycles")
    return decrement / sqrt(4.0 * pi * pi + decrement * decrement)


def damping_from_decibels(drop_db: float, cycles: float) -> float:
    """Give the damping ratio from a drop in decibels over a number of cycles.

    Raises:
        InputError: no drop, or no cycles.
    """
    _positive("a drop in decibels", drop_db)
    return damping_from_ratio(exp(drop_db / 20.0 * log(10.0)), cycles)


def damping_from_band(low_hz: float, high_hz: float) -> tuple[float, float]:
    """Give damping ratio and natural frequency from the two frequencies at which a peak has fallen by 3 dB.

    Raises:
        InputError: no such band.
    """
    _positive("a frequency", low_hz)
    if not high_hz > low_hz:
        raise InputError(f"a band from {low_hz:g} to {high_hz:g} Hz can't be", "its lower end first")
    middle = (low_hz + high_hz) / 2.0
    return (high_hz - low_hz) / (2.0 * middle), middle


def modal_mass_kg(k_N_mm: float, frequency_hz: float) -> float:
    """Give the mass that swings: k / (2 pi f)²."""
    _positive("a stiffness", k_N_mm)
    _positive("a frequency", frequency_hz)
    return 1000.0 * k_N_mm / (2.0 * pi * frequency_hz) ** 2


def modal_stiffness_N_mm(mass_kg: float, frequency_hz: float) -> float:
    """Give the stiffness of the ringing mode from its mass: m (2 pi f)²."""
    _positive("a mass", mass_kg)
    _positive("a frequency", frequency_hz)
    return mass_kg * (2.0 * pi * frequency_hz) ** 2 / 1000.0


def mass_from_added(added_kg: float, frequency_hz: float, with_mass_hz: float) -> float:
    """Give the modal mass from the frequency with and without a known mass clamped where the tool cuts.

    Args:
        added_kg: clamped on.
        frequency_hz: without it.
        with_mass_hz: with it.

    Raises:
        InputError: the frequency does not fall.
    """
    _positive("an added mass", added_kg)
    _positive("a frequency", with_mass_hz)
    if not frequency_hz > with_mass_hz:
        raise InputError(
            f"with the mass on it rings at {with_mass_hz:g} Hz, without at {frequency_hz:g} Hz: it must fall",
            "the frequency without the mass first; clamp the mass tight, where the tool cuts",
        )
    return added_kg / ((frequency_hz / with_mass_hz) ** 2 - 1.0)


def stiffness_from_step(Fp_on_N: float, Fp_off_N: float, left_mm: float) -> float:
    """Give the stiffness from a step in the stock that one pass copied.

    Args:
        Fp_on_N: passive force where the stock stood higher.
        Fp_off_N: passive force beside it.
        left_mm: the step that is left, on the side.

    Raises:
        InputError: nothing is left, or the force does not grow with depth.
    """
    _positive("a step that is left", left_mm)
    if not Fp_on_N > Fp_off_N:
        raise InputError(
            "in this cut the push does not grow with depth: a step tells nothing",
            "cut it with a depth inside the nose, or with a larger nose",
        )
    return (Fp_on_N - Fp_off_N) / left_mm


def _positive(what: str, value: float) -> None:
    if not (isfinite(value) and value > 0.0):
        raise InputError(f"{what} of {value:g} can't be", "it must be more than zero")
