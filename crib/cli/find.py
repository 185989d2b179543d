"""crib find: what have we got?"""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.asking.ask import Found, FoundItem, find
from crib.units.counts import many

STATUS_NOTHING = 1


@click.command()
@click.argument("words", nargs=-1)
@click.option("--at", default="", help="A place or site; or here, home, out.")
@click.option("--owner", default="", help="A name, me, or company.")
@click.option("--hand", default="", help="left, right or neutral.")
@click.option("--kind", default="", help="insert, holder, bar, bit, rotary, gauge, workholding, spare.")
@click.option("--fits", default="", help="What must go with it: the code of an insert, holder or bar.")
@click.option("--condition", default="", help="new, good, worn, damaged, scrap.")
@click.option("--limit", default=50, type=click.IntRange(1, 10_000), help="How many to print.")
@with_store
@with_output
def command(words: tuple[str, ...], out: Output, db: str, **flags: str) -> int:
    """What have we got? Shop talk ("left hand holder for a WNMG 080408 here") or field=value."""
    limit = int(flags.pop("limit"))
    found = find(db, " ".join(words), limit=limit, **flags)  # type: ignore[arg-type]  # all other flags are text
    out.give(found, lambda: lines(found))
    return 0 if found.total else STATUS_NOTHING


def lines(found: Found) -> Iterable[str]:
    """Put an answer into lines: the answer, how sure, the tools, what was understood, what next."""
    yield found.verdict
    yield found.detail
    if found.book:
        yield f"Next: {found.next_step}"
        return
    yield ""
    for item in found.items or found.elsewhere:
        yield from item_lines(item)
    if found.total > len(found.items):
        yield f"… and {found.total - len(found.items)} more (--limit)"
    yield ""
    understood = ", ".join(f"{said.field} {said.value} ({said.from_!r})" for said in found.understood)
    yield f"Understood: {understood or 'everything on record'}"
    yield f"Next: {found.next_step}"


def item_lines(item: FoundItem) -> Iterable[str]:
    """Put one tool into two lines: what it is; whose, where, in what state."""
    code = f"{item.designation}  " if item.designation else ""
    yield f"{item.tag:6} {code}{item.label}" + (f"; takes {item.takes}" if item.takes else "")
    whose = ", ".join(part for part in (f"{item.owner}'s", item.condition, item.gap) if part)
    count = f", {item.quantity} of them" if item.quantity != 1 else ""
    edges = "" if item.edges_left is None else f", {many(item.edges_left, 'edge')} left"
    site = "" if item.on_site else "  (not on hand)"
    yield f"       {whose}{count}{edges}; {item.loan or item.place}{site}"
    if item.note:
        yield f"       note: {item.note}"
