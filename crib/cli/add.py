"""crib add: take tools in by their codes, one by one or a drawer at a time."""

import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from crib.cli.output import Output, clean, with_output, with_store
from crib.errors import CribError, InputError

if TYPE_CHECKING:
    from crib.desk.intake.take_in import Added

# option -> column of the items list, help
FIELDS = {
    "edges": ("edges_left", "Fresh cutting edges in the whole batch."),
    "grade": ("grade", "Grade of an insert, in your own words."),
    "breaker": ("chipbreaker", "Its chipbreaker, in your own words."),
    "condition": ("condition", "new, good, worn, damaged or scrap; good if not said."),
    "mark": ("mark", "What is engraved."),
    "serial": ("serial", "The maker's number."),
    "tag": ("tag", "Your number for it; else the next free one of its kind."),
    "kind": ("kind", "For a tool without a code: bit, rotary, gauge, workholding, spare, other."),
    "label": ("label", "What people call it; else made from the code."),
    "note": ("note", "Anything."),
}


def with_fields(function: Any) -> Any:
    """Give a command an option for each field."""
    for name, (_, told) in reversed(FIELDS.items()):
        function = click.option(f"--{name}", default="", help=told)(function)
    return function


@click.command()
@click.argument("codes", metavar="[CODE]…", nargs=-1)
@click.option("--like", default="", metavar="TAG", help="Copy a tool on record; what is said here differs.")
@click.option("--drawer", default=None, metavar="PLACE", help="Read one code a line, typed or scanned.")
@click.option("--owner", default="", help="Whose; you, if not said.")
@click.option("--at", default="", help="Where; the site you are at, if not said.")
@click.option("--quantity", default="", help="How many of each; 1 if not said.")
@with_fields
@click.option("--units", type=click.Choice(["metric", "inch"]), default=None, help="What bare numbers mean.")
@click.option("--dry-run", is_flag=True, help="Say what is understood; write nothing.")
@with_store
@with_output
def command(
    codes: tuple[str, ...],
    like: str,
    drawer: str | None,
    owner: str,
    at: str,
    units: str | None,
    dry_run: bool,
    out: Output,
    db: str,
    **fields: str,
) -> int:
    """Take tools in by their codes: the geometry is read from the code, the rest said in options.

    \b
    crib add "CNMG 120408" --quantity 10 --grade "tough one" --at "drawer 1"
    crib add --like H03 --mark "TA 7"
    crib add --drawer "works / lathe / drawer 2"

    A line may say more than the code: CNMG 120408 x10 of Ada, new. A line of the drawer that
    is just owner=NAME or at=PLACE holds for those that follow; "again" repeats the last one,
    "undo" takes it back.
    """
    from crib.desk.intake.take_in import keep, read_columns, understand

    if drawer is not None:
        if codes or like or dry_run:
            raise InputError("a drawer is read line by line", "leave out codes, --like and --dry-run")
        return _drawer(out, db, drawer or at, owner, units or "")
    if not codes and not like:
        raise InputError("no code is said", "crib add CODE, crib add --like TAG, or crib add --drawer PLACE")
    said = {FIELDS[name][0]: text for name, text in fields.items() if name in FIELDS and text}
    said |= {"quantity": fields["quantity"]} if fields["quantity"] else {}
    more = read_columns(said, units or "metric")
    if more.get("tag") and len(codes) > 1:
        raise InputError("one tag goes with one code", "leave --tag out, and each gets the next free one")
    lines = [
        understand(db, text, owner=owner, at=at, like=like, system=units or "", **more)
        for text in codes or [""]
    ]
    if dry_run:
        document = [{"text": line.text, "says": line.says, "also": line.also} for line in lines]
        out.give({"would_add": document}, lambda: (*(line.says for line in lines), "Nothing was written."))
        return 0
    added = [keep(db, line) for line in lines]
    out.give({"added": added}, lambda: _lines(added))
    return 0


def _lines(added: Iterable["Added"]) -> Iterable[str]:
    """Say what was kept, one line each, with how to take it back."""
    for one in added:
        yield f"{one.tag}: {one.says}"
        if one.also:
            yield f"  {one.also}"
        yield f"  Undo: {one.done.undo}"


def _drawer(out: Output, db: str, at: str, owner: str, system: str) -> int:
    """Read lines until they end; each is kept at once, and what can't be read is said and asked again."""
    from crib.desk.intake.drawer import Drawer

    drawer = Drawer(db, at=at, owner=owner, system=system)
    said = drawer.hold().says
    if not out.as_json:
        click.echo(clean(said))
    asks = sys.stdin.isatty() and not out.as_json
    not_read: list[dict[str, object]] = []
    number = 0
    while True:
        if asks:
            click.echo("code> ", nl=False)
        text = sys.stdin.readline()
        if not text or text.strip() == ".":
            break
        number += 1
        if not text.strip():
            continue
        try:
            said = drawer.take(text).says
        except CribError as error:
            if error.exit_status == 3:
                raise
            why = f"{error.message}; {error.hint}" if error.hint else error.message
            not_read.append({"line": number, "text": text.strip()[:80], "why": why})
            said = f"line {number}, not taken: {why}"
        if not out.as_json:
            click.echo(clean(said))
    answer = {"added": drawer.kept, "not_taken": not_read}
    missed = f"; {len(not_read)} not taken, see above" if not_read else ""
    out.give(answer, lambda: (f"{len(drawer.kept)} taken in{missed}.",))
    return 1 if not_read else 0
