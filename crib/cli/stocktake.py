"""crib stocktake: count a whole place against the books."""

from collections.abc import Iterable

import click

from crib.cli.groups import WithUsual
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings import stocktake
from crib.desk.doings.stocktake import Count, CountLine
from crib.units.counts import many


class StocktakeGroup(WithUsual):
    """Shows the count under way when nothing is said."""

    bare = "show"


@click.group(cls=StocktakeGroup)
def command() -> None:
    """Count a whole place against the books; only closing it changes them.

    \b
    crib stocktake begin "insert cabinet / drawer 1"
    crib stocktake count I01 9 --edges 36
    crib stocktake                       how far it is, and what differs
    crib stocktake close                 write the differences, as one doing
    """


_IN = click.option("--in", "place", default="", help="Where several places are being counted, which.")


@command.command()
@click.argument("place")
@with_store
@with_output
def begin(place: str, out: Output, db: str) -> None:
    """Begin to count a place with all below it, or go on with the count under way there."""
    count = stocktake.begin(db, place)
    out.give(count, lambda: lines(count))


@command.command()
@_IN
@with_store
@with_output
def show(place: str, out: Output, db: str) -> None:
    """How far the count is, what differs, what is left."""
    count = stocktake.show(db, place)
    out.give(count, lambda: lines(count))


@command.command("count")
@click.argument("tag")
@click.argument("pieces", type=click.IntRange(0, 1_000_000))
@click.option("--edges", type=click.IntRange(0, 1_000_000), help="Fresh edges on them.")
@_IN
@with_store
@with_output
def count_(tag: str, pieces: int, edges: int | None, place: str, out: Output, db: str) -> None:
    """Keep what was counted of one item; counted again, the newest counts."""
    count = stocktake.enter(db, tag, pieces, edges=edges, place=place)
    out.give(count, lambda: (f"{count.counted} of {len(count.lines)} counted, {count.differing} differ.",))


@command.command()
@click.option("--rest-missing", is_flag=True, help="What was not counted is not there: count it as none.")
@_IN
@with_store
@with_output
def close(rest_missing: bool, place: str, out: Output, db: str) -> None:
    """Write the differences to the ledger; what was not counted stays as it is."""
    done = stocktake.close(db, place, rest_is_missing=rest_missing)
    out.give(done, lambda: (done.verdict, done.detail, f"Undo: {done.undo}"))


@command.command()
@_IN
@with_store
@with_output
def drop(place: str, out: Output, db: str) -> None:
    """Leave a count without changing anything."""
    path = stocktake.drop(db, place)
    out.give({"dropped": path}, lambda: (f"Dropped the count of {path}; the books are as they were.",))


def lines(count: Count) -> Iterable[str]:
    """Put a count into lines: how far it is, what differs, what is left."""
    yield f"Counting {count.place}, begun {count.begun}: {count.counted} of {len(count.lines)} counted."
    yield f"{count.differing} differ from the books." if count.differing else "Nothing differs so far."
    for heading, group in (
        ("Differ:", [line for line in count.lines if line.differs]),
        ("Not counted yet:", list(count.left)),
        ("As in the books:", [line for line in count.lines if line.pieces is not None and not line.differs]),
    ):
        if group:
            yield ""
            yield heading
            yield from (count_line(line) for line in group)
    yield ""
    yield "Next: crib stocktake count TAG PIECES --edges N" if count.left else "Next: crib stocktake close"


def count_line(line: CountLine) -> str:
    """Put one item of a count into a line."""
    item = line.item
    books = f"{item.quantity}" + ("" if item.edges_left is None else f", {many(item.edges_left, 'edge')}")
    counted = ""
    if line.pieces is not None:
        counted = (
            f"counted {line.pieces}" + ("" if line.edges is None else f", {many(line.edges, 'edge')}") + "; "
        )
    away = f"; belongs at {item.place}" if line.elsewhere else ""
    lent = f"; lent to {item.held_by}" if item.held_by else ""
    return f"  {item.tag:6} {item.designation or item.label}: {counted}books {books}{away}{lent}"
