"""What is below its minimum, and what of that has to be bought."""

import math
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from statistics import mean, stdev

import pytest
from small_shop import open_shop
from sqlalchemy import select

from crib.desk.restocking.minimums import drop_minimum, minimums, set_minimum
from crib.desk.restocking.restock import left_of, restock
from crib.errors import BadQuantity, InputError, NothingFound, UnknownName
from crib.report.restock import buy_list
from crib.store import ledger
from crib.store.models import Item, Party
from crib.store.writing import writing

TODAY = date(2026, 11, 27)
ITEMS = """tag,kind,code,label,owner,place,condition,quantity,edges_left,grade
I1,insert,WNMG080408,,Moor End Works,shop / bay,good,10,37,P-grade A
I2,insert,WNMG 08 04 08,,Ada Quill,shop / bay,new,5,30,P-grade A
I3,insert,WNMG080408,,Moor End Works,shop / bay,good,4,,K-grade
I4,insert,WNMG080408,,Moor End Works,shop / bay,damaged,2,12,P-grade A
I5,insert,WNMG080408,,Moor End Works,Ada's home,new,10,60,P-grade A
D1,rotary,,jobber drill 8.5,Moor End Works,shop / bay,good,3,,
D2,rotary,,jobber drill 8.5,Moor End Works,shop / bay,good,2,,
"""


@pytest.fixture
def shop(sqlite_url: str, tmp_path: Path) -> str:
    return open_shop(sqlite_url, tmp_path / "lists", items=ITEMS)


def record(store: str, tag: str, what: str, *, days_ago: int = 0, to: str = "", **facts: object) -> None:
    at = datetime.combine(TODAY, datetime.min.time(), UTC) - timedelta(days=days_ago)
    with writing(store) as session:
        item = session.scalars(select(Item).where(Item.tag == tag)).one()
        if to:
            facts["to_held_by_id"] = session.scalars(select(Party.id).where(Party.name == to)).one()
        ledger.record(session, ledger.Entry(item_id=item.id, what=what, at=at, **facts))  # type: ignore[arg-type]


def test_edges_on_this_site_that_are_fit_for_use_are_counted(shop: str) -> None:
    line = left_of(shop, "WNMG080408")
    assert (line.counted_in, line.have, line.uncounted, line.others) == ("edges", 67, 4, 0)
    assert {box.tag: box.state for box in line.boxes} == {
        "I1": "opened", "I2": "unopened", "I3": "edges not counted", "I4": "opened",
    }  # fmt: skip
    assert [box.tag for box in line.boxes if not box.counts] == ["I4"]


def test_who_pays_has_only_own_pieces_counted_and_a_grade_only_its_own(shop: str) -> None:
    set_minimum(shop, "wnmg 080408", least=40, payer="MEW", grade="p-grade a")
    (line,) = restock(shop).buy
    assert (line.have, line.others, line.want) == (37, 30, 3)
    assert line.buy == 1  # three edges are one insert of six
    assert line.minimum is not None
    assert line.minimum.payer == "Moor End Works"


@pytest.mark.parametrize(("least", "listed"), [(66, False), (67, False), (68, True)])
def test_exactly_enough_is_not_on_the_list(shop: str, least: int, listed: bool) -> None:
    set_minimum(shop, "WNMG080408", least=least)
    assert bool(restock(shop).buy) is listed
    assert len(restock(shop, whole=True).enough) == (not listed)


def test_what_comes_back_is_not_bought(shop: str) -> None:
    set_minimum(shop, "D1", least=4, up_to=8)
    assert restock(shop).buy == ()
    record(shop, "D1", "lent", to="Bert Stone")
    record(shop, "D2", "sent out", to="Ada Quill")
    (line,) = restock(shop).ask_back
    assert (line.have, line.on_loan, line.sent_out, line.buy, line.want) == (0, 3, 2, 0, 8)
    set_minimum(shop, "D1", least=6)
    (line,) = restock(shop).buy
    assert line.buy == 3  # eight wanted, five of them come back
    assert "are the least; buying goes up to 8; 2 sent out" in line.why
    sheet = buy_list(restock(shop))
    assert dict(zip((one.name for one in sheet.columns), sheet.rows[0], strict=True))["up to"] == 8


def test_too_short_a_history_is_said_and_gives_no_figures(shop: str) -> None:
    set_minimum(shop, "WNMG080408", least=100, lead="2 weeks")
    for days in range(9):
        record(shop, "I1", "edge used", days_ago=days, edges_change=-1)
    use = restock(shop, today=TODAY).buy[0].usage
    assert (use.observations, use.per_week, use.days_left, use.reorder_at) == (9, None, None, None)
    assert "not enough history" in use.said
    assert "9 times" in use.said


def test_a_reorder_point_comes_from_the_days_of_the_history(shop: str) -> None:
    """The same sum, written out with the standard library's mean and standard deviation."""
    set_minimum(shop, "WNMG080408", least=100, lead="2 weeks")
    taken = {0: 2, 1: 1, 3: 4, 4: 1, 6: 2, 7: 1, 8: 3, 10: 1, 12: 2, 14: 1}
    begun = datetime.now(UTC).date()
    for day, count in taken.items():
        record(shop, "I1", "edge used", days_ago=(TODAY - begun).days - day, edges_change=-count)
    end = begun + timedelta(days=19)
    use = restock(shop, today=end).buy[0].usage
    daily = [taken.get(day, 0) for day in range(20)]
    assert use.days == 20
    assert use.observations == 10
    assert use.per_week == pytest.approx(mean(daily) * 7, abs=0.005)
    assert use.reorder_at == math.ceil(mean(daily) * 14 + 1.65 * math.sqrt(14) * stdev(daily))
    assert use.days_left == math.floor((67 - sum(taken.values())) / mean(daily))
    better = restock(shop, today=end, service=99).buy[0].usage
    assert better.reorder_at is not None
    assert better.reorder_at > use.reorder_at
    with pytest.raises(InputError, match="94"):
        restock(shop, service=94)


def test_what_was_put_right_was_never_taken(shop: str) -> None:
    record(shop, "I1", "edge used", edges_change=-5)
    with writing(shop) as session:
        item = session.scalars(select(Item).where(Item.tag == "I1")).one()
        line = ledger.record(
            session, ledger.Entry(item_id=item.id, what="edge used", at=datetime.now(UTC), edges_change=-2)
        )
        ledger.record(
            session,
            ledger.Entry(
                item_id=item.id,
                what="corrected",
                at=datetime.now(UTC),
                edges_change=2,
                corrects_id=line.line_id,
            ),
        )
    assert left_of(shop, "I1").usage.observations == 1


def test_a_minimum_is_changed_dropped_and_refused_in_clear_words(shop: str) -> None:
    assert set_minimum(shop, "I1", least=10, lead="5 days", price="8.50 EUR").added
    changed = set_minimum(shop, "WNMG 080408", up_to=30)
    assert not changed.added
    one = changed.minimum
    assert (one.least, one.up_to, one.lead_days, one.price, one.counted_in) == (
        10,
        30,
        5,
        "8.50 EUR",
        "edges",
    )
    for wrong, kind in (
        ({"least": -1}, InputError),
        ({"up_to": 5}, InputError),
        ({"counted_in": "boxes"}, InputError),
        ({"lead": "soon"}, BadQuantity),
        ({"price": "85"}, BadQuantity),
        ({"payer": "Nobody"}, UnknownName),
        ({"site": "moon"}, UnknownName),
    ):
        with pytest.raises(kind) as refused:
            set_minimum(shop, "I1", **wrong)  # type: ignore[arg-type]
        assert refused.value.hint
    assert minimums(shop) == (one,)
    with pytest.raises(InputError, match="least is missing"):
        set_minimum(shop, "CNMG120408", payer="MEW")
    assert drop_minimum(shop, "I1") == one
    with pytest.raises(UnknownName):
        drop_minimum(shop, "I1")
    with pytest.raises(NothingFound):
        left_of(shop, "CNMG120408")
