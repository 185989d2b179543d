"""Reading lists: what a file may look like, and what is said of one that can't be read."""

import csv
import io
import re
from collections.abc import Sequence

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from crib.desk.intake.lists import FORMS, Problem, read_list
from crib.errors import BadList
from crib.store.cells import unguarded

HEADER = "tag,owner,place,code,label,quantity,note"


def read_items(
    text: str | bytes, system: str = "metric"
) -> tuple[list[dict[str, object]], Sequence[Problem]]:
    content = text if isinstance(text, bytes) else text.encode()
    form, rows, problems = read_list("a.csv", content, system)
    assert form.name == "items"
    return [dict(row.values) for row in rows], problems


def refused(content: str | bytes) -> BadList:
    with pytest.raises(BadList) as raised:
        read_list("a.csv", content if isinstance(content, bytes) else content.encode(), "metric")
    assert raised.value.message.startswith("a.csv")
    assert raised.value.hint
    return raised.value


# -- what is taken ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "content",
    [
        b"tag,owner,place,label\nX1,Ada,shop,bit\n",
        b"tag,owner,place,label\r\nX1,Ada,shop,bit\r\n",
        b"tag,owner,place,label\rX1,Ada,shop,bit",
        b"\xef\xbb\xbftag,owner,place,label\nX1,Ada,shop,bit\n",
        b"tag;owner;place;label\nX1;Ada;shop;bit\n",
        b"tag\towner\tplace\tlabel\nX1\tAda\tshop\tbit\n",
        b"TAG, Owner ,place,Label\n X1 , Ada ,shop, bit \n",
        b'"tag","owner","place","label"\n"X1","Ada","shop","bit"\n',
        b"tag,owner,place,label\n\n,,,\nX1,Ada,shop,bit\n\n",
        b"label,place,owner,tag\nbit,shop,Ada,X1",
    ],
    ids=["lf", "crlf", "cr", "bom", "semicolons", "tabs", "case", "quotes", "blank lines", "other order"],
)
def test_the_same_list_as_different_programs_write_it(content: bytes) -> None:
    rows, problems = read_items(content)
    assert problems == []
    assert rows == [{"tag": "X1", "owner": "Ada", "place": "shop", "label": "bit"}]


def test_a_cell_may_hold_separators_quotes_and_line_breaks() -> None:
    rows, problems = read_items(f'{HEADER}\nX1,Ada,shop,,"bit, ""keen""\nsecond line",2,\n')
    assert problems == []
    assert rows[0]["label"] == 'bit, "keen"\nsecond line'
    assert rows[0]["quantity"] == 2


def test_semicolons_go_with_decimal_commas() -> None:
    rows, problems = read_items("tag;owner;place;dmin;reach\nB1;Ada;shop;16,5;1.250,5 mm\n")
    assert problems == []
    assert rows[0]["dmin"] == pytest.approx(16.5)
    assert rows[0]["reach"] == pytest.approx(1250.5)


def test_bare_numbers_take_the_units_that_were_told() -> None:
    text = "tag,owner,place,dmin,reach,shank\nB1,Ada,shop,2,50 mm,1 1/4\n"
    assert read_items(text)[0][0]["dmin"] == pytest.approx(2.0)
    rows, _ = read_items(text, "inch")
    # 1 in is 25.4 mm exactly (ISO 80000-3): told units win over the list's own system
    assert rows[0]["dmin"] == pytest.approx(50.8)
    assert rows[0]["reach"] == pytest.approx(50.0)
    assert rows[0]["shank"] == pytest.approx(31.75)


def test_rows_keep_the_line_where_they_stand() -> None:
    _, rows, _ = read_list(
        "a.csv", f'{HEADER}\n\nX1,Ada,shop,,"two\nlines",,\nX2,A,s,,,,\n'.encode(), "metric"
    )
    assert [(row["tag"], row.line) for row in rows] == [("X1", 4), ("X2", 5)]


@pytest.mark.parametrize(
    ("header", "name"),
    [
        ("name,mark,kind,note", "people"),
        ("place,kind,inside", "places"),
        ("place,kind,speeds_rev_min", "machines"),
        ("tag,owner,place", "items"),
        ("gauge,length,owner,present", "rods"),
        ("gauge,on,result,due,by", "checks"),
        ("when,who,what,item,quantity,to,why", "history"),
        ("setup,point,stiffness,frequency,damping", "setups"),
        ("when,op,material,result", "cuts"),
    ],
)
def test_a_list_is_known_by_its_columns(header: str, name: str) -> None:
    form, rows, problems = read_list("x.csv", header.encode(), "metric")
    assert (form.name, rows, problems) == (name, [], [])


# -- a file that is no list -------------------------------------------------------------------------------


def test_an_empty_file_says_what_its_first_line_must_be() -> None:
    for content in (b"", b"\n", b"\xef\xbb\xbf"):
        assert refused(content).message == "a.csv is empty"


@pytest.mark.parametrize(
    ("header", "told"),
    [
        ("code,quantity", "a list of items needs owner, place"),
        ("place,kind", "a list of places needs inside"),
        ("gauge", "a list of rods needs length"),
    ],
)
def test_columns_that_tell_no_list_get_what_the_nearest_list_lacks(header: str, told: str) -> None:
    error = refused(header.encode())
    assert told in error.hint
    assert len(error.hint) < 160


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"a,b,c\n1,2,3\n", "tell no list known here"),
        (b"tag,owner,place,colour\nX1,Ada,shop,red\n", "no column|no list of items has a column 'colour'"),
        (b"tag,owner,place,label,label\nX1,Ada,shop,a,b\n", "stands twice"),
        (b"tag,owner,place,Label,label\nX1,Ada,shop,a,b\n", "stands twice"),
        (b"tag,owner,place\nX1,Ad\x81,shop\n", "binary"),
        (b"tag,owner,place\nX1,Ada\0,shop\n", "binary"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "binary"),
        (b"PK\x03\x04\x14\0\0\0", "broken workbook"),
        (b'tag,owner,place\nX1,"Ada,shop\nX2,Ada,shop\n', "line 3"),
        (b'tag,owner,place\nX1,"Ada"x,shop\n', "line 2"),
    ],
)
def test_a_file_that_is_no_list_is_refused_in_one_clear_line(content: bytes, said: str) -> None:
    error = refused(content)
    assert "\n" not in error.message
    assert re.search(said, error.message)


def test_a_slip_in_a_column_name_is_told() -> None:
    assert "did you mean 'label'?" in refused("tag,owner,place,lable\n").hint


def test_a_file_beyond_the_limit_is_refused_before_it_is_read_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("crib.desk.intake.cells.LARGEST_BYTES", 100)
    assert "larger than" in refused(b"tag,owner,place\n" + b"X1,Ada,shop\n" * 20).message


def test_a_cell_beyond_the_csv_reader_s_limit_is_refused() -> None:
    assert "line" in refused(b"tag,owner,place\nX1,Ada," + b"x" * 200_000).message


# -- a row that can't be taken ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("columns", "cells", "column", "why"),
    [
        ("dmin", "5 kN", "dmin", "force"),
        ("dmin", "wide", "dmin", "wide"),
        ("quantity", "-1", "quantity", "no count"),
        ("quantity", "1.5", "quantity", "no count"),
        ("quantity", "²", "quantity", "no count"),
        ("quantity", "9" * 12, "quantity", "no count"),
        ("due_back", "tomorrow", "due_back", "2026-11-25"),
        ("due_back", "2026-02-30", "due_back", "no date"),
        ("condition", "shiny", "condition", "one of: new, good"),
        ("kind", "spanner", "kind", "one of: insert"),
        ("hand", "both", "hand", "left, right or neutral"),
        ("label", "x" * 10_001, "label", "10001 characters"),
        ("measures", "nothing", "measures", "one of"),
    ],
)
def test_a_cell_that_can_t_be_read_says_where_and_why(
    columns: str, cells: str, column: str, why: str
) -> None:
    rows, problems = read_items(f"tag,owner,place,{columns}\nX0,Ada,shop,\nX1,Ada,shop,{cells}\n")
    assert [row["tag"] for row in rows] == ["X0"]
    (problem,) = problems
    assert (problem.file, problem.line, problem.column) == ("a.csv", 3, column)
    assert why in problem.why
    assert len(problem.value) <= 80


@pytest.mark.parametrize("row", ["X1,Ada", "X1,Ada,shop,extra", "X1"])
def test_a_wrong_number_of_cells_is_told(row: str) -> None:
    rows, problems = read_items(f"tag,owner,place\n{row}\nX2,Ada,shop\n")
    assert [kept["tag"] for kept in rows] == ["X2"]
    assert all(problem.line == 2 for problem in problems)
    assert "3 column names" in problems[0].why


def test_every_empty_needed_cell_is_told_at_once() -> None:
    rows, problems = read_items("tag,owner,place,label\n,,,a thing\n")
    assert rows == []
    assert {problem.column for problem in problems} == {"owner", "place"}, "a tag is given by crib"


def test_a_needed_column_that_is_missing_is_told_for_each_row() -> None:
    rows, problems = read_items("tag,owner\nX1,Ada\nX2,Ada\n")
    assert rows == []
    assert [(problem.line, problem.column) for problem in problems] == [
        (2, "place"),
        (3, "place"),
    ]


@given(st.binary(max_size=200))
@example(b"tag,owner,place\n\xff")
@example(b'tag,owner,place\n"')
def test_any_bytes_are_a_list_or_refused_clearly(content: bytes) -> None:
    try:
        form, _, _ = read_list("a.csv", content, "metric")
    except BadList as error:
        assert error.message
        assert error.hint
    else:
        assert form in FORMS


@given(st.lists(st.text(max_size=20), min_size=3, max_size=5))
def test_a_row_is_taken_or_told_or_blank(cells: list[str]) -> None:
    out = io.StringIO()
    csv.writer(out).writerow(cells)
    content = ("tag,owner,place\n" + out.getvalue()).encode("utf-8", "replace")
    if b"\0" in content:
        refused(content)
        return
    rows, problems = read_items(content)
    taken = bool(rows)
    assert [taken, bool(problems), not any(cell.strip() for cell in cells)].count(True) == 1
    if taken:
        typed = zip(("tag", "owner", "place"), (unguarded(cell).strip() for cell in cells), strict=False)
        assert rows == [{name: cell for name, cell in typed if cell}]
