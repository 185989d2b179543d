"""What a claim lacks, said loudly: in capitals, line by line, so that nobody sends it unknowing."""

from collections.abc import Iterable, Sequence

from crib.desk.owed.evidence import Proof
from crib.desk.owed.worth import CameFrom, Value
from crib.store.papers import ClaimLineRow, ClaimRow
from crib.store.rows import ItemRow

OLD_PIECE_MATTERS = ("broken", "worn out")  # many agreements pay only when the old piece is handed in


def claim_gaps(claim: ClaimRow) -> tuple[str, ...]:
    """Give what the claim as a whole lacks."""
    return tuple(
        gap
        for gap, there in (
            ("NO RULES CHOSEN: NO DEADLINE CAN BE COUNTED (crib setting rules)", bool(claim.rules)),
            ("NO POLICY OR AGREEMENT NAMED", bool(claim.clause)),
            ("PLACE OF WORK NOT NAMED", bool(claim.place_of_work)),
        )
        if not there
    )


def line_gaps(
    line: ClaimLineRow,
    item: ItemRow,
    proofs: Sequence[Proof],
    origin: CameFrom | None,
    values: Sequence[Value],
    earlier: Sequence[str],
) -> tuple[str, ...]:
    """Give what one line lacks.

    Args:
        line: as entered.
        item: its tool.
        proofs: of the tool and of the line; those that count.
        origin: how it was come by.
        values: of one piece.
        earlier: other claims that the tool was on.
    """
    return (
        *_ownership(item, proofs, origin),
        *_event(line),
        *_value(line, values),
        *(f"WAS ON CLAIM {number} BEFORE" for number in earlier),
    )


def _ownership(item: ItemRow, proofs: Sequence[Proof], origin: CameFrom | None) -> Iterable[str]:
    kinds = {proof.kind for proof in proofs}
    if "photo" not in kinds:
        yield "NO PHOTO"
    if not item.mark and not item.serial:
        yield "NO MARK AND NO SERIAL NUMBER ON RECORD"
    if "receipt" not in kinds:
        yield "NO RECEIPT" if "statement" in kinds else "NO RECEIPT AND NO STATEMENT INSTEAD"
    if origin is None or origin.how == "unknown":
        yield "HOW IT WAS COME BY IS NOT ON RECORD"
    elif origin.on is None:
        yield "WHEN IT WAS COME BY IS NOT ON RECORD"


def _event(line: ClaimLineRow) -> Iterable[str]:
    if line.on_date is None:
        yield "NO DAY: NO DEADLINE CAN BE COUNTED"
    if not line.what_happened:
        yield "WHAT HAPPENED IS NOT SAID"
    if not line.seen_by:
        yield "NOBODY NAMED WHO SAW IT"
    if not line.asked_by:
        yield "NOBODY NAMED WHO ASKED FOR THE TOOL"
    if not line.job and not line.machine:
        yield "NO JOB AND NO MACHINE NAMED"
    if line.event in OLD_PIECE_MATTERS and not line.old_piece:
        yield "WHERE THE OLD PIECE IS, IS NOT SAID"


def _value(line: ClaimLineRow, values: Sequence[Value]) -> Iterable[str]:
    known = {value.basis: value for value in values}
    if known["agreed"].money is None:
        yield "VALUE NOT AGREED"
    if known["replacement"].old and line.basis in ("like for like", "age-reduced", "share", "consumption"):
        yield "THE PRICE OF A NEW ONE IS OLDER THAN TWO YEARS"
    if line.basis == "age-reduced" and not (known["by age"].source or "").split(":")[-1].strip():
        yield "NOBODY NAMED WHO AGREED TO THE LIFE"
    used = {"like for like": "replacement", "agreed": "agreed", "age-reduced": "replacement"}.get(line.basis)
    if used and known[used].money is not None and not known[used].source:
        yield "THE VALUE HAS NO SOURCE"
