"""The list for insurance and the settling up: sums, shares, gaps, four columns."""

import csv
import io
from datetime import date, timedelta
from pathlib import Path

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader
from small_shop import open_shop

from crib.cli.list_ import leaving_lines
from crib.desk.owed.insurance import insurance
from crib.desk.owed.leaving import leaving
from crib.desk.owed.worth import WorthRequest, record
from crib.errors import InputError, UnknownName
from crib.report.listing import listing_bytes
from crib.report.lists import insurance_list, leaving_list

ITEMS = """tag,kind,code,label,owner,place,condition,quantity,mark,serial,lent_to
A1,other,,parallels,Ada Quill,shop / bay,good,3,AQ,,
A2,other,,vee block,Ada Quill,Ada's home,good,1,AQ 2,77,
A3,other,,square,Ada Quill,shop / bay,good,1,,,
A4,other,,scriber,Ada Quill,shop / bay,good,1,AQ 4,,Bert Stone
A5,other,,old file,Ada Quill,shop / bay,scrap,1,AQ,,
B1,other,,parallels,Bert Stone,shop / bay,good,1,A.Q,,
M1,other,,surface plate,Moor End Works,shop,good,1,MEW 1,,
M2,other,,dial,Moor End Works,shop,good,1,MEW 2,,Ada Quill
"""
TODAY = date(2026, 11, 27)


@pytest.fixture
def shop(sqlite_url: str, tmp_path: Path) -> str:
    open_shop(sqlite_url, tmp_path / "lists", items=ITEMS)
    two_years_ago = TODAY - timedelta(days=2 * 365 + 1)
    record(sqlite_url, "A1", WorthRequest(replacement="12.35 EUR", on="2026-01-05"))
    record(sqlite_url, "A2", WorthRequest(replacement="200 EUR", on=two_years_ago.isoformat()))
    record(sqlite_url, "M1", WorthRequest(paid="150 GBP", got="2026-02-01", origin="bought"))
    return sqlite_url


def test_values_are_summed_by_place_owner_and_currency_and_shares_are_of_all(shop: str) -> None:
    found = insurance(shop, on=TODAY)
    assert [line.tag for line in found.lines] == ["A2", "M1", "M2", "A1", "A3", "A4", "B1"]
    by_room = {(one.place, one.owner): (one.worth, one.without) for one in found.sums}
    assert by_room["shop / bay", "Ada Quill"] == (("37.05 EUR",), 2)  # three pieces of 12.35
    assert by_room["shop", "Moor End Works"] == (("150.00 GBP",), 1)
    assert "237.05 EUR and 150.00 GBP; 4 have no value" in found.verdict
    assert (found.with_photo, found.with_young_price) == (0, round(100 * 2 / 7))
    gaps = {line.tag: line.gaps for line in found.lines}
    assert gaps["A2"] == ("PRICE OLDER THAN TWO YEARS", "NO PHOTO")
    assert gaps["A1"] == ("NO PHOTO",)
    assert [line.tag for line in found.worst][:2] == ["A3", "A2"]
    assert [line.tag for line in found.worst][-2:] == ["M1", "A1"]


def test_of_one_owner_at_one_place(shop: str) -> None:
    found = insurance(shop, owner="me", place="bay", on=TODAY)
    assert [line.tag for line in found.lines] == ["A1", "A3", "A4"]
    with pytest.raises(UnknownName):
        insurance(shop, owner="nobody")


def test_each_thing_stands_in_one_column_with_its_reason(shop: str) -> None:
    found = leaving(shop, "AQ", on=TODAY)
    assert [one.tag for one in found.mine] == ["A5", "A2"]
    assert [one.tag for one in found.theirs] == ["M2"]
    told = {one.tag: one.say for one in found.unclear}
    assert set(told) == {"A1", "A3", "A4"}
    assert "B1 (Bert Stone)" in told["A1"]  # a dot in a mark tells nobody apart
    assert "nothing shows" in told["A3"]
    assert "lent to Bert Stone" in told["A4"]
    assert found.sign == ("Ada Quill", "Moor End Works", "witness")
    assert "entitled" not in str(found).lower()


def test_a_set_with_two_foreign_rods_stands_once_and_no_place_twice(demo_address: str) -> None:
    found = leaving(demo_address, "Tobin", on=TODAY)
    (rods,) = (one for one in found.unclear if one.tag == "M08")
    assert rods.say == "its rods of 100 mm, 100 mm are Tobin Ashgrove's"
    lines = list(leaving_lines(found))
    assert not [line for line in lines if line.count("Tobin's chest") > 1]
    assert "B10    E12Q-SCLCR06" in lines


def test_both_lists_are_written_in_each_form(shop: str) -> None:
    for listing in (insurance_list(insurance(shop)), leaving_list(leaving(shop, "me"))):
        rows = list(csv.reader(io.StringIO(listing_bytes(listing, "a.csv").decode("utf-8-sig"))))
        assert len(rows) == 1 + len(listing.rows)
        sheet = load_workbook(io.BytesIO(listing_bytes(listing, "A.XLSX"))).active
        assert sheet is not None
        assert sheet.max_row == 1 + len(listing.rows)
        pdf = PdfReader(io.BytesIO(listing_bytes(listing, "a.pdf")))
        text = "".join(page.extract_text() for page in pdf.pages)
        assert "parallels" in text
        assert ("witness, date" in text) == bool(listing.sign)
    with pytest.raises(InputError, match="form"):
        listing_bytes(listing, "a.txt")
