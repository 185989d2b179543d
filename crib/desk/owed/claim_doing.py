"""Making a claim and taking it further: each step is appended, none is ever changed."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from sqlalchemy import select

from crib.desk import lookup
from crib.desk.dates import now, read_day, today
from crib.desk.doings.batch import copy_of
from crib.desk.owed.allowance import (
    Allowance,
    Claimed,
    allowances,
    limited,
    read_allowance,
    used,
)
from crib.desk.owed.claim_amount import VALUE_OF, Asked, Told, asked
from crib.desk.owed.claim_state import ANSWERED, ASKING, LIVE, Standing, standing, state_of_claim
from crib.desk.owed.claimed import is_live, last_of, lines_by_item
from crib.desk.owed.claims import Claim, claim, row_of
from crib.desk.owed.deadlines import read_rules
from crib.desk.owed.worth import values
from crib.desk.typed import count_of, text
from crib.errors import InputError, NotPossible, UnknownName
from crib.store import ledger, models, papers
from crib.store.papers import ClaimLineRow, ClaimRow
from crib.store.read import Reader, reading
from crib.store.rows import InsertRow, ItemRow, PartyRow
from crib.store.search import compact
from crib.store.words import CLAIM_BASES, CLAIM_EVENTS
from crib.store.writing import WriteSession, writing
from crib.units.money import Money, read_currency, read_money


@dataclass(frozen=True, slots=True, kw_only=True)
class LineRequest:
    """One line to be claimed, everything as typed; empty means not told.

    Attributes:
        event: broken, worn out, lost, stolen, consumed, bought or taken over.
        basis: on which it is asked; never picked by crib.
        amount: what is asked, where it is not to be worked out.
        share: percent of the price of a new one, or what the agreement pays as a whole: "50 % over 10 EUR, at
            most 150 EUR a year"; what it doesn't tell, the claim's rules tell.
        repair: what the repair costs.
        edges: used up, for inserts.
        pieces: how many; one if not told.
        on: the day; the ledger's, if not told.
        what: what happened, in a sentence; the ledger's words, if not told.
        job: for which.
        machine: on which.
        seen: who saw it.
        asked: who required or authorised the tool.
        old: where the old piece is.
        had: what was had already.
    """

    event: str = ""
    basis: str = ""
    amount: str = ""
    share: str = ""
    repair: str = ""
    edges: str = ""
    pieces: str = ""
    on: str = ""
    what: str = ""
    job: str = ""
    machine: str = ""
    seen: str = ""
    asked: str = ""
    old: str = ""
    had: str = ""


# -- making one ------------------------------------------------------------------------------------------


def new(
    address: str,
    tags: Sequence[str] = (),
    line: LineRequest | None = None,
    *,
    payer: str = "",
    currency: str = "",
    clause: str = "",
    place: str = "",
    note: str = "",
    rules: str = "",
) -> Claim:
    """Make a claim, with a line for each tool named; all of it or nothing.

    Args:
        address: the store.
        tags: tools that the lines are for.
        line: what holds for each of them.
        payer: who is asked; the company, where only one is on record.
        currency: of the claim; the setting, if not told.
        clause: of a policy or agreement.
        place: where the work is done, whose law applies.
        note: anything.
        rules: for the deadlines; the setting, if not told.

    Raises:
        UnknownName: no such tool, person, event or basis.
        NotPossible: who asks, who pays or in which currency is not known; or a tool can't be claimed.
        InputError: something typed that can't be read.
    """
    with reading(address) as reader:
        claimant, settings = lookup.me_or_refuse(reader), reader.settings()
        asked_of = _payer(reader, payer)
        unit = read_currency(currency or settings.get("currency", "") or _no_currency())
        kept = read_rules(rules or settings["rules"])[0] if rules or "rules" in settings else None
        if asked_of.id == claimant.id:
            raise NotPossible(f"{claimant.name} can't claim from {claimant.name}", "--payer names who pays")
    with writing(address) as session:
        made = models.Claim(
            number=_next_number(session), claimant_id=claimant.id, payer_id=asked_of.id, made_on=today(),
            currency=unit, rules=kept, clause=text(clause, "clause"), note=text(note, "note"),
            place_of_work=text(place, "place of work"),
        )  # fmt: skip
        session.add(made)
        session.flush()
        session.add(models.ClaimStep(claim_id=made.id, at=now(), to_state="draft", by_id=claimant.id))
        session.flush()
        number = made.number
        for tag in tags:
            _add_line(address, session, made, tag, line or LineRequest())
    return claim(address, number)


def add(address: str, number: str, tags: Sequence[str], line: LineRequest) -> Claim:
    """Add lines to a draft; all of them or none.

    Raises:
        UnknownName: no such claim, tool, event or basis.
        NotPossible: it was sent already, or a tool can't be claimed.
        InputError: something typed that can't be read.
    """
    with _at_work(address, number, ("draft",), "a line is added") as work:
        for tag in tags:
            _add_line(address, work.session, work.session.get_one(models.Claim, work.row.id), tag, line)
    return claim(address, number)


def amend(
    address: str, number: str, *, clause: str = "", place: str = "", note: str = "", rules: str = ""
) -> Claim:
    """Change what a draft says as a whole; what is not told stays.

    Raises:
        UnknownName: no such claim.
        NotPossible: it was sent already.
        InputError: nothing is told, or the rules can't be read.
    """
    told = {
        "clause": text(clause, "clause"),
        "place_of_work": text(place, "place of work"),
        "note": text(note, "note"),
        "rules": read_rules(rules)[0] if rules else None,
    }
    if not any(told.values()):
        raise InputError("nothing is told to change", "--clause, --place, --note or --rules")
    with _at_work(address, number, ("draft",), "it is changed") as work:
        row = work.session.get_one(models.Claim, work.row.id)
        for name, value in told.items():
            if value is not None:
                setattr(row, name, value)
    return claim(address, number)


def _add_line(address: str, session: WriteSession, made: models.Claim, tag: str, told: LineRequest) -> None:
    with reading(address) as reader:
        item = lookup.item(reader, tag)
        event = _one_of("event", told.event, CLAIM_EVENTS)
        basis = _one_of("basis", told.basis, CLAIM_BASES) if told.basis else ""
        # whoever else would claim for the same person waits here, and then sees this line
        session.get_one(models.Party, made.claimant_id, with_for_update=True)
        # likewise whoever else would claim the same tool
        session.get_one(models.Item, item.id, with_for_update=True)
        _refuse_tool(reader, session, item, made, event)
        happened = last_of(reader, item.id, event)
        day = _day(told.on) if told.on else happened.on if happened else None
        pieces = _count(told.pieces, "pieces") or 1
        edges = _count(told.edges, "edges")
        sum_ = _asked(reader, item, basis, told, (pieces, edges, day or made.made_on), made)
    line_no = len(made.lines) + 1
    had = read_money(told.had, made.currency) if told.had else None
    if had and had.currency != made.currency:
        raise InputError(
            f"{had} is not in {made.currency}, the currency of the claim", "one currency a claim"
        )
    session.flush()
    entry = ledger.Entry(
        item_id=item.id, what="claimed", at=now(), actor_id=made.claimant_id,
        why=f"claim {made.number}, line {line_no}: {event}",
    )  # fmt: skip
    recorded = ledger.record(session, entry)
    made.lines.append(
        models.ClaimLine(
            line_no=line_no, item_id=item.id, event=event, basis=basis, amount=sum_.money.rounded().amount,
            worked_out=sum_.how, quantity=pieces, on_date=day,
            ledger_id=happened.ledger_id if happened else recorded.line_id,
            what_happened=text(told.what, "account of what happened") or (happened.why if happened else None),
            job=text(told.job, "job"), machine=text(told.machine, "machine"),
            seen_by=text(told.seen, "name"), asked_by=text(told.asked, "name"),
            old_piece=text(told.old, "place of the old piece"), already_had=had.amount if had else None,
        )
    )  # fmt: skip
    session.flush()


def _refuse_tool(
    reader: Reader, session: WriteSession, item: ItemRow, made: models.Claim, event: str
) -> None:
    """Refuse a tool that is not the claimant's, or is on a claim that something may still come of."""
    if item.owner_id != made.claimant_id and event != "taken over":
        raise NotPossible(f"{item.tag} is {item.owner}'s", "only own tools can be claimed")
    if any(line.item_id == item.id for line in made.lines):
        raise NotPossible(
            f"{item.tag} is on this claim already", "one line for each tool; --pieces tells how many"
        )
    for other, line, stands in lines_by_item(reader).get(item.id, ()):
        if is_live(other, stands):
            raise NotPossible(
                f"{item.tag} is on claim {other.number} already, line {line.line_no} ({stands.state})",
                "the same tool is not claimed twice; withdraw that line first, if it is wrong",
            )


def _asked(
    reader: Reader,
    item: ItemRow,
    basis: str,
    told: LineRequest,
    how_much: tuple[int, int | None, date],
    made: models.Claim,
) -> Asked:
    pieces, edges, day = how_much
    unit, rule = made.currency, _rule(basis, told, made)
    detail = reader.detail(item.id)
    sums = Told(
        amount=read_money(told.amount, unit) if told.amount else None,
        percent=rule.percent if rule else None,
        repair=read_money(told.repair, unit) if told.repair else None,
        edges=edges,
        edges_each=detail.cedc if isinstance(detail, InsertRow) else None,
    )
    known = values(reader, [item.id], on=day)[item.id]
    found = asked(item.tag, basis, known, pieces, sums, unit)
    if rule is None or told.amount:
        return found
    row, before = _lines_so_far(reader, made)
    each = next(value.money for value in known if value.basis == VALUE_OF.get(basis, "replacement"))
    return limited(item.tag, found, rule, each, used(before, row, basis, day.year))


def _rule(basis: str, told: LineRequest, made: models.Claim) -> Allowance | None:
    """Give what the agreement pays on a basis: as told for the line, else by the claim's rules."""
    house = allowances(made.rules).get(basis)
    if basis != "share" or not told.share:
        return house
    own = read_allowance(basis, told.share)
    if house is None:
        return own
    return replace(own, over=own.over or house.over, most=own.most or house.most)


def _lines_so_far(reader: Reader, made: models.Claim) -> tuple[ClaimRow, list[Claimed]]:
    """Give a claim as it is in this transaction, and the lines of all claims, its own new ones too."""
    lines = [one for of_item in lines_by_item(reader).values() for one in of_item]
    names = {name: getattr(made, name) for name in ClaimRow._fields if hasattr(made, name)}
    row = ClaimRow(**(names | {"claimant": "", "payer": ""}))
    known = {line.id for _, line, _ in lines}
    for line in made.lines:
        if line.id not in known:
            facts = {name: getattr(line, name) for name in ClaimLineRow._fields}
            fresh = ClaimLineRow(**facts)
            lines.append((row, fresh, standing(fresh, ())))
    return row, lines


def _payer(reader: Reader, typed: str) -> PartyRow:
    if typed:
        return lookup.party(reader, typed)
    companies = [party for party in reader.parties() if party.kind == "company"]
    if len(companies) != 1:
        names = ", ".join(party.name for party in companies)
        hint = (
            f"say who, with --payer: {names}"
            if names
            else "no company is on record: add it (crib party, or F9)"
        )
        raise NotPossible("who is asked to pay?", hint)
    return companies[0]


def _no_currency() -> str:
    raise NotPossible(
        "in which currency is it asked?",
        "say it once: crib setting currency EUR, or F9, Settings; or --currency EUR",
    )


def _next_number(session: WriteSession) -> str:
    """Give the next number of this year; two at once are told apart by the store."""
    year = f"{today().year}-"
    known = session.scalars(select(models.Claim.number).where(models.Claim.number.startswith(year)))
    counted = [int(number.removeprefix(year)) for number in known if number.removeprefix(year).isdigit()]
    return f"{year}{max(counted, default=0) + 1}"


# -- taking it further -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Work:
    """A claim inside the transaction that takes it further."""

    session: WriteSession
    row: ClaimRow
    lines: tuple[ClaimLineRow, ...]
    now: dict[int, Standing]
    by_id: int | None

    def step(self, state: str, **facts: Any) -> None:
        """Append a step."""
        self.session.add(
            models.ClaimStep(claim_id=self.row.id, at=now(), to_state=state, by_id=self.by_id, **facts)
        )

    def move(self, state: str, **facts: Any) -> None:
        """Append a step of the claim as a whole, and keep its state beside it."""
        self.step(state, **facts)
        self.session.get_one(models.Claim, self.row.id).state = state

    def named(self, numbers: Sequence[int], states: Sequence[str]) -> list[ClaimLineRow]:
        """Give the lines that are named, or all in one of these states if none is.

        Raises:
            UnknownName: no such line.
            NotPossible: one is in another state, or none is in these.
        """
        for number in numbers:
            if number not in {line.line_no for line in self.lines}:
                raise UnknownName("line", str(number), hint=f"crib claim show {self.row.number} lists them")
        found = [line for line in self.lines if not numbers or line.line_no in numbers]
        if not numbers:
            found = [line for line in found if self.now[line.id].state in states]
        if not found:
            raise NotPossible(
                f"no line of claim {self.row.number} waits for that", "crib claim show lists them"
            )
        for line in found:
            if (state := self.now[line.id].state) not in states:
                raise NotPossible(
                    f"line {line.line_no} of claim {self.row.number} is {state}", "nothing was recorded"
                )
        return found


@contextmanager
def _at_work(address: str, number: str, states: Sequence[str], doing: str) -> Iterator[_Work]:
    """Take a claim into a write transaction; nobody else takes it further meanwhile."""
    with reading(address) as reader:
        claim_id, who = row_of(reader, number).id, lookup.me(reader)
    with writing(address) as session:
        session.get_one(models.Claim, claim_id, with_for_update=True)
        with reading(address) as reader:
            row = row_of(reader, number)
            lines, steps = papers.claim_lines(reader, row.id), papers.claim_steps(reader, row.id)
        if row.state not in states:
            raise NotPossible(
                f"claim {row.number} is {row.state}: before {doing} it must be " + " or ".join(states),
                "nothing was recorded",
            )
        yield _Work(
            session, row, lines, {line.id: standing(line, steps) for line in lines}, who.id if who else None
        )


def correct(address: str, number: str, line: int, amount: str, *, why: str, on: str = "") -> Claim:
    """Change what is asked for a line, by a dated step; what was asked before stays on record.

    Raises:
        UnknownName: no such claim or line.
        NotPossible: it was answered already.
        InputError: no reason is given, or the amount can't be read.
    """
    reason = _needed(why, "why is it corrected?")
    with _at_work(address, number, ASKING, "an amount is corrected") as work:
        (found,) = work.named([line], ASKING)
        money = _money(amount, work.row)
        work.step(work.row.state, claim_line_id=found.id, amount=money.amount, why=reason, on_date=_day(on))
    return claim(address, number)


def withdraw(address: str, number: str, lines: Sequence[int], *, why: str, on: str = "") -> Claim:
    """Withdraw lines, or the whole claim where none is named; it stays on record.

    Raises:
        UnknownName: no such claim or line.
        NotPossible: it was answered already.
        InputError: no reason is given.
    """
    reason = _needed(why, "why is it withdrawn?")
    with _at_work(address, number, ASKING, "it is withdrawn") as work:
        if lines:
            for line in work.named(lines, ASKING):
                work.step("withdrawn", claim_line_id=line.id, why=reason, on_date=_day(on))
        else:
            work.move("withdrawn", why=reason, on_date=_day(on))
    return claim(address, number)


def send(address: str, number: str, *, to: str = "", on: str = "", accept_gaps: bool = False) -> Claim:
    """Record that a claim was handed in.

    Args:
        address: the store.
        number: of the claim.
        to: to whom; the payer, if not told.
        on: the day; today, if not told.
        accept_gaps: it goes although something is lacking.

    Raises:
        UnknownName: no such claim.
        NotPossible: it was sent already, has no line, or has gaps that nobody accepted.
    """
    seen = claim(address, number)
    gaps = seen.all_gaps
    if gaps and not accept_gaps:
        some = "; ".join(gaps[:3]) + (f"; and {len(gaps) - 3} more" if len(gaps) > 3 else "")
        raise NotPossible(
            f"claim {seen.number} has {len(gaps)} gap{'s' * (len(gaps) != 1)}: {some}",
            "fill them, or send it with its gaps accepted (--accept-gaps)",
        )
    with _at_work(address, number, ("draft",), "it is sent") as work:
        work.named([], ("draft",))
        why = f"sent with {len(gaps)} gap{'s' * (len(gaps) != 1)} accepted" if gaps else None
        work.move("sent", to_whom=text(to, "name") or work.row.payer, on_date=_day(on), why=why)
    return claim(address, number)


def agree(
    address: str,
    number: str,
    lines: Sequence[int] = (),
    *,
    amount: str = "",
    by: str = "",
    why: str = "",
    on: str = "",
) -> Claim:
    """Record that the payer agreed to lines: all that wait for an answer, if none is named.

    Args:
        address: the store.
        number: of the claim.
        lines: their numbers.
        amount: agreed to, if not all that is asked; goes with one line.
        by: who said so.
        why: in words.
        on: the day; today, if not told.

    Raises:
        UnknownName: no such claim or line.
        NotPossible: it was not sent, or was paid already.
        InputError: an amount for several lines, or more than was asked.
    """
    with _at_work(address, number, ("sent", *ANSWERED, "part settled"), "it is agreed") as work:
        found = work.named(lines, ("sent", *ANSWERED) if lines else ("sent",))
        if amount and len(found) != 1:
            raise InputError("one amount can't be for several lines", "name the line")
        for line in found:
            whole = work.now[line.id].asked
            money = _money(amount, work.row).amount if amount else whole
            if money > whole:
                raise InputError(
                    f"line {line.line_no} asks {Money(whole, work.row.currency)}, less than {amount}",
                    "nothing was recorded",
                )
            state = "agreed" if money == whole else "part agreed" if money else "refused"
            _answer(work, line, state, money, why=why, by=by, on=on)
        _settle_state(work, on)
    return claim(address, number)


def refuse(
    address: str, number: str, lines: Sequence[int] = (), *, why: str, by: str = "", on: str = ""
) -> Claim:
    """Record that the payer refused lines: all that wait for an answer, if none is named.

    Raises:
        UnknownName: no such claim or line.
        NotPossible: it was not sent, or was paid already.
        InputError: no reason is given.
    """
    reason = _needed(why, "why was it refused?")
    with _at_work(address, number, ("sent", *ANSWERED, "part settled"), "it is refused") as work:
        for line in work.named(lines, ("sent", *ANSWERED) if lines else ("sent",)):
            _answer(work, line, "refused", Decimal(0), why=reason, by=by, on=on)
        _settle_state(work, on)
    return claim(address, number)


def settle(
    address: str, number: str, lines: Sequence[int] = (), *, amount: str = "", how: str = "", on: str = ""
) -> Claim:
    """Record that lines were paid: all that is agreed and open, if none is named.

    Args:
        address: the store.
        number: of the claim.
        lines: their numbers.
        amount: paid, if not all that is open; goes with one line.
        how: cash, with the wages …
        on: the day; today, if not told.

    Raises:
        UnknownName: no such claim or line.
        NotPossible: it is not agreed, or is paid already.
        InputError: an amount for several lines, or more than is open.
    """
    with _at_work(address, number, ("agreed", "part agreed", "part settled"), "it is paid") as work:
        found = work.named(lines, ("agreed", "part agreed", "part settled"))
        if amount and len(found) != 1:
            raise InputError("one amount can't be for several lines", "name the line")
        for line in found:
            money = _money(amount, work.row).amount if amount else work.now[line.id].open
            _pay(work, line, money, why=text(how, "way of payment"), on=on)
        _settle_state(work, on)
    return claim(address, number)


def replace_with(
    address: str,
    number: str,
    line_no: int,
    *,
    tag: str,
    owner: str,
    place: str = "",
    mark: str = "",
    serial: str = "",
    old_to: str = "",
    on: str = "",
) -> Claim:
    """Record that a line was settled in kind: a like tool comes on record, its owner as told.

    Args:
        address: the store.
        number: of the claim.
        line_no: the line.
        tag: of the new tool.
        owner: whose the new one is; never assumed.
        place: where it lies; where the old one is, if not told.
        mark: what is engraved on it.
        serial: its number.
        old_to: who has the old piece now, if its owner handed it over.
        on: the day; today, if not told.

    Raises:
        UnknownName: no such claim, line, person or place.
        NotPossible: the line is not agreed, or the tag is taken.
        InputError: nobody is named as owner.
    """
    if not owner.strip():
        raise InputError(
            "whose is the new tool?", "--owner NAME: it may be the company's or yours, by agreement; ask"
        )
    with reading(address) as reader:
        whose, whose_old = lookup.party(reader, owner), lookup.party(reader, old_to) if old_to else None
        where = lookup.place(reader, place) if place else None
    with _at_work(address, number, ("agreed", "part agreed", "part settled"), "it is replaced") as work:
        (line,) = work.named([line_no], ("agreed", "part agreed", "part settled"))
        old = work.session.get_one(models.Item, line.item_id, with_for_update=True)
        item = _new_like(work, old, line, tag)
        item.mark, item.serial = text(mark, "mark"), text(serial, "serial number")
        start = ledger.Start(
            at=now(), owner_id=whose.id, place_id=where.id if where else old.place_id, condition="new",
            quantity=line.quantity, edges_left=_fresh_edges(item, line.quantity), actor_id=work.by_id,
            why=f"for {old.tag}, by claim {work.row.number}",
        )  # fmt: skip
        ledger.add(work.session, item, start)
        work.session.flush()
        _old_piece(work, old, line, item.tag, whose_old.id if whose_old else None)
        told = f"replaced by {item.tag}, which is {whose.name}'s"
        _pay(work, line, work.now[line.id].open, why=told, on=on, replacement=item.id)
        _settle_state(work, on)
    return claim(address, number)


def close(address: str, number: str, *, why: str = "", on: str = "") -> Claim:
    """Close a claim: nothing more comes of it.

    Raises:
        UnknownName: no such claim.
        NotPossible: it is closed already, or is a draft.
        InputError: something is open still, and no reason is given.
    """
    open_states = tuple(state for state in LIVE if state != "draft")
    with _at_work(address, number, (*open_states, "settled", "refused"), "it is closed") as work:
        if work.row.state in open_states:
            _needed(why, f"claim {work.row.number} is {work.row.state}: why is it closed?")
        work.move("closed", why=text(why, "reason"), on_date=_day(on))
    return claim(address, number)


def _answer(
    work: _Work, line: ClaimLineRow, state: str, amount: Decimal, *, why: str, by: str, on: str
) -> None:
    said = "; ".join(part for part in (f"by {by.strip()}" if by.strip() else "", why.strip()) if part)
    work.step(state, claim_line_id=line.id, amount=amount, why=text(said, "reason"), on_date=_day(on))
    now_ = work.now[line.id]
    work.now[line.id] = Standing(state=state, asked=now_.asked, agreed=amount)


def _pay(
    work: _Work,
    line: ClaimLineRow,
    amount: Decimal,
    *,
    why: str | None,
    on: str,
    replacement: int | None = None,
) -> None:
    now_ = work.now[line.id]
    if not 0 < amount <= now_.open:
        raise InputError(
            f"line {line.line_no}: {Money(now_.open, work.row.currency)} is open, "
            f"not {Money(amount, work.row.currency)}",
            "nothing was recorded",
        )
    state = "settled" if amount == now_.open else "part settled"
    work.step(
        state,
        claim_line_id=line.id,
        amount=amount,
        why=why,
        on_date=_day(on),
        replacement_item_id=replacement,
    )
    work.now[line.id] = Standing(state=state, asked=now_.asked, agreed=now_.agreed, paid=now_.paid + amount)


def _settle_state(work: _Work, on: str) -> None:
    """Append where the claim as a whole stands now."""
    work.move(state_of_claim(list(work.now.values())), on_date=_day(on))


def _new_like(work: _Work, old: models.Item, line: ClaimLineRow, tag: str) -> models.Item:
    wanted = tag.strip()
    if not wanted or not compact(wanted):
        raise InputError("the new tool needs a tag", "--tag H99")
    if work.session.scalar(select(models.Item.id).where(models.Item.tag_code == compact(wanted))) is not None:
        raise NotPossible(
            f"the tag {wanted} is taken", f"line {line.line_no}: give the new tool one of its own"
        )
    return copy_of(old, wanted)


def _fresh_edges(item: models.Item, quantity: int) -> int | None:
    return item.insert.cedc * quantity if item.insert and item.insert.cedc else None


def _old_piece(work: _Work, old: models.Item, line: ClaimLineRow, new_tag: str, owner_id: int | None) -> None:
    """Record what became of what was replaced: gone from the batch, or scrap."""
    part = line.quantity < old.quantity
    is_gone = line.event in ("lost", "stolen") or part
    entry = ledger.Entry(
        item_id=old.id, what="replaced", at=now(), actor_id=work.by_id,
        why=f"by {new_tag}; claim {work.row.number}, line {line.line_no}",
        quantity_change=-min(line.quantity, old.quantity) if is_gone and line.event != "consumed" else 0,
        to_condition=None if is_gone or line.event == "consumed" or old.condition == "scrap" else "scrap",
        to_owner_id=owner_id if owner_id != old.owner_id and not part else None,
    )  # fmt: skip
    ledger.record(work.session, entry)


# -- reading what was typed ------------------------------------------------------------------------------


def _day(typed: str) -> date:
    return read_day(typed, on=today(), ahead=False) if typed else today()


def _money(typed: str, row: ClaimRow) -> Money:
    money = read_money(typed, row.currency)
    if money.currency != row.currency:
        raise InputError(
            f"{money} is not in {row.currency}, the currency of the claim", "one currency a claim"
        )
    return money


def _one_of(what: str, typed: str, known: Sequence[str]) -> str:
    if typed not in known:
        raise UnknownName(what, typed, known, "one of: " + ", ".join(known))
    return typed


def _count(typed: str, what: str) -> int | None:
    found = count_of(typed, what)
    if found == 0:
        raise InputError(f"no {what}: nothing to claim", "one or more")
    return found


def _needed(typed: str, question: str) -> str:
    found = text(typed, "reason")
    if found is None:
        raise InputError(question, "--why tells it; it stays on record")
    return found
