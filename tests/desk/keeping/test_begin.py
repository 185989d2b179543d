"""Beginning a store: all that is asked, or nothing."""

from pathlib import Path

import pytest

from crib.desk import people, places
from crib.desk.keeping.begin import begin, is_begun
from crib.desk.keeping.settings import settings
from crib.errors import CribError, InputError, NotPossible


def test_a_store_is_begun_with_all_that_was_asked(blank_url: str) -> None:
    assert not is_begun(blank_url)
    begun = begin(
        blank_url,
        me="Ada  Quill",
        mark="A.Q",
        company="Fen Pump Works",
        place="works / tool room / drawer 1",
        home="home / chest",
        units="inch",
    )
    assert (begun.me, begun.site, begun.units) == ("Ada Quill", "works", "inch")
    assert is_begun(blank_url)
    assert [(one.name, one.kind, one.mark) for one in people.people(blank_url)] == [
        ("Ada Quill", "person", "A.Q"),
        ("Fen Pump Works", "company", None),
    ]
    assert [one.path for one in places.places(blank_url)] == [
        "home",
        "home / chest",
        "works",
        "works / tool room",
        "works / tool room / drawer 1",
    ]
    assert settings(blank_url) == {"me": "Ada Quill", "site": "works", "units": "inch"}
    with pytest.raises(NotPossible, match="begun already"):
        begin(blank_url, me="Bo Fell", place="shop")


def test_one_may_begin_at_home_on_the_same_site(tmp_path: Path) -> None:
    store = str(tmp_path / "new" / "crib.db")
    assert begin(store, me="Ada", place="Farm / shed", home="farm / kitchen", at_home=True).site == "Farm"


@pytest.mark.parametrize(
    "wrong",
    [
        {"me": " "},
        {"me": "x" * 81},
        {"company": "y" * 81},
        {"place": ""},
        {"place": "works / "},
        {"home": "/"},
        {"at_home": True},
        {"company": "ada"},
        {"home": "WORKS / bench"},
    ],
)
def test_what_can_t_be_begun_leaves_it_to_be_begun(tmp_path: Path, wrong: dict[str, str]) -> None:
    store = str(tmp_path / "crib.db")
    good = {"me": "Ada", "place": "works / bench"}
    with pytest.raises(InputError):
        begin(store, **{**good, **wrong})  # type: ignore[arg-type]
    assert not is_begun(store)
    assert begin(store, **good).site == "works"  # type: ignore[arg-type]


def test_a_folder_that_takes_no_file_is_said(tmp_path: Path) -> None:
    (tmp_path / "no folder").write_text("a file")
    with pytest.raises(CribError):
        begin(str(tmp_path / "no folder" / "crib.db"), me="Ada", place="works")
