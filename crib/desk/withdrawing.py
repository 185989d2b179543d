"""Withdrawing what was recorded once: it stays on record, marked with who and why, and counts no more."""

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import TYPE_CHECKING, TypeVar

from crib.desk.typed import text
from crib.errors import NotPossible, UnknownName

if TYPE_CHECKING:
    from crib.store.models import LoggedCut, Proven

Row = TypeVar("Row", "LoggedCut", "Proven")


def withdraw_row(
    address: str,
    model: type[Row],
    number: int,
    *,
    what: str,
    why: str,
    by_id: int | None,
    known: Sequence[int],
    listed_by: str,
) -> None:
    """Mark one row as withdrawn.

    Args:
        address: the store.
        model: of which table.
        number: of the row.
        what: what such a row is called, for a refusal.
        why: what was wrong with it.
        by_id: who withdraws it.
        known: the numbers there are; the last few are offered.
        listed_by: the command that lists them.

    Raises:
        UnknownName: there is none of that number.
        NotPossible: it is withdrawn already.
    """
    from crib.store.writing import writing  # SQLAlchemy: listing needs none of it

    with writing(address) as session:
        row = session.get(model, number, with_for_update=True)
        if row is None:
            offered = [str(one) for one in known[-5:]]
            raise UnknownName(what, str(number), offered, f"{listed_by} lists them")
        if row.withdrawn_at is not None:
            raise NotPossible(f"{what} no. {number} is withdrawn already", "nothing was written")
        row.withdrawn_at, row.withdrawn_by_id = datetime.now(UTC), by_id
        row.withdrawn_why = text(why, "reason")
