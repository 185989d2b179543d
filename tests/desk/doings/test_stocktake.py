"""Counting a place: kept as typed, closed with its differences, undone as one doing; on both engines."""

from pathlib import Path

import pytest
from small_shop import open_shop

from crib.desk.asking.ask import find
from crib.desk.doings import stocktake
from crib.desk.doings.lending import lend
from crib.desk.doings.undo import undo
from crib.desk.doings.wear import use
from crib.desk.keeping.audit import audit
from crib.errors import InputError, NotPossible, UnknownName

TOOLS = """tag,kind,code,label,owner,place,condition,quantity,edges_left
I1,insert,CNMG120408,80 degree,Moor End Works,shop / bay,good,10,38
I2,insert,CCMT09T304,half used,Ada Quill,shop / bay,good,5,7
B1,bar,S25R-SCLCR09,boring bar 25,Ada Quill,shop / bay / mill,good,1,
B2,bar,S20Q-SCLCR09,boring bar 20,Moor End Works,shop,good,1,
B3,bar,S32S-PCLNR12,boring bar 32,Moor End Works,shop / bay,good,1,
"""


@pytest.fixture
def shop(store_url: str, tmp_path: Path) -> str:
    return open_shop(store_url, tmp_path / "lists", tools=TOOLS)


def state(shop: str, tag: str) -> tuple[int, int | None, str, str | None]:
    (item,) = find(shop, f"tag={tag}").items
    return item.quantity, item.edges_left, item.place, item.held_by


def test_a_place_is_counted_and_closed(shop: str) -> None:
    lend(shop, ["B3"], "Bert Stone")
    begun = stocktake.begin(shop, "bay")
    assert [line.item.tag for line in begun.lines] == ["I2", "I1", "B3", "B1"]
    assert stocktake.begin(shop, "shop / bay").id == begun.id, "beginning again goes on"
    stocktake.enter(shop, "I1", 8, edges=30)
    stocktake.enter(shop, "I1", 9, edges=35)
    use(shop, "I1", edges=2, job="after it was counted")
    stocktake.enter(shop, "B2", 1)
    count = stocktake.enter(shop, "B3", 1)
    assert (count.counted, count.differing, [line.item.tag for line in count.left]) == (3, 2, ["I2", "B1"])
    assert state(shop, "I1")[:2] == (10, 36), "nothing is written before it is closed"
    done = stocktake.close(shop)
    assert done.verdict == "Closed the count of shop / bay: 3 counted, 2 differ."
    assert "NOT COUNTED, left as they are: 2 (I2, B1)" in done.detail
    assert state(shop, "I1")[:2] == (9, 33), "35 counted, and 2 used since"
    assert state(shop, "B2")[2] == "shop / bay", "it was found here"
    assert state(shop, "B3")[3] is None, "it is not out after all"
    with pytest.raises(NotPossible, match="nothing is being counted"):
        stocktake.show(shop)
    taken_back = undo(shop)
    assert "The count of shop / bay is open again." in taken_back.detail
    assert state(shop, "I1")[:2] == (10, 36)
    assert (state(shop, "B2")[2], state(shop, "B3")[3]) == ("shop", "Bert Stone")
    assert audit(shop).differences == ()
    again = stocktake.show(shop)
    assert (again.id, again.counted) == (begun.id, 3)
    with pytest.raises(NotPossible, match="the count of shop / bay is open and holds that") as raised:
        undo(shop, taken_back.act)
    assert raised.value.hint == 'close it instead: crib stocktake close "shop / bay"'
    stocktake.enter(shop, "I1", 7, edges=28)
    stocktake.close(shop)
    assert state(shop, "I1")[:2] == (7, 28), "counted anew after the two were used"
    assert audit(shop).differences == ()


def test_a_closed_count_is_not_opened_again_below_one_under_way(shop: str) -> None:
    stocktake.begin(shop, "bay")
    stocktake.enter(shop, "I1", 8, edges=30)
    act = stocktake.close(shop).act
    stocktake.begin(shop, "bay")
    with pytest.raises(NotPossible, match="shop / bay is being counted anew") as raised:
        undo(shop, act)
    assert "crib stocktake drop" in raised.value.hint
    assert state(shop, "I1")[:2] == (8, 30)


def test_what_is_not_found_is_counted_as_none_only_when_it_is_said(shop: str) -> None:
    lend(shop, ["B3"], "Bert Stone")
    stocktake.begin(shop, "bay")
    stocktake.enter(shop, "I1", 10, edges=38)
    done = stocktake.close(shop, rest_is_missing=True)
    assert "Not found, counted as none: 2 (I2, B1)" in done.detail
    assert (state(shop, "I2")[:2], state(shop, "B1")[0]) == ((0, 0), 0)
    assert state(shop, "B3")[0] == 1, "what is lent is not missing"


def test_what_can_t_be(shop: str) -> None:
    with pytest.raises(NotPossible, match="nothing is being counted"):
        stocktake.enter(shop, "I1", 1)
    with pytest.raises(UnknownName):
        stocktake.begin(shop, "attic")
    stocktake.begin(shop, "bay")
    with pytest.raises(NotPossible, match="being counted already"):
        stocktake.begin(shop, "mill")
    with pytest.raises(NotPossible, match="nothing was counted"):
        stocktake.close(shop)
    with pytest.raises(InputError, match="no edges"):
        stocktake.enter(shop, "B1", 1, edges=2)
    stocktake.begin(shop, "Ada's home")
    with pytest.raises(InputError, match="2 places"):
        stocktake.enter(shop, "I1", 1)
    assert stocktake.enter(shop, "I1", 3, edges=1, place="bay").counted == 1
    assert stocktake.drop(shop, "bay") == "shop / bay"
    assert [place for place, _ in stocktake.open_counts(shop)] == ["Ada's home"]
    assert state(shop, "I1")[:2] == (10, 38)
