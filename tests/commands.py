"""Tests of the command line share this: run one command in this process or its own, and read its answer."""

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[1]
DEMO_LISTS = sorted(str(path) for path in (ROOT / "demo_data").glob("*.csv"))
LIMIT_S = 120  # a command that hangs fails instead of holding up the suite


@dataclass(frozen=True, slots=True, kw_only=True)
class Ran:
    """What one command did: how it left, and what it printed where."""

    status: int
    out: str
    err: str

    def json(self) -> Any:
        """Give the one JSON document on stdout; anything before or after it is a fault."""
        return json.loads(self.out)

    @property
    def lines(self) -> list[str]:
        return self.out.splitlines()


def environment(**changes: str) -> dict[str, str]:
    """Give an environment in which the command finds this checkout and none of the user's own files."""
    kept = {key: os.environ[key] for key in ("PATH", "LANG", "LC_ALL", "TMPDIR") if key in os.environ}
    return {**kept, "PYTHONPATH": str(ROOT), "HOME": "/nonexistent", "PYTHONUTF8": "1", **changes}


def run_process(
    *arguments: str, cwd: Path, env: Mapping[str, str] | None = None, python: str = sys.executable
) -> Ran:
    """Run `python -m crib` as its own process, with no terminal on either side."""
    done = subprocess.run(
        [python, "-m", "crib", *arguments],
        cwd=cwd,
        env=dict(env if env is not None else environment()),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=LIMIT_S,
        check=False,
    )
    return Ran(status=done.returncode, out=done.stdout, err=done.stderr)


class Crib:
    """Runs commands in this process, as __main__ does; any exception that gets out fails the test.

    Args:
        capsys: of the test.
        store: the store that commands without --db work on.
    """

    def __init__(self, capsys: pytest.CaptureFixture[str], store: str = "") -> None:
        self.capsys = capsys
        self.store = store
        self.opened: list[str] = []  # addresses for which the UI was asked

    def __call__(self, *arguments: str) -> Ran:
        from crib.cli.root import run

        self.capsys.readouterr()
        status = run(arguments, self.opened.append)
        out, err = self.capsys.readouterr()
        return Ran(status=status, out=out, err=err)

    def json(self, *arguments: str, status: int = 0) -> Any:
        """Run with --json; checks the exit status and that nothing but one document was printed."""
        ran = self(*arguments, "--json")
        assert ran.status == status, ran
        assert ran.err == ""
        return ran.json()

    def error(self, *arguments: str, status: int) -> dict[str, Any]:
        """Run what must fail, both ways; gives the error of the document.

        For people it is the message on stderr, its hint below it, and nothing on stdout.
        """
        told = self(*arguments)
        assert told.status == status, told
        assert told.out == ""
        first = told.err.splitlines()[0]
        document = self.json(*arguments, status=status)
        assert list(document) == ["error"]
        error: dict[str, Any] = document["error"]
        assert {"code", "message", "hint"} <= set(error)
        assert first.startswith("crib: ")
        assert "Traceback" not in told.err
        return error
