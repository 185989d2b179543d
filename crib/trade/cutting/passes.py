"""Passes from the size that is there to the size that is wanted, and the minutes they take.

Source: N = ceil((D0 - D1 - 2 a_fin) / (2 ap)), equal roughing passes and a finishing pass, time L / (f
n): common practice, as in textbooks on turning.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import ceil, isfinite
from typing import NamedTuple

from crib.errors import InputError

Row = Mapping[str, str]

_SLACK = 1e-9
"""Part of a pass that rounding of floats may add without making one more pass."""
_NOTHING_MM = 1e-6
"""Less than this is no cut: a nanometre, below any machine and any float rounding of a size in mm."""
_FRACTION_MM = 25.4 / 64.0
_FLOAT_MM = 1e-9
"""Sums of sizes are off by less than this: nearer to a 64th of an inch, the 64th was meant."""
_HALVINGS = 40
MOST_PASSES = 10_000
"""More than this is a slip in the numbers, not a job (assumption)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """One cut.

    Attributes:
        number: 1 for the first.
        from_mm: size before it, in the measure of the question (diameter or length).
        to_mm: size after it.
        ap_mm: depth of cut, on the side.
        kind: "rough", "finish" or "spring": the finishing cut again at the same setting, for what tool and
            work gave.
        minutes: time in the cut; None until it is reckoned.
        measure: stop and measure after it: what is left can still be corrected.
    """

    number: int
    from_mm: float
    to_mm: float
    ap_mm: float
    kind: str
    minutes: float | None = None
    measure: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DepthCeiling:
    """The depth that all limits together allow.

    Attributes:
        ap_mm: deepest pass, on the side.
        by: the limit that sets it, by the name it was given.
    """

    ap_mm: float
    by: str


class DepthLimit(NamedTuple):
    """Largest depth of cut that an edge stands.

    Attributes:
        ap_mm: depth in mm by the careful end of the rule.
        ap_most_mm: depth by its bold end; the same where makers agree.
        of_L: the careful end as a part of the edge length.
        source: source keys, separated by blanks.
    """

    ap_mm: float
    ap_most_mm: float
    of_L: float
    source: str


def plan_passes(
    from_mm: float,
    to_mm: float,
    *,
    max_ap_mm: float,
    finish_ap_mm: float = 0.0,
    least_ap_mm: float = 0.0,
    on_diameter: bool = True,
    spring: bool = False,
) -> tuple[Pass, ...]:
    """Plan equal roughing passes and a finishing pass that ends exactly on size.

    The size may fall (turning, facing) or grow (boring): the sign follows from the two sizes.

    Args:
        from_mm: size that is there, in mm.
        to_mm: size that is wanted, in mm.
        max_ap_mm: largest depth of one pass, on the side.
        finish_ap_mm: depth of the finishing pass, on the side; 0 for none apart.
        least_ap_mm: a roughing pass thinner than this is taken together with the finishing pass, where
            max_ap_mm allows: a thin cut rubs.
        on_diameter: the sizes are diameters; False for lengths and single sides.
        spring: end with a spring pass.

    Raises:
        InputError: nothing to take off, sizes or depths that can't be, or far too many passes.
    """
    stock = _stock(from_mm, to_mm, on_diameter)
    _depth("the largest depth of a pass", max_ap_mm)
    if finish_ap_mm < 0 or least_ap_mm < 0:
        raise InputError("a negative depth of cut can't be", "give 0 for no finishing pass of its own")
    finish = min(finish_ap_mm, max_ap_mm, stock)
    finish = 0.0 if finish < _NOTHING_MM else finish
    rough = stock - finish
    if rough < _NOTHING_MM or (rough < least_ap_mm and stock <= max_ap_mm):
        return _passes(from_mm, to_mm, [stock], on_diameter, last_finishes=True, spring=spring)
    count = _count(rough, max_ap_mm)
    depths = [rough / count] * count
    if finish > 0:
        depths.append(finish)
    return _passes(from_mm, to_mm, depths, on_diameter, last_finishes=finish > 0, spring=spring)


def passes_by_step(
    from_mm: float,
    to_mm: float,
    *,
    step_mm: float,
    on_diameter: bool = True,
    odd_first: bool = False,
    spring: bool = False,
) -> tuple[Pass, ...]:
    """Plan passes of a given step, as the machinist said; the last takes what is left.

    Steps are counted in whole numbers from one end, so that sizes that people say as inch fractions come out
    as those fractions: 16 3/8, 16 7/16, 16 1/2.

    Args:
        from_mm: size that is there, in mm.
        to_mm: size that is wanted, in mm.
        step_mm: what each pass takes, in the measure of the sizes: "a sixteenth on diameter at a time".
        on_diameter: the sizes are diameters; False for lengths and single sides.
        odd_first: the first pass takes what is left instead: from an odd size, every later one then stands
            whole steps off the wanted size, on a fraction when that is one.
        spring: end with a spring pass.

    Raises:
        InputError: nothing to take off, sizes or a step that can't be, or far too many passes.
    """
    stock = _stock(from_mm, to_mm, on_diameter)
    _depth("the step of a pass", step_mm)
    step = step_mm / 2.0 if on_diameter else step_mm
    count = _count(stock, step)
    towards = step_mm if to_mm > from_mm else -step_mm
    if odd_first:
        between = [to_mm - towards * number for number in range(count - 1, 0, -1)]
    else:
        between = [from_mm + towards * number for number in range(1, count)]
    odd = stock - step * (count - 1)
    depths = [odd] + [step] * (count - 1) if odd_first else [step] * (count - 1) + [odd]
    sizes = [from_mm, *(_on_fraction(size) for size in between), to_mm]
    return _laid_out(sizes, depths, last_finishes=True, spring=spring)


def ceiling(limits: Mapping[str, float | None]) -> DepthCeiling:
    """Give the least of several limits on depth, and its name.

    Args:
        limits: depth in mm by name, for example edge, power, pressure, margin; None where it sets none.

    Raises:
        InputError: no limit at all, or one that isn't positive.
    """
    known = {name: depth for name, depth in limits.items() if depth is not None}
    if not known:
        raise InputError("no limit on the depth of cut is known", "give the depth of a pass")
    for name, depth in known.items():
        _depth(f"the depth that {name} allows", depth)
    by = min(known, key=lambda name: known[name])
    return DepthCeiling(ap_mm=known[by], by=by)


def deepest_within(
    allowed: float, load: Callable[[float], float], most_mm: float, least_mm: float = 1e-3
) -> float | None:
    """Give the deepest cut whose load stays within what is allowed.

    Args:
        allowed: power, force or anything else that grows with depth.
        load: gives it for a depth in mm.
        most_mm: no deeper is looked for.
        least_mm: nor shallower.

    Returns:
        Depth in mm; None where even the shallowest is too much.

    Raises:
        InputError: a depth that isn't positive.
    """
    _depth("the largest depth of a pass", most_mm)
    _depth("the least depth of a pass", least_mm)
    if load(most_mm) <= allowed:
        return most_mm
    low, high = min(least_mm, most_mm), most_mm
    if load(low) > allowed:
        return None
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if load(middle) <= allowed else (low, middle)
    return low


def pass_minutes(length_mm: float, f_mm: float, n_rev_min: float) -> float:
    """Give the minutes of one pass: T = L / (f n).

    Args:
        length_mm: way of the tool in mm, with approach and overrun; half the change of diameter when facing.
        f_mm: feed in mm/rev.
        n_rev_min: spindle speed in rev/min.

    Raises:
        InputError: a value that isn't positive.
    """
    for what, value in (("a length", length_mm), ("a feed", f_mm), ("a spindle speed", n_rev_min)):
        if not (value > 0 and isfinite(value)):
            raise InputError(f"{what} of {value:g} can't be", "it must be more than zero")
    return length_mm / (f_mm * n_rev_min)


def with_minutes(
    passes: Iterable[Pass],
    length_mm: float,
    *,
    rough: tuple[float, float],
    finish: tuple[float, float],
) -> tuple[Pass, ...]:
    """Give the passes with their minutes.

    Args:
        passes: as planned.
        length_mm: way of the tool in each, in mm.
        rough: feed in mm/rev and spindle speed in rev/min of the roughing passes.
        finish: the same for the finishing and the spring pass.

    Raises:
        InputError: a value that isn't positive.
    """
    last = pass_minutes(length_mm, *finish)
    minutes = {"rough": pass_minutes(length_mm, *rough), "finish": last, "spring": last}
    return tuple(replace(one, minutes=minutes[one.kind]) for one in passes)


def depth_limit(
    SC: str, L_mm: float, rows: Callable[[str], tuple[Row, ...]], *, interrupted: bool = False
) -> DepthLimit | None:
    """Give the largest depth of cut for an edge.

    The rule is for depth along the edge of a continuous rough cut; it is halved for an interrupted one.

    Args:
        SC: shape symbol of the insert.
        L_mm: edge length in mm (round inserts: the diameter).
        rows: reader of one table by name.
        interrupted: the cut is interrupted.

    Returns:
        The limit, or None for a shape that the guidelines leave out.

    Raises:
        InputError: an edge length that isn't positive.
    """
    _depth("an edge length", L_mm)
    found = _depth_part(SC, rows)
    if found is None:
        return None
    part, (low, high, source) = 0.5 if interrupted else 1.0, found
    return DepthLimit(ap_mm=low * part * L_mm, ap_most_mm=high * part * L_mm, of_L=low * part, source=source)


@lru_cache(maxsize=64)
def _depth_part(SC: str, rows: Callable[[str], tuple[Row, ...]]) -> tuple[float, float, str] | None:
    """Give the largest depth as a part of the edge length, low and high, and its source."""
    for row in rows("depth_limits"):
        if row["SC"] == SC:
            return float(row["ap_of_L_low"]), float(row["ap_of_L_high"]), row["source"]
    return None


def _stock(from_mm: float, to_mm: float, on_diameter: bool) -> float:
    """Give what is to come off, on the side."""
    for size in (from_mm, to_mm):
        if not isfinite(size) or size < 0:
            raise InputError(
                f"a size of {size:g} mm can't be", "give the size that is there and the one wanted"
            )
    if abs(from_mm - to_mm) < 2.0 * _NOTHING_MM:
        raise InputError(f"there is nothing to take off: it is {to_mm:g} mm already", "give two sizes")
    return abs(from_mm - to_mm) / (2.0 if on_diameter else 1.0)


def _depth(what: str, value: float) -> None:
    if not (value > 0 and isfinite(value)):
        raise InputError(f"{what} of {value:g} mm can't be", "it must be more than zero")


def _count(stock: float, depth: float) -> int:
    count = max(1, ceil(stock / depth - _SLACK))
    if count > MOST_PASSES:
        raise InputError(
            f"{stock:g} mm at {depth:g} mm a pass is {count} passes", "check the sizes and the depth of cut"
        )
    return count


def _passes(
    from_mm: float,
    to_mm: float,
    depths: list[float],
    on_diameter: bool,
    *,
    last_finishes: bool,
    spring: bool,
) -> tuple[Pass, ...]:
    """Lay the depths end to end from the first size to the last; the last ends exactly on size."""
    towards = (1.0 if to_mm > from_mm else -1.0) * (2.0 if on_diameter else 1.0)
    sizes, taken = [from_mm], 0.0
    for depth in depths[:-1]:
        taken += depth
        sizes.append(from_mm + towards * taken)
    return _laid_out([*sizes, to_mm], depths, last_finishes=last_finishes, spring=spring)


def _laid_out(
    sizes: list[float], depths: list[float], *, last_finishes: bool, spring: bool
) -> tuple[Pass, ...]:
    """Make the passes between the sizes. After all but the last there is something left to correct."""
    last = len(depths)
    planned = [
        Pass(
            number=number,
            from_mm=before,
            to_mm=after,
            ap_mm=depth,
            kind="finish" if number == last and last_finishes else "rough",
            measure=number < last or spring,
        )
        for number, ((before, after), depth) in enumerate(zip(pairwise(sizes), depths, strict=True), start=1)
    ]
    if spring:
        planned.append(Pass(number=last + 1, from_mm=sizes[-1], to_mm=sizes[-1], ap_mm=0.0, kind="spring"))
    return tuple(planned)


def _on_fraction(size_mm: float) -> float:
    """Give the 64th of an inch that a sum of sizes stands for, where it stands for one."""
    sixtyfourths = round(size_mm / _FRACTION_MM)
    exact = sixtyfourths / 64.0 * 25.4
    return exact if abs(exact - size_mm) < _FLOAT_MM else size_mm
