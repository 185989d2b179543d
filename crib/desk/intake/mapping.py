"""A user's own headings: which column of ours each is; said, guessed from near names, or kept in a file."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from crib.desk.intake.cells import read_cells
from crib.desk.intake.lists import FORMS, ITEM_COLUMNS, ITEMS
from crib.errors import BadList, InputError
from crib.store.cells import guarded

CLOSE = 0.8
# what people write above a column of tools, in lower case
MEANS = {
    "designation": "code", "iso code": "code", "ansi code": "code", "insert code": "code",
    "item code": "code", "tool number": "tag", "tool no": "tag", "tool id": "tag", "id": "tag",
    "no": "tag", "number": "tag",
    "description": "label", "name": "label", "tool": "label", "what it is": "label",
    "belongs to": "owner", "whose": "owner", "owned by": "owner",
    "location": "place", "where": "place", "at": "place", "stored in": "place", "drawer": "place",
    "state": "condition", "qty": "quantity", "count": "quantity", "pieces": "quantity", "pcs": "quantity",
    "how many": "quantity", "amount": "quantity", "edges": "edges_left", "corners": "edges_left",
    "corners left": "edges_left", "breaker": "chipbreaker", "chip breaker": "chipbreaker",
    "serial number": "serial", "serial no": "serial", "s/n": "serial", "marking": "mark", "engraved": "mark",
    "remarks": "note", "remark": "note", "comment": "note", "notes": "note", "type": "kind",
    "nose radius": "re", "radius": "re", "smallest bore": "dmin", "min bore": "dmin", "diameter": "dc",
    "borrower": "lent_to", "due": "due_back", "length": "lf", "material": "tool_material",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Mapped:
    """One heading of a user's list.

    Attributes:
        file: the list.
        heading: as it stands there.
        column: ours; empty where the heading is left out.
        how: "said" or "guessed".
    """

    file: str
    heading: str
    column: str
    how: str


def said_mapping(pairs: Iterable[str]) -> dict[str, str]:
    """Read "My Heading=column" pairs; an empty column leaves the heading out.

    Raises:
        InputError: a pair that can't be read, or no such column.
    """
    found = {}
    for pair in pairs:
        heading, equals, column = pair.rpartition("=")
        if not equals or not heading.strip():
            raise InputError(
                f"{pair!r} maps nothing", 'say --map "My Heading=column"; nothing after = leaves it out'
            )
        found[_plain(heading)] = _column(column)
    return found


def file_mapping(path: str) -> dict[str, str]:
    """Read a mapping that was kept: CSV with the columns heading, column.

    Raises:
        BadList: it can't be read.
        InputError: it names no column of ours.
    """
    try:
        with open(path, "rb") as handle:
            rows = [cells for _, cells in read_cells(path, handle.read())]
    except OSError as error:
        raise BadList(f"{path}: {error.strerror or error}", hint="give the path of a kept mapping") from error
    if not rows or [_plain(cell) for cell in rows[0]] != ["heading", "column"]:
        raise BadList(f"{path} is no mapping", hint="its first line is: heading,column")
    return {_plain(cells[0]): _column(cells[1] if len(cells) > 1 else "") for cells in rows[1:]}


def mapping_bytes(mapped: Sequence[Mapped]) -> bytes:
    """Give a mapping as a file to keep."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(("heading", "column"))
    writer.writerows(
        (guarded(heading), column) for heading, column in {m.heading: m.column for m in mapped}.items()
    )
    return out.getvalue().encode()


class Translator:
    """Gives our columns for a user's headings, and remembers what it made of them.

    Args:
        said: plain heading -> column, from the user.
    """

    def __init__(self, said: Mapping[str, str]) -> None:
        self.said = said
        self.mapped: list[Mapped] = []

    def __call__(self, file: str, header: Sequence[str]) -> list[str]:
        """Give our columns; a list that has them already stays as it is.

        Raises:
            BadList: a heading that nothing is known of.
        """
        plain = [_plain(heading) for heading in header]
        as_typed = [heading.strip().lower() for heading in header]
        others = [form for form in FORMS if form.name != ITEMS and form.told_by <= set(as_typed)]
        known = sum(heading in self.said or bool(_guess(heading)) for heading in plain)
        if others or set(as_typed) <= set(ITEM_COLUMNS) - set(self.said) or known < 2:
            return as_typed
        columns, told = map_header(file, header, self.said)
        self.mapped += told
        return columns


def map_header(file: str, header: Sequence[str], said: Mapping[str, str]) -> tuple[list[str], list[Mapped]]:
    """Give our columns for a user's headings; a heading that is left out becomes "".

    Args:
        file: the list, for messages.
        header: its first line.
        said: plain heading -> column, from the user; the rest is guessed.

    Raises:
        BadList: a heading that nothing is known of, or two that mean the same.
    """
    columns, told, strange = [], [], []
    for heading in header:
        plain = _plain(heading)
        column = said.get(plain, plain if plain in ITEM_COLUMNS else None)
        if column is None and (column := _guess(plain)) is not None:
            told.append(Mapped(file=file, heading=heading.strip(), column=column, how="guessed"))
        elif plain in said:
            told.append(Mapped(file=file, heading=heading.strip(), column=said[plain], how="said"))
        elif column is None:
            strange.append(heading.strip())
        columns.append(column or "")
    if strange:
        raise BadList(
            f"{file}: nothing is known of the heading {strange[0]!r}"
            + (f" and {len(strange) - 1} more" * (len(strange) > 1)),
            hint=f'say which column it is: --map "{strange[0]}=note"; --map "{strange[0]}=" leaves it out',
        )
    twice = [column for column in columns if column and columns.count(column) > 1]
    if twice:
        both = [heading for heading, column in zip(header, columns, strict=True) if column == twice[0]]
        raise BadList(
            f"{file}: {both[0]!r} and {both[1]!r} both mean {twice[0]}",
            hint=f'leave one out: --map "{both[1]}="',
        )
    return columns, told


def _guess(plain: str) -> str | None:
    if not plain:
        return ""
    known = {**{name.replace("_", " "): name for name in ITEM_COLUMNS}, **MEANS}
    near = get_close_matches(plain, known, n=1, cutoff=CLOSE)
    return known[near[0]] if near else None


def _column(text: str) -> str:
    column = _plain(text)
    column = MEANS.get(column, column.replace(" ", "_"))
    if column and column not in ITEM_COLUMNS:
        raise InputError(f"there is no column {text.strip()!r}", "columns: " + ", ".join(ITEM_COLUMNS))
    return column


def _plain(text: str) -> str:
    return " ".join(text.lower().split())
