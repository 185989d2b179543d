"""README keeps its promises: two commands set everything up, and what it says to type works as it stands."""

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from commands import LIMIT_S, ROOT, environment

README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```sh\n(.*?)^```$", README, flags=re.DOTALL | re.MULTILINE)


def block_below(title: str) -> str:
    """Give the first block of commands below a heading."""
    section = README.split(f"\n## {title}\n", 1)[1].split("\n## ", 1)[0]
    found = re.search(r"^```sh\n(.*?)^```$", section, flags=re.DOTALL | re.MULTILINE)
    assert found, f"nothing to type under {title}"
    return found[1]


def test_exactly_two_commands_set_up_each_a_single_line() -> None:
    set_up = [block for block in BLOCKS if "python3 -m venv" in block]
    assert [block.count("\n") for block in set_up] == [1, 1]
    assert all(block.startswith("python3 -m venv .venv && ") for block in set_up)
    demo, tests = set_up
    assert demo.endswith("&& .venv/bin/crib demo\n")
    assert tests.endswith("&& .venv/bin/python -m pytest\n")
    # no other line of README sets anything up
    assert README.count("python3 -m venv") == README.count("pip install --quiet") == 2


def test_the_test_gate_reads_its_command_from_readme() -> None:
    gate = (ROOT / ".ci" / "test").read_text(encoding="utf-8")
    pattern = re.search(r"grep -m1 -E '([^']+)' README\.md", gate)
    assert pattern
    assert re.findall(pattern[1] + ".*", README, flags=re.MULTILINE) == [
        next(line for line in README.splitlines() if line.endswith("-m pytest"))
    ]


def test_the_first_paragraph_states_the_job() -> None:
    first = README.split("\n\n")[1]
    assert README.startswith("# crib\n\n")
    for word in ("on hand", "codes", "cut", "speed", "feed", "passes", "chatter"):
        assert word in first


def test_every_file_that_readme_points_to_is_there() -> None:
    for target in re.findall(r"\]\(([^)#]+)", README):
        if not target.startswith("https:"):
            assert (ROOT / target).exists(), f"README points to {target}"


def test_what_readme_asks_can_be_typed_as_it_stands(tmp_path: Path) -> None:
    """The whole block in a shell, in a folder with a `.venv/bin/crib` as the set-up makes it."""
    programs = tmp_path / ".venv" / "bin"
    programs.mkdir(parents=True)
    crib = programs / "crib"
    crib.write_text(f'#!/bin/sh\nexec {shlex.quote(sys.executable)} -m crib "$@"\n')
    crib.chmod(0o755)
    script = "set -e\n" + "".join(
        f"{line}\n" if line.startswith("export") else f"echo '## {line.split()[1]}'\n{line}\n"
        for line in block_below("Ask it something").replace("\\\n", " ").splitlines()
    )
    done = subprocess.run(
        ["bash", "-c", script],
        cwd=tmp_path,
        env=environment(HOME=str(tmp_path), XDG_DATA_HOME=str(tmp_path / "data")),
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=LIMIT_S,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    answers = re.split(r"^## (\w+)\n", done.stdout, flags=re.MULTILINE)[1:]
    asked = list(zip(answers[::2], answers[1::2], strict=True))
    told = [  # command, and what its answer holds
        ("find", "left-hand holders on site"),
        ("find", "takes WN..08"),
        ("find", "gauge"),
        ("decode", "CNMG120408: insert"),
        ("decode", "S25R-SCLCR09: bar"),
        ("identify", "On record"),
        ("identify", "On record"),
        ("encode", "CNMG120408"),
        ("fit", "WNMG080404"),
        ("speed", "rev/min"),
        ("pick", "boring 415.925 mm"),
        ("speed", "torque"),
        ("pick", "16 7/16 in"),
        ("machine", "speeds of the old lathe suit"),
        ("chatter", "Holds at every speed up to"),
        ("stiffness", "rings at 92 Hz"),
        ("bring", "Brought in: H03"),
        ("lend", "Lent to Wilf Oddney: H02"),
        ("undo", "Taken back: lent H02"),
        ("use", "Used 1 edge of I01"),
        ("out", "overdue"),
        ("find", "Perrin Sallow"),
        ("restock", "to buy, of 7 with a minimum"),
        ("restock", "edges here"),
        ("kit", "pump liner: of 2 needs"),
        ("missing", "tools lack a part"),
        ("list", "Tobin Ashgrove:"),
        ("mine", "What shows it, the strongest first"),
        ("claim", "GAPS ("),
    ]
    assert [name for name, _ in asked] == [name for name, _ in told]
    for (name, answer), (_, holds) in zip(asked, told, strict=True):
        assert holds in answer, name


@pytest.mark.parametrize(
    "size", re.findall(r"`([^`]+)`", README.split("Sizes are typed", 1)[1].split(". Every", 1)[0])
)
def test_every_size_that_readme_shows_can_be_read(size: str) -> None:
    from crib.errors import BadQuantity
    from crib.units import Kind, read

    kinds = []
    for kind in Kind:
        try:
            kinds += [kind] if read(size, kind).value > 0 else []
        except BadQuantity:
            continue
    assert kinds, f"{size} is read as nothing"


def test_the_commands_for_own_tools_are_commands() -> None:
    from crib.cli.root import COMMANDS

    lines = block_below("Your own tools").splitlines()
    assert lines
    for line in lines:
        program, command, *_ = shlex.split(line, comments=True)
        assert (program, command in COMMANDS) == ("crib", True)
