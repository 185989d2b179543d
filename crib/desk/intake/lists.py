"""The lists that a user hands in: which columns each has, and how a cell becomes a value.

A list is recognised by its columns, not by its file name. Problems are collected, never raised one by one.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from difflib import get_close_matches
from itertools import chain, islice
from typing import Any

from crib.desk.hands import hand_of
from crib.desk.intake.cells import WORKBOOK, read_cells
from crib.desk.typed import read_life
from crib.errors import BadHeadings, BadList, InputError
from crib.store import words
from crib.units import Kind, read
from crib.units.money import Money, read_money
from crib.units.spans import read_days

ITEMS = "items"
# a list's name, its headings, its first rows -> our columns
Translate = Callable[[str, Sequence[str], Sequence[Sequence[str]]], list[str]]
Cell = Callable[[str, str], Any]  # text and the user's system of units -> value; raises InputError
LONGEST_CELL = 10_000
MOST_NEAR = 3
LOOKED_AT = 20  # so many rows tell what a column holds


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One cell or row that can't be taken: where it stands, what stands there, why not."""

    file: str
    line: int
    column: str
    value: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ListRow:
    """One row of a list, its cells turned into values; empty cells are left out."""

    file: str
    line: int
    values: Mapping[str, Any]
    folder: str = ""

    def __getitem__(self, column: str) -> Any:
        return self.values[column]

    def get(self, column: str, default: Any = None) -> Any:
        """Give the value of a column, or `default` where the cell is empty."""
        return self.values.get(column, default)


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """One sort of list: the columns that tell it, those that each row must fill, and all it may have."""

    name: str
    told_by: frozenset[str]
    or_by: frozenset[str] = frozenset()
    needed: frozenset[str]
    columns: Mapping[str, Cell]


# -- cells ------------------------------------------------------------------------------------------------


def _text(text: str, _system: str) -> str:
    if len(text) > LONGEST_CELL:
        raise InputError(f"the cell holds {len(text)} characters", f"at most {LONGEST_CELL}")
    return text


def _quantity(kind: Kind) -> Cell:
    return lambda text, system: read(text, kind, system).value


def _one_of(allowed: Sequence[str]) -> Cell:
    def cell(text: str, _system: str) -> str:
        if text.lower() not in allowed:
            raise InputError(f"{text!r} is not known here", "one of: " + ", ".join(allowed))
        return text.lower()

    return cell


def _count(text: str, _system: str) -> int:
    if not text.isascii() or not text.isdigit() or len(text) > 9:
        raise InputError(f"{text!r} is no count", "a whole number, 0 or more")
    return int(text)


def _day(text: str, _system: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise InputError(f"{text!r} is no date", "year-month-day, for example 2026-11-25") from error


def _moment(text: str, _system: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError as error:
        raise InputError(f"{text!r} is no time", "for example 2026-11-25T08:30:00Z") from error
    return moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)


def _yes(text: str, _system: str) -> bool:
    if text.lower() not in ("yes", "no"):
        raise InputError(f"{text!r} is neither yes nor no", "yes or no")
    return text.lower() == "yes"


def _steps(kind: Kind) -> Cell:
    return lambda text, system: tuple(read(step, kind, system).value for step in text.split())


def _money(text: str, _system: str) -> Money:
    return read_money(text)


def _life(text: str, _system: str) -> float:
    return read_life(text)


_LENGTH = _quantity(Kind.LENGTH)
_ANGLE = _quantity(Kind.ANGLE)

# -- forms ------------------------------------------------------------------------------------------------

ITEM_COLUMNS: Mapping[str, Cell] = {
    "tag": _text,
    "kind": _one_of(words.ITEM_KINDS),
    "code": _text,
    "label": _text,
    "owner": _text,
    "place": _text,
    "condition": _one_of(words.CONDITIONS),
    "quantity": _count,
    "edges_left": _count,
    "mark": _text,
    "serial": _text,
    "lent_to": _text,
    "due_back": _day,
    "note": _text,
    "hand": lambda text, _system: hand_of(text),
    "kapr": _ANGLE,
    "re": _LENGTH,
    "dmin": _LENGTH,
    "reach": _LENGTH,
    "shank": _LENGTH,
    "shank_material": _text,
    "tool_material": _text,
    "application": _text,
    "grade": _text,
    "chipbreaker": _text,
    "rake": _ANGLE,
    "clearance": _ANGLE,
    "inclination": _ANGLE,
    "what": _text,
    "dc": _LENGTH,
    "lf": _LENGTH,
    "measures": _one_of(words.MEASURES),
    "low": _LENGTH,
    "high": _LENGTH,
    "resolution": _LENGTH,
}

# in the order in which they are taken: what is named by others comes first
FORMS = (
    Form(
        name="people",
        told_by=frozenset({"name", "kind"}),
        needed=frozenset({"name"}),
        columns={
            "name": _text,
            "mark": _text,
            "kind": _one_of(words.PARTY_KINDS),
            "gone": _day,
            "note": _text,
        },
    ),
    Form(
        name="places",
        told_by=frozenset({"place", "inside"}),
        needed=frozenset({"place", "kind"}),
        columns={"place": _text, "kind": _one_of(words.PLACE_KINDS), "inside": _text},
    ),
    Form(
        name="machines",
        told_by=frozenset({"place", "speeds_rev_min"}),
        needed=frozenset({"place", "kind"}),
        columns={
            "place": _text,
            "kind": _one_of(words.MACHINE_KINDS),
            "speeds_rev_min": _steps(Kind.ROTATION),
            "feeds_mm_rev": lambda text, _system: _steps(Kind.FEED)(text, "metric"),
            "power": _quantity(Kind.POWER),
            "efficiency": _quantity(Kind.RATIO),
            "swing": _LENGTH,
            "travel": _LENGTH,
            "shank_low": _LENGTH,
            "shank_high": _LENGTH,
            "bar_low": _LENGTH,
            "bar_high": _LENGTH,
            "facing_head": _yes,
            "least_bore": _LENGTH,
            "head_speed_limit": _quantity(Kind.ROTATION),
            "head_tangential_limit": _quantity(Kind.SPEED),
            "note": _text,
        },
    ),
    Form(
        name=ITEMS,
        told_by=frozenset({"tag", "owner"}),
        or_by=frozenset({"owner", "place"}),
        needed=frozenset({"owner", "place"}),
        columns=ITEM_COLUMNS,
    ),
    Form(
        name="rods",
        told_by=frozenset({"gauge", "length"}),
        needed=frozenset({"gauge", "length"}),
        columns={"gauge": _text, "length": _LENGTH, "owner": _text, "present": _yes},
    ),
    Form(
        name="checks",
        told_by=frozenset({"gauge", "on"}),
        needed=frozenset({"gauge", "on", "result"}),
        columns={"gauge": _text, "on": _day, "result": _text, "due": _day, "by": _text},
    ),
    Form(
        name="parts",
        told_by=frozenset({"item", "part"}),
        needed=frozenset({"item", "part"}),
        columns={"item": _text, "part": _text, "number": _text, "present": _yes, "note": _text},
    ),
    Form(
        name="minimums",
        told_by=frozenset({"code", "least"}),
        needed=frozenset({"code", "least", "site"}),
        columns={
            "code": _text,
            "grade": _text,
            "site": _text,
            "least": _count,
            "up_to": _count,
            "counted_in": _one_of(words.COUNTED_IN),
            "lead": lambda text, _system: read_days(text),
            "payer": _text,
            "price": _money,
            "note": _text,
        },
    ),
    Form(
        name="kits",
        told_by=frozenset({"kit", "need"}),
        needed=frozenset({"kit", "need"}),
        columns={"kit": _text, "need": _text, "count": _count, "item": _text, "note": _text},
    ),
    Form(
        name="history",
        told_by=frozenset({"when", "what", "item"}),
        needed=frozenset({"when", "who", "what", "item"}),
        columns={
            "when": _moment,
            "who": _text,
            "what": _one_of([what for what in words.HAPPENINGS if what != "added"]),
            "item": _text,
            "quantity": _count,
            "to": _text,
            "due_back": _day,
            "why": _text,
        },
    ),
    Form(
        name="setups",
        told_by=frozenset({"setup", "stiffness"}),
        needed=frozenset({"setup"}),
        columns={
            "setup": _text,
            "machine": _text,
            "note": _text,
            "point": _text,
            "when": _moment,
            "who": _text,
            "gives": _text,
            "stiffness": _quantity(Kind.STIFFNESS),
            "frequency": _quantity(Kind.FREQUENCY),
            "damping": _quantity(Kind.RATIO),
            "how": _text,
        },
    ),
    Form(
        name="cuts",
        told_by=frozenset({"when", "result"}),
        needed=frozenset({"when", "op", "material", "result"}),
        columns={
            "when": _moment,
            "who": _text,
            "op": _text,
            "material": _text,
            "machine": _text,
            "setup": _text,
            "point": _text,
            "tool": _text,
            "insert": _text,
            "conditions": _text,
            "diameter": _LENGTH,
            "speed": _quantity(Kind.ROTATION),
            "feed": _quantity(Kind.FEED),
            "depth": _LENGTH,
            "length": _LENGTH,
            "minutes": _quantity(Kind.TIME),
            "heard": _quantity(Kind.FREQUENCY),
            "result": _one_of(words.CUT_RESULTS),
            "job": _text,
            "note": _text,
        },
    ),
    Form(
        name="origins",
        told_by=frozenset({"item", "how"}),
        needed=frozenset({"item", "how"}),
        columns={
            "item": _text,
            "how": _one_of(words.ORIGINS),
            "on": _day,
            "from": _text,
            "maker": _text,
            "receipt": _text,
            "paid": _money,
            "note": _text,
            "when": _moment,
            "who": _text,
        },
    ),
    Form(
        name="worths",
        told_by=frozenset({"item", "basis", "source"}),
        needed=frozenset({"item", "basis", "amount"}),
        columns={
            "item": _text,
            "basis": _one_of(words.WORTH_BASES),
            "amount": _money,
            "on": _day,
            "life": _life,
            "source": _text,
            "when": _moment,
            "who": _text,
        },
    ),
    Form(
        name="claims",
        told_by=frozenset({"claim", "claimant"}),
        needed=frozenset({"claim", "claimant", "payer", "made", "currency"}),
        columns={
            **dict.fromkeys(("claim", "claimant", "payer", "currency", "rules", "clause"), _text),
            **dict.fromkeys(("place_of_work", "note"), _text),
            "made": _day,
        },
    ),
    Form(
        name="claim lines",
        told_by=frozenset({"claim", "line", "event"}),
        needed=frozenset({"claim", "line", "item", "event", "basis", "amount"}),
        columns={
            **dict.fromkeys(("claim", "item", "what", "job", "machine", "seen", "asked"), _text),
            **dict.fromkeys(("old", "worked_out"), _text),
            "line": _count,
            "event": _one_of(words.CLAIM_EVENTS),
            "basis": _one_of(words.CLAIM_BASES),
            "amount": _money,
            "pieces": _count,
            "on": _day,
            "had": _money,
        },
    ),
    Form(
        name="claim steps",
        told_by=frozenset({"claim", "state"}),
        needed=frozenset({"claim", "state"}),
        columns={
            **dict.fromkeys(("claim", "to", "why", "who"), _text),
            "line": _count,
            "state": _one_of(words.CLAIM_STATES),
            "on": _day,
            "amount": _money,
            "when": _moment,
        },
    ),
    Form(
        name="papers",
        told_by=frozenset({"item", "file"}),
        needed=frozenset({"item", "file", "kind"}),
        columns={
            "item": _text,
            "file": _text,
            "kind": _one_of(words.EVIDENCE_KINDS),
            "on": _day,
            "says": _text,
            "when": _moment,
            "who": _text,
        },
    ),
)


# -- reading ----------------------------------------------------------------------------------------------


def read_list(
    file: str,
    content: bytes,
    system: str,
    *,
    folder: str = "",
    translate: Translate | None = None,
    usual: Mapping[str, str] | None = None,
) -> tuple[Form, list[ListRow], list[Problem]]:
    """Read one list.

    Args:
        file: its name, for messages.
        content: its bytes: CSV or XLSX, the first line the column names.
        system: "metric" or "inch": what bare numbers mean.
        folder: where the list lies, and the files that it names.
        translate: gives our columns for a user's headings; "" where one is left out.
        usual: column -> what it holds where the list has no such column, or an empty cell.

    Returns:
        The sort of list it is, its rows, and the problems found; rows with a problem are left out.

    Raises:
        BadList: it is no list that is known here.
    """
    lines = read_cells(file, content)
    typed = next(lines, (0, []))[1]
    first = list(islice(lines, LOOKED_AT))
    rows_shown = [cells for _, cells in first]
    header = translate(file, typed, rows_shown) if translate else [name.strip().lower() for name in typed]
    given = {name: text for name, text in (usual or {}).items() if text}
    form = _form_of(file, [name for name in header if name], given)
    if form.name != ITEMS:
        given = {}
    header += [name for name in given if name not in header]
    rows: list[ListRow] = []
    problems: list[Problem] = []
    for line, cells in chain(first, lines):
        # rows of a sheet end with their last cell that holds something
        short = len(typed) - len(cells) if content.startswith(WORKBOOK) else 0
        cells += [""] * (max(0, short) + len(header) - len(typed))
        if given:
            cells = [cell.strip() or given.get(name, "") for name, cell in zip(header, cells, strict=False)]
        _take_row(form, header, cells, (file, line, folder), system, rows, problems)
    return form, rows, problems


def _form_of(file: str, header: Sequence[str], given: Mapping[str, str]) -> Form:
    """Give the sort of list that a header tells; what all rows share may complete a list of tools."""
    for form in FORMS:
        shared = set(given) if form.name == ITEMS else set[str]()
        told = set(header) | shared
        if form.told_by <= told or (form.or_by and form.or_by <= told):
            unknown = [name for name in header if name not in form.columns]
            if unknown:
                near = get_close_matches(unknown[0], form.columns, n=1)
                raise BadList(
                    f"{file}: no list of {form.name} has a column {unknown[0]!r}",
                    hint=f"did you mean {near[0]!r}?" if near else "columns: " + ", ".join(form.columns),
                )
            if len(set(header)) < len(header):
                raise BadList(f"{file}: a column stands twice", hint="each column once: " + ", ".join(header))
            return form
    if not header:
        raise BadList(f"{file} is empty", hint="the first line of a list names its columns")
    nearest = [form for form in FORMS if form.name == ITEMS or set(header) <= set(form.columns)]
    nearest.sort(key=lambda form: form.name != ITEMS)
    lacks = [", ".join(sorted((form.or_by or form.told_by) - set(header) - set(given))) for form in nearest]
    needs = [f"a list of {form.name} needs {names}" for form, names in zip(nearest, lacks, strict=True)]
    raise BadHeadings(
        f"{file}: its columns tell no list known here",
        hint="; ".join(needs[:MOST_NEAR]) + "; for all tools alike: --owner NAME --at PLACE",
    )


def _take_row(
    form: Form,
    header: Sequence[str],
    cells: Sequence[str],
    where: tuple[str, int, str],
    system: str,
    rows: list[ListRow],
    problems: list[Problem],
) -> None:
    """Turn one row into values, or say what is wrong with it."""
    file, line, folder = where
    found: list[Problem] = []
    if len(cells) != len(header):
        why = f"{len(cells)} cells, but {len(header)} column names: a comma inside a cell needs quotes"
        found.append(Problem(file=file, line=line, column="", value=", ".join(cells)[:80], why=why))
    values: dict[str, Any] = {}
    for name, cell in zip(header, cells, strict=False):
        text = cell.strip()
        if not name:
            continue  # left out by the user
        if not text:
            if name in form.needed and len(cells) == len(header):
                found.append(Problem(file=file, line=line, column=name, value="", why="must not be empty"))
            continue
        try:
            values[name] = form.columns[name](text, system)
        except InputError as error:
            why = f"{error.message}; {error.hint}" if error.hint else error.message
            found.append(Problem(file=file, line=line, column=name, value=text[:80], why=why))
    found += [
        Problem(file=file, line=line, column=name, value="", why="the list has no such column, but needs it")
        for name in form.needed - set(header)
    ]
    problems += found
    if not found:
        rows.append(ListRow(file=file, line=line, values=values, folder=folder))
