"""Beginning a store: who you are, where your tools lie, who owns the others, which site you are at."""

from dataclasses import dataclass

from crib.desk import people, places
from crib.errors import InputError, NotPossible, StoreMissing
from crib.store.read import reading
from crib.store.words import PATH_JOINT
from crib.units import System


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """A store that was begun.

    Attributes:
        store: its address as it may be shown.
        me: who began it.
        site: at which site they are.
        units: "metric" or "inch".
    """

    store: str
    me: str
    site: str
    units: str


def is_begun(address: str) -> bool:
    """Tell whether there is a store, with anybody on record."""
    try:
        with reading(address) as reader:
            return bool(reader.parties())
    except StoreMissing:
        return False


def begin(
    address: str,
    *,
    me: str,
    place: str,
    mark: str = "",
    company: str = "",
    home: str = "",
    at_home: bool = False,
    units: str = "metric",
) -> Begun:
    """Make the store, with the first people, places and settings; all of them or nothing.

    Args:
        address: the store: not there yet, or blank.
        me: your name.
        place: where tools lie, from its site down.
        mark: what is engraved on your tools.
        company: the other owner, whose tools are beside yours.
        home: where your tools lie at home, from its site down.
        at_home: you are at home now, else at the site of `place`.
        units: "metric" or "inch".

    Raises:
        InputError: a name or path can't be, or home is said to be where you are and isn't named.
        NotPossible: somebody is on record already.
        StoreError: the store can't be made.
    """
    from crib.store.places import put_setting
    from crib.store.upgrade import open_store
    from crib.store.writing import writing

    me, company = people.checked_name(me), people.checked_name(company) if company.strip() else ""
    paths = [places.steps_of(place)] + ([places.steps_of(home)] if home.strip() else [])
    if at_home and len(paths) < 2:
        raise InputError("where your tools lie at home is not named", "like home / chest")
    if is_begun(address):
        raise NotPossible("this store was begun already", "People and places adds to it; Settings changes it")
    shown = open_store(address, create=True).shown
    with writing(address) as session:
        people.put_party(session, me, mark=mark)
        if company:
            people.put_party(session, company, company=True)
        sites = [places.put_place(session, steps).path.split(PATH_JOINT)[0] for steps in paths]
        settings = {"me": me, "site": sites[-1] if at_home else sites[0], "units": str(System(units))}
        for key, value in settings.items():
            put_setting(session, key, value)
    return Begun(store=shown, **settings)
