"""What one pass takes, as machinists say it: "1/16 on diameter", "2 mm a side", "a sixteenth"."""

import re

from crib.errors import InputError
from crib.units import Kind

_PARTS = {
    "half": "1/2",
    "quarter": "1/4",
    "eighth": "1/8",
    "sixteenth": "1/16",
    "thirty-second": "1/32",
    "sixty-fourth": "1/64",
}
PART_OF_INCH = rf"(?:an?\s+)?(?:{'|'.join(_PARTS)})(?:\s+(?:of\s+an\s+)?inch)?".replace("-", "[ -]")
_SAID_PART = re.compile(rf"^{PART_OF_INCH}(?=\s|$)", re.IGNORECASE)
_ON_DIAMETER = re.compile(r"\s*\b(?:(?:on|off)\s+(?:the\s+)?)(?:diameter|diam|dia|size)\.?$", re.IGNORECASE)
_ON_SIDE = re.compile(r"\s*\b(?:a|per|each|on\s+(?:the|a|one))\s+(?:side|radius)$", re.IGNORECASE)
_AT_A_TIME = re.compile(r"\s*\b(?:at\s+a\s+time|each\s+(?:pass|cut|time))$", re.IGNORECASE)


def read_pass(text: str, system: str, *, sizes_on_diameter: bool, usual_side: bool) -> tuple[float, bool]:
    """Read what a pass takes.

    Args:
        text: as typed.
        system: units of a bare number.
        sizes_on_diameter: the sizes of the job are diameters.
        usual_side: without a word for it, it is meant on the side; else in the measure of the sizes.

    Returns:
        Millimetres in the measure of the sizes (on diameter, or along the axis when facing), and whether each
        pass is to take just that ("at a time"), not at most.

    Raises:
        InputError: it can't be read, isn't more than zero, or is said on the diameter of a face.
    """
    from crib.units import read  # whoever only looks for such words needs none of it

    size = _AT_A_TIME.sub("", text.strip())
    bare = _ON_SIDE.sub("", size)
    side = bare != size
    rest, bare = bare, _ON_DIAMETER.sub("", bare)
    if bare != rest and not sizes_on_diameter:
        raise InputError(f"{text}: a face has no diameter to take it off", "say what comes off its length")
    side = side or (usual_side and bare == rest)
    if said := _SAID_PART.match(bare):
        words = re.sub("(thirty|sixty) ", r"\1-", said[0].lower()).split()
        bare = next(_PARTS[word] for word in words if word in _PARTS) + " in"
    value = read(bare, Kind.LENGTH, system).value
    if value <= 0:
        raise InputError(f"a pass of {text} can't be", "it must be more than zero")
    return (2.0 * value if side and sizes_on_diameter else value), size != text.strip()
