"""crib audit: is what the store says now what its ledger says, and is the store sound?"""

from collections.abc import Iterable, Sequence

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.keeping.audit import Audit, audit


@click.command()
@with_store
@with_output
def command(out: Output, db: str) -> int:
    """Rebuild everything from the ledger, look through the store, report what differs; nothing is changed."""
    found = audit(db)
    out.give(found, lambda: lines(found))
    return 0 if found.sound else 1


def lines(found: Audit) -> Iterable[str]:
    """Put an audit into lines."""
    yield f"{len(found.differences)} differences in {found.items} items rebuilt from the ledger."
    for one in found.differences:
        yield f"  item {one.item_id}: {one.field} is {one.stored}, by the ledger {one.by_ledger}"
    yield from _checked("The file is sound", found.file)
    yield from _checked("Every row has what it refers to", found.parents)
    yield from _checked("Every piece of evidence is whole and belongs to something", found.evidence)


def _checked(good: str, troubles: Sequence[str]) -> Iterable[str]:
    if not troubles:
        yield f"{good}."
    for line in troubles:
        yield f"  {line}"
