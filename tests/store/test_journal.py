"""What the journal mode promises: docs/decisions/0001-journal-mode.md."""

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing

import pytest
from sqlalchemy import select, text
from store.stock import MONDAY, fill

from crib.errors import StoreBusy, StoreMissing
from crib.store import ledger
from crib.store.connect import open_sqlite
from crib.store.filters import Filters
from crib.store.ledger import Entry
from crib.store.models import LedgerLine, Party
from crib.store.read import reading
from crib.store.writing import writing


def count_of_names(path: str) -> int:
    with closing(sqlite3.connect(path)) as bare:
        return bare.execute("SELECT count(*) FROM party").fetchone()[0]


def test_a_plain_copy_taken_while_the_store_is_open_holds_everything(sqlite_url, tmp_path):
    fill(sqlite_url)
    with reading(sqlite_url) as crib:
        assert len(crib.parties()) == 4
        for number in range(50):
            with writing(sqlite_url) as session:
                session.add(Party(name=f"person {number}"))
        # reader and the writers' pooled connection are open and idle here
        copy = shutil.copyfile(sqlite_url, tmp_path / "alone.db")
        assert len(crib.parties()) == 54
    assert count_of_names(copy) == 54
    with closing(sqlite3.connect(copy)) as bare:
        assert bare.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    with reading(str(copy)) as crib:
        assert crib.find_items(Filters()).total == 10


def test_writers_sync_fully_and_leave_the_file_alone(sqlite_url):
    with closing(open_sqlite(sqlite_url)) as bare:
        assert bare.execute("PRAGMA journal_mode").fetchone() == ("truncate",)
        assert bare.execute("PRAGMA synchronous").fetchone() == (2,)
        assert bare.execute("PRAGMA foreign_keys").fetchone() == (1,)
    with writing(sqlite_url) as session:
        session.add(Party(name="Zoë"))
    assert os.path.getsize(sqlite_url + "-journal") == 0
    assert not os.path.exists(sqlite_url + "-wal")


def test_a_store_in_another_journal_mode_comes_back_to_ours(sqlite_url):
    with closing(sqlite3.connect(sqlite_url)) as bare:
        assert bare.execute("PRAGMA journal_mode = WAL").fetchone() == ("wal",)
    with writing(sqlite_url) as session:
        session.add(Party(name="Zoë"))
    assert not os.path.exists(sqlite_url + "-wal")
    assert count_of_names(sqlite_url) == 1


def test_a_writer_gives_up_when_another_holds_the_store(sqlite_url):
    with closing(open_sqlite(sqlite_url)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreBusy) as busy, writing(sqlite_url, wait_s=0.05):
            pass
        with reading(sqlite_url) as crib:
            assert crib.parties() == ()
        other.execute("ROLLBACK")
    assert busy.value.exit_status == 3
    with writing(sqlite_url) as session:
        session.add(Party(name="Zoë"))


def test_a_commit_waits_for_a_reader_and_gives_up_in_the_end(sqlite_url):
    with closing(sqlite3.connect(sqlite_url, isolation_level=None, check_same_thread=False)) as slow:
        slow.execute("BEGIN")
        slow.execute("SELECT count(*) FROM party").fetchone()
        with pytest.raises(StoreBusy), writing(sqlite_url, wait_s=0.05) as session:
            session.add(Party(name="too early"))
        assert slow.execute("SELECT count(*) FROM party").fetchone() == (0,)
        with writing(sqlite_url) as session:
            session.add(Party(name="in time"))
            ending = threading.Timer(0.1, slow.execute, ["COMMIT"])
            ending.start()
        ending.join()
    assert count_of_names(sqlite_url) == 1


def test_many_writers_lose_nothing(store_url):
    ids = fill(store_url)
    failed: list[BaseException] = []

    def use_edges() -> None:
        try:
            for _ in range(5):
                with writing(store_url) as session:
                    ledger.record(
                        session, Entry(item_id=ids["I-1"], what="edge used", at=MONDAY, edges_change=-1)
                    )
        except BaseException as error:
            failed.append(error)

    threads = [threading.Thread(target=use_edges) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    with reading(store_url) as crib:
        assert crib.item(ids["I-1"]).edges_left == 40
        assert len(crib.ledger_of(ids["I-1"])) == 21


WRITER = """
import sys
from datetime import UTC, datetime
from crib.store import ledger
from crib.store.ledger import Entry
from crib.store.writing import writing
number = 0
while True:
    with writing(sys.argv[1]) as session:
        change = 1 if number % 2 else -1
        ledger.record(session, Entry(item_id=int(sys.argv[2]), what="counted", at=datetime.now(UTC),
                                     quantity_change=change, key=f"cut {number}"))
    print(number, flush=True)
    number += 1
"""


def test_a_killed_writer_loses_nothing_it_confirmed(sqlite_url):
    ids = fill(sqlite_url)
    confirmed = -1
    with subprocess.Popen(
        [sys.executable, "-c", WRITER, sqlite_url, str(ids["I-1"])], stdout=subprocess.PIPE, text=True
    ) as writer:
        while confirmed < 40:
            confirmed = int(writer.stdout.readline())
        writer.send_signal(signal.SIGKILL)
        rest = writer.stdout.read().split()
    confirmed = int(rest[-1]) if rest else confirmed
    with writing(sqlite_url) as session:
        known = set(session.scalars(select(LedgerLine.key).where(LedgerLine.key.like("cut %"))))
        assert known >= {f"cut {number}" for number in range(confirmed + 1)}
        assert len(known) <= confirmed + 2
        assert ledger.differences(session) == []
        assert session.execute(text("PRAGMA integrity_check")).all() == [("ok",)]


HALF_DONE = """
import os, signal, sqlite3, sys
bare = sqlite3.connect(sys.argv[1], isolation_level=None)
bare.execute("PRAGMA journal_mode = TRUNCATE")
bare.execute("PRAGMA cache_size = 1")
bare.execute("PRAGMA cache_spill = 1")
bare.execute("BEGIN IMMEDIATE")
bare.execute("UPDATE party SET note = 'half done'")
bare.executemany("INSERT INTO party (name, kind, note) VALUES (?, 'person', ?)",
                 [(f"half done {n}", "x" * 500) for n in range(2000)])
os.kill(os.getpid(), signal.SIGKILL)
"""


def test_what_a_killed_writer_left_half_done_is_undone_by_the_next_reader(sqlite_url):
    fill(sqlite_url)
    before = os.path.getsize(sqlite_url)
    subprocess.run([sys.executable, "-c", HALF_DONE, sqlite_url], check=False)
    assert os.path.getsize(sqlite_url) > before  # it did get into the file
    assert os.path.getsize(sqlite_url + "-journal") > 0
    with reading(sqlite_url) as crib:
        assert [party.note for party in crib.parties() if party.name == "Zoë"] == [None]
        assert len(crib.parties()) == 4
    with writing(sqlite_url) as session:
        assert session.execute(text("PRAGMA integrity_check")).all() == [("ok",)]


def test_a_store_put_back_from_a_copy_is_the_one_written_to(sqlite_url, tmp_path):
    with writing(sqlite_url) as session:
        session.add(Party(name="before"))
    copy = shutil.copyfile(sqlite_url, tmp_path / "copy.db")
    with writing(sqlite_url) as session:
        session.add(Party(name="lost with the old file"))
    os.replace(copy, sqlite_url)
    with writing(sqlite_url) as session:
        session.add(Party(name="after"))
    with reading(sqlite_url) as crib:
        assert [party.name for party in crib.parties()] == ["after", "before"]
    os.unlink(sqlite_url)
    with pytest.raises(StoreMissing), writing(sqlite_url):
        pass


def test_an_idle_reader_holds_no_lock(sqlite_url):
    fill(sqlite_url)
    with reading(sqlite_url) as crib:
        crib.find_items(Filters(limit=1))
        with writing(sqlite_url, wait_s=0.0) as session:
            session.add(Party(name="no waiting"))
        assert len(crib.parties()) == 5
