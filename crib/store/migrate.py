"""Running the migrations: one transaction, foreign keys off before it begins, a copy beside the store."""

import os
import sqlite3

from alembic import command
from alembic.config import Config
from sqlalchemy import create_engine, event, text
from sqlalchemy.engine import URL, Connection, Engine
from sqlalchemy.pool import NullPool

from crib.errors import CribError, StoreDamaged, StoreError, StoreReadOnly
from crib.store.address import Address
from crib.store.backup import copy_file
from crib.store.connect import begin_immediate, open_postgres, open_sqlite
from crib.store.faults import translated
from crib.store.upgrade import judge

KEPT_COPIES = 5
_POSTGRES_LOCK = 0x43726962  # any number; all cribs must use the same


def migrate(address: Address, found: str, head: str, scripts: str) -> None:
    """Bring a store to a version, or leave it as it was.

    Args:
        address: an older store, or a blank one.
        found: its version when it was looked at; empty for a blank one.
        head: the version wanted.
        scripts: folder of the migrations.

    Raises:
        StoreError: a step failed; nothing was changed.
    """
    try:
        with translated(address), _connect(address) as connection, connection.begin():
            now = _version_inside(address, connection, head)
            if now == head:
                return  # another process was quicker
            if now and address.is_file:
                keep_copy(address, head)
            command.upgrade(config(scripts, connection), head)
            if address.is_file:
                _check_keys(address, connection)
    except CribError:
        raise
    except Exception as error:
        raise StoreError(
            f"the store {address.shown} could not be brought from version {found or 'nothing'} to {head} "
            f"({type(error).__name__}: {error})".splitlines()[0],
            "it was left as it was; this is a fault in crib: please report it",
        ) from error


def config(scripts: str, connection: Connection | None = None) -> Config:
    """Give Alembic's settings for a folder of migrations; there is no ini file."""
    made = Config()
    made.set_main_option("script_location", scripts.replace("%", "%%"))
    made.set_main_option("path_separator", "os")
    made.attributes["connection"] = connection
    return made


def _connect(address: Address) -> Connection:
    if not address.is_file:
        url = URL.create("postgresql+psycopg")
        return create_engine(url, creator=lambda: open_postgres(address.dsn), poolclass=NullPool).connect()
    engine = create_engine(
        URL.create("sqlite", database=address.path),
        creator=lambda: open_sqlite(address.path),
        poolclass=NullPool,
    )
    _begin_immediate_without_keys(engine, address)
    return engine.connect()


def _begin_immediate_without_keys(engine: Engine, address: Address) -> None:
    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        raw = connection.connection.driver_connection
        assert isinstance(raw, sqlite3.Connection)
        # a rebuilt parent table would take its children with it; inside a transaction this is ignored
        raw.execute("PRAGMA foreign_keys = OFF")
        begin_immediate(raw, address.shown)


def _version_inside(address: Address, connection: Connection, head: str) -> str:
    if address.is_file:
        raw = connection.connection.driver_connection
        assert isinstance(raw, sqlite3.Connection)
        return judge(address, lambda sql: raw.execute(sql).fetchall(), head)
    connection.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": _POSTGRES_LOCK})
    if connection.scalar(text("SELECT to_regclass('alembic_version')")) is None:
        return ""
    return judge(address, lambda sql: [tuple(row) for row in connection.execute(text(sql))], head)


def _check_keys(address: Address, connection: Connection) -> None:
    lost = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
    if lost:
        raise StoreDamaged(
            f"the store {address.shown} holds {len(lost)} rows that refer to nothing (first: {lost[0][0]})",
            "it was left as it was; restore the last backup",
        )


def keep_copy(address: Address, head: str) -> str:
    """Copy a store file beside itself before an upgrade; the newest few are kept.

    Args:
        address: the file; our own transaction may have begun, but not written.
        head: the version that the upgrade leads to.

    Returns:
        The path of the copy.
    """
    copy = f"{address.path}.before-{head}.db"
    try:
        copy_file(address, copy)
    except OSError as error:
        kind = StoreReadOnly if isinstance(error, PermissionError) else StoreError
        raise kind(
            f"the store {address.shown} is older, and no copy can be kept beside it ({error.strerror})",
            "make room or give yourself write access to its folder; it was left as it was",
        ) from error
    _drop_old_copies(address)
    return copy


def _drop_old_copies(address: Address) -> None:
    folder, name = os.path.split(address.path)
    copies = sorted(n for n in os.listdir(folder) if n.startswith(f"{name}.before-") and n.endswith(".db"))
    for old in copies[:-KEPT_COPIES]:
        os.unlink(os.path.join(folder, old))
