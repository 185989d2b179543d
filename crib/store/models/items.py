"""The item: one tool, or a batch of like ones with one owner, one place, one condition."""

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column, relationship

from crib.store.models.base import Base, not_negative, one_of
from crib.store.models.details import (
    BarDetail,
    BitDetail,
    GaugeDetail,
    HolderDetail,
    InsertDetail,
    RotaryDetail,
)
from crib.store.words import CONDITIONS, HANDS, ITEM_KINDS

_EMPTIED = text("quantity = 0")
# what the ledger governs: changed by crib.store.ledger and by nothing else
GOVERNED = (
    "owner_id",
    "place_id",
    "site_id",
    "held_by_id",
    "due_back",
    "condition",
    "quantity",
    "edges_left",
)
# of a drill, reamer, mill or tap: its sizes, which a regrind changes
GOVERNED_SIZES = ("dc_mm", "lf_mm")


class Item(Base):
    """One tool or batch. Attributes in GOVERNED are set by the ledger, never by hand."""

    __tablename__ = "item"
    __table_args__ = (
        one_of("kind", ITEM_KINDS),
        one_of("condition", CONDITIONS),
        one_of("hand", HANDS),
        not_negative("quantity"),
        not_negative("edges_left"),
        CheckConstraint("due_back IS NULL OR held_by_id IS NOT NULL", name="due_back_is_lent"),
        # these hold all that a search narrows by, so that it reads only the items of its answer
        Index("ix_item_seat", "sc", "ic_mm", "an_deg", "kind", "hand", "site_id", "held_by_id"),
        Index("ix_item_facets", "kind", "norm", "id", "hand", "condition", "site_id", "held_by_id"),
        Index(None, "norm", "id"),
        # the few without a piece left, which a search for stock leaves out
        Index("ix_item_emptied", "id", sqlite_where=_EMPTIED, postgresql_where=_EMPTIED),
    )

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    tag: Mapped[str] = mapped_column(unique=True)
    kind: Mapped[str]
    label: Mapped[str]
    designation: Mapped[str | None] = mapped_column(default=None)
    equivalent: Mapped[str | None] = mapped_column(default=None)
    mark: Mapped[str | None] = mapped_column(default=None, index=True)
    serial: Mapped[str | None] = mapped_column(default=None)
    note: Mapped[str | None] = mapped_column(default=None)
    hand: Mapped[str | None] = mapped_column(default=None)
    sc: Mapped[str | None] = mapped_column(default=None)
    an_deg: Mapped[float | None] = mapped_column(default=None)
    ic_mm: Mapped[float | None] = mapped_column(default=None)
    l_mm: Mapped[float | None] = mapped_column(default=None)

    owner_id: Mapped[int] = mapped_column(ForeignKey("party.id"), index=True, init=False)
    place_id: Mapped[int] = mapped_column(ForeignKey("place.id"), index=True, init=False)
    site_id: Mapped[int] = mapped_column(ForeignKey("place.id"), index=True, init=False)
    held_by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), index=True, init=False)
    due_back: Mapped[date | None] = mapped_column(init=False)
    condition: Mapped[str] = mapped_column(index=True, init=False)
    quantity: Mapped[int] = mapped_column(init=False)
    edges_left: Mapped[int | None] = mapped_column(init=False)

    # for search; written by the session before each flush
    norm: Mapped[str] = mapped_column(init=False)
    tok: Mapped[str] = mapped_column(init=False)
    code: Mapped[str | None] = mapped_column(init=False, index=True)
    tag_code: Mapped[str] = mapped_column(init=False, index=True)

    insert: Mapped[InsertDetail | None] = relationship(default=None, back_populates="item")
    holder: Mapped[HolderDetail | None] = relationship(default=None, back_populates="item")
    bar: Mapped[BarDetail | None] = relationship(default=None, back_populates="item")
    bit: Mapped[BitDetail | None] = relationship(default=None, back_populates="item")
    rotary: Mapped[RotaryDetail | None] = relationship(default=None, back_populates="item")
    gauge: Mapped[GaugeDetail | None] = relationship(default=None, back_populates="item")
