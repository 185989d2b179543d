"""Who you are, which site you are at, which units: only what is on record."""

import pytest

from crib.desk.asking.ask import find
from crib.desk.keeping.settings import put, settings
from crib.errors import InputError, StoreMissing, UnknownName


def test_the_workshop_is_set_up(demo_store: str) -> None:
    assert settings(demo_store) == {
        "me": "Tamsin Arkwell",
        "site": "works",
        "units": "metric",
        "currency": "EUR",
        "rules": "house: hand in: 30 days from event; answer: 30 days from sent",
    }


@pytest.mark.parametrize(
    ("key", "typed", "kept"),
    [
        ("me", "tobin ASHGROVE", "Tobin Ashgrove"),
        ("site", "WORKS", "works"),
        ("site", "Tobin's home", "Tobin's home"),
        ("units", "Inch", "inch"),
    ],
)
def test_a_setting_is_kept_as_it_stands_on_record(demo_address: str, key: str, typed: str, kept: str) -> None:
    assert put(demo_address, key, typed)[key] == kept
    assert settings(demo_address)[key] == kept


@pytest.mark.parametrize(
    ("key", "value", "error", "hint"),
    [
        ("colour", "red", InputError, "me, site, units"),
        ("me", "Tobin Ashgrave", UnknownName, "Tobin Ashgrove"),
        ("me", "Hattersbeck Light Railway", UnknownName, "Tamsin Arkwell"),
        ("me", "", UnknownName, "Tamsin Arkwell"),
        ("site", "machine shop", UnknownName, "works"),
        ("units", "furlong", UnknownName, "metric, inch"),
    ],
)
def test_a_setting_that_can_t_be_changes_nothing(
    demo_address: str, key: str, value: str, error: type[InputError], hint: str
) -> None:
    before = settings(demo_address)
    with pytest.raises(error) as raised:
        put(demo_address, key, value)
    assert hint in raised.value.hint
    assert settings(demo_address) == before


def test_me_changes_whose_my_tools_are(demo_address: str) -> None:
    put(demo_address, "me", "Wilf Oddney")
    assert {item.owner for item in find(demo_address, "my holders").items} == {"Wilf Oddney"}


def test_a_missing_store(tmp_path: object) -> None:
    with pytest.raises(StoreMissing):
        settings(f"{tmp_path}/none.db")
