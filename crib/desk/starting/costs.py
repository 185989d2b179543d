"""What time and edges cost in this shop, as told: nothing is assumed, and what is not told is said."""

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from crib.errors import BadQuantity, InputError
from crib.units import Kind, read

if TYPE_CHECKING:
    from crib.units.money import Money

_PER_TIME = re.compile(r"\s*(?:/|\bper\b|\ban?\b)\s*(?P<time>h|hr|hour|min|minute)\.?$", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class CostsTold:
    """Costs as typed; empty means not told.

    Attributes:
        machine_rate: machine and machinist: "60 EUR/h", "1.20 GBP per min".
        edge_cost: one edge: the insert over its edges, or a regrind: "2.40 EUR".
        change_time: to change or index an edge and set it to size again: "3 min", "90 s".
        handling: to load, measure and unload one piece: "10 min".
    """

    machine_rate: str = ""
    edge_cost: str = ""
    change_time: str = ""
    handling: str = ""

    @property
    def told(self) -> bool:
        """Whether anything was told."""
        return bool(self.machine_rate or self.edge_cost or self.change_time or self.handling)


NO_COSTS = CostsTold()


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """Costs in figures; None for what was not told.

    Attributes:
        currency: ISO 4217 code; empty where no money was told.
        machine_per_min: machine and machinist, per minute.
        edge: one edge.
        change_min: minutes of a change.
        handling_min: minutes of handling a piece.
        missing: what least cost still needs to be told.
    """

    currency: str
    machine_per_min: float | None
    edge: float | None
    change_min: float | None
    handling_min: float | None
    missing: tuple[str, ...]


def read_costs(told: CostsTold, currency: str) -> Prices:
    """Read what time and edges cost.

    Args:
        told: as typed.
        currency: what a bare number is in; empty where that is not settled.

    Raises:
        BadQuantity: an amount or time that can't be read, a rate of no time, or two currencies.
        InputError: machine time for nothing, or an edge that costs neither time nor money.
    """
    from crib.units.money import read_money  # only who tells costs pays for it

    rate, minutes = (None, 1.0)
    if told.machine_rate:
        found = _PER_TIME.search(told.machine_rate)
        if found is None:
            raise BadQuantity(f"{told.machine_rate}: for how long?", "60 EUR/h, or 1 EUR/min")
        minutes = 60.0 if found["time"].lower().startswith("h") else 1.0
        rate = read_money(told.machine_rate[: found.start()], currency)
    edge = read_money(told.edge_cost, currency or (rate.currency if rate else "")) if told.edge_cost else None
    if rate and edge and rate.currency != edge.currency:
        raise BadQuantity(
            f"{told.machine_rate} and {told.edge_cost} are in two currencies", "crib changes no money"
        )
    prices = _priced(told, rate, edge, minutes)
    _check(prices)
    return prices


def _priced(told: CostsTold, rate: "Money | None", edge: "Money | None", minutes: float) -> Prices:
    needed = {
        "machine rate": told.machine_rate,
        "edge cost": told.edge_cost,
        "change time": told.change_time,
    }
    first = rate or edge
    return Prices(
        currency=first.currency if first else "",
        machine_per_min=float(rate.amount) / minutes if rate else None,
        edge=float(edge.amount) if edge else None,
        change_min=_minutes(told.change_time),
        handling_min=_minutes(told.handling),
        missing=tuple(option for option, text in needed.items() if not text),
    )


def _check(prices: Prices) -> None:
    """Refuse costs that set no speed."""
    if prices.machine_per_min == 0.0:
        raise InputError("machine time that costs nothing can't be", "a machine rate as 60 EUR/h")
    if not prices.missing and not prices.edge and not prices.change_min:
        raise InputError("an edge that costs neither time nor money sets no speed", "check the edge cost")


def _minutes(text: str) -> float | None:
    return read(text, Kind.TIME).value if text else None
