"""The days by which something is due on a claim, by rules that the shop chose; never a legal opinion.

A set is one of the table "claim_rules", or the house's own, typed as
"house: hand in: 14 days from event; answer: 30 days from sent". Either may go on with what is paid on a
basis, "; share: 50 % over 10 EUR, at most 150 EUR a year", which crib.desk.owed.allowance reads.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from crib.desk.owed.allowance import LIKE, allowance_of
from crib.errors import InputError
from crib.trade import tables

HOUSE = "house"
# what days are counted from -> in words
COUNTED_FROM = {
    "event": "the day it was paid or happened",
    "made": "the day the claim was made",
    "sent": "the day the claim was sent",
    "agreed": "the day it was agreed",
}
MOST_DAYS = 3660
_RULE = re.compile(r"(?P<what>[^;]{1,80}):\s*(?P<days>\d{1,4}) days? from (?P<start>\w+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One rule: what is due so many days after something.

    Attributes:
        what: is due.
        days: calendar days; below zero for days before.
        counted_from: a key of COUNTED_FROM.
        as_of: of which year the rule is.
        source: cited; the house itself for its own rules.
    """

    what: str
    days: int
    counted_from: str
    as_of: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Deadline:
    """One day by which something is due.

    Attributes:
        what: is due.
        due: the day; null where the day to count from is not on record.
        days: counted.
        counted_from: in words.
        start: the day counted from.
        lines: numbers of the lines that it is about; none for the whole claim.
        days_left: from the day asked on; below zero when it is over.
        as_of: of which year the rule is.
        source: of the rule.
    """

    what: str
    due: date | None
    days: int
    counted_from: str
    start: date | None
    lines: tuple[int, ...]
    days_left: int | None
    as_of: str
    source: str


def rule_sets() -> tuple[str, ...]:
    """Give the names of the sets that crib knows; the house's own is written out."""
    return tuple(dict.fromkeys(row["rules"] for row in tables.rows("claim_rules")))


def read_rules(text: str) -> tuple[str, tuple[Rule, ...]]:
    """Read the name of a set, or the house's own rules.

    Args:
        text: "accountable plan", or "house: hand in: 14 days from event; answer: 30 days from sent".

    Returns:
        The text as it is kept, and the rules.

    Raises:
        InputError: it is neither.
    """
    typed = " ".join(text.split())
    named, _, paid = typed.partition(";")
    for name in rule_sets():
        if name.lower() == named.strip().lower():
            _no_deadlines(paid)
            return f"{name};{paid}" if paid else name, _of_table(name)
    start, joint, told = typed.partition(":")
    if start.lower() != HOUSE or not joint:
        raise InputError(
            f"{text!r} is no set of rules",
            "one of: "
            + ", ".join(rule_sets())
            + '; or "house: hand in: 14 days from event; answer: 30 days from sent"',
        )
    pieces = [piece for piece in told.split(";") if allowance_of(piece) is None]
    found = [_RULE.fullmatch(piece.strip()) for piece in pieces]
    for piece, rule in zip(pieces, found, strict=True):
        if rule is None or rule["start"] not in COUNTED_FROM or not 0 < int(rule["days"]) <= MOST_DAYS:
            raise InputError(
                f"{piece.strip()!r} is no rule",
                "as 'hand in: 14 days from event'; from " + ", ".join(COUNTED_FROM),
            )
    rules = tuple(
        Rule(
            what=rule["what"].strip(), days=int(rule["days"]), counted_from=rule["start"],
            as_of="as typed in", source="the house's own rule",
        )
        for rule in found
        if rule
    )  # fmt: skip
    return typed, rules


def _no_deadlines(paid: str) -> None:
    """Refuse anything behind the name of a set but what is paid on a basis."""
    for piece in paid.split(";") if paid else ():
        if allowance_of(piece) is None:
            raise InputError(f"{piece.strip()!r} can't go with a set of rules", f"as 'share: {LIKE}'")


def deadlines(
    rules: Sequence[Rule], starts: Mapping[str, Iterable[tuple[date | None, tuple[int, ...]]]], *, on: date
) -> tuple[Deadline, ...]:
    """Give the days on which something is due, the earliest first; those without a day last.

    Args:
        rules: of the chosen set.
        starts: key of COUNTED_FROM -> days to count from, with the lines that each is about.
        on: the day asked on.
    """
    found = [
        _deadline(rule, start, lines, on)
        for rule in rules
        for start, lines in starts.get(rule.counted_from, ())
    ]
    return tuple(sorted(found, key=lambda one: (one.due is None, one.due or on, one.what)))


def _deadline(rule: Rule, start: date | None, lines: tuple[int, ...], on: date) -> Deadline:
    due = None if start is None else start + timedelta(days=rule.days)
    return Deadline(
        what=rule.what,
        due=due,
        days=rule.days,
        counted_from=COUNTED_FROM[rule.counted_from],
        start=start,
        lines=lines,
        days_left=None if due is None else (due - on).days,
        as_of=rule.as_of,
        source=rule.source,
    )


def _of_table(name: str) -> tuple[Rule, ...]:
    known = tables.sources()
    return tuple(
        Rule(
            what=row["what"],
            days=int(row["days"]),
            counted_from=row["counted_from"],
            as_of=row["as_of"],
            source="; ".join(known[key].cite() for key in row["source"].split()),
        )
        for row in tables.rows("claim_rules")
        if row["rules"] == name
    )
