"""crib claim: what am I owed? Claims for own tools that were worn, broken, lost or used up."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from crib.cli.groups import WithUsual
from crib.cli.output import Output, with_output, with_store
from crib.desk.owed.allowance import LIKE
from crib.desk.owed.claims import Claim, claim, claims_or_refuse
from crib.report.claim_words import claim_lines, list_lines, told_lines
from crib.store.words import CLAIM_BASES, CLAIM_EVENTS

if TYPE_CHECKING:
    from crib.desk.owed.claim_doing import LineRequest


class _Claim(WithUsual):
    bare = "list"
    named = "show"


@click.group(cls=_Claim)
def command() -> None:
    """What am I owed for my own tools?

    \b
    crib claim                         all claims, and tools that may be worth one
    crib claim new D08 --event "worn out" --basis agreed --seen "W. Oddney"
    crib claim add 2026-1 H03 --event broken --basis "like for like"
    crib claim 2026-1                  lines, sums, GAPS, deadlines, steps
    crib claim send 2026-1 --on 2026-11-20 --accept-gaps
    crib claim agree 2026-1 1 --amount "50 EUR" --by "the foreman"
    crib claim refuse 2026-1 2 --why "not on the inventory"
    crib claim settle 2026-1 --how "with the wages"
    crib claim replace 2026-1 1 --tag D20 --owner "Tamsin Arkwell"
    crib claim close 2026-1
    crib claim print 2026-1 claim.pdf  or .csv, .xlsx
    """


def _line_options(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options of one line."""
    options = (
        click.option("--event", type=click.Choice(CLAIM_EVENTS), required=True, help="What happened to it."),
        click.option("--basis", type=click.Choice(CLAIM_BASES), default=None, help="On which it is asked."),
        click.option("--amount", default="", help="What is asked, if it is not to be worked out."),
        click.option("--share", default="", metavar="SHARE", help=f"Of the price of a new one; or {LIKE}."),
        click.option("--repair", default="", metavar="AMOUNT", help="What the repair costs."),
        click.option("--edges", default="", metavar="N", help="Edges used up, for consumption."),
        click.option("--pieces", default="", metavar="N", help="How many; one if not told."),
        click.option("--on", default="", metavar="DAY", help="The day; the ledger's, if not told."),
        click.option("--what", default="", help="What happened; the ledger's words, if not told."),
        click.option("--job", default="", help="For which job."),
        click.option("--machine", default="", help="On which machine."),
        click.option("--seen", default="", metavar="NAME", help="Who saw it."),
        click.option("--asked", default="", metavar="NAME", help="Who required or authorised the tool."),
        click.option("--old", default="", help="Where the old piece is: handed in to …"),
        click.option("--had", default="", metavar="AMOUNT", help="What was had for it already."),
    )
    for option in reversed(options):
        function = option(function)
    return function


def _head_options(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options of a claim as a whole."""
    options = (
        click.option("--clause", default="", help="Of a policy or agreement that it relies on."),
        click.option("--place", default="", help="Where the work is done, whose law applies."),
        click.option("--note", default="", help="Anything."),
        click.option("--rules", default="", help="For the deadlines; the setting, if not told."),
    )
    for option in reversed(options):
        function = option(function)
    return function


_LINES = click.argument("lines", nargs=-1, type=click.IntRange(1))
_ON = click.option("--on", default="", metavar="DAY", help="The day of it; today if not told.")


@command.command("list")
@with_store
@with_output
def list_(out: Output, db: str) -> None:
    """All claims, the newest first, and own tools that may be worth one."""
    found = claims_or_refuse(db)
    out.give(found, lambda: list_lines(found))


@command.command()
@click.argument("number")
@with_store
@with_output
def show(number: str, out: Output, db: str) -> None:
    """One claim in full: lines, sums, gaps, deadlines, steps."""
    found = claim(db, number)
    out.give(found, lambda: claim_lines(found))


@command.command()
@click.argument("tags", nargs=-1)
@click.option("--payer", default="", help="Who is asked; the company, if there is one only.")
@click.option("--currency", default="", help="The setting, if not told.")
@_head_options
@_line_options
@with_store
@with_output
def new(
    tags: tuple[str, ...],
    payer: str,
    currency: str,
    clause: str,
    place: str,
    note: str,
    rules: str,
    out: Output,
    db: str,
    **told: str | None,
) -> None:
    """Make a claim, a line for each tool named; what is told holds for each."""
    from crib.desk.owed import claim_doing

    head = {
        "payer": payer,
        "currency": currency,
        "clause": clause,
        "place": place,
        "note": note,
        "rules": rules,
    }
    _give(out, claim_doing.new(db, tags, _request(told), **head))


@command.command()
@click.argument("number")
@click.argument("tags", nargs=-1, required=True)
@_line_options
@with_store
@with_output
def add(number: str, tags: tuple[str, ...], out: Output, db: str, **told: str | None) -> None:
    """Add a line for each tool named to a draft."""
    from crib.desk.owed import claim_doing

    _give(out, claim_doing.add(db, number, tags, _request(told)))


@command.command()
@click.argument("number")
@_head_options
@with_store
@with_output
def amend(number: str, out: Output, db: str, **told: str) -> None:
    """Name the agreement, the place of work or the rules of a draft."""
    from crib.desk.owed import claim_doing

    _give(out, claim_doing.amend(db, number, **told))


@command.command()
@click.argument("number")
@click.argument("line", type=click.IntRange(1))
@click.option("--amount", required=True)
@click.option("--why", required=True)
@_ON
@with_store
@with_output
def correct(number: str, line: int, amount: str, why: str, on: str, out: Output, db: str) -> None:
    """Change what is asked for a line, by a dated step."""
    from crib.desk.owed import claim_doing

    _give(out, claim_doing.correct(db, number, line, amount, why=why, on=on))


@command.command()
@click.argument("number")
@_LINES
@click.option("--why", required=True)
@_ON
@with_store
@with_output
def withdraw(number: str, lines: tuple[int, ...], why: str, on: str, out: Output, db: str) -> None:
    """Withdraw lines, or the whole claim; it stays on record."""
    from crib.desk.owed import claim_doing

    _give(out, claim_doing.withdraw(db, number, lines, why=why, on=on))


@command.command()
@click.argument("number")
@click.option("--to", default="", help="To whom; the payer, if not told.")
@click.option("--accept-gaps", is_flag=True, help="Although something is lacking.")
@_ON
@with_store
@with_output
def send(number: str, to: str, accept_gaps: bool, on: str, out: Output, db: str) -> None:
    """Record that it was handed in."""
    from crib.desk.owed import claim_doing

    _give(out, claim_doing.send(db, number, to=to, accept_gaps=accept_gaps, on=on))


@command.command()
@click.argument("number")
@_LINES
@click.option("--amount", default="", help="Agreed to, if not all; goes with one line.")
@click.option("--by", default="", help="Who said so.")
@click.option("--why", default="")
@_ON
@with_store
@with_output
def agree(number: str, lines: tuple[int, ...], out: Output, db: str, **told: str) -> None:
    """Record that the payer agreed: to the lines named, or all without an answer."""
    from crib.desk.owed import claim_doing

    _give(out, claim_doing.agree(db, number, lines, **told))


@command.command()
@click.argument("number")
@_LINES
@click.option("--why", required=True)
@click.option("--by", default="", help="Who said so.")
@_ON
@with_store
@with_output
def refuse(number: str, lines: tuple[int, ...], out: Output, db: str, **told: str) -> None:
    """Record that the payer refused: the lines named, or all without an answer."""
    from crib.desk.owed import claim_doing

    _give(out, claim_doing.refuse(db, number, lines, **told))


@command.command()
@click.argument("number")
@_LINES
@click.option("--amount", default="", help="Paid, if not all that is open; goes with one line.")
@click.option("--how", default="", help="Cash, with the wages …")
@_ON
@with_store
@with_output
def settle(number: str, lines: tuple[int, ...], out: Output, db: str, **told: str) -> None:
    """Record that it was paid: the lines named, or all that is agreed and open."""
    from crib.desk.owed import claim_doing

    _give(out, claim_doing.settle(db, number, lines, **told))


@command.command()
@click.argument("number")
@click.argument("line", type=click.IntRange(1))
@click.option("--tag", required=True, help="Of the new tool.")
@click.option("--owner", required=True, help="Whose the new one is: by agreement, so ask.")
@click.option("--place", default="", help="Where it lies; where the old one is, if not told.")
@click.option("--mark", default="", help="What is engraved on it.")
@click.option("--serial", default="", help="Its number.")
@click.option("--old-to", default="", metavar="NAME", help="Whose the old piece is now, if handed over.")
@_ON
@with_store
@with_output
def replace(number: str, line: int, out: Output, db: str, **told: str) -> None:
    """Record that a line was settled by a like tool, which comes on record."""
    from crib.desk.owed import claim_doing

    _give(out, claim_doing.replace_with(db, number, line, **told))


@command.command()
@click.argument("number")
@click.option("--why", default="", help="Needed while something is open.")
@_ON
@with_store
@with_output
def close(number: str, why: str, on: str, out: Output, db: str) -> None:
    """Close it: nothing more comes of it."""
    from crib.desk.owed import claim_doing

    _give(out, claim_doing.close(db, number, why=why, on=on))


@command.command("print")
@click.argument("number")
@click.argument("files", nargs=-1, required=True, type=click.Path())
@click.option("--paper", default="A4", show_default=True, help="A4 or Letter.")
@with_store
@with_output
def print_(number: str, files: tuple[str, ...], paper: str, out: Output, db: str) -> None:
    """Write it to files that are not there yet: .pdf with photos and lines to sign on, .csv, .xlsx."""
    from crib.report.claim_paper import save_claim

    saved = [save_claim(db, number, file, size=paper) for file in files]
    out.give({"saved": saved}, lambda: (f"Saved: {path}" for path in saved))


def _request(told: dict[str, str | None]) -> "LineRequest":
    from crib.desk.owed.claim_doing import LineRequest

    return LineRequest(**{name: value or "" for name, value in told.items()})


def _give(out: Output, found: Claim) -> None:
    out.give(found, lambda: told_lines(found))
