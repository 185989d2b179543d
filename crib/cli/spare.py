"""crib spare: the small parts of a tool, and whether they are there."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.restocking.missing import Parts, parts_of, set_parts


@click.command()
@click.argument("tag")
@click.option("--missing", multiple=True, metavar="PART", help="It is gone: shim, screw, key, 8 in rod.")
@click.option("--there", multiple=True, metavar="PART", help="It is there.")
@click.option("--code", default="", help="Number of the part, where one is named.")
@click.option("--note", default="", help="Anything, where one is named.")
@with_store
@with_output
def command(
    tag: str, missing: tuple[str, ...], there: tuple[str, ...], code: str, note: str, out: Output, db: str
) -> None:
    """The parts of a tool: what is there, what is gone; or record either. `crib missing` lists all."""
    if missing or there or code or note:
        found = set_parts(db, tag, missing=missing, there=there, code=code, note=note)
    else:
        found = parts_of(db, tag)
    out.give(found, lambda: lines(found))


def lines(found: Parts) -> Iterable[str]:
    """Put the parts into lines."""
    yield f"{found.tag} {found.label}"
    for part in found.parts:
        code = f", no. {part.code}" if part.code else ""
        note = f"; {part.note}" if part.note else ""
        yield f"       {part.what}{code}: {'there' if part.present else 'MISSING'}{note}"
    if not found.parts:
        yield f"       no parts on record: crib spare {found.tag} --missing shim, or --there shim"
