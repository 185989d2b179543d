"""What can't be used because a part is gone, and where one might be had."""

from pathlib import Path

import pytest
from small_shop import open_shop

from crib.desk.asking.ask import find
from crib.desk.asking.story import story
from crib.desk.picking.stock import out_of_use
from crib.desk.restocking.missing import missing, parts_of, set_parts
from crib.errors import InputError, UnknownName
from crib.store.read import reading

ITEMS = """tag,kind,code,label,owner,place,quantity,measures,low,high
H1,holder,MWLNL2525M08,left holder,Moor End Works,shop / bay,1,,,
H2,holder,MWLNR2525M08,right holder,Ada Quill,Ada's home,1,,,
H3,holder,PCLNR2525M12,right holder,Moor End Works,shop / bay,1,,,
S1,spare,,shim for trigon seats 12.7 mm,Moor End Works,shop / bay,4,,,
S2,spare,,shim for square seats 12.7 mm,Moor End Works,shop / bay,4,,,
S3,spare,SH-W12,shim,Moor End Works,shop / bay,1,,,
S4,spare,SH-W12,shim,Moor End Works,shop / bay,0,,,
M1,gauge,,inside set,Moor End Works,shop / bay,1,inside,4 in,24 in
M2,gauge,,other inside set,Ada Quill,shop / bay,1,inside,4 in,24 in
"""
RODS = """gauge,length,owner,present
M1,8 in,Moor End Works,yes
M1,8 in,Moor End Works,yes
M1,4 in,Moor End Works,yes
M2,8 in,Ada Quill,yes
"""


@pytest.fixture
def shop(sqlite_url: str, tmp_path: Path) -> str:
    return open_shop(sqlite_url, tmp_path / "lists", items=ITEMS, rods=RODS)


def test_nothing_on_record_lacks_anything_at_first(shop: str) -> None:
    found = missing(shop)
    assert (found.lacks, found.verdict) == ((), "Nothing on record lacks a part.")


def test_the_surest_source_comes_first_and_another_shape_is_none(shop: str) -> None:
    set_parts(shop, "H2", there=["Shim"], code="sh w12")
    set_parts(shop, "H1", missing=["shim"], code="SH-W12", note="in the chips")
    (lack,) = missing(shop).lacks
    assert (lack.tag, lack.part, lack.code, lack.note) == ("H1", "shim", "SH-W12", "in the chips")
    assert [(one.tag, one.sure, one.on_site) for one in lack.sources] == [
        ("S3", True, True),
        ("H2", True, False),
        ("S1", False, True),
    ]
    assert "shape" in lack.sources[2].why
    assert "size" in lack.sources[2].why


def test_a_rod_is_named_by_its_length_in_any_units(shop: str) -> None:
    set_parts(shop, "M1", missing=["8 in rod"])
    set_parts(shop, "M1", missing=["203.2 mm rod"])
    assert [part.present for part in parts_of(shop, "M1").parts] == [True, False, False]
    first, second = missing(shop).lacks
    assert first.part == second.part == "203.2 mm (8 in) rod"
    assert [(one.tag, one.count, one.sure) for one in first.sources] == [("M2", 1, False)]
    set_parts(shop, "M1", there=["8 in rod"])
    assert len(missing(shop).lacks) == 1
    with pytest.raises(UnknownName):
        set_parts(shop, "M1", missing=["5 in rod"])


def test_a_part_is_there_again_and_known_by_any_case(shop: str) -> None:
    set_parts(shop, "H3", missing=["clamp screw", "shim"])
    assert [lack.part for lack in missing(shop).lacks] == ["clamp screw", "shim"]
    set_parts(shop, "H3", there=["SHIM"])
    assert [(part.what, part.present) for part in parts_of(shop, "H3").parts] == [
        ("clamp screw", False),
        ("shim", True),
    ]


def test_what_makes_no_sense_is_refused(shop: str) -> None:
    for named, more in (((), {}), ((" ",), {}), (("x" * 500,), {}), (("shim", "screw"), {"code": "1"})):
        with pytest.raises(InputError):
            set_parts(shop, "H1", missing=named, **more)
    with pytest.raises(UnknownName):
        set_parts(shop, "H99", missing=["shim"])
    assert parts_of(shop, "H1").parts == ()


def test_find_show_and_pick_know_of_a_part_that_is_gone(shop: str) -> None:
    set_parts(shop, "H1", there=["clamp"], missing=["shim"])
    found = find(shop, "left hand holder here")
    assert (found.items[0].lacks, found.detail) == ("shim", "Mind: H1: shim missing.")
    assert ("missing", "shim") in story(shop, "H1").facts
    with reading(shop) as reader:
        rows = {holder.item.tag: holder.item for holder in reader.tooling().holders}
    assert (out_of_use(rows["H1"]), out_of_use(rows["H2"])) == ("shim missing", "")
    set_parts(shop, "H1", there=["shim"])
    assert find(shop, "left hand holder here").detail.startswith("From the records")
