"""What a tool is worth, by each of the ways in use; pure sums, none of which is the right one by itself."""

from datetime import date
from decimal import Decimal

from crib.desk.dates import months_on
from crib.units.money import Money


def months_between(start: date, end: date) -> int:
    """Give the whole months from one day to another; none if it lies before."""
    months = (end.year - start.year) * 12 + end.month - start.month
    return max(months - (months_on(start, max(months, 0)) > end), 0)


def by_age(new: Money, months: int, life_years: Decimal) -> Money:
    """Give what is left of the price of a new one, in a straight line down to nothing at the end of its life.

    Actual cash value as insurers reckon it, replacement × (1 - age / life): the same line as the prime cost
    method of the Australian Taxation Office, with months for days.

    Args:
        new: price of a new one of the same kind.
        months: its age.
        life_years: the life that was agreed.
    """
    left = max(1 - Decimal(months) / (12 * life_years), Decimal(0))
    return (new * left).rounded()


def share(cost: Money, percent: Decimal) -> Money:
    """Give a share of a price, as agreements have it that pay half of a broken tool."""
    return (cost * (percent / 100)).rounded()


def by_edges(each: Money, used: int, edges_each: int) -> Money:
    """Give what was used up of inserts: edges used over edges of one, times the price of one."""
    return (each * (Decimal(used) / edges_each)).rounded()


def by_repair(repair: Money, value: Money) -> Money:
    """Give the lower of what a repair costs and what the tool is worth.

    Raises:
        BadQuantity: they are in two currencies.
    """
    return repair if (value - repair).amount >= 0 else value
