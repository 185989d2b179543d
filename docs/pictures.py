"""Makes the pictures of the terminal UI for README: the running app on the demo workshop, drawn as SVG.

    .venv/bin/python docs/pictures.py

Nothing in a picture is fetched from elsewhere: remote fonts are taken out.
"""

import asyncio
import re
from collections.abc import Callable
from functools import partial
from pathlib import Path

from textual.pilot import Pilot

from crib.desk.keeping.demo import private_copy
from crib.tui.app import CribApp
from crib.tui.screens.base import DeskScreen

HERE = Path(__file__).parent
SIZE = (80, 24)
NOTE = "demo: a private copy"
FONT = "DejaVu Sans Mono, monospace"
PATIENCE_s = 20.0
# picture -> the question that leads to it, the screen it leads to
PICTURES = {
    "find": ("left hand holder for a WNMG 080408 here", "find"),
    "decode": ("WNMG 080408", "decode"),
    "pick": ("bore 16 to 16 3/8 in grey iron on the boring mill, weak set-up, 9 in long", "pick"),
}


async def draw(address: str) -> None:
    """Ask each question and draw the answer.

    Args:
        address: a store that may be thrown away.
    """
    for name, (question, area) in PICTURES.items():
        app = CribApp(address, NOTE)
        async with app.run_test(size=SIZE) as pilot:
            await pilot.press("f6", *question, "enter")
            await _until(pilot, partial(_answered, app, area))
            (HERE / f"{name}.svg").write_text(plain(app.export_screenshot(title="crib")), encoding="utf-8")


def plain(svg: str) -> str:
    """Take remote fonts out of a picture, and name one that has every sign we draw."""
    svg = re.sub(r"@font-face \{.*?\}\s*", "", svg, flags=re.DOTALL)
    svg = re.sub(r"font-family: [^;]*;", f"font-family: {FONT};", svg)
    return re.sub(r"terminal-\d+", "terminal", svg) + "\n"  # the number changes from run to run


def _answered(app: CribApp, area: str) -> bool:
    screen = app.screen
    if not isinstance(screen, DeskScreen) or area != screen.AREA:
        return False
    return bool(app.question) and screen.is_settled


async def _until(pilot: Pilot[None], is_so: Callable[[], bool]) -> None:
    waited_s = 0.0
    while not is_so():
        if waited_s > PATIENCE_s:
            raise TimeoutError("no answer came")
        await pilot.pause(0.05)
        waited_s += 0.05
    await pilot.pause(0.2)


if __name__ == "__main__":
    with private_copy() as copy:
        asyncio.run(draw(copy))
