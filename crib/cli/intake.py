"""crib intake: take lists into the store."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.intake import Taken, intake


@click.command()
@click.argument("files", nargs=-1, required=True, type=click.Path())
@click.option("--dry-run", is_flag=True, help="Say what would happen; write nothing.")
@click.option(
    "--units", type=click.Choice(["metric", "inch"]), default="metric", help="What bare numbers mean."
)
@with_store
@with_output
def command(files: tuple[str, ...], dry_run: bool, units: str, out: Output, db: str) -> None:
    """Take lists (CSV) into the store: all of them, or nothing. The store is made if it is not there."""
    taken = intake(db, files, dry_run=dry_run, system=units)
    out.give(taken, lambda: lines(taken))


def lines(taken: Taken) -> Iterable[str]:
    """Put what was taken into lines."""
    counted = ", ".join(f"{count} {name}" for name, count in taken.counts.items())
    yield f"{'Would take' if taken.dry_run else 'Taken'}: {counted or 'nothing: the lists are empty'}."
    for row in taken.rows:
        yield f"  {row.file}:{row.line}  {row.what}"
    yield "Nothing was written (--dry-run)." if taken.dry_run else f"The store is {taken.store}."
