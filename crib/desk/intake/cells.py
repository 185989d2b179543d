"""The cells of a list that a user hands in: CSV as programs write it, or the first sheet of a workbook."""

import csv
import io
import re
import zipfile
from collections.abc import Iterator, Sequence
from datetime import date, datetime, time

from crib.errors import BadList
from crib.store.cells import unguarded

LARGEST_BYTES = 64 * 1024 * 1024
MOST_ROWS = 200_000
MOST_COLUMNS = 500
# a workbook is packed: what it unpacks to is bounded too
LARGEST_UNPACKED = 128 * 1024 * 1024
MOST_PARTS = 2_000
MOST_PACKED = 200  # times smaller than it unpacks to: no honest sheet is
WORKBOOK = b"PK\x03\x04"
_HINT = "save it as CSV, UTF-8, or as XLSX"
_FORBIDDEN = (b"<!DOCTYPE", b"<!ENTITY")  # no workbook has them; they are how a small file grows without end

Row = tuple[int, list[str]]


def content_of(path: str) -> bytes:
    """Give the bytes of a file that a user names.

    Raises:
        BadList: there is no such file, or it can't be read.
    """
    try:
        with open(path, "rb") as handle:
            return handle.read()
    except (OSError, ValueError) as error:  # a path may hold what no path can
        why = error.strerror if isinstance(error, OSError) and error.strerror else error
        raise BadList(f"{path}: {why}", hint="give the path of a CSV or XLSX file") from error


def read_cells(file: str, content: bytes) -> Iterator[Row]:
    """Give the rows of a list, each with the number of its line; blank ones are left out.

    Args:
        file: its name, for messages.
        content: its bytes.

    Raises:
        BadList: it is neither, it is too large, or it is broken.
    """
    if len(content) > LARGEST_BYTES:
        raise BadList(f"{file} is larger than {LARGEST_BYTES // 2**20} MB", hint="split it")
    rows = _sheet(file, content) if content.startswith(WORKBOOK) else _lines(file, content)
    for count, (number, cells) in enumerate(rows):
        if count > MOST_ROWS or len(cells) > MOST_COLUMNS:
            raise BadList(
                f"{file}, line {number}: more than {MOST_ROWS} rows or {MOST_COLUMNS} columns",
                hint="split it",
            )
        if any(cell.strip() for cell in cells):
            yield number, [unguarded(cell) for cell in cells]


# -- text -------------------------------------------------------------------------------------------------


def _lines(file: str, content: bytes) -> Iterator[Row]:
    text = decoded(file, content)
    lines = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text), strict=True)
    try:
        for cells in lines:
            yield lines.line_num, cells
    except csv.Error as error:
        raise BadList(
            f"{file}, line {lines.line_num}: {error}", hint="check the quotation marks there"
        ) from error


# half of a pair of UTF-16, written as if it were UTF-8: no text of any encoding that is read here
_HALF_A_SIGN = re.compile(rb"\xed[\xa0-\xbf][\x80-\xbf]")


def decoded(file: str, content: bytes) -> str:
    """Give the text of a file: UTF-8, UTF-16, or the Windows-1252 of older programs.

    Raises:
        BadList: it is no text.
    """
    text = None
    for encoding in _encodings(content):
        try:
            text = content.decode(encoding)
            break
        except UnicodeDecodeError:
            continue
    if text is None or "\0" in text:
        raise BadList(f"{file} holds binary data, not text", hint=_HINT)
    return text


def _encodings(content: bytes) -> Sequence[str]:
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return ("utf-16",)
    start = content[:200]
    if start[1::2].count(0) > len(start) // 4:  # half of plain text in UTF-16 is zeros
        return ("utf-16-le",)
    if start[::2].count(0) > len(start) // 4:
        return ("utf-16-be",)
    return ("utf-8-sig",) if _HALF_A_SIGN.search(content) else ("utf-8-sig", "cp1252")


def _separator(text: str) -> str:
    first = text.lstrip("\r\n").split("\n", 1)[0].split("\r", 1)[0]
    return max(",;\t", key=first.count)


# -- workbooks --------------------------------------------------------------------------------------------


def _sheet(file: str, content: bytes) -> Iterator[Row]:
    _refuse_bomb(file, content)
    from openpyxl import load_workbook

    try:
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True, keep_links=False)
        try:
            for number, row in enumerate(book.worksheets[0].iter_rows(values_only=True), 1):
                cells = [_text(cell) for cell in row]
                while cells and not cells[-1]:
                    cells.pop()  # a sheet's rows end where anything was ever typed
                yield number, cells
        finally:
            book.close()
    except BadList:
        raise
    except Exception as error:  # whatever a broken workbook makes the library raise
        raise BadList(
            f"{file} can't be read as a workbook ({type(error).__name__})",
            hint="open and save it anew, or as CSV",
        ) from error


def _refuse_bomb(file: str, content: bytes) -> None:
    """Refuse a workbook that unpacks to far more than it should, before anything reads it."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as parts:
            infos = parts.infolist()
            unpacked = sum(info.file_size for info in infos)
            packed = any(info.file_size > MOST_PACKED * max(info.compress_size, 1024) for info in infos)
            if len(infos) > MOST_PARTS or unpacked > LARGEST_UNPACKED or packed:
                raise BadList(f"{file} unpacks to far more than a list", hint="save it as CSV")
            for info in infos:
                if info.flag_bits & 1:
                    raise BadList(f"{file} is locked with a password", hint="save it without")
                if info.filename.endswith((".xml", ".rels")) and _has_entities(parts.read(info)):
                    raise BadList(
                        f"{file} holds what no workbook holds", hint="open and save it anew, or as CSV"
                    )
    except BadList:
        raise
    except (zipfile.BadZipFile, NotImplementedError, EOFError, ValueError, OSError, RuntimeError) as error:
        raise BadList(f"{file} is a broken workbook", hint="open and save it anew, or as CSV") from error


def _has_entities(part: bytes) -> bool:
    plain = part.replace(b"\0", b"").upper()  # also where it is written two bytes a sign
    return any(word in plain for word in _FORBIDDEN)


def _text(cell: object) -> str:
    """Give a cell as people would type it."""
    match cell:
        case None:
            return ""
        case bool():
            return "yes" if cell else "no"
        case float():
            return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
        case datetime():
            return cell.date().isoformat() if cell.time() == time() else cell.isoformat()
        case date():
            return cell.isoformat()
    return str(cell)
