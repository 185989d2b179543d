"""First paint of the terminal UI in a pseudo-terminal, and how many rows scrolling to the end reads."""

import asyncio
import fcntl
import os
import pty
import select
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from statistics import median

from tests.benchmarks import big_store
from tests.benchmarks.measure import ROOT, Plan, Result, environment

MANY = 100_000
LINES, COLUMNS = 24, 80
CTRL_Q = b"\x11"
PATIENCE_S = 20.0
EMPTY_TABLE = """
from textual.app import App
from textual.widgets import DataTable
class Empty(App):
    def compose(self):
        yield DataTable()
    def on_mount(self):
        self.query_one(DataTable).add_columns("Tag", "What it is", "Hand", "Owner", "Place", "Lastcolumn")
Empty().run()
"""


def first_paint(plan: Plan) -> Iterator[Result]:
    """First paint of the terminal UI."""
    from crib.store.filters import Filters
    from crib.store.read import reading

    count = MANY // 10 if plan.quick else MANY
    store = big_store.made(plan.stores / f"items-{count}.db", count)
    with reading(store) as reader:
        first_tag = reader.find_items(Filters(limit=1)).rows[0].tag
    env = environment(TERM="xterm-256color", COLORTERM="truecolor")
    # the bottom line is drawn with the first screenful, the rows when the desk has answered
    ours, marks = ("-m", "crib", "ui", "--db", store), (b"help", f" {first_tag} ".encode())
    took: dict[str, list[float]] = {"floor": [], "paint": [], "rows": []}
    for number in range(plan.rounds + 1):
        floor = until_shown(("-c", EMPTY_TABLE), env, (b"Lastcolumn",))
        shown = until_shown(ours, env, marks)
        if number:
            took["floor"] += floor
            took["paint"].append(shown[0])
            took["rows"].append(shown[1])
    read = asyncio.run(rows_read(store))
    least = {name: median(times) for name, times in took.items()}
    floor_name = "a Textual app with an empty table"
    yield Result(
        what=f"first paint of the terminal UI, {count:,} items",
        floor=floor_name,
        floor_ms=least["floor"],
        ours_ms=least["paint"],
        budget=1.5,
        also=f"{read:,} rows read while going to the end and back",
        also_holds=read <= count // 20,
    )
    yield Result(
        what="the same, until the first rows are there",
        floor=floor_name,
        floor_ms=least["floor"],
        ours_ms=least["rows"],
        budget=None,
    )


def until_shown(arguments: Sequence[str], env: Mapping[str, str], marks: Sequence[bytes]) -> list[float]:
    """Give the ms from the start of a process until each mark has been written to its terminal."""
    own, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", LINES, COLUMNS, 0, 0))
    began = time.perf_counter()
    child = subprocess.Popen(
        [sys.executable, *arguments],
        env=dict(env),
        cwd=ROOT,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        start_new_session=True,
    )
    os.close(theirs)
    try:
        written, found = b"", []
        while len(found) < len(marks):
            if not select.select([own], [], [], PATIENCE_S)[0]:
                raise AssertionError(f"{marks[len(found)]!r} was never shown")
            written += os.read(own, 65536)
            while len(found) < len(marks) and marks[len(found)] in written:
                found.append(1000 * (time.perf_counter() - began))
        os.write(own, CTRL_Q)
        drain(own, child)
        return found
    finally:
        child.kill()
        child.wait()
        os.close(own)


def drain(own: int, child: "subprocess.Popen[bytes]") -> None:
    """Read what a process still writes, so that it can leave."""
    until = time.perf_counter() + 2.0
    while child.poll() is None and time.perf_counter() < until:
        if select.select([own], [], [], 0.01)[0]:
            try:
                os.read(own, 65536)
            except OSError:
                return


async def rows_read(store: str) -> int:
    """Give how many rows the desk hands out while the list is walked to its end and back."""
    from crib.tui.app import CribApp
    from crib.tui.calls import StoreDesk
    from crib.tui.widgets.row_list import RowList

    handed: list[int] = []

    class Counting(StoreDesk):
        def find(self, question: str, *, limit: int, offset: int):  # type: ignore[no-untyped-def]
            found = super().find(question, limit=limit, offset=offset)
            handed.append(len(found.items))
            return found

    app = CribApp(store, desk=Counting(store))
    async with app.run_test(size=(COLUMNS, LINES)) as pilot:
        rows = app.screen.query_one(RowList)
        await _until(pilot, lambda: rows.marked is not None)
        rows.focus()
        for key, times in (("end", 1), ("pageup", 3), ("home", 1), ("pagedown", 3), ("end", 1)):
            for _ in range(times):
                await pilot.press(key)
                await _until(pilot, lambda: rows.marked is not None)
        if rows.cursor != rows.count - 1:
            raise AssertionError("the end was not reached")
    return sum(handed)


async def _until(pilot, holds: Callable[[], bool]) -> None:  # type: ignore[no-untyped-def]
    deadline = time.perf_counter() + PATIENCE_S
    while not holds():
        if time.perf_counter() > deadline:
            raise AssertionError("the row never came")
        await pilot.pause(0.02)
