"""crib proven: the shop's own proven speeds, beside the book's or before them."""

from collections.abc import Iterable

import click

from crib.cli.conditions import with_conditions
from crib.cli.groups import WithUsual
from crib.cli.output import Output, with_output, with_store
from crib.desk.starting.proven import Added, ProvenList, ProvenRequest, add_proven, forget, proven
from crib.units import Kind, show


@click.group(cls=WithUsual)
def command() -> None:
    """The shop's own proven speeds: beside the book's, or before them.

    \b
    crib proven                     all of them
    crib proven add --material 4140 --tool HSS --vc "25 m/min" --feed 0.2
    crib proven forget 3            no. 3 counts no more; it stays on record
    crib setting speeds own         they win over the book's
    """


@command.command("list")
@click.option("--material", default="", help="Of this material only.")
@click.option("--all", "withdrawn", is_flag=True, help="Those that were withdrawn too.")
@with_store
@with_output
def list_(material: str, withdrawn: bool, out: Output, db: str) -> None:
    """The shop's own proven speeds, oldest first."""
    found = proven(db, material=material, withdrawn=withdrawn)
    out.give(found, lambda: list_lines(found))


@command.command()
@click.option("--material", required=True, help="Any name: 4140, 42CrMo4, A36, cast iron …")
@click.option("--tool", required=True, help="HSS, carbide, coated carbide, cermet …")
@click.option("--op", default="turn", help="turn, face, bore, drill …")
@click.option("--cut", default="", help="finish, medium, rough or heavy rough; any if not told.")
@click.option("--vc", default="", help='Cutting speed: "110 m/min", "360 ft/min"; or else:')
@click.option("--n", default="", help="Spindle speed in rev/min, with --diameter.")
@click.option("--diameter", default="", help="Where it cut.")
@click.option("--feed", default="", help="Per revolution.")
@click.option("--depth", default="", help="On the side: it counts for no deeper cut.")
@click.option("--machine", default="", help="Where it was proven; it counts for no other.")
@click.option("--note", default="", help="Anything.")
@click.option("--result", default="", help="How it went, in words.")
@with_conditions
@click.option("--units", type=click.Choice(["metric", "inch"]), default=None, help="What bare numbers mean.")
@with_store
@with_output
def add(out: Output, db: str, units: str | None, **asked: str) -> None:
    """Enter a speed that proved itself; it stands in your name."""
    request = ProvenRequest(**asked)  # type: ignore[arg-type]  # the two flags are bools
    added = add_proven(db, request, system=units or "")
    out.give(added, lambda: added_lines(added, units or "metric"))


@command.command("forget")
@click.argument("number", type=click.IntRange(1))
@click.option("--why", default="", help="What was wrong with it.")
@with_store
@with_output
def forget_(number: int, why: str, out: Output, db: str) -> None:
    """Withdraw a speed: it counts no more, and stays on record with your name and why."""
    gone = forget(db, number, why=why)
    out.give({"withdrawn": gone}, lambda: (f"Withdrawn: {gone.said}", "It stays on record: --all lists it."))


def list_lines(found: ProvenList) -> Iterable[str]:
    """Put the shop's own speeds into lines."""
    for one in found.proven:
        yield f"{one.id:4} {one.material}, {one.tool}, {one.op}"
        yield f"     {one.said}"
        if one.withdrawn_at:
            by = f" by {one.withdrawn_by}" if one.withdrawn_by else ""
            why = f": {one.withdrawn_why}" if one.withdrawn_why else ""
            yield f"     withdrawn {one.withdrawn_at[:10]}{by}{why}"
    yield _whose(found.speeds)


def added_lines(added: Added, system: str) -> Iterable[str]:
    """Say what was entered, beside the book's."""
    one = added.proven
    yield f"Recorded: {one.material}, {one.tool}, {one.op}"
    yield f"  {one.said}"
    if added.book_vc_m_min is not None:
        book = added.book_vc_m_min
        low, start, high = (show(value, Kind.SPEED, system) for value in (book.low, book.start, book.high))
        yield f"  the book: start at {start}, from {low} to {high}"
    if added.doubt:
        yield f"! {added.doubt}"
    yield _whose(added.speeds)


def _whose(speeds: str) -> str:
    if speeds == "own":
        return "The shop's own win over the book's (setting speeds own)."
    return "They stand beside the book's; `crib setting speeds own` or --own makes them win."
