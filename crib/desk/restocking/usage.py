"""How fast something is used, from what the ledger says was taken; silent where that is too little."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from math import ceil, floor

from crib.desk.tables import service_levels, stocking_rules
from crib.store.stocking import StockRow, TakenRow
from crib.trade.stocking.reorder import Use, reorder_point, use_of, z_of
from crib.units.counts import many


@dataclass(frozen=True, slots=True, kw_only=True)
class Usage:
    """What the ledger tells of the use of a code.

    Attributes:
        counted_in: pieces or edges.
        observations: how many times some were taken in the days looked at.
        needed: with fewer, no figure is given.
        days: how many days were looked at.
        per_week: mean use; None where the history is too short.
        days_left: how long what is there lasts at that rate; None where the history is too short.
        reorder_at: stock at which to buy; None without a lead time or with too short a history.
        service_percent: share of waits in which that stock should not run out.
        worn_out: pieces worn out, broken or scrapped in those days.
        said: all of it in one line.
    """

    counted_in: str
    observations: int
    needed: int
    days: int
    per_week: float | None
    days_left: int | None
    reorder_at: int | None
    service_percent: float
    worn_out: int
    said: str


def usage(
    stock: Iterable[StockRow],
    taken: Iterable[TakenRow],
    *,
    counted_in: str,
    have: int,
    lead_days: int | None,
    today: date,
    service_percent: float | None = None,
) -> Usage:
    """Sum up the use of some batches.

    Args:
        stock: the batches that count.
        taken: what the ledger says of their code.
        counted_in: pieces or edges.
        have: how many there are now.
        lead_days: from order to delivery.
        today: the last day looked at.
        service_percent: of the table "service_level"; the usual one if not told.

    Raises:
        KeyError: there is no such service level.
    """
    rules = stocking_rules()
    service = service_percent or rules.service_percent
    batches = {row.id: row for row in stock}
    own = [line for line in taken if line.item_id in batches]
    begun = min((line.at.date() for line in own), default=today)
    days = max(1, min((today - begun).days + 1, int(rules.looked_back)))
    recent = [line for line in own if (today - line.at.date()).days < days]
    gone = [(line, _gone(line, batches[line.item_id], counted_in)) for line in recent]
    times = [(days - 1 - (today - line.at.date()).days, count) for line, count in gone if count > 0]
    # a clock that was wrong may have written a line of tomorrow
    use = use_of([(min(day, days - 1), count) for day, count in times], days)
    enough = use.observations >= rules.fewest_observations
    at = None
    if enough and lead_days is not None:
        z = z_of(service, service_levels())
        at = ceil(reorder_point(use.per_day, use.sd_per_day, lead_days, z))
    worn_out = sum(_worn(line, batches[line.item_id]) for line in recent)
    left = floor(have / use.per_day) if enough and use.per_day else None
    return Usage(
        counted_in=counted_in,
        observations=use.observations,
        needed=int(rules.fewest_observations),
        days=days,
        per_week=round(use.per_day * 7, 2) if enough else None,
        days_left=left,
        reorder_at=at,
        service_percent=service,
        worn_out=worn_out,
        said=_said(use, int(rules.fewest_observations), counted_in, left, at, service),
    )


def _gone(line: TakenRow, batch: StockRow, counted_in: str) -> int:
    """Give how many a line used up: edges marked off, or pieces that were spent, lost on loan or scrapped."""
    if counted_in == "edges":
        return -(line.edges_change or 0) if line.what == "edge used" else 0
    if line.what in ("edge used", "returned"):
        return -line.quantity_change
    return _worn(line, batch)


def _worn(line: TakenRow, batch: StockRow) -> int:
    """Give the pieces that a line says are worn out, broken or scrapped."""
    if line.what == "scrapped" and line.quantity_change < 0:
        return -line.quantity_change
    if line.to_condition == "scrap":
        return max(batch.quantity, 1)
    return -line.quantity_change if line.what == "edge used" and line.quantity_change < 0 else 0


def _said(use: Use, needed: int, what: str, left: int | None, at: int | None, service: float) -> str:
    times = f"taken {use.observations} time{'s' * (use.observations != 1)} in {many(use.days, 'day')}"
    if use.observations < needed:
        return f"not enough history for a rate: {times}, {needed} are wanted"
    parts = [f"{use.per_day * 7:.3g} {what} a week ({times})"]
    if left is not None:
        parts.append(f"what is here lasts about {many(left, 'day')} at that rate")
    if at is not None:
        parts.append(f"reorder at {at} {what} ({service:g} % of waits without running out)")
    return "; ".join(parts)
