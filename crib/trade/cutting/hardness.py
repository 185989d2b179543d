"""Hardness as people give it, "32 HRC" or "220 HB", brought to the Brinell number that speed tables use.

Source: ASTM E140, table 1 (key cut_hardness): approximate, for carbon, alloy and tool steels. Rockwell and
Vickers numbers are read off it, in a straight line between its points and nowhere outside them.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from crib.errors import BadQuantity

Row = Mapping[str, str]

HARDNESS_SOURCE = "cut_hardness"
STEELS = ("P", "H")
"""ISO 513 letters of what the conversion is made for."""
_FORM = re.compile(
    r"(\d+(?:[.,]\d+)?)(?:\s*(?:-|–|to)\s*(\d+(?:[.,]\d+)?))?\s*([a-z]*)",
    re.IGNORECASE,
)
_SCALES = {"hb": "HB", "hbw": "HB", "hbs": "HB", "bhn": "HB", "hrc": "HRC", "rc": "HRC", "hv": "HV"}
_SURELY_BRINELL = 80.0
"""A bare number from here on can't be Rockwell C, which ends at 68."""
_MOST_HB = 750.0
_EXAMPLES = "for example 220 HB, 32 HRC or 300 HV"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardness:
    """A hardness that was told.

    Attributes:
        hb: Brinell number.
        assumed: what was taken for granted in reading it.
        source: source key of the conversion; empty where none was needed.
    """

    hb: float
    assumed: tuple[str, ...]
    source: str


def read_hardness(text: str, rows: Sequence[Row], iso513: str = "P") -> Hardness:
    """Read a hardness; of a range the harder end counts.

    Args:
        text: as typed: "220 HB", "32 HRC", "28-32 HRC", "300 HV", "220".
        rows: the table "hardness_scales".
        iso513: letter of the material, for a word on how far the conversion holds.

    Raises:
        BadQuantity: it can't be read, has no scale that is known, or lies outside the conversion table.
    """
    found = _FORM.fullmatch(text.strip())
    if found is None:
        raise BadQuantity(f"{text.strip()[:40]!r} is no hardness", _EXAMPLES)
    first, last, unit = found.groups()
    values = [float(word.replace(",", ".")) for word in (first, last) if word]
    value = max(values)
    assumed = [f"hardness {text.strip()}: reckoned with its harder end"] if len(values) > 1 else []
    scale = _scale(text, value, unit)
    if not unit:
        assumed.append(f"hardness {value:g} taken as Brinell")
    if scale == "HB":
        if not 0.0 < value <= _MOST_HB:
            raise BadQuantity(f"a hardness of {value:g} HB can't be", "Brinell runs to about 750")
        return Hardness(hb=value, assumed=tuple(assumed), source="")
    hb = _converted(value, scale, rows)
    off = "" if iso513 in STEELS else ", made for carbon, alloy and tool steels: only a rough guide here"
    assumed.append(f"{value:g} {scale} read as {hb:.0f} HB by ASTM E140{off}")
    return Hardness(hb=hb, assumed=tuple(assumed), source=HARDNESS_SOURCE)


def _scale(text: str, value: float, unit: str) -> str:
    if not unit and value >= _SURELY_BRINELL:
        return "HB"
    try:
        return _SCALES[unit.lower()]
    except KeyError:
        why = "has no scale" if not unit else f"is on no scale known here ({unit})"
        raise BadQuantity(f"the hardness {text.strip()!r} {why}", _EXAMPLES) from None


def _converted(value: float, scale: str, rows: Sequence[Row]) -> float:
    """Read a value off the table, in a straight line between its points."""
    points = sorted((float(row[scale.lower()]), float(row["hb"])) for row in rows)
    for (low, low_hb), (high, high_hb) in pairwise(points):
        if low <= value <= high:
            return low_hb + (high_hb - low_hb) * (value - low) / (high - low)
    raise BadQuantity(
        f"{value:g} {scale} lies outside the conversion table",
        f"it runs from {points[0][0]:g} to {points[-1][0]:g} {scale}; give the Brinell number",
    )
