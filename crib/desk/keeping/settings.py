"""Who you are, which site you are at, millimetres or inches, whose speeds win, what money is in."""

from collections.abc import Mapping
from difflib import get_close_matches

from crib.errors import InputError, UnknownName
from crib.store.read import Reader, reading
from crib.store.words import SETTING_KEYS, WHOSE_SPEEDS
from crib.units import System
from crib.units.money import read_currency


def settings(address: str) -> Mapping[str, str]:
    """Give all settings; those not set are left out."""
    with reading(address) as reader:
        return reader.settings()


def put(address: str, key: str, value: str) -> Mapping[str, str]:
    """Change one setting and give them all.

    Args:
        address: the store.
        key: me, site, units, speeds, currency or rules.
        value: a person on record, a site on record, metric or inch, book or own, a currency's code,
            a set of rules for the deadlines of claims.

    Raises:
        InputError: no such setting.
        UnknownName: nobody, or no site, of that name is on record.
        BadQuantity: it is no currency.
    """
    return put_all(address, {key: value})


def put_all(address: str, changes: Mapping[str, str]) -> Mapping[str, str]:
    """Change several settings, all of them or none, and give them all; raises as `put` does."""
    for key in changes:
        if key not in SETTING_KEYS:
            raise InputError(f"there is no setting {key!r}", "settings: " + ", ".join(SETTING_KEYS))
    from crib.store.places import put_setting  # SQLAlchemy: asking for the settings needs none of it
    from crib.store.writing import writing

    with reading(address) as reader:
        known = {key: _known(reader, key, value) for key, value in changes.items()}
    with writing(address) as session:
        for key, value in known.items():
            put_setting(session, key, value)
    return settings(address)


def _known(reader: Reader, key: str, value: str) -> str:
    """Give the value as it is on record."""
    if key == "currency":
        return read_currency(value)
    if key == "rules":
        from crib.desk.owed.deadlines import read_rules  # brings tables along

        return read_rules(value)[0]
    known = {
        "me": [party.name for party in reader.parties() if party.kind == "person"],
        "site": [place.name for place in reader.places() if place.kind == "site"],
        "units": [str(system) for system in System],
        "speeds": list(WHOSE_SPEEDS),
    }[key]
    for name in known:
        if name.lower() == value.lower():
            return name
    what = {"me": "person", "site": "site", "units": "system of units", "speeds": "choice of speeds"}[key]
    raise UnknownName(what, value, get_close_matches(value, known, n=3) or known[:5])
