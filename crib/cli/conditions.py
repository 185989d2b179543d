"""The options that say what makes a cut harder: the same for every command that asks for a speed."""

from collections.abc import Callable
from typing import Any

import click

_OPTIONS = (
    (("--scale",), "Mill scale or forging skin."),
    (("--sand", "--sand-skin"), "Sand skin of a casting."),
    (("--flame-cut",), "Flame-cut edge."),
    (("--weld",), "Weld in the way of the cut."),
    (("--interrupted",), "Interrupted cut: slots, holes, a lump."),
)


def with_conditions(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the flags of `crib.desk.starting.conditions.Conditions`, under their field names."""
    for names, help in reversed(_OPTIONS):
        field = names[0].removeprefix("--").replace("-", "_")
        function = click.option(*names, field, is_flag=True, help=help)(function)
    return function
