"""crib intake: take lists into the store."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.intake.intake import Taken, intake


@click.command()
@click.argument("files", nargs=-1, required=True, type=click.Path())
@click.option("--dry-run", is_flag=True, help="Say what would happen; write nothing.")
@click.option(
    "--update", is_flag=True, help="Bring what is on record to what the lists say, instead of refusing it."
)
@click.option(
    "--map", "pairs", multiple=True, metavar="HEADING=COLUMN", help="What a heading of yours is; may repeat."
)
@click.option("--mapping", type=click.Path(), help="A mapping that was kept.")
@click.option(
    "--keep-mapping", type=click.Path(), help="Keep what the headings were taken for in this new file."
)
@click.option("--owner", default="", help="Whose the tools are where a list doesn't say.")
@click.option("--at", default="", metavar="PLACE", help="Where they lie where it doesn't: the full path.")
@click.option(
    "--units", type=click.Choice(["metric", "inch"]), default="metric", help="What bare numbers mean."
)
@with_store
@with_output
def command(
    files: tuple[str, ...],
    dry_run: bool,
    update: bool,
    pairs: tuple[str, ...],
    mapping: str | None,
    keep_mapping: str | None,
    owner: str,
    at: str,
    units: str,
    out: Output,
    db: str,
) -> None:
    """Take lists (CSV or XLSX) into the store: all or nothing. The store is made if it is not there.

    \b
    crib intake people.csv places.csv tools.xlsx --dry-run
    crib intake tools.xlsx --map "My Heading=code" --owner "Ada Quill"
    crib intake tools.csv --update

    A list of tools may have headings of your own: those that are near a name of ours are guessed, and shown.
    """
    from crib.desk.intake.mapping import file_mapping, mapping_bytes, said_mapping
    from crib.desk.outside import save_new

    headings = {**(file_mapping(mapping) if mapping else {}), **said_mapping(pairs)}
    taken = intake(
        db, files, dry_run=dry_run, update=update, headings=headings, owner=owner, place=at, system=units
    )
    if keep_mapping:
        save_new(keep_mapping, mapping_bytes(taken.mapped))
    out.give(taken, lambda: lines(taken))


def lines(taken: Taken) -> Iterable[str]:
    """Put what was taken into lines."""
    yield f"{'Would take' if taken.dry_run else 'Taken'}: {taken.told}."
    for one in taken.mapped:
        yield f"  heading {one.heading!r} is {one.column or 'left out'} ({one.how})"
    for row in taken.rows:
        yield f"  {row.file}:{row.line}  {row.how:7}  {row.what}"
    yield "Nothing was written (--dry-run)." if taken.dry_run else f"The store is {taken.store}."
