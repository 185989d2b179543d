"""The logbook: cuts as they were made and how they went; withdrawn, never changed."""

from datetime import datetime

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from crib.store.models.base import Base, more_than_zero, one_of
from crib.store.words import CUT_RESULTS


class LoggedCut(Base):
    """One cut: what, with what, on which set-up, at which figures, and how it went."""

    __tablename__ = "cut"
    __table_args__ = (
        one_of("result", CUT_RESULTS),
        more_than_zero("n_rev_min"),
        more_than_zero("vc_m_min"),
        more_than_zero("f_mm"),
        more_than_zero("ap_mm"),
        more_than_zero("length_mm"),
    )

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    at: Mapped[datetime]
    operation: Mapped[str]
    material: Mapped[str] = mapped_column(index=True)
    result: Mapped[str]
    by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    job: Mapped[str | None] = mapped_column(default=None)
    machine_id: Mapped[int | None] = mapped_column(ForeignKey("machine.place_id"), default=None)
    setup_id: Mapped[int | None] = mapped_column(ForeignKey("setup.id"), default=None, index=True)
    setup_point: Mapped[str | None] = mapped_column(default=None)
    setup_words: Mapped[str | None] = mapped_column(default=None)
    arm_item_id: Mapped[int | None] = mapped_column(ForeignKey("item.id"), default=None)
    insert_item_id: Mapped[int | None] = mapped_column(ForeignKey("item.id"), default=None)
    tool_material: Mapped[str | None] = mapped_column(default=None)
    conditions: Mapped[str] = mapped_column(default="")
    diameter_mm: Mapped[float | None] = mapped_column(default=None)
    n_rev_min: Mapped[float | None] = mapped_column(default=None)
    vc_m_min: Mapped[float | None] = mapped_column(default=None)
    f_mm: Mapped[float | None] = mapped_column(default=None)
    ap_mm: Mapped[float | None] = mapped_column(default=None)
    length_mm: Mapped[float | None] = mapped_column(default=None)
    minutes: Mapped[float | None] = mapped_column(default=None)
    heard_hz: Mapped[float | None] = mapped_column(default=None)
    regenerative_n_mm: Mapped[float | None] = mapped_column(default=None)
    margin: Mapped[float | None] = mapped_column(default=None)
    note: Mapped[str | None] = mapped_column(default=None)
    withdrawn_at: Mapped[datetime | None] = mapped_column(default=None)
    withdrawn_by_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"), default=None)
    withdrawn_why: Mapped[str | None] = mapped_column(default=None)
