"""Foreign exceptions, translated once: what a driver raises becomes a StoreError with a way out.

No driver is imported here: SQLite errors are known by their result code, PostgreSQL's by their SQLSTATE.
"""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from crib.errors import (
    CribError,
    InputError,
    NotPossible,
    StoreBusy,
    StoreDamaged,
    StoreError,
    StoreMissing,
    StoreReadOnly,
)
from crib.store.address import Address

HOW_TO_BEGIN = (
    '`crib` begins one on a screen, `crib party "Your Name" --add` or `crib intake FILE…` by command; '
    "--db chooses another"
)
_BUSY_HINT = "wait a moment and try again; if it stays so, see who has the store open"
_DAMAGED_HINT = "restore the last backup; the file itself was left as it is"

# PostgreSQL: SQLSTATE, or its class (the first two signs)
_POSTGRES: dict[str, tuple[type[CribError], str, str]] = {
    "40": (StoreBusy, "another writer was quicker at {where}; nothing was written", _BUSY_HINT),
    "55P03": (StoreBusy, "another writer holds the store at {where}", _BUSY_HINT),
    "57014": (StoreBusy, "the store at {where} took too long to answer", _BUSY_HINT),
    "25006": (
        StoreReadOnly,
        "the store at {where} is read-only",
        "ask whoever runs the server for write access",
    ),
    "42501": (
        StoreReadOnly,
        "we are not allowed to do this at {where}",
        "ask whoever runs the server for access",
    ),
    "3D": (
        StoreMissing,
        "there is no database at {where}",
        "make it with createdb, then create the store in it",
    ),
    "28": (StoreError, "the server at {where} does not let us in", "check user and password in the address"),
    "08": (
        StoreError,
        "the server at {where} can't be reached",
        "check that it runs and that the address is right",
    ),
    "57P": (StoreError, "the server at {where} is stopping or starting", "try again in a minute"),
    "53": (StoreError, "the server at {where} is out of room", "free disk space or connections there"),
    "XX": (StoreDamaged, "the store at {where} is damaged", _DAMAGED_HINT),
    "58": (StoreDamaged, "the server at {where} can't read its files", _DAMAGED_HINT),
    "23": (NotPossible, "the records do not allow this: {why}", "nothing was written"),
    "P0001": (NotPossible, "the store refused: {why}", "make a correcting entry instead"),
}

_SQLITE: dict[int, tuple[type[CribError], str, str]] = {
    sqlite3.SQLITE_BUSY: (StoreBusy, "another writer holds the store {where}", _BUSY_HINT),
    sqlite3.SQLITE_LOCKED: (StoreBusy, "another writer holds the store {where}", _BUSY_HINT),
    sqlite3.SQLITE_PROTOCOL: (StoreBusy, "the store {where} is held by too many at once", _BUSY_HINT),
    sqlite3.SQLITE_READONLY: (
        StoreReadOnly, "the store {where} can't be written: its file or folder is read-only",
        "give yourself write access, or choose another store with --db",
    ),
    sqlite3.SQLITE_PERM: (StoreReadOnly, "we are not allowed to open {where}", "check who owns the file"),
    sqlite3.SQLITE_AUTH: (StoreReadOnly, "{where} does not let us do this", "check who owns the file"),
    sqlite3.SQLITE_CANTOPEN: (
        StoreReadOnly, "the store {where} can't be opened: its file or folder does not let us",
        "check who owns them, or choose another store with --db",
    ),
    sqlite3.SQLITE_NOTADB: (StoreDamaged, "{where} is not a crib store", "choose another file with --db"),
    sqlite3.SQLITE_CORRUPT: (StoreDamaged, "the store {where} is damaged", _DAMAGED_HINT),
    sqlite3.SQLITE_FORMAT: (StoreDamaged, "the store {where} is damaged", _DAMAGED_HINT),
    sqlite3.SQLITE_FULL: (StoreError, "the disk of {where} is full; nothing was written", "free some room"),
    sqlite3.SQLITE_IOERR: (
        StoreError, "the disk of {where} can't be read or written ({why})", "check disk, cable and network",
    ),
    sqlite3.SQLITE_NOLFS: (StoreError, "this file system can't hold {where}", "move it to another disk"),
    sqlite3.SQLITE_TOOBIG: (NotPossible, "a text or file is too big for the store", "shorten it"),
    sqlite3.SQLITE_CONSTRAINT: (NotPossible, "the records do not allow this: {why}", "nothing was written"),
}  # fmt: skip

_LEDGER_REFUSAL = (NotPossible, "the store refused: {why}", "make a correcting entry instead")


def as_crib_error(error: BaseException, address: Address) -> CribError | None:
    """Give the crib error for a driver's error; None when it is a fault of ours (bad SQL, misuse).

    Args:
        error: raised by sqlite3, psycopg or, around one of these, by SQLAlchemy.
        address: the store in hand.
    """
    origin = getattr(error, "orig", None) or error
    if isinstance(origin, (UnicodeEncodeError, OverflowError)) or type(origin).__name__ == "DataError":
        return InputError(
            "a text or number can't be kept in the store", f"it was refused as: {_first_line(origin)}"
        )
    case = _postgres_case(origin) if not isinstance(origin, sqlite3.Error) else _sqlite_case(origin, address)
    if case is None:
        return None
    kind, message, hint = case
    return kind(message.format(where=address.shown, why=_first_line(origin)), hint)


def _first_line(error: BaseException) -> str:
    return (str(error).splitlines() or [""])[0]


def _sqlite_case(error: sqlite3.Error, address: Address) -> tuple[type[CribError], str, str] | None:
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        return None
    if code == sqlite3.SQLITE_CONSTRAINT_TRIGGER:
        return _LEDGER_REFUSAL
    if code & 0xFF == sqlite3.SQLITE_CANTOPEN and not os.path.exists(address.path):
        return (
            StoreMissing,
            "there is no store at {where}",
            HOW_TO_BEGIN,
        )
    if code & 0xFF == sqlite3.SQLITE_ERROR and "fts5" in str(error) and "no such module" in str(error):
        return (
            StoreError,
            "this computer's SQLite has no full-text search (FTS5)",
            "install an SQLite with FTS5",
        )
    return _SQLITE.get(code & 0xFF)


def _postgres_case(error: BaseException) -> tuple[type[CribError], str, str] | None:
    state = getattr(error, "sqlstate", None)
    if state is None:
        # psycopg gives no SQLSTATE when the connection itself fails; the server's words are all there is
        if type(error).__name__ == "OperationalError":
            lost = "does not exist" in str(error) and "database" in str(error)
            return _POSTGRES["3D"] if lost else _POSTGRES["08"]
        return None
    return _POSTGRES.get(state) or _POSTGRES.get(state[:3]) or _POSTGRES.get(state[:2])


@contextmanager
def translated(address: Address) -> Iterator[None]:
    """Turn driver errors raised inside into crib errors; all others pass as they are."""
    try:
        yield
    except Exception as error:
        known = None if isinstance(error, CribError) else as_crib_error(error, address)
        if known is None:
            raise
        raise known from error
