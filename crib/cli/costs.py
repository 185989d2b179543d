"""The options that say what time and edges cost: the same for every command that can say what pays."""

from collections.abc import Callable
from functools import wraps
from typing import Any

import click

from crib.desk.starting.costs import CostsTold

_OPTIONS = (
    ("machine_rate", "Machine and machinist: '60 EUR/h'. With the next two: at what speed it pays."),
    ("edge_cost", "One edge: the insert over its edges, or a regrind: '2.40 EUR'."),
    ("change_time", "To change an edge and set it to size again: '3 min'."),
    ("handling", "To load, measure and unload a piece: '10 min'."),
)


def with_costs(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options of costs, handed on together as argument `costs`."""

    @wraps(function)
    def wrapped(*args: Any, **named: Any) -> Any:
        told = {name: named.pop(name) for name, _ in _OPTIONS}
        return function(*args, costs=CostsTold(**told), **named)

    for name, help in reversed(_OPTIONS):
        wrapped = click.option(f"--{name.replace('_', '-')}", name, default="", help=help)(wrapped)
    return wrapped
