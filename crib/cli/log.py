"""crib log: how a cut went, for the next one like it."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.ringing.logbook import Logged, LoggedLine, LogRequest, log_cut, logged, withdraw
from crib.desk.ringing.offered import last
from crib.errors import InputError


@click.command()
@click.argument("result", default="")
@click.option("--last", "last_", is_flag=True, help="Of the last pick; that is meant anyway.")
@click.option("--candidate", default=1, type=click.IntRange(1), help="Its number in the last pick; else 1.")
@click.option("--speed", "n", default="", help="Spindle speed, if another than offered.")
@click.option("--feed", default="", help="Feed per revolution, if another than offered.")
@click.option("--depth", default="", help="Depth on the side, if another than offered.")
@click.option("--minutes", default="", help="In the cut, as 12 min.")
@click.option("--heard", default="", help="Pitch of the chatter, as 190 Hz.")
@click.option("--job", default="", help="What it was for.")
@click.option("--note", default="", help="Anything.")
@click.option("--material", default="", help="List: in this material only.")
@click.option("--setup", default="", help="List: on this kept set-up only.")
@click.option("--all", "withdrawn", is_flag=True, help="List: those that were withdrawn too.")
@click.option(
    "--withdraw", "gone", type=click.IntRange(1), help="This one counts no more; it stays on record."
)
@click.option("--why", default="", help="Withdraw: what was wrong with it.")
@with_store
@with_output
def command(
    out: Output,
    db: str,
    result: str,
    last_: bool,
    candidate: int,
    material: str,
    setup: str,
    withdrawn: bool,
    gone: int | None,
    why: str,
    **told: str,
) -> None:
    """How a cut went, for the next one like it.

    \b
    crib log                      what was cut, latest first
    crib log --last clean         the first choice of the last pick went well
    crib log chatter --candidate 2 --heard "190 Hz" --depth "1 mm"
    crib log "worn out" --minutes 18
    crib log --withdraw 7 --why "another insert"

    RESULT is clean, marks, chatter, "edge broke" or "worn out".
    """
    if gone is not None:
        line = withdraw(db, gone, why=why)
        said = (f"Withdrawn: no. {line.id}, {line.said}", "It stays on record: --all lists it.")
        out.give({"withdrawn": line}, lambda: said)
    elif result:
        answer = log_cut(db, LogRequest(result=result, **told), last(db, candidate))
        out.give(answer, lambda: logged_lines(answer))
    elif last_:
        raise InputError("how did it go?", "crib log --last clean (or marks, chatter, edge broke, worn out)")
    else:
        cuts = logged(db, material=material, setup=setup, withdrawn=withdrawn)
        out.give({"cuts": cuts}, lambda: list_lines(cuts))


def logged_lines(answer: Logged) -> Iterable[str]:
    """Say what was recorded."""
    yield f"Recorded as no. {answer.cut.id}: {answer.cut.said}"
    yield answer.next_step
    yield from (f"! {caution}" for caution in answer.cautions)


def list_lines(cuts: Iterable[LoggedLine]) -> Iterable[str]:
    """Put logged cuts into lines."""
    for one in cuts:
        by = f", {one.by}" if one.by else ""
        yield f"{one.id:4} {one.at[:10]}{by}: {one.material}"
        yield f"     {one.said}"
        if one.withdrawn_at:
            who = f" by {one.withdrawn_by}" if one.withdrawn_by else ""
            why = f": {one.withdrawn_why}" if one.withdrawn_why else ""
            yield f"     withdrawn {one.withdrawn_at[:10]}{who}{why}"
