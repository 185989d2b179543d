"""crib undo: take the last doing back, or a named one."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

import click

from crib.cli.doings import done_lines
from crib.cli.output import Output, with_output, with_store

if TYPE_CHECKING:
    from crib.desk.doings.recent import Recent


@click.command()
@click.argument("act", default="")
@click.option("--list", "listed", is_flag=True, help="What was done last, and the word for each.")
@with_store
@with_output
def command(act: str, listed: bool, out: Output, db: str) -> None:
    """Take back your last doing, or the one called ACT, by correcting lines; nothing is deleted."""
    if listed:
        from crib.desk.doings.recent import recent

        found = recent(db)
        out.give(found, lambda: recent_lines(found))
        return
    from crib.desk.doings.undo import undo

    done = undo(db, act)
    out.give(done, lambda: done_lines(done))


def recent_lines(found: "Recent") -> Iterable[str]:
    """Put the last doings into lines: word, when, what, which tools, who; and why, where it was told."""
    yield found.verdict
    yield found.detail
    yield ""
    for one in found.doings:
        gone = "" if one.stands else "  (taken back)"
        yield f"{one.act}  {one.on}  {one.what} {one.tools_named}; by {one.who or 'nobody named'}{gone}"
        if one.why:
            yield f"    {one.why}"
