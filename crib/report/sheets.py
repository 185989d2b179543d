"""Lists for spreadsheets: CSV and XLSX. What users typed is data there, never a formula."""

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from unicodedata import category

from crib.store.cells import guarded

Cell = str | int | float | Decimal | date | datetime | bool | None

LONGEST_CELL = 32_767  # what a cell of an XLSX sheet can hold


def csv_bytes(headings: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """Write a list as CSV: UTF-8 with the mark that spreadsheets look for, commas, a line for each row.

    Args:
        headings: of the columns.
        rows: cells; numbers, days and amounts stand as they are, text is guarded.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(headings)
    for row in rows:
        writer.writerow([guarded(cell) if isinstance(cell, str) else _plain(cell) for cell in row])
    return out.getvalue().encode("utf-8-sig", "replace")


def xlsx_bytes(title: str, headings: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """Write a list as a workbook of one sheet; text cells are text whatever they begin with.

    Args:
        title: name of the sheet.
        headings: of the columns; they stay in sight.
        rows: cells; numbers, days and amounts keep their kind.
    """
    from openpyxl import Workbook
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.styles import Font
    from openpyxl.worksheet._write_only import WriteOnlyWorksheet

    book = Workbook(write_only=True)
    sheet = book.create_sheet(_sheet_name(title))
    assert isinstance(sheet, WriteOnlyWorksheet)
    sheet.freeze_panes = "A2"

    def cell(value: Cell, bold: bool = False) -> Any:
        plain: Any = _plain(value)
        made = WriteOnlyCell(sheet, _storable(plain) if isinstance(plain, str) else plain)
        if isinstance(plain, str):
            made.data_type = "s"  # else a text that begins with = would become a formula
        if bold:
            made.font = Font(bold=True)
        return made

    sheet.append([cell(heading, bold=True) for heading in headings])
    for row in rows:
        sheet.append([cell(value) for value in row])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _plain(cell: Cell) -> str | int | float | Decimal | date | None:
    """Give a cell as a sheet can hold it; a moment keeps its zone, which no sheet's own kind does."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    return cell.isoformat() if isinstance(cell, datetime) else cell


def _storable(text: str) -> str:
    """Give a text that a workbook can hold: no controls, no halves of signs, not longer than a cell."""
    if len(text) > LONGEST_CELL:
        text = text[: LONGEST_CELL - 1] + "…"
    return "".join("�" if category(sign) in ("Cc", "Cs") and sign not in "\t\n" else sign for sign in text)


def _sheet_name(title: str) -> str:
    return (
        "".join(" " if sign in "[]:*?/\\" else sign for sign in _storable(title)).strip("' ")[:31] or "list"
    )
