"""Bare connections to a store: pragmas, and write transactions that wait their turn fairly.

Why a rollback journal, truncated and fully synced: docs/decisions/0001-journal-mode.md.
"""

import sqlite3
import time
from typing import TYPE_CHECKING, Any

from crib.errors import StoreBusy, StoreError
from crib.store.address import Address

if TYPE_CHECKING:
    import psycopg

WAIT_S = 10.0  # how long a writer waits for its turn, and for readers to finish
_RETRY_S = (0.0002, 0.002)  # SQLite's own busy handler backs off and starves: ours is short and jittered
_POSTGRES_OPTIONS = f"-c lock_timeout={int(WAIT_S * 1000)} -c timezone=UTC -c search_path=public"


def begin_immediate(connection: sqlite3.Connection, where: str, wait_s: float = WAIT_S) -> None:
    """Begin a write transaction, waiting until no other writer is in.

    Args:
        connection: in autocommit mode.
        where: the store, for the message.
        wait_s: how long to wait.

    Raises:
        StoreBusy: others wrote all that time.
    """
    connection.execute("PRAGMA busy_timeout = 0")
    deadline = time.monotonic() + wait_s
    while True:
        try:
            connection.execute("BEGIN IMMEDIATE")
            break
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY:
                raise
            if time.monotonic() >= deadline:
                raise StoreBusy(
                    f"another writer held the store {where} for {wait_s:g} s",
                    "nothing was written; try again, or see who has the store open",
                ) from error
        time.sleep(_jitter())
    # the commit still has to wait for readers that are in the middle of an answer
    connection.execute(f"PRAGMA busy_timeout = {int(wait_s * 1000)}")


def _jitter() -> float:
    import random  # costs more than opening the store, and few writers ever wait

    return random.uniform(*_RETRY_S)


def open_sqlite(path: str) -> sqlite3.Connection:
    """Open a store file for writing, as every writer of ours does.

    The file must be there: it is made by crib.store.upgrade, private to the user.
    """
    connection = sqlite3.connect(
        Address(path=path).uri("rw"), uri=True, timeout=WAIT_S, isolation_level=None, check_same_thread=False
    )
    try:
        connection.execute("PRAGMA journal_mode = TRUNCATE")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA temp_store = MEMORY")
    except BaseException:
        connection.close()
        raise
    return connection


def open_sqlite_reading(address: Address, mode: str = "ro") -> sqlite3.Connection:
    """Open a store file for reading; works in a folder that is read-only as well.

    Args:
        address: of a file.
        mode: "ro"; "rw" lets SQLite undo what a killed writer left, still without writing of our own.
    """
    connection = sqlite3.connect(address.uri(mode), uri=True, timeout=WAIT_S, isolation_level=None)
    try:
        connection.execute("PRAGMA query_only = ON")
        connection.execute("PRAGMA temp_store = MEMORY")
    except BaseException:
        connection.close()
        raise
    return connection


NO_DRIVER = (
    "a postgresql:// store needs the driver psycopg, which is not installed",
    "install it with: pip install 'crib[postgres]'",
)


def open_postgres(dsn: str) -> "psycopg.Connection[tuple[Any, ...]]":
    """Open a connection to a PostgreSQL store.

    Raises:
        StoreError: the driver is not installed.
    """
    try:
        import psycopg  # an extra: only who has a server needs it
    except ModuleNotFoundError as error:
        raise StoreError(*NO_DRIVER) from error
    return psycopg.connect(dsn, options=_POSTGRES_OPTIONS, connect_timeout=int(WAIT_S))
