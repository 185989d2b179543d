"""crib missing: what can't be used because a part is gone."""

from collections.abc import Iterable

import click

from crib.cli.filed import give_file, to_file
from crib.cli.output import Output, with_output, with_store
from crib.desk.restocking.missing import Missing, missing


@click.command()
@to_file
@with_store
@with_output
def command(file: str, out: Output, db: str) -> None:
    """What can't be used because a part is gone, and where one might be had."""
    found = missing(db)
    if file:
        from crib.report.missing import missing_list

        give_file(out, file, lambda: missing_list(found))
    else:
        out.give(found, lambda: lines(found))


def lines(found: Missing) -> Iterable[str]:
    """Put the answer into lines."""
    yield found.verdict
    yield found.detail
    for lack in found.lacks:
        code = f" (no. {lack.code})" if lack.code else ""
        away = "" if lack.on_site else "  (not on hand)"
        yield ""
        yield f"{lack.tag:6} {lack.designation or lack.label} needs: {lack.part}{code}"
        yield f"       {lack.owner}'s; {lack.place}{away}" + (f"; {lack.note}" if lack.note else "")
        for one in lack.sources:
            fits = "" if one.sure else "look first: "
            yield f"       {fits}{one.count} at {one.tag} {one.label} ({one.why})"
            yield f"            {one.owner}'s; {one.place}"
        if not lack.sources:
            yield "       none on record anywhere"
    yield ""
    yield f"Next: {found.next_step}"
