"""A list may be CSV in any encoding, or a workbook; broken and hostile ones are refused in one line."""

import io
import zipfile
from datetime import date

import pytest
from nasty import NASTY
from openpyxl import Workbook

from crib.desk.intake import cells
from crib.desk.intake.cells import read_cells
from crib.errors import BadList
from crib.report.sheets import csv_bytes, xlsx_bytes

ROWS = [["tag", "Größe"], ["X1", "12,5 mm"]]


def workbook(*rows: tuple[object, ...]) -> bytes:
    book = Workbook()
    sheet = book.worksheets[0]
    for row in rows:
        sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def with_part(content: bytes, name: str, part: bytes) -> bytes:
    """Give a workbook with one of its parts replaced."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for info in old.infolist():
            new.writestr(info.filename, part if info.filename == name else old.read(info))
        if name not in old.namelist():
            new.writestr(name, part)
    return out.getvalue()


def refused(content: bytes) -> BadList:
    with pytest.raises(BadList) as told:
        list(read_cells("a.xlsx", content))
    assert told.value.message.startswith("a.xlsx")
    assert told.value.hint
    return told.value


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_any_encoding_and_separator(encoding: str, separator: str) -> None:
    text = separator.join(ROWS[0]) + "\r\n" + separator.join(f'"{cell}"' for cell in ROWS[1]) + "\r\n"
    assert [row for _, row in read_cells("a.csv", text.encode(encoding))] == ROWS


def test_a_workbook_gives_cells_as_people_type_them() -> None:
    content = workbook(("a", "b", "c", "d", "e"), (1, 2.5, date(2026, 11, 27), True, None), (), ("x",))
    assert list(read_cells("a.xlsx", content)) == [
        (1, ["a", "b", "c", "d", "e"]),
        (2, ["1", "2.5", "2026-11-27", "yes"]),
        (4, ["x"]),
    ]


@pytest.mark.parametrize("name", [name for name in NASTY if name not in ("blank", "other breaks")])
def test_what_crib_writes_is_read_back_as_data(name: str) -> None:
    text = NASTY[name]
    assert [row for _, row in read_cells("a.csv", csv_bytes(["x"], [(text,)]))] == [["x"], [text]]
    ((_, heading), (_, row)) = read_cells("a.xlsx", xlsx_bytes("x", ["x"], [(text,)]))
    assert (heading, len(row)) == (["x"], 1)


def test_a_bomb_is_refused_before_it_unpacks() -> None:
    good = workbook(("tag",), ("X1",))
    huge = b"<worksheet>" + b" " * (50 * 1024 * 1024)
    assert "unpacks to far more" in refused(with_part(good, "xl/worksheets/sheet1.xml", huge)).message
    many = io.BytesIO()
    with zipfile.ZipFile(many, "w") as parts:
        for n in range(cells.MOST_PARTS + 1):
            parts.writestr(f"p{n}", b"")
    assert "unpacks to far more" in refused(many.getvalue()).message


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_entities_that_grow_are_refused(encoding: str) -> None:
    laughs = '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">]><worksheet>&a;</worksheet>'
    good = workbook(("tag",), ("X1",))
    assert (
        "no workbook holds"
        in refused(with_part(good, "xl/worksheets/sheet1.xml", laughs.encode(encoding))).message
    )


@pytest.mark.parametrize(
    "content",
    [
        b"PK\x03\x04",
        b"PK\x03\x04" + b"x" * 1000,
        workbook(("tag",))[:-300],
        with_part(workbook(("tag",)), "xl/worksheets/sheet1.xml", b"<broken"),
        with_part(workbook(("tag",)), "xl/workbook.xml", b"<workbook/>"),
        b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600,
    ],
    ids=["head only", "rubbish", "cut", "broken sheet", "no sheets", "picture", "old workbook"],
)
def test_what_is_broken_or_no_list_is_refused(content: bytes) -> None:
    refused(content)


def test_too_many_rows_or_columns_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cells, "MOST_ROWS", 3)
    refused(b"a\n" * 10)
    refused(b"a," * 600)
    monkeypatch.setattr(cells, "LARGEST_BYTES", 10)
    refused(b"a" * 11)
