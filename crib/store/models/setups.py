"""Set-ups that were measured: how they give, at each of their points; measured again, the newest counts."""

from datetime import datetime

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column, relationship

from crib.store.models.base import Base, more_than_zero


class Setup(Base):
    """A named set-up: this part, held this way, on this machine."""

    __tablename__ = "setup"

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    name: Mapped[str] = mapped_column(unique=True)
    machine_id: Mapped[int | None] = mapped_column(ForeignKey("machine.place_id"), default=None)
    note: Mapped[str | None] = mapped_column(default=None)
    points: Mapped[list["SetupPoint"]] = relationship(
        default_factory=list, order_by="SetupPoint.id", back_populates="setup"
    )


class SetupPoint(Base):
    """One measurement at one point of a set-up; null where it was not measured."""

    __tablename__ = "setup_point"
    __table_args__ = (
        more_than_zero("k_n_mm"),
        more_than_zero("k_low_n_mm"),
        more_than_zero("k_high_n_mm"),
        more_than_zero("frequency_hz"),
        more_than_zero("damping_ratio"),
        Index(None, "setup_id", "point"),
    )

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    setup_id: Mapped[int] = mapped_column(ForeignKey("setup.id"), init=False)
    at: Mapped[datetime]
    point: Mapped[str] = mapped_column(default="")
    gives: Mapped[str | None] = mapped_column(default=None)
    k_n_mm: Mapped[float | None] = mapped_column(default=None)
    k_low_n_mm: Mapped[float | None] = mapped_column(default=None)
    k_high_n_mm: Mapped[float | None] = mapped_column(default=None)
    frequency_hz: Mapped[float | None] = mapped_column(default=None)
    damping_ratio: Mapped[float | None] = mapped_column(default=None)
    damping_low: Mapped[float | None] = mapped_column(default=None)
    damping_high: Mapped[float | None] = mapped_column(default=None)
    by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    how: Mapped[str | None] = mapped_column(default=None)
    setup: Mapped[Setup] = relationship(init=False, back_populates="points")
