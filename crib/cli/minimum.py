"""crib minimum: how many of what there should be."""

from collections.abc import Iterable, Sequence

import click

from crib.cli.groups import WithUsual
from crib.cli.output import Output, with_output, with_store
from crib.desk.restocking.minimums import Minimum, MinimumSaved, drop_minimum, minimums, set_minimum
from crib.units.counts import many


@click.group(cls=WithUsual)
def command() -> None:
    """How many of a code there should be; `crib restock` says what is below.

    \b
    crib minimum                                    all of them
    crib minimum set WNMG080408 --least 40          forty edges
    crib minimum set S05 --least 5 --up-to 20 --lead "2 weeks" --payer company
    crib minimum drop WNMG080408
    """


@command.command("list")
@with_store
@with_output
def list_(out: Output, db: str) -> None:
    """All minimums, by site and code."""
    found = minimums(db)
    out.give({"minimums": found}, lambda: list_lines(found))


@command.command("set")
@click.argument("code", nargs=-1, required=True)
@click.option("--least", type=int, default=None, help="Fewer are too few.")
@click.option("--up-to", type=int, default=None, help="Buy up to this; to --least if not told.")
@click.option("--grade", default="", help="Of that grade only.")
@click.option("--in", "counted_in", default="", help="edges or pieces; edges for inserts if not told.")
@click.option("--lead", default="", help='From order to delivery: "5 days", "2 weeks".')
@click.option("--payer", default="", help="Who pays: a name, mark, company; only their own pieces count.")
@click.option("--price", default="", help='What one piece cost last: "8.50 EUR".')
@click.option("--site", default="", help="Where; this site if not told.")
@click.option("--note", default="", help="Why it is wanted, and anything else.")
@with_store
@with_output
def set_(
    code: tuple[str, ...], least: int | None, up_to: int | None, out: Output, db: str, **told: str
) -> None:
    """Set how many there should be of a code, or of a tool by its tag; only what is told changes."""
    saved = set_minimum(db, " ".join(code), least=least, up_to=up_to, **told)
    out.give(saved, lambda: saved_lines(saved))


@command.command()
@click.argument("code", nargs=-1, required=True)
@click.option("--grade", default="", help="Of that grade.")
@click.option("--site", default="", help="Where; this site if not told.")
@with_store
@with_output
def drop(code: tuple[str, ...], grade: str, site: str, out: Output, db: str) -> None:
    """Ask no longer for a minimum."""
    gone = drop_minimum(db, " ".join(code), grade=grade, site=site)
    out.give({"dropped": gone}, lambda: ("No longer asked for:", *minimum_lines(gone)))


def list_lines(found: Sequence[Minimum]) -> Iterable[str]:
    """Put all minimums into lines."""
    for one in found:
        yield from minimum_lines(one)
    yield (
        f"{many(len(found), 'minimum')}." if found else "No minimums are set: crib minimum set CODE --least N"
    )


def minimum_lines(one: Minimum) -> Iterable[str]:
    """Put one minimum into lines."""
    up_to = f", buy up to {one.up_to}" if one.up_to is not None else ""
    grade = f", {one.grade}" if one.grade else ""
    yield f"{one.what}{grade}: at least {one.least} {one.counted_in} at {one.site}{up_to}"
    told = (
        (one.lead_days, f"lead time {many(one.lead_days or 0, 'day')}"),
        (one.price, f"{one.price} a piece"),
        (one.payer, f"paid by {one.payer}"),
        (one.note, one.note or ""),
    )
    if more := "; ".join(text for value, text in told if value):
        yield f"       {more}"


def saved_lines(saved: MinimumSaved) -> Iterable[str]:
    """Say what was set."""
    yield "Set." if saved.added else "Changed."
    yield from minimum_lines(saved.minimum)
