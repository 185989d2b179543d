"""Speed against floors of the same run: python -m tests.benchmarks [names…] [--quick|--full] [--write].

Not part of the tests: it takes minutes, and figures depend on the machine. Only ratios carry over.
"""

import argparse
import os
import platform
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

from tests.benchmarks import lobes, painting, ranking, reading_codes, searching, startup, writers
from tests.benchmarks.measure import ROOT, Plan, Result, compile_all

CASES: dict[str, Callable[[Plan], Iterator[Result]]] = {
    "decode": startup.decode,
    "find": startup.find,
    "pick": startup.pick,
    "query": searching.query,
    "ranking": ranking.ranking,
    "lobes": lobes.chart,
    "designations": reading_codes.designation,
    "ledger": writers.ledger_writes,
    "paint": painting.first_paint,
}
REPORT = ROOT / "docs" / "benchmarks.md"
HEADINGS = ("what", "floor in the same run", "floor ms", "ours ms", "ratio", "budget", "")


def main() -> int:
    """Run the cases asked for; leave with 1 when one is over its budget."""
    asked = arguments()
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    sys.dont_write_bytecode = False
    compile_all()
    with tempfile.TemporaryDirectory(prefix="crib-benchmarks-") as folder:
        stores = Path(asked.stores or folder)
        stores.mkdir(parents=True, exist_ok=True)
        rounds = 3 if asked.quick else 31 if asked.full else 15
        plan = Plan(rounds=rounds, quick=asked.quick, full=asked.full, stores=stores)
        results: list[Result] = []
        for name in asked.names or CASES:
            began = time.perf_counter()
            for result in CASES[name](plan):
                results.append(result)
                print(" | ".join(cells(result)), flush=True)  # noqa: T201
            print(f"  ({name}: {time.perf_counter() - began:.0f} s)", flush=True)  # noqa: T201
    if asked.write:
        REPORT.write_text(page(results), encoding="utf-8")
    return int(any(result.verdict == "over" for result in results))


def arguments() -> argparse.Namespace:
    """Read the command line."""
    reader = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    reader.add_argument("names", nargs="*", metavar="name", help=", ".join(CASES))
    size = reader.add_mutually_exclusive_group()
    size.add_argument("--quick", action="store_true", help="few rounds, small stores: does it run?")
    size.add_argument("--full", action="store_true", help="more rounds, and a million items (minutes)")
    reader.add_argument("--write", action="store_true", help="write docs/benchmarks.md (all cases only)")
    reader.add_argument(
        "--stores", metavar="FOLDER", help="keep big stores there, and use those that are there"
    )
    asked = reader.parse_args()
    if unknown := set(asked.names) - set(CASES):
        reader.error(f"no case is called {', '.join(sorted(unknown))}; there are {', '.join(CASES)}")
    if asked.write and (asked.names or asked.quick):
        reader.error("--write is for a whole run: without names, without --quick")
    return asked


def cells(result: Result) -> tuple[str, ...]:
    """Give one row of the table."""
    budget = "–" if result.budget is None else f"{result.budget:g} x"
    if result.also:
        budget += f"; {result.also}"
    return (
        result.what,
        result.floor,
        figure(result.floor_ms),
        figure(result.ours_ms),
        f"{result.ratio:.2f}",
        budget,
        result.verdict,
    )


def figure(ms: float) -> str:
    """Give three digits."""
    return f"{ms:.0f}" if ms >= 100 else f"{ms:.3g}"


def page(results: list[Result]) -> str:
    """Give docs/benchmarks.md."""
    machine = (
        f"{os.cpu_count()} cores, {platform.system()}, {platform.python_implementation()} "
        f"{platform.python_version()}, SQLite {sqlite3.sqlite_version}; "
        f"{os.getloadavg()[0]:.1f} processes ran on average in the last minute, our own among them"
    )
    rows = "\n".join("| " + " | ".join(cells(result)) + " |" for result in results)
    return PAGE.format(
        date=datetime.now(UTC).date().isoformat(),
        machine=machine,
        head="| " + " | ".join(HEADINGS) + " |",
        line="|---|---|---:|---:|---:|---|---|",
        rows=rows,
    )


PAGE = """# Benchmarks

Measured {date}: {machine}. Made by `python -m tests.benchmarks --full --write`; not edited by hand.

Each row is compared with a floor that was measured in the same run, in turns with it, warm, with byte code
written. Medians, or what the row says. Only the ratio carries over to another machine.

{head}
{line}
{rows}
"""


if __name__ == "__main__":
    sys.exit(main())
