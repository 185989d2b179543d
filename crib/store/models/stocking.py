"""What should be there: minimums, kits, spare parts of holders; and counts that are under way."""

from datetime import datetime
from decimal import Decimal

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from crib.store.models.base import Base, more_than_zero, not_negative, one_of
from crib.store.words import COUNTED_IN


class Minimum(Base):
    """How many of a code (and grade) there should be, and what is known of buying it."""

    __tablename__ = "minimum"
    __table_args__ = (
        one_of("counted_in", COUNTED_IN),
        not_negative("least"),
        not_negative("up_to"),
        more_than_zero("lead_days"),
        UniqueConstraint("norm", "grade", "site_id"),
    )

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    norm: Mapped[str]
    what: Mapped[str]
    least: Mapped[int]
    site_id: Mapped[int] = mapped_column(ForeignKey("place.id"))
    # empty, not null, where it is not told: two nulls are not alike
    grade: Mapped[str] = mapped_column(default="")
    counted_in: Mapped[str] = mapped_column(default="pieces")
    up_to: Mapped[int | None] = mapped_column(default=None)
    lead_days: Mapped[int | None] = mapped_column(default=None)
    payer_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    price: Mapped[Decimal | None] = mapped_column(default=None)
    currency: Mapped[str | None] = mapped_column(default=None)
    note: Mapped[str | None] = mapped_column(default=None)


class Kit(Base):
    """What a job needs, as a list."""

    __tablename__ = "kit"

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    name: Mapped[str] = mapped_column(unique=True)
    note: Mapped[str | None] = mapped_column(default=None)
    lines: Mapped[list["KitLine"]] = relationship(
        default_factory=list, order_by="KitLine.line_no", cascade="all, delete-orphan", back_populates="kit"
    )


class KitLine(Base):
    """One need, in shop talk, and the tool chosen for it, if one was."""

    __tablename__ = "kit_line"
    __table_args__ = (UniqueConstraint("kit_id", "line_no"), more_than_zero("quantity"))

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    kit_id: Mapped[int] = mapped_column(ForeignKey("kit.id"), init=False)
    line_no: Mapped[int]
    need: Mapped[str]
    quantity: Mapped[int] = mapped_column(default=1)
    item_id: Mapped[int | None] = mapped_column(ForeignKey("item.id"), default=None)
    kit: Mapped[Kit] = relationship(init=False, back_populates="lines")


class SparePart(Base):
    """A small part that an item needs (shim, screw, key, rod), and whether it is there."""

    __tablename__ = "spare_part"
    __table_args__ = (UniqueConstraint("item_id", "what"),)

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"))
    what: Mapped[str]
    code: Mapped[str | None] = mapped_column(default=None)
    present: Mapped[bool] = mapped_column(default=True)
    note: Mapped[str | None] = mapped_column(default=None)


class Stocktake(Base):
    """A count of one place; what was counted is kept as it is typed, the differences come at its end."""

    __tablename__ = "stocktake"

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    place_id: Mapped[int] = mapped_column(ForeignKey("place.id"), index=True)
    begun_at: Mapped[datetime]
    by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    closed_at: Mapped[datetime | None] = mapped_column(default=None)
    counts: Mapped[list["StocktakeCount"]] = relationship(
        default_factory=list, order_by="StocktakeCount.id", back_populates="stocktake"
    )


class StocktakeCount(Base):
    """One item as counted; counted again, the newest counts."""

    __tablename__ = "stocktake_count"
    __table_args__ = (
        Index(None, "stocktake_id", "item_id"),
        not_negative("quantity"),
        not_negative("edges_left"),
    )

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    stocktake_id: Mapped[int] = mapped_column(ForeignKey("stocktake.id"), init=False)
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"))
    at: Mapped[datetime]
    quantity: Mapped[int]
    edges_left: Mapped[int | None] = mapped_column(default=None)
    stocktake: Mapped[Stocktake] = relationship(init=False, back_populates="counts")
