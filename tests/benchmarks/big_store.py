"""A store with very many items, made fast: bare SQL, but codes, sizes and search words as crib makes them.

Everything is invented and the same on every run. `check` compares rows with what the models would write.
"""

import os
import sqlite3
import time
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import product
from pathlib import Path
from random import Random

from crib.desk.asking.codes import decode, label_of
from crib.errors import BadDesignation
from crib.store.models import Item, Party
from crib.store.places import add_place, put_setting
from crib.store.search import compact, index_tokens, normalise
from crib.store.upgrade import open_store
from crib.store.writing import index, writing
from crib.trade.designation.reading import InsertReading

WHEN = datetime(2026, 3, 2, 7, 30, tzinfo=UTC)
GRADES = tuple(f"{letter}{number}" for letter in ("K-", "P-", "M-", "U-") for number in range(10, 50, 5))
BREAKERS = ("-PM", "-F", "-MR", "-RR", "")
NOTES = (
    None,
    None,
    None,
    None,
    "kept for the big lathe",
    "from the old stores, oiled",
    "box opened",
    "reground once",
)
CONDITIONS = ("new", "good", "good", "good", "worn", "worn", "damaged", "scrap")
FIRST = ("Ada", "Bertil", "Carys", "Dunja", "Edmund", "Freya", "Gwil", "Hanne", "Ivor", "Jonna")
LAST = ("Arnesby", "Brockett", "Coldwell", "Dunmore", "Eskdale")
SHARES = {"insert": 40, "holder": 28, "bar": 12, "rotary": 15, "gauge": 5}  # of a hundred items
BATCH = 5000


@dataclass(frozen=True, slots=True)
class Like:
    """What many items have in common: everything but number, owner, place and state."""

    kind: str
    label: str
    designation: str | None
    equivalent: str | None
    hand: str | None
    sc: str | None
    an_deg: float | None
    ic_mm: float | None
    l_mm: float | None
    words: tuple[str, ...]
    detail: tuple[str, tuple[object, ...]] | None


def insert_codes() -> Iterator[str]:
    """Give insert designations in metric."""
    sizes = {
        "C": ("0903", "1204", "1606", "1906"),
        "D": ("1104", "1504", "1506"),
        "S": ("0903", "1204", "1506", "1906"),
        "T": ("1103", "1604", "2204"),
        "V": ("1103", "1604"),
        "W": ("0604", "0804"),
    }
    faces = (("N", "MG"), ("N", "MA"), ("C", "MT"), ("C", "GT"), ("P", "MR"), ("B", "MT"))
    for (shape, each), (clearance, face) in product(sizes.items(), faces):
        for size, nose in product(each, ("02", "04", "08", "12", "16", "24")):
            yield f"{shape}{clearance}{face}{size}{nose}"


def holder_codes() -> Iterator[str]:
    """Give designations of square-shank holders."""
    edges = {"C": "12", "D": "15", "S": "12", "T": "16", "V": "16", "W": "08"}
    for clamp, (shape, edge), style, clearance, hand, shank in product(
        "PMSDC",
        edges.items(),
        "LJGBFKRSHQ",
        "NCP",
        "RLN",
        ("1616H", "2020K", "2525M", "3225P", "3232P", "4040S"),
    ):
        yield f"{clamp}{shape}{style}{clearance}{hand}{shank}{edge}"


def bar_codes() -> Iterator[str]:
    """Give designations of boring bars."""
    for shank, size, shape, style, clearance, hand in product(
        "SAC", ("10H", "12K", "16M", "20R", "25S", "32T", "40U"), ("C09", "D11", "T11", "W06", "C12", "S12"),
        "LUKF", "CPN", "RL"
    ):  # fmt: skip
        yield f"{shank}{size}-S{shape[0]}{style}{clearance}{hand}{shape[1:]}"


def kinds() -> list[Like]:
    """Give all different things; codes that crib does not read are left out."""
    found = [like for code in (*insert_codes(), *holder_codes(), *bar_codes()) if (like := coded(code))]
    for tenth in range(10, 320):
        name = f"drill ⌀{tenth / 10:g} mm"
        detail = ("rotary_detail", ("drill", tenth / 10, None, "HSS"))
        found.append(Like("rotary", name, None, None, None, None, None, None, None, ("HSS", "drill"), detail))
    for low in range(0, 600, 25):
        name = f"outside micrometer {low}-{low + 25} mm"
        detail = ("gauge_detail", ("outside", float(low), low + 25.0, 0.01, None))
        found.append(Like("gauge", name, None, None, None, None, None, None, None, ("outside",), detail))
    return found


def coded(code: str) -> Like | None:
    """Give the thing that a code names."""
    try:
        read = decode(code)
    except BadDesignation:
        return None
    place = sum(map(ord, code))
    if isinstance(read, InsertReading):
        grade, breaker = GRADES[place % len(GRADES)], BREAKERS[place % len(BREAKERS)]
        detail: tuple[str, tuple[object, ...]] = (
            "insert_detail",
            (
                read.fixing.letter,
                read.tolerance.class_,
                read.S_mm,
                read.RE_mm,
                read.EPSR_deg,
                None,
                read.CEDC,
                grade,
                None,
                "carbide",
                "P",
                None,
            ),
        )
        return Like(
            "insert",
            label_of(read),
            code + breaker,
            read.equivalent,
            read.HAND,
            read.SC,
            read.AN_deg,
            read.IC_mm,
            read.L_mm,
            (grade, "carbide", "P"),
            detail,
        )
    seat = (read.SC, read.AN_deg, read.IC_mm, read.L_mm)
    if read.kind == "bar":
        shank = (read.shank_type, read.DCON_mm, read.LF_mm, None, None)
        detail = ("bar_detail", (*shank, read.style, read.KAPR_deg, read.clamping, "steel"))
        return Like("bar", label_of(read), code, read.equivalent, read.HAND, *seat, ("steel",), detail)
    detail = (
        "holder_detail",
        (read.clamping, read.style, read.KAPR_deg, read.H_mm, read.B_mm, read.LF_mm, None),
    )
    return Like("holder", label_of(read), code, read.equivalent, read.HAND, *seat, (), detail)


def made(path: Path, count: int) -> str:
    """Give the path of a store with `count` items; one that is there already is taken as it is."""
    if not path.exists():
        began = time.perf_counter()
        unfinished = path.with_suffix(".part")
        unfinished.unlink(missing_ok=True)
        fill(str(unfinished), count)
        os.replace(unfinished, path)
        print(f"  (made a store of {count:,} items in {time.perf_counter() - began:.0f} s)", flush=True)  # noqa: T201
    return str(path)


def fill(path: str, count: int) -> None:
    """Make the store and fill it."""
    open_store(path, create=True)
    owners, places = people_and_places(path)
    with closing(sqlite3.connect(path, isolation_level=None)) as store:
        store.execute("PRAGMA synchronous = OFF")  # it is thrown away if the making fails
        store.execute("PRAGMA cache_size = -400000")
        store.execute("BEGIN")
        write_items(store, count, owners, places)
        store.execute("COMMIT")
        store.execute("INSERT INTO item_search (item_search) VALUES ('optimize')")
    check(path)


def people_and_places(path: str) -> tuple[list[int], list[tuple[int, int]]]:
    """Write 51 owners and 1 works with 240 drawers, and a home with a drawer for each person."""
    with writing(path) as session:
        company = Party(name="Hollow Vale Light Railway", kind="company", mark="HV")
        people = [Party(name=f"{a} {b}", mark=f"{a[0]}{b[0]}") for a, b in product(FIRST, LAST)]
        session.add_all([company, *people])
        works = add_place(session, "works", "site")
        places = []
        for bay, cabinet in product(("lathe bay", "mill bay", "tool store", "fitting shop"), range(1, 7)):
            area = session_place(session, works, bay, "area")
            box = add_place(session, f"cabinet {cabinet} {bay}", "cabinet", area)
            places += [(add_place(session, f"drawer {n}", "drawer", box).id, works.id) for n in range(1, 11)]
        for person in people[:12]:
            home = add_place(session, f"{person.name}'s home", "site")
            places.append((add_place(session, "bench drawer", "drawer", home).id, home.id))
        session.flush()
        put_setting(session, "site", "works")
        put_setting(session, "me", people[0].name)
        return [company.id] * 40 + [person.id for person in people], places


def session_place(session, works, name, kind):  # type: ignore[no-untyped-def]
    """Give a place below the works, made when first asked for."""
    known = session.info.setdefault("areas", {})
    if name not in known:
        known[name] = add_place(session, name, kind, works)
    return known[name]


ITEM = (
    "INSERT INTO item (id, tag, kind, label, designation, equivalent, mark, serial, note, hand, sc, an_deg, "
    "ic_mm, l_mm, owner_id, place_id, site_id, held_by_id, due_back, condition, quantity, edges_left, norm, "
    "tok, code, tag_code) VALUES (" + ", ".join("?" * 26) + ")"
)
LINE = (
    "INSERT INTO ledger (at, what, item_id, quantity_change, edges_change, to_owner_id, to_place_id, "
    "to_held_by_id, to_condition, due_back) "
    "VALUES ('2026-03-02 07:30:00.000000', 'added', ?, ?, ?, ?, ?, ?, ?, ?)"
)


def write_items(
    store: sqlite3.Connection, count: int, owners: Sequence[int], places: Sequence[tuple[int, int]]
) -> None:
    """Write items, their details and the first line of their story."""
    chance = Random(1850)
    likes: dict[str, list[Like]] = {}
    for like in kinds():
        likes.setdefault(like.kind, []).append(like)
    words: dict[tuple[Like, str | None], frozenset[str]] = {}
    for first in range(1, count + 1, BATCH):
        items, lines = [], []
        details: dict[str, list[tuple[object, ...]]] = {}
        for number in range(first, min(first + BATCH, count + 1)):
            kind = chance.choices(list(SHARES), list(SHARES.values()))[0]
            like, note = chance.choice(likes[kind]), chance.choice(NOTES)
            owner, (place, site) = chance.choice(owners), chance.choice(places)
            condition = chance.choice(CONDITIONS)
            quantity = chance.randint(0, 10) if like.kind == "insert" else 1
            edges = chance.randint(0, quantity * 4) if like.kind == "insert" else None
            lent = chance.choice(owners) if chance.random() < 0.02 else None
            due = "2026-04-01" if lent else None
            if (like, note) not in words:
                words[like, note] = words_of(like, note)
            held = (owner, place, site, lent, due, condition, quantity, edges)
            items.append(item_row(number, like, note, held, words[like, note]))
            lines.append((number, quantity, edges, owner, place, lent, condition, due))
            if like.detail:
                details.setdefault(like.detail[0], []).append((number, *like.detail[1]))
        store.executemany(ITEM, items)
        store.executemany(LINE, lines)
        for table, rows in details.items():
            marks = ", ".join("?" * len(rows[0]))
            store.executemany(f"INSERT INTO {table} ({DETAIL[table]}) VALUES ({marks})", rows)


def words_of(like: Like, note: str | None) -> frozenset[str]:
    """Give the search words that all items of a sort share."""
    texts = (like.label, like.kind, note, *like.words)
    return frozenset(index_tokens(texts, (like.designation, like.equivalent)).split())


def item_row(
    number: int, like: Like, note: str | None, held: tuple[object, ...], words: frozenset[str]
) -> tuple[object, ...]:
    """Give one row of the table item."""
    tag = f"T{number}"
    code = compact(like.designation) if like.designation else None
    tok = " ".join(sorted(words.union(index_tokens((), (tag,)).split())))
    named = (tag, like.kind, like.label, like.designation, like.equivalent, None, None, note, like.hand)
    shape = (like.sc, like.an_deg, like.ic_mm, like.l_mm)
    return (number, *named, *shape, *held, normalise(like.designation or like.label), tok, code, compact(tag))


DETAIL = {
    "insert_detail": "item_id, type_letter, tolerance, s_mm, re_mm, epsr_deg, edge_condition, cedc, grade, "
    "chipbreaker, tool_material, application, coating",
    "holder_detail": "item_id, clamping, style, kapr_deg, h_mm, b_mm, lf_mm, dmin_mm",
    "bar_detail": "item_id, shank_type, dcon_mm, lf_mm, dmin_mm, reach_mm, style, kapr_deg, clamping, "
    "shank_material",
    "rotary_detail": "item_id, what, dc_mm, lf_mm, tool_material",
    "gauge_detail": "item_id, measures, low_mm, high_mm, resolution_mm, uncertainty_mm",
}


def check(path: str) -> None:
    """Hold some rows against what the models write for search."""
    with writing(path) as session:
        for number in range(1, 400):
            item = session.get(Item, number)
            if item is None:
                break
            stored = (item.norm, item.tok, item.code, item.tag_code)
            index(item)
            if stored != (item.norm, item.tok, item.code, item.tag_code):
                raise AssertionError(f"item {item.tag}: search words are not those of the models")
        session.rollback()
