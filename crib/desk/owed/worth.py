"""Where a tool came from and what it is worth: several values side by side, none picked silently."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from crib.desk import lookup
from crib.desk.asking.ask import Asker, FoundItem
from crib.desk.dates import now, read_day, today
from crib.desk.owed.values import by_age, months_between
from crib.desk.typed import read_life, text
from crib.errors import InputError, UnknownName
from crib.store import papers
from crib.store.papers import OriginRow, WorthRow
from crib.store.read import Reader, reading
from crib.store.words import ORIGINS, WORTH_BASES
from crib.units.counts import many
from crib.units.money import Money, read_currency, read_money

OLD_PRICE_MONTHS = 24  # a price older than that is no longer today's (common practice of insurance lists)


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """One value of one piece.

    Attributes:
        basis: paid, replacement, agreed, cash value, estimate or by age.
        amount: as printed; null where it is not known.
        money: the same, to reckon with.
        on: of which day.
        source: who says so.
        how: how it was worked out, or what is missing for it.
        old: the price is older than two years.
    """

    basis: str
    amount: str | None
    money: Money | None
    on: date | None
    source: str | None
    how: str
    old: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CameFrom:
    """How a tool was come by; the newest entry.

    Attributes:
        how: gift, inherited, bought for this job …
        on: the day.
        from_whom: giver, seller.
        maker: who made it.
        receipt: its number, or where it is.
        paid: as printed.
        note: anything.
        said_by: who entered it, and when.
    """

    how: str
    on: date | None
    from_whom: str | None
    maker: str | None
    receipt: str | None
    paid: str | None
    note: str | None
    said_by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """A tool, where it came from, and what it is worth by each basis."""

    item: FoundItem
    origin: CameFrom | None
    values: tuple[Value, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WorthRequest:
    """What is to be recorded, everything as typed; empty means not told.

    Attributes:
        agreed: what owner and payer agreed on.
        replacement: price of a new one of the same kind.
        estimate: of somebody who knows.
        cash_value: as an insurer or office set it.
        paid: what one piece cost its owner.
        source: who says so: a price list, initials on the inventory …
        on: the day of it.
        life: years that it is taken to last, for the value by age.
        origin: one of words.ORIGINS.
        got: the day on which the owner came by it.
        from_whom: giver, seller.
        maker: who made it.
        receipt: its number, or where it is.
        note: anything.
    """

    agreed: str = ""
    replacement: str = ""
    estimate: str = ""
    cash_value: str = ""
    paid: str = ""
    source: str = ""
    on: str = ""
    life: str = ""
    origin: str = ""
    got: str = ""
    from_whom: str = ""
    maker: str = ""
    receipt: str = ""
    note: str = ""


def worth(address: str, tag: str) -> Worth:
    """Tell where a tool came from and what it is worth today.

    Raises:
        UnknownName: no such tool.
    """
    with reading(address) as reader:
        row = lookup.item(reader, tag)
        return Worth(
            item=Asker(reader).shown(row),
            origin=came_from(reader, [row.id]).get(row.id),
            values=values(reader, [row.id], on=today())[row.id],
        )


def record(address: str, tag: str, request: WorthRequest, *, currency: str = "") -> Worth:
    """Record what a tool is worth or where it came from; what was said before stays on record.

    Args:
        address: the store.
        tag: the tool.
        request: as typed.
        currency: what bare amounts are in; the setting, if not told.

    Raises:
        UnknownName: no such tool or origin.
        InputError: an amount, day or life that can't be read; or nothing is told.
    """
    from crib.store import models
    from crib.store.writing import writing

    with reading(address) as reader:
        row, by = lookup.item(reader, tag), lookup.me(reader)
        unit = read_currency(currency) if currency else reader.settings().get("currency", "")
        before = papers.origins(reader, [row.id])
    who: dict[str, Any] = {"item_id": row.id, "at": now(), "by_id": by.id if by else None}
    worths = [models.Worth(**who, **told) for told in _worths(request, unit)]
    origin = _origin(request, unit, before[-1] if before else None)
    if not worths and origin is None:
        raise InputError("nothing is told to record", "for example --agreed '85 EUR', --origin gift")
    with writing(address) as session:
        session.add_all(worths)
        if origin is not None:
            session.add(models.Origin(**who, **origin))
    return worth(address, row.tag)


def values(reader: Reader, item_ids: Sequence[int], *, on: date) -> Mapping[int, tuple[Value, ...]]:
    """Give what items are worth on a day, one piece of each, by every basis: also those that are not known.

    Args:
        reader: of the store.
        item_ids: of these.
        on: the day.
    """
    worths: dict[int, dict[str, WorthRow]] = defaultdict(dict)
    lives: dict[int, WorthRow] = {}
    for row in papers.worths(reader, item_ids):
        worths[row.item_id][row.basis] = row
        if row.life_years is not None:
            lives[row.item_id] = row
    origin = {row.item_id: row for row in papers.origins(reader, item_ids)}
    return {
        item_id: tuple(_values(worths[item_id], lives.get(item_id), origin.get(item_id), on))
        for item_id in item_ids
    }


def came_from(reader: Reader, item_ids: Sequence[int]) -> Mapping[int, CameFrom]:
    """Give how items were come by, as far as it is on record."""
    return {row.item_id: _came(row) for row in papers.origins(reader, item_ids)}


# -- the values ------------------------------------------------------------------------------------------


def _values(
    found: Mapping[str, WorthRow], life: WorthRow | None, origin: OriginRow | None, on: date
) -> Iterable[Value]:
    if origin and origin.paid is not None and origin.currency:
        yield _value("paid", Money(origin.paid, origin.currency), origin.on_date, origin.receipt)
    else:
        yield _unknown("paid", "nobody entered what it cost")
    for basis in ("replacement", "agreed"):
        if row := found.get(basis):
            yield _recorded(row, on)
        else:
            yield _unknown(basis, "nobody entered it")
    yield _by_age(found.get("replacement"), life, origin, on)
    yield from (_recorded(found[basis], on) for basis in ("cash value", "estimate") if basis in found)


def _by_age(new: WorthRow | None, life: WorthRow | None, origin: OriginRow | None, on: date) -> Value:
    start = origin.on_date if origin else None
    if new is None or life is None or life.life_years is None or start is None:
        lacks = (
            ("the price of a new one", new is None),
            ("a life that was agreed", life is None),
            ("the day it was come by", start is None),
        )
        return _unknown(
            "by age", "it needs " + " and ".join(what for what, is_lacking in lacks if is_lacking)
        )
    months, years = months_between(start, on), Decimal(f"{life.life_years:g}")
    money = by_age(Money(new.amount, new.currency), months, years)
    age = f"{many(months, 'month')} since {start}"
    how = f"{Money(new.amount, new.currency)} × (1 − {months}/{12 * years:g} months), {age}"
    if origin and origin.how in ("gift", "inherited", "exchanged"):
        how += "; it was made before that, so it is older"
    return _value(
        "by age", money, on, f"life of {years:g} years: {life.source or 'nobody said by whom'}", how
    )


def _recorded(row: WorthRow, on: date) -> Value:
    old = row.basis == "replacement" and months_between(row.on_date, on) >= OLD_PRICE_MONTHS
    how = "the price is older than two years" if old else ""
    return _value(row.basis, Money(row.amount, row.currency), row.on_date, row.source, how, old)


def _value(
    basis: str, money: Money, on: date | None, source: str | None, how: str = "", old: bool = False
) -> Value:
    return Value(basis=basis, amount=str(money), money=money, on=on, source=source, how=how, old=old)


def _unknown(basis: str, why: str) -> Value:
    return Value(basis=basis, amount=None, money=None, on=None, source=None, how=why)


def _came(row: OriginRow) -> CameFrom:
    paid = Money(row.paid, row.currency) if row.paid is not None and row.currency else None
    by = f"{row.by}, " if row.by else ""
    return CameFrom(
        how=row.how,
        on=row.on_date,
        from_whom=row.from_whom,
        maker=row.maker,
        receipt=row.receipt,
        paid=str(paid) if paid else None,
        note=row.note,
        said_by=f"{by}{row.at:%Y-%m-%d}",
    )


# -- reading what was typed --------------------------------------------------------------------------------


def _worths(request: WorthRequest, unit: str) -> list[dict[str, Any]]:
    """Give the rows of worth that are told."""
    day = read_day(request.on, on=today(), ahead=False) if request.on else today()
    life = read_life(request.life) if request.life else None
    source = text(request.source, "source")
    typed = {basis: str(getattr(request, basis.replace(" ", "_"))) for basis in WORTH_BASES}
    found: list[dict[str, Any]] = []
    for basis, amount in typed.items():
        if amount:
            money = read_money(amount, unit)
            found.append(
                {
                    "basis": basis,
                    "amount": money.amount,
                    "currency": money.currency,
                    "on_date": day,
                    "source": source,
                }
            )
    if life is not None:
        if len(found) != 1:
            raise InputError(
                "a life goes with one value", "tell it with the price of a new one: --replacement"
            )
        found[0]["life_years"] = life
    return found


def _origin(request: WorthRequest, unit: str, before: OriginRow | None) -> dict[str, Any] | None:
    """Give the row of how it was come by, what was said before carried on; None where nothing is told."""
    if request.origin and request.origin not in ORIGINS:
        raise UnknownName("origin", request.origin, ORIGINS)
    told: dict[str, Any] = {
        "how": request.origin or None,
        "on_date": read_day(request.got, on=today(), ahead=False) if request.got else None,
        "from_whom": text(request.from_whom, "giver or seller"),
        "maker": text(request.maker, "maker"),
        "receipt": text(request.receipt, "receipt"),
        "note": text(request.note, "note"),
    }
    if request.paid:
        paid = read_money(request.paid, unit)
        told |= {"paid": paid.amount, "currency": paid.currency}
    told = {name: value for name, value in told.items() if value is not None}
    if not told:
        return None
    kept = ("how", "on_date", "from_whom", "maker", "receipt", "paid", "currency", "note")
    carried = {name: getattr(before, name) for name in kept} if before else {"how": "unknown"}
    return carried | told
