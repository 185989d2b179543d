"""What was asked and not agreed: said when an answer comes, when it is paid, and what may be done next."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from crib.desk.owed.claim_state import Standing
from crib.store.papers import ClaimLineRow, ClaimRow
from crib.units.money import Money

OVER = ("settled", "closed", "withdrawn")


def not_agreed(now: Standing) -> Decimal:
    """Give what was asked for a line and refused; nothing while there is no answer."""
    if now.agreed is None or now.state == "withdrawn":
        return Decimal(0)
    return max(now.asked - now.agreed, Decimal(0))


def rest_lines(claim: ClaimRow, lines: Sequence[tuple[ClaimLineRow, Standing]]) -> Iterable[str]:
    """Say of each line that was not agreed in full what stands, and then what may be done next.

    Args:
        claim: of these lines.
        lines: in order, with where they stand.
    """
    short = [(line, now) for line, now in lines if not_agreed(now)]
    for line, now in short:
        asked, agreed, rest = (
            Money(amount, claim.currency) for amount in (now.asked, now.agreed or Decimal(0), not_agreed(now))
        )
        paid = f", {Money(now.paid, claim.currency)} of it paid" if now.paid else ""
        open_ = f", {Money(now.open, claim.currency)} of it open" if now.open else ""
        yield f"Line {line.line_no}: {asked} asked, {agreed} agreed{paid}{open_}; {rest} was not agreed."
    if not short:
        return
    number = claim.number
    unpaid = [line.line_no for line, now in short if not now.paid]
    yield "What was not agreed stays on record. You may ask why, in writing, and bring more evidence."
    if unpaid and claim.state not in OVER:
        yield f"A better answer: crib claim agree {number} {unpaid[0]} --amount …"
    else:
        had = ", with what was had (--had …)" if any(now.paid for _, now in short) else ""
        yield f"A new claim can ask for it again{had}, if your agreement lets it."
    if claim.state != "closed":
        why = "" if claim.state in ("settled", "refused") else " --why …"
        yield f"To leave it so: crib claim close {number}{why}"
