"""What a shop's rule pays on a basis: a percentage, for tools over a price, up to so much a year a person.

"share: 50 % over 10 EUR, at most 150 EUR a year", "receipt: at most 300 EUR a year", as agreements between
shops and their people have them: part of a broken tool's price above a small one, up to a sum a year; or a
fixed sum a year against receipts (common practice). It says what the rule leaves, and nothing of a right.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from crib.desk.owed.claim_amount import Asked
from crib.desk.owed.claim_state import ASKING, Standing
from crib.errors import InputError, NotPossible
from crib.store.papers import ClaimLineRow, ClaimRow
from crib.store.words import CLAIM_BASES
from crib.units.money import Money, read_money, total

_RULE = re.compile(
    r"(?:(?P<percent>\d{1,3}) ?(?:%|$))?,? ?(?:(?:of tools )?over (?P<over>.+?))?,? ?"
    r"(?:at most (?P<most>.+?) a year)?"
)
LIKE = "50 % over 10 EUR, at most 150 EUR a year"


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """What a rule pays on one basis; None where it doesn't say.

    Attributes:
        basis: one of words.CLAIM_BASES.
        percent: of the price of a new one, for a share.
        over: only for tools whose one piece costs more.
        most: in one calendar year, for one person.
    """

    basis: str
    percent: Decimal | None
    over: Money | None
    most: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """What was asked of a payer in one calendar year on one basis.

    Attributes:
        year: the year.
        money: the sum: what was agreed to, and what was asked and has no answer yet.
        claims: numbers of the claims.
    """

    year: int
    money: Money
    claims: tuple[str, ...]


Claimed = tuple[ClaimRow, ClaimLineRow, Standing]


def read_allowance(basis: str, typed: str) -> Allowance:
    """Read what a rule pays on a basis.

    Args:
        basis: one of words.CLAIM_BASES.
        typed: "50 % over 10 EUR, at most 150 EUR a year"; any part may be missing.

    Raises:
        InputError: it is none; a percentage goes with a share alone.
    """
    words = " ".join(typed.split())
    found = _RULE.fullmatch(words)
    if not words or found is None:
        raise InputError(f"{typed.strip()!r} does not say what is paid", f"as '{LIKE}'; parts may be missing")
    percent = Decimal(found["percent"]) if found["percent"] else None
    if percent is not None and (basis != "share" or not 0 < percent <= 100):
        raise InputError(f"{percent} % can't be paid on the basis {basis}", "1 to 100 % on the basis share")
    over, most = (read_money(found[name]) if found[name] else None for name in ("over", "most"))
    return Allowance(basis=basis, percent=percent, over=over, most=most)


def allowance_of(piece: str) -> Allowance | None:
    """Read one piece of a set of rules; None where it is about no basis, and so a deadline.

    Raises:
        InputError: it names a basis and does not say what is paid.
    """
    basis, joint, told = piece.partition(":")
    known = basis.strip().lower()
    return read_allowance(known, told) if joint and known in CLAIM_BASES else None


def allowances(rules: str | None) -> dict[str, Allowance]:
    """Give what a set of rules, as it is kept, pays on each basis that it tells of."""
    pieces = (rules or "").removeprefix("house:").split(";")
    return {found.basis: found for piece in pieces if (found := allowance_of(piece)) is not None}


def used(lines: Iterable[Claimed], of: ClaimRow, basis: str, year: int) -> Used:
    """Sum what one person asked of one payer on a basis in a calendar year.

    Args:
        lines: of all claims, with where they stand.
        of: a claim: its claimant, payer and currency are meant.
        basis: on which.
        year: the year of the event, or of the claim where the event has no day.
    """
    party = (of.claimant_id, of.payer_id, of.currency)
    counted = [
        (claim.number, Money(sum_, claim.currency))
        for claim, line, now in lines
        if (claim.claimant_id, claim.payer_id, claim.currency) == party
        and (line.basis, year_of(claim, line.on_date)) == (basis, year)
        and (sum_ := _counts(claim, now))
    ]
    return Used(
        year=year,
        money=total((money for _, money in counted), of.currency),
        claims=tuple(dict.fromkeys(number for number, _ in counted)),
    )


def year_of(claim: ClaimRow, on: date | None) -> int:
    """Give the year to which a line counts."""
    return (on or claim.made_on).year


def _counts(claim: ClaimRow, now: Standing) -> Decimal:
    """Give what a line takes of a year's allowance: what was agreed to, or what waits for an answer."""
    if now.agreed is not None:
        return now.agreed
    waits = now.state in ASKING and claim.state not in ("closed", "withdrawn")
    return now.asked if waits else Decimal(0)


def limited(tag: str, found: Asked, rule: Allowance, each: Money | None, before: Used) -> Asked:
    """Hold an amount to a rule, and say in words what the rule leaves.

    Args:
        tag: of the tool, for messages.
        found: the amount as worked out.
        rule: on its basis, in the currency of the amount.
        each: what one piece costs new, or is worth; None where it isn't known.
        before: what this year took already.

    Raises:
        NotPossible: the tool is not over the price, or nothing of the year is left; the hint says what else.
        InputError: the rule is in another currency.
    """
    otherwise = "if it was agreed otherwise, --amount tells the sum"
    for money in (rule.over, rule.most):
        if money is not None and money.currency != found.money.currency:
            raise InputError(
                f"{tag}: the rule says {money}, the claim is in {found.money.currency}", otherwise
            )
    if rule.over and each and each.amount <= rule.over.amount:
        raise NotPossible(f"{tag}: the rule is for tools over {rule.over}; one costs {each}", otherwise)
    if rule.most is None:
        return found
    left = rule.most - before.money
    taken = f"at most {rule.most} a year; {_taken(before)}"
    if left.amount <= 0:
        raise NotPossible(f"{tag}: {taken}: nothing is left of {before.year}", otherwise)
    if found.money.rounded().amount > left.amount:
        return Asked(money=left, how=f"{found.how}: {found.money}; {taken}, which leaves {left}")
    rest = left - found.money.rounded()
    return replace(found, how=f"{found.how}; {taken}, after this {rest} is left")


def left_lines(rules: str | None, of: ClaimRow, lines: Sequence[Claimed]) -> Iterable[str]:
    """Say for each basis of a set of rules with a sum a year what it leaves.

    Args:
        rules: of the claim, as kept.
        of: the claim.
        lines: of all claims, with where they stand.
    """
    for basis, rule in allowances(rules).items():
        if rule.most is None or rule.most.currency != of.currency:
            continue
        own = (line.on_date for claim, line, _ in lines if claim.id == of.id and line.basis == basis)
        for year in sorted({year_of(of, on) for on in own} or {of.made_on.year}):
            before = used(lines, of, basis, year)
            left = rule.most - before.money
            stands = f"{left} left" if left.amount >= 0 else f"{Money(-left.amount, left.currency)} OVER IT"
            yield f"On the basis {basis} at most {rule.most} a year: {_taken(before)}; {stands}."


def _taken(before: Used) -> str:
    if not before.claims:
        return f"nothing asked in {before.year} yet"
    many = "claim" if len(before.claims) == 1 else "claims"
    return f"{before.money} asked or agreed in {before.year} ({many} {', '.join(before.claims)})"
