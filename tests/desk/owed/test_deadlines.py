"""Deadlines: each counted from a day that it names, over year ends and leap days."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.desk.owed.deadlines import COUNTED_FROM, deadlines, read_rules, rule_sets
from crib.errors import InputError

TODAY = date(2026, 11, 27)


def julian_day(day: date) -> int:
    """Fliegel and Van Flandern, Communications of the ACM 11 (1968) 657: a day's number, by whole divisions.

    Python's // floors where theirs cuts off, so the term for January and February is written out.
    """
    early = -1 if day.month <= 2 else 0
    return (
        day.day - 32075 + 1461 * (day.year + 4800 + early) // 4
        + 367 * (day.month - 2 - 12 * early) // 12 - 3 * ((day.year + 4900 + early) // 100) // 4
    )  # fmt: skip


# 26 CFR 1.62-2(g)(2)(i): 60 days to account, 120 days to return what is left over, 30 days before
@pytest.mark.parametrize(
    ("paid", "account", "give_back", "advance"),
    [
        ("2026-11-25", "2027-01-24", "2027-03-25", "2026-10-26"),
        ("2023-12-31", "2024-02-29", "2024-04-29", "2023-12-01"),
        ("2024-01-01", "2024-03-01", "2024-04-30", "2023-12-02"),
        ("2024-02-29", "2024-04-29", "2024-06-28", "2024-01-30"),
        ("2025-01-01", "2025-03-02", "2025-05-01", "2024-12-02"),
    ],
)
def test_the_accountable_plan_s_days(paid: str, account: str, give_back: str, advance: str) -> None:
    name, rules = read_rules("Accountable Plan")
    assert name == "accountable plan"
    found = {
        one.days: one for one in deadlines(rules, {"event": [(date.fromisoformat(paid), (1,))]}, on=TODAY)
    }
    assert {days: str(one.due) for days, one in found.items()} == {60: account, 120: give_back, -30: advance}
    assert all(
        str(one.start) == paid and "1.62-2" in one.source and "1990" in one.as_of for one in found.values()
    )


@given(st.dates(date(2000, 1, 1), date(2100, 12, 31)), st.sampled_from([60, 120, -30]))
def test_days_are_counted_as_the_julian_day_number_counts_them(paid: date, days: int) -> None:
    (found,) = [
        one
        for one in deadlines(read_rules("accountable plan")[1], {"event": [(paid, ())]}, on=TODAY)
        if one.days == days
    ]
    assert found.due is not None
    assert julian_day(found.due) - julian_day(paid) == days
    assert found.days_left == julian_day(found.due) - julian_day(TODAY)


def test_illinois_counts_thirty_calendar_days() -> None:
    # 820 ILCS 115/9.5
    (found,) = deadlines(read_rules("illinois")[1], {"event": [(date(2026, 11, 25), (2,))]}, on=TODAY)
    assert str(found.due) == "2026-12-25"


def test_house_rules_are_what_the_user_typed() -> None:
    kept, rules = read_rules("house: hand in: 14 days from event;  answer: 30 days from sent")
    assert kept == "house: hand in: 14 days from event; answer: 30 days from sent"
    assert read_rules(kept)[1] == rules
    found = deadlines(rules, {"event": [(date(2024, 2, 20), (1, 3))], "sent": [(None, ())]}, on=TODAY)
    assert [(one.what, str(one.due), one.lines, one.counted_from) for one in found] == [
        ("hand in", "2024-03-05", (1, 3), COUNTED_FROM["event"]),
        ("answer", "None", (), COUNTED_FROM["sent"]),
    ]
    assert found[0].source == "the house's own rule"


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "house",
        "house:",
        "house: soon",
        "house: hand in: 0 days from event",
        "house: pay: 5 days from easter",
        "federal law",
        "house: a: 99999 days from event",
    ],
)
def test_what_is_no_set_of_rules(typed: str) -> None:
    with pytest.raises(InputError):
        read_rules(typed)


def test_every_rule_of_the_table_counts_from_something_known() -> None:
    for name in rule_sets():
        for rule in read_rules(name)[1]:
            assert rule.counted_from in COUNTED_FROM
            assert any(char.isdigit() for char in rule.as_of), "a rule says of which year it is"
