"""A shop's own proven speeds: what was cut, with what, how fast, by whom; withdrawn, never deleted."""

from datetime import datetime

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from crib.store.models.base import Base, more_than_zero


class Proven(Base):
    """One speed that proved itself; the database refuses to change or drop its figures."""

    __tablename__ = "proven"
    __table_args__ = (more_than_zero("vc_m_min"), more_than_zero("f_mm"), more_than_zero("ap_mm"))

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    at: Mapped[datetime]
    material: Mapped[str] = mapped_column(index=True)
    tool_material: Mapped[str]
    operation: Mapped[str]
    vc_m_min: Mapped[float]
    by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    cut: Mapped[str | None] = mapped_column(default=None)
    conditions: Mapped[str] = mapped_column(default="")
    f_mm: Mapped[float | None] = mapped_column(default=None)
    ap_mm: Mapped[float | None] = mapped_column(default=None)
    machine_id: Mapped[int | None] = mapped_column(ForeignKey("machine.place_id"), default=None)
    note: Mapped[str | None] = mapped_column(default=None)
    result: Mapped[str | None] = mapped_column(default=None)
    withdrawn_at: Mapped[datetime | None] = mapped_column(default=None)
    withdrawn_by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    withdrawn_why: Mapped[str | None] = mapped_column(default=None)
