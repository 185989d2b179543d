"""Where a claim stands: its lines as entered, with all its steps folded over them. Pure.

What a step's amount means is said by its state: what is asked from then on (draft, sent), what the payer
agrees to (agreed, part agreed, refused), what was paid just then (part settled, settled).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from crib.store.papers import ClaimLineRow, ClaimStepRow

ASKING = ("draft", "sent")
ANSWERED = ("agreed", "part agreed", "refused")
PAYING = ("part settled", "settled")
LIVE = ("draft", "sent", "agreed", "part agreed", "part settled")  # something may still come of it


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where one line stands.

    Attributes:
        state: as a claim's.
        asked: the amount asked now.
        agreed: what the payer agreed to; None while there is no answer.
        paid: what was paid, or replaced in kind.
        replaced_by: items that were given for it.
    """

    state: str
    asked: Decimal
    agreed: Decimal | None = None
    paid: Decimal = Decimal(0)
    replaced_by: tuple[int, ...] = ()

    @property
    def open(self) -> Decimal:
        """What is agreed and not paid."""
        return max((self.agreed or Decimal(0)) - self.paid, Decimal(0))


def standing(line: ClaimLineRow, steps: Sequence[ClaimStepRow]) -> Standing:
    """Fold a claim's steps over one of its lines.

    Args:
        line: as entered.
        steps: of the claim, oldest first.
    """
    now = Standing(state="draft", asked=line.amount)
    for step in steps:
        if step.claim_line_id == line.id:
            now = _after(now, step)
        elif step.claim_line_id is None and (
            (step.to_state == "sent" and now.state == "draft")
            or (step.to_state == "withdrawn" and now.state in ASKING)
        ):
            now = replace(now, state=step.to_state)
    return now


def _after(now: Standing, step: ClaimStepRow) -> Standing:
    if step.to_state in ASKING:
        return replace(now, asked=now.asked if step.amount is None else step.amount)
    if step.to_state in ANSWERED:
        return replace(now, state=step.to_state, agreed=step.amount or Decimal(0))
    if step.to_state in PAYING:
        given = () if step.replacement_item_id is None else (step.replacement_item_id,)
        return replace(
            now,
            state=step.to_state,
            paid=now.paid + (step.amount or 0),
            replaced_by=now.replaced_by + given,
        )
    return replace(now, state=step.to_state)


def state_of_claim(lines: Sequence[Standing]) -> str:
    """Give the state of a claim from the states of its lines, once it was sent.

    Args:
        lines: of the claim; those that were withdrawn are of no account.
    """
    states = [line.state for line in lines if line.state != "withdrawn"]
    if not states:
        return "withdrawn"
    if len(set(states)) == 1:
        return states[0]
    if any(state in PAYING for state in states):
        # a refused line waits for nothing
        return "settled" if set(states) <= {"settled", "refused"} else "part settled"
    return "part agreed" if {"agreed", "part agreed"} & set(states) else "sent"
