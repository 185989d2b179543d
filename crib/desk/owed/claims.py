"""What am I owed? Claims as they stand: lines, sums, gaps, deadlines, and every step taken."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from crib.desk.asking.ask import Asker, FoundItem
from crib.desk.dates import today
from crib.desk.owed import evidence
from crib.desk.owed.allowance import Claimed, allowances, left_lines
from crib.desk.owed.claim_gaps import claim_gaps, line_gaps
from crib.desk.owed.claim_rest import not_agreed, rest_lines
from crib.desk.owed.claim_state import LIVE, Standing, standing
from crib.desk.owed.claimed import Suggestion, is_live, lines_by_item, suggested
from crib.desk.owed.deadlines import Deadline, deadlines, read_rules
from crib.desk.owed.evidence import Proof
from crib.desk.owed.worth import CameFrom, Value, came_from, values
from crib.errors import NothingFound, UnknownName
from crib.store import papers
from crib.store.papers import ClaimLineRow, ClaimRow, ClaimStepRow
from crib.store.read import Reader, reading
from crib.store.rows import ItemRow
from crib.units.money import ROUNDING, Money, total

DEFER = (
    "The employer's written policy, the union agreement and the law where the work is done come before "
    "anything shown here; figures carry the year they were valid for. This is no legal or tax advice: "
    "a payment may be wages."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of a claim.

    Attributes:
        line_no: its number.
        item: the tool as it is on record now.
        quantity: pieces.
        event: broken, worn out, lost …
        on: the day of it.
        what_happened: in words.
        job: for which.
        machine: on which.
        seen_by: who saw it.
        asked_by: who required or authorised the tool.
        old_piece: where the old piece is.
        basis: on which it is asked.
        worked_out: the sum.
        asked: the amount.
        agreed: what the payer agreed to; null without an answer.
        paid: what was paid or replaced.
        had: what was had already, in money or kind.
        state: draft, sent, agreed …
        origin: how it was come by.
        values: of one piece, on the day of the event.
        proofs: of the tool and of the line.
        replaced_by: tags of what was given for it.
        gaps: what it lacks.
    """

    line_no: int
    item: FoundItem
    quantity: int
    event: str
    on: date | None
    what_happened: str | None
    job: str | None
    machine: str | None
    seen_by: str | None
    asked_by: str | None
    old_piece: str | None
    basis: str
    worked_out: str | None
    asked: str
    agreed: str | None
    paid: str | None
    had: str | None
    state: str
    origin: CameFrom | None
    values: tuple[Value, ...]
    proofs: tuple[Proof, ...]
    replaced_by: tuple[str, ...]
    gaps: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing that happened to a claim.

    Attributes:
        on: the day of it.
        recorded: when it was written down.
        state: that it led to.
        line_no: of which line; null for the whole claim.
        amount: as printed.
        by: who wrote it down.
        to_whom: whom it went to.
        why: in words.
    """

    on: date
    recorded: str
    state: str
    line_no: int | None
    amount: str | None
    by: str | None
    to_whom: str | None
    why: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sums:
    """The foot of a claim; every sum is that of the rounded lines.

    Attributes:
        asked: of all lines that stand.
        by_basis: the same by basis.
        had: what was had already.
        agreed: by the payer.
        paid: or replaced.
        not_agreed: asked, answered, and refused.
        open: agreed and not paid; of an unanswered claim asked less had.
        rounding: the rule.
    """

    asked: str
    by_basis: Mapping[str, str]
    had: str
    agreed: str
    paid: str
    not_agreed: str
    open: str
    rounding: str = ROUNDING


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """One claim in full.

    Attributes:
        number: its number.
        claimant: who asks.
        payer: of whom.
        made_on: the day it was made.
        currency: of all its amounts.
        state: where it stands.
        rules: by which deadlines are counted.
        clause: of a policy or agreement, that it relies on.
        place_of_work: where the work is done, whose law applies.
        note: anything.
        lines: in order.
        sums: its foot.
        rest: of what was not agreed, and what may be done next; empty where nothing is.
        allowances: what the rules leave of a sum a year.
        deadlines: the earliest first.
        gaps: of the claim as a whole.
        steps: oldest first.
        defer: what comes before anything shown here.
    """

    number: str
    claimant: str
    payer: str
    made_on: date
    currency: str
    state: str
    rules: str | None
    clause: str | None
    place_of_work: str | None
    note: str | None
    lines: tuple[Line, ...]
    sums: Sums
    rest: tuple[str, ...]
    allowances: tuple[str, ...]
    deadlines: tuple[Deadline, ...]
    gaps: tuple[str, ...]
    steps: tuple[Step, ...]
    defer: str = DEFER

    @property
    def all_gaps(self) -> tuple[str, ...]:
        """Give every gap while something may come of it, those of lines with their number."""
        if self.state not in LIVE:
            return ()
        lines = ((line, gap) for line in self.lines if line.state in LIVE for gap in line.gaps)
        return (*self.gaps, *(f"LINE {line.line_no} ({line.item.tag}): {gap}" for line, gap in lines))


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """One claim in a list.

    Attributes:
        number: its number.
        claimant: who asks.
        payer: of whom.
        made_on: the day.
        state: where it stands.
        lines: how many stand.
        asked: their sum.
        open: what is still to come.
        gaps: how many.
        next_due: the next deadline, or the last where all are over, in words.
        tools: tags of its tools.
    """

    number: str
    claimant: str
    payer: str
    made_on: date
    state: str
    lines: int
    asked: str
    open: str
    gaps: int
    next_due: str | None
    tools: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Claims:
    """All claims, and own tools that may be worth one."""

    claims: tuple[Summary, ...]
    suggested: tuple[Suggestion, ...]


def claim(address: str, number: str) -> Claim:
    """Give one claim in full.

    Raises:
        UnknownName: there is none of that number.
    """
    with reading(address) as reader:
        return _claim(reader, row_of(reader, number))


def claims(address: str) -> Claims:
    """Give all claims, the newest first, and own tools that may be worth one."""
    with reading(address) as reader:
        found = tuple(_summary(_claim(reader, row)) for row in reversed(papers.claims(reader)))
        return Claims(claims=found, suggested=suggested(reader))


def claims_or_refuse(address: str) -> Claims:
    """Give all claims.

    Raises:
        NothingFound: there is none, and nothing that may be worth one.
    """
    found = claims(address)
    if not found.claims and not found.suggested:
        raise NothingFound(
            "no claim is on record, and no own tool is worn, broken or lost", "crib claim new TAG makes one"
        )
    return found


def row_of(reader: Reader, number: str) -> ClaimRow:
    """Give the claim of a number.

    Raises:
        UnknownName: there is none.
    """
    for row in papers.claims(reader, number.strip()):
        return row
    raise UnknownName(
        "claim", number, [row.number for row in papers.claims(reader)][-3:], "crib claim lists them"
    )


def _of_all(reader: Reader) -> list[Claimed]:
    return [one for lines in lines_by_item(reader).values() for one in lines]


# -- one claim ---------------------------------------------------------------------------------------------


def _claim(reader: Reader, row: ClaimRow) -> Claim:
    rows, steps = papers.claim_lines(reader, row.id), papers.claim_steps(reader, row.id)
    now = {line.id: standing(line, steps) for line in rows}
    lines = tuple(_lines(reader, row, rows, now))
    numbers = {line.id: line.line_no for line in rows}
    return Claim(
        number=row.number,
        claimant=row.claimant,
        payer=row.payer,
        made_on=row.made_on,
        currency=row.currency,
        state=row.state,
        rules=row.rules,
        clause=row.clause,
        place_of_work=row.place_of_work,
        note=row.note,
        lines=lines,
        sums=_sums(row, rows, now),
        rest=tuple(rest_lines(row, [(line, now[line.id]) for line in rows])),
        allowances=tuple(left_lines(row.rules, row, _of_all(reader))) if allowances(row.rules) else (),
        deadlines=_deadlines(row, lines, steps),
        gaps=claim_gaps(row),
        steps=tuple(_step(step, numbers, row.currency) for step in steps),
    )


def _lines(
    reader: Reader, row: ClaimRow, rows: Sequence[ClaimLineRow], now: Mapping[int, Standing]
) -> Iterable[Line]:
    asker = Asker(reader)
    item_ids = [line.item_id for line in rows]
    origins, elsewhere = came_from(reader, item_ids), lines_by_item(reader)
    proofs = papers.proofs(reader, item_ids=item_ids, line_ids=[line.id for line in rows])
    for line in rows:
        item = _item(reader, line.item_id)
        of_line = tuple(
            evidence.shown(one, item.tag if one.item_id else f"{row.number}/{line.line_no}")
            for one in proofs
            if one.withdrawn_at is None and (one.item_id == item.id or one.claim_line_id == line.id)
        )
        worth = values(reader, [item.id], on=line.on_date or row.made_on)[item.id]
        earlier = [other.number for other, _, _ in elsewhere[item.id] if other.id != row.id]
        stands = now[line.id]
        yield Line(
            line_no=line.line_no,
            item=asker.shown(item),
            quantity=line.quantity,
            event=line.event,
            on=line.on_date,
            what_happened=line.what_happened,
            job=line.job,
            machine=line.machine,
            seen_by=line.seen_by,
            asked_by=line.asked_by,
            old_piece=line.old_piece,
            basis=line.basis,
            worked_out=line.worked_out,
            asked=str(Money(stands.asked, row.currency)),
            agreed=None if stands.agreed is None else str(Money(stands.agreed, row.currency)),
            paid=str(Money(stands.paid, row.currency)) if stands.paid else None,
            had=None if line.already_had is None else str(Money(line.already_had, row.currency)),
            state=stands.state,
            origin=origins.get(item.id),
            values=worth,
            proofs=of_line,
            replaced_by=tuple(_item(reader, one).tag for one in stands.replaced_by),
            gaps=line_gaps(line, item, of_line, origins.get(item.id), worth, earlier),
        )


def _item(reader: Reader, item_id: int) -> ItemRow:
    found = reader.item(item_id)
    assert found is not None, "lines of claims refer to items, which are never deleted"
    return found


def _sums(row: ClaimRow, rows: Sequence[ClaimLineRow], now: Mapping[int, Standing]) -> Sums:
    standing_ = [line for line in rows if now[line.id].state != "withdrawn"]

    def sum_of(amounts: Iterable[Decimal]) -> Money:
        return total((Money(amount, row.currency) for amount in amounts), row.currency)

    asked = sum_of(now[line.id].asked for line in standing_)
    had = sum_of(line.already_had or Decimal(0) for line in standing_)
    # what is asked and not answered yet still counts as open
    open_ = sum_of(
        now[line.id].open
        if now[line.id].agreed is not None
        else max(now[line.id].asked - (line.already_had or 0), Decimal(0))
        for line in standing_
        if is_live(row, now[line.id])
    )
    by_basis: dict[str, list[Decimal]] = defaultdict(list)
    for line in standing_:
        by_basis[line.basis].append(now[line.id].asked)
    return Sums(
        asked=str(asked),
        by_basis={basis: str(sum_of(amounts)) for basis, amounts in by_basis.items()},
        had=str(had),
        agreed=str(sum_of(now[line.id].agreed or Decimal(0) for line in standing_)),
        paid=str(sum_of(now[line.id].paid for line in standing_)),
        not_agreed=str(sum_of(not_agreed(now[line.id]) for line in standing_)),
        open=str(open_),
    )


def _deadlines(row: ClaimRow, lines: Sequence[Line], steps: Sequence[ClaimStepRow]) -> tuple[Deadline, ...]:
    if not row.rules:
        return ()
    by_day: dict[date | None, list[int]] = defaultdict(list)
    for line in lines:
        if line.state not in ("withdrawn", "refused", "settled"):
            by_day[line.on].append(line.line_no)

    def first(state: str) -> list[tuple[date | None, tuple[int, ...]]]:
        return next(([(_day_of(step), ())] for step in steps if step.to_state == state), [])

    starts: dict[str, list[tuple[date | None, tuple[int, ...]]]] = {
        "event": [(day, tuple(numbers)) for day, numbers in by_day.items()],
        "made": [(row.made_on, ())],
        "sent": first("sent"),
        "agreed": first("agreed"),
    }
    return deadlines(read_rules(row.rules)[1], starts, on=today())


def _day_of(step: ClaimStepRow) -> date:
    return step.on_date or step.at.astimezone().date()


def _step(step: ClaimStepRow, numbers: Mapping[int, int], currency: str) -> Step:
    return Step(
        on=_day_of(step),
        recorded=step.at.isoformat(timespec="minutes"),
        state=step.to_state,
        line_no=None if step.claim_line_id is None else numbers[step.claim_line_id],
        amount=None if step.amount is None else str(Money(step.amount, currency)),
        by=step.by,
        to_whom=step.to_whom,
        why=step.why,
    )


def _summary(found: Claim) -> Summary:
    days = [one for one in found.deadlines if one.due is not None and one.days > 0]
    ahead = [one for one in days if (one.days_left or 0) >= 0]
    # the earliest that is to come, else the last that went by
    next_ = ahead[:1] or days[-1:]
    told = [f"{one.due}{'' if ahead else ' OVER'}: {one.what}" for one in next_]
    return Summary(
        number=found.number,
        claimant=found.claimant,
        payer=found.payer,
        made_on=found.made_on,
        state=found.state,
        lines=sum(line.state != "withdrawn" for line in found.lines),
        asked=found.sums.asked,
        open=found.sums.open,
        gaps=len(found.all_gaps),
        next_due=told[0] if told and found.state in LIVE else None,
        tools=tuple(line.item.tag for line in found.lines),
    )
