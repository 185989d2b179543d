"""crib list: what there is for insurance, and settling up on leaving."""

from collections.abc import Iterable, Sequence

import click

from crib.cli.filed import give_file, to_file
from crib.cli.output import Output, with_output, with_store
from crib.desk.owed.insurance import Insurance, Listed, insurance
from crib.desk.owed.leaving import Leaving, Settled, leaving
from crib.units.counts import many


@click.group()
def command() -> None:
    """Lists on paper: for insurance, and for the last day.

    \b
    crib list insurance                         sums, shares, the worst gaps
    crib list insurance --owner me --to tools.pdf
    crib list leaving Tamsin --to settle.pdf
    """


@command.command("insurance")
@click.option("--owner", default="", help="A name, a mark, me, company.")
@click.option("--place", default="", help="At that place only, and below it.")
@to_file
@with_store
@with_output
def insurance_(owner: str, place: str, file: str, out: Output, db: str) -> None:
    """What there is, what it is worth, what would not be believed; --to FILE writes every tool."""
    found = insurance(db, owner=owner, place=place)
    if file:
        from crib.report.lists import insurance_list

        give_file(out, file, lambda: insurance_list(found))
    else:
        out.give(found, lambda: insurance_lines(found))


@command.command("leaving")
@click.argument("name", nargs=-1)
@to_file
@with_store
@with_output
def leaving_(name: tuple[str, ...], file: str, out: Output, db: str) -> None:
    """What is whose when somebody leaves (me, if no name is given): own, to give back, half-paid, unclear."""
    found = leaving(db, " ".join(name) or "me")
    if file:
        from crib.report.lists import leaving_list

        give_file(out, file, lambda: leaving_list(found))
    else:
        out.give(found, lambda: leaving_lines(found))


def insurance_lines(found: Insurance) -> Iterable[str]:
    """Put the sums and the worst gaps into lines."""
    yield found.verdict
    yield found.detail
    yield ""
    for one in found.sums:
        worth = " and ".join(one.worth) or "no value"
        without = f", {one.without} without a value" if one.without else ""
        yield f"{one.place}, {one.owner}: {many(one.tools, 'tool')}, {worth}{without}"
    yield ""
    yield "The worst gaps:" if found.worst else "No gaps."
    for line in found.worst:
        yield from _gap_lines(line)
    yield ""
    yield f"Next: {found.next_step}"


def _gap_lines(line: Listed) -> Iterable[str]:
    worth = f", {line.all} ({line.basis}, {line.on})" if line.all else ""
    yield f"{line.tag:6} {line.what}{worth}"
    yield f"       {line.owner}'s; {line.place}: {', '.join(line.gaps)}"


def leaving_lines(found: Leaving) -> Iterable[str]:
    """Put the four columns into lines, one below the other."""
    yield found.verdict
    yield found.detail
    columns: Sequence[tuple[str, Sequence[Settled]]] = (
        (f"{found.name}'s own", found.mine),
        ("To give back", found.theirs),
        ("Half-paid", found.half),
        ("Unclear", found.unclear),
    )
    for heading, lines in columns:
        yield ""
        yield f"{heading}: {len(lines)}"
        for one in lines:
            count = f"{one.count} x " if one.count != 1 else ""
            yield f"{one.tag:6} {count}{one.what}" + (f"; {one.say}" if one.say else "")
            yield f"       {one.where}; proof: {one.proof}"
    yield ""
    yield f"Next: {found.next_step}"
