"""What is asked for a line of a claim: by the basis that the claimant names; none is picked."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from crib.desk.owed.values import by_edges, by_repair, share
from crib.desk.owed.worth import Value
from crib.errors import InputError, NotPossible
from crib.units.money import Money

_TOLD = "--amount tells the sum itself"
# a value -> what it is, and the option of crib worth that records it
_WORTH = {
    "paid": ("what it cost", "--paid"),
    "agreed": ("an agreed value", "--agreed"),
    "replacement": ("the price of a new one", "--replacement"),
    "by age": ("the value by age", "--replacement … --life"),
}
# basis of a claim -> the value of one piece that it takes
VALUE_OF = {"receipt": "paid", "agreed": "agreed", "like for like": "replacement", "age-reduced": "by age"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """An amount, and how it was worked out."""

    money: Money
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What was told for the sum besides the basis.

    Attributes:
        amount: the amount itself, where it is not to be worked out.
        percent: for a share.
        repair: what the repair costs.
        edges: used up, for consumption.
        edges_each: edges of one insert, from its code.
    """

    amount: Money | None = None
    percent: Decimal | None = None
    repair: Money | None = None
    edges: int | None = None
    edges_each: int | None = None


def asked(tag: str, basis: str, values: Sequence[Value], quantity: int, told: Told, currency: str) -> Asked:
    """Work out what is asked.

    Args:
        tag: of the tool, for messages.
        basis: one of words.CLAIM_BASES; empty where none was named.
        values: of one piece, by each basis.
        quantity: pieces.
        told: what else was told.
        currency: of the claim.

    Raises:
        NotPossible: no basis is named, or what it needs is not on record: the hint says what there is.
        InputError: it is in another currency.
    """
    known = {value.basis: value for value in values}
    if not basis:
        there = _side_by_side(known)
        none = f"none is on record: crib worth {tag} records one; {_TOLD}"
        raise NotPossible(f"{tag}: on which basis is it asked?", f"name one: {there}" if there else none)
    found = _told(basis, told) if told.amount else _by_basis(tag, basis, known, quantity, told)
    if found.money.currency != currency:
        raise InputError(
            f"{tag}: {found.money} is not in {currency}, the currency of the claim",
            "crib changes no money: tell --amount, at a rate that you can show",
        )
    return found


def _told(basis: str, told: Told) -> Asked:
    assert told.amount is not None
    return Asked(money=told.amount, how=f"{basis}: the amount as told")


def _by_basis(tag: str, basis: str, known: Mapping[str, Value], quantity: int, told: Told) -> Asked:
    if basis == "share":
        new = _needed(tag, "replacement", known)
        if told.percent is None:
            raise InputError(f"{tag}: a share of how much?", "--share 50")
        each = share(new, told.percent)
        return _times(each, quantity, f"{told.percent:f} % of {new}, the price of a new one")
    if basis == "consumption":
        new = _needed(tag, "replacement", known)
        if not told.edges or not told.edges_each:
            lacks = (
                "--edges tells how many"
                if told.edges_each
                else "its code does not tell how many edges one has"
            )
            raise InputError(f"{tag}: how many edges were used up?", lacks)
        how = f"{told.edges} of {told.edges_each} edges each × {new}, the price of one"
        return Asked(money=by_edges(new, told.edges, told.edges_each), how=how)
    if basis == "repair":
        if told.repair is None:
            raise InputError(f"{tag}: what does the repair cost?", "--repair '40 EUR'")
        new = _needed(tag, "replacement", known) * quantity
        money = by_repair(told.repair, new)
        return Asked(money=money, how=f"the lower of the repair, {told.repair}, and new, {new}")
    value = known[VALUE_OF[basis]]
    each = _needed(tag, VALUE_OF[basis], known)
    return _times(
        each, quantity, value.how or f"{value.basis}, {value.on or 'no day'}: {value.source or 'no source'}"
    )


def _times(each: Money, quantity: int, how: str) -> Asked:
    if quantity == 1:
        return Asked(money=each, how=how)
    return Asked(money=each.rounded() * quantity, how=f"{quantity} × {each}: {how}")


def _needed(tag: str, basis: str, known: Mapping[str, Value]) -> Money:
    value = known[basis]
    if value.money is None:
        (what, option), there = _WORTH[basis], _side_by_side(known)
        raise NotPossible(
            f"{tag}: {what} is not on record" + (f": {value.how}" if basis == "by age" else ""),
            f"crib worth {tag} {option} … records it; {_TOLD}" + (f"; on record: {there}" if there else ""),
        )
    return value.money


def _side_by_side(known: Mapping[str, Value]) -> str:
    """Name each basis that has a value on record; empty where none has."""
    return ", ".join(f"{basis} ({known[of].amount})" for basis, of in VALUE_OF.items() if known[of].amount)
