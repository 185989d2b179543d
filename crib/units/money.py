"""Money: exact amounts with a currency, read as people type them, rounded by one stated rule.

The rule: to the smallest coin of the currency, halves away from zero (for the euro: Regulation (EC) 1103/97,
article 5). Lines are rounded first and then summed, so that a paper adds up. Two currencies are never summed.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation

from crib.errors import BadQuantity
from crib.units.numbers import quoted

ROUNDING = "each line rounded to the smallest coin, halves up; the total is the sum of the rounded lines"
# decimals of the smallest coin where they are not two: ISO 4217, column "minor unit"
_DECIMALS = {
    **dict.fromkeys(("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI"), 0),
    **dict.fromkeys(("VND", "VUV", "XAF", "XOF", "XPF"), 0),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
}
_SIGNS = {"€": "EUR", "£": "GBP", "₹": "INR", "₽": "RUB", "₩": "KRW", "₺": "TRY", "₴": "UAH", "₪": "ILS"}
_UNCLEAR = {
    "$": ("USD", "CAD", "AUD", "NZD"),
    "¥": ("JPY", "CNY"),
    "kr": ("SEK", "NOK", "DKK", "ISK"),
}
_MOST = Decimal("1e12")
_PARTS = re.compile(r"(?P<before>[^\d.,+\-\s]*)\s*(?P<number>[+-]?[\d.,][\d., ']*?)\s*(?P<after>[^\d.,\s]*)")


@dataclass(frozen=True, slots=True, order=True)
class Money:
    """An amount of one currency.

    Attributes:
        amount: exact.
        currency: its ISO 4217 code.
    """

    amount: Decimal
    currency: str

    def __str__(self) -> str:
        """Print it as on paper: 1234.50 EUR."""
        return f"{self.rounded().amount:f} {self.currency}"

    def rounded(self) -> "Money":
        """Give it rounded to the smallest coin, halves away from zero."""
        coin = Decimal(1).scaleb(-_DECIMALS.get(self.currency, 2))
        return Money(self.amount.quantize(coin, rounding=ROUND_HALF_UP), self.currency)

    def __mul__(self, by: Decimal | int) -> "Money":
        """Give a multiple of it, not rounded."""
        return Money(self.amount * by, self.currency)

    def __sub__(self, other: "Money") -> "Money":
        """Give what is left of it.

        Raises:
            BadQuantity: the other is of another currency.
        """
        return Money(self.amount - _same(other, self.currency).amount, self.currency)


def total(amounts: Iterable[Money], currency: str) -> Money:
    """Sum amounts, each rounded first.

    Args:
        amounts: may be none.
        currency: what they must be in.

    Raises:
        BadQuantity: one is of another currency.
    """
    rounded = [_same(amount, currency).rounded().amount for amount in amounts]
    return Money(sum(rounded, Decimal(0)), currency).rounded()


def _same(amount: Money, currency: str) -> Money:
    if amount.currency != currency:
        raise BadQuantity(
            f"{amount} is not in {currency}",
            "crib changes no money: enter it in one currency, at a rate that you can show",
        )
    return amount


def read_currency(text: str) -> str:
    """Read the code or sign of a currency.

    Raises:
        BadQuantity: it is neither, or a sign that several currencies share.
    """
    text = text.strip()
    if text in _SIGNS:
        return _SIGNS[text]
    if text.lower() in _UNCLEAR:
        codes = _UNCLEAR[text.lower()]
        raise BadQuantity(
            f"{quoted(text)} stands for several currencies", "write one of: " + ", ".join(codes)
        )
    if not (len(text) == 3 and text.isascii() and text.isalpha()):
        raise BadQuantity(f"{quoted(text)} is no currency", "three letters, as EUR, GBP or USD (ISO 4217)")
    return text.upper()


def read_money(text: str, currency: str = "") -> Money:
    """Read an amount as people type it: `85 EUR`, `€85.50`, `1.234,50 EUR`, `GBP 12`.

    Args:
        text: as typed.
        currency: what a bare number is in, and a sign that several currencies share; empty where not settled.

    Raises:
        BadQuantity: it is no amount of money, below zero, with parts of a coin, or of a currency not said.
    """
    found = _PARTS.fullmatch(" ".join(text.split()))
    if found is None:
        raise BadQuantity(f"{quoted(text)} is no amount of money", "write it like 85 EUR or 85.50 EUR")
    signs = [sign for sign in (found["before"], found["after"]) if sign]
    if len(signs) > 1:
        raise BadQuantity(f"{quoted(text)} names two currencies", "write it like 85 EUR")
    if signs and currency in _UNCLEAR.get(signs[0].lower(), ()):
        signs = [currency]
    if not signs and not currency:
        raise BadQuantity(
            f"{quoted(text)}: in which currency?",
            "write it like 85 EUR, or once: crib setting currency EUR",
        )
    read = Money(_number(text, found["number"]), read_currency(signs[0]) if signs else currency)
    if read.amount < 0 or read.amount >= _MOST:
        raise BadQuantity(f"{quoted(text)} can't be an amount here", "from nothing to a million million")
    if read.rounded().amount != read.amount:
        raise BadQuantity(f"{quoted(text)} has parts of the smallest coin", f"round it, as {read}")
    return read.rounded()


def _number(text: str, typed: str) -> Decimal:
    """Read digits with their marks: the last of two different marks is the decimal one."""
    typed = typed.replace(" ", "").replace("'", "")
    marks = [ch for ch in typed if ch in ".,"]
    decimal = marks[-1] if marks and marks.count(marks[-1]) == 1 else ""
    whole, _, cents = typed.rpartition(decimal) if decimal else (typed, "", "")
    groups = re.split("[.,]", whole)
    grouped = len(groups) == 1 or (len(set(marks)) <= 2 and all(len(group) == 3 for group in groups[1:]))
    if len(marks) == 1 and len(cents) == 3 and groups[0] not in ("", "0"):
        raise BadQuantity(
            f"{quoted(text)} may be {whole}{cents} or {whole}.{cents}",
            f"write {whole}{cents} or {whole}.{cents[:2]}",
        )
    try:
        if not grouped or (len(groups) > 1 and not 1 <= len(groups[0].lstrip("+-")) <= 3):
            raise InvalidOperation
        return Decimal("".join(groups) + "." + (cents or "0"))
    except InvalidOperation as error:
        raise BadQuantity(f"{quoted(text)} is no amount of money", "write it like 1234.50 EUR") from error
