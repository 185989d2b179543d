"""The help pages on the narrowest terminal that crib is made for."""

from collections.abc import Iterator

import click
from commands import Crib

from crib.cli.root import root

WIDTH = 80


def pages(command: click.Command, path: str) -> Iterator[tuple[str, str]]:
    """Give the help of a command, and of all below it, as an 80-column terminal gets it."""
    context = click.Context(command, info_name=path, terminal_width=WIDTH)
    yield path, command.get_help(context)
    if isinstance(command, click.Group):
        for name in command.list_commands(context):
            below = command.get_command(context, name)
            assert below is not None
            yield from pages(below, f"{path} {name}")


def test_no_line_of_any_help_is_wider_than_80_columns() -> None:
    found = dict(pages(root, "crib"))
    assert {"crib setup measure", "crib intake"} <= set(found), "commands and those below them are looked at"
    wide = [
        f"{path}: {line}" for path, text in found.items() for line in text.splitlines() if len(line) > WIDTH
    ]
    assert wide == []


def test_a_word_that_is_no_command_of_a_group_is_answered_with_those_that_are(crib: Crib) -> None:
    error = crib.error("minimum", "WNMG080408", status=2)
    assert error["hint"].endswith("the command is one of: drop, list, set")
