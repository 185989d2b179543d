"""A small stock of awkward things, the same on every engine."""

from datetime import UTC, date, datetime

from crib.store import ledger
from crib.store.ledger import Entry, Start
from crib.store.models import (
    BarDetail,
    BitDetail,
    GaugeCheck,
    GaugeDetail,
    GaugeRod,
    HolderDetail,
    InsertDetail,
    Item,
    Machine,
    MachineFeed,
    MachineSpeed,
    Party,
    RotaryDetail,
)
from crib.store.places import add_place, put_setting
from crib.store.writing import WriteSession, writing

MONDAY = datetime(2026, 3, 2, 7, 30, tzinfo=UTC)
DUE = date(2026, 3, 20)


def fill(url: str) -> dict[str, int]:
    """Fill a store; gives the number of each item by its tag, and of each party and place by name."""
    with writing(url) as session:
        ids = _people_and_places(session)
        items = _tools(session, ids) + _gauges(session, ids)
        session.flush()
        ids |= {item.tag: item.id for item in items}
        ledger.record(
            session,
            Entry(
                item_id=ids["T-7"],
                what="lent",
                at=MONDAY,
                to_held_by_id=ids["Ælfric"],
                due_back=DUE,
                key="loan",
            ),
        )
        ledger.record(
            session, Entry(item_id=ids["I-2"], what="edge used", at=MONDAY, edges_change=-3, why="a liner")
        )
    return ids


def _people_and_places(session: WriteSession) -> dict[str, int]:
    people = [
        Party(name="Narrow Gauge Company", kind="company", mark="NGC"),
        Party(name="Ælfric", mark="X"),
        Party(name="anna", mark="X", note="same mark as another's"),
        Party(name="Zoë", mark="Z"),
    ]
    session.add_all(people)
    session.flush()
    works, home = add_place(session, "Works", "site"), add_place(session, "Anna's", "site")
    bay = add_place(session, "Lathe bay", "area", works)
    annexe = add_place(session, "Lathe bay annexe", "area", works)
    drawer = add_place(session, "Drawer 2", "drawer", add_place(session, "Cabinet A", "cabinet", bay))
    lathe = add_place(session, "Old lathe", "machine", bay)
    session.add(
        Machine(
            place_id=lathe.id, kind="lathe", power_kw=5.5, efficiency=0.75, shank_high_mm=25.0,
            speeds=[MachineSpeed(n_rev_min=n) for n in (355.0, 25.0, 63.0)],
            feeds=[MachineFeed(f_mm=f) for f in (0.25, 0.1)],
        )
    )  # fmt: skip
    put_setting(session, "units", "inch")
    put_setting(session, "site", "Works")
    places = {place.name: place.id for place in (works, home, bay, annexe, drawer, lathe)}
    return places | {person.name: person.id for person in people}


def _tools(session: WriteSession, ids: dict[str, int]) -> list[Item]:
    company, cabinet = "Narrow Gauge Company", "Drawer 2"
    w = {"sc": "W", "an_deg": 0.0, "ic_mm": 12.7}
    shank = HolderDetail(style="L", clamping="M", kapr_deg=95.0, h_mm=25.0, b_mm=25.0, lf_mm=150.0)
    bar = BarDetail(shank_type="S", dcon_mm=20.0, dmin_mm=25.0, reach_mm=80.0)
    finishing = InsertDetail(type_letter="G", re_mm=0.8, s_mm=4.76, grade="K-15", tool_material="carbide")
    grind = BitDetail(tool_material="HSS", shank_mm=12.7, kapr_deg=90.0, re_mm=0.2)
    left = Item(
        tag="T-7",
        kind="holder",
        label="left hand turning holder",
        designation="MWLNL 2525M08",
        hand="L",
        l_mm=8.69,
        holder=shank,
        **w,
    )
    right = Item(
        tag="T 8",
        kind="holder",
        label="right hand turning holder",
        designation="MWLNR 2525M08",
        hand="R",
        l_mm=8.69,
        holder=HolderDetail(style="L", clamping="M", kapr_deg=95.0),
        **w,
    )
    boring = Item(
        tag="B-1",
        kind="bar",
        label="boring bar ⌀20",
        designation="S20R-SCLCL09",
        hand="L",
        sc="C",
        an_deg=7.0,
        ic_mm=9.525,
        bar=bar,
    )
    fine = Item(
        tag="I-1",
        kind="insert",
        label="finishing insert",
        designation="WNMG080408-PM",
        equivalent="WNMG 432",
        insert=finishing,
        **w,
    )
    rough = Item(
        tag="I-2",
        kind="insert",
        label="roughing insert 0.8 nose, 20×20",
        designation="WNMG080412",
        insert=InsertDetail(type_letter="G", re_mm=1.2),
        **w,
    )
    sharp = Item(
        tag="H-1", kind="bit", label="HSS bit, ground sharp", note='50% off; "quoted" * OR NEAR', bit=grind
    )
    drill = Item(
        tag="R-1", kind="rotary", label="Bohrer für Stahl", rotary=RotaryDetail(what="drill", dc_mm=12.0)
    )
    plate = Item(tag="X-1", kind="other", label="Планшайба", mark="X")
    rows = [
        (left, "anna", cabinet, "good", 1, None),
        (right, company, "Lathe bay annexe", "worn", 1, None),
        (boring, "Zoë", "Anna's", "good", 1, None),
        (fine, company, cabinet, "new", 10, 60),
        (rough, company, cabinet, "good", 4, 11),
        (sharp, "anna", "Old lathe", "worn", 1, None),
        (drill, "Ælfric", "Works", "damaged", 1, None),
        (plate, "Zoë", "Lathe bay", "scrap", 0, None),
    ]  # fmt: skip
    for item, owner, place, condition, quantity, edges in rows:
        start = Start(
            at=MONDAY, owner_id=ids[owner], place_id=ids[place], condition=condition, quantity=quantity,
            edges_left=edges, actor_id=ids["anna"],
        )  # fmt: skip
        ledger.add(session, item, start)
    return [row[0] for row in rows]


def _gauges(session: WriteSession, ids: dict[str, int]) -> list[Item]:
    rods = [
        GaugeRod(length_mm=100.0, owner_id=ids["anna"], present=False),
        GaugeRod(length_mm=50.0, owner_id=ids["Narrow Gauge Company"]),
    ]
    checks = [
        GaugeCheck(on_date=date(2026, 1, 5), result="pass", due=date(2027, 1, 5), by="works standard"),
        GaugeCheck(on_date=date(2025, 1, 7), result="pass", due=date(2026, 1, 7)),
    ]
    known = Item(
        tag="G-1",
        kind="gauge",
        label="inside micrometer set",
        gauge=GaugeDetail(
            measures="inside", low_mm=50.0, high_mm=300.0, resolution_mm=0.01, rods=rods, checks=checks
        ),
    )
    bare = Item(tag="G-2", kind="gauge", label="depth gauge", gauge=GaugeDetail(measures="depth"))
    for item in (known, bare):
        ledger.add(
            session, item, Start(at=MONDAY, owner_id=ids["anna"], place_id=ids["Works"], condition="good")
        )
    return [known, bare]
