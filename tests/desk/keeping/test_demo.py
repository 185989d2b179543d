"""The invented workshop's store: made once, made anew when asked, copied for play."""

import os
import shutil
import stat
from pathlib import Path

import pytest

from crib.desk.asking.ask import find
from crib.desk.doings.bring_in import bring_in
from crib.desk.keeping import demo
from crib.desk.keeping.demo import demo_store as find_or_make
from crib.desk.keeping.demo import private_copy
from crib.errors import StoreReadOnly
from crib.store.engine import close_engines


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "data"


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch, demo_store: str) -> list[str]:
    """Copy the session's store instead of taking all lists in again; gives the paths that were made."""
    made: list[str] = []

    def copy(path: str) -> None:
        made.append(path)
        shutil.copy(demo_store, path)

    monkeypatch.setattr(demo, "make_demo", copy)
    return made


def test_it_is_made_once_and_found_again(folder: Path, quick: list[str]) -> None:
    first = find_or_make(str(folder))
    assert find_or_make(str(folder)) == first
    assert len(quick) == 1
    assert os.listdir(folder) == [os.path.basename(first)]
    assert find(first, "").total == 149


def test_its_folder_is_private(folder: Path) -> None:
    find_or_make(str(folder))
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_fresh_loses_what_was_changed(folder: Path) -> None:
    path = find_or_make(str(folder))
    bring_in(path, ["H03"])
    close_engines()
    assert find_or_make(str(folder)) == path
    assert find(path, "tag=H03").items[0].on_site
    close_engines()
    assert find_or_make(str(folder), fresh=True) == path
    assert not find(path, "tag=H03").items[0].on_site


def test_other_lists_get_a_store_of_their_own(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = find_or_make(str(folder))
    lists = tmp_path / "lists"
    lists.mkdir()
    (lists / "people.csv").write_text("name\nSomebody Else\n")
    monkeypatch.setattr(demo, "lists_folder", lambda: str(lists))
    assert find_or_make(str(folder)) != first


def test_another_store_version_gets_a_store_of_its_own(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = find_or_make(str(folder))
    shutil.copytree(demo.scripts_folder(), tmp_path / "scripts")
    with next((tmp_path / "scripts" / "versions").glob("0003*")).open("a") as edited:
        edited.write("# one more column\n")
    monkeypatch.setattr(demo, "scripts_folder", lambda: str(tmp_path / "scripts"))
    assert find_or_make(str(folder)) != first


def test_a_making_that_fails_leaves_nothing_behind(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def break_off(path: str) -> None:
        Path(path).write_bytes(b"half a store")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(demo, "make_demo", break_off)
    with pytest.raises(StoreReadOnly, match="No space left"):
        find_or_make(str(folder))
    assert os.listdir(folder) == []


def test_a_folder_that_is_a_file(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("")
    with pytest.raises(StoreReadOnly) as raised:
        find_or_make(str(blocked))
    assert "XDG_DATA_HOME" in raised.value.hint
    assert blocked.read_text() == ""


def test_a_private_copy_is_thrown_away_and_the_original_left(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("crib.desk.keeping.address.data_folder", lambda: str(folder))
    original = find_or_make()
    before = Path(original).read_bytes()
    with private_copy() as copy:
        assert copy != original
        bring_in(copy, ["H03"])
        close_engines()
    assert not os.path.exists(copy)
    assert Path(original).read_bytes() == before
