"""The ledger: one line for each thing that happened to an item; the database never changes or drops one."""

from datetime import date, datetime

from sqlalchemy import ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column, relationship

from crib.store.models.base import Base, one_of
from crib.store.models.items import Item
from crib.store.words import CONDITIONS, HAPPENINGS


def _where_said(column: str) -> Index:
    """Index a column that is empty in most lines: those with nothing in it are then written without it."""
    said = text(f"{column} IS NOT NULL")
    return Index(None, column, sqlite_where=said, postgresql_where=said)


class LedgerLine(Base):
    """What happened, when, to which item, by whom, from what to what, and why."""

    __tablename__ = "ledger"
    __table_args__ = (
        one_of("what", HAPPENINGS),
        one_of("from_condition", CONDITIONS),
        one_of("to_condition", CONDITIONS),
        _where_said("act"),
        _where_said("corrects_id"),
    )

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    at: Mapped[datetime]
    what: Mapped[str]
    item: Mapped[Item] = relationship(foreign_keys="LedgerLine.item_id")
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), index=True, init=False)
    actor_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    quantity_change: Mapped[int] = mapped_column(default=0)
    edges_change: Mapped[int | None] = mapped_column(default=None)
    edges_unknown: Mapped[bool | None] = mapped_column(default=None)  # uncounted again
    from_owner_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    to_owner_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    from_place_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"), default=None)
    to_place_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"), default=None)
    from_held_by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    to_held_by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    from_condition: Mapped[str | None] = mapped_column(default=None)
    to_condition: Mapped[str | None] = mapped_column(default=None)
    from_dc_mm: Mapped[float | None] = mapped_column(default=None)
    to_dc_mm: Mapped[float | None] = mapped_column(default=None)
    from_lf_mm: Mapped[float | None] = mapped_column(default=None)
    to_lf_mm: Mapped[float | None] = mapped_column(default=None)
    due_back: Mapped[date | None] = mapped_column(default=None)
    why: Mapped[str | None] = mapped_column(default=None)
    cut_ref: Mapped[str | None] = mapped_column(default=None)
    other_item_id: Mapped[int | None] = mapped_column(ForeignKey("item.id"), default=None)
    corrects_id: Mapped[int | None] = mapped_column(ForeignKey("ledger.id"), default=None)
    act: Mapped[str | None] = mapped_column(default=None)
    told: Mapped[str | None] = mapped_column(default=None)
    key: Mapped[str | None] = mapped_column(unique=True, default=None)
