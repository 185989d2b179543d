"""Places put on record by hand, in a store that is begun so."""

from pathlib import Path

import pytest

from crib.desk import people, places
from crib.errors import InputError


def test_the_first_place_makes_the_store_and_every_step_of_its_path(tmp_path: Path) -> None:
    store = str(tmp_path / "crib.db")
    assert places.add(store, "works/tool  room / drawer 1").path == "works / tool room / drawer 1"
    places.add(store, "Works / tool room / mill rack", "cabinet")
    assert [(one.path, one.kind) for one in places.places(store)] == [
        ("works", "site"),
        ("works / tool room", "area"),
        ("works / tool room / drawer 1", "drawer"),
        ("works / tool room / mill rack", "cabinet"),
    ]


@pytest.mark.parametrize(
    ("path", "kind"), [("", ""), ("works / ", ""), ("/ works", ""), ("home", "drawer"), ("WORKS", "")]
)
def test_what_is_no_new_place_is_refused(tmp_path: Path, path: str, kind: str) -> None:
    store = str(tmp_path / "crib.db")
    places.add(store, "works")
    with pytest.raises(InputError):
        places.add(store, path, kind)
    assert [one.path for one in places.places(store)] == ["works"]


def test_the_first_person_makes_the_store(tmp_path: Path) -> None:
    store = str(tmp_path / "crib.db")
    people.add(store, "Ada Quill")
    assert [one.name for one in people.people(store)] == ["Ada Quill"]
