"""Asking as a user does, but for the single key presses."""

from textual.pilot import Pilot

from crib.tui.books import BOOKS


async def ask(pilot: Pilot[None], question: str) -> None:
    """Put a question into the Ask line of whatever screen is open, and send it."""
    await pilot.press("f6")
    while getattr(pilot.app.focused, "id", "") != "ask":
        await pilot.pause()
    pilot.app.focused.put(question)  # type: ignore[union-attr]
    await pilot.press("enter")


async def open_book(pilot: Pilot[None], name: str) -> None:
    """Open a book by its name, wherever it stands on the list."""
    at = next(at for at, book in enumerate(BOOKS) if book.name == name)
    await pilot.press("f9", "home", *["down"] * at, "enter")
