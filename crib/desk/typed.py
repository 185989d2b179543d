"""What is typed into a form's line: several names, a whole number, yes or no."""

from crib.errors import InputError

MOST = 1_000_000


def names_of(typed: str) -> list[str]:
    """Give the names in a line, parted by commas or semicolons.

    Raises:
        InputError: there is none.
    """
    names = [name.strip() for name in typed.replace(";", ",").split(",") if name.strip()]
    if not names:
        raise InputError("no tool is named", "say its tag, mark, or words for it")
    return names


def count_of(typed: str, what: str) -> int | None:
    """Give a whole number from 0 on; None where nothing is typed.

    Args:
        typed: as typed.
        what: what is counted, for the refusal.

    Raises:
        InputError: it is none.
    """
    text = typed.strip()
    if not text:
        return None
    if not (text.isascii() and text.isdigit()) or int(text) > MOST:
        raise InputError(f"{text[:20]!r} is no number of {what}", "a whole number, like 3")
    return int(text)
