"""crib decode --file: a file of codes, one a line, each read on its own."""

import sys
from collections.abc import Iterable, Iterator, Mapping
from contextlib import nullcontext

from crib.cli.output import Output
from crib.desk.asking.codes import decode_any
from crib.errors import CribError, InputError
from crib.trade.designation.reading import InsertReading

STDIN = "-"
COMMENT = "#"


def decode_file(path: str, out: Output) -> int:
    """Read every code of a file and print one result each.

    Args:
        path: of the file; a dash for standard input.
        out: where to print.

    Returns:
        The exit status: 1 if any code could not be read.

    Raises:
        InputError: the file cannot be opened.
    """
    failed = 0

    def results() -> Iterator[Mapping[str, object]]:
        nonlocal failed
        for number, code in codes(path):
            try:
                yield {"line": number, "typed": code, "reading": decode_any(code)}
            except CribError as error:
                failed += 1
                yield {"line": number, "typed": code, **error.as_json()}

    if out.as_json:
        out.give(list(results()), lambda: ())
    else:
        out.give(None, lambda: map(line_of, results()))
    return 1 if failed else 0


def codes(path: str) -> Iterator[tuple[int, str]]:
    """Give the codes of a file with their line numbers; blank lines and comments are passed over.

    Raises:
        InputError: the file cannot be opened.
    """
    try:
        # what is no UTF-8 becomes a character that no code holds, and its line says so
        with (
            nullcontext(sys.stdin)
            if path == STDIN
            else open(path, encoding="utf-8-sig", errors="replace") as lines
        ):
            for number, line in enumerate(lines, start=1):
                code = line.partition(COMMENT)[0].strip()
                if code:
                    yield number, code
    except OSError as error:
        why = error.strerror or "it cannot be read"
        raise InputError(f"{path}: {why}", "name a text file with one code a line") from error


def line_of(result: Mapping[str, object]) -> str:
    """Put one result into one line."""
    where = f"{result['line']:>5}  {result['typed']}"
    error = result.get("error")
    if isinstance(error, Mapping):
        return f"{where}: ! {error['message']}; {error['hint']}"
    reading = result["reading"]
    said = [getattr(reading, "kind", ""), *_said(reading)]
    return f"{where}: {getattr(reading, 'designation', '')}, {', '.join(said)}"


def _said(reading: object) -> Iterable[str]:
    """Give the few words that tell one reading from another."""
    if isinstance(reading, InsertReading):
        if reading.equivalent:
            yield f"= {reading.equivalent}"
        if reading.IC_mm is not None:
            yield f"IC {reading.IC_mm:g} mm"
        yield f"thick {reading.S_mm:g} mm"
        if reading.RE_mm is not None:
            yield f"nose {reading.RE_mm:g} mm"
        return
    for field, word, unit in (
        ("insert_seat", "takes", ""), ("KAPR_deg", "entering angle", "°"), ("LF_mm", "length", " mm"),
        ("material", "", ""), ("work", "for", ""), ("temper", "", ""),
    ):  # fmt: skip
        value = getattr(reading, field, None)
        if value is not None:
            shown = f"{value:g}" if isinstance(value, float) else str(value)
            yield f"{word} {shown}{unit}".strip()
