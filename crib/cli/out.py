"""crib out: who has what, what of mine is out, what is overdue; who has one tool."""

from collections.abc import Iterable

import click

from crib.cli.find import item_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.doings.out import Here, Out, OutLine, WhoHas, who_has
from crib.desk.doings.out import out as ask_out
from crib.desk.doings.out import still_here as ask_still_here
from crib.errors import CribError, InputError


@click.command()
@click.argument("tool", nargs=-1)
@click.option("--mine", is_flag=True, help="What of mine is out, and what I have of others'.")
@click.option("--overdue", is_flag=True, help="Only what should be back by now.")
@click.option("--still-here", is_flag=True, help="What of mine is still in the building, to take home.")
@click.option("--who", default="", help="Only what this person has.")
@with_store
@with_output
def command(
    tool: tuple[str, ...], mine: bool, overdue: bool, still_here: bool, who: str, out: Output, db: str
) -> int:
    """Who has what, longest out first.

    With a TOOL: who has it, and its last three borrowers; with a name: what that person has.
    """
    if tool:
        try:
            one = who_has(db, " ".join(tool))
        except InputError as no_tool:  # none is called so, or several are
            try:  # a name instead of a tool: what that person has
                found = ask_out(db, mine=mine, overdue=overdue, who=" ".join(tool))
            except CribError:
                raise no_tool from None
            out.give(found, lambda: lines(found))
            return 0 if found.lines else 1
        out.give(one, lambda: one_lines(one))
        return 0
    if still_here:
        left = ask_still_here(db)
        out.give(left, lambda: here_lines(left))
        return 0 if left.free or left.in_machines else 1
    found = ask_out(db, mine=mine, overdue=overdue, who=who)
    out.give(found, lambda: lines(found))
    return 0 if found.lines else 1


def lines(found: Out) -> Iterable[str]:
    """Put what is out into lines: the answer, each tool with whom and since when, what next."""
    yield found.verdict
    yield found.detail
    for heading, whose in (
        ("Mine, out:", "mine"),
        ("Others', with me:", "theirs"),
        ("Others', out:", "others'"),
    ):
        group = [line for line in found.lines if line.whose == whose]
        if group:
            yield ""
            yield heading
            for line in group:
                yield from out_lines(line)
    yield ""
    yield f"Next: {found.next_step}"


def here_lines(left: Here) -> Iterable[str]:
    """Put what of mine is still here into lines, with boxes to tick."""
    yield left.verdict
    yield left.detail
    for heading, items in (("Could go home:", left.free), ("At a machine:", left.in_machines)):
        if items:
            yield ""
            yield heading
        for item in items:
            many = f", {item.quantity} of them" if item.quantity != 1 else ""
            claim = "; ON A CLAIM" if item.tag in left.on_claim else ""
            yield f"[ ] {item.tag:6} {item.designation or item.label}{many}; {item.place}{claim}"
    if left.out:
        yield ""
        yield "With others:"
        for line in left.out:
            yield from out_lines(line)
    yield ""
    yield f"Next: {left.next_step}"


def out_lines(line: OutLine) -> Iterable[str]:
    """Put one tool that is out into two lines."""
    item = line.item
    code = f"{item.designation}  " if item.designation else ""
    many = f", {item.quantity} of them" if item.quantity != 1 else ""
    yield f"{item.tag:6} {code}{item.label}{many}"
    due = f", back by {line.due}" if line.due else ", no day promised"
    late = (
        f", OVERDUE by {line.overdue_days} day{'s' * (line.overdue_days != 1)}" if line.overdue_days else ""
    )
    gone = f", who LEFT on {line.holder_gone_on}" if line.holder_gone_on else ""
    why = f" ({line.why})" if line.why else ""
    yield f"       {line.what} to {item.held_by}{gone} on {line.since}{due}{late}; {item.owner}'s{why}"


def one_lines(found: WhoHas) -> Iterable[str]:
    """Put who has one tool into lines, with its last borrowers."""
    yield found.verdict
    yield found.detail
    yield ""
    yield from item_lines(found.item)
    for loan in found.loans:
        until = f"to {loan.until}" if loan.until else "until now"
        back = f", promised back by {loan.back}" if loan.back else ""
        yield f"       with {loan.who} from {loan.since} {until}{back}" + (
            f" ({loan.why})" if loan.why else ""
        )
    yield f"Next: {found.next_step}"
