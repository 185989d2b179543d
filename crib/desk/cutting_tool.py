"""A cut told by its figures alone (material, feed, entering angle, nose), without a tool on record."""

from crib.desk import tables
from crib.errors import InputError
from crib.trade.cutting.force import Work
from crib.trade.cutting.materials import find_material
from crib.trade.cutting.tool import CuttingTool, from_codes
from crib.units import Kind, read


def told_cut(
    *, material: str, feed: str, KAPR: str, RE: str, system: str
) -> tuple[CuttingTool, Work, float, tuple[str, ...]]:
    """Give tool, work and feed of a cut as typed, and what was assumed.

    Raises:
        InputError: a figure can't be read or can't be.
        UnknownName: no such material.
        NotPossible: no cutting force is on record for it.
    """
    f_mm = positive(feed, "feed", Kind.FEED, system)
    tool = from_codes(
        tables.tool_defaults(),
        KAPR_deg=positive(KAPR, "entering angle", Kind.ANGLE, system) if KAPR else None,
        RE_mm=read(RE, Kind.LENGTH, system).value if RE else None,
        AN_deg=0.0,
    )
    found = find_material(material, tables.materials())
    kc11, mc = found.kienzle()
    said = (*found.assumed, "a negative insert with a medium breaker", *tool.assumed)
    return tool, Work(kc11_N_mm2=kc11, mc=mc, iso513=found.iso513), f_mm, said


def positive(text: str, what: str, kind: Kind, system: str) -> float:
    """Read a figure that must be more than zero.

    Raises:
        InputError: it can't be read, or isn't.
    """
    value = read(text, kind, system).value
    if value <= 0.0:
        raise InputError(f"a {what} of {text} can't be", "it must be more than zero")
    return value
