"""Backups are whole, a restore overwrites nothing silently, a full or broken disk loses nothing."""

import os
import resource
import shutil
import signal
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from store.ordinary import read_only_folder

from crib.desk.asking.ask import find
from crib.desk.doings.bring_in import bring_in
from crib.desk.keeping.audit import audit
from crib.desk.keeping.safe import backup, backups, export, look_through, restore
from crib.errors import BadExport, NotPossible, StoreBusy, StoreDamaged, StoreError, StoreReadOnly
from crib.store.engine import close_engines


def place_of(store: str, tag: str) -> str:
    return find(store, f"tag={tag}").items[0].place


def damage(path: str) -> None:
    """Overwrite the middle of a file, as a dying disk does."""
    close_engines()
    size = os.path.getsize(path)
    with open(path, "r+b") as handle:
        handle.seek(size // 4)
        handle.write(b"\xff" * (size // 4))


@contextmanager
def no_file_longer_than(size: int) -> Iterator[None]:
    """Let the system refuse to write files past a size, as a full disk does."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)


def test_a_backup_is_private_whole_and_of_the_moment(demo_address: str, tmp_path: Path) -> None:
    made = backup(demo_address, str(tmp_path))
    assert made.items == 149
    assert os.stat(made.path).st_mode & 0o777 == 0o600
    bring_in(demo_address, ["H03"])
    assert place_of(made.path, "H03") == "Tobin's home / shed bench"
    assert audit(made.path).sound
    with pytest.raises(NotPossible, match="is there already"):
        backup(demo_address, made.path)


def test_a_restore_keeps_what_was_there(demo_address: str, tmp_path: Path) -> None:
    made = backup(demo_address, str(tmp_path / "b.db"))
    bring_in(demo_address, ["H03"])
    with pytest.raises(NotPossible, match="there is a store"):
        restore(made.path, demo_address)
    assert place_of(demo_address, "H03") == "works"
    done = restore(made.path, demo_address, over=True)
    assert place_of(demo_address, "H03") == "Tobin's home / shed bench"
    assert place_of(done.kept, "H03") == "works", "what was done since is not lost"
    bring_in(demo_address, ["H03"])  # the same process goes on with the new file
    assert place_of(demo_address, "H03") == "works"


def test_a_folder_is_a_backup_too_also_from_and_to_a_server(
    demo_address: str, blank_postgres_url: str, tmp_path: Path
) -> None:
    export(demo_address, str(tmp_path / "all"))
    assert restore(str(tmp_path / "all"), str(tmp_path / "deep" / "new.db")).items == 149
    assert restore(demo_address, blank_postgres_url).items == 149
    with pytest.raises(NotPossible, match="not blank"):
        restore(demo_address, blank_postgres_url, over=True)
    made = backup(blank_postgres_url, str(tmp_path / "server"))
    assert made.items == 149
    assert restore(made.path, str(tmp_path / "b.db")).items == 149
    assert audit(str(tmp_path / "b.db")).sound


def test_a_damaged_backup_touches_nothing(demo_address: str, tmp_path: Path) -> None:
    bad = backup(demo_address, str(tmp_path / "bad.db")).path
    damage(bad)
    before = Path(demo_address).read_bytes()
    with pytest.raises(StoreDamaged):
        restore(bad, demo_address, over=True)
    (tmp_path / "text.db").write_text("no store at all, but long enough to be looked at")
    with pytest.raises(StoreDamaged):
        restore(str(tmp_path / "text.db"), demo_address, over=True)
    (tmp_path / "blank.db").touch()
    for name in ("none.db", "blank.db"):
        with pytest.raises(BadExport):
            restore(str(tmp_path / name), demo_address, over=True)
    with pytest.raises(NotPossible, match="itself"):
        restore(demo_address, demo_address, over=True)
    assert Path(demo_address).read_bytes() == before
    assert not [name for name in os.listdir(os.path.dirname(demo_address)) if name.startswith(".crib")]


def test_copies_in_folders_are_listed_and_looked_through(demo_address: str, tmp_path: Path) -> None:
    """The latest first; what is no copy of a store, and the store itself, are left out."""
    folder = tmp_path / "stick"
    folder.mkdir()
    assert backups(demo_address, [str(folder), "", str(tmp_path / "none")]) == ()
    made = backup(demo_address, str(folder)).path
    export(demo_address, str(folder / "all"))
    (folder / "other.db").write_bytes(b"SQLite format 3\0" + bytes(200))
    (folder / "short.db").write_bytes(b"x")
    (folder / "tools").mkdir()
    shutil.copy(made, folder / "demo-1.db")
    os.utime(made, (1_000_000_000, 1_000_000_000))
    found = backups(demo_address, [str(folder), str(tmp_path), str(folder)])
    assert [(one.path, one.what) for one in found] == [(str(folder / "all"), "folder"), (made, "file")]
    assert found[1].size == os.path.getsize(made)
    assert [look_through(one.path).items for one in found] == [149, 149]
    damage(made)
    with pytest.raises(StoreDamaged):
        look_through(made)
    (folder / "all" / "item.csv").write_text("changed")
    for gone in (str(folder / "all"), str(folder / "none")):
        with pytest.raises(BadExport):
            look_through(gone)
    assert audit(demo_address).sound


def test_a_damaged_store_is_replaced_and_kept(demo_address: str, tmp_path: Path) -> None:
    good = backup(demo_address, str(tmp_path / "good.db")).path
    damage(demo_address)
    broken = Path(demo_address).read_bytes()
    with pytest.raises(StoreDamaged):
        backup(demo_address, str(tmp_path / "of-broken.db"))
    done = restore(good, demo_address, over=True)
    assert Path(done.kept).read_bytes() == broken
    assert audit(demo_address).sound


def test_a_full_disk_is_said_and_loses_nothing(demo_address: str, tmp_path: Path) -> None:
    close_engines()
    before = Path(demo_address).read_bytes()
    for act in (backup, export):
        with no_file_longer_than(20_000), pytest.raises(StoreError) as told:
            act(demo_address, str(tmp_path / "out"))
        assert told.value.exit_status == 3
        assert (
            "full" in told.value.message or "large" in told.value.message or "written" in told.value.message
        )
        assert sorted(os.listdir(tmp_path)) == [Path(demo_address).name], "no half of a backup is left"
    with no_file_longer_than(20_000), pytest.raises(StoreError):
        bring_in(demo_address, ["H03"])
    close_engines()
    assert Path(demo_address).read_bytes() == before
    assert place_of(demo_address, "H03") == "Tobin's home / shed bench"
    assert audit(demo_address).sound


def test_a_read_only_folder_and_a_store_in_use_are_said(demo_address: str, tmp_path: Path) -> None:
    good = shutil.copy(demo_address, tmp_path / "good.db")
    os.chmod(tmp_path, 0o755)
    with closing(sqlite3.connect(demo_address)) as other, pytest.MonkeyPatch.context() as patch:
        patch.setattr("crib.store.backup.WAIT_S", 0.01)
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreBusy):
            restore(str(good), demo_address, over=True)
    with read_only_folder(demo_address) as path, pytest.raises(StoreReadOnly):
        backup(path, os.path.join(os.path.dirname(path), "copy.db"))


def test_the_audit_finds_rows_without_parents_and_evidence_of_nothing(demo_address: str) -> None:
    with closing(sqlite3.connect(demo_address)) as connection, connection:
        connection.execute("PRAGMA foreign_keys = OFF")
        connection.execute("UPDATE item SET held_by_id = 999 WHERE tag = 'H01'")
        connection.execute(
            "INSERT INTO evidence (sha256, media_type, name, size, at, content) "
            "VALUES ('0', 'image/png', 'x.png', 3, '2026-01-01 00:00:00.000000', x'00')"
        )
    found = audit(demo_address)
    assert not found.sound
    assert found.parents == ("item: 1 rows whose held_by_id is no party",)
    assert [line.split(": ")[1] for line in found.evidence] == [
        "its content is not what was put in",
        "belongs to no tool and no claim",
    ]
    assert [one.field for one in found.differences] == ["held_by_id"]
