"""Taking origins, worths, claims with their lines and steps, and photos and papers in from lists."""

import os
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Protocol

from sqlalchemy import func, select

from crib.desk.intake.lists import ListRow
from crib.desk.owed.claimed import LEDGER_WORDS
from crib.desk.owed.deadlines import read_rules
from crib.desk.owed.evidence import Subject, keep
from crib.desk.owed.pictures import LARGEST_FILE
from crib.errors import InputError, UnknownName
from crib.store import models
from crib.store.writing import WriteSession
from crib.units.money import read_currency


class Taker(Protocol):
    """What the taker of all lists lends to these."""

    session: WriteSession
    at: datetime

    def known_item(self, row: ListRow, column: str) -> models.Item:
        """Give the item of a column."""

    def known_party(self, row: ListRow, column: str) -> models.Party:
        """Give the party of a column."""


def origin(taker: Taker, row: ListRow) -> str:
    """Take how an item was come by."""
    item, paid = taker.known_item(row, "item"), row.get("paid")
    taker.session.add(
        models.Origin(
            item_id=item.id,
            at=row.get("when", taker.at),
            how=row["how"],
            by_id=_who(taker, row),
            on_date=row.get("on"),
            from_whom=row.get("from"),
            maker=row.get("maker"),
            receipt=row.get("receipt"),
            paid=paid.amount if paid else None,
            currency=paid.currency if paid else None,
            note=row.get("note"),
        )
    )
    return f"{item.tag}: {row['how']}"


def worth(taker: Taker, row: ListRow) -> str:
    """Take what an item is worth by one basis."""
    item, amount = taker.known_item(row, "item"), row["amount"]
    at = row.get("when", taker.at)
    taker.session.add(
        models.Worth(
            item_id=item.id,
            at=at,
            on_date=row.get("on", at.date()),
            basis=row["basis"],
            amount=amount.amount,
            currency=amount.currency,
            by_id=_who(taker, row),
            life_years=row.get("life"),
            source=row.get("source"),
        )
    )
    return f"{item.tag}: {amount}, {row['basis']}"


def paper(taker: Taker, row: ListRow) -> str:
    """Take a photo or paper that lies beside its list."""
    name = row["file"]
    if name != os.path.basename(name) or name in (".", ".."):
        raise InputError(f"{name!r} is no plain file name", "the file lies beside the list")
    try:
        with open(os.path.join(row.folder, name), "rb") as handle:
            content = handle.read(LARGEST_FILE + 1)
    except OSError as error:
        raise InputError(f"{name}: {error.strerror or error}", "the file lies beside the list") from error
    keep(
        taker.session,
        _subject(taker, row),
        name,
        content,
        kind=row["kind"],
        says=row.get("says"),
        on=row.get("on"),
        by_id=_who(taker, row),
        at=row.get("when", taker.at),
    )
    return f"{row['kind']} of {row['item']}"


def claim(taker: Taker, row: ListRow) -> str:
    """Take the head of a claim."""
    number = row["claim"]
    if _claim_of(taker, number) is not None:
        raise InputError(f"claim {number} is on record already", "give it another number")
    made = models.Claim(
        number=number,
        claimant_id=taker.known_party(row, "claimant").id,
        payer_id=taker.known_party(row, "payer").id,
        made_on=row["made"],
        currency=read_currency(row["currency"]),
        clause=row.get("clause"),
        note=row.get("note"),
        place_of_work=row.get("place_of_work"),
        rules=read_rules(row["rules"])[0] if row.get("rules") else None,
    )
    taker.session.add(made)
    taker.session.flush()
    return f"claim {number}"


def claim_line(taker: Taker, row: ListRow) -> str:
    """Take one line of a claim."""
    made, item = _needed_claim(taker, row), taker.known_item(row, "item")
    amount, had = row["amount"], row.get("had")
    for money in (amount, had):
        if money and money.currency != made.currency:
            raise InputError(
                f"{money} is not in {made.currency}, the currency of the claim", "one currency a claim"
            )
    told = select(func.max(models.LedgerLine.id)).where(
        models.LedgerLine.item_id == item.id, models.LedgerLine.what.in_(LEDGER_WORDS.get(row["event"], ()))
    )
    made.lines.append(
        models.ClaimLine(
            line_no=row["line"],
            item_id=item.id,
            event=row["event"],
            basis=row["basis"],
            amount=amount.amount,
            quantity=row.get("pieces", 1),
            ledger_id=taker.session.scalar(told),
            on_date=row.get("on"),
            what_happened=row.get("what"),
            job=row.get("job"),
            machine=row.get("machine"),
            seen_by=row.get("seen"),
            asked_by=row.get("asked"),
            worked_out=row.get("worked_out"),
            old_piece=row.get("old"),
            already_had=had.amount if had else None,
        )
    )
    taker.session.flush()
    return f"claim {made.number}, line {row['line']}: {item.tag} {row['event']}"


def claim_step(taker: Taker, row: ListRow) -> str:
    """Take one step of a claim, or of one of its lines; the claim's state follows."""
    made, amount = _needed_claim(taker, row), row.get("amount")
    line = next((one for one in made.lines if one.line_no == row.get("line")), None)
    if row.get("line") and line is None:
        raise InputError(f"claim {made.number} has no line {row['line']}", "list its lines first")
    taker.session.add(
        models.ClaimStep(
            claim_id=made.id,
            at=row.get("when", taker.at),
            to_state=row["state"],
            claim_line_id=line.id if line else None,
            on_date=row.get("on"),
            amount=amount.amount if amount else None,
            by_id=_who(taker, row),
            to_whom=row.get("to"),
            why=row.get("why"),
        )
    )
    taker.session.flush()
    if line is None:
        made.state = row["state"]
    return f"claim {made.number}: {row['state']}"


def _who(taker: Taker, row: ListRow) -> int | None:
    return taker.known_party(row, "who").id if row.get("who") else None


def _claim_of(taker: Taker, number: str) -> models.Claim | None:
    taker.session.flush()
    return taker.session.scalars(select(models.Claim).where(models.Claim.number == number)).one_or_none()


def _needed_claim(taker: Taker, row: ListRow) -> models.Claim:
    found = _claim_of(taker, row["claim"])
    if found is None:
        raise UnknownName("claim", row["claim"], hint="list the claim itself first")
    return found


def _subject(taker: Taker, row: ListRow) -> Subject:
    """Give the tool, or the line of a claim as 2026-1/2, that a paper is of."""
    number, joint, line_no = row["item"].rpartition("/")
    if joint and (made := _claim_of(taker, number)) is not None:
        for line in made.lines:
            if str(line.line_no) == line_no:
                return Subject(row["item"], claim_line_id=line.id)
    return Subject(row["item"], item_id=taker.known_item(row, "item").id)


TAKERS: Mapping[str, Callable[[Taker, ListRow], str]] = {
    "origins": origin,
    "worths": worth,
    "claims": claim,
    "claim lines": claim_line,
    "claim steps": claim_step,
    "papers": paper,
}
