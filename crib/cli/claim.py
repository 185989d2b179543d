"""crib claim: what am I owed? Claims for own tools that were worn, broken, lost or used up."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import click

from crib.cli.groups import WithUsual
from crib.cli.output import Output, with_output, with_store
from crib.cli.worth import value_lines
from crib.desk.claims import Claim, Claims, Line, Step, claim, claims_or_refuse
from crib.errors import InputError
from crib.store.words import CLAIM_BASES, CLAIM_EVENTS

if TYPE_CHECKING:
    from crib.desk.claim_doing import LineRequest


class _Claim(WithUsual):
    bare = "list"
    named = "show"


@click.group(cls=_Claim)
def command() -> None:
    r"""What am I owed for my own tools?

    \b
    crib claim                                 all claims, and tools that may be worth one
    crib claim new D08 --event "worn out" --basis agreed --seen "W. Oddney"
    crib claim add 2026-1 H03 --event broken --basis "like for like"
    crib claim 2026-1                          lines, sums, GAPS, deadlines, steps
    crib claim send 2026-1 --on 2026-11-20 --accept-gaps
    crib claim agree 2026-1 1 --amount "50 EUR" --by "the foreman"
    crib claim refuse 2026-1 2 --why "not on the inventory"
    crib claim settle 2026-1 --how "with the wages"
    crib claim replace 2026-1 1 --tag D20 --owner "Tamsin Arkwell"
    crib claim close 2026-1
    crib claim print 2026-1 --pdf claim.pdf    also --csv, --xlsx
    """


def _line_options(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options of one line."""
    options = (
        click.option("--event", type=click.Choice(CLAIM_EVENTS), required=True, help="What happened to it."),
        click.option("--basis", type=click.Choice(CLAIM_BASES), default=None, help="On which it is asked."),
        click.option("--amount", default="", help="What is asked, if it is not to be worked out."),
        click.option("--share", default="", metavar="PERCENT", help="For a share of the price of a new one."),
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
    from crib.desk import claim_doing

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
    from crib.desk import claim_doing

    _give(out, claim_doing.add(db, number, tags, _request(told)))


@command.command()
@click.argument("number")
@_head_options
@with_store
@with_output
def amend(number: str, out: Output, db: str, **told: str) -> None:
    """Name the agreement, the place of work or the rules of a draft."""
    from crib.desk import claim_doing

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
    from crib.desk import claim_doing

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
    from crib.desk import claim_doing

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
    from crib.desk import claim_doing

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
    from crib.desk import claim_doing

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
    from crib.desk import claim_doing

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
    from crib.desk import claim_doing

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
    from crib.desk import claim_doing

    _give(out, claim_doing.replace_with(db, number, line, **told))


@command.command()
@click.argument("number")
@click.option("--why", default="", help="Needed while something is open.")
@_ON
@with_store
@with_output
def close(number: str, why: str, on: str, out: Output, db: str) -> None:
    """Close it: nothing more comes of it."""
    from crib.desk import claim_doing

    _give(out, claim_doing.close(db, number, why=why, on=on))


@command.command("print")
@click.argument("number")
@click.option("--pdf", type=click.Path(), help="Write it as PDF, with photos, gaps and lines to sign on.")
@click.option("--csv", type=click.Path(), help="Write its lines as CSV.")
@click.option("--xlsx", type=click.Path(), help="Write its lines as a workbook.")
@click.option("--paper", default="A4", show_default=True, help="A4 or Letter.")
@with_store
@with_output
def print_(
    number: str, pdf: str | None, csv: str | None, xlsx: str | None, paper: str, out: Output, db: str
) -> None:
    """Write it to files that are not there yet."""
    from crib.desk import evidence
    from crib.desk.dates import now, today
    from crib.desk.outside import save_new
    from crib.report import claim_paper, sheets

    found = claim(db, number)
    rows = claim_paper.claim_rows(found)
    saved = []
    if pdf:
        photos = evidence.photos(db, (proof for line in found.lines for proof in line.proofs))
        saved.append(save_new(pdf, claim_paper.claim_pdf(found, photos, on=today(), size=paper, made=now())))
    if csv:
        saved.append(save_new(csv, sheets.csv_bytes(claim_paper.HEADINGS, rows)))
    if xlsx:
        saved.append(save_new(xlsx, sheets.xlsx_bytes(f"claim {found.number}", claim_paper.HEADINGS, rows)))
    if not saved:
        raise InputError("where to?", "--pdf claim.pdf, --csv claim.csv, --xlsx claim.xlsx")
    out.give({"saved": saved}, lambda: (f"Saved: {path}" for path in saved))


def _request(told: dict[str, str | None]) -> "LineRequest":
    from crib.desk.claim_doing import LineRequest

    return LineRequest(**{name: value or "" for name, value in told.items()})


def _give(out: Output, found: Claim) -> None:
    out.give(found, lambda: told_lines(found))


# -- in words ----------------------------------------------------------------------------------------------


def list_lines(found: Claims) -> Iterable[str]:
    """Put all claims into lines."""
    for one in found.claims:
        gaps = f", {one.gaps} GAPS" if one.gaps else ""
        yield f"{one.number:8} {one.state:12} {one.asked:>14} asked, {one.open:>14} open{gaps}"
        tools = ", ".join(one.tools) or "no line yet"
        yield f"         {one.claimant} of {one.payer}, made {one.made_on}: {tools}"
        if one.next_due:
            yield f"         next: {one.next_due}"
    if found.suggested:
        yield "On no claim yet, and yours:"
        for tool in found.suggested:
            why = f": {tool.why}" if tool.why else ""
            yield f"  {tool.item.tag:6} {tool.item.label}, {tool.event} {tool.on}{why}"


def claim_lines(found: Claim) -> Iterable[str]:
    """Put one claim into lines."""
    yield _head(found)
    facts = (("relies on", found.clause), ("place of work", found.place_of_work), ("note", found.note))
    yield from (f"  {name}: {value}" for name, value in facts if value)
    for line in found.lines:
        yield ""
        yield from _line_lines(line)
    yield ""
    yield from _foot(found)
    yield from gap_lines(found)
    yield from deadline_lines(found)
    yield "Steps:"
    yield from (f"  {step_line(step)}" for step in found.steps)
    yield ""
    yield found.defer


def gap_lines(found: Claim) -> Iterable[str]:
    """Say loudly what a claim lacks, while something may come of it."""
    if found.all_gaps:
        yield f"GAPS ({len(found.all_gaps)}):"
        yield from (f"  {gap}" for gap in found.all_gaps)


def step_line(step: Step) -> str:
    """Put one step of a claim into a line."""
    of = f"line {step.line_no} " if step.line_no else ""
    to, by = f"to {step.to_whom}" if step.to_whom else "", f"written by {step.by}" if step.by else ""
    told = ", ".join(fact for fact in (step.amount, to, step.why, by) if fact)
    return f"{step.on}  {of}{step.state}" + (f": {told}" if told else "")


def told_lines(found: Claim) -> Iterable[str]:
    """Say where a claim stands after a step."""
    yield _head(found)
    yield from (line for one in found.lines for line in _where(one))
    yield from _foot(found)
    yield from gap_lines(found)
    yield f"crib claim {found.number} tells all of it."


def _head(found: Claim) -> str:
    state = found.state.upper()
    return f"Claim {found.number} of {found.claimant}, to {found.payer}, made {found.made_on}: {state}"


def _where(line: Line) -> Iterable[str]:
    """Say in two lines what a line is about, and where it stands."""
    many = f"{line.quantity} × " if line.quantity != 1 else ""
    tool = f"{line.item.tag}  {line.item.designation or line.item.label}"
    yield f"{line.line_no}. {many}{tool}: {line.event}, {line.on or 'NO DAY'}"
    answers = (
        line.agreed and f"{line.agreed} agreed",
        line.paid and f"{line.paid} paid",
        line.had and f"{line.had} had before",
        line.replaced_by and f"replaced by {', '.join(line.replaced_by)}",
    )
    told = "".join(f", {answer}" for answer in answers if answer)
    yield f"   {line.asked} asked, {line.basis}; {line.state}{told}"


def _line_lines(line: Line) -> Iterable[str]:
    yield from _where(line)
    facts = (
        line.what_happened,
        line.job and f"job {line.job}",
        line.machine and f"on the {line.machine}",
        line.seen_by and f"seen by {line.seen_by}",
        line.asked_by and f"asked for by {line.asked_by}",
        line.old_piece and f"old piece: {line.old_piece}",
        line.worked_out,
    )
    yield from (f"   {fact}" for fact in facts if fact)
    yield "   one piece is worth, side by side:"
    for value in line.values:
        yield from (f"   {text}" for text in value_lines(value))
    shown = ", ".join(f"no. {one.number} {one.kind} {one.on or ''}".strip() for one in line.proofs)
    yield f"   evidence: {shown or 'none'}"


def _foot(found: Claim) -> Iterable[str]:
    sums = found.sums
    by = "; ".join(f"{basis} {amount}" for basis, amount in sums.by_basis.items())
    yield f"Asked {sums.asked}" + (f" ({by})" if len(sums.by_basis) > 1 else "")
    yield f"Agreed {sums.agreed}, paid {sums.paid}, had before {sums.had}; open {sums.open}"
    yield f"({sums.rounding})"


def deadline_lines(found: Claim) -> Iterable[str]:
    """Put the deadlines of a claim into lines."""
    if not found.deadlines:
        return
    yield f"Deadlines by the rules {found.rules!r}; each says from which day it was counted:"
    for one in found.deadlines:
        of = f" (line{'s' * (len(one.lines) > 1)} {', '.join(map(str, one.lines))})" if one.lines else ""
        if one.due is None or one.days_left is None:
            yield f"  NO DAY      {one.what}{of}: counted from {one.counted_from}, which is not on record"
            continue
        left = f"{one.days_left} days left" if one.days_left >= 0 else f"{-one.days_left} days ago"
        yield f"  {one.due}  {one.what}{of}: {left}"
        way = f"{abs(one.days)} days {'after' if one.days > 0 else 'before'} {one.start}"
        yield f"              {way}, {one.counted_from}"
    for source in dict.fromkeys(f"{one.source} ({one.as_of})" for one in found.deadlines):
        yield f"  rules: {source}"
