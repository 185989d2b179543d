"""The tree of places: what is on record, and a new one put there."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from crib.errors import InputError
from crib.store.read import Reader, reading
from crib.store.words import PATH_JOINT, PLACE_KINDS

if TYPE_CHECKING:
    from crib.store.models import Place as Record
    from crib.store.writing import WriteSession


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place.

    Attributes:
        path: from its site down, as "works / tool room / cabinet".
        kind: one of words.PLACE_KINDS.
    """

    path: str
    kind: str


def places(address: str) -> tuple[Place, ...]:
    """Give every place on record by path."""
    with reading(address) as reader:
        return _places(reader)


def add(address: str, path: str, kind: str = "") -> Place:
    """Put a place on record, with those it is in; the store is made if there is none.

    Args:
        address: the store.
        path: from its site down, with a stroke between; the first step is the site.
        kind: of the last step: area, cabinet, drawer; read from its name if not told, else an area.

    Raises:
        InputError: the path has an empty step, is on record already, or is a site and another kind is told.
    """
    from crib.store.upgrade import open_store
    from crib.store.writing import writing

    steps = steps_of(path, kind)
    open_store(address, create=True)
    with writing(address) as session:
        made = put_place(session, steps, kind).path
    with reading(address) as reader:
        return next(one for one in _places(reader) if one.path == made)


def steps_of(path: str, kind: str = "") -> tuple[str, ...]:
    """Give the steps of a path from its site down.

    Args:
        path: with a stroke between the steps.
        kind: that is told of the last one.

    Raises:
        InputError: a step is empty, or a site is said to be of another kind.
    """
    steps = tuple(" ".join(step.split()) for step in path.split("/"))
    if not all(steps):
        raise InputError(f"{path!r} is no place", 'give its path, like "works / tool room / drawer 1"')
    if kind and len(steps) == 1:
        raise InputError(f"{path!r} is a site", "a site has no other kind; name what is in it: SITE / PLACE")
    return steps


def put_place(session: "WriteSession", steps: Sequence[str], kind: str = "") -> "Record":
    """Put a place on record inside a write transaction, with those it is in where they are new.

    Args:
        session: of a write transaction.
        steps: from the site down.
        kind: of the last step; read from its name if not told.

    Raises:
        InputError: it is on record already.
    """
    from sqlalchemy import select

    from crib.store.models import Place as Record
    from crib.store.places import add_place

    known = {place.path.lower(): place for place in session.scalars(select(Record))}
    if (path := PATH_JOINT.join(steps)).lower() in known:
        raise InputError(f"{path} is on record already", "crib place")
    place = known.get(steps[0].lower()) or add_place(session, steps[0], "site")
    for number, step in enumerate(steps[1:], 2):
        there = known.get(PATH_JOINT.join(steps[:number]).lower())
        last = kind if number == len(steps) else ""
        place = there or add_place(session, step, last or _kind(step), place)
    return place


def _kind(name: str) -> str:
    """Give the kind that a name says of itself; an area where it says none."""
    said = [kind for kind in PLACE_KINDS if kind in name.lower().split() and kind not in ("site", "machine")]
    return said[-1] if said else "area"


def _places(reader: Reader) -> tuple[Place, ...]:
    found = (Place(path=one.path, kind=one.kind) for one in reader.places())
    return tuple(sorted(found, key=lambda one: one.path.lower()))
