"""Where the numbers come from."""

from crib.errors import NothingFound
from crib.trade import tables
from crib.trade.tables import Source


def sources(word: str = "") -> tuple[Source, ...]:
    """Give the sources whose line holds a word, all of them for none.

    Raises:
        NothingFound: none does.
    """
    found = tuple(
        source
        for source in tables.sources().values()
        if word.lower() in f"{source.key} {source.kind} {source.cite()} {source.note}".lower()
    )
    if not found:
        raise NothingFound(f"no source holds {word!r}", "crib sources lists them all")
    return found


def cite(keys: str) -> str:
    """Give the citation of a table's `source` cell, which may name several keys."""
    known = tables.sources()
    return "; ".join(known[key].cite() for key in keys.split())
