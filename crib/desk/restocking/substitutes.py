"""What else would do, and what using it costs: compared code with code, in figures where there are some."""

from collections.abc import Iterable
from math import sqrt

from crib.trade.designation.reading import BarReading, HolderReading, InsertReading, Reading
from crib.units import Kind, show

SAME_mm = 0.05
SAME_deg = 0.5


def costs(wanted: Reading, other: Reading, system: str = "metric") -> tuple[str, ...] | None:
    """Say what it costs to use another code than the one wanted.

    Args:
        wanted: the code that is missing.
        other: a code on hand.
        system: units of the user.

    Returns:
        One sentence a difference, the dearest first; empty where nothing tells them apart; None where the
        other does no such work: another kind, another seat, another hand.
    """
    if isinstance(wanted, InsertReading) and isinstance(other, InsertReading):
        return tuple(_insert(wanted, other, system)) if _same_seat(wanted, other) else None
    if isinstance(wanted, (HolderReading, BarReading)) and type(wanted) is type(other):
        assert isinstance(other, (HolderReading, BarReading))
        return tuple(_shank(wanted, other, system)) if wanted.HAND == other.HAND else None
    return None


def _same_seat(wanted: Reading, other: Reading) -> bool:
    return (wanted.SC, wanted.AN_deg, wanted.HAND) == (other.SC, other.AN_deg, other.HAND) and _alike(
        wanted.IC_mm, other.IC_mm
    )


def _alike(one: float | None, other: float | None, within: float = SAME_mm) -> bool:
    return one == other or (one is not None and other is not None and abs(one - other) <= within)


def _insert(wanted: InsertReading, other: InsertReading, system: str) -> Iterable[str]:
    if not _alike(wanted.S_mm, other.S_mm):
        sizes = f"{_mm(other.S_mm, system)} instead of {_mm(wanted.S_mm, system)}"
        yield f"thickness {sizes}: it needs another shim"
    if wanted.RE_mm and other.RE_mm and not _alike(wanted.RE_mm, other.RE_mm):
        # the ideal height is f² / (8 RE): the same finish takes a feed by the root of the radii
        feed = sqrt(other.RE_mm / wanted.RE_mm)
        side = "less" if feed < 1 else "more"
        effect = "weaker corner" if feed < 1 else "pushes and chatters more, leaves a larger corner"
        yield (
            f"nose {_mm(other.RE_mm, system)} instead of {_mm(wanted.RE_mm, system)}: {effect}; "
            f"the same finish takes {side} feed, × {feed:.2f}"
        )
    if wanted.fixing.letter != other.fixing.letter:
        yield f"type {other.fixing.letter} instead of {wanted.fixing.letter}: other hole or chip groove"
    if wanted.CEDC and other.CEDC and wanted.CEDC != other.CEDC:
        yield f"{other.CEDC} edges instead of {wanted.CEDC}"
    if wanted.tolerance.class_ != other.tolerance.class_:
        yield f"tolerance {other.tolerance.class_} instead of {wanted.tolerance.class_}: set the size anew"
    if (other.edge_condition or "") != (wanted.edge_condition or ""):
        there = other.edge_condition or "as the maker makes it"
        yield f"edge {there} instead of {wanted.edge_condition or 'as the maker makes it'}"


def _shank(
    wanted: HolderReading | BarReading, other: HolderReading | BarReading, system: str
) -> Iterable[str]:
    if not (wanted.SC == other.SC and wanted.AN_deg == other.AN_deg and _alike(wanted.IC_mm, other.IC_mm)):
        yield f"takes other inserts: {other.insert_seat} instead of {wanted.insert_seat}"
    if not _alike(wanted.KAPR_deg, other.KAPR_deg, SAME_deg):
        angles = f"{other.KAPR_deg or 0:g}° instead of {wanted.KAPR_deg or 0:g}°"
        yield f"entering angle {angles}: another corner is left, and the push goes another way"
    if isinstance(wanted, BarReading) and isinstance(other, BarReading):
        yield from _bar(wanted, other, system)
    elif isinstance(wanted, HolderReading) and isinstance(other, HolderReading):
        yield from _square(wanted, other, system)


def _square(wanted: HolderReading, other: HolderReading, system: str) -> Iterable[str]:
    if not _alike(wanted.H_mm, other.H_mm):
        sizes = f"{_mm(other.H_mm, system)} instead of {_mm(wanted.H_mm, system)}"
        low = (other.H_mm or 0) < (wanted.H_mm or 0)
        yield f"shank {sizes}: " + ("pack it up to centre" if low else "see that the tool post takes it")


def _bar(wanted: BarReading, other: BarReading, system: str) -> Iterable[str]:
    if wanted.DCON_mm and other.DCON_mm and not _alike(wanted.DCON_mm, other.DCON_mm):
        stiff = (
            other.DCON_mm / wanted.DCON_mm
        ) ** 4  # a clamped round bar: as the fourth power of its diameter
        sizes = f"{_mm(other.DCON_mm, system)} instead of {_mm(wanted.DCON_mm, system)}"
        if stiff < 1:
            yield f"bar {sizes}: 1/{1 / stiff:.1f} as stiff at the same overhang"
        else:
            yield f"bar {sizes}: {stiff:.1f} times as stiff, but see that it enters the bore"
    if not _alike(wanted.LF_mm, other.LF_mm):
        yield f"length {_mm(other.LF_mm, system)} instead of {_mm(wanted.LF_mm, system)}"
    if wanted.material != other.material:
        yield f"{other.material} bar instead of {wanted.material}"


def _mm(value: float | None, system: str) -> str:
    return "unknown" if value is None else show(value, Kind.LENGTH, system)
