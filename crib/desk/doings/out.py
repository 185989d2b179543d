"""Who has it? What of mine is out, what have I of others', what is overdue, what of mine is still here?"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from crib.desk import dates, lookup
from crib.desk.asking.ask import Asker, FoundItem
from crib.desk.asking.story import since
from crib.store.filters import Filters
from crib.store.read import Reader, reading
from crib.store.rows import LedgerRow, OutRow, PartyRow

MOST_BORROWERS = 3
MOST_OF_MINE = 10_000
_GOES_OUT = ("lent", "sent out", "added", "corrected")


@dataclass(frozen=True, slots=True, kw_only=True)
class OutLine:
    """One tool that somebody has.

    Attributes:
        item: the tool.
        whose: "mine", "theirs" (I have it, it is another's) or "others'".
        what: "lent" or "sent out".
        since: the day on which it went.
        days: days since then.
        due: the day on which it is promised back.
        overdue_days: days past that; 0 where it is not past, or nothing was promised.
        holder_gone_on: the day on which whoever has it left the shop.
        why: what for.
    """

    item: FoundItem
    whose: str
    what: str
    since: str
    days: int
    due: str | None
    overdue_days: int
    holder_gone_on: str | None
    why: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Out:
    """What is out, longest out first.

    Attributes:
        verdict: the answer in one line.
        detail: how sure, and why.
        next_step: what to do now.
        lines: the tools.
    """

    verdict: str
    detail: str
    next_step: str
    lines: tuple[OutLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Here:
    """What of mine is in the building.

    Attributes:
        verdict: the answer in one line.
        detail: what to mind before taking it home.
        next_step: what to do now.
        free: tools that could go home.
        in_machines: tools whose place is a machine: perhaps in a cut.
        out: tools of mine that others have.
        on_claim: tags of tools with a claim under way: whoever pays may want to see them.
    """

    verdict: str
    detail: str
    next_step: str
    free: tuple[FoundItem, ...]
    in_machines: tuple[FoundItem, ...]
    out: tuple[OutLine, ...]
    on_claim: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Loan:
    """One time that a tool was with somebody.

    Attributes:
        who: with whom.
        since: the day on which it went; None where it was so from the first record.
        until: the day on which it came back; None while it is out.
        back: the day on which it was promised back.
        why: what for.
    """

    who: str
    since: str
    until: str | None
    back: str | None
    why: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WhoHas:
    """Where one tool is, and who had it before.

    Attributes:
        verdict: the answer in one line.
        detail: how sure, and why.
        next_step: what to do now.
        item: the tool.
        loans: the last borrowers, the latest first.
    """

    verdict: str
    detail: str
    next_step: str
    item: FoundItem
    loans: tuple[Loan, ...]


def out(address: str, *, mine: bool = False, overdue: bool = False, who: str = "") -> Out:
    """Tell what is out, longest out first.

    Args:
        address: the store.
        mine: only what is mine, and what I have of others'.
        overdue: only what should be back by now.
        who: only what this person has.

    Raises:
        UnknownName: nobody is called so.
        NotPossible: "mine" was said, and who I am is not set.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        me = lookup.me_or_refuse(reader) if mine else lookup.me(reader)
        holder = lookup.party(reader, who) if who.strip() else None
        lines = _lines(reader, me)
    if mine:
        lines = [line for line in lines if line.whose != "others'"]
    if holder is not None:
        lines = [line for line in lines if line.item.held_by == holder.name]
    late = [line for line in lines if line.overdue_days]
    if overdue:
        lines = late
    verdict = _verdict(lines, late, mine=mine, overdue=overdue, who=holder.name if holder else "")
    return Out(verdict=verdict, detail=_detail(lines), next_step=_next(lines), lines=tuple(lines))


def still_here(address: str) -> Here:
    """Tell what of mine is in the building; those lent, in a machine, or on a claim apart.

    Raises:
        NotPossible: who I am, or which site I am at, is not set.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        asker, me = Asker(reader), lookup.me_or_refuse(reader)
        asked = Filters(owner_ids=(me.id,), site_id=asker.here_or_refuse(), lent=False, limit=MOST_OF_MINE)
        rows = [row for row in reader.find_items(asked).rows if row.quantity and row.condition != "scrap"]
        machines = {place.id for place in asker.places if place.kind == "machine"}
        claimed = reader.claimed_items()
        lent = tuple(line for line in _lines(reader, me) if line.whose == "mine")
    rows.sort(key=lambda row: (row.place, row.tag))
    free = tuple(asker.shown(row) for row in rows if row.place_id not in machines)
    busy = tuple(asker.shown(row) for row in rows if row.place_id in machines)
    on_claim = tuple(row.tag for row in rows if row.id in claimed)
    minds = [f"{len(lent)} more of yours with others"] * bool(lent)
    minds += [f"{', '.join(on_claim)} on a claim: whoever pays may want to see it"] * bool(on_claim)
    return Here(
        verdict=f"{len(rows)} of yours here: {len(free)} could go home, {len(busy)} at a machine.",
        detail=f"Mind: {'; '.join(minds)}." if minds else "None is lent, none is on a claim.",
        next_step=f"crib take-home {free[0].tag} …" if free else "Nothing of yours lies here.",
        free=free,
        in_machines=busy,
        out=lent,
        on_claim=on_claim,
    )


def who_has(address: str, tool: str) -> WhoHas:
    """Tell who has a tool, since when, and its last three borrowers.

    Args:
        address: the store.
        tool: its tag, mark, or words for it.

    Raises:
        UnknownName: nothing is called so.
        InputError: several tools are.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        row = lookup.item(reader, tool)
        item, lines = Asker(reader).shown(row), reader.ledger_of(row.id)
        there = next((text for _, text in since(reader, lines)), "")
        loans = _loans(lines)
        line = next((line for line in _lines(reader, lookup.me(reader)) if line.item.id == row.id), None)
    name = f"{item.tag} {item.designation or item.label}"
    if line is None:
        had = f" {loans[0].who} had it last, until {loans[0].until}." if loans else ""
        return WhoHas(
            verdict=f"Nobody: {name} should be at {item.place}" + ("." if item.on_site else ", not here."),
            detail=f"There since {there}.{had}",
            next_step=f"crib show {item.tag}",
            item=item,
            loans=loans,
        )
    return WhoHas(
        verdict=f"{item.held_by} has {name}, since {line.since}: {dates.show_lag(line.days)}.",
        detail=_promise(line),
        next_step=f"crib return {item.tag} marks it back.",
        item=item,
        loans=loans,
    )


def _lines(reader: Reader, me: PartyRow | None) -> list[OutLine]:
    asker, today = Asker(reader), dates.today()
    gone = {one.id: one.gone_on for one in asker.parties}
    return [_line(asker, row, me, gone.get(row.item.held_by_id or 0), today) for row in reader.out()]


def _line(asker: Asker, row: OutRow, me: PartyRow | None, gone: date | None, today: date) -> OutLine:
    item, since = row.item, row.since.astimezone().date()
    whose = "others'"
    if me is not None and item.owner_id == me.id:
        whose = "mine"
    elif me is not None and item.held_by_id == me.id:
        whose = "theirs"
    return OutLine(
        item=asker.shown(item),
        whose=whose,
        what="sent out" if row.what == "sent out" else "lent",
        since=since.isoformat(),
        days=(today - since).days,
        due=item.due_back.isoformat() if item.due_back else None,
        overdue_days=max((today - item.due_back).days, 0) if item.due_back else 0,
        holder_gone_on=gone.isoformat() if gone else None,
        why="lent already when it was first recorded" if row.what == "added" else row.why,
    )


def _loans(lines: Iterable[LedgerRow]) -> tuple[Loan, ...]:
    """Give the last borrowers, the latest first; what was corrected away is no loan."""
    undone = {line.corrects_id for line in lines if line.corrects_id is not None}
    found: list[Loan] = []
    for line in lines:
        day = line.at.astimezone().date().isoformat()
        if line.id in undone or line.corrects_id is not None:
            continue
        if line.to_held_by and line.to_held_by != line.from_held_by and line.what in _GOES_OUT:
            back = line.due_back.isoformat() if line.due_back else None
            found.append(Loan(who=line.to_held_by, since=day, until=None, back=back, why=line.why))
        elif line.from_held_by and not line.to_held_by and found:
            last = found[-1]
            found[-1] = Loan(who=last.who, since=last.since, until=day, back=last.back, why=last.why)
    return tuple(reversed(found[-MOST_BORROWERS:]))


def _verdict(
    lines: Sequence[OutLine], late: Sequence[OutLine], *, mine: bool, overdue: bool, who: str
) -> str:
    many = len(lines)
    by = f" with {who}" if who else ""
    if overdue:
        return f"{many} overdue{by}." if many else f"Nothing is overdue{by}."
    if not many:
        return "Nothing of yours is out, and you have nothing of others'." if mine else f"Nothing is out{by}."
    if mine:
        out_of_mine = sum(line.whose == "mine" for line in lines)
        return f"{out_of_mine} of yours out, {many - out_of_mine} of others' with you; {len(late)} overdue."
    return f"{many} out{by}, {len(late)} overdue."


def _detail(lines: Sequence[OutLine]) -> str:
    gone = list(
        dict.fromkeys(
            f"{line.item.held_by} left on {line.holder_gone_on}" for line in lines if line.holder_gone_on
        )
    )
    open_ended = sum(line.due is None for line in lines)
    parts = [*gone, f"{open_ended} without a promised day" if open_ended else ""]
    told = "; ".join(part for part in parts if part)
    return f"Mind: {told}." if told else "From the ledger; longest out first."


def _next(lines: Sequence[OutLine]) -> str:
    return (
        f"crib return {lines[0].item.tag} marks the first one back." if lines else "crib lend TAG --to NAME"
    )


def _promise(line: OutLine) -> str:
    parts = [f"promised back by {line.due}" if line.due else "no day was promised"]
    if line.overdue_days:
        parts.append(f"overdue by {dates.show_lag(line.overdue_days)}")
    if line.holder_gone_on:
        parts.append(f"{line.item.held_by} left on {line.holder_gone_on}")
    if line.why:
        parts.append(line.why)
    text = "; ".join(parts)
    return text[0].upper() + text[1:] + "."
