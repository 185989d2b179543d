"""crib demo: the invented workshop."""

import os
import sys

import click

from crib.cli.output import Output, with_output, with_why
from crib.cli.pick import give_pick
from crib.cli.root import OpenUi
from crib.desk.keeping.demo import demo_store, private_copy
from crib.desk.picking.pick import PickRequest

# the job that docs/worked-job.md works out by hand
WORKED = PickRequest(
    op="bore",
    material="A36",
    from_="16 3/8 in",
    to="16 1/2 in",
    length="6 in",
    machine="boring mill",
    hand="left",
    setup="weak",
    scale=True,
)


@click.command()
@click.option("--path", is_flag=True, help="Make the demo store if need be and print where it is.")
@click.option("--fresh", is_flag=True, help="Make the demo store anew.")
@with_why("Print the worked job and how its figures come about, of the first candidate or the Nth.")
@with_output
@click.pass_obj
def command(open_ui: OpenUi, path: bool, fresh: bool, why: int | None, out: Output) -> None:
    """The invented workshop: opens the UI on a private copy, or, with no terminal, prints the worked job."""
    store = demo_store(fresh=fresh)
    if path:
        out.give({"path": store}, lambda: [os.path.abspath(store)])
    elif sys.stdin.isatty() and sys.stdout.isatty() and not out.as_json and why is None:
        with private_copy() as copy:
            open_ui(copy, note="demo: a private copy")
    else:
        give_pick(out, store, WORKED, why)
