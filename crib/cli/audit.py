"""crib audit: is what the store says now what its ledger says?"""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.audit import Audit, audit


@click.command()
@with_store
@with_output
def command(out: Output, db: str) -> int:
    """Rebuild everything from the ledger and report any difference; nothing is changed."""
    found = audit(db)
    out.give(found, lambda: lines(found))
    return 1 if found.differences else 0


def lines(found: Audit) -> Iterable[str]:
    """Put an audit into lines."""
    yield f"{len(found.differences)} differences in {found.items} items rebuilt from the ledger."
    for one in found.differences:
        yield f"  item {one.item_id}: {one.field} is {one.stored}, by the ledger {one.by_ledger}"
