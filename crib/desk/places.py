"""The tree of places: what is on record, and a new one put there."""

from dataclasses import dataclass

from crib.errors import InputError
from crib.store.read import Reader, reading
from crib.store.words import PATH_JOINT, PLACE_KINDS


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
    from crib.store.models import Place as Record
    from crib.store.places import add_place
    from crib.store.upgrade import open_store
    from crib.store.writing import writing

    steps = [" ".join(step.split()) for step in path.split("/")]
    if not all(steps):
        raise InputError(f"{path!r} is no place", 'give its path, like "works / tool room / drawer 1"')
    if kind and len(steps) == 1:
        raise InputError(f"{path!r} is a site", "a site has no other kind; name what is in it: SITE / PLACE")
    open_store(address, create=True)
    with reading(address) as reader:
        known = {one.path.lower(): one.id for one in reader.places()}
    if PATH_JOINT.join(steps).lower() in known:
        raise InputError(f"{PATH_JOINT.join(steps)} is on record already", "crib place")
    with writing(address) as session:
        parent: Record | None = None
        for number, step in enumerate(steps, 1):
            there = known.get(PATH_JOINT.join(steps[:number]).lower())
            if there is not None:
                parent = session.get_one(Record, there)
            else:
                last = kind if number == len(steps) else ""
                parent = add_place(session, step, last or _kind(step, is_site=number == 1), parent)
        made = parent.path if parent else ""
    with reading(address) as reader:
        return next(one for one in _places(reader) if one.path == made)


def _kind(name: str, *, is_site: bool) -> str:
    """Give the kind that a name says of itself; an area where it says none."""
    if is_site:
        return "site"
    said = [kind for kind in PLACE_KINDS if kind in name.lower().split() and kind not in ("site", "machine")]
    return said[-1] if said else "area"


def _places(reader: Reader) -> tuple[Place, ...]:
    found = (Place(path=one.path, kind=one.kind) for one in reader.places())
    return tuple(sorted(found, key=lambda one: one.path.lower()))
