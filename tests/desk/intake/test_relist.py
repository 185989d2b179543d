"""A user's own list: headings are mapped, tags given, and handed in again it updates instead of doubling."""

from pathlib import Path

import pytest
from small_shop import open_shop

from crib.desk.asking.ask import find
from crib.desk.asking.story import story
from crib.desk.intake.intake import Taken, intake
from crib.desk.intake.lists import ITEM_COLUMNS
from crib.desk.intake.mapping import HOLDS, file_mapping, headings_of, map_header, mapping_bytes, said_mapping
from crib.desk.keeping.audit import audit
from crib.errors import BadHeadings, BadList, InputError
from crib.report.sheets import xlsx_bytes

OWN = """Insert Code;Qty;Location;Whose;Grade;Colour
CNMG 120408;10;shop / bay;Ada Quill;tough;blue
DCMT 11T304;5;shop;Ada Quill;;
"""


@pytest.fixture
def shop(sqlite_url: str, tmp_path: Path) -> str:
    return open_shop(sqlite_url, tmp_path / "lists")


def take(shop: str, tmp_path: Path, content: str | bytes, **how: object) -> Taken:
    file = tmp_path / "own.xlsx"
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    return intake(shop, [str(file)], **how)  # type: ignore[arg-type]


def test_own_headings_are_guessed_and_shown_what_is_unknown_is_asked(shop: str, tmp_path: Path) -> None:
    with pytest.raises(BadList, match="nothing is known of the heading 'Colour'"):
        take(shop, tmp_path, OWN)
    taken = take(shop, tmp_path, OWN, headings=said_mapping(["Colour="]))
    assert [(one.heading, one.column, one.how) for one in taken.mapped] == [
        ("Insert Code", "code", "guessed"),
        ("Qty", "quantity", "guessed"),
        ("Location", "place", "guessed"),
        ("Whose", "owner", "guessed"),
        ("Colour", "", "said"),
    ]
    assert [row.how for row in taken.rows] == ["new", "new"]
    (item,) = find(shop, "tag=I01").items
    assert (item.designation, item.quantity, item.place, item.owner) == (
        "CNMG120408",
        10,
        "shop / bay",
        "Ada Quill",
    )


def test_a_kept_mapping_serves_again(shop: str, tmp_path: Path) -> None:
    taken = take(shop, tmp_path, OWN, headings=said_mapping(["Colour=note"]))
    kept = tmp_path / "mapping.csv"
    kept.write_bytes(mapping_bytes(taken.mapped))
    again = take(shop, tmp_path, OWN, headings=file_mapping(str(kept)), update=True, dry_run=True)
    assert [row.how for row in again.rows] == ["same", "same"]
    with pytest.raises(BadList):
        file_mapping(str(tmp_path / "none.csv"))
    with pytest.raises(InputError, match="no column 'size'"):
        said_mapping(["A=size"])
    with pytest.raises(BadList, match="both mean"):
        map_header("a.csv", ["Qty", "Pieces"], {})


def test_foreign_headings_are_asked_for_in_one_short_line_with_likely_columns(
    shop: str, tmp_path: Path
) -> None:
    """By a list of tools whose headings are all in another language."""
    own = "Platte;Anzahl;Zustand;Lagerort\nCNMG 120408;10;new;shop / bay\nDCMT 11T304;5;worn;shop / bay\n"
    with pytest.raises(BadHeadings) as refused:
        take(shop, tmp_path, own)
    error = refused.value
    assert error.message == "own.xlsx: nothing is known of the heading 'Platte' and 3 more"
    assert '--map "Platte=code" --map "Anzahl=quantity" --map "Zustand=condition"' in error.hint
    assert len(error.hint) < 200
    found = headings_of([str(tmp_path / "own.xlsx")], {})
    assert [(one.heading, one.how, one.likely[0], one.example) for one in found] == [
        ("Platte", "unknown", "code", "CNMG 120408"),
        ("Anzahl", "unknown", "quantity", "10"),
        ("Zustand", "unknown", "condition", "new"),
        ("Lagerort", "unknown", "place", "shop / bay"),
    ]


def test_a_column_is_suggested_for_one_heading_only(shop: str, tmp_path: Path) -> None:
    with pytest.raises(BadHeadings) as refused:
        take(shop, tmp_path, "xx;yy;zz\n1;2;abc\n")
    assert '--map "xx=quantity" --map "yy=note" --map "zz="' in refused.value.hint
    found = headings_of([str(tmp_path / "own.xlsx")], {"xx": "quantity"})
    assert [one.likely for one in found] == [("note",), ("note",), ("note",)]


def test_what_every_column_holds_is_said() -> None:
    assert set(HOLDS) == set(ITEM_COLUMNS)


def test_owner_and_place_may_be_said_for_all_rows(shop: str, tmp_path: Path) -> None:
    content = xlsx_bytes("x", ["Designation", "Pieces"], [("CNMG 120408", 10), ("DCMT 11T304", None)])
    taken = take(shop, tmp_path, content, owner="Ada Quill", place="shop / bay")
    assert [row.what for row in taken.rows] == [
        "insert I01: insert C, nose 0.8",
        "insert I02: insert D, nose 0.4",
    ]
    assert {item.place for item in find(shop, "kind=insert").items} == {"shop / bay"}


def test_handed_in_again_it_is_refused_or_updates_by_lines_of_the_ledger(shop: str, tmp_path: Path) -> None:
    first = "tag,owner,place,code,grade,quantity,edges_left,condition,note\n"
    take(
        shop,
        tmp_path,
        first + "I7,Ada Quill,shop,CNMG120408,tough,10,30,good,\nH1,Ada Quill,shop,MWLNL2525M08,,1,,good,\n",
    )
    with pytest.raises(BadList) as told:
        take(shop, tmp_path, first + "I7,Ada Quill,shop,CNMG120408,tough,10,30,good,\n")
    assert told.value.rows[0]["why"] == "is on record already"
    second = (
        first
        + "I7,Ada Quill,shop / bay,CNMG120408,tougher,8,20,worn,seen\nH1,Ada Quill,shop,MWLNL2525M08,,,,,\n"
    )
    dry = take(shop, tmp_path, second, update=True, dry_run=True)
    taken = take(shop, tmp_path, second, update=True)
    assert dry.rows == taken.rows
    assert [(row.how, row.what) for row in taken.rows] == [
        (
            "changed",
            "insert I7: note nothing → seen; grade tough → tougher; moved: shop → shop / bay; "
            "regraded: good → worn; counted: 10 → 8; edges 30 → 20",
        ),
        ("same", "holder H1: left-hand holder 95°, takes WN..08"),
    ]
    assert [line.what for line in story(shop, "I7").ledger] == ["added", "moved", "regraded", "counted"]
    assert [row.how for row in take(shop, tmp_path, second, update=True).rows] == ["same", "same"]
    assert audit(shop).sound


def test_without_a_tag_a_row_means_what_has_its_code_grade_owner_and_place(shop: str, tmp_path: Path) -> None:
    head = "owner,place,code,grade,quantity\n"
    take(shop, tmp_path, head + "Ada Quill,shop,CNMG120408,tough,10\nAda Quill,shop,CNMG120408,hard,3\n")
    with pytest.raises(BadList) as told:
        take(shop, tmp_path, head + "Ada Quill,shop,cnmg 12 04 08,tough,10\n")
    assert told.value.rows[0]["why"] == "is on record already, as I01"
    taken = take(
        shop,
        tmp_path,
        head + "Ada Quill,shop,CNMG 120408,Tough,4\nBert Stone,shop,CNMG120408,tough,1\n",
        update=True,
    )
    assert [(row.how, row.what.split(":")[0]) for row in taken.rows] == [
        ("changed", "insert I01"),
        ("new", "insert I03"),
    ]
    assert [find(shop, f"tag=I0{n}").items[0].quantity for n in (1, 2, 3)] == [4, 3, 1]


@pytest.mark.parametrize(
    ("row", "column", "why"),
    [
        ("I7,Bert Stone,shop,CNMG120408,10,", "owner", "another owner on record"),
        ("I7,Ada Quill,shop,DCMT11T304,10,", "code", "another tool needs another tag"),
        ("I7,Ada Quill,shop,CNMG120408,2,99", "edges_left", "more than 2 x 4 edges"),
    ],
)
def test_what_a_list_can_t_change_is_refused_and_all_of_it(
    shop: str, tmp_path: Path, row: str, column: str, why: str
) -> None:
    head = "tag,owner,place,code,quantity,edges_left\n"
    take(shop, tmp_path, head + "I7,Ada Quill,shop,CNMG120408,10,30\n")
    with pytest.raises(BadList) as told:
        take(shop, tmp_path, head + "I8,Ada Quill,shop,CNMG120408,1,\n" + row + "\n", update=True)
    assert (told.value.rows[0]["column"], why in str(told.value.rows[0]["why"])) == (column, True)
    assert audit(shop).items == 1
    with pytest.raises(BadList):  # what has no row of its own can't be told from a new one
        take(shop, tmp_path, "when,who,what,item,to\n2026-01-01,Ada Quill,lent,I7,Bert Stone\n", update=True)
