"""Money: read as typed, rounded by the stated rule, never summed across currencies."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import BadQuantity
from crib.units.money import Money, read_currency, read_money, total


@pytest.mark.parametrize(
    ("text", "amount", "currency"),
    [
        ("85 EUR", "85.00", "EUR"),
        ("85eur", "85.00", "EUR"),
        ("EUR 85,5", "85.50", "EUR"),
        ("€85.50", "85.50", "EUR"),
        ("£ 1,234.50", "1234.50", "GBP"),
        ("1.234,50 €", "1234.50", "EUR"),
        ("1 234,50 €", "1234.50", "EUR"),
        ("1,234,567 USD", "1234567.00", "USD"),
        ("0.05 USD", "0.05", "USD"),
        (".5 USD", "0.50", "USD"),
        ("1500 JPY", "1500", "JPY"),
        ("0.125 KWD", "0.125", "KWD"),
    ],
)
def test_as_people_type_it(text: str, amount: str, currency: str) -> None:
    read = read_money(text)
    assert (format(read.amount, "f"), read.currency) == (amount, currency)


def test_a_bare_number_and_a_shared_sign_take_the_currency_of_the_settings() -> None:
    assert read_money("85", "CAD") == read_money("$85", "CAD") == Money(Decimal("85.00"), "CAD")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("85", "in which currency"),
        ("$85", "several currencies"),
        ("1,234 EUR", "may be 1234 or 1.234"),
        ("0.005 EUR", "parts of the smallest coin"),
        ("1.5 JPY", "parts of the smallest coin"),
        ("-5 EUR", "can't be"),
        ("EUR 5 USD", "two currencies"),
        ("12.34.56 EUR", "no amount"),
        ("eighty EUR", "no amount"),
        ("", "no amount"),
        ("5 euros", "no currency"),
        ("1e9 EUR", "no amount"),
        ("NaN EUR", "no amount"),
    ],
)
def test_what_can_t_be_read_is_said(text: str, said: str) -> None:
    with pytest.raises(BadQuantity) as raised:
        read_money(text)
    assert said in raised.value.message


# Bank of Slovenia and government's changeover site (evro.si), "Rounding rules": examples as printed there
@pytest.mark.parametrize(
    ("exact", "printed"),
    [
        (Decimal("24.784"), "24.78"),
        (Decimal("24.785"), "24.79"),
        (Decimal(500) / Decimal("239.640"), "2.09"),
        (Decimal(1000) / Decimal("239.640"), "4.17"),
    ],
)
def test_rounding_as_published_for_the_euro(exact: Decimal, printed: str) -> None:
    assert str(Money(exact, "EUR")) == f"{printed} EUR"


@given(st.lists(st.decimals("0", "9999", places=4), max_size=8))
def test_a_total_is_the_sum_of_what_is_printed(amounts: list[Decimal]) -> None:
    lines = [Money(amount, "EUR") for amount in amounts]
    printed = [Decimal(str(line).split()[0]) for line in lines]
    assert total(lines, "EUR").amount == sum(printed, Decimal(0))


@given(st.decimals("0", "999999999", places=2), st.sampled_from(["EUR", "USD", "GBP"]))
def test_what_is_printed_reads_back(amount: Decimal, currency: str) -> None:
    money = Money(amount, currency)
    assert read_money(str(money)) == money


def test_two_currencies_are_never_summed() -> None:
    with pytest.raises(BadQuantity, match="not in EUR"):
        total([read_money("5 EUR"), read_money("5 USD")], "EUR")
    with pytest.raises(BadQuantity, match="not in EUR"):
        read_money("5 EUR") - read_money("1 USD")


def test_currencies_by_code_or_sign() -> None:
    assert [read_currency(text) for text in ("eur", "£", " USD ")] == ["EUR", "GBP", "USD"]
