"""When to buy again, against published worked examples; z against the normal distribution."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from crib.trade import tables
from crib.trade.stocking.reorder import reorder_point, safety_stock, use_of, z_of

LEVELS = tables.rows("service_level")


@pytest.mark.parametrize("row", LEVELS, ids=lambda row: row["service_percent"])
def test_z_is_the_quantile_of_the_normal_distribution(row) -> None:
    # the book rounds to two places, and 1.645 up
    assert float(row["z"]) == pytest.approx(norm.ppf(float(row["service_percent"]) / 100), abs=0.006)


def test_stevenson_example_8() -> None:
    """Operations Management, 14th ed., example 8: 50 and 5 tons over the lead time, 97 %: 9.40, 59.40."""
    z = z_of(97, LEVELS)
    assert safety_stock(z, sd_per_day=5.0, lead_days=1) == pytest.approx(9.40, abs=0.005)
    assert reorder_point(per_day=50.0, sd_per_day=5.0, lead_days=1, z=z) == pytest.approx(59.40, abs=0.005)


def test_retailer_warehouse_problem() -> None:
    """Textbook retailer and warehouse, worked solution: 2400 a year, 7 days, 4 a day, 98 %: 46.03 + 21.70."""
    z = z_of(98, LEVELS)
    assert safety_stock(1.0, sd_per_day=4.0, lead_days=7) == pytest.approx(10.583, abs=0.0005)
    found = reorder_point(per_day=2400 / 365, sd_per_day=4.0, lead_days=7, z=z)
    assert found == pytest.approx(67.73, abs=0.02)  # the print adds parts that were rounded before
    assert math.ceil(found) == 68


def test_two_bins_hold_the_use_of_the_wait_and_an_allowance() -> None:
    """Accounting reference on two-bin control: 100 a day, 3 days, 25 % more: 375."""
    found = reorder_point(per_day=100.0, sd_per_day=75 / math.sqrt(3), lead_days=3, z=1.0)
    assert found == pytest.approx(375.0)


@given(st.lists(st.tuples(st.integers(0, 29), st.integers(1, 9)), max_size=40))
def test_mean_times_days_is_what_was_taken(taken: list[tuple[int, int]]) -> None:
    use = use_of(taken, 30)
    assert use.per_day * 30 == pytest.approx(sum(count for _, count in taken))
    assert use.observations == len(taken)
    assert use.sd_per_day >= 0.0
    assert (use.sd_per_day == 0.0) == (
        not taken or len({sum(c for d, c in taken if d == n) for n in range(30)}) == 1
    )


def test_use_outside_of_the_days_is_a_fault_of_the_caller() -> None:
    for taken, days in (([], 0), ([(30, 1)], 30), ([(-1, 1)], 30)):
        with pytest.raises(ValueError, match="days"):
            use_of(taken, days)
