"""A claim on paper, and as a list for a spreadsheet."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path

from crib.desk.dates import now, today
from crib.desk.outside import save_new
from crib.desk.owed import evidence
from crib.desk.owed.claims import Claim, Line, claim
from crib.desk.owed.deadlines import Deadline
from crib.desk.owed.evidence import Proof
from crib.errors import InputError
from crib.report.paper import Column, Paper
from crib.report.sheets import Cell, csv_bytes, xlsx_bytes
from crib.units.counts import many

PHOTO_WIDE_mm, PHOTO_HIGH_mm = 56.0, 44.0
SUMS_mm = 60.0  # the sums stand on one page
VALUE_WORDS = {"paid": "paid", "replacement": "new", "agreed": "agreed", "by age": "by age"}
HEADINGS = (
    "line", "tag", "code", "tool", "mark", "serial", "pieces", "event", "day", "what happened", "job",
    "machine", "seen by", "asked for by", "old piece", "come by", "come by on", "from", "basis", "worked out",
    "asked", "agreed", "paid", "had before", "currency", "state", "evidence", "gaps",
)  # fmt: skip


def save_claim(address: str, number: str, path: str, *, size: str = "A4") -> str:
    """Write a claim to a file that is not there yet; its ending says how: .pdf, .csv or .xlsx.

    Args:
        address: the store.
        number: of the claim.
        path: of the file.
        size: of the paper.

    Returns:
        The whole path.

    Raises:
        UnknownName: no such claim.
        InputError: an ending of another kind, no such paper, or the file can't be written.
    """
    found = claim(address, number)
    match Path(path).suffix.lower():
        case ".pdf":
            photos = evidence.photos(address, (proof for line in found.lines for proof in line.proofs))
            content = claim_pdf(found, photos, on=today(), size=size, made=now())
        case ".csv":
            content = csv_bytes(HEADINGS, claim_rows(found))
        case ".xlsx":
            content = xlsx_bytes(f"claim {found.number}", HEADINGS, claim_rows(found))
        case _:
            raise InputError(f"{path}: as what?", "an ending of .pdf, .csv or .xlsx says it")
    return save_new(path, content)


def claim_pdf(
    found: Claim, photos: Mapping[int, bytes], *, on: date, size: str = "A4", made: datetime | None = None
) -> bytes:
    """Print a found.

    Args:
        found: the claim in full.
        photos: number of the evidence -> its picture.
        on: the day it is printed.
        size: of the paper.
        made: the moment that the file says it was made.

    Raises:
        InputError: there is no such paper.
    """
    paper = Paper(f"Claim {found.number}, {found.claimant}", size=size, made=made)
    paper.heading(f"Claim {found.number}")
    paper.fields(_head(found, on))
    _lines(paper, found)
    for line in found.lines:
        if line.state != "withdrawn":
            _line(paper, line)
    _foot(paper, found)
    _deadlines(paper, found)
    _gaps(paper, found)
    _attachments(paper, found, photos)
    _steps(paper, found)
    paper.gap()
    paper.text(found.defer)
    paper.signatures([found.claimant, "supervisor", f"for {found.payer}"])
    return paper.finished()


def claim_rows(claim: Claim) -> Sequence[Sequence[Cell]]:
    """Give the lines of a claim as rows below HEADINGS; amounts as numbers."""
    return [
        (
            line.line_no, line.item.tag, line.item.designation, line.item.label, line.item.mark,
            line.item.serial, line.quantity, line.event, line.on, line.what_happened, line.job, line.machine,
            line.seen_by, line.asked_by, line.old_piece, line.origin.how if line.origin else None,
            line.origin.on if line.origin else None, line.origin.from_whom if line.origin else None,
            line.basis, line.worked_out, _number(line.asked), _number(line.agreed), _number(line.paid),
            _number(line.had), claim.currency, line.state,
            "; ".join(_called(proof) for proof in line.proofs), "; ".join(line.gaps),
        )
        for line in claim.lines
    ]  # fmt: skip


def _number(amount: str | None) -> Decimal | None:
    return None if amount is None else Decimal(amount.split()[0])


def _head(claim: Claim, on: date) -> Sequence[tuple[str, str]]:
    days = [line.on for line in claim.lines if line.on]
    period = f"{min(days)} to {max(days)}" if days else "no day on record"
    return (
        ("Claimant", claim.claimant),
        ("To", claim.payer),
        ("Place of work", claim.place_of_work or "NOT NAMED"),
        ("Relies on", claim.clause or "NO POLICY OR AGREEMENT NAMED"),
        ("Made, printed", f"{claim.made_on}, {on}"),
        ("Events from, to", period),
        ("Currency", claim.currency),
        ("State", claim.state),
        *((("Note", claim.note),) if claim.note else ()),
    )


def _lines(paper: Paper, claim: Claim) -> None:
    paper.heading("What is asked")
    columns = (
        Column(head="", share=0.5),
        Column(head="Tool", share=3),
        Column(head="What happened", share=3),
        Column(head="Basis", share=1.5),
        Column(head="Asked", share=1.4, right=True),
        Column(head="State", share=1.4),
    )
    paper.table(columns, (_row(line) for line in claim.lines))


def _row(line: Line) -> Sequence[str]:
    item = line.item
    many = f"{line.quantity} × " if line.quantity != 1 else ""
    names = (
        item.designation,
        item.label,
        item.mark and f"marked {item.mark}",
        item.serial and f"no. {item.serial}",
    )
    tool = f"{many}{item.tag}: " + ", ".join(name for name in names if name)
    event = f"{line.event}, {line.on or 'NO DAY'}" + (f": {line.what_happened}" if line.what_happened else "")
    answer = f": {line.agreed}" if line.agreed and line.state in ("part agreed", "refused") else ""
    return (str(line.line_no), tool, event, line.basis, line.asked, line.state + answer)


def _line(paper: Paper, line: Line) -> None:
    paper.heading(f"Line {line.line_no}: {line.item.tag}")
    came = line.origin
    origin = "NOT ON RECORD"
    if came:
        facts = (
            came.how,
            came.on and f"on {came.on}",
            came.from_whom and f"from {came.from_whom}",
            came.maker,
        )
        origin = ", ".join(str(fact) for fact in facts if fact) + f" (said by {came.said_by})"
    told = (
        ("Come by", origin),
        ("Seen by", line.seen_by),
        ("Asked for by", line.asked_by),
        ("Job, machine", ", ".join(one for one in (line.job, line.machine) if one)),
        ("Old piece", line.old_piece),
        ("How the sum came", line.worked_out),
        ("Had before", line.had),
        ("Replaced by", ", ".join(line.replaced_by)),
        ("Evidence", "; ".join(_called(proof) for proof in line.proofs) or "NONE"),
    )
    paper.fields([(name, value) for name, value in told if value])
    columns = (
        Column(head="One piece", share=1.2),
        Column(head="Value", share=1.4, right=True),
        Column(head="Of", share=1.2),
        Column(head="Source; how it was worked out", share=5),
    )
    rows = [
        (
            VALUE_WORDS.get(value.basis, value.basis),
            value.amount or "not known",
            str(value.on or ""),
            "; ".join(part for part in (value.source, value.how) if part),
        )
        for value in line.values
    ]
    paper.table(columns, rows)


def _called(proof: Proof) -> str:
    day = f" of {proof.on}" if proof.on else ""
    return f"no. {proof.number} {proof.kind}{day}" + (f": {proof.says}" if proof.says else "")


def _foot(paper: Paper, claim: Claim) -> None:
    sums = claim.sums
    paper.need(SUMS_mm)
    paper.heading("Sums")
    paper.fields(
        [
            *((f"Asked, {basis}", amount) for basis, amount in sums.by_basis.items()),
            ("Asked in all", sums.asked),
            ("Had before", sums.had),
            ("Agreed", sums.agreed),
            *([("Not agreed", sums.not_agreed)] if claim.rest else []),
            ("Paid or replaced", sums.paid),
            ("Open", sums.open),
        ]
    )
    paper.text(f"In {claim.currency}; {sums.rounding}.", size_pt=8)
    for text in claim.allowances:
        paper.text(text)


def _deadlines(paper: Paper, claim: Claim) -> None:
    if not claim.deadlines:
        return
    paper.heading(f"Deadlines by the rules “{claim.rules}”")
    columns = (
        Column(head="Due", share=1.4),
        Column(head="What", share=4),
        Column(head="Lines", share=0.8),
        Column(head="Counted", share=5),
    )
    rows = [
        (str(one.due or "NO DAY"), one.what, ", ".join(map(str, one.lines)), _counted(one))
        for one in claim.deadlines
    ]
    paper.table(columns, rows)
    for source in dict.fromkeys(f"{one.source} ({one.as_of})" for one in claim.deadlines):
        paper.text(source, size_pt=8)


def _counted(one: Deadline) -> str:
    way = f"{many(abs(one.days), 'day')} {'after' if one.days > 0 else 'before'}"
    if one.start is None:
        return f"{way} {one.counted_from}, WHICH IS NOT ON RECORD"
    return f"{way} {one.start}, {one.counted_from}"


def _gaps(paper: Paper, claim: Claim) -> None:
    if not claim.all_gaps:
        return
    paper.heading(f"GAPS: {len(claim.all_gaps)}")
    for gap in claim.all_gaps:
        paper.text(gap, bold=True)


def _attachments(paper: Paper, claim: Claim, photos: Mapping[int, bytes]) -> None:
    proofs = {
        proof.number: (line.line_no, proof)
        for line in claim.lines
        if line.state != "withdrawn"
        for proof in line.proofs
    }
    if not proofs:
        return
    paper.heading(f"Attachments: {len(proofs)}")
    for line_no, proof in proofs.values():
        paper.text(f"Line {line_no}, {_called(proof)} ({proof.name}, sha256 {proof.sha256[:16]}…)")
    paper.gap()
    shown = [
        (photos[number], f"No. {number}, line {line_no}" + (f", {proof.on}" if proof.on else ""))
        for number, (line_no, proof) in proofs.items()
        if number in photos
    ]
    paper.pictures(shown, wide_mm=PHOTO_WIDE_mm, high_mm=PHOTO_HIGH_mm)


def _steps(paper: Paper, claim: Claim) -> None:
    paper.heading("Steps")
    columns = (Column(head="Day", share=1.4), Column(head="Line", share=0.6), Column(head="State", share=1.4))
    more = (Column(head="Amount", share=1.4, right=True), Column(head="To, why, written by", share=5))
    rows = [
        (
            str(step.on),
            str(step.line_no or ""),
            step.state,
            step.amount or "",
            "; ".join(part for part in (step.to_whom and f"to {step.to_whom}", step.why, step.by) if part),
        )
        for step in claim.steps
    ]
    paper.table((*columns, *more), rows)
