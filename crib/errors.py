"""Every error that crib raises on purpose, as one small tree.

CribError
├── InputError            exit 2: what was typed cannot be read
│   ├── BadQuantity       a number or unit
│   ├── BadDate           a day
│   ├── BadDesignation    a code on a box
│   ├── UnknownName       a material, machine, person … that is not on record
│   ├── BadList           a file offered for intake, with its rows
│   │   └── BadHeadings   its headings must be said first
│   └── BadExport         a backup or folder offered that is not there, or not as it was written
├── RefusedError          exit 1: understood, but the answer is no
│   ├── NothingFound
│   └── NotPossible
├── StoreError            exit 3: the store can't be used
│   ├── StoreMissing
│   ├── StoreBusy
│   ├── StoreReadOnly
│   ├── StoreNewer
│   └── StoreDamaged
└── TableError            exit 3: a table inside crib is broken (a bug of ours)

Each message says what was wrong and where; the hint says what would be right.
"""

from collections.abc import Mapping, Sequence


class CribError(Exception):
    """Root of the tree: a message for people and a code for programs.

    Args:
        message: what was wrong, and where, in one line.
        hint: what would be right, in one line; may be empty.
        details: further JSON-ready facts for programs.
    """

    code = "error"
    exit_status = 2

    def __init__(self, message: str, hint: str = "", **details: object) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint
        self.details = details

    def as_json(self) -> Mapping[str, object]:
        """Give the error document of the contract: {"error": {code, message, hint, …}}."""
        return {"error": {"code": self.code, "message": self.message, "hint": self.hint, **self.details}}


class InputError(CribError, ValueError):
    """What was typed cannot be read."""

    code = "bad_input"
    exit_status = 2


class BadQuantity(InputError):
    """A number or unit cannot be read, or its unit is of another kind than asked."""

    code = "bad_quantity"


class BadDate(InputError):
    """A day cannot be read, or there is no such day."""

    code = "bad_date"


class BadDesignation(InputError):
    """A code does not follow the standard.

    Args:
        message: one line.
        position: 1-based position of the designation system (0 where none applies).
        found: the characters that stand there.
        expected: what may stand there.
        hint: the nearest valid codes, or what to do.
        details: further JSON-ready facts.
    """

    code = "bad_designation"

    def __init__(
        self,
        message: str,
        *,
        position: int,
        found: str,
        expected: Sequence[str],
        hint: str = "",
        **details: object,
    ) -> None:
        super().__init__(message, hint, position=position, found=found, expected=list(expected), **details)
        self.position = position
        self.found = found
        self.expected = tuple(expected)


class UnknownName(InputError):
    """A name (material, machine, person, place …) is not on record.

    Args:
        what: the kind of thing, in a word.
        name: what was typed.
        nearest: names that are on record and look like it.
    """

    code = "unknown_name"

    def __init__(self, what: str, name: str, nearest: Sequence[str] = (), hint: str = "") -> None:
        if not hint:
            hint = (
                "did you mean " + ", ".join(nearest) + "?"
                if nearest
                else f"no {what} on record looks like it"
            )
        super().__init__(f"no {what} called {name!r}", hint, what=what, name=name, nearest=list(nearest))
        self.nearest = tuple(nearest)


class BadList(InputError):
    """A list offered for intake has rows that cannot be taken; none was taken.

    Args:
        message: one line: how many rows, in which file.
        rows: one mapping a problem: file, line, column, value, why.
    """

    code = "bad_list"

    def __init__(self, message: str, rows: Sequence[Mapping[str, object]] = (), hint: str = "") -> None:
        super().__init__(message, hint, rows=[dict(r) for r in rows])
        self.rows = tuple(rows)

    @staticmethod
    def wrong(row: Mapping[str, object]) -> str:
        """Say what stands in a cell, unless the reason says it, and why that can't be."""
        value, why = row["value"], str(row["why"])
        return why if not value or repr(value) in why else f"{value!r} {why}"


class BadHeadings(BadList):
    """A list whose headings tell no list known here, or not all of it: what they are must be said."""


class BadExport(InputError):
    """A backup or folder offered that is not there, or not as it was written out; nothing was taken."""

    code = "bad_export"


class RefusedError(CribError):
    """Understood, but the answer is no."""

    code = "refused"
    exit_status = 1


class NothingFound(RefusedError):
    """Nothing on record answers the question."""

    code = "nothing_found"


class NotPossible(RefusedError):
    """The records do not allow it: not enough left, already out, not here."""

    code = "not_possible"


class StoreError(CribError):
    """The store can't be used."""

    code = "store"
    exit_status = 3


class StoreMissing(StoreError):
    """There is no store at that address yet."""

    code = "store_missing"


class StoreBusy(StoreError):
    """Another writer held the store for longer than we wait."""

    code = "store_busy"


class StoreReadOnly(StoreError):
    """The file or its folder does not let us write."""

    code = "store_read_only"


class StoreNewer(StoreError):
    """The store was written by a newer crib."""

    code = "store_newer"


class StoreDamaged(StoreError):
    """The file is not a crib store, or is damaged."""

    code = "store_damaged"


class TableError(CribError):
    """A table inside crib does not hold what the code needs: a bug of ours, never the user's."""

    code = "table"
    exit_status = 3
