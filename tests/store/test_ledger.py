"""The ledger governs owner, place, holder, condition and counts; nothing in it is ever changed."""

import random
from dataclasses import fields, replace
from datetime import UTC, date, datetime, timedelta
from threading import Barrier, Thread

import pytest
from sqlalchemy import func, select, text
from store.stock import DUE, MONDAY, fill

from crib.errors import CribError, NotPossible
from crib.store import ledger
from crib.store.ledger import Entry, Start
from crib.store.lines import BrokenLine, Change, State, apply
from crib.store.models import GOVERNED, GOVERNED_SIZES, Item, LedgerLine
from crib.store.words import CONDITIONS, HAPPENINGS
from crib.store.writing import writing


def lines(url: str) -> int:
    with writing(url) as session:
        return session.scalar(select(func.count()).select_from(LedgerLine))


def test_an_entry_changes_the_item_and_appends_one_line(store_url):
    ids = fill(store_url)
    with writing(store_url) as session:
        done = ledger.record(
            session, Entry(item_id=ids["T 8"], what="taken home", at=MONDAY, to_place_id=ids["Anna's"])
        )
        item = session.get_one(Item, ids["T 8"])
        line = session.get_one(LedgerLine, done.line_id)
        assert (item.place_id, item.site_id) == (ids["Anna's"], ids["Anna's"])
        assert (line.from_place_id, line.to_place_id) == (ids["Lathe bay annexe"], ids["Anna's"])
        assert line.at == MONDAY


def test_replay_gives_what_is_stored(store_url):
    fill(store_url)
    with writing(store_url) as session:
        assert ledger.differences(session) == []
        told = ledger.replay(session)
        for item in session.scalars(select(Item)):
            state = told[item.id]
            names = [f.name for f in fields(State) if f.name not in GOVERNED_SIZES]
            assert [getattr(item, name) for name in names] == [getattr(state, name) for name in names]


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ("UPDATE item SET quantity = 3 WHERE tag = 'I-1'", "quantity"),
        ("UPDATE item SET condition = 'new' WHERE tag = 'H-1'", "condition"),
        ("UPDATE rotary_detail SET dc_mm = 12", "dc_mm"),
        (
            "UPDATE item SET site_id = (SELECT id FROM place WHERE path = 'Anna''s') WHERE tag = 'G-1'",
            "site_id",
        ),
    ],
)
def test_what_was_changed_past_the_ledger_is_found(store_url, change, field):
    ids = fill(store_url)
    with writing(store_url) as session:
        ledger.record(session, Entry(item_id=ids["R-1"], what="reground", at=MONDAY, to_dc_mm=11.8))
        session.execute(text(change))
        assert [found.field for found in ledger.differences(session)] == [field]


def test_a_size_is_set_by_the_ledger_alone(store_url):
    ids = fill(store_url)
    with pytest.raises(RuntimeError, match="only the ledger may set dc_mm"), writing(store_url) as session:
        session.get_one(Item, ids["R-1"]).rotary.dc_mm = 11.8


def test_a_line_slipped_in_is_found(store_url):
    ids = fill(store_url)
    with writing(store_url) as session:
        item = session.get_one(Item, ids["I-2"])
        session.add(LedgerLine(at=MONDAY, what="edge used", item=item, edges_change=-99))
        session.flush()
        (found,) = ledger.differences(session)
        assert (found.item_id, found.field) == (ids["I-2"], "ledger")
        with pytest.raises(BrokenLine):
            ledger.replay(session)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE ledger SET why = 'nothing happened'",
        "UPDATE ledger SET quantity_change = 0 WHERE id = 1",
        "DELETE FROM ledger",
        "DELETE FROM ledger WHERE id = 1",
    ],
)
def test_the_database_refuses_to_change_or_delete_a_line(store_url, statement):
    fill(store_url)
    before = lines(store_url)
    with pytest.raises(NotPossible, match="never"), writing(store_url) as session:
        session.execute(text(statement))
    assert lines(store_url) == before


def test_sqlite_refuses_to_replace_a_line(sqlite_url):
    fill(sqlite_url)
    replace_line = "INSERT OR REPLACE INTO ledger ({}, at, what, item_id, quantity_change) VALUES ({}, {})"
    for column, value in (("id", "1"), ("key", "'loan'")):
        change = text(replace_line.format(column, value, "'2026-01-01', 'counted', 1, 0"))
        with pytest.raises(NotPossible, match="never"), writing(sqlite_url) as session:
            session.execute(change)


def test_postgres_refuses_to_truncate_the_ledger(postgres_url):
    fill(postgres_url)
    with pytest.raises(NotPossible, match="never"), writing(postgres_url) as session:
        session.execute(text("TRUNCATE ledger CASCADE"))


@pytest.mark.parametrize(
    ("tag", "asked", "why"),
    [
        ("T-7", {"what": "lent", "to_held_by_id": "Zoë"}, "is lent to Ælfric already"),
        ("T-7", {"what": "moved", "to_place_id": "Works"}, "is lent to Ælfric"),
        ("T 8", {"what": "returned"}, "is not lent out"),
        (
            "T 8",
            {"what": "moved", "to_place_id": "Lathe bay annexe"},
            "is at Works / Lathe bay annexe already",
        ),
        ("H-1", {"what": "lent", "to_held_by_id": "anna"}, "belongs to anna"),
        ("H-1", {"what": "edge used", "edges_change": -1}, "never counted"),
        ("I-1", {"what": "scrapped", "quantity_change": -11}, "only 10 left"),
        ("I-2", {"what": "edge used", "edges_change": -9}, "only 8 left"),
        ("X-1", {"what": "lent", "to_held_by_id": "anna"}, "is scrap"),
        ("H-1", {"what": "reground", "to_dc_mm": 9.0}, "no size on record"),
    ],
)
def test_what_the_records_do_not_allow_is_refused_and_nothing_written(store_url, tag, asked, why):
    ids = fill(store_url)
    before = lines(store_url)
    given = {key: ids.get(value, value) if isinstance(value, str) else value for key, value in asked.items()}
    with pytest.raises(NotPossible, match=why) as refused, writing(store_url) as session:
        ledger.record(session, Entry(item_id=ids[tag], at=MONDAY, **given))
    assert refused.value.hint
    assert lines(store_url) == before


def test_a_loan_can_be_extended_and_comes_back(store_url):
    ids = fill(store_url)
    later = DUE + timedelta(days=7)
    with writing(store_url) as session:
        lend = Entry(item_id=ids["T-7"], what="lent", at=MONDAY, to_held_by_id=ids["Ælfric"], due_back=later)
        assert ledger.record(session, lend).after.due_back == later
        back = ledger.record(
            session, Entry(item_id=ids["T-7"], what="returned", at=MONDAY, to_condition="worn")
        )
    assert (back.after.held_by_id, back.after.due_back, back.after.condition) == (None, None, "worn")


def test_a_repeated_key_changes_nothing(store_url):
    ids = fill(store_url)
    use = Entry(item_id=ids["I-1"], what="edge used", at=MONDAY, edges_change=-1, key="cut 1")
    with writing(store_url) as session:
        first = ledger.record(session, use)
    before = lines(store_url)
    with writing(store_url) as session:
        again = ledger.record(session, use)
    assert (again.repeated, again.line_id, again.after) == (True, first.line_id, first.after)
    assert lines(store_url) == before
    with pytest.raises(NotPossible, match="another entry"), writing(store_url) as session:
        ledger.record(session, replace(use, item_id=ids["I-2"]))


def test_nobody_but_the_ledger_sets_what_it_governs(store_url):
    ids = fill(store_url)
    with pytest.raises(RuntimeError, match="quantity"), writing(store_url) as session:
        session.get_one(Item, ids["I-1"]).quantity = 99
    stray = Item(tag="stray", kind="other", label="stray")
    with pytest.raises(RuntimeError, match="ledger"), writing(store_url) as session:
        session.add(stray)
    with writing(store_url) as session:
        assert session.get_one(Item, ids["I-1"]).quantity == 10


def test_a_count_below_zero_is_refused_by_the_database_too(store_url):
    fill(store_url)
    with pytest.raises(NotPossible), writing(store_url) as session:
        session.execute(text("UPDATE item SET quantity = -1 WHERE tag = 'I-1'"))


def test_a_tag_is_given_once(store_url):
    ids = fill(store_url)
    start = Start(at=MONDAY, owner_id=ids["anna"], place_id=ids["Works"], condition="new")
    with pytest.raises(NotPossible, match="tag"), writing(store_url) as session:
        ledger.add(session, Item(tag="T-7", kind="other", label="another"), start)


def test_two_people_taking_the_last_edge_one_is_told(store_url):
    ids = fill(store_url)
    with writing(store_url) as session:
        ledger.record(session, Entry(item_id=ids["I-2"], what="counted", at=MONDAY, edges_change=-7))
    ready, told = Barrier(2), []

    def take() -> None:
        ready.wait()
        try:
            with writing(store_url) as session:
                ledger.record(
                    session, Entry(item_id=ids["I-2"], what="edge used", at=MONDAY, edges_change=-1)
                )
            told.append("taken")
        except NotPossible as error:
            told.append(error.message)

    both = [Thread(target=take) for _ in range(2)]
    for one in both:
        one.start()
    for one in both:
        one.join()
    assert sorted(told)[1] == "taken"
    assert "only 0 left" in sorted(told)[0]


def test_an_entry_that_makes_no_sense_is_a_fault_of_the_caller():
    good = {"item_id": 1, "what": "counted", "at": MONDAY}
    for wrong in (
        {"at": datetime(2026, 1, 1)},  # noqa: DTZ001
        {"what": "added"},
        {"what": "mislaid"},
        {"what": "moved"},
        {"what": "lent", "to_place_id": 1},
        {"what": "edge used", "edges_change": 1},
        {"due_back": DUE},
        {"what": "regraded", "to_condition": "shiny"},
        {"what": "reground", "to_condition": "worn"},
        {"what": "reground", "to_dc_mm": 9.8, "clear_sizes": ("lf_mm",)},
    ):
        with pytest.raises(ValueError, match=r"."):
            Entry(**(good | wrong))


def test_a_random_story_replays_to_what_is_stored(store_url):
    ids = fill(store_url)
    dice = random.Random(20260302)
    parties = [ids[name] for name in ("anna", "Zoë", "Ælfric", "Narrow Gauge Company")]
    places = [ids[name] for name in ("Works", "Anna's", "Lathe bay", "Drawer 2")]
    items = [ids[tag] for tag in ("T-7", "T 8", "B-1", "I-1", "I-2", "H-1", "R-1", "X-1", "G-1")]
    written = refused = 0
    with writing(store_url) as session:
        for _ in range(300):
            what = dice.choice([word for word in HAPPENINGS if word != "added"])
            asked = {
                "moved": {"to_place_id": dice.choice(places)},
                "brought in": {"to_place_id": dice.choice(places)},
                "taken home": {"to_place_id": dice.choice(places)},
                "lent": {
                    "to_held_by_id": dice.choice(parties),
                    "due_back": dice.choice([None, DUE, date(2026, 4, 1)]),
                },
                "split": {"quantity_change": -1, "other_item_id": dice.choice(items)},
                "merged": {"quantity_change": dice.choice([-1, 1]), "other_item_id": dice.choice(items)},
                "sent out": {"to_held_by_id": dice.choice(parties)},
                "regraded": {"to_condition": dice.choice(CONDITIONS)},
                "reground": {"to_dc_mm": dice.choice([None, 11.8]), "to_lf_mm": dice.uniform(80, 120)},
                "edge used": {"edges_change": -dice.randint(1, 3)},
                "counted": {"quantity_change": dice.randint(-2, 3), "edges_change": dice.randint(-3, 4)},
                "scrapped": {"quantity_change": -dice.randint(1, 3), "to_condition": "scrap"},
                "corrected": {"to_owner_id": dice.choice(parties), "clear_holder": dice.random() < 0.5},
            }.get(what, {})
            try:
                ledger.record(
                    session, Entry(item_id=dice.choice(items), what=what, at=datetime.now(UTC), **asked)
                )
                written += 1
            except NotPossible:
                refused += 1
        assert written > 100
        assert refused > 30
        assert ledger.differences(session) == []


def test_apply_is_the_sum_of_its_lines():
    state = apply(
        None,
        Change(
            what="added", to_owner_id=1, to_place_id=2, to_condition="new", quantity_change=5, edges_change=20
        ),
    )
    state = apply(state, Change(what="edge used", edges_change=-1))
    state = apply(state, Change(what="lent", to_held_by_id=9, due_back=DUE))
    state = apply(state, Change(what="counted", quantity_change=-1, edges_change=-4))
    assert state == State(
        owner_id=1, place_id=2, condition="new", quantity=4, edges_left=15, held_by_id=9, due_back=DUE
    )
    for wrong in (
        Change(what="added"),
        Change(what="moved", from_place_id=3, to_place_id=2),
        Change(what="counted", quantity_change=-5),
        Change(what="returned", from_held_by_id=8),
    ):
        with pytest.raises(BrokenLine):
            apply(state, wrong)


def test_the_guarded_columns_are_those_of_the_state():
    assert {*GOVERNED, *GOVERNED_SIZES} == {field.name for field in fields(State)} | {"site_id"}


def test_a_failing_transaction_leaves_nothing(store_url):
    ids = fill(store_url)
    before = lines(store_url)
    use = Entry(item_id=ids["I-1"], what="edge used", at=MONDAY, edges_change=-1)
    with pytest.raises(ZeroDivisionError), writing(store_url) as session:  # noqa: PT012
        ledger.record(session, use)
        raise ZeroDivisionError
    assert lines(store_url) == before
    with writing(store_url) as session:
        assert session.get_one(Item, ids["I-1"]).edges_left == 60


def test_an_item_or_place_that_is_not_there_is_said_so(store_url):
    ids = fill(store_url)
    for entry in (
        Entry(item_id=9999, what="counted", at=MONDAY),
        Entry(item_id=ids["I-1"], what="moved", at=MONDAY, to_place_id=9999),
        Entry(item_id=ids["I-1"], what="lent", at=MONDAY, to_held_by_id=9999),
    ):
        with pytest.raises(CribError) as refused, writing(store_url) as session:
            ledger.record(session, entry)
        assert isinstance(refused.value, NotPossible)
