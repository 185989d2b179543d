"""The write transaction: begun at once, committed at the end, or nothing happened.

with writing(url) as session:
    ledger.record(session, Entry(...))
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Connection, event, inspect
from sqlalchemy.orm import Session, UOWTransaction

from crib.errors import StoreError
from crib.store.address import Address, parse
from crib.store.connect import WAIT_S
from crib.store.engine import engine_for, is_open
from crib.store.faults import translated
from crib.store.models import (
    GOVERNED,
    GOVERNED_SIZES,
    BarDetail,
    BitDetail,
    GaugeDetail,
    HolderDetail,
    InsertDetail,
    Item,
    RotaryDetail,
)
from crib.store.search import compact, index_tokens, normalise
from crib.store.upgrade import HEAD, judge, open_store

_DETAILS = (InsertDetail, HolderDetail, BarDetail, BitDetail, RotaryDetail, GaugeDetail)


class WriteSession(Session):
    """A session inside one write transaction; keeps search words, guards what the ledger governs."""

    def in_hand(self) -> Connection:
        """Give the connection of the transaction, for statements that need no session.

        Raises:
            RuntimeError: it was rolled back; nothing more can be written.
        """
        connection = self.bind
        if not isinstance(connection, Connection) or not connection.in_transaction():
            raise RuntimeError("the write transaction is over")
        return connection

    def rollback(self) -> None:
        """Undo all that was done in the transaction, by the session or beside it."""
        super().rollback()
        if isinstance(self.bind, Connection) and (whole := self.bind.get_transaction()) is not None:
            whole.rollback()

    def admit(self, item: Item) -> None:
        """Let the ledger's own new item in (used by crib.store.ledger only)."""
        self.info.setdefault("admitted", set()).add(item)
        self.add(item)


@contextmanager
def writing(url: str, *, wait_s: float = WAIT_S) -> Iterator[WriteSession]:
    """Open a write transaction: all that is done inside is kept, durably, or none of it.

    Args:
        url: a path or a postgresql:// address.
        wait_s: how long to wait for other writers.

    Raises:
        StoreBusy: others wrote all that time.
        StoreMissing: there is no store.
        StoreReadOnly: the file or its folder can't be written.
        StoreNewer: a newer crib wrote it.
        StoreDamaged: it is damaged or of another program.
        NotPossible: the database's own rules refuse what was asked.
    """
    address = parse(url)
    with translated(address):
        yield from _transaction(address, url, wait_s)


def _transaction(address: Address, url: str, wait_s: float) -> Iterator[WriteSession]:
    if not is_open(address):
        open_store(url)
    with engine_for(address).connect() as plain:
        connection = plain.execution_options(wait_s=wait_s)
        # the session joins this transaction when it is first used: what the ledger writes itself needs none
        with WriteSession(
            bind=connection, autoflush=False, expire_on_commit=False, join_transaction_mode="rollback_only"
        ) as session:
            whole = connection.begin()
            _check_version(address, connection)
            yield session
            try:
                session.flush()
                if session.in_transaction():
                    session.commit()
                if whole.is_active:
                    whole.commit()
            except BaseException:
                # a commit kept out by readers leaves SQLite's transaction open: it ends with its connection
                plain.invalidate()
                raise


def _check_version(address: Address, connection: Connection) -> None:
    """Look again inside the transaction: another crib may have upgraded the store since this one began."""
    driver: Any = connection.connection.driver_connection  # the quickest way: others wait meanwhile
    if judge(address, lambda sql: driver.execute(sql).fetchall()) != HEAD:
        raise StoreError(
            f"the store {address.shown} changed just now", "start crib again; nothing was written"
        )


@event.listens_for(WriteSession, "before_flush")
def _before_flush(session: WriteSession, _context: UOWTransaction, _instances: object) -> None:
    admitted = session.info.get("admitted", set())
    touched: set[Item] = set()
    for found in (*session.new, *session.dirty):
        if isinstance(found, Item):
            if found not in admitted:
                _guard(found, found in session.new)
            touched.add(found)
        elif isinstance(found, _DETAILS):
            if isinstance(found, RotaryDetail) and found in session.dirty:
                _guard_sizes(found)
            touched.add(found.item)
    for item in touched:
        index(item)
    admitted.clear()


def _guard(item: Item, is_new: bool) -> None:
    state = inspect(item)
    changed = [name for name in GOVERNED if state.attrs[name].history.has_changes()]
    if is_new or changed:
        raise RuntimeError(f"item {item.tag}: only the ledger may set {', '.join(changed) or 'up an item'}")


def _guard_sizes(detail: RotaryDetail) -> None:
    state = inspect(detail)
    if changed := [name for name in GOVERNED_SIZES if state.attrs[name].history.has_changes()]:
        raise RuntimeError(f"item {detail.item_id}: only the ledger may set {', '.join(changed)}")


def index(item: Item) -> None:
    """Write an item's search words from what it says of itself."""
    parts = (item.insert, item.holder, item.bar, item.bit, item.rotary, item.gauge)
    words = [value for part in parts if part is not None for value in _words(part)]
    item.norm = normalise(item.designation or item.label)
    item.code = compact(item.designation) or None if item.designation else None
    item.tag_code = compact(item.tag)
    item.tok = index_tokens(
        (item.label, item.kind, item.mark, item.serial, item.note, *words),
        (item.tag, item.designation, item.equivalent),
    )


def _words(part: object) -> list[str]:
    asked = (
        "grade",
        "chipbreaker",
        "tool_material",
        "application",
        "coating",
        "what",
        "measures",
        "shank_material",
    )
    diameter = getattr(part, "dc_mm", None)
    # asked for as it is read off the shank, end mill 11.8, and as a whole: 11 and 8 are no sizes of it
    sizes = [] if diameter is None else [compact(f"{diameter:g}")]
    return sizes + [value for name in asked if (value := getattr(part, name, None))]
