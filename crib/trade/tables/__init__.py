"""The one reader of the trade's data: CSV files beside this one, and sources.toml that names their sources.

Every table has a `source` column whose words (separated by blanks) are keys of sources.toml.
"""

import csv
from collections.abc import Mapping
from functools import cache
from os.path import dirname, join
from typing import NamedTuple

from crib.errors import TableError

FOLDER = dirname(__file__)
KINDS = (
    "standard",
    "handbook",
    "textbook",
    "paper",
    "open data",
    "common practice",
    "own record",
    "memory",
    "assumption",
)

Row = Mapping[str, str]


class Source(NamedTuple):
    """Where a row or constant comes from.

    Attributes:
        key: the word that tables use for it.
        title: what it is called.
        edition: edition or year.
        place: table, clause or page; may be empty.
        kind: one of KINDS; "assumption" is a modelling figure of our own, "own record" the user's.
        note: how far it was seen, conflicts; may be empty.
    """

    key: str
    title: str
    edition: str
    place: str
    kind: str
    note: str = ""

    def cite(self) -> str:
        """Give the source in one line, as printed beside a number."""
        marks = {
            "memory": " [from memory]",
            "common practice": " [common practice]",
            "assumption": " [assumed]",
        }
        return ", ".join(part for part in (self.title, self.edition, self.place) if part) + marks.get(
            self.kind, ""
        )


@cache
def rows(name: str) -> tuple[Row, ...]:
    """Give the rows of one table, each a mapping of column name to text.

    Args:
        name: file name below this folder without ".csv", for example "insert_shape".

    Raises:
        TableError: there is no such table.
    """
    try:
        with open(join(FOLDER, name + ".csv"), encoding="utf-8", newline="") as handle:
            table = csv.reader(handle)  # DictReader takes twice as long, and start-up is waited for
            head = next(table)
            return tuple(dict(zip(head, row, strict=True)) for row in table if row)
    except FileNotFoundError as error:
        raise TableError(
            f"there is no table {name!r}", "this is a fault in crib: please report it"
        ) from error


@cache
def sources() -> Mapping[str, Source]:
    """Give every source by its key."""
    import tomllib  # only `sources` and answers that cite need it: start-up of decode counts

    with open(join(FOLDER, "sources.toml"), "rb") as handle:
        return {
            key: Source(
                key,
                entry["title"],
                str(entry.get("edition", "")),
                entry.get("place", ""),
                entry["kind"],
                entry.get("note", ""),
            )
            for key, entry in tomllib.load(handle).items()
        }
