"""crib party: people and companies on record."""

from collections.abc import Iterable

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk import people
from crib.desk.people import Person
from crib.errors import InputError


@click.command()
@click.argument("name", default="")
@click.option("--add", is_flag=True, help="A new person; with --company a company, such as a regrinder.")
@click.option("--company", is_flag=True, help="Goes with --add.")
@click.option("--mark", default="", help="What is engraved on the tools; goes with --add.")
@click.option("--note", default="", help="Anything; goes with --add.")
@click.option("--gone", metavar="[DAY]", is_flag=False, flag_value="today", help="Left, today or that day.")
@click.option("--back", is_flag=True, help="Left, and is here again.")
@with_store
@with_output
def command(
    name: str,
    add: bool,
    company: bool,
    mark: str,
    note: str,
    gone: str | None,
    back: bool,
    out: Output,
    db: str,
) -> None:
    """Everybody on record, or one: who has left, and what they still have; --add for somebody new."""
    if not name and (add or gone or back):
        raise InputError("a name is missing", 'crib party "Ada Quill" --add')
    if not add and (company or mark or note):
        raise InputError("--company, --mark and --note go with --add", 'crib party "Ada Quill" --add')
    if not name:
        found = people.people(db)
    elif add:
        found = (people.add(db, name, mark=mark, company=company, note=note),)
    elif gone:
        found = (people.left(db, name, gone),)
    elif back:
        found = (people.came_back(db, name),)
    else:
        found = (people.person(db, name),)
    out.give({"people": found}, lambda: (line for one in found for line in lines(one)))


def lines(one: Person) -> Iterable[str]:
    """Put a person into lines."""
    mark = f", marks tools {one.mark}" if one.mark else ""
    gone = f"; LEFT on {one.gone_on}" if one.gone_on else ""
    yield f"{one.name} ({one.kind}{mark}){gone}"
    if one.note:
        yield f"       note: {one.note}"
    if one.has:
        yield f"       has of others: {', '.join(one.has)}"
