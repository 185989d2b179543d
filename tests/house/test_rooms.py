"""What each room brings along when it is imported by itself, in an interpreter that has imported nothing.

import-linter reads the imports that stand in the text; this sees what really happens, chains through
other libraries included.
"""

import json
import pkgutil
import subprocess
import sys

import pytest
from commands import LIMIT_S, ROOT, environment

# room -> rooms of crib that it may bring along (design section 2)
MAY = {
    "errors": set[str](),
    "units": {"errors"},
    "trade": {"errors"},
    "store": {"errors"},
    "desk": {"errors", "units", "trade", "store"},
    "report": {"errors", "units", "trade", "store", "desk"},
    "cli": {"errors", "units", "trade", "store", "desk", "report"},
    "tui": {"errors", "units", "trade", "store", "desk", "report"},
}
TERMINAL = {"textual", "rich"}
SQL = {"sqlalchemy", "alembic", "sqlite3", "psycopg"}
WORLD = {"socket", "subprocess", "logging", "random", "datetime", "tempfile", "time", "platformdirs"}
# room -> what of the outside it must not bring along, whoever imports it
MUST_NOT = {
    "errors": TERMINAL | SQL | WORLD | {"click", "pint"},
    "units": TERMINAL | SQL | WORLD | {"click", "pint"},
    # `time` is built in and always there; NumPy, for recordings alone, brings `datetime`
    "trade": TERMINAL | SQL | (WORLD - {"time", "datetime"}) | {"click", "pint", "crib.units"},
    "store": TERMINAL | {"click", "pint"},
    "desk": TERMINAL | {"click", "pint", "alembic", "psycopg"},
    "report": TERMINAL | {"click", "pint", "alembic", "psycopg"},
    "cli": TERMINAL | {"pint", "alembic", "psycopg"},
    "tui": {"click", "pint", "alembic", "psycopg"},
}
CHILD = """
import importlib, json, sys
clean = set(sys.modules)
for name in json.loads(sys.argv[1]):
    importlib.import_module(name)
print(json.dumps(sorted(set(sys.modules) - clean)))
"""


def modules_of(room: str) -> list[str]:
    """Give every module of a room."""
    package = ROOT / "crib" / room
    if not package.is_dir():
        return [f"crib.{room}"]
    found = pkgutil.walk_packages([str(package)], prefix=f"crib.{room}.")
    return [f"crib.{room}", *(module.name for module in found)]


def brought_along(names: list[str]) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", CHILD, json.dumps(names)],
        env=environment(),
        cwd="/",
        capture_output=True,
        text=True,
        timeout=LIMIT_S,
        check=True,
    )
    return set(json.loads(done.stdout))


@pytest.fixture(scope="module", params=list(MAY))
def room(request: pytest.FixtureRequest) -> tuple[str, set[str]]:
    """A room, and what importing every module of it brings along."""
    return request.param, brought_along(modules_of(request.param))


def test_a_room_brings_along_only_rooms_below_it(room: tuple[str, set[str]]) -> None:
    name, brought = room
    rooms = {module.split(".")[1] for module in brought if module.startswith("crib.")}
    assert name in rooms
    assert rooms - {name} <= MAY[name]


def test_a_room_brings_along_nothing_that_it_must_not(room: tuple[str, set[str]]) -> None:
    name, brought = room
    tops = brought | {module.split(".")[0] for module in brought}
    assert tops & MUST_NOT[name] == set()


def test_every_room_is_named_here() -> None:
    rooms = {path.stem for path in (ROOT / "crib").iterdir() if not path.name.startswith((".", "_"))}
    assert rooms == set(MAY)
