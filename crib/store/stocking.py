"""Reading what should be there: minimums and the stock they ask for, kits, spare parts.

The SQL is one text for both engines, as in crib.store.sql; a test holds it against the models.
"""

from datetime import date, datetime
from decimal import Decimal
from typing import Any, NamedTuple

from crib.store.read import Reader, as_day, as_moment

_MINIMUMS = """SELECT minimum.id, minimum.norm, minimum.what, minimum.grade, minimum.least, minimum.up_to,
minimum.counted_in, minimum.lead_days, minimum.site_id, site.name, minimum.payer_id, payer.name,
minimum.price, minimum.currency, minimum.note
FROM minimum JOIN place AS site ON site.id = minimum.site_id
LEFT JOIN party AS payer ON payer.id = minimum.payer_id
ORDER BY site.name, minimum.norm, minimum.grade, minimum.id"""

_STOCK = """SELECT item.id, item.tag, item.owner_id, owner.name, place.path, item.held_by_id, holder.name,
item.condition, item.quantity, item.edges_left, detail.grade, detail.cedc,
(SELECT line.what FROM ledger AS line WHERE line.item_id = item.id AND line.what IN ('lent', 'sent out')
ORDER BY line.id DESC LIMIT 1)
FROM item JOIN party AS owner ON owner.id = item.owner_id JOIN place ON place.id = item.place_id
LEFT JOIN party AS holder ON holder.id = item.held_by_id
LEFT JOIN insert_detail AS detail ON detail.item_id = item.id
WHERE item.norm = :norm AND item.site_id = :site_id ORDER BY item.id"""

# a line that was put right does not count, nor does what put it right
_TAKEN = """SELECT line.item_id, line.at, line.what, line.quantity_change, line.edges_change,
line.to_condition
FROM ledger AS line JOIN item ON item.id = line.item_id
WHERE item.norm = :norm AND line.what <> 'corrected'
AND NOT EXISTS (SELECT 1 FROM ledger AS later WHERE later.corrects_id = line.id) ORDER BY line.id"""

_PAID = """SELECT item.tag, origin.on_date, origin.at, origin.paid, origin.currency, item.quantity
FROM origin JOIN item ON item.id = origin.item_id
WHERE item.norm = :norm AND origin.paid IS NOT NULL ORDER BY origin.id DESC"""

_KITS_WITH = """SELECT DISTINCT kit.name FROM kit JOIN kit_line ON kit_line.kit_id = kit.id
JOIN item ON item.id = kit_line.item_id WHERE item.norm = :norm ORDER BY kit.name"""

_KITS = "SELECT id, name, note FROM kit ORDER BY name"
_KIT_LINES = "SELECT kit_id, line_no, need, quantity, item_id FROM kit_line ORDER BY kit_id, line_no"

_SPARES = "SELECT item_id, what, code, present, note FROM spare_part ORDER BY item_id, present, what"


class MinimumRow(NamedTuple):
    """How many of a code there should be on a site; `grade` is empty for any."""

    id: int
    norm: str
    what: str
    grade: str
    least: int
    up_to: int | None
    counted_in: str
    lead_days: int | None
    site_id: int
    site: str
    payer_id: int | None
    payer: str | None
    price: Decimal | None
    currency: str | None
    note: str | None


class StockRow(NamedTuple):
    """A batch of a code: `went` is "lent" or "sent out", the last way that it went to a holder."""

    id: int
    tag: str
    owner_id: int
    owner: str
    place: str
    held_by_id: int | None
    held_by: str | None
    condition: str
    quantity: int
    edges_left: int | None
    grade: str | None
    cedc: int | None
    went: str | None


class TakenRow(NamedTuple):
    """A line of the ledger about a code, if it was not put right later."""

    item_id: int
    at: datetime
    what: str
    quantity_change: int
    edges_change: int | None
    to_condition: str | None


class PaidRow(NamedTuple):
    """What was paid for a batch of a code."""

    tag: str
    on_date: date
    paid: Decimal
    currency: str | None
    quantity: int


class KitRow(NamedTuple):
    """A kit and its lines in order."""

    id: int
    name: str
    note: str | None
    lines: tuple["KitLineRow", ...]


class KitLineRow(NamedTuple):
    """One need of a kit, and the tool chosen for it."""

    line_no: int
    need: str
    quantity: int
    item_id: int | None


class SpareRow(NamedTuple):
    """A small part that an item needs."""

    item_id: int
    what: str
    code: str | None
    present: bool
    note: str | None


def minimums(reader: Reader) -> tuple[MinimumRow, ...]:
    """Give every minimum, by site and code."""
    price = MinimumRow._fields.index("price")
    return tuple(
        MinimumRow._make((*row[:price], _amount(row[price]), *row[price + 1 :]))
        for row in reader.ask(_MINIMUMS)
    )


def stock_of(reader: Reader, norm: str, site_id: int) -> tuple[StockRow, ...]:
    """Give the batches of a code that belong to a site, those that are out too."""
    return tuple(StockRow._make(row) for row in reader.ask(_STOCK, {"norm": norm, "site_id": site_id}))


def taken_of(reader: Reader, norm: str) -> tuple[TakenRow, ...]:
    """Give what the ledger says of a code, oldest first, without what was put right."""
    return tuple(
        TakenRow._make((row[0], as_moment(row[1]), *row[2:])) for row in reader.ask(_TAKEN, {"norm": norm})
    )


def paid_for(reader: Reader, norm: str) -> tuple[PaidRow, ...]:
    """Give what was paid for batches of a code, the newest entry first."""
    found = []
    for tag, on_date, at, paid, currency, quantity in reader.ask(_PAID, {"norm": norm}):
        amount = _amount(paid)
        assert amount is not None  # the query leaves those out
        found.append(PaidRow(tag, as_day(on_date) or as_moment(at).date(), amount, currency, quantity))
    return tuple(found)


def kits_with(reader: Reader, norm: str) -> tuple[str, ...]:
    """Give the names of the kits for which a tool of this code was chosen."""
    return tuple(name for (name,) in reader.ask(_KITS_WITH, {"norm": norm}))


def kits(reader: Reader) -> tuple[KitRow, ...]:
    """Give every kit with its lines, by name."""
    lines: dict[int, list[KitLineRow]] = {}
    for kit_id, *line in reader.ask(_KIT_LINES):
        lines.setdefault(kit_id, []).append(KitLineRow._make(line))
    return tuple(KitRow._make((*row, tuple(lines.get(row[0], ())))) for row in reader.ask(_KITS))


def spares(reader: Reader) -> tuple[SpareRow, ...]:
    """Give the recorded parts of all items, those that are missing first in each item."""
    return tuple(
        SpareRow(item, what, code, bool(present), note)
        for item, what, code, present, note in reader.ask(_SPARES)
    )


def _amount(digits: Any) -> Decimal | None:
    return None if digits is None else Decimal(digits)
