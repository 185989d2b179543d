"""From nothing to our version, from an older one after a copy, never from a newer one."""

import os
import shutil
import sqlite3
import stat
import threading
from contextlib import closing

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine, inspect, select, text
from store.ordinary import read_only_folder
from store.stock import fill

from crib.errors import StoreDamaged, StoreError, StoreMissing, StoreNewer, StoreReadOnly
from crib.store import upgrade
from crib.store.address import parse
from crib.store.engine import close_engines, engine_for
from crib.store.filters import Filters
from crib.store.migrate import config
from crib.store.models import Base, Item, Party
from crib.store.read import reading
from crib.store.upgrade import HEAD, open_store
from crib.store.writing import writing

AFTER = f"{int(HEAD) + 1:04}"
NEXT = f"""
from alembic import op
import sqlalchemy as sa
revision = "{AFTER}"
down_revision = "{HEAD}"
def upgrade():
    op.add_column("party", sa.Column("phone", sa.Text()))
    op.execute("UPDATE party SET phone = 'none'")
    MORE
"""


@pytest.fixture
def later(tmp_path):
    """A folder of migrations with one more than ours; gives a function that writes it."""

    def write(more: str = "pass") -> str:
        folder = tmp_path / "later"
        shutil.copytree(upgrade.scripts_folder(), folder, ignore=shutil.ignore_patterns("__pycache__"))
        (folder / "versions" / f"{AFTER}_more.py").write_text(NEXT.replace("MORE", more))
        return str(folder)

    return write


def version_of(url: str) -> str:
    with engine_for(parse(url)).connect() as connection:
        return connection.scalar(text("SELECT version_num FROM alembic_version"))


def test_head_is_the_last_migration():
    assert ScriptDirectory.from_config(config(upgrade.scripts_folder())).get_heads() == [HEAD]


def test_a_new_store_is_made_only_when_asked(blank_url):
    with pytest.raises(StoreMissing) as missing:
        open_store(blank_url)
    assert missing.value.exit_status == 3
    for use in (reading, writing):
        with pytest.raises(StoreMissing), use(blank_url):
            pass
    open_store(blank_url, create=True)
    open_store(blank_url, create=True)
    assert version_of(blank_url) == HEAD
    with reading(blank_url) as crib:
        assert crib.find_items(Filters()) == ((), 0)


def test_looking_for_a_store_makes_no_file(tmp_path):
    path = tmp_path / "deep" / "crib.db"
    with pytest.raises(StoreMissing):
        open_store(str(path))
    with pytest.raises(StoreMissing), writing(str(path)):
        pass
    assert list(tmp_path.iterdir()) == []


def test_the_models_are_what_the_migrations_make(store_url):
    def ours(_object, name, kind, reflected, _compared):
        return not (reflected and (name.startswith("item_search") or name in ("search", "ix_item_search")))

    with engine_for(parse(store_url)).connect() as connection:
        context = MigrationContext.configure(connection, opts={"include_object": ours})
        assert compare_metadata(context, Base.metadata) == []


def test_the_checks_and_partial_indexes_of_the_models_are_those_of_the_migrations(sqlite_url, tmp_path):
    def partial(inspector, table):
        found = ((one["name"], one["dialect_options"]) for one in inspector.get_indexes(table))
        return {name: str(said["sqlite_where"]) for name, said in found if "sqlite_where" in said}

    from_models = create_engine(f"sqlite:///{tmp_path / 'models.db'}")
    Base.metadata.create_all(from_models)
    with engine_for(parse(sqlite_url)).connect() as connection:
        for table in Base.metadata.tables:
            here, there = inspect(connection), inspect(from_models)
            assert sorted(map(str, here.get_check_constraints(table))) == sorted(
                map(str, there.get_check_constraints(table))
            )
            assert here.get_unique_constraints(table) == there.get_unique_constraints(table)
            assert partial(here, table) == partial(there, table)
        assert partial(inspect(connection), "ledger").keys() == {"ix_ledger_act", "ix_ledger_corrects_id"}
    from_models.dispose()


def test_a_new_file_is_private_and_marked_as_ours(tmp_path):
    path = tmp_path / "a folder" / "100%?#é.db"
    open_store(str(path), create=True)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
    with closing(sqlite3.connect(path)) as bare:
        assert bare.execute("PRAGMA application_id").fetchone() == (upgrade.APPLICATION_ID,)
    with writing(str(path)) as session:
        session.add(Party(name="Zoë"))
    with reading(str(path)) as crib:
        assert [party.name for party in crib.parties()] == ["Zoë"]
    assert {stat.S_IMODE(file.stat().st_mode) for file in path.parent.iterdir()} == {0o600}


def test_an_older_store_is_upgraded_after_a_copy(store_url, later):
    fill(store_url)
    address = open_store(store_url, scripts=later(), head=AFTER)
    assert version_of(store_url) == AFTER
    with engine_for(address).connect() as connection:
        assert connection.scalar(text("SELECT count(*) FROM party WHERE phone = 'none'")) == 4
        assert connection.scalar(text("SELECT count(*) FROM item")) == 10
    if address.is_file:
        copy = f"{address.path}.before-{AFTER}.db"
        assert stat.S_IMODE(os.stat(copy).st_mode) == 0o600
        with reading(copy) as crib:
            assert crib.find_items(Filters()).total == 10
        assert not os.path.exists(copy + ".partial")


def test_only_the_newest_copies_are_kept(sqlite_url, later):
    for number in range(9001, 9008):
        with open(f"{sqlite_url}.before-{number}.db", "wb"):
            pass
    open_store(sqlite_url, scripts=later(), head=AFTER)
    folder = os.path.dirname(sqlite_url)
    assert len([name for name in os.listdir(folder) if ".before-" in name]) == 5


@pytest.mark.parametrize(
    "more", ["raise RuntimeError('planted')", "op.execute('UPDATE party SET nothing = 1')"]
)
def test_a_failing_upgrade_leaves_the_store_as_it_was(store_url, later, more):
    fill(store_url)
    before = _bytes(store_url)
    with pytest.raises(StoreError, match=f"could not be brought from version {HEAD} to {AFTER}") as failed:
        open_store(store_url, scripts=later(more), head=AFTER)
    assert "as it was" in failed.value.hint
    assert _bytes(store_url) == before
    assert version_of(store_url) == HEAD
    with reading(store_url) as crib:
        assert crib.find_items(Filters()).total == 10


def test_an_upgrade_that_leaves_rows_without_their_parent_is_undone(sqlite_url, later):
    fill(sqlite_url)
    before = _bytes(sqlite_url)
    with pytest.raises(StoreDamaged, match="refer to nothing"):
        open_store(sqlite_url, scripts=later("op.execute('DELETE FROM party')"), head=AFTER)
    assert _bytes(sqlite_url) == before


def test_an_upgrade_that_rebuilds_a_table_keeps_its_children(sqlite_url, later):
    fill(sqlite_url)
    more = "\n    with op.batch_alter_table('party') as batch:"
    more += "\n        batch.alter_column('note', new_column_name='remark')"
    open_store(sqlite_url, scripts=later(more), head=AFTER)
    with closing(sqlite3.connect(sqlite_url)) as bare:
        assert bare.execute("SELECT count(*) FROM item JOIN party ON party.id = owner_id").fetchone() == (10,)


def test_a_newer_store_is_refused_before_anything_is_written(store_url):
    fill(store_url)
    with engine_for(parse(store_url)).begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    before = _bytes(store_url)
    for use in (reading, writing):
        with pytest.raises(StoreNewer, match="9999"), use(store_url):
            pass
    with pytest.raises(StoreNewer) as newer:
        open_store(store_url, create=True)
    assert newer.value.exit_status == 3
    assert _bytes(store_url) == before


def test_many_starting_at_once_make_one_store(blank_url):
    failed: list[BaseException] = []

    def start() -> None:
        try:
            open_store(blank_url, create=True)
        except BaseException as error:
            failed.append(error)

    threads = [threading.Thread(target=start) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    assert version_of(blank_url) == HEAD


def test_a_file_of_another_program_is_refused_and_left_alone(tmp_path):
    other = tmp_path / "other.db"
    with closing(sqlite3.connect(other)) as bare:
        bare.execute("CREATE TABLE alembic_version (version_num TEXT)")
        bare.execute("INSERT INTO alembic_version VALUES ('0001a')")
        bare.commit()
    before = other.read_bytes()
    for use in (reading, writing):
        with pytest.raises(StoreDamaged, match="another program"), use(str(other)):
            pass
    with pytest.raises(StoreDamaged):
        open_store(str(other), create=True)
    assert other.read_bytes() == before


def test_a_file_that_is_no_database_is_refused_and_left_alone(tmp_path):
    other = tmp_path / "letter.txt"
    other.write_text("Dear Zoë, the liner rings again. " * 100)
    before = other.read_bytes()
    for use in (reading, writing):
        with pytest.raises(StoreDamaged, match="not a crib store"), use(str(other)):
            pass
    with pytest.raises(StoreDamaged):
        open_store(str(other), create=True)
    assert other.read_bytes() == before


def test_a_damaged_store_is_said_to_be_so(sqlite_url):
    fill(sqlite_url)
    size = os.path.getsize(sqlite_url)
    with open(sqlite_url, "r+b") as file:
        file.seek(4096)
        file.write(b"\xff" * (size - 4096))
    close_engines()  # or its cache would answer
    with pytest.raises(StoreDamaged) as damaged, reading(sqlite_url) as crib:
        crib.find_items(Filters())
    assert damaged.value.exit_status == 3
    with pytest.raises(StoreDamaged), writing(sqlite_url) as session:
        session.scalars(select(Item)).all()


def test_an_empty_file_is_no_store_until_one_is_made_in_it(tmp_path):
    path = tmp_path / "empty.db"
    path.touch()
    with pytest.raises(StoreMissing), reading(str(path)):
        pass
    open_store(str(path), create=True)
    with reading(str(path)) as crib:
        assert crib.parties() == ()


@pytest.mark.parametrize("file_mode", [0o400, 0o600])
def test_a_read_only_folder_can_be_read_but_not_written(sqlite_url, file_mode):
    fill(sqlite_url)
    with read_only_folder(sqlite_url, file_mode) as path:
        with reading(path) as crib:
            assert crib.find_items(Filters()).total == 10
        with pytest.raises(StoreReadOnly) as refused, writing(path) as session:
            session.add(Party(name="nobody"))
        assert refused.value.exit_status == 3
        with pytest.raises(StoreReadOnly):
            open_store(os.path.join(os.path.dirname(path), "new.db"), create=True)


def test_an_older_store_in_a_read_only_folder_is_left_alone(sqlite_url, later):
    fill(sqlite_url)
    scripts = later()
    with read_only_folder(sqlite_url, 0o600) as path, pytest.raises(StoreReadOnly):
        open_store(path, scripts=scripts, head=AFTER)


def test_a_folder_is_not_a_store(tmp_path):
    with pytest.raises(StoreError), reading(str(tmp_path)):
        pass
    with pytest.raises(StoreError):
        open_store(str(tmp_path), create=True)


def test_a_server_or_database_that_is_not_there(postgres_folder):
    pytest.importorskip("psycopg")
    with pytest.raises(StoreMissing, match="no database"):
        open_store(f"postgresql://crib@/nothing_here?host={postgres_folder}")
    with pytest.raises(StoreError, match="can't be reached") as gone:
        open_store("postgresql://crib:secret@/x?host=/nonexistent")
    assert "secret" not in gone.value.message


def test_without_the_driver_the_way_out_is_named(monkeypatch):
    import sys

    monkeypatch.setitem(sys.modules, "psycopg", None)
    with pytest.raises(StoreError, match="psycopg") as missing:
        open_store("postgresql://localhost/crib")
    assert "pip install" in missing.value.hint


def test_other_addresses_are_refused():
    for url in ("mysql://localhost/crib", ""):
        with pytest.raises(StoreError):
            open_store(url)
    assert parse("postgresql+psycopg://a:b@h/c").shown == "postgresql://a@h/c"
    assert parse("sqlite:////tmp/x.db") == parse("/tmp/x.db")


def _bytes(url: str) -> bytes:
    address = parse(url)
    if not address.is_file:
        return b""
    with open(address.path, "rb") as file:
        return file.read()
