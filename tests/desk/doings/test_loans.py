"""Lending, sending out, returning and taking back, on both engines: what is recorded, told and refused."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from small_shop import open_shop

from crib.desk import dates
from crib.desk.asking.ask import find
from crib.desk.asking.story import story
from crib.desk.doings.lending import give_back, lend
from crib.desk.doings.moving import move
from crib.desk.doings.out import out, who_has
from crib.desk.doings.recent import recent
from crib.desk.doings.undo import undo
from crib.desk.doings.wear import count
from crib.desk.keeping.audit import audit
from crib.desk.owed.claim_doing import LineRequest, new, withdraw
from crib.errors import BadDate, CribError, InputError, NothingFound, NotPossible, UnknownName

BARS = """tag,kind,code,label,owner,place,condition,quantity,mark
B1,bar,S25R-SCLCR09,boring bar 25,Ada Quill,shop / bay,good,1,AQ 1
B2,bar,S25R-SCLCR09,boring bar 25,Moor End Works,shop / bay,good,1,MEW 2
"""
INSERTS = """tag,kind,code,label,owner,place,condition,quantity,edges_left
I1,insert,CNMG120408,80 degree,Moor End Works,shop / bay,good,10,40
I2,insert,CCMT09T304,half used,Moor End Works,shop / bay,good,5,7
"""


@pytest.fixture
def shop(store_url: str, tmp_path: Path) -> str:
    return open_shop(store_url, tmp_path / "lists", bars=BARS, inserts=INSERTS)


def state(shop: str, tag: str) -> tuple[int, int | None, str | None, str]:
    (item,) = find(shop, f"tag={tag}").items
    return item.quantity, item.edges_left, item.held_by, item.place


def test_a_loan_and_its_return(shop: str) -> None:
    day = dates.today() + timedelta(days=14)
    done = lend(shop, ["b1"], "bert", back="in 2 weeks", why="liner")
    assert done.verdict == f"Lent to Bert Stone: B1 S25R-SCLCR09, back by {dates.show_day(day)}."
    assert done.items[0].due_back == day.isoformat()
    (line,) = out(shop, mine=True).lines
    assert (line.whose, line.days, line.overdue_days, line.why) == ("mine", 0, 0, "liner")
    give_back(shop, ["AQ 1"], condition="blunt")
    assert out(shop).lines == ()
    assert [line.what for line in story(shop, "B1").ledger] == ["added", "lent", "returned"]
    assert find(shop, "tag=B1").items[0].condition == "worn"
    told = who_has(shop, "B1")
    assert told.verdict == "Nobody: B1 S25R-SCLCR09 should be at shop / bay."
    assert [(loan.who, loan.until) for loan in told.loans] == [("Bert Stone", dates.today().isoformat())]


def test_part_of_a_batch_goes_and_comes_back_to_it(shop: str) -> None:
    lend(shop, ["I1"], "Bert Stone", pieces=3)
    assert state(shop, "I1") == (7, 28, None, "shop / bay")
    assert state(shop, "I1b") == (3, 12, "Bert Stone", "shop / bay")
    give_back(shop, ["I1b"], pieces=1)
    assert state(shop, "I1") == (8, 32, None, "shop / bay"), "the one that came back is with its batch again"
    assert state(shop, "I1c") == (2, 8, "Bert Stone", "shop / bay"), "the rest is still out"
    give_back(shop, ["I1c"])
    assert state(shop, "I1") == (10, 40, None, "shop / bay")
    lend(shop, ["I1"], "Bert Stone", pieces=2)
    assert state(shop, "I1b")[:3] == (2, 8, "Bert Stone"), "an empty part's tag serves again"
    assert audit(shop).differences == ()


def test_what_has_no_piece_left_is_no_stock_but_tells_its_story(shop: str) -> None:
    lend(shop, ["I1"], "Bert Stone", pieces=3)
    give_back(shop, ["I1b"])
    for question, tags in (
        ("CNMG120408", ["I1"]),
        ("inserts", ["I2", "I1"]),
        ("inserts here", ["I2", "I1"]),
        ("80 degree", ["I1"]),
        ("", ["I2", "I1", "B1", "B2"]),
    ):
        found = find(shop, question)
        assert ([item.tag for item in found.items], found.total) == (tags, len(tags)), question
    first, last = (find(shop, "", limit=1, offset=at) for at in (0, 3))
    assert (first.total, [item.tag for item in last.items]) == (4, ["B2"])
    assert state(shop, "I1b")[0] == 0, "by its tag"
    assert [line.what for line in story(shop, "I1b").ledger][-1] == "merged"
    count(shop, "I2", 0)
    gone = find(shop, "CCMT09T304")
    assert gone.verdict == "None left: 1 tool on record, without a piece."
    assert ([item.tag for item in gone.elsewhere], gone.total) == (["I2"], 0)


def test_sending_out_what_is_on_a_claim_is_warned_of(shop: str) -> None:
    line = LineRequest(event="worn out", basis="agreed", amount="48 EUR")
    number = new(shop, ["B1"], line, currency="EUR").number
    assert "claim" not in lend(shop, ["B1"], "bert").detail
    give_back(shop, ["B1"])
    sent = lend(shop, ["B1"], "bert", what="sent out", back="in 2 weeks")
    assert sent.detail.startswith(f"MIND: B1 is on claim {number}, line 1 (draft): whoever pays")
    give_back(shop, ["B1"])
    withdraw(shop, number, [], why="mine to mend")
    assert "claim" not in lend(shop, ["B1"], "bert", what="sent out").detail


def test_pieces_that_are_not_alike_are_asked_for(shop: str) -> None:
    with pytest.raises(NotPossible, match="7 edges on 5 pieces") as raised:
        move(shop, ["I2"], "lathe", pieces=2)
    assert "--edges" in raised.value.hint
    move(shop, ["I2"], "lathe", pieces=2, edges=4)
    assert (state(shop, "I2")[:2], state(shop, "I2b")) == ((3, 3), (2, 4, None, "shop / bay / lathe"))


def test_like_batches_that_meet_become_one_and_part_again(shop: str) -> None:
    done = move(shop, ["I1"], "lathe", pieces=4)
    back = move(shop, ["I1b"], "bay")
    assert "like it" in back.detail
    assert state(shop, "I1")[:2] == (10, 40)
    with pytest.raises(NotPossible, match="since then"):
        undo(shop, done.act)
    undo(shop, back.act)
    assert state(shop, "I1b") == (4, 16, None, "shop / bay / lathe")
    undo(shop, done.act)
    assert state(shop, "I1")[:2] == (10, 40)
    assert state(shop, "I1b")[:2] == (0, 0)
    assert audit(shop).differences == ()


def test_undo_takes_back_the_last_then_the_one_before_and_can_be_undone(shop: str) -> None:
    lend(shop, ["B1"], "Bert Stone", back="friday")
    before = find(shop, "tag=B1").items
    give_back(shop, ["B1"], to="lathe", condition="worn")
    assert undo(shop).verdict == "Taken back: returned B1 S25R-SCLCR09."
    assert find(shop, "tag=B1").items == before, "holder, day and condition are as before"
    second = undo(shop)
    assert second.verdict.startswith("Taken back: lent")
    assert state(shop, "B1")[2] is None
    undo(shop, second.act)
    assert find(shop, "tag=B1").items == before, "the undo was undone"
    undo(shop)
    with pytest.raises(NotPossible, match="nothing of yours"):
        undo(shop)
    assert audit(shop).differences == ()


def test_recent_doings_are_told_latest_first_and_what_was_taken_back(shop: str) -> None:
    with pytest.raises(NothingFound, match="nothing was done"):
        recent(shop)
    part = move(shop, ["I1"], "lathe", pieces=4)
    lent = lend(shop, ["B1"], "Bert Stone", why="for the big bore")
    back = undo(shop, lent.act)
    told = [(one.act, one.what, set(one.tools), one.stands) for one in recent(shop).doings]
    assert told == [
        (back.act, "corrected", {"B1"}, True),
        (lent.act, "lent", {"B1"}, False),
        (part.act, "moved", {"I1", "I1b"}, True),
    ]
    again = undo(shop, back.act)
    stand = {one.act: one.stands for one in recent(shop).doings}
    assert stand == {again.act: True, back.act: False, lent.act: True, part.act: True}
    assert [one.act for one in recent(shop, most=1).doings] == [again.act]


def test_undo_refuses_what_others_stand_on(shop: str) -> None:
    first = move(shop, ["B1"], "lathe")
    later = lend(shop, ["B1"], "Bert Stone")
    with pytest.raises(NotPossible, match="was lent since then") as raised:
        undo(shop, first.act)
    assert later.act in raised.value.hint
    with pytest.raises(InputError, match="no doing called"):
        undo(shop, "zzzz")
    undo(shop, later.act)
    with pytest.raises(NotPossible, match="taken back already"):
        undo(shop, later.act)
    undo(shop, first.act)
    assert state(shop, "B1")[3] == "shop / bay"


@pytest.mark.parametrize(
    ("tags", "to", "how", "error", "said"),
    [
        (["B1", "B2"], "Ada Quill", {}, NotPossible, "belongs to Ada Quill"),
        (["B1"], "nobody", {}, UnknownName, "no person called 'nobody'"),
        (["B9"], "Bert Stone", {}, UnknownName, "no tag called 'B9'"),
        (["boring bar"], "Bert Stone", {}, InputError, "2 tools on record answer"),
        (["B1"], "Bert Stone", {"back": "someday"}, BadDate, "not a day"),
        (["B1"], "Bert Stone", {"back": "yesterday"}, InputError, "is past"),
        (["B1", "B2"], "Bert Stone", {"pieces": 1}, InputError, "goes with one tool"),
        (["I1"], "Bert Stone", {"pieces": 11}, NotPossible, "only 10 are there"),
    ],
)
def test_what_can_t_be_lent_leaves_everything_as_it_was(
    shop: str, tags: list[str], to: str, how: dict[str, object], error: type[CribError], said: str
) -> None:
    with pytest.raises(error) as raised:
        lend(shop, tags, to, **how)  # type: ignore[arg-type]
    assert said in raised.value.message
    assert out(shop).lines == ()
    assert len(story(shop, "B1").ledger) == 1


def test_overdue_is_told_oldest_first(shop: str, monkeypatch: pytest.MonkeyPatch) -> None:
    lend(shop, ["B2"], "Bert Stone", back="tomorrow")
    lend(shop, ["B1"], "Bert Stone")
    later = dates.today() + timedelta(days=30)
    monkeypatch.setattr("crib.desk.doings.out.dates.today", lambda: date.fromordinal(later.toordinal()))
    assert [item.tag for item in find(shop, "what is overdue").items] == ["B2"]
    found = out(shop, overdue=True)
    assert found.verdict == "1 overdue."
    assert (found.lines[0].item.tag, found.lines[0].overdue_days) == ("B2", 29)
    assert [line.item.tag for line in out(shop, who="Bert").lines] == ["B2", "B1"]
    assert "overdue by 4 weeks" in who_has(shop, "B2").detail
    monkeypatch.setattr("crib.desk.doings.out.dates.today", lambda: later - timedelta(days=29))
    assert find(shop, "what is overdue").total == 0, "on the promised day it is not late yet"
