"""crib sheet: sheets of tools to print and sign."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.owed.sign_in import WORDS, SignSheet, sign_sheet


@click.command()
@click.argument("sheet", type=click.Choice(list(WORDS)))
@click.option("--act", default="", help="The tools of one doing, by the word that `crib bring` told.")
@click.option("--since", default="", metavar="DAY", help="All since that day.")
@click.option("--owner", default="", help="Whose tools; yours if not told.")
@click.option("--pdf", type=click.Path(), help="Write it as PDF, with photos and lines to sign on.")
@click.option("--paper", default="A4", show_default=True, help="A4 or Letter.")
@with_store
@with_output
def command(
    sheet: str, act: str, since: str, owner: str, pdf: str | None, paper: str, out: Output, db: str
) -> None:
    """A sheet to sign: own tools that are here or were brought in, or that were taken home.

    \b
    crib sheet bring-in                       all of mine that are here
    crib sheet bring-in --since monday --pdf sheet.pdf
    crib sheet take-home --since today
    """
    found = sign_sheet(db, sheet, act=act, since=since, owner=owner)
    saved = None
    if pdf:
        from crib.report.sign_paper import save_sheet

        saved = save_sheet(db, found, pdf, size=paper)
    out.give({"sheet": found, "saved": saved}, lambda: sheet_lines(found, saved))


def sheet_lines(found: SignSheet, saved: str | None) -> Iterable[str]:
    """Put a sheet into lines."""
    many = f"{len(found.tools)} own tool{'s' * (len(found.tools) != 1)}"
    yield f"{found.owner}: {many}, {found.chosen}"
    if found.not_recorded:
        yield f"No bring-in is on record of {len(found.not_recorded)}: {', '.join(found.not_recorded)}"
    for tool in found.tools:
        item, value = tool.item, tool.value
        marks = ", ".join(part for part in (item.mark, item.serial) if part) or "NO MARK"
        yield f"  {item.tag:6} {item.designation or item.label}, {marks}, {item.condition}"
        worth = f"{value.amount} ({value.basis})" if value else "NO VALUE ON RECORD"
        photos = f"{len(tool.photos)} photo{'s' * (len(tool.photos) != 1)}" if tool.photos else "NO PHOTO"
        came = f"{tool.on} to {tool.place}" if tool.on else f"NO BRING-IN ON RECORD, at {tool.place}"
        yield f"         {came}; {worth}; {photos}; told: {tool.told or 'NOBODY'}"
    yield from (f"Values shown, all pieces: {amount}" for amount in found.sums)
    yield f"Saved: {saved}" if saved else "--pdf FILE prints it, with photos and lines to sign on."
