"""Start-up is the machinist's waiting time: each command imports only what it uses (design section 8)."""

import subprocess
import sys
from ast import literal_eval
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
CHILD = """
import os, sys
from ast import literal_eval
from crib.cli.root import run
arguments, heavy = literal_eval(sys.argv[1])
out, sys.stdout = sys.stdout, open(os.devnull, "w")
status = run(arguments, lambda address: None)
print([status, sorted(name for name in heavy if sys.modules.get(name))], file=out)
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


def imported(arguments: tuple[str, ...], watched: set[str], address: str, folder: Path) -> set[str]:
    """Run a command in a process of its own; give what of the watched modules it has imported."""
    done = subprocess.run(
        [sys.executable, "-c", CHILD, repr([arguments, sorted(watched)])],
        env=environment(CRIB_DB=address),
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=LIMIT_S,
        check=True,
    )
    status, found = literal_eval(done.stdout)
    assert status == 0
    return set(found)


@pytest.mark.parametrize("arguments", list(MAY), ids=lambda arguments: " ".join(arguments[:2]))
def test_a_command_imports_only_what_it_uses(
    arguments: tuple[str, ...], demo_address: str, tmp_path: Path
) -> None:
    assert imported(arguments, HEAVY, demo_address, tmp_path) <= MAY[arguments]


@pytest.mark.parametrize("arguments", list(SEARCHES), ids=lambda arguments: arguments[1])
def test_a_search_imports_what_its_question_holds(
    arguments: tuple[str, ...], demo_address: str, tmp_path: Path
) -> None:
    assert imported(arguments, SPARED, demo_address, tmp_path) <= SEARCHES[arguments]


def test_no_command_of_the_program_is_left_out() -> None:
    named = {arguments[0] for arguments in MAY}
    # these make stores: Alembic comes with it
    assert set(COMMANDS) - named == {"demo", "import", "intake", "restore"}
