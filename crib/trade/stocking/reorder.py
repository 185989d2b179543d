"""Reorder point: what is used while a delivery is awaited, and a reserve for days that use more.

Source of the method: sources.toml, "stocking_stevenson". Units are pieces or edges, and days.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """What was used, day by day.

    Attributes:
        observations: how many times something was taken.
        days: how many days were looked at, those without use too.
        per_day: mean use a day.
        sd_per_day: standard deviation of a day's use; 0 for fewer than two days.
    """

    observations: int
    days: int
    per_day: float
    sd_per_day: float


def use_of(taken: Sequence[tuple[int, int]], days: int) -> Use:
    """Sum up what was taken.

    Args:
        taken: for each time, which day (0 up to days - 1) and how many.
        days: how many days were looked at, one or more.

    Raises:
        ValueError: no day, or a day that was not looked at.
    """
    if days < 1 or any(not 0 <= day < days for day, _ in taken):
        raise ValueError("use must lie within the days that were looked at")
    daily = [0] * days
    for day, count in taken:
        daily[day] += count
    mean = sum(daily) / days
    spread = math.fsum((count - mean) ** 2 for count in daily)
    return Use(
        observations=len(taken),
        days=days,
        per_day=mean,
        sd_per_day=math.sqrt(spread / (days - 1)) if days > 1 else 0.0,
    )


def safety_stock(z: float, sd_per_day: float, lead_days: float) -> float:
    """Give the reserve: z standard deviations of what is used while waiting, days taken as independent."""
    return z * sd_per_day * math.sqrt(lead_days)


def reorder_point(per_day: float, sd_per_day: float, lead_days: float, z: float) -> float:
    """Give the stock at which to buy: mean use over the lead time, and the reserve.

    Args:
        per_day: mean use.
        sd_per_day: its standard deviation.
        lead_days: from order to delivery.
        z: of the service level, from the table "service_level".
    """
    return per_day * lead_days + safety_stock(z, sd_per_day, lead_days)


def z_of(service_percent: float, levels: Sequence[Mapping[str, str]]) -> float:
    """Give the z of a service level that stands in the table.

    Args:
        service_percent: share of waits in which stock does not run out.
        levels: rows of the table "service_level".

    Raises:
        KeyError: the level does not stand there.
    """
    return {float(row["service_percent"]): float(row["z"]) for row in levels}[service_percent]
