"""Pilots that don't dawdle, and plain-text pictures of screens."""

import asyncio
import os
from collections.abc import Awaitable, Callable
from pathlib import Path
from time import monotonic

import pytest
import textual._wait
from textual.pilot import Pilot

from crib.tui.app import CribApp

PICTURES = Path(__file__).parent / "pictures"
UPDATE = "CRIB_UPDATE_PICTURES"
PATIENCE_s = 5.0  # far beyond any answer; only a failing test waits that long


@pytest.fixture(autouse=True)
def brisk_pilot(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the pilot look for idleness every millisecond instead of every twentieth of a second.

    Private names of Textual: test_pilot_speed.py says so when they are gone.
    """
    monkeypatch.setattr(textual._wait, "SLEEP_GRANULARITY", 1 / 1000)
    monkeypatch.setattr(textual._wait, "SLEEP_IDLE", 1 / 2000)


@pytest.fixture
def address(tmp_path: Path) -> str:
    """Where a store would be; nothing is there."""
    return str(tmp_path / "none.db")


Until = Callable[[Pilot[None], Callable[[], bool]], Awaitable[None]]


@pytest.fixture
def until() -> Until:
    """Wait until something is so: answers come from threads."""

    async def wait(pilot: Pilot[None], is_so: Callable[[], bool]) -> None:
        end = monotonic() + PATIENCE_s
        while monotonic() < end:
            await pilot.pause()
            if is_so():
                return
            await asyncio.sleep(0.002)
        pytest.fail("never came about; the screen shows:\n" + picture(pilot.app))

    return wait


def picture(app: object) -> str:
    """Give what stands on the screen as plain text."""
    assert isinstance(app, CribApp)
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips) + "\n"


@pytest.fixture
def seen() -> Callable[[Pilot[None]], str]:
    """What stands on the screen."""
    return lambda pilot: picture(pilot.app)


@pytest.fixture
def looks_like() -> Callable[[Pilot[None], str], Awaitable[None]]:
    """Compare the screen with a stored picture; with CRIB_UPDATE_PICTURES=1 the picture is stored anew."""

    async def compare(pilot: Pilot[None], name: str) -> None:
        await still(pilot)
        path = PICTURES / f"{name}.txt"
        now = picture(pilot.app)
        if os.environ.get(UPDATE):
            path.parent.mkdir(exist_ok=True)
            path.write_text(now, encoding="utf-8")
        assert now == path.read_text(encoding="utf-8")

    return compare


async def still(pilot: Pilot[None]) -> None:
    """Wait until nothing moves on the screen any more."""
    await pilot.app.workers.wait_for_complete()
    before = ""
    while before != (now := picture(pilot.app)):
        before = now
        await pilot.pause(0.02)
