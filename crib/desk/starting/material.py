"""The work material as typed, with its hardness: "4140", "4140 at 300 HB", or the hardness told apart."""

import re
from dataclasses import replace

from crib.desk import tables
from crib.errors import InputError
from crib.trade.cutting.hardness import Hardness, read_hardness
from crib.trade.cutting.materials import Material, Materials, find_material
from crib.trade.tables import rows

# a number with a scale at the end of a material's name; a number alone is part of the name
_HARDNESS = re.compile(
    r"(?P<name>.*?\S)[\s,;]+(?:(?:at|of|@)\s*)?"
    r"(?P<hardness>\d+(?:[.,]\d+)?(?:\s*(?:-|–|to)\s*\d+(?:[.,]\d+)?)?\s*(?:HBW?|HBS|BHN|HRC|RC|HV))",
    re.IGNORECASE,
)

HARDENED = "hardened steel"  # its rows by their hardness: 45 to 55 HRC, 58 to 62 HRC
STEEL = "P"  # ISO 513


def read_material(text: str, hardness: str = "") -> tuple[Material, Hardness | None]:
    """Find a work material, in the condition that has its hardness where one is told.

    A steel harder than its own rows reach, and as hard as hardened steel, is cut as that.

    Args:
        text: any name of the material; a hardness may stand behind it.
        hardness: as typed, "45 HRC"; empty where it is not told apart.

    Returns:
        The material, and the hardness; None where its usual one counts.

    Raises:
        UnknownName: nothing on record goes by that name.
        InputError: the hardness is told twice, or can't be read.
    """
    known = tables.materials()
    if found := _HARDNESS.fullmatch(text.strip()):
        if hardness:
            raise InputError(f"the hardness is told twice: {found['hardness']} and {hardness}", "say it once")
        text, hardness = found["name"], found["hardness"]
    if not hardness:
        return find_material(text, known), None
    scales = rows("hardness_scales")
    material = find_material(text, known, hb=read_hardness(hardness, scales).hb)
    told = read_hardness(hardness, scales, material.iso513)
    return _as_hard(material, told.hb, known), told


def _as_hard(material: Material, hb: float, known: Materials) -> Material:
    """Give hardened steel in the place of a steel's soft state, whose speeds would burn any edge in it."""
    if material.iso513 != STEEL or hb <= (material.hb_max or 0.0):
        return material
    hardened = find_material(HARDENED, known, hb)
    if hb < (hardened.hb_min or hb):
        return material
    said = f"{hb:.0f} HB: the figures of {material.label} are for a softer state: {hardened.label} used"
    return replace(hardened, assumed=(said, *hardened.assumed))
