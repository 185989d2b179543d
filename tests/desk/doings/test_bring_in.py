"""Tools brought in: recorded all or none, in the ledger, and found here afterwards."""

from collections.abc import Callable

import pytest

from crib.desk.asking.ask import find
from crib.desk.asking.story import story
from crib.desk.doings.bring_in import bring_in, take_home
from crib.desk.doings.out import who_has
from crib.desk.keeping.audit import audit
from crib.desk.keeping.settings import put
from crib.errors import CribError, NotPossible, StoreMissing, UnknownName


def places(store: str, *tags: str) -> list[str]:
    return [find(store, f"tag={tag}").items[0].place for tag in tags]


def test_a_tool_brought_from_home_is_on_site_and_in_the_ledger(demo_address: str) -> None:
    (brought,) = bring_in(demo_address, ["H03"], to="Tobin's chest", why="the bogie bracket").items
    assert (brought.tag, brought.on_site, brought.place) == (
        "H03",
        True,
        "works / machine shop / Tobin's chest",
    )
    assert brought.owner == "Tobin Ashgrove"
    last = story(demo_address, "H03").ledger[-1]
    assert (last.what, last.who, last.from_, last.to, last.why) == (
        "brought in",
        "Tamsin Arkwell",
        "Tobin's home / shed bench",
        "works / machine shop / Tobin's chest",
        "the bogie bracket",
    )
    assert "H03" in {item.tag for item in find(demo_address, "left hand holder here").items}
    assert audit(demo_address).differences == ()


def test_without_a_place_it_lies_at_the_site(demo_address: str) -> None:
    (brought,) = bring_in(demo_address, ["H13"]).items
    assert (brought.place, brought.on_site) == ("works", True)


def test_several_at_once(demo_address: str) -> None:
    brought = bring_in(demo_address, ["H03", "H11", "I21"], to="works / machine shop / mill rack").items
    assert [item.tag for item in brought] == ["H03", "H11", "I21"]
    assert all(item.on_site for item in brought)
    assert brought[2].quantity == 5, "the whole batch came"


def test_the_same_tool_named_twice_is_recorded_once(demo_address: str) -> None:
    brought = bring_in(demo_address, ["H03", "h03", "H03"]).items
    assert [item.tag for item in brought] == ["H03"]
    assert [line.what for line in story(demo_address, "H03").ledger] == ["added", "brought in"]


@pytest.mark.parametrize(
    ("tags", "error", "said"),
    [
        (["H03", "H99"], UnknownName, "no tag called 'H99'"),
        (["H03", "H01"], NotPossible, "H01 is on site already, at works / machine shop / mill rack"),
        (["H03", "H04"], NotPossible, "H04 is lent to Wilf Oddney"),
        (["H03", "B11"], NotPossible, "B11 is lent to Perrin Sallow"),
    ],
)
def test_all_or_none(demo_address: str, tags: list[str], error: type[CribError], said: str) -> None:
    before = places(demo_address, *(tag for tag in tags if tag != "H99"))
    with pytest.raises(error) as raised:
        bring_in(demo_address, tags)
    assert said in raised.value.message
    assert places(demo_address, *(tag for tag in tags if tag != "H99")) == before
    assert [line.what for line in story(demo_address, "H03").ledger] == ["added"]


def test_a_slip_in_a_tag_names_those_that_look_like_it(demo_address: str) -> None:
    with pytest.raises(UnknownName) as raised:
        bring_in(demo_address, ["H33"])
    assert "H13" in raised.value.nearest


@pytest.mark.parametrize(
    ("to", "error", "said"),
    [
        ("shed bench", NotPossible, "not on this site"),
        ("nowhere", UnknownName, "no place called 'nowhere'"),
        ("drawer 1", UnknownName, "no place called 'drawer 1'"),
    ],
)
def test_a_place_that_can_t_be(demo_address: str, to: str, error: type[CribError], said: str) -> None:
    with pytest.raises(error) as raised:
        bring_in(demo_address, ["H03"], to=to)
    assert said in raised.value.message
    assert places(demo_address, "H03") == ["Tobin's home / shed bench"]


def test_a_name_that_several_places_bear_lists_their_full_paths(demo_address: str) -> None:
    with pytest.raises(UnknownName) as raised:
        bring_in(demo_address, ["H03"], to="drawer 1")
    assert "works / tool room / holder cabinet / drawer 1" in raised.value.hint


def test_brought_to_where_we_are(demo_address: str) -> None:
    put(demo_address, "site", "Tobin's home")
    (brought,) = bring_in(demo_address, ["H01"]).items
    assert (brought.site, brought.on_site) == ("Tobin's home", True)


def test_a_missing_store(tmp_path: object) -> None:
    with pytest.raises(StoreMissing):
        bring_in(f"{tmp_path}/none.db", ["H03"])


def test_the_reason_is_data(demo_address: str) -> None:
    why = "=cmd|'x'!A0 \x1b[31m[red]\u202e"
    bring_in(demo_address, ["H03"], why=why)
    assert story(demo_address, "H03").ledger[-1].why == why


def test_mark_serial_state_and_who_was_told_are_recorded_with_it(demo_address: str) -> None:
    done = bring_in(
        demo_address,
        ["H03"],
        mark="T.A 3b",
        serial="0412",
        condition="worn",
        told="the foreman, in person",
        why="liner",
    )
    assert (done.items[0].mark, done.items[0].condition) == ("T.A 3b", "worn")
    told = story(demo_address, "0412")
    last = told.ledger[-1]
    assert last.told == "the foreman, in person"
    assert last.why == "liner; marked T.A 3b (recorded before: T.A 3), serial number 0412"
    assert ("serial", "0412") in told.facts
    assert audit(demo_address).differences == ()


def test_part_of_a_box_comes_and_goes_home_again(demo_address: str) -> None:
    bring_in(demo_address, ["I21"], pieces=2, to="Tobin's chest")
    assert [(item.quantity, item.on_site) for item in find(demo_address, "code=CCGT09T302F").items] == [
        (3, False),
        (2, True),
    ]
    take_home(demo_address, ["I21b"])
    (whole,) = find(demo_address, "code=CCGT09T302F").items
    assert (whole.tag, whole.quantity) == ("I21", 5)


def test_what_went_home_together_is_told(demo_address: str) -> None:
    done = take_home(demo_address, ["H02", "B05"])
    assert "Tamsin's home" in done.verdict
    facts = dict(story(demo_address, "H02").facts)
    assert facts["there since"].endswith(": taken home by Tamsin Arkwell, together with B05")
    asked = who_has(demo_address, "H02")
    assert asked.verdict == "Nobody: H02 MWLNL2020K08 should be at Tamsin's home, not here."
    assert "together with B05" in asked.detail


@pytest.mark.parametrize(
    ("doing", "said"),
    [
        (lambda db: take_home(db, ["H03"]), "H03 is not here"),
        (lambda db: take_home(db, ["H01"]), "where H01 is kept at home is not on record"),
        (lambda db: take_home(db, ["H02"], to="mill rack"), "is on this site"),
        (lambda db: take_home(db, ["H04"]), "lent to Wilf Oddney"),
        (lambda db: bring_in(db, ["H03", "H13"], mark="X"), "goes with one tool"),
    ],
)
def test_what_can_t_go_or_come(demo_address: str, doing: Callable[[str], object], said: str) -> None:
    with pytest.raises(CribError) as raised:
        doing(demo_address)
    assert said in raised.value.message
