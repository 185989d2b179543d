"""crib restock: what is running out, what to buy, how many edges are left."""

from collections.abc import Iterable

import click

from crib.cli.filed import give_file, to_file
from crib.cli.groups import WithUsual
from crib.cli.output import Output, with_output, with_store
from crib.desk.restocking.restock import Line, Restock, beside, left_of, restock
from crib.units.counts import many


class RestockGroup(WithUsual):
    """Lists what is below its minimum when nothing is said, tells of one code when it is named."""

    named = "show"


@click.group(cls=RestockGroup)
def command() -> None:
    """What is below its minimum, and what to buy.

    \b
    crib restock                        to buy, and what only has to come back
    crib restock --all                  every minimum
    crib restock --to to-buy.pdf        on paper; .csv and .xlsx for a spreadsheet
    crib restock WNMG080408             how much is left of one code, box by box
    """


@command.command("list")
@click.option("--all", "whole", is_flag=True, help="Those with enough too.")
@click.option("--service", type=float, default=None, metavar="PERCENT", help="90, 95, 97, 98 or 99.")
@to_file
@with_store
@with_output
def list_(whole: bool, service: float | None, file: str, out: Output, db: str) -> None:
    """What is below its minimum: to buy first, then what is short until something comes back."""
    found = restock(db, whole=whole, service=service)
    if not file:
        out.give(found, lambda: list_lines(found))
        return
    from crib.report.restock import buy_list

    give_file(out, file, lambda: buy_list(found))


@command.command()
@click.argument("code", nargs=-1, required=True)
@click.option("--grade", default="", help="Of that grade only.")
@click.option("--service", type=float, default=None, metavar="PERCENT", help="90, 95, 97, 98 or 99.")
@with_store
@with_output
def show(code: tuple[str, ...], grade: str, service: float | None, out: Output, db: str) -> None:
    """How much is left of one code on this site, box by box."""
    found = left_of(db, " ".join(code), grade=grade, service=service)
    out.give(found, lambda: show_lines(found))


def list_lines(found: Restock) -> Iterable[str]:
    """Put the list into lines."""
    yield found.verdict
    yield found.detail
    for line in found.buy:
        yield ""
        yield from line_lines(line, f"buy {line.buy}")
    for line in found.ask_back:
        yield ""
        yield from line_lines(line, "ask back")
    for line in found.enough:
        yield ""
        yield from line_lines(line, "enough")
    yield ""
    yield f"Next: {found.next_step}"


def line_lines(line: Line, what_to_do: str) -> Iterable[str]:
    """Put one code into lines: what to do, why, what it costs, how fast it goes."""
    yield f"{what_to_do:9} {line.what}" + (f", {line.grade}" if line.grade else "")
    yield f"          {line.why or have(line)}" + (f"; for {', '.join(line.kits)}" if line.kits else "")
    known = line.minimum
    lead = many(known.lead_days, "day") if known and known.lead_days else "not recorded"
    payer = known.payer if known and known.payer else "not recorded"
    yield f"          lead time {lead}; last paid {line.price or 'not recorded'}; who pays: {payer}"
    yield f"          {line.usage.said}"
    if also := beside(line):
        yield f"          besides: {also}"


def have(line: Line) -> str:
    """Say how many are here."""
    least = f", {line.minimum.least} are the least" if line.minimum else ""
    return f"{line.have} {line.counted_in} here{least}"


def show_lines(line: Line) -> Iterable[str]:
    """Put one code into lines, box by box."""
    yield f"{line.what}: {have(line)}" + (f", buy {line.buy}" if line.buy else "") + "."
    yield f"{line.usage.said[:1].upper()}{line.usage.said[1:]}."
    yield ""
    for box in line.boxes:
        edges = "" if box.edges_left is None else f", {many(box.edges_left, 'edge')} left"
        yield f"{box.tag:6} {many(box.quantity, 'piece')}{edges}, {box.state}" + (
            f"; {box.grade}" if box.grade else ""
        )
        yield f"       {box.owner}'s, {box.condition}; {box.place}" + (
            "" if box.counts else "  (not counted)"
        )
    yield ""
    if also := beside(line):
        yield f"Besides: {also}."
    if line.kits:
        yield f"Chosen for: {', '.join(line.kits)}."
    if line.minimum is None:
        yield "Next: crib minimum set CODE --least N says how many there should be."
