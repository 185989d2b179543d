"""What a tool is worth, what shows whose it is, and the papers of it, in words, line by line."""

from collections.abc import Iterable

from crib.desk.owed.evidence import Proof
from crib.desk.owed.mine import Mine
from crib.desk.owed.worth import CameFrom, Value, Worth

WORDS = {"paid": "paid", "replacement": "a new one costs", "by age": "by its age"}


def worth_lines(found: Worth) -> Iterable[str]:
    """Put a tool's origin and values into lines."""
    item = found.item
    yield f"{item.tag}  {item.designation or item.label}, {item.owner}'s"
    yield origin_line(found.origin)
    yield "One piece is worth, side by side; which one is paid is for you and the payer to agree:"
    for value in found.values:
        yield from value_lines(value)


def origin_line(came: CameFrom | None) -> str:
    """Say how a tool was come by."""
    if came is None:
        return "  come by: NOT RECORDED"
    day = f"on {came.on}" if came.on else "day not recorded"
    told = (came.how, day, came.from_whom and f"from {came.from_whom}", came.paid and f"for {came.paid}")
    more = (came.maker and f"made by {came.maker}", came.receipt and f"receipt {came.receipt}", came.note)
    return f"  come by: {', '.join(part for part in (*told, *more) if part)} (said by {came.said_by})"


def value_lines(value: Value) -> Iterable[str]:
    """Put one value into lines."""
    name = WORDS.get(value.basis, value.basis)
    if value.amount is None:
        yield f"  {name:16} {'not known':>16}  {value.how}"
        return
    facts = (str(value.on) if value.on else "", value.source or "source not told")
    yield f"  {name:16} {value.amount:>16}  {', '.join(fact for fact in facts if fact)}"
    if value.how:
        yield f"  {'':16} {'':16}  {value.how}"


def mine_lines(found: Mine) -> Iterable[str]:
    """Put what shows whose a tool is into lines."""
    item = found.item
    yield f"{item.tag}  {item.designation or item.label}: on record as {item.owner}'s"
    yield f"  {'; '.join(found.marks) or 'NO MARK AND NO SERIAL NUMBER ON RECORD'}"
    yield origin_line(found.origin)
    if found.alike:
        yield f"  MIND: the same mark is on {', '.join(found.alike)}"
    yield "What shows it, the strongest first:"
    for one in found.shown:
        yield f"  {one.on or 'no day'!s:10}  {one.what}"
    yield "What is missing, the strongest first:"
    yield from (f"  {what}" for what in found.missing)
    yield "One piece is worth, side by side:"
    for value in found.values:
        yield from value_lines(value)
    yield "A paper that is lost: write down why."


def proof_lines(found: Iterable[Proof]) -> Iterable[str]:
    """Put proofs into lines."""
    lines = [line for one in found for line in _proof(one)]
    return lines or ["Nothing is on record: crib evidence add takes photos, receipts and statements."]


def _proof(one: Proof) -> Iterable[str]:
    yield f"{one.number:4} {one.kind} of {one.of}, {one.on or 'no day told'}: {one.says or one.name}"
    by = f" by {one.by}" if one.by else ""
    yield f"     {one.name}, {one.media_type}, {max(one.bytes // 1024, 1)} kB, taken in {one.added[:10]}{by}"
    if one.withdrawn:
        yield f"     WITHDRAWN {one.withdrawn[:10]}" + (f": {one.withdrawn_why}" if one.withdrawn_why else "")
