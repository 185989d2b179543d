"""Withdrawing what was recorded once: it stays on record, marked with who and why, and counts no more."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from typing import TYPE_CHECKING, TypeVar

from crib.desk.lookup import my_id
from crib.desk.typed import text
from crib.errors import NotPossible, UnknownName
from crib.store.read import Reader, reading

if TYPE_CHECKING:
    from crib.store.models import LoggedCut, Proven
    from crib.store.record_rows import CutRow, ProvenRow

Model = TypeVar("Model", "LoggedCut", "Proven")
Row = TypeVar("Row", "CutRow", "ProvenRow")
Shown = TypeVar("Shown")


def withdraw_row(
    address: str,
    model: type[Model],
    number: int,
    *,
    what: str,
    why: str,
    rows: Callable[[Reader, bool], Sequence[Row]],
    shown: Callable[[Row, str], Shown],
    listed_by: str,
) -> Shown:
    """Mark one row as withdrawn, and give it as it is told.

    Args:
        address: the store.
        model: of which table.
        number: of the row.
        what: what such a row is called, for a refusal.
        why: what was wrong with it.
        rows: reads them, with those withdrawn or without; the last few numbers are offered.
        shown: tells a row in a system of units.
        listed_by: the command that lists them.

    Raises:
        UnknownName: there is none of that number.
        NotPossible: it is withdrawn already.
    """
    from crib.store.writing import writing  # SQLAlchemy: listing needs none of it

    with reading(address) as reader:
        by_id, system = my_id(reader), reader.settings().get("units", "metric")
        known = [row.id for row in rows(reader, False)]
    with writing(address) as session:
        row = session.get(model, number, with_for_update=True)
        if row is None:
            offered = [str(one) for one in known[-5:]]
            raise UnknownName(what, str(number), offered, f"{listed_by} lists them")
        if row.withdrawn_at is not None:
            raise NotPossible(f"{what} no. {number} is withdrawn already", "nothing was written")
        row.withdrawn_at, row.withdrawn_by_id = datetime.now(UTC), by_id
        row.withdrawn_why = text(why, "reason")
    with reading(address) as reader:
        return shown(next(one for one in rows(reader, True) if one.id == number), system)
