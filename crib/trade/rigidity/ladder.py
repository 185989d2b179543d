"""Sums behind "what do I change first": what each change is worth in stiffness or margin.

A gain is a ratio: 2 means that the limit, in stiffness of cut, is twice as far away. Changes of tool,
depth and feed are recomputed elsewhere with what is on hand; here are the changes of support and bar.
"""

from math import inf

from crib.errors import InputError


def times_stiffer(margin: float, wanted: float = 1.0) -> float:
    """Give how many times stiffer (at the same damping) a set-up must become.

    Args:
        margin: stability margin now (allowed over present stiffness of cut).
        wanted: margin wanted.

    Returns:
        1 or more; 1 when it is already stiff enough.

    Source: the limit is in proportion to stiffness, 2 k zeta (1 + zeta).
    """
    if margin <= 0.0:
        raise InputError(f"margin {margin:g} can't be", "a margin is above 0")
    return max(1.0, wanted / margin)


def gain(before: float, after: float) -> float:
    """Give the gain of a change from the margins before and after it.

    Args:
        before: margin now; infinite when no depth chatters.
        after: margin after the change.
    """
    if before == inf:
        return 1.0 if after == inf else 0.0
    return after / before


def in_series(*k_N_mm: float) -> float:
    """Give the stiffness of parts that carry the same force one after the other, in N/mm.

    Args:
        k_N_mm: stiffness of each part.

    Source: compliances add, 1/k = sum of 1/k_i.
    """
    _positive(*k_N_mm)
    return 1.0 / sum(1.0 / k for k in k_N_mm)


def _positive(*values: float) -> None:
    for value in values:
        if not value > 0.0:
            raise InputError(f"{value:g} can't be", "give figures above 0")
