"""What reading gives of minimums, stock, kits and parts, on each engine: what the models were given."""

from datetime import UTC, date, datetime
from decimal import Decimal

from store.stock import MONDAY, fill

from crib.store import ledger, stocking
from crib.store.ledger import Entry
from crib.store.models import Kit, KitLine, Minimum, Origin, SparePart
from crib.store.read import reading
from crib.store.stocking import KitLineRow, SpareRow
from crib.store.writing import writing


def test_every_query_gives_what_the_models_hold(store_url: str) -> None:
    ids = fill(store_url)
    norm = "wnmg080412"  # of I-2
    with writing(store_url) as session:
        session.add(
            Minimum(
                norm=norm, what="WNMG080412", least=20, up_to=40, counted_in="edges", site_id=ids["Works"],
                payer_id=ids["anna"], price=Decimal("8.50"), currency="EUR", lead_days=14, grade="K-15",
            )
        )  # fmt: skip
        kit = Kit(name="Tray", note="a liner")
        kit.lines.append(KitLine(line_no=2, need="any", quantity=3))
        kit.lines.append(KitLine(line_no=1, need="that one", item_id=ids["I-2"]))
        session.add_all([kit, Kit(name="Empty")])
        session.add(SparePart(item_id=ids["T-7"], what="shim", code="S 1", present=False, note="gone"))
        session.add(SparePart(item_id=ids["T-7"], what="key"))
        for paid, on in (("40.00", date(2025, 1, 1)), ("45.10", date(2026, 1, 1))):
            session.add(
                Origin(
                    item_id=ids["I-2"],
                    at=MONDAY,
                    how="bought",
                    on_date=on,
                    paid=Decimal(paid),
                    currency="EUR",
                )
            )
        use = Entry(item_id=ids["I-2"], what="edge used", at=datetime.now(UTC), edges_change=-2)
        wrong = ledger.record(session, use)
        right = Entry(
            item_id=ids["I-2"], what="corrected", at=MONDAY, edges_change=2, corrects_id=wrong.line_id
        )
        ledger.record(session, right)
        ledger.record(
            session, Entry(item_id=ids["I-2"], what="sent out", at=MONDAY, to_held_by_id=ids["Zoë"])
        )
    with reading(store_url) as reader:
        (minimum,) = stocking.minimums(reader)
        assert (minimum.site, minimum.payer, minimum.price) == ("Works", "anna", Decimal("8.50"))
        assert (minimum.least, minimum.up_to, minimum.lead_days, minimum.grade) == (20, 40, 14, "K-15")
        (box,) = stocking.stock_of(reader, norm, ids["Works"])
        assert (box.tag, box.quantity, box.edges_left, box.held_by, box.went) == (
            "I-2",
            4,
            8,
            "Zoë",
            "sent out",
        )
        assert stocking.stock_of(reader, norm, ids["Anna's"]) == ()
        told = [(line.what, line.edges_change) for line in stocking.taken_of(reader, norm)]
        assert told == [("added", 11), ("edge used", -3), ("sent out", None)]
        assert all(line.at.tzinfo is not None for line in stocking.taken_of(reader, norm))
        assert [(one.paid, one.on_date) for one in stocking.paid_for(reader, norm)] == [
            (Decimal("45.10"), date(2026, 1, 1)),
            (Decimal("40.00"), date(2025, 1, 1)),
        ]
        assert stocking.kits_with(reader, norm) == ("Tray",)
        empty, tray = stocking.kits(reader)
        assert (empty.name, empty.lines, tray.note) == ("Empty", (), "a liner")
        assert tray.lines == (KitLineRow(1, "that one", 1, ids["I-2"]), KitLineRow(2, "any", 3, None))
        assert stocking.spares(reader) == (
            SpareRow(ids["T-7"], "shim", "S 1", False, "gone"),
            SpareRow(ids["T-7"], "key", None, True, None),
        )
