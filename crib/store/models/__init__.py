"""The typed models: what the store keeps. Rows never leave the store's rooms and desk's transactions."""

from crib.store.models.base import Base, Utc
from crib.store.models.claims import Claim, ClaimLine, ClaimStep
from crib.store.models.cuts import LoggedCut
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
from crib.store.models.evidence import Evidence, Proof
from crib.store.models.items import GOVERNED, GOVERNED_SIZES, Item
from crib.store.models.people import Machine, MachineFeed, MachineSpeed, Party, Place, Setting
from crib.store.models.proven import Proven
from crib.store.models.setups import Setup, SetupPoint
from crib.store.models.stocking import Kit, KitLine, Minimum, SparePart, Stocktake, StocktakeCount
from crib.store.models.story import LedgerLine
from crib.store.models.worth import Origin, Worth

__all__ = [
    "GOVERNED",
    "GOVERNED_SIZES",
    "BarDetail",
    "Base",
    "BitDetail",
    "Claim",
    "ClaimLine",
    "ClaimStep",
    "Evidence",
    "GaugeCheck",
    "GaugeDetail",
    "GaugeRod",
    "HolderDetail",
    "InsertDetail",
    "Item",
    "Kit",
    "KitLine",
    "LedgerLine",
    "LoggedCut",
    "Machine",
    "MachineFeed",
    "MachineSpeed",
    "Minimum",
    "Origin",
    "Party",
    "Place",
    "Proof",
    "Proven",
    "RotaryDetail",
    "Setting",
    "Setup",
    "SetupPoint",
    "SparePart",
    "Stocktake",
    "StocktakeCount",
    "Utc",
    "Worth",
]
