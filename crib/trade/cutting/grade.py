"""From what a grade is meant for, "HC-P25", to its tool material and where in the range of speeds to start.

The standard sorts grades by use and makes none equal to another: this is only a place to start from.

Source: ISO 513 (keys cut_iso513, cut_grade_place).
"""

from dataclasses import dataclass

from crib.errors import NotPossible
from crib.trade.designation.iso513 import ApplicationReading

GRADE_SOURCES = ("cut_iso513", "cut_grade_place")
_TOUGHEST = {"P": 50, "M": 40, "K": 40, "N": 30, "S": 30, "H": 30}
_HARDEST = 1
_MATERIALS = {
    "HW": "carbide",
    "HF": "carbide",
    "HT": "cermet",
    "HC": "coated carbide",
    "CA": "ceramic",
    "CM": "ceramic",
    "CN": "ceramic",
    "CR": "ceramic",
    "CC": "ceramic",
    "DP": "PCD",
    "BL": "CBN",
    "BH": "CBN",
    "BC": "CBN",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """What a grade comes to for the speed.

    Attributes:
        tool_material: whose data to take.
        at: how far up the range of speeds to start, by ratio; None where the code has no number.
        assumed: what was taken for granted.
    """

    tool_material: str
    at: float | None
    assumed: tuple[str, ...]


def grade_of(reading: ApplicationReading, iso513: str) -> Grade:
    """Give tool material and place in the range for a grade's application.

    Args:
        reading: of crib.trade.designation.iso513.
        iso513: letter of the material to be cut.

    Raises:
        NotPossible: it names a cutting material for which nothing is on record.
    """
    said = []
    if reading.material_letters is None:
        tool = "carbide"
        said.append(
            f"{reading.designation} does not say whether it is coated: reckoned as uncoated carbide, the "
            f"slower; HC-{reading.designation} if it is"
        )
    elif reading.material_letters in _MATERIALS:
        tool = _MATERIALS[reading.material_letters]
    else:
        raise NotPossible(
            f"no speeds are on record for {reading.material_letters}, {reading.material}",
            "try PCD or carbide",
        )
    if reading.group is not None and reading.group != iso513:
        said.append(f"the grade is meant for {reading.group} ({reading.work}), the work is {iso513}")
    at = None
    if reading.group is not None and reading.numbers:
        number = sum(reading.numbers) / len(reading.numbers)
        at = place(reading.group, number)
        said.append(
            f"{reading.designation}: {at:.0%} of the way up the range of speeds (hard grades high, "
            "tough ones low)"
        )
    return Grade(tool_material=tool, at=at, assumed=tuple(said))


def place(group: str, number: float) -> float:
    """Give how far up the range of speeds a grade sits: 1 the hardest of its group, 0 the toughest."""
    toughest = _TOUGHEST[group]
    return min(1.0, max(0.0, (toughest - number) / (toughest - _HARDEST)))
