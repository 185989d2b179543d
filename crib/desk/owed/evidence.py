"""Photos, receipts and statements: kept in the store, each content once; withdrawn, never deleted."""

import os
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from hashlib import sha256
from typing import TYPE_CHECKING

from crib.desk import lookup, outside
from crib.desk.dates import now, read_day, today
from crib.desk.owed.pictures import ENDINGS, LARGEST_FILE, checked
from crib.desk.typed import text
from crib.errors import InputError, NotPossible, UnknownName
from crib.store import papers
from crib.store.papers import ProofRow
from crib.store.read import Reader, reading
from crib.store.words import EVIDENCE_KINDS

if TYPE_CHECKING:
    from crib.store.writing import WriteSession

_LINE = re.compile(r"(?P<number>.+)/(?P<line>\d{1,4})")  # line 2 of claim 2026-3: 2026-3/2


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """One file that is evidence of something.

    Attributes:
        number: what it is called by.
        kind: photo, receipt, statement, list or other.
        of: the tool's tag, or the claim and its line.
        on: the day that it shows or says.
        says: what it shows, in words.
        name: of the file as it was handed in.
        media_type: by its content.
        bytes: how large it is.
        sha256: of its content.
        added: when, and by whom.
        by: who handed it in.
        withdrawn: when; null while it counts.
        withdrawn_why: in words.
    """

    number: int
    kind: str
    of: str
    on: date | None
    says: str | None
    name: str
    media_type: str
    bytes: int
    sha256: str
    added: str
    by: str | None
    withdrawn: str | None
    withdrawn_why: str | None


@dataclass(frozen=True, slots=True)
class Subject:
    """What evidence is of: an item, or a line of a claim."""

    name: str
    item_id: int | None = None
    claim_line_id: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedProof:
    """What was taken: the proofs, and what is worth knowing of how they were taken."""

    proofs: tuple[Proof, ...]
    notes: tuple[str, ...]


def add(
    address: str, of: str, files: Sequence[str], *, kind: str = "photo", says: str = "", on: str = ""
) -> AddedProof:
    """Take files in as evidence: all of them or none.

    Args:
        address: the store.
        of: a tool, or a line of a claim as "2026-3/2".
        files: paths.
        kind: photo, receipt, statement, list or other.
        says: what they show or say.
        on: the day; of a photo the camera's, if not told.

    Raises:
        UnknownName: no such tool or line.
        InputError: a file that can't be kept, or a day that can't be read.
    """
    if kind not in EVIDENCE_KINDS:
        raise UnknownName("kind of evidence", kind, EVIDENCE_KINDS)
    said, day = text(says, "description"), read_day(on, on=today(), ahead=False) if on else None
    contents = [(os.path.basename(file), _content_of(file)) for file in files]
    with reading(address) as reader:
        subject, by = subject_of(reader, of), lookup.me(reader)
    from crib.store.writing import writing  # SQLAlchemy: looking needs none of it

    numbers, notes = [], []
    with writing(address) as session:
        for name, content in contents:
            proof_id, told = keep(
                session,
                subject,
                name,
                content,
                kind=kind,
                says=said,
                on=day,
                by_id=by.id if by else None,
                at=now(),
            )
            numbers.append(proof_id)
            notes += told
    with reading(address) as reader:
        rows = {row.id: row for row in papers.proofs(reader)}
        return AddedProof(proofs=tuple(shown(rows[n], subject.name) for n in numbers), notes=tuple(notes))


def keep(
    session: "WriteSession",
    subject: Subject,
    name: str,
    content: bytes,
    *,
    kind: str,
    says: str | None,
    on: date | None,
    by_id: int | None,
    at: datetime,
) -> tuple[int, list[str]]:
    """Write one file and what it is evidence of into a transaction.

    Args:
        session: of a write transaction.
        subject: what it is evidence of.
        name: of the file.
        content: as handed in.
        kind: one of words.EVIDENCE_KINDS.
        says: in words.
        on: its day; of a photo the camera's if None.
        by_id: who hands it in.
        at: when it is handed in.

    Returns:
        The proof's number, and what is worth telling.
    """
    from sqlalchemy import select

    from crib.store import models

    file = checked(name, content)
    digest = sha256(file.content).hexdigest()
    notes = []
    evidence_id = session.scalar(select(models.Evidence.id).where(models.Evidence.sha256 == digest))
    if evidence_id is not None:
        notes.append(f"{name} is on record already: its content is kept once.")
    else:
        evidence = models.Evidence(
            sha256=digest, media_type=file.media_type, name=name, size=len(file.content), at=at,
            content=file.content, by_id=by_id,
        )  # fmt: skip
        session.add(evidence)
        session.flush()
        evidence_id = evidence.id
    if on is None and file.taken_on:
        notes.append(f"{name} is dated {file.taken_on}, by its camera.")
    if file.media_type == "application/pdf":
        notes.append(f"{name} is kept as it is: what a PDF says of its maker stays in it.")
    proof = models.Proof(
        evidence_id=evidence_id, kind=kind, at=at, item_id=subject.item_id,
        claim_line_id=subject.claim_line_id, on_date=on or file.taken_on, by_id=by_id, says=says,
    )  # fmt: skip
    session.add(proof)
    session.flush()
    return proof.id, notes


def proofs(address: str, of: str, *, withdrawn: bool = False) -> tuple[Proof, ...]:
    """Give what is evidence of a tool or of a line of a claim, oldest first.

    Args:
        address: the store.
        of: a tool, or a line of a claim.
        withdrawn: those that were withdrawn too.

    Raises:
        UnknownName: no such tool or line.
    """
    with reading(address) as reader:
        subject = subject_of(reader, of)
        one = [subject.item_id] if subject.item_id else None
        line = [subject.claim_line_id] if subject.claim_line_id else None
        rows = papers.proofs(reader, item_ids=one, line_ids=line)
    return tuple(shown(row, subject.name) for row in rows if withdrawn or row.withdrawn_at is None)


def withdraw(address: str, number: int, *, why: str = "") -> Proof:
    """Withdraw a proof: it counts no more, and stays on record.

    Raises:
        UnknownName: there is none of that number.
        NotPossible: it is withdrawn already.
    """
    from crib.store import models
    from crib.store.writing import writing

    with writing(address) as session:
        proof = session.get(models.Proof, number, with_for_update=True)
        if proof is None:
            raise _unknown(number)
        if proof.withdrawn_at is not None:
            raise NotPossible(f"no. {number} is withdrawn already", "nothing was written")
        proof.withdrawn_at, proof.withdrawn_why = now(), text(why, "reason")
    with reading(address) as reader:
        row = _row(reader, number)
        return shown(row, _name_of(reader, row))


def content(address: str, number: int) -> tuple[Proof, bytes]:
    """Give a proof with the content of its file, which must still be what was taken in.

    Raises:
        UnknownName: there is none of that number.
        NotPossible: the content was changed in the store.
    """
    with reading(address) as reader:
        row = _row(reader, number)
        found = papers.content(reader, row.evidence_id)
        proof = shown(row, _name_of(reader, row))
    if sha256(found).hexdigest() != row.sha256:
        raise NotPossible(f"the content of no. {number} is not what was taken in", "restore it from a backup")
    return proof, found


def photos(address: str, wanted: Iterable[Proof]) -> dict[int, bytes]:
    """Give the pictures among proofs, each by its number.

    Raises:
        NotPossible: the content of one was changed in the store.
    """
    pictures = [proof.number for proof in wanted if proof.media_type.startswith("image/")]
    return {number: content(address, number)[1] for number in pictures}


def open_outside(address: str, number: int) -> str:
    """Open a proof's file with the machine's own viewer; give the path of the copy.

    Raises:
        UnknownName: there is none of that number.
        NotPossible: nothing here opens files.
    """
    proof, found = content(address, number)
    return outside.open_outside(f"evidence-{number}{ENDINGS[proof.media_type]}", found)


def save(address: str, number: int, path: str) -> str:
    """Write a proof's file to where the user wants it; give the whole path.

    Raises:
        UnknownName: there is none of that number.
        InputError: a file of that name is there, or can't be written.
    """
    return outside.save_new(path, content(address, number)[1])


def subject_of(reader: Reader, of: str) -> Subject:
    """Give the tool, or the line of a claim, that is meant.

    Raises:
        UnknownName: no such tool or line.
    """
    if (found := _LINE.fullmatch(of.strip())) and (claims := papers.claims(reader, found["number"])):
        for line in papers.claim_lines(reader, claims[0].id):
            if line.line_no == int(found["line"]):
                return Subject(f"{claims[0].number}/{line.line_no}", claim_line_id=line.id)
        raise UnknownName("line of a claim", of, hint=f"crib claim show {claims[0].number} lists its lines")
    item = lookup.item(reader, of)
    return Subject(item.tag, item_id=item.id)


def shown(row: ProofRow, of: str) -> Proof:
    """Give a proof as answers show it."""
    return Proof(
        number=row.id,
        kind=row.kind,
        of=of,
        on=row.on_date,
        says=row.says,
        name=row.name,
        media_type=row.media_type,
        bytes=row.size,
        sha256=row.sha256,
        added=row.at.isoformat(timespec="minutes"),
        by=row.by,
        withdrawn=row.withdrawn_at.isoformat(timespec="minutes") if row.withdrawn_at else None,
        withdrawn_why=row.withdrawn_why,
    )


def _name_of(reader: Reader, row: ProofRow) -> str:
    if row.item_id is not None:
        item = reader.item(row.item_id)
        return item.tag if item else ""
    line = next(line for line in papers.claim_lines(reader) if line.id == row.claim_line_id)
    claim = next(claim for claim in papers.claims(reader) if claim.id == line.claim_id)
    return f"{claim.number}/{line.line_no}"


def _row(reader: Reader, number: int) -> ProofRow:
    for row in papers.proofs(reader, number=number):
        return row
    raise _unknown(number)


def _unknown(number: int) -> UnknownName:
    return UnknownName("evidence", str(number), hint="crib evidence list TAG gives the numbers")


def _content_of(file: str) -> bytes:
    try:
        with open(file, "rb") as handle:
            return handle.read(LARGEST_FILE + 1)
    except OSError as error:
        raise InputError(
            f"{file}: {error.strerror or error}", "give the path of a photo, PDF or text"
        ) from error
