"""Reading heads with a polygonal or hollow taper shank: shank, the five letters and the insert size.

How makers join these is theirs, so what lies between is shown as what it mostly means, and marked so.
"""

import re

from crib.trade.designation.letters import Letters
from crib.trade.designation.misread import Misread, said
from crib.trade.designation.normalise import Breaks
from crib.trade.designation.reading import MAKER, HolderReading, PositionReading
from crib.trade.designation.seat import five_letters, metric_size, suffix_of
from crib.trade.designation.symbols import Symbol

HOLLOW_TAPER = re.compile(r"HSK[A-Z][0-9]{2,3}[A-Z]{5}[LS]?[0-9]")
PREFIX = "HSK"
JOINED = (
    "a head with a modular shank: makers join shank, letters and sizes each in their own way; "
    "whether it turns outside or bores is not coded"
)
MIDDLE = 5  # digits between letters and insert size: two of width, three of length


def coupling_of(compact: str, letters: Letters) -> tuple[Symbol, int] | None:
    """Give the shank with which a code begins, and where it ends; None if it begins with none."""
    start = len(PREFIX) if compact.startswith(PREFIX) else 0
    for long in (4, 3, 2):
        symbol = letters.couplings.get(compact[start : start + long])
        if symbol is not None and (not start or symbol.code[0] == "T"):
            return symbol, start + long
    return None


def read_modular(compact: str, breaks: Breaks, letters: Letters) -> HolderReading:
    """Read a head such as C5-PCLNR-35060-12 or HSK-T63-DDUNR-45065-15.

    Args:
        compact: bare code (normalise.clean).
        breaks: where separators stood.
        letters: the tables.

    Raises:
        Misread: shank, letters or insert size make no sense.

    Source: letters by ISO 5608; shanks of ISO 26623-1 and ISO 12164-3, recalled; order by common practice.
    """
    found = coupling_of(compact, letters)
    if found is None:
        code = compact[len(PREFIX) : len(PREFIX) + 3] if compact.startswith(PREFIX) else compact[:2]
        why = said(code, "a modular shank read here", "the shank")
        raise Misread("", "", 0, compact.find(code), code, letters.couplings, why)
    coupling, at = found
    five = five_letters(compact, at, 1, "holder", letters)
    at += 5
    head = compact[at - 5 : at]
    shank = f"{PREFIX}-{coupling.code}" if coupling.code[0] == "T" else coupling.code
    middle = compact[at : at + MIDDLE]
    WF_mm = LF_mm = None
    between: tuple[PositionReading, ...] = ()
    if len(middle) == MIDDLE and middle.isdigit() and len(compact) > at + MIDDLE:
        WF_mm, LF_mm = float(middle[:2]), float(middle[2:])
        between = (
            PositionReading(6, middle[:2], f"width f {WF_mm:g} mm (recalled)", MAKER),
            PositionReading(7, middle[2:], f"length {LF_mm:g} mm (recalled)", MAKER),
        )
        at += MIDDLE
    size = metric_size(compact, at, five[1], "holder", letters)
    suffix = suffix_of(compact, breaks, at + 2, "holder", "metric", 10)
    words = [shank, head, *([middle] if between else []), size.code or "", *([suffix] if suffix else [])]
    clamping, shape, style, clearance, hand = five
    positions = (
        PositionReading(0, shank, coupling.places[0].meaning, MAKER), clamping.places[1], shape.places[1],
        style.places[1], clearance.places[1], hand.places[1], *between, size.places[1],
    )  # fmt: skip
    if suffix:
        positions += (PositionReading(11, suffix, "the maker's own symbol", MAKER),)
    return HolderReading(
        "holder", "metric", "-".join(words), None, clamping.code, letters.holes_needed[clamping.code],
        shape.code, style.code, style.value, clearance.value, hand.code, None, None, LF_mm, WF_mm, size.L_mm,
        f"{shape.code}{clearance.code}..{size.code}", size.code, size.IC_mm, None, None, shank,
        coupling.value, suffix, positions,
        clamping.notes + style.notes + clearance.notes + size.notes + coupling.notes + (JOINED,),
    )  # fmt: skip
