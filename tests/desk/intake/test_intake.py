"""Taking lists in: all or nothing, dry if asked, and each row that can't be taken told."""

import csv
import os
import sqlite3
import stat
from datetime import UTC, datetime
from pathlib import Path

import pytest
from commands import DEMO_LISTS
from small_shop import MACHINES, PEOPLE, PLACES, open_shop, take_lists

from crib.desk.asking.ask import find
from crib.desk.asking.story import story
from crib.desk.intake.intake import intake
from crib.desk.keeping.audit import audit
from crib.errors import BadList, InputError
from crib.store.read import reading

ITEMS = "tag,code,owner,place,quantity,edges_left,kind,label\n"
HOLDER = "X1,PCLNL2525M12,Ada Quill,shop,,,,\n"
INSERT = "X2,CNMG120408,Moor End Works,shop / bay,10,40,,\n"
HISTORY = "when,who,what,item,quantity,to,why\n"


def refused(store: str, folder: Path, **lists: str) -> list[dict[str, object]]:
    """Take lists in that can't be taken; gives the report, a mapping a row."""
    with pytest.raises(BadList) as raised:
        take_lists(store, folder, lists)
    return [dict(row) for row in raised.value.rows]


def everything(store: str) -> dict[str, list[tuple[object, ...]]]:
    """Give every row of every table, by the bare driver: what is left in a store whatever the desk says."""
    connection = sqlite3.connect(f"file:{store}?mode=ro", uri=True)
    try:
        names = [
            name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        ]
        return {name: sorted(connection.execute(f"SELECT * FROM {name}"), key=repr) for name in names}
    finally:
        connection.close()


@pytest.fixture
def shop(sqlite_url: str, tmp_path: Path) -> str:
    return open_shop(sqlite_url, tmp_path / "first", items=ITEMS + HOLDER + INSERT)


# -- what is taken ----------------------------------------------------------------------------------------


def test_lists_are_taken_in_any_order_of_files(sqlite_url: str, tmp_path: Path) -> None:
    lists = {"z": PEOPLE, "a": ITEMS + HOLDER + INSERT, "m": MACHINES, "b": PLACES}
    taken = take_lists(sqlite_url, tmp_path / "lists", lists)
    assert taken.counts == {"people": 3, "places": 5, "machines": 2, "items": 2}
    assert not taken.dry_run
    assert len(taken.rows) == 12
    assert [(row.file, row.line) for row in taken.rows if "X2" in row.what] == [("a.csv", 3)]
    assert find(sqlite_url, "").total == 2


def test_geometry_comes_from_the_code(shop: str) -> None:
    (holder,) = find(shop, "tag=X1").items
    # ISO 5608:2012: P lever clamp, C 80 deg, L 95 deg, N 0 deg, L left, 25 x 25, M 150 mm, edge 12
    assert (holder.kind, holder.HAND, holder.designation) == ("holder", "L", "PCLNL2525M12")
    facts = dict(story(shop, "X1").facts)
    assert facts["entering angle"] == "95°"
    assert facts["shank height"].startswith("25 mm")
    assert facts["length"].startswith("150 mm")
    (insert,) = find(shop, "tag=X2").items
    assert (insert.kind, insert.quantity, insert.edges_left) == ("insert", 10, 40)


def test_each_item_begins_its_ledger(shop: str) -> None:
    (line,) = story(shop, "X2").ledger
    assert (line.what, line.how_many, line.edges, line.why) == ("added", 10, 40, "taken in from a list")
    assert audit(shop).differences == ()


def test_names_and_places_are_known_in_any_case(sqlite_url: str, tmp_path: Path) -> None:
    items = ITEMS + "X1,PCLNL2525M12,ADA QUILL,SHOP / Bay,,,,\n"
    open_shop(sqlite_url, tmp_path / "lists", items=items)
    (holder,) = find(sqlite_url, "tag=x1").items
    assert (holder.owner, holder.place) == ("Ada Quill", "shop / bay")


def test_inch_lists(sqlite_url: str, tmp_path: Path) -> None:
    text = "tag,code,owner,place,dmin,reach\nB1,S16T-SCLCR3,Ada Quill,shop,1 1/4,7.5\n"
    take_lists(sqlite_url, tmp_path / "l", {"p": PEOPLE, "q": PLACES, "i": text}, system="inch")
    facts = dict(story(sqlite_url, "B1").facts)
    assert facts["smallest bore"].startswith("31.75 mm")
    assert facts["reach"].startswith("190.5 mm")


def test_the_invented_workshop_is_taken_whole(demo_store: str) -> None:
    tags = []
    for path in map(Path, DEMO_LISTS):
        with path.open(encoding="utf-8", newline="") as file:
            tags += [row["tag"] for row in csv.DictReader(file) if "tag" in row]
    assert sorted(item.tag for item in find(demo_store, "", limit=10_000).items) == sorted(tags)
    assert audit(demo_store).differences == ()


def test_history_changes_what_is_true_now(shop: str, tmp_path: Path) -> None:
    history = HISTORY + (
        "2026-03-01T08:00:00Z,Ada Quill,edge used,X2,3,,a liner\n"
        "2026-03-02T08:00:00Z,Ada Quill,lent,X1,1,Bert Stone,\n"
    )
    taken = take_lists(shop, tmp_path / "l", {"h": history})
    assert taken.counts == {"history": 2}
    assert find(shop, "tag=X2").items[0].edges_left == 37
    assert find(shop, "tag=X1").items[0].held_by == "Bert Stone"
    assert [line.what for line in story(shop, "X1").ledger] == ["added", "lent"]
    assert audit(shop).differences == ()


def test_when_it_happened_can_be_told(sqlite_url: str, tmp_path: Path) -> None:
    at = datetime(2024, 2, 3, 4, 5, tzinfo=UTC)
    lists = {"p": PEOPLE, "q": PLACES, "i": ITEMS + HOLDER}
    take_lists(sqlite_url, tmp_path / "l", lists, at=at)
    assert story(sqlite_url, "X1").ledger[0].at.startswith("2024-02-03T04:05")


def test_a_new_store_is_made_private(tmp_path: Path) -> None:
    store = tmp_path / "new" / "crib.db"
    take_lists(str(store), tmp_path / "l", {"p": PEOPLE})
    assert stat.S_IMODE(store.stat().st_mode) == 0o600
    assert stat.S_IMODE(store.parent.stat().st_mode) == 0o700


def test_empty_lists_are_nothing_to_take(sqlite_url: str, tmp_path: Path) -> None:
    taken = take_lists(sqlite_url, tmp_path / "l", {"i": ITEMS})
    assert (taken.counts, taken.rows) == ({}, ())


# -- all or nothing ---------------------------------------------------------------------------------------


def test_one_bad_row_and_nothing_is_left_in_the_store(shop: str, tmp_path: Path) -> None:
    before = everything(shop)
    good = "".join(f"N{n},CNMG120408,Ada Quill,shop,1,4,,\n" for n in range(50))
    report = refused(
        shop,
        tmp_path / "l",
        people="name,kind\nNew Person,person\n",
        places="place,kind,inside\nnew site,site,\n",
        items=ITEMS + good + "N50,ZZMG120408,Ada Quill,shop,1,4,,\n",
        history=HISTORY + "2026-03-01,Ada Quill,lent,X1,1,Bert Stone,\n",
    )
    assert [(row["file"], row["line"], row["column"]) for row in report] == [("items.csv", 52, "code")]
    assert everything(shop) == before


def test_a_refused_first_intake_leaves_an_empty_store_or_none(tmp_path: Path) -> None:
    store = tmp_path / "new.db"
    refused(str(store), tmp_path / "l", people=PEOPLE, items=ITEMS + "X1,ZZ,Ada Quill,shop,,,,\n")
    if store.exists():
        assert find(str(store), "").total == 0
        assert everything(str(store))["party"] == []


def test_a_file_that_can_t_be_read_stops_before_the_store_is_touched(tmp_path: Path) -> None:
    good = tmp_path / "people.csv"
    good.write_text(PEOPLE)
    store = tmp_path / "new.db"
    for bad in (tmp_path / "none.csv", tmp_path):
        with pytest.raises(BadList) as raised:
            intake(str(store), [str(good), str(bad)])
        assert str(bad) in raised.value.message
    assert not store.exists()


def test_the_same_lists_again_are_refused_row_by_row(shop: str, tmp_path: Path) -> None:
    before = everything(shop)
    report = refused(shop, tmp_path / "l", people=PEOPLE, places=PLACES, items=ITEMS + HOLDER + INSERT)
    assert [(row["file"], row["line"], row["column"], row["value"]) for row in report] == [
        ("items.csv", 2, "tag", "X1"),
        ("items.csv", 3, "tag", "X2"),
        ("people.csv", 2, "name", "Moor End Works"),
        ("people.csv", 3, "name", "Ada Quill"),
        ("people.csv", 4, "name", "Bert Stone"),
        ("places.csv", 2, "place", "shop"),
        ("places.csv", 3, "place", "Ada's home"),
        ("places.csv", 4, "place", "bay"),
        ("places.csv", 5, "place", "lathe"),
        ("places.csv", 6, "place", "mill"),
    ]
    assert {row["why"] for row in report} == {"is on record already"}
    assert everything(shop) == before


def test_the_same_machine_again_is_refused_in_its_row(shop: str, tmp_path: Path) -> None:
    before = everything(shop)
    report = refused(shop, tmp_path / "l", machines=MACHINES)
    assert [(row["line"], row["column"], row["why"]) for row in report] == [
        (2, "place", "is on record already"),
        (3, "place", "is on record already"),
    ]
    assert everything(shop) == before


def test_the_same_tag_twice_in_one_list(shop: str, tmp_path: Path) -> None:
    report = refused(
        shop, tmp_path / "l", items=ITEMS + "Y1,,Ada Quill,shop,,,other,a\ny1,,Ada Quill,shop,,,other,b\n"
    )
    assert [(row["line"], row["value"], row["why"]) for row in report] == [(3, "y1", "is on record already")]


# -- dry run ----------------------------------------------------------------------------------------------


def test_a_dry_run_makes_no_file(tmp_path: Path) -> None:
    store = tmp_path / "new" / "crib.db"
    lists = {"people": PEOPLE, "places": PLACES, "items": ITEMS + HOLDER}
    taken = take_lists(str(store), tmp_path / "l", lists, dry_run=True)
    assert taken.dry_run
    assert taken.counts == {"people": 3, "places": 5, "items": 1}
    assert os.listdir(tmp_path) == ["l"]


def test_a_dry_run_changes_nothing_in_a_store_that_is_there(shop: str, tmp_path: Path) -> None:
    before = everything(shop)
    taken = take_lists(shop, tmp_path / "l", {"i": ITEMS + "Y1,,Ada Quill,shop,,,other,a\n"}, dry_run=True)
    assert [row.what for row in taken.rows] == ["other Y1: a"]
    assert everything(shop) == before
    again = take_lists(shop, tmp_path / "l", {"i": ITEMS + "Y1,,Ada Quill,shop,,,other,a\n"})
    assert again.rows == taken.rows


def test_a_dry_run_tells_the_same_problems(shop: str, tmp_path: Path) -> None:
    lists = {"items": ITEMS + HOLDER + "Y1,ZZ,Nobody,shop,,,,\n"}
    with pytest.raises(BadList) as dry:
        take_lists(shop, tmp_path / "l", lists, dry_run=True)
    assert dry.value.rows == tuple(refused(shop, tmp_path / "l", **lists))


def test_a_place_is_known_by_the_end_of_its_path_where_one_ends_so(shop: str, tmp_path: Path) -> None:
    take_lists(shop, tmp_path / "a", {"items": ITEMS + "Y1,PCLNL2525M12,Ada Quill,Bay,,,,\n"})
    assert story(shop, "Y1").item.place == "shop / bay"
    take_lists(shop, tmp_path / "b", {"places": "place,kind,inside\nbay,area,Ada's home\n"})
    report = refused(shop, tmp_path / "c", items=ITEMS + "Y2,PCLNL2525M12,Ada Quill,bay,,,,\n")
    assert str(report[0]["why"]).endswith("shop / bay or Ada's home / bay?")


# -- rows that can't be taken -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("row", "column", "why"),
    [
        ("Y1,PCLNL2525M12,Nobody,shop,,,,", "owner", "nobody on record: add it first, or a list of people"),
        ("Y1,PCLNL2525M12,Ada,shop,,,,", "owner", "nobody on record: Ada Quill?"),
        ("Y1,PCLNL2525M12,Ada Quill,cellar,,,,", "place", "no place on record: add it first, or a list of"),
        ("Y1,PCLNL2525M12,Ada Quill,shop / bya,,,,", "place", "no place on record: shop / bay?"),
        ("Y1,XXXX,Ada Quill,shop,,,,", "code", "position 1"),
        ("Y1,PCLNL2525M12,Ada Quill,shop,,,insert,", "code", "reads as a holder, but the row says an insert"),
        ("Y1,,Ada Quill,shop,,,,", "kind", "no code to read it from"),
        ("Y1,CNMG120408,Ada Quill,shop,10,41,,", "edges_left", "more than 10 x 4 edges"),
        ("Y1,PCLNL2525M12,Ada Quill,shop,1,1,,", "edges_left", "inserts only"),
    ],
)
def test_a_row_that_the_records_do_not_allow(
    shop: str, tmp_path: Path, row: str, column: str, why: str
) -> None:
    (problem,) = refused(shop, tmp_path / "l", items=ITEMS + row + "\n")
    assert (problem["line"], problem["column"]) == (2, column)
    assert why in str(problem["why"])


def test_edges_exactly_as_many_as_the_code_has_are_taken(shop: str, tmp_path: Path) -> None:
    # CNMG 12 04 08: two usable 80° corners on each of two faces
    take_lists(shop, tmp_path / "l", {"i": ITEMS + "Y1,CNMG120408,Ada Quill,shop,10,40,,\n"})
    assert find(shop, "tag=Y1").items[0].edges_left == 40


@pytest.mark.parametrize(
    ("row", "column", "why"),
    [
        ("Ada Quill,lent,X9,1,Bert Stone", "item", "no tag on record"),
        ("Nobody,lent,X1,1,Bert Stone", "who", "nobody on record"),
        ("Ada Quill,lent,X1,1,Nobody", "to", "nobody on record"),
        ("Ada Quill,returned,X1,1,", "", "not lent out"),
        ("Ada Quill,moved,X1,1,shop", "", "already"),
        ("Ada Quill,moved,X1,1,", "to", "no place on record"),
        ("Ada Quill,regraded,X1,1,shiny", "to", "one of: new, good"),
        ("Ada Quill,edge used,X2,41,", "", "only 40 left"),
        ("Ada Quill,edge used,X1,1,", "", "never counted"),
        ("Ada Quill,scrapped,X2,11,", "", "only 10"),
        ("Ada Quill,corrected,X1,1,", "what", "can't be taken from a list"),
        ("Ada Quill,added,X1,1,", "what", "not known here"),
        ("Ada Quill,stolen,X1,1,", "what", "not known here"),
    ],
)
def test_a_happening_that_can_t_have_happened(
    shop: str, tmp_path: Path, row: str, column: str, why: str
) -> None:
    before = everything(shop)
    (problem,) = refused(shop, tmp_path / "l", history=f"{HISTORY}2026-03-01,{row},\n")
    assert (problem["line"], problem["column"]) == (2, column)
    assert why in str(problem["why"])
    assert everything(shop) == before


@pytest.mark.parametrize(
    ("lists", "column", "why"),
    [
        ({"rods": "gauge,length\nX9,1 in\n"}, "gauge", "no tag on record"),
        ({"rods": "gauge,length\nX1,1 in\n"}, "gauge", "is a holder, not a gauge"),
        ({"checks": "gauge,on,result,due\nG1,2026-01-02,pass,2026-01-01\n"}, "due", "before the check"),
        ({"places": "place,kind,inside\nx,area,nowhere\n"}, "inside", "no place on record"),
        ({"places": "place,kind,inside\nx,area,\n"}, "", "stand there"),
        ({"places": "place,kind,inside\nx,site,shop\n"}, "", "stand there"),
        ({"places": "place,kind,inside\na / b,area,shop\n"}, "", "joins places"),
    ],
)
def test_other_lists_tell_their_row_too(
    sqlite_url: str, tmp_path: Path, lists: dict[str, str], column: str, why: str
) -> None:
    items = ITEMS + HOLDER + "G1,,Ada Quill,shop,,,gauge,mic\n"
    open_shop(sqlite_url, tmp_path / "first", items=items)
    (problem,) = refused(sqlite_url, tmp_path / "l", **lists)
    assert (problem["line"], problem["column"]) == (2, column)
    assert why in str(problem["why"])


def test_a_gauge_whose_range_runs_backwards_is_told(shop: str, tmp_path: Path) -> None:
    row = "G1,Ada Quill,shop,gauge,inside,100 mm,50 mm"
    (problem,) = refused(shop, tmp_path / "l", items=f"tag,owner,place,kind,measures,low,high\n{row}\n")
    assert (problem["line"], problem["column"]) == (2, "high")


def test_every_bad_row_of_every_file_is_told_in_order(shop: str, tmp_path: Path) -> None:
    report = refused(
        shop,
        tmp_path / "l",
        a=ITEMS + "Y1,XX,Ada Quill,shop,,,,\nY2,CNMG120408,Ada Quill,shop,x,,,\nY3,,Ada Quill,shop,,,,\n",
        b="name,kind\nA B,robot\n",
    )
    assert [(row["file"], row["line"], row["column"]) for row in report] == [
        ("a.csv", 2, "code"),
        ("a.csv", 3, "quantity"),
        ("a.csv", 4, "kind"),
        ("b.csv", 2, "kind"),
    ]


def test_an_error_is_of_the_input_kind(shop: str, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="3 rows can't be taken, so none was"):
        take_lists(shop, tmp_path / "l", {"i": ITEMS + "a,b,c,d,,,,\n" * 3})


# -- text is data -----------------------------------------------------------------------------------------


def test_hostile_cells_are_kept_as_written(shop: str, tmp_path: Path) -> None:
    tags = ["=1+1", "../../etc/passwd", "[red]x[/]", "\x1b[31mred", "x'); DROP TABLE item;--", "\u202eabc"]
    rows = "".join(f'"{tag}",,Ada Quill,shop,,,other,"{tag}"\n' for tag in tags)
    take_lists(shop, tmp_path / "l", {"i": ITEMS + rows})
    kept = find(shop, "kind=other").items
    assert {item.tag for item in kept} == {item.label for item in kept} == set(tags)
    assert audit(shop).differences == ()


SETUPS = "setup,point,gives,stiffness,frequency,damping\n"
CUTS = "when,op,material,setup,point,tool,insert,diameter,speed,feed,depth,minutes,result\n"


def test_setups_and_cuts_are_taken_from_lists(shop: str, tmp_path: Path) -> None:
    setups = SETUPS + "liner,mouth,radial,8 kN/mm,160,2.5 %\nLINER,mouth,,9 kN/mm,,\n"
    cuts = CUTS + "2026-03-01T08:00:00Z,turn,4140,liner,mouth,X1,X2,100,200 rev/min,0.2,1,12 min,clean\n"
    taken = take_lists(shop, tmp_path / "l", {"s": setups, "c": cuts})
    assert taken.counts == {"setups": 2, "cuts": 1}
    with reading(shop) as crib:
        (setup,), (cut,) = crib.setups(), crib.cuts()
    assert [(p.point, p.gives, p.k_n_mm, p.damping_ratio) for p in setup.measured] == [
        ("mouth", "radial", 8000.0, 0.025),
        ("mouth", None, 9000.0, None),
    ]
    assert (cut.setup, cut.arm, cut.insert, cut.operation, cut.minutes) == (
        "liner",
        "X1",
        "X2",
        "turning",
        12,
    )
    # vc = pi d n / 1000 (ISO 3002-1)
    assert cut.vc_m_min == pytest.approx(3.14159265 * 0.1 * 200)


@pytest.mark.parametrize(
    ("lists", "column"),
    [
        ({"s": SETUPS + "weak,,,8 kN/mm,,\n"}, "setup"),
        ({"s": SETUPS + "liner,,sideways,8 kN/mm,,\n"}, ""),
        ({"c": CUTS + "2026-03-01T08:00:00Z,turn,4140,no such,,X1,X2,,,,,,clean\n"}, "setup"),
        ({"c": CUTS + "2026-03-01T08:00:00Z,turn,4140,,,X9,X2,,,,,,clean\n"}, "tool"),
        ({"c": CUTS + "2026-03-01T08:00:00Z,turn,unobtainium,,,X1,X2,,,,,,clean\n"}, ""),
        ({"c": CUTS + "2826-03-01T08:00:00Z,turn,4140,,,X1,X2,,,,,,clean\n"}, "when"),
    ],
)
def test_setups_and_cuts_that_cannot_be_taken(
    shop: str, tmp_path: Path, lists: dict[str, str], column: str
) -> None:
    (problem,) = refused(shop, tmp_path / "l", **lists)
    assert problem["column"] == column
