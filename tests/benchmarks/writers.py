"""Durable writes through the ledger against bare sqlite3, one writer and eight."""

import multiprocessing
import shutil
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from statistics import median

from crib.store import ledger
from crib.store.connect import begin_immediate, open_sqlite
from crib.store.engine import close_engines
from crib.store.ledger import Entry, Start
from crib.store.models import Item, Party
from crib.store.places import add_place
from crib.store.upgrade import open_store
from crib.store.writing import writing
from tests.benchmarks.measure import Plan, Result

Writer = Callable[[str, float, float], int]
LINE = "INSERT INTO line (at, what, item_id, quantity_change) VALUES ('2026-01-01 08:00:00', 'counted', 1, 1)"
STATE = "INSERT INTO state (item_id, place_id, quantity) VALUES (1, 2, 3)"


def ledger_writes(plan: Plan) -> Iterator[Result]:
    """Ledger writes, durable."""
    stores = {"ours": stock(plan.stores / "ledger.db"), "floor": two_tables(plan.stores / "bare.db")}
    stores["busy"] = stores["floor"]
    cases: dict[str, Writer] = {"floor": bare, "ours": through_ledger}
    seconds, rounds = (0.5, 1) if plan.quick else (2.0, 7 if plan.full else 5)
    for writers in (1, 8):
        # with SQLite's own waiting the one that is in stays in: quick, and unfair
        asked = cases | ({"busy": bare_unfair} if writers > 1 else {})
        took: dict[str, list[float]] = {name: [] for name in asked}
        for _ in range(rounds):
            for name, writer in asked.items():
                took[name].append(per_commit_ms(writer, stores[name], writers, seconds))
        named = "one writer" if writers == 1 else "eight writers at once"
        for name in [name for name in asked if name != "ours"]:
            unfair = ", waiting by SQLite's own unfair busy handler" if name == "busy" else ""
            yield Result(
                what=f"ledger writes, durable, {named}",
                floor=f"bare sqlite3, two rows inserted per commit{unfair}",
                floor_ms=median(took[name]),
                ours_ms=median(took["ours"]),
                budget=None if unfair else 2.0,
            )


def per_commit_ms(writer: Writer, template: Path, writers: int, seconds: float) -> float:
    """Give wall-clock ms per commit of several processes together; checks that no write was lost."""
    path = shutil.copyfile(template, template.with_suffix(".run"))
    context = multiprocessing.get_context("fork")
    with context.Pool(writers) as pool:
        begin = time.time() + 1.0  # all are imported and connected by then
        asked = [pool.apply_async(writer, (str(path), begin, seconds)) for _ in range(writers)]
        done = sum(one.get() for one in asked)
    with closing(sqlite3.connect(path)) as store:
        tables = ("ledger", "item") if writer is through_ledger else ("line", "state")
        lines = store.execute(f"SELECT count(*) FROM {tables[0]}").fetchone()[0]
        states = store.execute(
            "SELECT quantity FROM item" if writer is through_ledger else "SELECT count(*) FROM state"
        ).fetchone()[0]
    if (lines - (writer is through_ledger), states) != (done, done):
        raise AssertionError(f"{done} commits, {lines} lines, {states} changes")
    return 1000 * seconds / done


def through_ledger(path: str, begin: float, seconds: float) -> int:
    """Count commits of one writer that records in the ledger."""
    with writing(path):
        pass  # imports and the first connection are not what is measured
    time.sleep(max(0.0, begin - time.time()))
    done, until = 0, time.perf_counter() + seconds
    while time.perf_counter() < until:
        with writing(path) as session:
            ledger.record(session, Entry(item_id=1, what="counted", at=datetime.now(UTC), quantity_change=1))
        done += 1
    return done


def bare(path: str, begin: float, seconds: float) -> int:
    """Count commits of one bare writer that waits for its turn as ours does."""
    return _bare(path, begin, seconds, lambda store: begin_immediate(store, path))


def bare_unfair(path: str, begin: float, seconds: float) -> int:
    """Count commits of one bare writer that leaves the waiting to SQLite."""
    return _bare(path, begin, seconds, lambda store: store.execute("BEGIN IMMEDIATE"))


def _bare(path: str, begin: float, seconds: float, start: Callable[[sqlite3.Connection], object]) -> int:
    with closing(open_sqlite(path)) as store:  # our pragmas: the same durability
        time.sleep(max(0.0, begin - time.time()))
        done, until = 0, time.perf_counter() + seconds
        while time.perf_counter() < until:
            start(store)
            store.execute(LINE)
            store.execute(STATE)
            store.execute("COMMIT")
            done += 1
    return done


def two_tables(path: Path) -> Path:
    """Make a file with two plain tables."""
    path.unlink(missing_ok=True)
    with closing(sqlite3.connect(path)) as store:
        store.execute("CREATE TABLE line (id INTEGER PRIMARY KEY, at, what, item_id, quantity_change)")
        store.execute("CREATE TABLE state (id INTEGER PRIMARY KEY, item_id, place_id, quantity)")
        store.commit()
    return path


def stock(path: Path) -> Path:
    """Make a store with one item."""
    path.unlink(missing_ok=True)
    open_store(str(path), create=True)
    with writing(str(path)) as session:
        owner = Party(name="owner")
        session.add(owner)
        place = add_place(session, "works", "site")
        start = Start(at=datetime.now(UTC), owner_id=owner.id, place_id=place.id, condition="new", quantity=0)
        ledger.add(session, Item(tag="1", kind="insert", label="insert"), start)
    close_engines()  # no connection of this process is carried into the writers
    return path
