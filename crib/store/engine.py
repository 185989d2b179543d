"""The SQLAlchemy engine, for writing. Readers use crib.store.read."""

import os
import sqlite3
from importlib.util import find_spec

from sqlalchemy import Engine, create_engine, event
from sqlalchemy.engine import URL, Connection
from sqlalchemy.exc import DisconnectionError
from sqlalchemy.pool import ConnectionPoolEntry

from crib.errors import StoreError
from crib.store.address import Address
from crib.store.connect import NO_DRIVER, WAIT_S, begin_immediate, open_postgres, open_sqlite

_ENGINES: dict[Address, Engine] = {}


def engine_for(address: Address) -> Engine:
    """Give the engine of a store; one a process, so that connections and compiled statements are kept."""
    engine = _ENGINES.get(address)
    if engine is None:
        engine = _ENGINES.setdefault(address, _new_engine(address))
    return engine


def is_open(address: Address) -> bool:
    """Say whether this process has used the store already."""
    return address in _ENGINES


def _new_engine(address: Address) -> Engine:
    if not address.is_file:
        if find_spec("psycopg") is None:
            raise StoreError(*NO_DRIVER)
        # libpq alone reads the address: SQLAlchemy would read some of it otherwise
        return create_engine(
            URL.create("postgresql+psycopg"), creator=lambda: open_postgres(address.dsn), pool_pre_ping=True
        )
    engine = create_engine(
        URL.create("sqlite", database=address.path), creator=lambda: open_sqlite(address.path)
    )

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        raw = connection.connection.driver_connection
        assert isinstance(raw, sqlite3.Connection)
        begin_immediate(raw, address.shown, connection.get_execution_options().get("wait_s", WAIT_S))

    _follow_the_file(engine, address.path)
    return engine


def _follow_the_file(engine: Engine, path: str) -> None:
    """Drop a pooled connection whose file was replaced or moved away (a backup restored over it)."""

    def identity() -> tuple[int, int] | None:
        try:
            found = os.stat(path)
        except OSError:
            return None
        return found.st_dev, found.st_ino

    @event.listens_for(engine, "connect")
    def _connected(_connection: object, record: ConnectionPoolEntry) -> None:
        record.info["file"] = identity()

    @event.listens_for(engine, "checkout")
    def _taken(_connection: object, record: ConnectionPoolEntry, _proxy: object) -> None:
        if record.info["file"] != identity():
            raise DisconnectionError("the file is another one now")


def close_engines() -> None:
    """Close every pooled connection of this process (tests, and before a store file is replaced)."""
    while _ENGINES:
        _ENGINES.popitem()[1].dispose()
