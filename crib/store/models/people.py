"""Parties, places, machines and settings."""

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey
from sqlalchemy.orm import Mapped, mapped_column, relationship

from crib.store.models.base import Base, not_negative, one_of
from crib.store.words import MACHINE_KINDS, PARTY_KINDS, PLACE_KINDS


class Party(Base):
    """A person or the company: owns items, holds items. Two people may use the same mark."""

    __tablename__ = "party"
    __table_args__ = (one_of("kind", PARTY_KINDS),)

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    name: Mapped[str] = mapped_column(unique=True)
    kind: Mapped[str] = mapped_column(default="person")
    mark: Mapped[str | None] = mapped_column(index=True, default=None)
    note: Mapped[str | None] = mapped_column(default=None)
    gone_on: Mapped[date | None] = mapped_column(default=None)


class Place(Base):
    """One place in the tree: site, area, cabinet, drawer; a machine is a place too."""

    __tablename__ = "place"
    __table_args__ = (
        one_of("kind", PLACE_KINDS),
        # a site's own number is known only once its row is written: for that moment it may be missing
        CheckConstraint("site_id IS NOT NULL OR kind = 'site'", name="has_site"),
        CheckConstraint("(parent_id IS NULL) = (kind = 'site')", name="only_sites_are_roots"),
    )

    id: Mapped[int] = mapped_column(primary_key=True, init=False)
    name: Mapped[str]
    kind: Mapped[str]
    path: Mapped[str] = mapped_column(unique=True)
    parent_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"), index=True, default=None)
    site_id: Mapped[int | None] = mapped_column(ForeignKey("place.id"), index=True, default=None)


class Machine(Base):
    """What a machine can do; null where its plate or chart was never read."""

    __tablename__ = "machine"
    __table_args__ = (one_of("kind", MACHINE_KINDS),)

    place_id: Mapped[int] = mapped_column(ForeignKey("place.id"), primary_key=True)
    kind: Mapped[str]
    speed_low_rev_min: Mapped[float | None] = mapped_column(default=None)
    speed_high_rev_min: Mapped[float | None] = mapped_column(default=None)
    power_kw: Mapped[float | None] = mapped_column(default=None)
    efficiency: Mapped[float | None] = mapped_column(default=None)
    swing_mm: Mapped[float | None] = mapped_column(default=None)
    travel_mm: Mapped[float | None] = mapped_column(default=None)
    shank_low_mm: Mapped[float | None] = mapped_column(default=None)
    shank_high_mm: Mapped[float | None] = mapped_column(default=None)
    bar_low_mm: Mapped[float | None] = mapped_column(default=None)
    bar_high_mm: Mapped[float | None] = mapped_column(default=None)
    facing_head: Mapped[bool] = mapped_column(default=False)
    least_bore_mm: Mapped[float | None] = mapped_column(default=None)
    head_speed_limit_rev_min: Mapped[float | None] = mapped_column(default=None)
    head_tangential_limit_m_min: Mapped[float | None] = mapped_column(default=None)
    note: Mapped[str | None] = mapped_column(default=None)
    speeds: Mapped[list["MachineSpeed"]] = relationship(
        default_factory=list, order_by="MachineSpeed.n_rev_min", cascade="all, delete-orphan"
    )
    feeds: Mapped[list["MachineFeed"]] = relationship(
        default_factory=list, order_by="MachineFeed.f_mm", cascade="all, delete-orphan"
    )


class MachineSpeed(Base):
    """One step of a gearbox."""

    __tablename__ = "machine_speed"
    __table_args__ = (not_negative("n_rev_min"),)

    machine_id: Mapped[int] = mapped_column(ForeignKey("machine.place_id"), primary_key=True, init=False)
    n_rev_min: Mapped[float] = mapped_column(primary_key=True)


class MachineFeed(Base):
    """One feed of the feed box."""

    __tablename__ = "machine_feed"
    __table_args__ = (not_negative("f_mm"),)

    machine_id: Mapped[int] = mapped_column(ForeignKey("machine.place_id"), primary_key=True, init=False)
    f_mm: Mapped[float] = mapped_column(primary_key=True)


class Setting(Base):
    """A choice of this store: who I am, where I am, which units."""

    __tablename__ = "setting"

    key: Mapped[str] = mapped_column(primary_key=True)
    value: Mapped[str]
