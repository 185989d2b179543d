"""Claims: what a person asks back for own tools. What happened to a claim is appended as steps."""

from datetime import date, datetime
from decimal import Decimal

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from crib.store.models.base import Base, more_than_zero, one_of
from crib.store.words import CLAIM_BASES, CLAIM_EVENTS, CLAIM_STATES


class Claim(Base):
    """One claim; its state is that of its last step, kept here beside the steps."""

    __tablename__ = "claim"
    __table_args__ = (one_of("state", CLAIM_STATES),)

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    number: Mapped[str] = mapped_column(unique=True)
    claimant_id: Mapped[int] = mapped_column(ForeignKey("party.id"), index=True)
    payer_id: Mapped[int] = mapped_column(ForeignKey("party.id"))
    made_on: Mapped[date]
    currency: Mapped[str]
    state: Mapped[str] = mapped_column(default="draft", index=True)
    rules: Mapped[str | None] = mapped_column(default=None)
    clause: Mapped[str | None] = mapped_column(default=None)
    place_of_work: Mapped[str | None] = mapped_column(default=None)
    note: Mapped[str | None] = mapped_column(default=None)
    lines: Mapped[list["ClaimLine"]] = relationship(
        default_factory=list, order_by="ClaimLine.line_no", back_populates="claim"
    )


class ClaimLine(Base):
    """One tool of a claim: what happened, and what is asked for it."""

    __tablename__ = "claim_line"
    __table_args__ = (
        UniqueConstraint("claim_id", "line_no"),
        one_of("event", CLAIM_EVENTS),
        one_of("basis", CLAIM_BASES),
        more_than_zero("quantity"),
    )

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    claim_id: Mapped[int] = mapped_column(ForeignKey("claim.id"), init=False)
    line_no: Mapped[int]
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), index=True)
    event: Mapped[str]
    basis: Mapped[str]
    amount: Mapped[Decimal]
    quantity: Mapped[int] = mapped_column(default=1)
    ledger_id: Mapped[int | None] = mapped_column(ForeignKey("ledger.id"), default=None)
    on_date: Mapped[date | None] = mapped_column(default=None)
    what_happened: Mapped[str | None] = mapped_column(default=None)
    job: Mapped[str | None] = mapped_column(default=None)
    machine: Mapped[str | None] = mapped_column(default=None)
    seen_by: Mapped[str | None] = mapped_column(default=None)
    asked_by: Mapped[str | None] = mapped_column(default=None)
    worked_out: Mapped[str | None] = mapped_column(default=None)
    old_piece: Mapped[str | None] = mapped_column(default=None)
    already_had: Mapped[Decimal | None] = mapped_column(default=None)
    claim: Mapped[Claim] = relationship(init=False, back_populates="lines")


class ClaimStep(Base):
    """One thing that happened to a claim, or to one of its lines; never changed or dropped.

    The amount of a line's step is what is asked from then on (draft, sent), what the payer agrees to (agreed,
    part agreed, refused) or what was paid just then (part settled, settled).
    """

    __tablename__ = "claim_step"
    __table_args__ = (one_of("to_state", CLAIM_STATES),)

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    claim_id: Mapped[int] = mapped_column(ForeignKey("claim.id"), index=True)
    at: Mapped[datetime]
    to_state: Mapped[str]
    claim_line_id: Mapped[int | None] = mapped_column(ForeignKey("claim_line.id"), index=True, default=None)
    on_date: Mapped[date | None] = mapped_column(default=None)
    amount: Mapped[Decimal | None] = mapped_column(default=None)
    by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    to_whom: Mapped[str | None] = mapped_column(default=None)
    why: Mapped[str | None] = mapped_column(default=None)
    replacement_item_id: Mapped[int | None] = mapped_column(ForeignKey("item.id"), default=None)
