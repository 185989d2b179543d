"""A user's own headings: which column of ours each is; said, guessed from near names, or kept in a file."""

import csv
import io
import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from itertools import islice

from crib.desk.asking.codes import readable
from crib.desk.intake.cells import content_of, read_cells
from crib.desk.intake.lists import FORMS, ITEM_COLUMNS, ITEMS, LOOKED_AT
from crib.errors import BadHeadings, BadList, InputError
from crib.store.cells import guarded
from crib.store.words import CONDITIONS, ITEM_KINDS, PATH_JOINT

CLOSE, A_LITTLE = 0.8, 0.6
MOST_SUGGESTED = 3
OURS, SAID, GUESSED, UNKNOWN = "ours", "said", "guessed", "unknown"
# what people write above a column of tools, in lower case
MEANS = {
    "designation": "code", "iso code": "code", "ansi code": "code", "insert code": "code",
    "item code": "code", "tool code": "code", "holder code": "code", "tool number": "tag",
    "tool no": "tag", "tool id": "tag", "id": "tag", "no": "tag", "number": "tag",
    "description": "label", "name": "label", "tool": "label", "what it is": "label",
    "belongs to": "owner", "whose": "owner", "owned by": "owner",
    "location": "place", "where": "place", "at": "place", "stored in": "place", "drawer": "place",
    "lies in": "place", "lies at": "place", "kept in": "place", "bin": "place", "shelf": "place",
    "state": "condition", "qty": "quantity", "count": "quantity", "pieces": "quantity", "pcs": "quantity",
    "how many": "quantity", "amount": "quantity", "edges": "edges_left", "corners": "edges_left",
    "corners left": "edges_left", "breaker": "chipbreaker", "chip breaker": "chipbreaker",
    "serial number": "serial", "serial no": "serial", "s/n": "serial", "marking": "mark", "engraved": "mark",
    "remarks": "note", "remark": "note", "comment": "note", "notes": "note", "type": "kind",
    "nose radius": "re", "radius": "re", "smallest bore": "dmin", "min bore": "dmin", "diameter": "dc",
    "borrower": "lent_to", "due": "due_back", "length": "lf", "material": "tool_material",
}  # fmt: skip
# what our columns of tools hold, for who has to choose one
HOLDS = {
    "code": "the code on box or shank: CNMG 120408; geometry is read from it",
    "label": "what people call it; made from the code if empty",
    "owner": "whose it is: a name on record",
    "place": "where it lies: a full path on record, works / tool room",
    "quantity": "how many; 1 if empty",
    "grade": "the maker's grade of an insert, in your words",
    "chipbreaker": "the chipbreaker of an insert, in your words",
    "condition": "new, good, worn, damaged or scrap; good if empty",
    "edges_left": "fresh cutting edges left in the box",
    "note": "anything",
    "tag": "the shop's own number; the next free one if empty",
    "kind": "insert, holder, bar, bit, rotary, gauge, workholding, spare, other",
    "mark": "what is engraved on it",
    "serial": "the maker's number",
    "lent_to": "who has it: a name on record",
    "due_back": "when it is promised back: 2026-12-18",
    "hand": "right, left or neutral",
    "kapr": "entering angle",
    "re": "nose radius",
    "dmin": "smallest bore that a bar works in",
    "reach": "usable length of a bar",
    "shank": "size of the shank",
    "shank_material": "of a bar: steel, carbide, heavy metal",
    "tool_material": "HSS, carbide, coated carbide, cermet …",
    "application": "what a grade is meant for: P25, K20",
    "rake": "rake angle of a ground bit",
    "clearance": "clearance angle of a ground bit",
    "inclination": "inclination of the edge of a ground bit",
    "what": "what a rotary tool is: drill, reamer, tap …",
    "dc": "diameter of a rotary tool",
    "lf": "length of a rotary tool",
    "measures": "of a gauge: inside, outside, depth, other",
    "low": "least size that a gauge measures",
    "high": "largest size that a gauge measures",
    "resolution": "what a gauge reads to",
}
_KNOWN = {**{name.replace("_", " "): name for name in ITEM_COLUMNS}, **MEANS}
# what cells alone tell of their column
_TELLING: tuple[tuple[str, Callable[[str], bool]], ...] = (
    ("quantity", str.isdigit),
    ("condition", lambda cell: cell.lower() in CONDITIONS),
    ("kind", lambda cell: cell.lower() in ITEM_KINDS),
    ("place", lambda cell: PATH_JOINT.strip() in cell),
)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """One heading of a list of tools, with what is taken for it and what it may be.

    Attributes:
        file: the list.
        heading: as it stands there.
        column: ours; empty where it is left out, or unknown.
        how: "ours", "said", "guessed" or "unknown".
        likely: columns that it may be, the likeliest first.
        example: the first cell below it that holds something.
    """

    file: str
    heading: str
    column: str
    how: str
    likely: tuple[str, ...]
    example: str


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
        found[plain_heading(heading)] = _column(column)
    return found


def file_mapping(path: str) -> dict[str, str]:
    """Read a mapping that was kept: CSV with the columns heading, column.

    Raises:
        BadList: it can't be read.
        InputError: it names no column of ours.
    """
    rows = [cells for _, cells in read_cells(path, content_of(path))]
    if not rows or [plain_heading(cell) for cell in rows[0]] != ["heading", "column"]:
        raise BadList(f"{path} is no mapping", hint="its first line is: heading,column")
    return {plain_heading(cells[0]): _column(cells[1] if len(cells) > 1 else "") for cells in rows[1:]}


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

    def __call__(self, file: str, header: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
        """Give our columns; a list that has them already stays as it is.

        Raises:
            BadHeadings: a heading that nothing is known of.
        """
        as_typed = [heading.strip().lower() for heading in header]
        if _of_others(header) or set(as_typed) <= set(ITEM_COLUMNS) - set(self.said):
            return as_typed
        columns, told = map_header(file, header, self.said, rows)
        self.mapped += told
        return columns


def map_header(
    file: str, header: Sequence[str], said: Mapping[str, str], rows: Sequence[Sequence[str]] = ()
) -> tuple[list[str], list[Mapped]]:
    """Give our columns for a user's headings; a heading that is left out becomes "".

    Args:
        file: the list, for messages.
        header: its first line.
        said: plain heading -> column, from the user; the rest is guessed.
        rows: its first rows, from which likely columns are told.

    Raises:
        BadHeadings: a heading that nothing is known of, or two that mean the same.
    """
    found = look_at(file, header, said, rows)
    if strange := [one for one in found if one.how == UNKNOWN]:
        first, more = strange[0], len(strange) - 1
        free = dict.fromkeys(name for one in strange for name in one.likely)
        pairs = []
        for asked in strange[:MOST_SUGGESTED]:
            name = next((name for name in asked.likely if name in free), "")  # each column once
            free.pop(name, None)
            pairs.append(f'--map "{asked.heading}={name}"')
        likely = " ".join(pairs)
        raise BadHeadings(
            f"{file}: nothing is known of the heading {first.heading!r}" + (f" and {more} more" * (more > 0)),
            hint=f'say what it is, perhaps {likely}; --map "{first.heading}=" leaves it out',
        )
    columns = [one.column for one in found]
    twice = [column for column in columns if column and columns.count(column) > 1]
    if twice:
        one, other, *_ = (
            heading for heading, column in zip(header, columns, strict=True) if column == twice[0]
        )
        raise BadHeadings(
            f"{file}: {one!r} and {other!r} both mean {twice[0]}", hint=f'leave one out: --map "{other}="'
        )
    told = (
        Mapped(file=file, heading=one.heading, column=one.column, how=one.how)
        for one in found
        if one.how in (SAID, GUESSED)
    )
    return columns, list(told)


def look_at(
    file: str, header: Sequence[str], said: Mapping[str, str], rows: Sequence[Sequence[str]]
) -> list[Heading]:
    """Tell of every heading of a list of tools what it is taken for, and what it may be.

    Args:
        file: the list, for messages.
        header: its first line.
        said: plain heading -> column, from the user.
        rows: its first rows.
    """
    found = []
    for at, typed in enumerate(header):
        plain = plain_heading(typed)
        cells = [row[at].strip() for row in rows if at < len(row) and row[at].strip()]
        guess = _guess(plain)
        if plain in said:
            column, how = said[plain], SAID
        elif plain in ITEM_COLUMNS:
            column, how = plain, OURS
        else:
            column, how = guess or "", UNKNOWN if guess is None else GUESSED
        found.append(
            Heading(
                file=file, heading=typed.strip(), column=column, how=how, likely=_likely(plain, cells),
                example=next(iter(cells), ""),
            )
        )  # fmt: skip
    taken = {one.column for one in found}
    return [replace(one, likely=tuple(name for name in one.likely if name not in taken)) for one in found]


def headings_of(files: Sequence[str], said: Mapping[str, str]) -> tuple[Heading, ...]:
    """Tell of every heading in lists of tools what it is taken for; other lists have fixed columns.

    Args:
        files: paths of CSV or XLSX files.
        said: plain heading -> column, from the user.

    Raises:
        BadList: a file can't be read.
    """
    found: list[Heading] = []
    for path in files:
        file = os.path.basename(path)
        header, *rows = list(
            islice((cells for _, cells in read_cells(file, content_of(path))), LOOKED_AT)
        ) or [[]]
        if not _of_others(header):
            found += look_at(file, header, said, rows)
    return tuple(found)


def _of_others(header: Sequence[str]) -> bool:
    """Tell whether a header is that of another sort of list than tools."""
    as_typed = {heading.strip().lower() for heading in header}
    return any(form.told_by <= as_typed for form in FORMS if form.name != ITEMS)


def _guess(plain: str) -> str | None:
    if not plain:
        return ""
    near = get_close_matches(plain, _KNOWN, n=1, cutoff=CLOSE)
    return _KNOWN[near[0]] if near else None


def _likely(plain: str, cells: Sequence[str]) -> tuple[str, ...]:
    """Give columns that a heading may mean, by what stands below it and by near names."""
    by_cells = [name for name, fits in _TELLING if cells and all(fits(cell) for cell in cells)]
    if cells and sum(readable(cell) is not None for cell in cells) * 2 > len(cells):
        by_cells.insert(0, "code")
    by_name = [_KNOWN[name] for name in get_close_matches(plain, _KNOWN, n=3, cutoff=A_LITTLE)]
    return tuple(dict.fromkeys((*by_cells, *by_name, "note")))


def _column(text: str) -> str:
    column = plain_heading(text)
    column = MEANS.get(column, column.replace(" ", "_"))
    if column and column not in ITEM_COLUMNS:
        raise InputError(f"there is no column {text.strip()!r}", "columns: " + ", ".join(ITEM_COLUMNS))
    return column


def plain_heading(text: str) -> str:
    """Give a heading as it is looked up: small letters, single blanks."""
    return " ".join(text.lower().split())
