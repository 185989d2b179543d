"""Asking as a user does, but for the single key presses."""

from textual.pilot import Pilot


async def ask(pilot: Pilot[None], question: str) -> None:
    """Put a question into the Ask line of whatever screen is open, and send it."""
    await pilot.press("f6")
    while getattr(pilot.app.focused, "id", "") != "ask":
        await pilot.pause()
    pilot.app.focused.put(question)  # type: ignore[union-attr]
    await pilot.press("enter")
