"""Copies of a store file while it is in use, whether they are whole, and putting one back in its place."""

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import datetime

from crib.errors import NotPossible, StoreDamaged
from crib.store.address import Address
from crib.store.connect import WAIT_S, open_sqlite_reading
from crib.store.faults import translated


def copy_file(address: Address, path: str) -> None:
    """Copy a store file through SQLite's own backup, also while others write; private, and safe on the disk.

    Args:
        address: of a file.
        path: where the copy appears, in one step, when it is complete.

    Raises:
        OSError: the copy can't be written.
        sqlite3.Error: the store can't be read, or the disk is full.
    """
    partial = path + ".partial"
    try:
        os.close(os.open(partial, os.O_CREAT | os.O_TRUNC | os.O_WRONLY, 0o600))
        with closing(open_sqlite_reading(address)) as source, closing(sqlite3.connect(partial)) as target:
            source.backup(target)
        with open(partial, "rb") as written:
            os.fsync(written.fileno())
        os.replace(partial, path)
    except BaseException:
        for left in (partial, partial + "-journal"):
            if os.path.exists(left):
                os.unlink(left)
        raise


def refuse_if_damaged(path: str, shown: str = "") -> int:
    """Look through a store file, and replay its ledger; nothing in it is changed.

    Args:
        path: of the file.
        shown: what it is called in a refusal, if not by its path.

    Returns:
        The number of items.

    Raises:
        StoreDamaged: it is no whole store.
        StoreError: it can't be read.
    """
    from sqlalchemy import create_engine
    from sqlalchemy.orm import Session
    from sqlalchemy.pool import NullPool

    from crib.store import ledger
    from crib.store.models import Item
    from crib.store.soundness import damaged_evidence, file_troubles, lost_parents

    address = Address(path=os.path.abspath(path))
    shown = shown or address.path
    engine = create_engine("sqlite://", creator=lambda: open_sqlite_reading(address), poolclass=NullPool)
    with translated(Address(path=shown)), Session(engine) as session:
        troubles = file_troubles(session) or [
            *lost_parents(session),
            *damaged_evidence(session),
            *(f"item {one.item_id}: {one.field}" for one in ledger.differences(session)),
        ]
        count = session.query(Item).count()
    if troubles:
        raise StoreDamaged(
            f"{shown} is not sound: {troubles[0]}", "take another backup: this one was left as it is"
        )
    return count


def put_in_place(made: str, address: Address, now: datetime) -> str:
    """Put a store file where another may be; what was there is kept beside it.

    Args:
        made: path of the new file, in the same folder.
        address: where it is to be.
        now: gives the kept file its name.

    Returns:
        The path of the file that was there; empty where none was.

    Raises:
        StoreBusy: others hold the store that is there.
        OSError: the disk does not let us.
    """
    if not os.path.exists(address.path):
        os.replace(made, address.path)
        return ""
    kept = f"{address.path}.replaced-{now:%Y%m%d-%H%M%S}.db"
    if os.path.lexists(kept):
        raise NotPossible(f"{kept} is there already", "wait a second and try again")
    with _held(address):
        journal = address.path + "-journal"
        shutil.copy2(address.path, kept)
        if os.path.exists(journal) and os.path.getsize(journal):
            shutil.copy2(journal, kept + "-journal")
        for path in (kept, kept + "-journal"):
            if os.path.exists(path):
                with open(path, "rb") as written:
                    os.fsync(written.fileno())
        os.replace(made, address.path)
        if os.path.exists(journal):
            os.unlink(journal)  # of the old file: it must not be played into the new one
    return kept


@contextmanager
def _held(address: Address) -> Iterator[None]:
    """Keep others out of a store file while it is replaced; a damaged one, which nobody can use, is free."""
    with (
        translated(address),
        closing(sqlite3.connect(address.uri("rw"), uri=True, timeout=WAIT_S)) as connection,
    ):
        connection.isolation_level = None
        try:
            connection.execute("BEGIN EXCLUSIVE")
        except sqlite3.DatabaseError as error:
            if (
                isinstance(error, sqlite3.OperationalError)
                and error.sqlite_errorcode & 0xFF == sqlite3.SQLITE_BUSY
            ):
                raise
        yield
