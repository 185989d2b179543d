"""Sheets are read back with openpyxl and csv: what users typed is text in them, never a formula."""

import csv
import io
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from nasty import NASTY, REFUSED, huge
from openpyxl import load_workbook

from crib.report.sheets import LONGEST_CELL, csv_bytes, xlsx_bytes
from crib.store.cells import guarded, unguarded

TEXTS = {**NASTY, **REFUSED}


def from_csv(content: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))


def from_xlsx(content: bytes) -> list[list[object]]:
    book = load_workbook(io.BytesIO(content))
    return [[cell.value for cell in row] for row in book.worksheets[0]]


@given(st.text())
def test_a_guard_is_taken_off_again_and_nothing_begins_a_formula(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert not guarded(text).startswith(("=", "+", "-", "@", "\t", "\r", "\n"))


def test_numbers_days_and_amounts_keep_their_kind() -> None:
    row = (-3, 2.5, Decimal("-10.50"), date(2026, 11, 27), None, True)
    assert from_csv(csv_bytes(["a"] * 6, [row]))[1] == ["-3", "2.5", "-10.50", "2026-11-27", "", "yes"]
    read = from_xlsx(xlsx_bytes("x", ["a"] * 6, [row]))[1]
    assert [read[0], read[1], read[2], read[4], read[5]] == [-3, 2.5, -10.5, None, "yes"]


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_is_a_text_cell(name: str) -> None:
    text = TEXTS[name]
    book = load_workbook(io.BytesIO(xlsx_bytes(text, [text], [(text,)])))
    cells = [cell for row in book.worksheets[0] for cell in row]
    assert [cell.data_type for cell in cells] == ["s", "s"]
    _, cell = from_csv(csv_bytes(["x"], [(text,)]))
    assert unguarded(cell[0]) == text.encode("utf-8", "replace").decode()
    assert not cell[0].startswith(("=", "+", "-", "@", "\t", "\r", "＝"))


def test_a_cell_longer_than_a_sheet_can_hold_is_cut_visibly() -> None:
    read = from_xlsx(xlsx_bytes("x", ["a"], [(huge(),)]))[1][0]
    assert isinstance(read, str)
    assert len(read) == LONGEST_CELL
    assert read.endswith("…")
