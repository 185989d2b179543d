"""Commands on the invented workshop, run in this process."""

from pathlib import Path

import pytest
from commands import Crib


@pytest.fixture
def crib(
    capsys: pytest.CaptureFixture[str], demo_store: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> Crib:
    """Runs commands on the session's demo store, from which tests only read."""
    monkeypatch.setenv("CRIB_DB", demo_store)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return Crib(capsys)


@pytest.fixture
def crib_writing(
    capsys: pytest.CaptureFixture[str], demo_address: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> Crib:
    """Runs commands on a copy of the demo store."""
    monkeypatch.setenv("CRIB_DB", demo_address)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return Crib(capsys)
