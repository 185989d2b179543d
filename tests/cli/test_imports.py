"""Start-up is the machinist's waiting time: each command imports only what it uses (design section 8)."""

import shutil
import subprocess
import sys
from ast import literal_eval
from collections.abc import Iterable
from pathlib import Path

import pytest
from commands import LIMIT_S, environment

from crib.cli.root import COMMANDS

HEAVY = {
    "alembic",
    "mako",
    "numpy",
    "pint",
    "platformdirs",
    "psycopg",
    "rich",
    "sqlalchemy",
    "sqlite3",
    "textual",
}
# A process that has imported what every command of a group may import forks once for each command line: none
# sees what another imported, and what was there before the fork is told with the rest.
CHILD = """
import os, sys
from ast import literal_eval
from importlib import import_module
lines, before, watched = literal_eval(sys.argv[1])
for name in ("crib.cli.root", *before):
    import_module(name)
from crib.cli.root import run
found = []
for number, arguments in enumerate(lines):
    reader, writer = os.pipe()
    if not (child := os.fork()):
        os.chdir(str(number))
        os.environ["CRIB_DB"] = os.path.abspath("demo.db")
        sys.stdout = open(os.devnull, "w")
        try:
            status = run(arguments, lambda address: None)
            told = [status, sorted(name for name in watched if sys.modules.get(name))]
            os.write(writer, repr(told).encode())
        finally:
            os._exit(0)
    os.waitpid(child, 0)
    os.close(writer)
    found.append(literal_eval(os.read(reader, 65536).decode() or "[None, []]"))
    os.close(reader)
print(found)
"""
# parts of our own, and of Python's library, that searches do without: each is a part of their start-up
SPARED = {"crib.desk.asking.codes", "crib.store.record_rows", "crib.units.reading", "csv", "difflib", "json"}
SEARCHES = {
    ("find", "worn insert here"): {"csv"},
    ("find", "left hand holder for a WNMG 080408 here"): {"csv", "crib.desk.asking.codes"},
    ("find", "bar 25 mm"): {"csv", "crib.desk.asking.codes", "crib.units.reading"},
    ("find", "holdr"): {"csv", "crib.desk.asking.codes", "difflib"},
}
CUT = ("--op", "bore", "--material", "A36", "--from", "16 3/8 in", "--to", "16 1/2 in", "--length", "6 in")
READING = {"sqlite3"}
SIZES = {"pint", "platformdirs"}  # pint brings platformdirs with it
WRITING = {"sqlite3", "sqlalchemy"}
# what is imported before the fork, because commands that may import it do: the modules that need it
BEFORE = {"sqlite3": "crib.store.read", "pint": "crib.units.registry", "sqlalchemy": "crib.store.ledger"}
# command line -> what of the heavy modules it may import
MAY = {
    ("--help",): set[str](),
    ("--version",): set[str](),
    ("decode", "CNMG 12 04 08"): set[str](),
    ("decode", "CNMG120408", "MWLNL2525M08", "S25R-SCLCR09", "--json"): set[str](),
    ("encode", "insert", "--like", "CNMG120408", "--nose", "1/32 in"): SIZES,
    ("encode", "insert", "--like", "CNMG120408"): set[str](),
    ("identify", "CNM? 12?4 08"): READING,
    ("identify", "--shape", "trigon", "--ic", "12.7", "--thickness", "4.8"): READING,
    ("identify", "--shape", "trigon", "--ic", "1/2 in", "--nose", "0.8"): READING | SIZES,
    ("fit", "MWLNL2525M08", "WNMG080408"): READING,
    ("fit", "S25R-SCLCR09"): READING,
    ("sources",): set[str](),
    ("find", "left hand holder for a WNMG 080408 here"): READING,
    ("find", "--json"): READING,
    ("show", "M07"): READING,
    ("setting",): READING,
    ("speed", "--material", "4140", "--tool", "hss"): READING,
    ("speed", "--material", "4140", "--tool", "hss", "--diameter", "3 in", "--machine", "old lathe"): READING
    | SIZES,
    ("pick", *CUT, "--machine", "boring mill", "--hand", "left", "--setup", "weak"): READING | SIZES,
    ("pick", *CUT, "--machine", "boring mill", "--why"): READING | SIZES,
    ("chatter", "--setup", "weak", "--Ks", "2000 N/mm2"): READING | SIZES,
    ("setup",): READING,
    ("setup", "add", "thin ring"): WRITING,
    ("stiffness", "--force", "300 N", "--deflection", "0.04 mm"): READING | SIZES,
    ("log",): READING,
    ("audit",): WRITING,
    ("backup", "copy.db"): WRITING,
    ("export", "all"): WRITING,
    ("machine",): READING,
    ("proven", "add", "--material", "4140", "--tool", "hss", "--vc", "25 m/min"): WRITING | SIZES,
    ("machine", "old lathe"): READING,
    ("machine", "suits", "old lathe", "--material", "4140", "--tool", "hss", "--diameter", "60 mm"): READING
    | SIZES,
    ("machine", "set", "old lathe", "--note", "read again"): WRITING,
    ("machine", "set", "old lathe", "--power", "7 hp"): WRITING | SIZES,
    ("worth", "H03"): READING,
    ("mine", "H03"): READING,
    ("evidence", "H03"): READING,
    ("claim",): READING,
    ("sheet", "bring-in", "--owner", "tobin"): READING,
    ("bring", "H03"): WRITING,
    ("add", "CNMG120408", "--quantity", "10"): WRITING,
    # the PDF library uses numpy where it happens to be installed
    ("labels", "H03", "--pdf", "labels.pdf"): READING | {"numpy"},
    ("take-home", "H02"): WRITING,
    ("move", "H01", "--to", "lathe cupboard"): WRITING,
    ("lend", "H02", "--to", "Wilf", "--back", "friday"): WRITING,
    ("send", "D08", "--to", "Wilf", "--for", "regrind"): WRITING,
    ("return", "M04"): WRITING,
    ("undo", "--help"): WRITING,
    ("use", "I01"): WRITING,
    ("regrade", "B12", "--to", "good"): WRITING,
    ("scrap", "B12", "--why", "bent"): WRITING,
    ("count", "I01", "10"): WRITING,
    ("stocktake", "begin", "mill rack"): WRITING,
    ("party",): READING,
    ("place",): READING,
    ("party", "Wilf", "--gone"): WRITING,
    ("out", "--still-here"): READING,
    ("out",): READING,
    ("out", "B11"): READING,
    ("restock",): READING,
    ("restock", "TCMT16T304"): READING,
    ("minimum",): READING,
    ("minimum", "set", "I03", "--least", "2", "--price", "8 EUR", "--lead", "2 weeks"): WRITING,
    ("kit",): READING,
    ("kit", "match", "pump liner"): READING,
    ("kit", "add", "pump liner", "telescopes"): WRITING,
    ("missing",): READING,
    ("spare", "H01"): READING,
    ("list", "insurance"): READING,
    ("list", "leaving", "Tobin"): READING,
    ("spare", "H01", "--missing", "shim"): WRITING,
    ("ui",): set[str](),
}


def imported(
    lines: Iterable[tuple[str, ...]], before: Iterable[str], watched: set[str], store: str, folder: Path
) -> list[set[str]]:
    """Run command lines, each in a process of its own on a store of its own.

    Args:
        lines: the command lines.
        before: modules to be there already.
        watched: modules to look for.
        store: what is copied for each.
        folder: to work in.

    Returns:
        For each what of the watched modules is there in the end.
    """
    lines = list(lines)
    for number in range(len(lines)):
        (folder / str(number)).mkdir()
        shutil.copy(store, folder / str(number) / "demo.db")
    done = subprocess.run(
        [sys.executable, "-c", CHILD, repr([lines, list(before), sorted(watched)])],
        env=environment(),
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=LIMIT_S,
        check=True,
    )
    told = literal_eval(done.stdout)
    assert [(line, status) for line, (status, _) in zip(lines, told, strict=True) if status != 0] == []
    return [set(found) for _, found in told]


@pytest.mark.parametrize(
    "allowed",
    {frozenset(allowed): None for allowed in MAY.values()},
    ids=lambda allowed: " ".join(sorted(allowed)),
)
def test_commands_import_only_what_they_use(allowed: frozenset[str], demo_store: str, tmp_path: Path) -> None:
    lines = [line for line, may in MAY.items() if may == allowed]
    before = [module for name, module in BEFORE.items() if name in allowed]
    found = imported(lines, before, HEAVY, demo_store, tmp_path)
    assert {
        line: too_much for line, some in zip(lines, found, strict=True) if (too_much := some - allowed)
    } == {}


def test_searches_import_what_their_question_holds(demo_store: str, tmp_path: Path) -> None:
    found = imported(SEARCHES, (), SPARED, demo_store, tmp_path)
    assert {
        line: too_much
        for line, some in zip(SEARCHES, found, strict=True)
        if (too_much := some - SEARCHES[line])
    } == {}


def test_no_command_of_the_program_is_left_out() -> None:
    named = {arguments[0] for arguments in MAY}
    # these make stores: Alembic comes with it
    assert set(COMMANDS) - named == {"demo", "import", "intake", "restore"}
