"""Passes from the size that is there to the size that is wanted, and the minutes they take.

Source: N = ceil((D0 - D1 - 2 a_fin) / (2 ap)), equal roughing passes and a finishing pass, time L / (f
n): common practice, as in textbooks on turning.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from math import ceil, isfinite

from crib.errors import InputError

Row = Mapping[str, str]

_SLACK = 1e-9
"""Part of a pass that rounding of floats may add without making one more pass."""
_NOTHING_MM = 1e-6
"""Less than this is no cut: a nanometre, below any machine and any float rounding of a size in mm."""
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
        kind: "rough" or "finish".
        minutes: time in the cut; None until it is reckoned.
    """

    number: int
    from_mm: float
    to_mm: float
    ap_mm: float
    kind: str
    minutes: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DepthLimit:
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
        return _passes(from_mm, to_mm, [stock], on_diameter, last_finishes=True)
    count = _count(rough, max_ap_mm)
    depths = [rough / count] * count
    if finish > 0:
        depths.append(finish)
    return _passes(from_mm, to_mm, depths, on_diameter, last_finishes=finish > 0)


def passes_by_step(
    from_mm: float, to_mm: float, *, step_mm: float, on_diameter: bool = True
) -> tuple[Pass, ...]:
    """Plan passes of a given step, as the machinist said; the last takes what is left.

    Args:
        from_mm: size that is there, in mm.
        to_mm: size that is wanted, in mm.
        step_mm: what each pass takes, in the measure of the sizes: "a sixteenth on diameter at a time".
        on_diameter: the sizes are diameters; False for lengths and single sides.

    Raises:
        InputError: nothing to take off, sizes or a step that can't be, or far too many passes.
    """
    stock = _stock(from_mm, to_mm, on_diameter)
    _depth("the step of a pass", step_mm)
    step = step_mm / 2.0 if on_diameter else step_mm
    count = _count(stock, step)
    depths = [step] * (count - 1) + [stock - step * (count - 1)]
    return _passes(from_mm, to_mm, depths, on_diameter, last_finishes=True)


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
        finish: the same for the finishing pass.

    Raises:
        InputError: a value that isn't positive.
    """
    minutes = {"rough": pass_minutes(length_mm, *rough), "finish": pass_minutes(length_mm, *finish)}
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
    for row in rows("depth_limits"):
        if row["SC"] == SC:
            part = 0.5 if interrupted else 1.0
            low, high = float(row["ap_of_L_low"]) * part, float(row["ap_of_L_high"]) * part
            return DepthLimit(ap_mm=low * L_mm, ap_most_mm=high * L_mm, of_L=low, source=row["source"])
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
    from_mm: float, to_mm: float, depths: list[float], on_diameter: bool, *, last_finishes: bool
) -> tuple[Pass, ...]:
    """Lay the depths end to end from the first size to the last; the last ends exactly on size."""
    towards = (1.0 if to_mm > from_mm else -1.0) * (2.0 if on_diameter else 1.0)
    planned: list[Pass] = []
    size, taken = from_mm, 0.0
    for number, depth in enumerate(depths, start=1):
        taken += depth
        last = number == len(depths)
        after = to_mm if last else from_mm + towards * taken
        kind = "finish" if last and last_finishes else "rough"
        planned.append(Pass(number=number, from_mm=size, to_mm=after, ap_mm=depth, kind=kind))
        size = after
    return tuple(planned)
