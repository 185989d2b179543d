"""The marks that the feed of the last pass leaves."""

from crib.desk.picking.cut import Cut
from crib.errors import InputError
from crib.trade.cutting.finish import Roughness, minor_edge_deg, roughness


def last_feed(cut: Cut) -> float:
    """Give the feed of the last pass, in mm/rev: it leaves the marks."""
    return cut.finish_f_mm if cut.passes[-1].kind == "finish" else cut.f_mm


def minor_edge_of(cut: Cut) -> float | None:
    """Give the angle of the minor edge in degrees, 90 where it has no part; None where it would rub."""
    insert = cut.pair.insert
    if insert is None or insert.epsr_deg is None or insert.item.sc == "R":
        return 90.0
    if 180.0 - insert.epsr_deg - cut.tool.KAPR_deg < 0:
        return None
    return minor_edge_deg(insert.epsr_deg, cut.tool.KAPR_deg)


def marks_of(cut: Cut) -> Roughness | None:
    """Give the theoretical feed marks of the last pass; None where they are not known."""
    KAPR1_deg = minor_edge_of(cut)
    if KAPR1_deg is None:
        return None
    try:
        return roughness(last_feed(cut), cut.tool.RE_mm, cut.tool.KAPR_deg, KAPR1_deg)
    except InputError:  # a feed wider than the corner leaves no closed profile
        return None
