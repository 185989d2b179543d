"""What is typed into a line: sizes, text without end refused, several names, a whole number, yes or no."""

import os

from crib.errors import InputError
from crib.units import Kind, read

MOST = 1_000_000
LONGEST_TEXT = 2000
LONGEST_LIFE_YEARS = 200


def text(typed: str, what: str) -> str | None:
    """Give what was typed without blanks around it; None where that is nothing.

    Args:
        typed: as typed.
        what: what it is, for the message.

    Raises:
        InputError: it is too long.
    """
    if len(typed) > LONGEST_TEXT:
        raise InputError(f"the {what} holds {len(typed)} characters", f"at most {LONGEST_TEXT}")
    return typed.strip() or None


def sized(text: str, what: str, kind: Kind, system: str) -> float | None:
    """Read a quantity that is more than zero; None for nothing typed.

    Args:
        text: as typed.
        what: what it is, for the message.
        kind: what sort of quantity.
        system: what bare numbers mean.

    Raises:
        InputError: it can't be read or can't be.
    """
    if not text:
        return None
    value = read(text, kind, system).value
    if value <= 0:
        raise InputError(f"a {what} of {text} can't be", "it must be more than zero")
    return value


def names_of(typed: str) -> list[str]:
    """Give the names in a line, parted by commas or semicolons.

    Raises:
        InputError: there is none.
    """
    names = [name.strip() for name in typed.replace(";", ",").split(",") if name.strip()]
    if not names:
        raise InputError("no tool is named", "say its tag, mark, or words for it")
    return names


def path_of(typed: str) -> str:
    """Give the path of a file as a shell would have: without quotes around it, ~ is the user's own folder."""
    text = typed.strip()
    if len(text) > 1 and text[0] == text[-1] and text[0] in "'\"":
        text = text[1:-1]
    return os.path.expanduser(text)


def files_of(typed: str) -> list[str]:
    """Give the paths in a line, parted by commas unless it is the path of one file as it stands.

    Raises:
        InputError: there is none.
    """
    if os.path.exists(whole := path_of(typed)):
        return [whole]
    paths = [path_of(part) for part in typed.split(",") if part.strip()]
    if not paths:
        raise InputError("no file is named", "give its path, like ~/tools.csv")
    return paths


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


def read_life(typed: str) -> float:
    """Read for how many years a tool is taken to last: "20", "20 years".

    Raises:
        InputError: it can't be read.
    """
    number = typed.lower().removesuffix("s").removesuffix("year").strip().replace(",", ".")
    try:
        life = float(number)
    except ValueError:
        life = 0.0
    if not 0 < life <= LONGEST_LIFE_YEARS:
        raise InputError(
            f"{typed!r} is no life in years", f"write it like 20 years, up to {LONGEST_LIFE_YEARS}"
        )
    return life
