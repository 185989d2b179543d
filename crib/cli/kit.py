"""crib kit: what a job needs, matched to what there is."""

from collections.abc import Iterable, Sequence

import click

from crib.cli.filed import give_file, to_file
from crib.cli.groups import WithUsual
from crib.cli.output import Output, with_output, with_store
from crib.desk.restocking.kit_match import Got, KitMatch, Match, match
from crib.desk.restocking.kits import Kit, add_need, choose, drop_kit, drop_need, kit, kits, new_kit

STATUS_SHORT = 1


@click.group(cls=WithUsual)
def command() -> None:
    """What a job needs, as a list in shop talk, matched to what there is.

    \b
    crib kit                            all kits
    crib kit new "big ring" --note "bogie bracket"
    crib kit add "big ring" left hand holder for WNMG080404
    crib kit add "big ring" WNMG080404 --count 2
    crib kit match "big ring"           what there is, and what else would do
    crib kit choose "big ring" 2 I05    take that one
    crib kit match "big ring" --to tray.pdf
    """


@command.command("list")
@with_store
@with_output
def list_(out: Output, db: str) -> None:
    """All kits."""
    found = kits(db)
    out.give({"kits": found}, lambda: list_lines(found))


@command.command("new")
@click.argument("name")
@click.option("--note", default="", help="The job, and anything else.")
@with_store
@with_output
def new(name: str, note: str, out: Output, db: str) -> None:
    """Begin a kit."""
    made = new_kit(db, name, note=note)
    out.give(made, lambda: kit_lines(made))


@command.command()
@click.argument("name")
@click.argument("need", nargs=-1, required=True)
@click.option("--count", "quantity", type=int, default=1, help="How many of it.")
@click.option("--tag", default="", help="The tool for it, if it is chosen already.")
@with_store
@with_output
def add(name: str, need: tuple[str, ...], quantity: int, tag: str, out: Output, db: str) -> None:
    """Add a need, as you would ask for it."""
    now = add_need(db, name, " ".join(need), quantity=quantity, tag=tag)
    out.give(now, lambda: kit_lines(now))


@command.command()
@click.argument("name")
@with_store
@with_output
def show(name: str, out: Output, db: str) -> None:
    """The needs of a kit, as they were entered."""
    found = kit(db, name)
    out.give(found, lambda: kit_lines(found))


@command.command("match")
@click.argument("name")
@to_file
@with_store
@with_output
def match_(name: str, file: str, out: Output, db: str) -> int:
    """Which tools answer the needs of a kit; 1 where it is short of something."""
    found = match(db, name)
    if file:
        from crib.report.kit import kit_list

        give_file(out, file, lambda: kit_list(found))
    else:
        out.give(found, lambda: match_lines(found))
    return STATUS_SHORT if any(line.short for line in found.lines) else 0


@command.command("choose")
@click.argument("name")
@click.argument("line", type=int)
@click.argument("tag", default="")
@with_store
@with_output
def choose_(name: str, line: int, tag: str, out: Output, db: str) -> None:
    """Choose the tool for a need; without a tag the choice is open again."""
    now = choose(db, name, line, tag)
    out.give(now, lambda: kit_lines(now))


@command.command()
@click.argument("name")
@click.argument("line", type=int, required=False)
@with_store
@with_output
def drop(name: str, line: int | None, out: Output, db: str) -> None:
    """Take a need off a kit, or the whole kit off the list; tools are not touched."""
    if line is None:
        gone = drop_kit(db, name)
        out.give({"dropped": gone}, lambda: (f"Dropped: {gone.name}.",))
    else:
        now = drop_need(db, name, line)
        out.give(now, lambda: kit_lines(now))


def list_lines(found: Sequence[Kit]) -> Iterable[str]:
    """Put all kits into lines."""
    for one in found:
        yield f"{one.name}: {len(one.lines)} needs" + (f"; {one.note}" if one.note else "")
    if not found:
        yield "No kits yet: crib kit new NAME"


def kit_lines(one: Kit) -> Iterable[str]:
    """Put one kit into lines."""
    yield one.name + (f": {one.note}" if one.note else "")
    for line in one.lines:
        chosen = f"  ({line.chosen} chosen)" if line.chosen else ""
        yield f"{line.line_no:3} {line.quantity} x {line.need}{chosen}"
    yield f"Next: crib kit match {one.name!r}" if one.lines else f"Next: crib kit add {one.name!r} NEED"


def match_lines(found: KitMatch) -> Iterable[str]:
    """Put a matched kit into lines."""
    yield found.verdict
    yield found.detail
    for line in found.lines:
        yield ""
        yield from _line_lines(line)
    yield ""
    for trip in found.trips:
        yield f"Go to {trip.place}: {', '.join(trip.tags)}"
    yield f"Next: {found.next_step}"


def _line_lines(line: Match) -> Iterable[str]:
    yield f"{line.line_no:3} {line.quantity} x {line.need}"
    for one in line.got:
        yield f"      {_how(one):22} {one.count} x {_tool(one)}"
        yield f"      {'':22} {one.place}"
    if line.short:
        why = f": {line.why}" if line.why else ""
        yield f"      MISSING {line.short} of {line.quantity}{why}"
    for offer in line.substitutes:
        yield f"      instead? {_tool(offer.tool)}, {_how(offer.tool)}, {offer.tool.place}"
        for cost in offer.costs:
            yield f"               {cost}"


def _how(one: Got) -> str:
    words = {"have": "have", "borrow": f"borrow from {one.from_}", "at home": f"at {one.site}"}
    return words.get(one.how, f"ask {one.from_} for it")


def _tool(one: Got) -> str:
    return f"{one.tag} {one.designation or one.label}"
