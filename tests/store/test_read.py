"""The SQL of the read path, held against the models on both engines."""

from dataclasses import dataclass
from datetime import timedelta
from itertools import product

import pytest
from sqlalchemy import func, inspect, select
from sqlalchemy.orm import aliased
from store.stock import DUE, MONDAY, fill

from crib.store import sql
from crib.store.filters import EQUAL_FIELDS, RANGE_FIELDS, Filters, Range
from crib.store.models import (
    BarDetail,
    Base,
    BitDetail,
    GaugeDetail,
    HolderDetail,
    InsertDetail,
    Item,
    LedgerLine,
    LoggedCut,
    Machine,
    Party,
    Place,
    Proven,
    RotaryDetail,
    Setting,
    Setup,
    SetupPoint,
    SparePart,
)
from crib.store.read import reading
from crib.store.rows import (
    BarRow,
    BitRow,
    HolderRow,
    InsertRow,
    ItemRow,
    LedgerRow,
    MachineRow,
    ProvenRow,
    RotaryRow,
)
from crib.store.search import compact, query_tokens
from crib.store.writing import writing

DETAILS = {
    "holder": (HolderDetail, HolderRow),
    "bar": (BarDetail, BarRow),
    "bit": (BitDetail, BitRow),
    "insert": (InsertDetail, InsertRow),
    "rotary": (RotaryDetail, RotaryRow),
}


@dataclass
class Stock:
    url: str
    ids: dict[str, int]


@pytest.fixture
def stock(store_url) -> Stock:
    return Stock(store_url, fill(store_url))


def orm_item(session, item: Item) -> ItemRow:
    """The row that reading should give, made from the models."""
    names = {p.id: p for p in session.scalars(select(Party))}
    places = {p.id: p for p in session.scalars(select(Place))}
    own = {name: getattr(item, name) for name in ItemRow._fields if hasattr(Item, name)}
    return ItemRow(
        **own,
        owner=names[item.owner_id].name,
        owner_mark=names[item.owner_id].mark,
        place=places[item.place_id].path,
        site=places[item.site_id].name,
        held_by=names[item.held_by_id].name if item.held_by_id else None,
        lacks=session.scalar(
            select(func.min(SparePart.what)).where(SparePart.item_id == item.id, ~SparePart.present)
        ),
    )


def orm_items(url: str, *conditions) -> list[ItemRow]:
    with writing(url) as session:
        found = session.scalars(select(Item).where(*conditions).order_by(Item.norm, Item.id))
        return [orm_item(session, item) for item in found]


def test_every_item_reads_as_the_models_have_it(stock):
    with reading(stock.url) as crib:
        found = crib.find_items(Filters())
        assert list(found.rows) == orm_items(stock.url)
        assert found.total == len(found.rows) == 10
        assert [crib.item(row.id) for row in found.rows] == list(found.rows)
        assert crib.item(9999) is None


@pytest.mark.parametrize("kind", DETAILS)
def test_details_read_as_the_models_have_them(stock, kind):
    model, row_type = DETAILS[kind]
    with writing(stock.url) as session:
        items = session.scalars(select(Item).join(model).order_by(Item.norm, Item.id)).all()
        expected = [
            row_type(
                orm_item(session, item),
                **{name: getattr(getattr(item, kind), name) for name in row_type._fields if name != "item"},
            )
            for item in items
        ]
    assert expected
    with reading(stock.url) as crib:
        assert [crib.detail(row.item.id) for row in expected] == expected
        if kind != "rotary":
            tooling = crib.tooling()
            found = {
                "holder": tooling.holders,
                "bar": tooling.bars,
                "bit": tooling.bits,
                "insert": tooling.inserts,
            }
            assert list(found[kind]) == expected


def test_tooling_of_one_site(stock):
    with reading(stock.url) as crib:
        away = crib.tooling(stock.ids["Anna's"])
        here = crib.tooling(stock.ids["Works"])
    assert [row.item.tag for row in away.bars] == ["B-1"]
    assert [row.item.tag for row in (*here.holders, *here.inserts)] == ["T-7", "T 8", "I-1", "I-2"]
    assert not away.holders


def test_gauges_read_as_the_models_have_them(stock):
    with reading(stock.url) as crib:
        depth, inside = crib.gauges()
        assert [crib.detail(g.item.id) for g in (depth, inside)] == [depth, inside]
    with writing(stock.url) as session:
        model = session.get_one(GaugeDetail, inside.item.id)
        names = ("measures", "low_mm", "high_mm", "resolution_mm", "uncertainty_mm")
        assert [getattr(inside, n) for n in names] == [getattr(model, n) for n in names]
        assert [(r.id, r.length_mm, r.owner_id, r.present) for r in inside.rods] == [
            (r.id, r.length_mm, r.owner_id, r.present) for r in model.rods
        ]
        assert [rod.owner for rod in inside.rods] == ["Narrow Gauge Company", "anna"]
        assert [rod.present for rod in inside.rods] == [True, False]
        last = model.checks[-1]
        assert inside.last_check == (last.on_date, last.result, last.due, last.by)
        assert inside.last_check.on_date.year == 2026
    assert (depth.rods, depth.last_check, depth.low_mm) == ((), None, None)


def test_machines_places_parties_and_settings_read_as_the_models_have_them(stock):
    with reading(stock.url) as crib:
        (machine,), places, parties, settings = (
            crib.machines(),
            crib.places(),
            crib.parties(),
            crib.settings(),
        )
    with writing(stock.url) as session:
        model = session.scalars(select(Machine)).one()
        own = [name for name in MachineRow._fields if hasattr(Machine, name)]
        assert [getattr(machine, name) for name in own] == [getattr(model, name) for name in own]
        assert machine.facing_head is False
        place = session.get_one(Place, model.place_id)
        assert (machine.name, machine.path, machine.site_id) == (place.name, place.path, place.site_id)
        assert machine.speeds_rev_min == tuple(s.n_rev_min for s in model.speeds) == (25.0, 63.0, 355.0)
        assert machine.feeds_mm == tuple(f.f_mm for f in model.feeds) == (0.1, 0.25)
        for rows, table in ((places, Place), (parties, Party)):
            order = table.path if table is Place else table.name
            assert [tuple(row) for row in rows] == [
                tuple(getattr(m, name) for name in type(rows[0])._fields)
                for m in session.scalars(select(table).order_by(order))
            ]
        assert settings == {s.key: s.value for s in session.scalars(select(Setting))}


def test_proven_speeds_read_as_the_models_have_them(stock):
    facts = {"at": MONDAY, "tool_material": "HSS", "operation": "boring", "conditions": "scale"}
    with writing(stock.url) as session:
        session.add_all(
            [
                Proven(
                    **facts, material="iron", cut="rough", vc_m_min=25.5, f_mm=0.2, ap_mm=1.5,
                    by_id=stock.ids["Zoë"], machine_id=stock.ids["Old lathe"], note="one", result="clean",
                ),
                Proven(
                    **facts, material="iron", vc_m_min=30.0, withdrawn_at=MONDAY,
                    withdrawn_by_id=stock.ids["anna"], withdrawn_why="typed wrongly",
                ),
                Proven(**facts, material="steel", vc_m_min=20.0),
            ]
        )  # fmt: skip
    with reading(stock.url) as crib:
        rows, live, iron = crib.proven(withdrawn=True), crib.proven(), crib.proven("iron")
    with writing(stock.url) as session:
        models = session.scalars(select(Proven).order_by(Proven.id)).all()
        own = [name for name in ProvenRow._fields if hasattr(Proven, name)]
        assert [[getattr(row, name) for name in own] for row in rows] == [
            [getattr(model, name) for name in own] for model in models
        ]
    assert [(row.by, row.machine, row.withdrawn_by) for row in rows] == [
        ("Zoë", "Old lathe", None),
        (None, None, "anna"),
        (None, None, None),
    ]
    assert (live, iron) == ((rows[0], rows[2]), (rows[0],))


def test_setups_and_cuts_read_as_the_models_have_them(stock):
    cut = {"at": MONDAY, "operation": "boring", "material": "iron", "result": "clean"}
    with writing(stock.url) as session:
        setup = Setup(name="liner", machine_id=stock.ids["Old lathe"], note="rings")
        setup.points += [
            SetupPoint(at=MONDAY, point="mouth", gives="away", k_n_mm=8000.0, by_id=stock.ids["anna"]),
            SetupPoint(at=MONDAY, point="mouth", frequency_hz=160.0, damping_ratio=0.02, how="tap"),
        ]
        session.add_all([setup, Setup(name="empty")])
        session.flush()
        session.add_all(
            [
                LoggedCut(
                    **cut, by_id=stock.ids["Zoë"], job="pump", machine_id=stock.ids["Old lathe"],
                    setup_id=setup.id, setup_point="mouth", arm_item_id=stock.ids["B-1"],
                    insert_item_id=stock.ids["I-1"], f_mm=0.2, ap_mm=0.5, n_rev_min=63.0, minutes=12.0,
                    heard_hz=164.0, regenerative_n_mm=320.0, margin=1.3, note="one",
                ),
                LoggedCut(**cut, withdrawn_at=MONDAY, withdrawn_by_id=stock.ids["anna"], withdrawn_why="no"),
                LoggedCut(**(cut | {"material": "steel"}), setup_words="weak"),
            ]
        )  # fmt: skip
        number = setup.id
    with reading(stock.url) as crib:
        rows, setups = crib.cuts(withdrawn=True), crib.setups()
        assert crib.cuts() == (rows[0], rows[2])
        assert crib.cuts(material="iron") == crib.cuts(setup_id=number) == (rows[0],)
    with writing(stock.url) as session:
        for found, model in ((rows, LoggedCut), (setups[1].measured, SetupPoint)):
            own = [name for name in type(found[0])._fields if hasattr(model, name)]
            assert [[getattr(row, name) for name in own] for row in found] == [
                [getattr(one, name) for name in own]
                for one in session.scalars(select(model).order_by(model.id))
            ]
    assert [(row.by, row.machine, row.setup, row.arm, row.insert, row.withdrawn_by) for row in rows] == [
        ("Zoë", "Old lathe", "liner", "B-1", "I-1", None),
        (None, None, None, None, None, "anna"),
        (None, None, None, None, None, None),
    ]
    empty, liner = setups
    assert (empty.name, empty.measured, empty.machine) == ("empty", (), None)
    assert (liner.id, liner.machine, liner.note) == (number, "Old lathe", "rings")
    assert [point.by for point in liner.measured] == ["anna", None]


def test_the_order_of_names_is_the_same_on_both_engines(stock):
    with reading(stock.url) as crib:
        assert [party.name for party in crib.parties()] == ["Narrow Gauge Company", "Zoë", "anna", "Ælfric"]


def test_a_story_reads_as_the_models_have_it(stock):
    with reading(stock.url) as crib:
        story = crib.ledger_of(stock.ids["T-7"])
    with writing(stock.url) as session:
        query = select(LedgerLine).where(LedgerLine.item_id == stock.ids["T-7"]).order_by(LedgerLine.id)
        own = [name for name in LedgerRow._fields if hasattr(LedgerLine, name)]
        assert [[getattr(row, n) for n in own] for row in story] == [
            [getattr(line, n) for n in own] for line in session.scalars(query)
        ]
    assert [(line.what, line.actor, line.to_owner, line.to_place, line.to_held_by) for line in story] == [
        ("added", "anna", "anna", "Works / Lathe bay / Cabinet A / Drawer 2", None),
        ("lent", None, None, None, "Ælfric"),
    ]


def _asked(stock: Stock) -> list[tuple[Filters, object]]:
    ids = stock.ids
    here = aliased(Place)
    below = select(here.id).where(
        (here.path == "Works / Lathe bay") | here.path.startswith("Works / Lathe bay / ")
    )
    inside = select(GaugeDetail.item_id).where(GaugeDetail.low_mm <= 120, GaugeDetail.high_mm >= 120)
    return [
        (Filters(kinds=("holder", "bar")), Item.kind.in_(["holder", "bar"])),
        (Filters(hands=("L",)), Item.hand == "L"),
        (Filters(conditions=("good", "new")), Item.condition.in_(["good", "new"])),
        (Filters(owner_ids=(ids["anna"],)), Item.owner_id == ids["anna"]),
        (Filters(held_by_id=ids["Ælfric"]), Item.held_by_id == ids["Ælfric"]),
        (Filters(lent=True), Item.held_by_id.is_not(None)),
        (Filters(lent=False), Item.held_by_id.is_(None)),
        (Filters(due_before=DUE + timedelta(days=1)), Item.due_back <= DUE),
        (Filters(site_id=ids["Works"]), Item.site_id == ids["Works"]),
        (Filters(not_site_id=ids["Works"]), Item.site_id != ids["Works"]),
        (Filters(place="Works / Lathe bay"), Item.place_id.in_(below)),
        (Filters(tag="t8"), Item.tag == "T 8"),
        (Filters(codes=(compact("WNMG 08 04 12"),)), Item.designation == "WNMG080412"),
        (Filters(code_starts=(compact("WNMG 08 04 08"),)), Item.designation == "WNMG080408-PM"),
        (Filters(code_starts=("wnmg0804", "s20r")), Item.tag.in_(["I-1", "I-2", "B-1"])),
        (Filters(sc="W", an_deg=0.0, ic_mm=12.7), (Item.sc == "W") & (Item.ic_mm == 12.7)),
        (Filters(ranges=(Range("ic_mm", 9.0, 10.0),)), Item.ic_mm.between(9, 10)),
        (Filters(ranges=(Range("re_mm", 0.1, 0.8),)), Item.tag.in_(["I-1", "H-1"])),
        (Filters(ranges=(Range("dmin_mm", None, 25.0),)), Item.tag == "B-1"),
        (Filters(ranges=(Range("kapr_deg"),)), Item.tag.in_(["T-7", "T 8", "H-1"])),
        (Filters(ranges=(Range("covers_mm", 120.0),)), Item.id.in_(inside)),
        (Filters(equals=(("grade", "k-15"),)), Item.tag == "I-1"),
        (Filters(equals=(("style", "l"), ("clamping", "M"))), Item.kind == "holder"),
    ]


def test_filters_find_what_the_models_find(stock):
    for asked, condition in _asked(stock):
        with reading(stock.url) as crib:
            found = crib.find_items(asked)
        assert list(found.rows) == orm_items(stock.url, condition), asked
        assert found.total == len(found.rows) > 0, asked


def test_codes_and_words_are_those_of_the_models(stock):
    for asked, condition in [(Filters(), Item.id > 0), *_asked(stock)]:
        with writing(stock.url) as session:
            found = session.scalars(select(Item).where(condition)).all()
            codes = {item.designation for item in found if item.designation}
            words = {
                word
                for item in found
                for word in item.tok.split()
                if word != item.tag_code and word[0] in "ip"
            }
        with reading(stock.url) as crib:
            assert set(crib.codes(asked)) == codes, asked
            assert crib.words(asked, "ip") == words, asked
            assert len(crib.codes(asked)) == len(codes)


def test_every_size_and_word_can_be_asked_for(stock):
    with reading(stock.url) as crib:
        for field in RANGE_FIELDS:
            assert crib.find_items(Filters(ranges=(Range(field, 0.0, 1e6),), limit=3)).total >= 0
        for field in EQUAL_FIELDS:
            assert crib.find_items(Filters(equals=((field, "no such thing"),))).total == 0


def test_fields_that_can_be_asked_for_are_columns_of_the_models():
    for fields in (RANGE_FIELDS, EQUAL_FIELDS):
        for field, tables in fields.items():
            for table in tables:
                assert field == "covers_mm" or field in Base.metadata.tables[table].columns
    for kind, columns in sql.DETAILS.items():
        model = Base.metadata.tables[f"{kind}_detail"]
        assert set(columns.split(", ")) == set(model.columns.keys()) - {"item_id"}
    assert len(ItemRow._fields) == sql.ITEM_WIDTH
    own = set(inspect(Item).columns.keys()) - {"norm", "tok", "code", "tag_code"}
    assert own <= set(ItemRow._fields)


def test_pages_give_each_row_once_and_the_same_total(stock):
    with reading(stock.url) as crib:
        whole = crib.find_items(Filters())
        for limit in (1, 3, 5, 10, 11):
            pages = [crib.find_items(Filters(limit=limit, offset=start)) for start in range(0, 12, limit)]
            assert tuple(row for page in pages for row in page.rows) == whole.rows
            assert {page.total for page in pages} == {10}


WORDS = [
    ("left hand", ["T-7"]),
    ("wnmg080408", ["I-1"]),
    ("WNMG080408-PM", ["I-1"]),
    ("wnmg 432", ["I-1"]),
    ("wnmg432", ["I-1"]),
    ("mwlnl2525m08", ["T-7"]),
    ("0.8 nose", ["I-2"]),
    ("20x20", ["I-2"]),
    ("20 × 20", ["I-2"]),
    ("⌀20 bar", ["B-1"]),
    ("STAHL", ["R-1"]),
    ("планшайба", ["X-1"]),
    ("hand -left", ["T-7"]),
    ("50%", ["H-1"]),
    ('"quoted', ["H-1"]),
    ("OR NEAR *", ["H-1"]),
    ("k-15", ["I-1"]),
    ("hss", ["H-1"]),
    ("nowhere", []),
    ("micrometer", ["G-1"]),
]


def test_words_find_the_item(stock):
    with reading(stock.url) as crib:
        for typed, tags in WORDS:
            found = crib.find_items(Filters(tokens=query_tokens(typed)))
            assert ([row.tag for row in found.rows], found.total) == (tags, len(tags)), typed


def test_words_of_three_letters_and_more_may_be_beginnings(stock):
    with reading(stock.url) as crib:
        found = crib.find_items(Filters(tokens=query_tokens("wnmg08"), beginnings=True))
        assert [row.tag for row in found.rows] == ["I-1", "I-2"]
        found = crib.find_items(Filters(tokens=query_tokens("turn hold"), beginnings=True))
        assert found.total == 2
        assert crib.find_items(Filters(tokens=query_tokens("turn hold"))).total == 0
        assert crib.find_items(Filters(tokens=query_tokens("turn ho"), beginnings=True)).total == 0


def test_the_very_tag_or_code_comes_first_then_what_begins_with_it(stock):
    with writing(stock.url) as session:
        session.get_one(Item, stock.ids["X-1"]).note = "goes with WNMG080412 and I-2"
    with reading(stock.url) as crib:
        tokens = query_tokens("wnmg080412")
        order = [row.tag for row in crib.find_items(Filters(tokens=tokens, exact="wnmg080412")).rows]
        assert order == ["I-2", "X-1"]
        order = [row.tag for row in crib.find_items(Filters(exact="mwlnr2525m08", kinds=("holder",))).rows]
        assert order == ["T 8", "T-7"]
        order = [row.tag for row in crib.find_items(Filters(exact="wnmg")).rows]
        assert order[:2] == ["I-1", "I-2"]


def test_search_follows_a_change_and_so_does_the_detail(stock):
    with writing(stock.url) as session:
        session.get_one(Item, stock.ids["T 8"]).label = "Zweihandhalter"
        session.get_one(InsertDetail, stock.ids["I-1"]).grade = "Q77"
    with reading(stock.url) as crib:
        for typed, tags in (("zweihandhalter", ["T 8"]), ("right", []), ("q77", ["I-1"]), ("k15", [])):
            found = crib.find_items(Filters(tokens=query_tokens(typed)))
            assert [row.tag for row in found.rows] == tags, typed


def test_both_engines_give_the_same_answers_in_the_same_order(sqlite_url, postgres_url):
    assert fill(sqlite_url) == fill(postgres_url)
    words = [
        "",
        "wnmg",
        "hand",
        "holder",
        "insert",
        "0.8",
        "w",
        "t",
        "x",
        "2525m08",
        "für",
        "n",
        "5",
        "stahl 12",
    ]
    with reading(sqlite_url) as here, reading(postgres_url) as there:
        for typed, prefix, kinds, exact in product(
            words, (False, True), ((), ("holder", "insert")), ("", "t7")
        ):
            asked = Filters(tokens=query_tokens(typed), beginnings=prefix, kinds=kinds, exact=exact)
            assert here.find_items(asked) == there.find_items(asked), asked
        assert here.gauges() == there.gauges()
        assert here.places() == there.places()
        assert here.ledger_of(1) == there.ledger_of(1)


def test_odd_text_is_data(stock):
    odd = 'a\'b "c" %d :e -- ; \\ f* NEAR(g) <b> \x1b[31m'
    with writing(stock.url) as session:
        session.get_one(Item, stock.ids["G-2"]).note = odd
    with reading(stock.url) as crib:
        found = crib.find_items(Filters(tokens=query_tokens(odd)))
        assert [row.note for row in found.rows] == [odd]
        for asked in (Filters(tokens=("'", '"', "\\", "*")), Filters(place=odd), Filters(tag=odd, exact=odd)):
            assert crib.find_items(asked).total == 0
