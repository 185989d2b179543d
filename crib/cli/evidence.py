"""crib evidence: photos, receipts and statements, kept in the store."""

import click

from crib.cli.groups import WithUsual
from crib.cli.output import Output, with_output, with_store
from crib.desk.owed import evidence
from crib.report.worth_words import proof_lines
from crib.store.words import EVIDENCE_KINDS


class _Evidence(WithUsual):
    bare = "list"
    named = "list"


@click.group(cls=_Evidence)
def command() -> None:
    """Photos, receipts and statements of a tool, kept in the store.

    \b
    crib evidence H03                         what there is
    crib evidence add H03 mark.jpg --says "my mark on the shank"
    crib evidence add H03 bill.pdf --kind receipt --on 2019-04-12
    crib evidence add 2026-1/2 chipped.jpg    of line 2 of a claim
    crib evidence open 4                      outside, in the machine's own viewer
    crib evidence save 4 FILE
    crib evidence withdraw 4 --why "another tool"
    """


@command.command("list")
@click.argument("of")
@click.option("--all", "withdrawn", is_flag=True, help="Those that were withdrawn too.")
@with_store
@with_output
def list_(of: str, withdrawn: bool, out: Output, db: str) -> None:
    """What there is of a tool, or of a line of a claim, oldest first."""
    found = evidence.proofs(db, of, withdrawn=withdrawn)
    out.give({"evidence": found}, lambda: proof_lines(found))


@command.command()
@click.argument("of")
@click.argument("files", nargs=-1, required=True, type=click.Path())
@click.option("--kind", type=click.Choice(EVIDENCE_KINDS), default="photo", show_default=True)
@click.option("--says", default="", help="What it shows or says.")
@click.option("--on", default="", help="Its day; of a photo the camera's, if not told.")
@with_store
@with_output
def add(of: str, files: tuple[str, ...], kind: str, says: str, on: str, out: Output, db: str) -> None:
    """Take files in: JPEG, PNG, PDF or plain text, up to 25 MB each; all of them or none."""
    added = evidence.add(db, of, files, kind=kind, says=says, on=on)
    out.give(added, lambda: ("Taken in:", *proof_lines(added.proofs), *added.notes))


@command.command("open")
@click.argument("number", type=click.IntRange(1))
@with_store
@with_output
def open_(number: int, out: Output, db: str) -> None:
    """Open it outside, in the machine's own viewer."""
    path = evidence.open_outside(db, number)
    out.give({"opened": path}, lambda: (f"Opened a copy: {path}",))


@command.command()
@click.argument("number", type=click.IntRange(1))
@click.argument("file", type=click.Path())
@with_store
@with_output
def save(number: int, file: str, out: Output, db: str) -> None:
    """Write it to a file that is not there yet."""
    path = evidence.save(db, number, file)
    out.give({"saved": path}, lambda: (f"Saved: {path}",))


@command.command()
@click.argument("number", type=click.IntRange(1))
@click.option("--why", default="", help="What is wrong with it.")
@with_store
@with_output
def withdraw(number: int, why: str, out: Output, db: str) -> None:
    """Let it count no more; it stays on record."""
    gone = evidence.withdraw(db, number, why=why)
    out.give({"withdrawn": gone}, lambda: ("Withdrawn; it stays on record:", *proof_lines([gone])))
