"""How answers leave the program: one JSON document, or lines for people."""

import math
import sys
from collections.abc import Callable, Iterable, Mapping
from functools import wraps
from typing import TYPE_CHECKING, Any

import click

from crib.desk.keeping.address import store_address
from crib.errors import BadList, CribError

if TYPE_CHECKING:
    from crib.desk.why.chain import Chain


# controls, direction marks and other unseen signs, halves of signs, and Unicode's own line and paragraph ends
MOST_ROWS = 20
_UNSAFE = ("Cc", "Cf", "Cs", "Zl", "Zp")


def document(value: object) -> object:
    """Turn a desk answer into JSON-ready data: fields become keys, a trailing underscore is dropped."""
    if hasattr(value, "_fields"):
        return {name.rstrip("_"): document(entry) for name, entry in value._asdict().items()}  # type: ignore[attr-defined]
    if (names := _field_names(value)) is not None:
        return {name.rstrip("_"): document(getattr(value, name)) for name in names}
    if isinstance(value, Mapping):
        return {str(key): document(entry) for key, entry in value.items()}
    if isinstance(value, (list, tuple, set, frozenset)):
        return [document(entry) for entry in value]
    if isinstance(value, float):
        # nine digits: far below any reading, and no 0.30000000000000004; JSON knows no infinity
        return float(f"{value:.9g}") if math.isfinite(value) else None
    if value is None or isinstance(value, (str, int, bool)):
        return value
    return str(value)


def _field_names(answer: object) -> Iterable[str] | None:
    """Give the names of a dataclass's fields, None for anything else; importing dataclasses takes 1 ms."""
    return getattr(answer, "__dataclass_fields__", None)


def _json(value: object) -> str:
    import json  # 1 ms, and people's answers don't need it

    return json.dumps(document(value), ensure_ascii=False, indent=2)


def clean(line: str) -> str:
    """Make one line safe for a terminal: users' text may hold escapes, line breaks or direction marks."""
    if line.isprintable():  # nearly every line; sign by sign takes 30 times as long
        return line
    import unicodedata  # for what nobody types on purpose

    return "".join(ch if ch == "\t" or unicodedata.category(ch) not in _UNSAFE else "�" for ch in line)


class Output:
    """Prints one answer, as JSON on stdout or as lines for people.

    Args:
        as_json: True for exactly one JSON document.
    """

    def __init__(self, as_json: bool) -> None:
        self.as_json = as_json

    def give(self, answer: object, lines: Callable[[], Iterable[str]]) -> None:
        """Print an answer.

        Args:
            answer: a dataclass, mapping or list; the JSON document.
            lines: called only when people read it.
        """
        if self.as_json:
            click.echo(_json(answer))
        else:
            for line in lines():
                click.echo(clean(line))

    def give_why(self, answer: Any, chain: "Chain", lines: Callable[[], Iterable[str]], system: str) -> None:
        """Print an answer and the chain behind it; in JSON the chain is its key "why".

        Args:
            answer: a dataclass.
            chain: what is behind it.
            lines: the answer for people.
            system: units of the user.
        """
        from crib.desk.why.lines import chain_lines

        whole = {name: getattr(answer, name) for name in _field_names(answer) or ()} | {"why": chain}
        self.give(whole, lambda: (*lines(), "", *chain_lines(chain, system)))

    def fail(self, error: CribError) -> int:
        """Print an error and give its exit status."""
        if self.as_json:
            click.echo(_json(error.as_json()))
        else:
            sys.stdout.flush()
            click.echo(clean(f"crib: {error.message}"), err=True)
            if isinstance(error, BadList):
                for row in error.rows[:MOST_ROWS]:
                    column = f"{row['column']} " if row["column"] else ""
                    click.echo(clean(f"  {row['file']}:{row['line']}  {column}{error.wrong(row)}"), err=True)
                if more := len(error.rows[MOST_ROWS:]):
                    click.echo(f"  … and {more} more", err=True)
            if error.hint:
                click.echo(clean(f"      {error.hint}"), err=True)
        return error.exit_status


def with_output(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the option --json, and an Output as argument `out` in its place."""

    @click.option("--json", "as_json", is_flag=True, help="One JSON document, for programs.")
    @wraps(function)
    def wrapped(*args: Any, as_json: bool, **kwargs: Any) -> Any:
        return function(*args, out=Output(as_json), **kwargs)

    return wrapped


def with_why(help: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Give a command the option --why [N]: None where it is not asked for, else a rank, 1 if none is said."""
    return click.option(
        "--why", metavar="[N]", is_flag=False, flag_value=1, default=None, type=click.IntRange(1), help=help
    )


def with_store(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the option --db: the store's address, else from CRIB_DB or the data folder."""

    @click.option("--db", metavar="FILE|ADDRESS", help="The store: a file, or postgresql://… (else CRIB_DB).")
    @wraps(function)
    def wrapped(*args: Any, db: str | None, **kwargs: Any) -> Any:
        return function(*args, db=store_address(db), **kwargs)

    return wrapped
