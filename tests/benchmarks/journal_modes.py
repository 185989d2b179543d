"""Durable commits a second in each journal mode, bare and through the ledger; one writer and eight.

Run from the checkout: python tests/benchmarks/journal_modes.py [seconds]. The bare writers do what the ledger
does in the end: one row appended and one row changed per commit. Only ratios carry over to another machine.
"""

import os
import shutil
import sqlite3
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from contextlib import closing
from datetime import UTC, datetime

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__)))))

from crib.store import ledger
from crib.store.connect import begin_immediate
from crib.store.ledger import Entry, Start
from crib.store.models import Item, Party
from crib.store.places import add_place
from crib.store.upgrade import open_store
from crib.store.writing import writing

MODES = ("TRUNCATE", "DELETE", "PERSIST", "WAL")
APPEND = "INSERT INTO ledger (at, what, item_id, quantity_change) VALUES ('2026-01-01', 'counted', 1, 1)"
CHANGE = "UPDATE item SET quantity = quantity + 1 WHERE id = 1"


def bare(path: str, mode: str, seconds: float) -> tuple[int, float]:
    """Give commits and the longest wait of one bare writer."""
    done, longest = 0, 0.0
    with closing(sqlite3.connect(path, isolation_level=None, timeout=10)) as connection:
        connection.execute(f"PRAGMA journal_mode = {mode}")
        connection.execute("PRAGMA synchronous = FULL")
        until = time.perf_counter() + seconds
        while (began := time.perf_counter()) < until:
            begin_immediate(connection, path)
            connection.execute(APPEND)
            connection.execute(CHANGE)
            connection.execute("COMMIT")
            longest = max(longest, time.perf_counter() - began)
            done += 1
    return done, longest


def through_ledger(path: str, _mode: str, seconds: float) -> tuple[int, float]:
    """Give commits and the longest wait of one writer that records in the ledger."""
    with writing(path):
        pass  # imports and the first connection are not what is measured
    done, longest = 0, 0.0
    until = time.perf_counter() + seconds
    while (began := time.perf_counter()) < until:
        with writing(path) as session:
            ledger.record(session, Entry(item_id=1, what="counted", at=datetime.now(UTC), quantity_change=1))
        longest = max(longest, time.perf_counter() - began)
        done += 1
    return done, longest


def run(template: str, writer: object, mode: str, writers: int, seconds: float) -> str:
    """Give one line of the table."""
    folder = tempfile.mkdtemp(prefix="crib-journal-")
    try:
        path = shutil.copyfile(template, os.path.join(folder, "crib.db"))
        with closing(sqlite3.connect(path)) as connection:
            connection.execute(f"PRAGMA journal_mode = {mode}")  # WAL can't be entered by many at once
        with ProcessPoolExecutor(writers) as pool:
            told = [f.result() for f in [pool.submit(writer, path, mode, seconds) for _ in range(writers)]]
        counts = [done for done, _ in told]
        with closing(sqlite3.connect(path)) as connection:
            assert connection.execute("SELECT quantity FROM item").fetchone() == (sum(counts),)
            assert connection.execute("SELECT count(*) FROM ledger").fetchone() == (sum(counts) + 1,)
        name = "ledger" if writer is through_ledger else "bare"
        rate, longest = sum(counts) / seconds, 1000 * max(wait for _, wait in told)
        return f"| {name} | {mode} | {writers} | {rate:.0f} | {longest:.0f} | {min(counts)}..{max(counts)} |"
    finally:
        shutil.rmtree(folder)


def main() -> None:
    """Print the table."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 2.0
    folder = tempfile.mkdtemp(prefix="crib-journal-")
    template = os.path.join(folder, "template.db")
    open_store(template, create=True)
    with writing(template) as session:
        owner = Party(name="owner")
        session.add(owner)
        place = add_place(session, "Works", "site")
        start = Start(at=datetime.now(UTC), owner_id=owner.id, place_id=place.id, condition="new", quantity=0)
        ledger.add(session, Item(tag="1", kind="insert", label="insert"), start)
    print("| writer | journal, FULL | writers | commits/s | longest wait ms | slowest..fastest |")  # noqa: T201
    print("|---|---|---:|---:|---:|---|")  # noqa: T201
    for writers in (1, 8):
        for mode in MODES:
            print(run(template, bare, mode, writers, seconds), flush=True)  # noqa: T201
        print(run(template, through_ledger, "TRUNCATE", writers, seconds), flush=True)  # noqa: T201
    shutil.rmtree(folder)


if __name__ == "__main__":
    main()
