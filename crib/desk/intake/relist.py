"""A list handed in again: which item a row means, and what it changes."""

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Any

from sqlalchemy import inspect

from crib.desk.intake.lists import ListRow
from crib.desk.intake.new_item import RowError, new_item, refuse_edges
from crib.store import ledger, models
from crib.store.search import compact
from crib.store.writing import WriteSession
from crib.trade.designation.reading import Reading

WHY = "as the list says"
_DETAILS = ("insert", "holder", "bar", "bit", "rotary", "gauge")
_GROUND = {("rotary", name) for name in models.GOVERNED_SIZES}
_FREE = ("mark", "serial", "note", "label")

Key = tuple[int, int, str, str]


def key_of(item: models.Item) -> Key:
    """Give what tells an item without its tag: owner, place, code or label, grade."""
    grade = item.insert.grade if item.insert is not None else None
    name = item.designation or item.label
    return item.owner_id, item.place_id, compact(name) or name, (grade or "").lower()


def key_of_row(row: ListRow, reading: Reading | None, owner: models.Party, place: models.Place) -> Key:
    """Give the same of a row."""
    name = reading.designation if reading else row.get("code") or row.get("label") or row.get("kind", "")
    return owner.id, place.id, compact(name) or name, row.get("grade", "").lower()


def only(found: Iterable[models.Item]) -> models.Item | None:
    """Give the one item that fits a row without a tag; None where none does.

    Raises:
        RowError: several do.
    """
    items = [item for item in found if item.quantity]
    if len(items) > 1:
        tags = ", ".join(item.tag for item in items[:5])
        raise RowError("tag", f"is empty, and several on record fit: {tags}")
    return items[0] if items else None


def change(
    session: WriteSession,
    item: models.Item,
    row: ListRow,
    reading: Reading | None,
    owner: models.Party,
    place: models.Place,
    at: datetime,
) -> list[str]:
    """Bring an item to what a row says; what the row leaves empty stays.

    Args:
        session: of a write transaction.
        item: on record.
        row: of an items list.
        reading: of its code.
        owner: that the row names.
        place: that the row names.
        at: when.

    Returns:
        What was changed, in words; empty where all was so already.

    Raises:
        RowError: the row says of it what a list can't change.
        NotPossible: the ledger doesn't allow it.
    """
    _refuse(item, row, reading, owner)
    refuse_edges(item, row.get("quantity", item.quantity), row.get("edges_left"))
    told = [*_free(item, row, reading), *_governed(session, item, row, place, at)]
    session.flush()
    return told


def _refuse(item: models.Item, row: ListRow, reading: Reading | None, owner: models.Party) -> None:
    if item.owner_id != owner.id:
        raise RowError("owner", f"{item.tag} has another owner on record; a list doesn't change whose it is")
    said = reading.designation if reading else row.get("code")
    if said and item.designation and compact(said) != compact(item.designation):
        raise RowError("code", f"{item.tag} is {item.designation} on record: another tool needs another tag")
    if row.get("kind") not in (None, item.kind):
        raise RowError("kind", f"{item.tag} is of kind {item.kind} on record")
    if row.get("lent_to") and item.held_by_id is None:
        raise RowError("lent_to", f"{item.tag} is not lent out on record: crib lend {item.tag}")


def _free(item: models.Item, row: ListRow, reading: Reading | None) -> list[str]:
    """Change what the ledger doesn't govern."""
    told = []
    for name in _FREE:
        value = row.get(name)
        if value is not None and value != getattr(item, name):
            told.append(f"{name} {getattr(item, name) or 'nothing'} → {value}")
            setattr(item, name, value)
    values = {"tag": item.tag, "kind": item.kind, **row.values}
    fresh = new_item(ListRow(file=row.file, line=row.line, values=values), reading)
    for part in _DETAILS:
        was, now = getattr(item, part), getattr(fresh, part)
        if was is None or now is None:
            continue
        for column in inspect(type(now)).columns.keys():  # noqa: SIM118
            value = getattr(now, column)
            if (part, column) in _GROUND or column == "item_id":
                continue  # the ledger has these
            if value is not None and value != getattr(was, column):
                told.append(f"{column} {_shown(getattr(was, column))} → {_shown(value)}")
                setattr(was, column, value)
    return told


def _governed(
    session: WriteSession, item: models.Item, row: ListRow, place: models.Place, at: datetime
) -> list[str]:
    """Record what the ledger governs, a line for each sort."""
    told = []

    def record(what: str, **facts: Any) -> None:
        ledger.record(session, ledger.Entry(item_id=item.id, what=what, at=at, why=WHY, **facts))

    if item.place_id != place.id:
        was = session.get_one(models.Place, item.place_id).path
        record("moved", to_place_id=place.id)
        told.append(f"moved: {was} → {place.path}")
    condition = row.get("condition")
    if condition is not None and condition != item.condition:
        told.append(f"regraded: {item.condition} → {condition}")
        record("regraded", to_condition=condition)
    told += _sizes(item, row, record)
    quantity, edges = row.get("quantity", item.quantity), row.get("edges_left", item.edges_left)
    if (quantity, edges) != (item.quantity, item.edges_left):
        counted = [f"counted: {item.quantity} → {quantity}"] if quantity != item.quantity else []
        if edges != item.edges_left:
            counted.append(f"edges {_shown(item.edges_left)} → {edges}")
        facts: dict[str, Any] = {"quantity_change": quantity - item.quantity}
        if edges is not None and edges != item.edges_left:
            facts["edges_change"] = edges - (item.edges_left or 0)
        record("counted", **facts)
        told += counted
    return told


def _sizes(item: models.Item, row: ListRow, record: Callable[..., None]) -> list[str]:
    """Record the sizes of a drill, reamer, mill or tap where the list has others."""
    detail = item.rotary
    if detail is None:
        return []
    said = {"dc_mm": row.get("dc"), "lf_mm": row.get("lf")}
    new = {name: size for name, size in said.items() if size not in (None, getattr(detail, name))}
    told = [f"{name} {_shown(getattr(detail, name))} → {_shown(size)}" for name, size in new.items()]
    if new:
        record("reground", **{f"to_{name}": size for name, size in new.items()})
    return told


def _shown(value: object) -> str:
    return "nothing" if value is None else f"{value:g}" if isinstance(value, float) else str(value)
