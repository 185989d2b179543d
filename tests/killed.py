"""Writers killed without warning, again and again: nothing acknowledged is lost, nothing half-done remains.

    python -m tests.killed [ROUNDS] [--seed S] [--engine sqlite|postgresql]

In each round a process of its own does things to a store as fast as it can, each a transaction of several
lines: it splits a batch and merges it back, lends and returns three tools, uses edges. When a doing is over,
and only then, it says so on a pipe. At a moment by chance it gets SIGKILL. Then, in another process's eyes:

- every doing that was acknowledged stands in the ledger with all its lines;
- at most one doing more stands there, whole: the one that was committed when the kill came before the word;
- no doing stands there with some of its lines only;
- the ledger rebuilds every item as it is stored, pieces and edges are conserved, the file is sound.

The store is the same through all rounds. Result: docs/soak.md.
"""

import argparse
import os
import random
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections import Counter
from contextlib import ExitStack, closing
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import text

from crib.store import ledger
from crib.store.engine import close_engines
from crib.store.ledger import Entry, Start
from crib.store.models import InsertDetail, Item, Party
from crib.store.places import add_place
from crib.store.upgrade import open_store
from crib.store.writing import writing

LONGEST_S = 1.0  # a round is killed after at most so long
PIECES, EDGES = 40, 160
# doing -> how many lines of the ledger it writes
LINES = {"split": 2, "merge": 2, "lend": 3, "return": 3, "use": 2}
WRITER = "from tests.killed import write; import sys; write(sys.argv[1], int(sys.argv[2]))"


def main(arguments: list[str]) -> int:
    """Run the rounds; the first broken promise stops them."""
    parser = argparse.ArgumentParser(prog="python -m tests.killed")
    parser.add_argument("rounds", type=int, nargs="?", default=200)
    parser.add_argument("--seed", type=int, default=20261127)
    parser.add_argument("--engine", choices=["sqlite", "postgresql"], default="sqlite")
    asked = parser.parse_args(arguments)
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as folder, ExitStack() as stack:
        url = os.path.join(folder, "crib.db")
        if asked.engine == "postgresql":
            from tests.pgserver import binaries, private_server

            url = f"postgresql://crib@/postgres?host={stack.enter_context(private_server(binaries()))}"
        found = rounds(url, asked.rounds, random.Random(asked.seed))
    took = time.monotonic() - begun
    print(  # noqa: T201
        f"{asked.engine}: {asked.rounds} rounds, seed {asked.seed}: {found['acknowledged']} doings "
        f"acknowledged, all there; {found['unsaid']} more were whole when the kill came before the word; "
        f"{found['undone']} rounds left a journal to undo; {took:.0f} s"
    )
    return 0


def rounds(url: str, count: int, dice: random.Random) -> Counter[str]:
    """Make a store and kill so many writers on it.

    Returns:
        How many doings were acknowledged, how many were whole though unsaid, how many rounds left a journal.

    Raises:
        AssertionError: a promise is broken.
    """
    stock(url)
    told: Counter[str] = Counter()
    known: set[str] = set()
    for number in range(count):
        acknowledged = killed(url, dice.uniform(0.0, LONGEST_S), number)
        journal = Path(url + "-journal")
        told["undone"] += journal.exists() and journal.stat().st_size > 0
        fresh = look(url, known)
        missing = [act for act in acknowledged if act not in fresh]
        assert not missing, f"round {number}: acknowledged and lost: {missing}"
        unsaid = fresh - set(acknowledged)
        assert len(unsaid) <= 1, f"round {number}: more than one doing that nobody said: {unsaid}"
        told["acknowledged"] += len(acknowledged)
        told["unsaid"] += len(unsaid)
        known |= fresh
    return told


def killed(url: str, after_s: float, number: int) -> list[str]:
    """Start a writer, kill it some time after its first word, and give the doings that it said were over."""
    writer = subprocess.Popen(
        [sys.executable, "-c", WRITER, url, str(number)], stdout=subprocess.PIPE, text=True, bufsize=1
    )
    assert writer.stdout is not None
    first = writer.stdout.readline().strip()  # it is up
    assert first == "up", first
    time.sleep(after_s)
    writer.send_signal(signal.SIGKILL)
    said = writer.stdout.read()
    writer.stdout.close()
    assert writer.wait() == -signal.SIGKILL, "the writer ended by itself"
    # a word cut in two was not said
    return [line for line in said[: said.rfind("\n") + 1].split("\n") if line]


def look(url: str, known: set[str]) -> set[str]:
    """Check the store, and give the doings that were not known yet."""
    with writing(url) as session:
        assert ledger.differences(session) == []
        asked = "SELECT act, count(*) FROM ledger WHERE act IS NOT NULL GROUP BY act"
        lines = session.execute(text(asked))
        found: dict[str, int] = {act: count for act, count in lines}  # noqa: C416
        pieces, edges = session.execute(
            text("SELECT sum(quantity), sum(edges_left) FROM item WHERE kind = 'insert'")
        ).one()
        used = session.execute(text("SELECT sum(edges_change) FROM ledger WHERE what = 'edge used'")).scalar()
    for act, count in found.items():
        assert count == LINES[act.split()[0]], f"half done: {act} has {count} lines"
    assert pieces == PIECES, f"{pieces} pieces of {PIECES}"
    assert edges == EDGES + int(used or 0), "edges were lost or came from nowhere"
    close_engines()
    if not url.startswith("postgresql"):
        with closing(sqlite3.connect(url)) as bare:
            assert bare.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    return set(found) - known


def stock(url: str) -> None:
    """Make a store with two batches of inserts and three tools."""
    open_store(url, create=True)
    with writing(url) as session:
        people = [Party(name="Ada"), Party(name="Bert")]
        session.add_all(people)
        shop = add_place(session, "shop", "site")
        session.flush()
        start = {"at": datetime.now(UTC), "owner_id": people[0].id, "place_id": shop.id, "condition": "good"}
        for tag, pieces, edges in (("I1", PIECES, EDGES), ("I2", 0, 0)):
            item = Item(
                tag=tag, kind="insert", label="insert", designation="WNMG080404", insert=InsertDetail()
            )
            ledger.add(session, item, Start(quantity=pieces, edges_left=edges, **start))  # type: ignore[arg-type]
        for tag in ("H1", "H2", "H3"):
            ledger.add(session, Item(tag=tag, kind="other", label="tool"), Start(**start))  # type: ignore[arg-type]
    close_engines()


def write(url: str, number: int) -> None:
    """Do things until killed; say each when it is over. Runs in a process of its own."""
    with writing(url) as session:
        ids = {tag: number for tag, number in session.execute(text("SELECT tag, id FROM item"))}  # noqa: C416
        bert = session.execute(text("SELECT id FROM party WHERE name = 'Bert'")).scalar()
    print("up", flush=True)  # noqa: T201
    dice, count = random.Random(number), 0
    while True:
        with writing(url) as session:
            state = {tag: count for tag, count in session.execute(text("SELECT tag, quantity FROM item"))}  # noqa: C416
            left = session.execute(text("SELECT edges_left FROM item WHERE tag = 'I1'")).scalar() or 0
            out = session.execute(text("SELECT count(*) FROM item WHERE held_by_id IS NOT NULL")).scalar()
            can = ["return" if out else "lend", *(["merge"] if state["I2"] else [])]
            can += ["split"] if state["I1"] > 1 and left >= 8 else []
            can += ["use"] if left >= 2 and dice.random() < 0.1 and state["I1"] else []
            what = dice.choice(can)
            act = f"{what} {number}.{count}"
            for entry in entries(what, ids, bert, state):
                ledger.record(session, Entry(at=datetime.now(UTC), act=act, **entry))  # type: ignore[arg-type]
        print(act, flush=True)  # noqa: T201
        count += 1


def entries(
    what: str, ids: dict[str, int], bert: int | None, state: dict[str, int]
) -> list[dict[str, object]]:
    """Give the lines of one doing."""
    one, two = ids["I1"], ids["I2"]
    tools = [ids["H1"], ids["H2"], ids["H3"]]
    if what == "lend":
        return [{"item_id": tool, "what": "lent", "to_held_by_id": bert} for tool in tools]
    if what == "return":
        return [{"item_id": tool, "what": "returned"} for tool in tools]
    if what == "use":
        return [{"item_id": one, "what": "edge used", "edges_change": -1}] * 2
    pieces, edges = (1, 4) if what == "split" else (-1, -4)
    word = "split" if what == "split" else "merged"
    return [
        {"item_id": source, "what": word, "quantity_change": by * pieces, "edges_change": by * edges,
         "other_item_id": other}
        for source, other, by in ((one, two, -1), (two, one, 1))
    ]  # fmt: skip


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
