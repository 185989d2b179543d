"""The work material as typed, with its hardness: "4140", "4140 at 300 HB", or the hardness told apart."""

import re

from crib.desk import tables
from crib.errors import InputError
from crib.trade.cutting.hardness import Hardness, read_hardness
from crib.trade.cutting.materials import Material, find_material
from crib.trade.tables import rows

# a number with a scale at the end of a material's name; a number alone is part of the name
_HARDNESS = re.compile(
    r"(?P<name>.*?\S)[\s,;]+(?:(?:at|of|@)\s*)?"
    r"(?P<hardness>\d+(?:[.,]\d+)?(?:\s*(?:-|–|to)\s*\d+(?:[.,]\d+)?)?\s*(?:HBW?|HBS|BHN|HRC|RC|HV))",
    re.IGNORECASE,
)


def read_material(text: str, hardness: str = "") -> tuple[Material, Hardness | None]:
    """Find a work material, in the condition that has its hardness where one is told.

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
    return material, read_hardness(hardness, scales, material.iso513)
