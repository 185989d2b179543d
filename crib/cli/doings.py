"""What commands that record a doing share: options, and the lines that confirm it."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import click

from crib.cli.find import item_lines

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done


def of_batch(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options for part of a batch."""
    function = click.option(
        "--edges", type=click.IntRange(0), help="Fresh edges on those pieces, where not all are alike."
    )(function)
    return click.option("--pieces", type=click.IntRange(1), help="Only so many of a batch.")(function)


def done_lines(done: "Done") -> Iterable[str]:
    """Say what was recorded: one line, what to mind, the tools as they are now, how to take it back."""
    yield done.verdict
    if done.detail:
        yield done.detail
    for item in done.items:
        yield from item_lines(item)
    yield f"Undo: {done.undo}"
