"""What people call the state of a tool, and which of the store's five words it is."""

from difflib import get_close_matches

from crib.errors import UnknownName
from crib.store.words import CONDITIONS
from crib.trade import tables


def condition_of(typed: str) -> str | None:
    """Give the condition meant: one of words.CONDITIONS, or shop talk for one ("blunt"); None for nothing.

    Raises:
        UnknownName: it is none.
    """
    asked = " ".join(typed.lower().split())
    if not asked:
        return None
    if asked in CONDITIONS:
        return asked
    words = {row["phrase"]: row["value"] for row in tables.rows("shop_words") if row["field"] == "condition"}
    if asked in words:
        return words[asked]
    raise UnknownName("condition", typed, get_close_matches(asked, CONDITIONS, n=2) or CONDITIONS)
