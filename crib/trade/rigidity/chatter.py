"""Chatter: the regenerative stiffness of a cut against what the set-up allows.

A wave left by one turn changes the chip of the next. For vibration x along a unit vector u, a piece of edge
with normal n gets n·u x thicker; the force slope along n and the cutting force's, projected on u and summed,
are the regenerative stiffness K(depth, feed, geometry, u) in N/mm. One mode, no process damping: every
speed is stable while K < 2 k zeta (1 + zeta). For a straight edge and one direction K = Ks b, which is the
textbook limit b = 2 k zeta (1 + zeta) / Ks.

K sums slopes times chip width at mid-thickness; against an exact shift of the curved profile that is up to
16 % too much for f <= r/4 and about 30 % at f = r/2: on the safe side.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import atan, cos, floor, inf, pi, radians, sqrt
from operator import itemgetter
from typing import NamedTuple

from crib.errors import InputError
from crib.trade.cutting.force import ForceModel, Slopes, Work, force_slopes
from crib.trade.cutting.tool import CuttingTool
from crib.trade.rigidity.pressure import Rules
from crib.trade.rigidity.setup import Gives

_BISECTIONS = 60  # halves any bracket below the last digit of a float
_NEWTON_STEPS = 50  # two to six are needed
_NEAR, _LAST = 0.5, 1e-4  # steps, over the damping, from which on Halley's are taken; and the last one
_FEW = 5  # speeds between two lobes for which both are reckoned sooner than the crossing is found
_CHART_STEPS = 60  # depths reckoned inside the nose, and as many past it
_NOSE_STEPS = 12  # depths looked at inside the nose before the limit is bracketed


class Lobe(NamedTuple):
    """One point of the stability chart.

    Attributes:
        n_rev_min: spindle speed.
        allowed_N_mm: regenerative stiffness allowed at that speed.
        b_lim_mm: depth allowed there; None when no depth within reach chatters.
    """

    n_rev_min: float
    allowed_N_mm: float
    b_lim_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LobeUse:
    """Whether the gaps between lobes are of use at a speed.

    Attributes:
        useful: worth changing the speed for.
        number: of the nearest gap (0 is the widest, at the highest speed).
        gain: how many times the limit for all speeds that gap allows at best.
        best_n_rev_min: the speed at which it does.
        why: in words.
    """

    useful: bool
    number: int
    gain: float
    best_n_rev_min: float
    why: str


def project(slopes: Slopes, gives: Gives) -> float:
    """Give the regenerative stiffness of a cut along the direction in which a set-up gives, in N/mm.

    Args:
        slopes: sums over the engaged edge.
        gives: direction.

    Returns:
        Negative where the cut pulls the wave flat; such a cut chatters below the natural frequency.

    Source: oriented transfer function, Altintas, Manufacturing Automation, 2nd ed. 2012, ch. 4, with the
    local normal of each piece.
    """
    push = gives.away * gives.away * slopes.pp + gives.along * gives.along * slopes.ff
    push += 2.0 * gives.away * gives.along * slopes.pf
    return push + gives.down * (gives.away * slopes.cp + gives.along * slopes.cf)


def regenerative_stiffness(
    ap_mm: float, f_mm: float, tool: CuttingTool, work: Work, *, gives: Gives, model: ForceModel
) -> float:
    """Give the regenerative stiffness of one cut, in N/mm.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: what cuts.
        work: what is cut.
        gives: direction in which the set-up gives.
        model: constants of the force model.

    Raises:
        InputError: a depth, feed, nose, entering angle or material that can't be.
    """
    return project(force_slopes(ap_mm, f_mm, tool, work, model), gives)


def allowed_stiffness(k_N_mm: float, damping_ratio: float, *, negative: bool = False) -> float:
    """Give the regenerative stiffness that a set-up bears at every speed, in N/mm.

    Args:
        k_N_mm: stiffness of the set-up.
        damping_ratio: its damping.
        negative: for a cut whose regenerative stiffness is below 0 (its size is meant).

    Source: minimum of the real part of one mode, Tlusty; Altintas 2012, ch. 4.
    """
    if not (k_N_mm > 0.0 and 0.0 < damping_ratio < 1.0):
        raise InputError(
            f"stiffness {k_N_mm:g} N/mm with damping ratio {damping_ratio:g} can't be",
            "a stiffness above 0 and a damping ratio between 0 and 1",
        )
    return 2.0 * k_N_mm * damping_ratio * (1.0 - damping_ratio if negative else 1.0 + damping_ratio)


def margin(k_N_mm: float, damping_ratio: float, K_N_mm: float) -> float:
    """Give how far a cut stays from chatter: above 1 it is stable at every speed.

    Args:
        k_N_mm: stiffness of the set-up.
        damping_ratio: its damping.
        K_N_mm: regenerative stiffness of the cut.

    Returns:
        Allowed over present regenerative stiffness; infinite when the cut does not regenerate.
    """
    allowed = allowed_stiffness(k_N_mm, damping_ratio, negative=K_N_mm < 0.0)
    return allowed / abs(K_N_mm) if K_N_mm else inf


def straight_limit(k_N_mm: float, damping_ratio: float, Ks_N_mm2: float) -> float:
    """Give the textbook limit of chip width for all speeds, in mm.

    Args:
        k_N_mm: stiffness of the set-up.
        damping_ratio: its damping.
        Ks_N_mm2: cutting stiffness per width along the direction of vibration.
    """
    if not Ks_N_mm2 > 0.0:
        raise InputError(f"cutting stiffness {Ks_N_mm2:g} N/mm² can't be", "give a figure above 0")
    return allowed_stiffness(k_N_mm, damping_ratio) / Ks_N_mm2


def limit_depth(
    f_mm: float,
    tool: CuttingTool,
    work: Work,
    *,
    gives: Gives,
    k_N_mm: float,
    damping_ratio: float,
    model: ForceModel,
    ap_max_mm: float,
) -> float | None:
    """Give the depth up to which every speed is stable, in mm; None when no depth up to `ap_max_mm` chatters.

    Args:
        f_mm: feed per revolution.
        tool: what cuts.
        work: what is cut.
        gives: direction in which the set-up gives.
        k_N_mm: stiffness of the set-up.
        damping_ratio: its damping.
        model: constants of the force model.
        ap_max_mm: greatest depth of interest, for example what the edge can take.
    """
    return depth_for(
        allowed_stiffness(k_N_mm, damping_ratio),
        allowed_stiffness(k_N_mm, damping_ratio, negative=True),
        f_mm,
        tool,
        work,
        gives=gives,
        model=model,
        ap_max_mm=ap_max_mm,
    )


def depth_for(
    allowed_N_mm: float,
    allowed_negative_N_mm: float,
    f_mm: float,
    tool: CuttingTool,
    work: Work,
    *,
    gives: Gives,
    model: ForceModel,
    ap_max_mm: float,
) -> float | None:
    """Give the least depth whose regenerative stiffness reaches what is allowed; None when none does.

    Inside the nose the stiffness grows with depth in its own way; past it, every millimetre of flank adds the
    same, be it nothing (90°, giving away) or even less than nothing.

    Args:
        allowed_N_mm: allowed above 0.
        allowed_negative_N_mm: allowed size below 0.
        f_mm: feed per revolution.
        tool: what cuts.
        work: what is cut.
        gives: direction in which the set-up gives.
        model: constants of the force model.
        ap_max_mm: greatest depth of interest.
    """

    def excess(ap_mm: float) -> float:
        K = regenerative_stiffness(ap_mm, f_mm, tool, work, gives=gives, model=model)
        return K / allowed_N_mm - 1.0 if K >= 0.0 else -K / allowed_negative_N_mm - 1.0

    angle = cos(radians(tool.KAPR_deg))
    nose_mm = tool.RE_mm * (1.0 - angle) + f_mm * abs(angle)
    knee = min(nose_mm, ap_max_mm)
    shallow = 0.0
    for step in range(1, _NOSE_STEPS + 1):
        deep = knee * (step / _NOSE_STEPS) ** 2
        if deep > 0.0 and excess(deep) >= 0.0:
            return _crossing(excess, shallow, deep)
        shallow = deep
    if ap_max_mm > knee and excess(ap_max_mm) >= 0.0:
        return _crossing(excess, knee, ap_max_mm)
    return None


def depths_of(
    f_mm: float, tool: CuttingTool, work: Work, *, gives: Gives, model: ForceModel, ap_max_mm: float
) -> Callable[[float], float | None]:
    """Give what turns an allowed stiffness into the least depth that reaches it, for many speeds of one cut.

    The stiffness is reckoned once for a row of depths, closer inside the nose, and read between them.

    Args:
        f_mm: feed per revolution.
        tool: what cuts.
        work: what is cut.
        gives: direction in which the set-up gives.
        model: constants of the force model.
        ap_max_mm: greatest depth of interest.

    Returns:
        Depth in mm for an allowed stiffness in N/mm; None when no depth up to `ap_max_mm` reaches it.
    """
    nose_mm = min(ap_max_mm, 1.2 * tool.RE_mm + f_mm)
    inside = [nose_mm * (step / _CHART_STEPS) ** 2 for step in range(1, _CHART_STEPS + 1)]
    past = [nose_mm + (ap_max_mm - nose_mm) * step / _CHART_STEPS for step in range(1, _CHART_STEPS + 1)]
    depths, most = [0.0], [0.0]
    for depth in (*inside, *past):
        K = regenerative_stiffness(depth, f_mm, tool, work, gives=gives, model=model)
        if most[-1] < K:
            depths.append(depth)
            most.append(K)

    def depth_of(allowed_N_mm: float) -> float | None:
        at = bisect_left(most, allowed_N_mm)
        if at == len(most):
            return None
        part = (allowed_N_mm - most[at - 1]) / (most[at] - most[at - 1])
        return depths[at - 1] + part * (depths[at] - depths[at - 1])

    return depth_of


def lobes(
    speeds_rev_min: Iterable[float],
    *,
    k_N_mm: float,
    frequency_hz: float,
    damping_ratio: float,
    depth_of: Callable[[float], float | None],
) -> tuple[Lobe, ...]:
    """Give the stability chart at the speeds asked for.

    Args:
        speeds_rev_min: spindle speeds.
        k_N_mm: stiffness of the set-up.
        frequency_hz: its natural frequency.
        damping_ratio: its damping.
        depth_of: depth for an allowed regenerative stiffness (for a straight edge: divide by Ks).

    Source: Tlusty; Altintas 2012, ch. 4.
    """
    speeds = list(speeds_rev_min)
    found = _allowed_at(speeds, k_N_mm=k_N_mm, frequency_hz=frequency_hz, damping_ratio=damping_ratio)
    return tuple(Lobe(n, allowed, depth_of(allowed)) for n, allowed in zip(speeds, found, strict=True))


def allowed_at_speed(n_rev_min: float, *, k_N_mm: float, frequency_hz: float, damping_ratio: float) -> float:
    """Give the regenerative stiffness allowed at one speed, in N/mm.

    Args:
        n_rev_min: spindle speed.
        k_N_mm: stiffness of the set-up.
        frequency_hz: its natural frequency.
        damping_ratio: its damping.
    """
    return _allowed_at([n_rev_min], k_N_mm=k_N_mm, frequency_hz=frequency_hz, damping_ratio=damping_ratio)[0]


def _allowed_at(
    speeds_rev_min: Sequence[float], *, k_N_mm: float, frequency_hz: float, damping_ratio: float
) -> list[float]:
    """Give the regenerative stiffness allowed at each speed, in N/mm, in the order of the speeds.

    Between the worst speeds of two neighbouring lobes the one of the slower speed rises and the other falls:
    they cross once, so that each speed needs one of them, but for the few on which the crossing is sought.
    """
    lowest = allowed_stiffness(k_N_mm, damping_ratio)
    slow = min(speeds_rev_min, default=1.0)
    if not (slow > 0.0 and frequency_hz > 0.0):
        raise InputError(f"{slow:g} rev/min at {frequency_hz:g} Hz can't be", "give figures above 0")
    worst = sqrt(1.0 + 2.0 * damping_ratio)
    turns = _phase_turns(worst, damping_ratio)
    by_gap: dict[int, list[tuple[float, int]]] = {}
    for at, n in sorted(enumerate(speeds_rev_min), key=itemgetter(1)):
        waves = 60.0 * frequency_hz / n
        by_gap.setdefault(floor(waves * worst - turns), []).append((waves, at))
    allowed = [0.0] * len(speeds_rev_min)
    for gap, members in by_gap.items():
        waves_here = [waves for waves, _ in members]
        for (_, at), one in zip(members, _lower_of(waves_here, gap, damping_ratio), strict=True):
            allowed[at] = max(lowest, k_N_mm * one)
    return allowed


def _lower_of(waves: Sequence[float], gap: int, damping_ratio: float) -> list[float]:
    """Give the lower of lobes `gap` and `gap` + 1 over falling waves between their worst speeds."""
    if gap < 0:
        return _on_lobe(waves, 0, damping_ratio)
    if len(waves) <= _FEW:
        return list(map(min, _on_lobe(waves, gap, damping_ratio), _on_lobe(waves, gap + 1, damping_ratio)))
    first, last = 0, len(waves)  # the first that lies on the faster lobe is one of these
    while first < last:
        middle = (first + last) // 2
        here = waves[middle : middle + 1]
        if _on_lobe(here, gap, damping_ratio) < _on_lobe(here, gap + 1, damping_ratio):
            last = middle
        else:
            first = middle + 1
    return [*_on_lobe(waves[:first], gap + 1, damping_ratio), *_on_lobe(waves[first:], gap, damping_ratio)]


def chatter_frequency(frequency_hz: float, damping_ratio: float, *, negative: bool = False) -> float:
    """Give the frequency at which a set-up starts to chatter at its worst speeds, in Hz.

    Args:
        frequency_hz: natural frequency.
        damping_ratio: its damping.
        negative: for a cut whose regenerative stiffness is below 0.
    """
    return frequency_hz * sqrt(1.0 - 2.0 * damping_ratio if negative else 1.0 + 2.0 * damping_ratio)


def wave_length(vc_m_min: float, chatter_hz: float) -> float:
    """Give the length of the wave that chatter cuts into the work, in mm: the pitch of the marks.

    Args:
        vc_m_min: cutting speed.
        chatter_hz: chatter frequency.
    """
    return vc_m_min * 1000.0 / 60.0 / chatter_hz


def process_damping_speed(
    frequency_hz: float, damping_ratio: float, Ks_N_mm2: float, process_damping_N_m: float
) -> float:
    """Give the cutting speed below which rubbing of the flank alone stops chatter at any depth, in m/min.

    Args:
        frequency_hz: natural frequency.
        damping_ratio: its damping.
        Ks_N_mm2: cutting stiffness per chip width.
        process_damping_N_m: flank contact force per edge length and slope of the wave.

    Returns:
        Right within a factor of two at best.

    Source: one mode with damping force C b x' / v added; absolute limit goes to infinity at this speed.
    """
    turns = 2.0 * pi * frequency_hz * process_damping_N_m / (Ks_N_mm2 * 1e6)
    return 60.0 * turns * (sqrt(damping_ratio) + sqrt(1.0 + damping_ratio)) ** 2


def pocket(number: int, damping_ratio: float) -> tuple[float, float]:
    """Give the top of the gap between two lobes of one mode.

    Args:
        number: 0 for the gap between the two fastest lobes, 1 for the next slower one and so on.
        damping_ratio: damping of the mode.

    Returns:
        How many times the limit for all speeds it allows, and its speed as 60 f_n / n.
    """
    worst = sqrt(1.0 + 2.0 * damping_ratio)
    turns = _phase_turns(worst, damping_ratio)
    low, high = (number + turns) / worst, min(number + 1.0, (number + 1.0 + turns) / worst)
    for _ in range(_BISECTIONS):
        waves = (low + high) / 2.0
        if waves in (low, high):
            break
        if _on_lobe((waves,), number, damping_ratio) < _on_lobe((waves,), number + 1, damping_ratio):
            low = waves
        else:
            high = waves
    return _on_lobe((low,), number, damping_ratio)[0] / allowed_stiffness(1.0, damping_ratio), low


def lobe_use(n_rev_min: float, frequency_hz: float, damping_ratio: float, rules: Rules) -> LobeUse:
    """Tell whether hunting for a speed between lobes pays near the present speed.

    Args:
        n_rev_min: present spindle speed.
        frequency_hz: natural frequency of the set-up.
        damping_ratio: its damping.
        rules: thresholds.
    """
    if not (n_rev_min > 0.0 and frequency_hz > 0.0):
        raise InputError(f"{n_rev_min:g} rev/min at {frequency_hz:g} Hz can't be", "give figures above 0")
    number = max(0, round(60.0 * frequency_hz / n_rev_min) - 1)
    height, waves = pocket(number, damping_ratio)
    best = 60.0 * frequency_hz / waves
    useful = number <= rules.useful_pocket_last and height >= rules.useful_pocket_gain
    if useful:
        why = f"about {best:.0f} rev/min lies between two lobes: {height:.1f} times the limit for all speeds"
    else:
        why = (
            f"at {n_rev_min:.0f} rev/min the work makes {number + 1} waves a turn: lobes lie too close "
            f"together to use (at best {height:.2f} times); slower speed helps through process damping"
        )
    return LobeUse(useful=useful, number=number, gain=height, best_n_rev_min=best, why=why)


def _phase_turns(ratio: float, damping_ratio: float) -> float:
    """Give the phase between a wave and the one before it, in turns, at a frequency over the natural one."""
    return 1.0 + atan((1.0 - ratio * ratio) / (2.0 * damping_ratio * ratio)) / pi


def _on_lobe(waves: Sequence[float], number: int, damping_ratio: float) -> list[float]:
    """Give the allowed K / k on one lobe at speeds given as 60 f_n / n, falling; infinite where it is not.

    The chatter frequency over the natural one is where number + phase = waves times it. Above 1 the phase
    falls ever more slowly, from 1 turn to half a turn, so Newton's steps from below never pass the root, and
    one from above leads below it. Each speed starts from the last one's root, moved along its slope.
    """
    width, whole, found = 2.0 * damping_ratio, number + 1.0, list[float]()
    near, last = _NEAR * damping_ratio, _LAST * damping_ratio
    ratio, slope, before = 1.0, inf, 0.0
    for here in waves:
        if here >= whole:
            found.append(inf)
            continue
        ratio = ratio + ratio * (before - here) / slope if before else max(1.0, (number + 0.5) / here)
        before = here
        for _ in range(_NEWTON_STEPS):
            beyond, lag = ratio * ratio - 1.0, width * ratio
            size = pi * (beyond * beyond + lag * lag)
            phase = width * (beyond + 2.0) / size
            slope = here + phase
            step = (whole - atan(beyond / lag) / pi - here * ratio) / slope
            if -near < step < near:  # Halley's step: the error left is the cube of it
                bend = (width - phase * pi * (2.0 * beyond + width * width)) * 2.0 * ratio / size
                ratio += step / (1.0 + step * bend / (2.0 * slope))
                if -last < step < last:
                    break
            else:
                ratio += step
        beyond, lag = ratio * ratio - 1.0, width * ratio
        found.append((beyond * beyond + lag * lag) / (2.0 * beyond) if beyond > 0.0 else inf)
    return found


def _crossing(excess: Callable[[float], float], low: float, high: float) -> float:
    """Give the depth at which the excess passes 0, between one below and one above."""
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2.0
        if high - low <= 1e-7 * high or middle <= 0.0:
            break
        if excess(middle) >= 0.0:
            high = middle
        else:
            low = middle
    return high
