"""Which version a store has, and bringing it to ours. Alembic is imported only when there is something to do.

At the current version this costs one query. A newer store, a file of another program or a damaged one is
refused before anything is written. An older one is upgraded in one transaction, after a copy beside it.
"""

import os
from collections.abc import Callable
from typing import Any

from crib.errors import StoreDamaged, StoreError, StoreMissing, StoreNewer, StoreReadOnly
from crib.store.address import Address, parse
from crib.store.connect import open_postgres, open_sqlite_reading
from crib.store.faults import HOW_TO_BEGIN, translated

HEAD = "0004"  # the last revision in migrations/versions; a test holds the two together
APPLICATION_ID = 0x43726962  # "Crib" in the header of our files
VERSION_QUERY = "SELECT version_num FROM alembic_version"

Ask = Callable[[str], list[tuple[Any, ...]]]


def scripts_folder() -> str:
    """Give the folder of the migrations: inside the wheel, else beside the package in a checkout."""
    package = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    packaged = os.path.join(package, "_migrations")
    return packaged if os.path.isdir(packaged) else os.path.join(os.path.dirname(package), "migrations")


def version(ask: Ask) -> str:
    """Give the revision of a store; empty when it has none.

    Args:
        ask: runs one query on an open connection that is in autocommit mode.
    """
    try:
        found = ask(VERSION_QUERY)
    except Exception as error:
        if "no such table" in str(error) or getattr(error, "sqlstate", "") == "42P01":
            return ""
        raise
    return str(found[0][0]) if found else ""


def open_store(url: str, *, create: bool = False, scripts: str = "", head: str = HEAD) -> Address:
    """Make sure that a store of our version is there.

    Args:
        url: a path or a postgresql:// address.
        create: make a new store when there is none.
        scripts: folder of the migrations, when not ours (tests).
        head: the version wanted, when not ours (tests).

    Raises:
        StoreMissing: there is none, and create is False.
        StoreNewer: a newer crib wrote it.
        StoreDamaged: it is damaged, or of another program.
        StoreReadOnly: it is older, or must be made, where we can't write.
        StoreError: the upgrade failed; the store is as it was.
    """
    address = parse(url)
    found = _look(address, head)
    if found == head:
        return address
    if not found:
        if not create:
            raise missing(address)
        if address.is_file:
            _make_file(address.path)
    from crib.store.migrate import migrate  # Alembic: 300 ms, and hardly ever needed

    migrate(address, found, head, scripts or scripts_folder())
    return address


def missing(address: Address) -> StoreMissing:
    """Give the error for a store that is not there."""
    return StoreMissing(
        f"there is no store at {address.shown}",
        HOW_TO_BEGIN,
    )


def _look(address: Address, head: str) -> str:
    if address.is_file and not os.path.exists(address.path):
        return ""
    with translated(address):
        if address.is_file:
            with_file = reading_sqlite(address)
            try:
                return judge(address, lambda sql: with_file.execute(sql).fetchall(), head)
            finally:
                with_file.close()
        with open_postgres(address.dsn) as server:
            server.autocommit = True
            return judge(address, lambda sql: server.execute(sql.encode()).fetchall(), head)


def reading_sqlite(address: Address) -> Any:
    """Open a file for reading; when a killed writer left work to undo, let SQLite undo it first."""
    if os.path.isdir(address.path):
        raise StoreError(f"{address.shown} is a folder, not a store", "name the file: --db FOLDER/crib.db")
    import sqlite3

    connection = open_sqlite_reading(address)
    try:
        connection.execute("SELECT 1 FROM sqlite_master LIMIT 1").fetchall()
    except sqlite3.OperationalError as error:
        connection.close()
        if error.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN):
            raise
        connection = open_sqlite_reading(address, "rw")
    return connection


def judge(address: Address, ask: Ask, head: str = HEAD) -> str:
    """Give the version of an open store: ours, older, or empty for a blank one.

    Raises:
        StoreNewer: a newer crib wrote it.
        StoreDamaged: it belongs to another program.
    """
    found = version(ask)
    if found == head:
        return found
    if address.is_file:
        _refuse_strangers(address, ask, found)
    if found and (not found.isdigit() or found > head):
        raise StoreNewer(
            f"the store {address.shown} was written by a newer crib (version {found}; this one knows {head})",
            "upgrade crib on this computer; the store was left as it is",
        )
    return found


def _refuse_strangers(address: Address, ask: Ask, found: str) -> None:
    mine = ask("PRAGMA application_id")[0][0] == APPLICATION_ID
    blank = not ask("SELECT 1 FROM sqlite_master LIMIT 1")
    if not mine and not (blank and not found):
        raise StoreDamaged(
            f"{address.shown} is a database of another program, not a crib store",
            "choose another file with --db",
        )


def _make_file(path: str) -> None:
    """Make an empty file that is private to the user; what another process just made is as good."""
    try:
        os.makedirs(os.path.dirname(path), mode=0o700, exist_ok=True)
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    except FileExistsError:
        if not os.path.isfile(path):
            raise StoreError(f"{path} is not a file", "choose another path with --db") from None
    except PermissionError as error:
        raise StoreReadOnly(
            f"no store can be made at {path}: the folder does not let us write",
            "choose another path with --db",
        ) from error
    except OSError as error:
        raise StoreError(
            f"no store can be made at {path}: {error.strerror}", "choose another path with --db"
        ) from error
