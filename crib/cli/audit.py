"""crib audit: is what the store says now what its ledger says, and is the store sound?"""

from collections.abc import Iterable

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
    yield found.verdict
    for good, troubles in found.checks:
        yield from (f"  {line}" for line in troubles)
        if not troubles:
            yield f"{good}."
