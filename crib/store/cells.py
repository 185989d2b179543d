"""Text in cells of CSV files that spreadsheets open: never a formula, and given back as it was."""

from unicodedata import normalize

_BEGINS_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "'")


def guarded(text: str) -> str:
    """Give a text that no spreadsheet takes for a formula: an apostrophe before what could begin one.

    A text that begins with an apostrophe gets one too, so that `unguarded` gives back every text as it was.
    """
    return "'" + text if normalize("NFKC", text[:1]).startswith(_BEGINS_FORMULA) else text


def unguarded(text: str) -> str:
    """Take the apostrophe away again that `guarded` put before a text."""
    return text[1:] if text[:1] == "'" and guarded(text[1:]) != text[1:] else text
