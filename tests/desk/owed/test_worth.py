"""What a tool is worth: by each basis, with its source; published figures; nothing picked."""

from datetime import date
from decimal import Decimal

import pytest

from crib.desk.owed.values import by_age, by_edges, by_repair, months_between, share
from crib.desk.owed.worth import WorthRequest, record, worth
from crib.errors import BadQuantity, InputError, UnknownName
from crib.units.money import Money, read_money


def euros(amount: str) -> Money:
    return Money(Decimal(amount), "EUR")


# Australian Taxation Office, "Uniform capital allowance system: calculating the decline in value", example of
# the prime cost method: 80,000 and a life of 5 years fall by 16,000 in each year
@pytest.mark.parametrize(
    ("years", "left"), [(0, 80_000), (1, 64_000), (2, 48_000), (4, 16_000), (5, 0), (6, 0)]
)
def test_a_straight_line_as_published(years: int, left: int) -> None:
    assert by_age(Money(Decimal(80_000), "AUD"), 12 * years, Decimal(5)).amount == left


def test_ten_years_old_of_fifteen() -> None:
    # a sofa of ten years with a life of fifteen has lost two thirds: an insurance agent's example
    # (insureshub.com, replacement cost and actual cash value), which rounds to 67 %
    left = by_age(Money(Decimal(1500), "USD"), 120, Decimal(15)).amount
    assert left == Decimal(500)
    assert round(1 - left / 1500, 2) == Decimal("0.67")


def test_share_edges_and_repair() -> None:
    assert share(euros("85.25"), Decimal(50)) == euros("42.63")  # halves up
    assert by_edges(euros("9.40"), 9, 4) == euros("21.15")
    assert by_repair(euros("60"), euros("85")) == euros("60")
    assert by_repair(euros("90"), euros("85")) == euros("85")
    with pytest.raises(BadQuantity):
        by_repair(Money(Decimal(1), "USD"), euros("85"))


@pytest.mark.parametrize(
    ("start", "end", "months"),
    [
        ("2024-02-29", "2025-02-28", 12),  # the last of February stands for a leap day
        ("2024-02-29", "2025-02-27", 11),
        ("2019-12-31", "2020-01-30", 0),
        ("2019-12-31", "2020-02-29", 2),
        ("2019-12-15", "2020-01-15", 1),
        ("2026-01-01", "2025-01-01", 0),
    ],
)
def test_whole_months(start: str, end: str, months: int) -> None:
    assert months_between(date.fromisoformat(start), date.fromisoformat(end)) == months


def by_basis(store: str, tag: str) -> dict[str, str | None]:
    return {value.basis: value.amount for value in worth(store, tag).values}


def test_all_values_stand_side_by_side_and_what_is_missing_is_said(demo_address: str) -> None:
    before = worth(demo_address, "H03")
    assert [value.basis for value in before.values] == ["paid", "replacement", "agreed", "by age"]
    assert "a life that was agreed" in before.values[-1].how
    record(demo_address, "H03", WorthRequest(agreed="85 EUR", source="both initials", on="2026-01-05"))
    record(demo_address, "H03", WorthRequest(replacement="140", life="20 years"), currency="EUR")
    record(
        demo_address, "H03", WorthRequest(origin="bought", got="2016-11-01", paid="60 EUR", receipt="no. 7")
    )
    found = by_basis(demo_address, "H03")
    assert (found["paid"], found["replacement"], found["agreed"]) == ("60.00 EUR", "140.00 EUR", "85.00 EUR")
    (age,) = [value for value in worth(demo_address, "H03").values if value.basis == "by age"]
    assert age.money is not None
    assert euros("60") < age.money < euros("75")
    assert "140.00 EUR × (1 − " in age.how


def test_what_was_said_of_the_origin_is_carried_on(demo_address: str) -> None:
    record(demo_address, "H03", WorthRequest(origin="gift", from_whom="an uncle", got="2019-04-12"))
    came = record(demo_address, "H03", WorthRequest(maker="nobody knows")).origin
    assert came is not None
    assert (came.how, came.from_whom, came.on, came.maker) == (
        "gift", "an uncle", date(2019, 4, 12), "nobody knows"
    )  # fmt: skip


def test_the_newest_day_counts_and_an_old_price_is_marked(demo_address: str) -> None:
    record(demo_address, "H03", WorthRequest(replacement="140 EUR", on="2026-01-01"))
    record(demo_address, "H03", WorthRequest(replacement="99 EUR", on="2021-01-01"))
    assert by_basis(demo_address, "H03")["replacement"] == "140.00 EUR"
    record(demo_address, "H13", WorthRequest(replacement="99 EUR", on="2021-01-01"))
    (old,) = [value for value in worth(demo_address, "H13").values if value.basis == "replacement"]
    assert old.old


@pytest.mark.parametrize(
    ("request_", "error"),
    [
        (WorthRequest(), InputError),
        (WorthRequest(agreed="eighty EUR"), BadQuantity),
        (WorthRequest(agreed="$85"), BadQuantity),
        (WorthRequest(life="20 years"), InputError),
        (WorthRequest(replacement="85 EUR", life="for ever"), InputError),
        (WorthRequest(replacement="85 EUR", life="0"), InputError),
        (WorthRequest(origin="stolen"), UnknownName),
    ],
)
def test_what_can_t_be_read(demo_address: str, request_: WorthRequest, error: type[InputError]) -> None:
    with pytest.raises(error):
        record(demo_address, "H03", request_)
    assert worth(demo_address, "H03").origin is None


def test_money_reads_back(demo_address: str) -> None:
    record(demo_address, "H03", WorthRequest(estimate="€ 1.234,50"))
    assert read_money(by_basis(demo_address, "H03")["estimate"] or "") == euros("1234.50")
