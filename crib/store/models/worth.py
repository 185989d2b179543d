"""Where an item came from and what it is worth, with proof: appended, the newest counts."""

from datetime import date, datetime
from decimal import Decimal

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from crib.store.models.base import Base, more_than_zero, one_of
from crib.store.words import ORIGINS, WORTH_BASES


class Origin(Base):
    """How an item was come by."""

    __tablename__ = "origin"
    __table_args__ = (one_of("how", ORIGINS),)

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), index=True)
    at: Mapped[datetime]
    how: Mapped[str]
    by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    on_date: Mapped[date | None] = mapped_column(default=None)
    from_whom: Mapped[str | None] = mapped_column(default=None)
    maker: Mapped[str | None] = mapped_column(default=None)
    receipt: Mapped[str | None] = mapped_column(default=None)
    paid: Mapped[Decimal | None] = mapped_column(default=None)
    currency: Mapped[str | None] = mapped_column(default=None)
    note: Mapped[str | None] = mapped_column(default=None)


class Worth(Base):
    """What one piece of an item is worth, by one basis."""

    __tablename__ = "worth"
    __table_args__ = (one_of("basis", WORTH_BASES), more_than_zero("life_years"))

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), index=True)
    at: Mapped[datetime]
    on_date: Mapped[date]
    basis: Mapped[str]
    amount: Mapped[Decimal]
    currency: Mapped[str]
    by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    life_years: Mapped[float | None] = mapped_column(default=None)
    source: Mapped[str | None] = mapped_column(default=None)
