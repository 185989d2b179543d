"""The typed models: what the store keeps. Rows never leave the store's rooms and desk's transactions."""

from crib.store.models.base import Base, Utc
from crib.store.models.details import (
    BarDetail,
    BitDetail,
    GaugeCheck,
    GaugeDetail,
    GaugeRod,
    HolderDetail,
    InsertDetail,
    RotaryDetail,
)
from crib.store.models.items import GOVERNED, Item
from crib.store.models.people import Machine, MachineFeed, MachineSpeed, Party, Place, Setting
from crib.store.models.proven import Proven
from crib.store.models.story import LedgerLine

__all__ = [
    "GOVERNED",
    "BarDetail",
    "Base",
    "BitDetail",
    "GaugeCheck",
    "GaugeDetail",
    "GaugeRod",
    "HolderDetail",
    "InsertDetail",
    "Item",
    "LedgerLine",
    "Machine",
    "MachineFeed",
    "MachineSpeed",
    "Party",
    "Place",
    "Proven",
    "RotaryDetail",
    "Setting",
    "Utc",
]
