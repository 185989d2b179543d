"""Days as people type them. Weekdays are checked against the standard library's calendar."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.desk.dates import months_on, read_day, show_day, show_lag
from crib.errors import BadDate

WEDNESDAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("2026-12-04", date(2026, 12, 4)),
        ("2026/12/4", date(2026, 12, 4)),
        ("4.12.2026", date(2026, 12, 4)),
        ("25/12/2026", date(2026, 12, 25)),
        ("12/25/2026", date(2026, 12, 25)),
        ("5/5/2027", date(2027, 5, 5)),
        ("4 Dec", date(2026, 12, 4)),
        ("Dec 4", date(2026, 12, 4)),
        ("December 4th, 2027", date(2027, 12, 4)),
        ("the 4th", None),
        ("4 Sept", date(2027, 9, 4)),
        ("Fri 4 Dec 2026", date(2026, 12, 4)),
        ("25 Nov", WEDNESDAY),
        ("29 Feb", date(2028, 2, 29)),
        ("today", WEDNESDAY),
        ("tomorrow", date(2026, 11, 26)),
        ("friday", date(2026, 11, 27)),
        ("Wed", date(2026, 12, 2)),
        ("this friday", date(2026, 11, 27)),
        ("last friday", date(2026, 11, 20)),
        ("in 2 weeks", date(2026, 12, 9)),
        ("2 weeks", date(2026, 12, 9)),
        ("in a fortnight", date(2026, 12, 9)),
        ("in 3 months", date(2027, 2, 25)),
        ("10 days ago", date(2026, 11, 15)),
        ("end of the week", date(2026, 11, 27)),
        ("end of month", date(2026, 11, 30)),
    ],
)
def test_a_day_ahead(typed: str, meant: date | None) -> None:
    if meant is None:
        with pytest.raises(BadDate):
            read_day(typed, on=WEDNESDAY)
    else:
        assert read_day(typed, on=WEDNESDAY) == meant


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("4 Dec", date(2025, 12, 4)), ("25 Nov", WEDNESDAY), ("friday", date(2026, 11, 20)),
     ("wednesday", date(2026, 11, 18)), ("29 Feb", date(2024, 2, 29)), ("yesterday", date(2026, 11, 24))],
)  # fmt: skip
def test_a_day_behind(typed: str, meant: date) -> None:
    assert read_day(typed, on=WEDNESDAY, ahead=False) == meant


@pytest.mark.parametrize(
    ("typed", "said", "hint"),
    [
        ("12/4/2026", "two ways", "Sun 12 Apr 2026 or Fri 4 Dec 2026"),
        ("next friday", "two ways", "Fri 27 Nov 2026 or Fri 4 Dec 2026"),
        ("31 Feb", "no such day", ""),
        ("2026-13-01", "no such day", ""),
        ("29 Feb 2027", "no such day", ""),
        ("4 Foo", "not a month", ""),
        ("soonish", "not a day", "4 Dec"),
        ("", "missing", ""),
        ("in 9999 years", "no such day", ""),
        ("x" * 500, "too long", ""),
    ],
)
def test_what_is_no_day_or_two(typed: str, said: str, hint: str) -> None:
    with pytest.raises(BadDate) as raised:
        read_day(typed, on=WEDNESDAY)
    assert said in raised.value.message
    assert hint in raised.value.hint


@given(
    st.dates(date(1990, 1, 1), date(2090, 12, 31)),
    st.dates(date(1990, 1, 1), date(2090, 12, 31)),
    st.sampled_from([show_day, date.isoformat, lambda d: f"{d.day}.{d.month}.{d.year}"]),
)
def test_what_is_shown_can_be_typed(day: date, on: date, way) -> None:
    assert read_day(way(day), on=on) == day


@given(st.dates(date(1990, 1, 1), date(2090, 12, 31)), st.booleans())
def test_a_weekday_is_within_a_week(on: date, ahead: bool) -> None:
    for name in ("mon", "friday", "sun"):
        day = read_day(name, on=on, ahead=ahead)
        assert show_day(day).lower().startswith(name[:3])
        assert 1 <= ((day - on) if ahead else (on - day)).days <= 7


@given(st.text(max_size=80))
def test_any_text_is_a_day_or_refused(text: str) -> None:
    try:
        assert isinstance(read_day(text, on=WEDNESDAY), date)
    except BadDate as error:
        assert error.hint


def test_months_are_clamped_to_their_length() -> None:
    assert months_on(date(2027, 1, 31), 1) == date(2027, 2, 28)
    assert months_on(date(2028, 2, 29), 12) == date(2029, 2, 28)
    assert months_on(date(2026, 11, 30), -12) == date(2025, 11, 30)


@pytest.mark.parametrize(
    ("days", "said"),
    [(0, "0 days"), (1, "1 day"), (13, "13 days"), (14, "2 weeks"), (59, "8 weeks"), (60, "2 months")],
)
def test_a_span_in_words(days: int, said: str) -> None:
    assert show_lag(days) == said
    assert show_lag(800) == "2 years"
