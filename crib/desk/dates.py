"""Days as people type and read them: "4 Dec", "friday", "in 2 weeks", "2026-12-04".

What was decided: a day without its year, and a day of the week, are the next such day ahead, or the last one
behind where the question is about the past (`ahead=False`). 12/4/2026 is asked back, because half the world
reads it the other way round; 25/12/2026 can't be misread. Pure, but for `today` and `now`.
"""

import re
from calendar import isleap, monthrange
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

from crib.errors import BadDate

LONGEST = 60
EXAMPLES = "write it like 2026-12-04, 4 Dec, friday, in 2 weeks"
# not strftime's: those follow the machine's language, and the record should not
MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
    "november", "december",
)  # fmt: skip
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_WORDS = {"today": 0, "tonight": 0, "now": 0, "tomorrow": 1, "yesterday": -1}
_COUNTS = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_COUNT = rf"(?P<count>\d{{1,4}}|{'|'.join(_COUNTS)})\s*(?P<unit>day|week|fortnight|month|year)s?"
_DAY, _MONTH, _YEAR = r"(?P<day>\d{1,2})(?:st|nd|rd|th)?", r"(?P<month>[a-z]{3,9})\.?", r"(?P<year>\d{4})"


def now() -> datetime:
    """Give the moment, in UTC: what the ledger keeps."""
    return datetime.now(UTC)


def today() -> date:
    """Give the day on the shop's calendar."""
    return datetime.now().astimezone().date()


def read_day(text: str, *, on: date, ahead: bool = True) -> date:
    """Read a day.

    Args:
        text: as typed.
        on: the day on which it is said.
        ahead: a day without its year, or of the week, lies ahead; else behind.

    Raises:
        BadDate: it can't be read, or can be read in two ways, or there is no such day.
    """
    typed = " ".join(text.lower().replace(",", " ").split())
    if not typed or len(text) > LONGEST:
        raise BadDate("a day is missing" if not typed else "that is too long for a day", EXAMPLES)
    if typed in _WORDS:
        return on + timedelta(days=_WORDS[typed])
    for pattern, make in _FORMS:
        if found := re.fullmatch(pattern, typed):
            try:
                return make(found, on, ahead)
            except (ValueError, OverflowError) as error:
                if isinstance(error, BadDate):
                    raise
                raise BadDate(f"there is no such day as {text.strip()!r}", EXAMPLES) from None
    raise BadDate(f"{text.strip()!r} is not a day", EXAMPLES)


def show_day(day: date) -> str:
    """Give a day as people read it: Fri 4 Dec 2026."""
    return f"{WEEKDAYS[day.weekday()][:3].title()} {day.day} {MONTHS[day.month - 1][:3].title()} {day.year}"


def show_lag(days: int) -> str:
    """Give a span in words: "3 days", "5 weeks", "8 months"; the largest unit of which there are two."""
    for length, name in ((365, "year"), (30, "month"), (7, "week")):
        if days >= 2 * length:
            return f"{days // length} {name}s"
    return f"{days} day{'s' * (days != 1)}"


def months_on(day: date, months: int) -> date:
    """Give the day so many months later, or the last of that month where it is shorter."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def _by_year(found: re.Match[str], on: date, ahead: bool) -> date:
    return date(int(found["year"]), int(found["month"]), int(found["day"]))


def _by_slashes(found: re.Match[str], on: date, ahead: bool) -> date:
    first, second, year = int(found["first"]), int(found["second"]), int(found["year"])
    if first <= 12 and second <= 12 and first != second:
        ways = " or ".join(show_day(date(year, *pair)) for pair in ((second, first), (first, second)))
        raise BadDate(f"{found[0]} can be read in two ways", f"say which: {ways}")
    return date(year, second, first) if first > 12 else date(year, first, second)


def _by_name(found: re.Match[str], on: date, ahead: bool) -> date:
    month, day = _month(found["month"]), int(found["day"])
    if found["year"]:
        return date(int(found["year"]), month, day)
    if (month, day) == (2, 29):
        years = range(on.year, on.year + 9) if ahead else range(on.year, on.year - 9, -1)
        leaps = [date(year, 2, 29) for year in years if isleap(year)]
        return next(leap for leap in leaps if (leap >= on if ahead else leap <= on))
    this = date(on.year, month, day)
    if ahead:
        return this if this >= on else date(on.year + 1, month, day)
    return this if this <= on else date(on.year - 1, month, day)


def _month(name: str) -> int:
    for number, month in enumerate(MONTHS, 1):
        if month.startswith(name) or (name == "sept" and number == 9):
            return number
    raise BadDate(f"{name!r} is not a month", EXAMPLES)


def _by_weekday(found: re.Match[str], on: date, ahead: bool) -> date:
    wanted = next(at for at, name in enumerate(WEEKDAYS) if name.startswith(found["weekday"]))
    which = found["which"]
    if which == "next":
        near = on + timedelta(days=(wanted - on.weekday() - 1) % 7 + 1)
        ways = " or ".join(show_day(day) for day in (near, near + timedelta(days=7)))
        raise BadDate(f"{found[0]!r} can be read in two ways", f"say which: {ways}")
    if which == "last" or (not ahead and which != "this"):
        return on - timedelta(days=(on.weekday() - wanted - 1) % 7 + 1)
    return on + timedelta(days=(wanted - on.weekday() - 1) % 7 + 1)


def _by_count(found: re.Match[str], on: date, ahead: bool) -> date:
    count, unit = _COUNTS.get(found["count"]) or int(found["count"]), found["unit"]
    back = bool(found.groupdict().get("ago"))
    count = -count if back else count
    if unit in ("month", "year"):
        return months_on(on, count * (12 if unit == "year" else 1))
    return on + timedelta(days=count * {"day": 1, "week": 7, "fortnight": 14}[unit])


def _end_of(found: re.Match[str], on: date, ahead: bool) -> date:
    if found["unit"] == "week":
        return on + timedelta(days=(WEEKDAYS.index("friday") - on.weekday()) % 7)
    return date(on.year, on.month, monthrange(on.year, on.month)[1])


_FORMS: tuple[tuple[str, Callable[[re.Match[str], date, bool], date]], ...] = (
    (r"(?P<year>\d{4})[-/.](?P<month>\d{1,2})[-/.](?P<day>\d{1,2})", _by_year),
    (r"(?P<day>\d{1,2})\.\s?(?P<month>\d{1,2})\.\s?(?P<year>\d{4})", _by_year),
    (rf"(?P<first>\d{{1,2}})[/-](?P<second>\d{{1,2}})[/-]{_YEAR}", _by_slashes),
    (rf"in {_COUNT}(?:'?s? time)?", _by_count),
    (rf"{_COUNT}(?P<ago> ago)?", _by_count),
    (rf"(?:[a-z]{{3,9}} )?{_DAY}[ -]?(?:of )?{_MONTH}(?:[ -]{_YEAR})?", _by_name),
    (rf"{_MONTH} ?{_DAY}(?: {_YEAR})?", _by_name),
    (
        r"(?:on )?(?:(?P<which>this|next|last|on) )?"
        r"(?P<weekday>mon(?:day)?|tues?(?:day)?|wed(?:nesday)?|thu(?:r|rs|rsday)?|fri(?:day)?|sat(?:urday)?"
        r"|sun(?:day)?)",
        _by_weekday,
    ),
    (r"(?:the )?end of (?:the )?(?P<unit>week|month)", _end_of),
)
