"""Photos, receipts and statements, kept in the store; one content is kept once."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, LargeBinary
from sqlalchemy.orm import Mapped, mapped_column

from crib.store.models.base import Base, one_of
from crib.store.words import EVIDENCE_KINDS


class Evidence(Base):
    """One file: its content and the hash of it."""

    __tablename__ = "evidence"

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    sha256: Mapped[str] = mapped_column(unique=True)
    media_type: Mapped[str]
    name: Mapped[str]
    size: Mapped[int]
    at: Mapped[datetime]
    content: Mapped[bytes] = mapped_column(LargeBinary, deferred=True)
    by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)


class Proof(Base):
    """What a file is evidence of: an item, or a line of a claim."""

    __tablename__ = "proof"
    __table_args__ = (
        one_of("kind", EVIDENCE_KINDS),
        CheckConstraint("(item_id IS NULL) <> (claim_line_id IS NULL)", name="of_one_thing"),
    )

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    evidence_id: Mapped[int] = mapped_column(ForeignKey("evidence.id"), index=True)
    kind: Mapped[str]
    at: Mapped[datetime]
    item_id: Mapped[int | None] = mapped_column(ForeignKey("item.id"), index=True, default=None)
    claim_line_id: Mapped[int | None] = mapped_column(ForeignKey("claim_line.id"), index=True, default=None)
    on_date: Mapped[date | None] = mapped_column(default=None)
    by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    says: Mapped[str | None] = mapped_column(default=None)
    withdrawn_at: Mapped[datetime | None] = mapped_column(default=None)
    withdrawn_why: Mapped[str | None] = mapped_column(default=None)
