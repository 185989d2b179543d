"""What each kind of item has of its own: geometry under ISO 13399 symbols, range and rods of gauges.

Column names are lower case: PostgreSQL folds them, and one SQL text serves both engines.
"""

from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column, relationship

from crib.store.models.base import Base, not_negative, one_of
from crib.store.words import MEASURES

if TYPE_CHECKING:
    from crib.store.models.items import Item


class InsertDetail(Base):
    """An indexable insert."""

    __tablename__ = "insert_detail"

    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), primary_key=True, init=False)
    type_letter: Mapped[str | None] = mapped_column(default=None)
    tolerance: Mapped[str | None] = mapped_column(default=None)
    s_mm: Mapped[float | None] = mapped_column(default=None)
    re_mm: Mapped[float | None] = mapped_column(default=None)
    epsr_deg: Mapped[float | None] = mapped_column(default=None)
    edge_condition: Mapped[str | None] = mapped_column(default=None)
    cedc: Mapped[int | None] = mapped_column(default=None)
    grade: Mapped[str | None] = mapped_column(default=None)
    chipbreaker: Mapped[str | None] = mapped_column(default=None)
    tool_material: Mapped[str | None] = mapped_column(default=None)
    application: Mapped[str | None] = mapped_column(default=None)
    coating: Mapped[str | None] = mapped_column(default=None)
    item: Mapped["Item"] = relationship(init=False, back_populates="insert")


class HolderDetail(Base):
    """A holder with a square shank."""

    __tablename__ = "holder_detail"

    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), primary_key=True, init=False)
    clamping: Mapped[str | None] = mapped_column(default=None)
    style: Mapped[str | None] = mapped_column(default=None)
    kapr_deg: Mapped[float | None] = mapped_column(default=None)
    h_mm: Mapped[float | None] = mapped_column(default=None)
    b_mm: Mapped[float | None] = mapped_column(default=None)
    lf_mm: Mapped[float | None] = mapped_column(default=None)
    dmin_mm: Mapped[float | None] = mapped_column(default=None)
    item: Mapped["Item"] = relationship(init=False, back_populates="holder")


class BarDetail(Base):
    """A boring bar."""

    __tablename__ = "bar_detail"

    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), primary_key=True, init=False)
    shank_type: Mapped[str | None] = mapped_column(default=None)
    dcon_mm: Mapped[float | None] = mapped_column(default=None)
    lf_mm: Mapped[float | None] = mapped_column(default=None)
    dmin_mm: Mapped[float | None] = mapped_column(default=None)
    reach_mm: Mapped[float | None] = mapped_column(default=None)
    style: Mapped[str | None] = mapped_column(default=None)
    kapr_deg: Mapped[float | None] = mapped_column(default=None)
    clamping: Mapped[str | None] = mapped_column(default=None)
    shank_material: Mapped[str | None] = mapped_column(default=None)
    item: Mapped["Item"] = relationship(init=False, back_populates="bar")


class BitDetail(Base):
    """A ground bit (high-speed steel) or a brazed one, with its grind."""

    __tablename__ = "bit_detail"

    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), primary_key=True, init=False)
    tool_material: Mapped[str | None] = mapped_column(default=None)
    shank_mm: Mapped[float | None] = mapped_column(default=None)
    kapr_deg: Mapped[float | None] = mapped_column(default=None)
    re_mm: Mapped[float | None] = mapped_column(default=None)
    rake_deg: Mapped[float | None] = mapped_column(default=None)
    clearance_deg: Mapped[float | None] = mapped_column(default=None)
    inclination_deg: Mapped[float | None] = mapped_column(default=None)
    item: Mapped["Item"] = relationship(init=False, back_populates="bit")


class RotaryDetail(Base):
    """A drill, reamer, end mill or tap."""

    __tablename__ = "rotary_detail"

    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), primary_key=True, init=False)
    what: Mapped[str | None] = mapped_column(default=None)
    dc_mm: Mapped[float | None] = mapped_column(default=None)
    lf_mm: Mapped[float | None] = mapped_column(default=None)
    tool_material: Mapped[str | None] = mapped_column(default=None)
    item: Mapped["Item"] = relationship(init=False, back_populates="rotary")


class GaugeDetail(Base):
    """A measuring tool: what it measures, over which range, how finely."""

    __tablename__ = "gauge_detail"
    __table_args__ = (one_of("measures", MEASURES),)

    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), primary_key=True, init=False)
    measures: Mapped[str]
    low_mm: Mapped[float | None] = mapped_column(default=None)
    high_mm: Mapped[float | None] = mapped_column(default=None)
    resolution_mm: Mapped[float | None] = mapped_column(default=None)
    uncertainty_mm: Mapped[float | None] = mapped_column(default=None)
    rods: Mapped[list["GaugeRod"]] = relationship(
        default_factory=list, order_by="GaugeRod.length_mm, GaugeRod.id", back_populates="gauge"
    )
    checks: Mapped[list["GaugeCheck"]] = relationship(
        default_factory=list, order_by="GaugeCheck.on_date, GaugeCheck.id", back_populates="gauge"
    )
    item: Mapped["Item"] = relationship(init=False, back_populates="gauge")


class GaugeRod(Base):
    """One rod of a set; its owner may be another than the set's, and it may be missing."""

    __tablename__ = "gauge_rod"
    __table_args__ = (not_negative("length_mm"),)

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    gauge_item_id: Mapped[int] = mapped_column(ForeignKey("gauge_detail.item_id"), index=True, init=False)
    length_mm: Mapped[float]
    owner_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    present: Mapped[bool] = mapped_column(default=True)
    gauge: Mapped[GaugeDetail] = relationship(init=False, back_populates="rods")


class GaugeCheck(Base):
    """A calibration or a comparison in the shop, with its result."""

    __tablename__ = "gauge_check"

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    gauge_item_id: Mapped[int] = mapped_column(ForeignKey("gauge_detail.item_id"), index=True, init=False)
    on_date: Mapped[date]
    result: Mapped[str]
    due: Mapped[date | None] = mapped_column(default=None)
    by: Mapped[str | None] = mapped_column(default=None)
    gauge: Mapped[GaugeDetail] = relationship(init=False, back_populates="checks")
