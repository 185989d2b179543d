"""People and companies on record: who is there, who has left and what they still have, who is new."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from crib.desk import dates, lookup
from crib.errors import InputError, NotPossible
from crib.store.read import Reader, reading
from crib.store.rows import PartyRow

if TYPE_CHECKING:
    from crib.store.models import Party
    from crib.store.writing import WriteSession

LONGEST_NAME = 80


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """A person or company.

    Attributes:
        name: in full.
        kind: "person" or "company".
        mark: what is engraved on the tools.
        note: anything.
        gone_on: the day on which they left.
        has: tags of the tools that they have of others.
    """

    name: str
    kind: str
    mark: str | None
    note: str | None
    gone_on: str | None
    has: tuple[str, ...]


def people(address: str) -> tuple[Person, ...]:
    """Give everybody on record by name."""
    with reading(address) as reader:
        return tuple(_person(reader, row) for row in reader.parties())


def person(address: str, name: str) -> Person:
    """Give one person or company.

    Raises:
        UnknownName: nobody is called so.
        InputError: several are.
    """
    with reading(address) as reader:
        return _person(reader, lookup.party(reader, name))


def left(address: str, name: str, day: str = "") -> Person:
    """Record that somebody left; what they still have stays told as theirs to bring back.

    Args:
        address: the store.
        name: who.
        day: when, as typed; today if not told.

    Raises:
        UnknownName: nobody is called so.
        BadDate: the day can't be read.
        NotPossible: a company does not leave.
    """
    gone_on = dates.read_day(day, on=dates.today(), ahead=False) if day.strip() else dates.today()
    with reading(address) as reader:
        row = lookup.party(reader, name)
    if row.kind == "company":
        raise NotPossible(f"{row.name} is a company", "only people leave")
    return _set(address, row, gone_on)


def came_back(address: str, name: str) -> Person:
    """Record that somebody who left is here again."""
    with reading(address) as reader:
        row = lookup.party(reader, name)
    return _set(address, row, None)


def add(address: str, name: str, *, mark: str = "", company: bool = False, note: str = "") -> Person:
    """Put a person or company on record; the store is made if there is none: this begins one by hand.

    Raises:
        InputError: the name is empty or too long, or on record already.
    """
    from crib.store.upgrade import open_store
    from crib.store.writing import writing

    name = checked_name(name)
    open_store(address, create=True)
    with writing(address) as session:
        put_party(session, name, mark=mark, company=company, note=note)
    return person(address, name)


def checked_name(name: str) -> str:
    """Give a name as it is kept.

    Raises:
        InputError: it is empty or too long.
    """
    name = " ".join(name.split())
    if not name or len(name) > LONGEST_NAME:
        raise InputError("a name has 1 to 80 signs", "like Ada Quill")
    return name


def put_party(
    session: "WriteSession", name: str, *, mark: str = "", company: bool = False, note: str = ""
) -> "Party":
    """Put a person or company on record inside a write transaction.

    Raises:
        InputError: the name is on record already.
    """
    from sqlalchemy import select

    from crib.store.models import Party

    if any(known.lower() == name.lower() for known in session.scalars(select(Party.name))):
        raise InputError(f"{name} is on record already", f'crib party "{name}"')
    kind = "company" if company else "person"
    party = Party(name=name, kind=kind, mark=mark.strip() or None, note=note.strip() or None)
    session.add(party)
    session.flush()
    return party


def _set(address: str, row: PartyRow, gone_on: date | None) -> Person:
    from crib.store.models import Party
    from crib.store.writing import writing

    with writing(address) as session:
        session.get_one(Party, row.id).gone_on = gone_on
    return person(address, row.name)


def _person(reader: Reader, row: PartyRow) -> Person:
    has = tuple(one.item.tag for one in reader.out() if one.item.held_by_id == row.id)
    gone = row.gone_on.isoformat() if row.gone_on else None
    return Person(name=row.name, kind=row.kind, mark=row.mark, note=row.note, gone_on=gone, has=has)
