"""Does this insert fit that holder? By what their codes say: shape, clearance, size, hole, hand."""

from typing import NamedTuple

MATCH_MM = 0.01
UNCODED = "a holder's code does not tell the insert's thickness: see that the shim and clamp suit it"


class Seat(NamedTuple):
    """What a holder or bar takes.

    Attributes:
        SC: shape letter.
        AN_deg: normal clearance; None where the maker states it.
        IC_mm: inscribed circle; None where the code leaves it open.
        L_mm: theoretical edge length.
        HAND: R, L or N of the holder.
        hole_needed: "cylindrical", "countersunk" or "any".
        size: metric size symbol; None where there is none.
        internal: a boring bar.
    """

    SC: str
    AN_deg: float | None
    IC_mm: float | None
    L_mm: float | None
    HAND: str
    hole_needed: str = "any"
    size: str | None = None
    internal: bool = False


class InsertShape(NamedTuple):
    """What of an insert decides whether it fits.

    Attributes:
        SC: shape letter.
        AN_deg: normal clearance; None where the maker states it.
        IC_mm: inscribed circle; None for oblong shapes.
        L_mm: theoretical edge length.
        HAND: R, L, N or None.
        hole: as Fixing.hole.
        size: metric size symbol; None where there is none.
    """

    SC: str
    AN_deg: float | None
    IC_mm: float | None
    L_mm: float | None
    HAND: str | None
    hole: str
    size: str | None = None


class Check(NamedTuple):
    """One thing that was compared.

    Attributes:
        field: its key.
        wanted: what the seat wants, in words.
        found: what the insert has, in words.
        ok: they go together.
    """

    field: str
    wanted: str
    found: str
    ok: bool


class Fit(NamedTuple):
    """Whether an insert fits a seat.

    Attributes:
        ok: every check passed.
        checks: all of them.
        why: the first that failed, or what the codes could not tell.
    """

    ok: bool
    checks: tuple[Check, ...]
    why: str


def fits(seat: Seat, insert: InsertShape) -> Fit:
    """Tell whether an insert fits a seat.

    Args:
        seat: of a holder or bar (`reading.seat()`).
        insert: (`reading.shape()`).

    Source: ISO 5608 and ISO 6261, positions of the insert; holes by common practice.
    """
    checks = (
        Check(field="SC", wanted=seat.SC, found=insert.SC, ok=seat.SC == insert.SC),
        _clearance(seat, insert),
        _size(seat, insert),
        _hole(seat, insert),
        _hand(seat, insert),
    )
    for check in checks:
        if not check.ok:
            return Fit(
                ok=False, checks=checks, why=f"{check.field}: {check.found} where {check.wanted} is wanted"
            )
    return Fit(ok=True, checks=checks, why=UNCODED)


def _clearance(seat: Seat, insert: InsertShape) -> Check:
    """Compare the normal clearance."""
    wanted, found = (f"{a:g} deg" if a is not None else "the maker's" for a in (seat.AN_deg, insert.AN_deg))
    return Check(field="AN_deg", wanted=wanted, found=found, ok=seat.AN_deg == insert.AN_deg)


def _size(seat: Seat, insert: InsertShape) -> Check:
    """Compare the inscribed circle, or the size symbol where a code leaves the circle open."""
    if seat.IC_mm is not None and insert.IC_mm is not None:
        ok = abs(seat.IC_mm - insert.IC_mm) <= MATCH_MM
        return Check(field="IC_mm", wanted=f"{seat.IC_mm:g} mm", found=f"{insert.IC_mm:g} mm", ok=ok)
    if seat.size is not None and insert.size is not None:
        return Check(field="size", wanted=seat.size, found=insert.size, ok=seat.size == insert.size)
    same = seat.L_mm is not None and insert.L_mm is not None and abs(seat.L_mm - insert.L_mm) <= MATCH_MM
    wanted, found = (f"edge {v:g} mm" if v is not None else "not coded" for v in (seat.L_mm, insert.L_mm))
    return Check(field="L_mm", wanted=wanted, found=found, ok=same)


def _hole(seat: Seat, insert: InsertShape) -> Check:
    """Compare what the clamping needs with the hole."""
    hole = insert.hole
    ok = seat.hole_needed == "any" or hole == "special"
    ok = ok or (seat.hole_needed == "cylindrical" and hole == "cylindrical")
    ok = ok or (seat.hole_needed == "countersunk" and "countersink" in hole)
    wanted = "any hole or none" if seat.hole_needed == "any" else f"a {seat.hole_needed} hole"
    return Check(field="hole", wanted=wanted, found="no hole" if hole == "none" else f"hole: {hole}", ok=ok)


def _hand(seat: Seat, insert: InsertShape) -> Check:
    """Compare the hands. Which hand a bar wants of a handed insert is the maker's affair: it takes both."""
    neutral = insert.HAND in (None, "N") or seat.HAND == "N"
    ok = neutral or seat.internal or seat.HAND == insert.HAND
    wanted = "either hand" if seat.internal or seat.HAND == "N" else f"{seat.HAND} or neutral"
    return Check(field="HAND", wanted=wanted, found=insert.HAND or "neutral", ok=ok)
