"""What a code says: one frozen record a kind; field names are the keys of the JSON contract.

A trailing underscore (`class_`) is dropped on the way out. A field that the code does not settle is None.
Named tuples, since start-up counts: such a class, and each reading, is made in half the time of a dataclass.
"""

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from crib.trade.designation.fit import InsertShape, Seat

CERTAIN = "certain"
MAKER = "depends on the maker"
OUTSIDE = "not in the standard"


class PositionReading(NamedTuple):
    """One position of a code.

    Attributes:
        position: 1-based position of the designation system.
        found: the characters that stand there.
        meaning: what they say, in words.
        mark: CERTAIN, MAKER or OUTSIDE.
    """

    position: int
    found: str
    meaning: str
    mark: str


class Tolerance(NamedTuple):
    """Position 3 of an insert: plus or minus, None where the value was not established.

    Attributes:
        class_: the letter.
        d_mm: on the inscribed circle.
        m_mm: on the corner height.
        s_mm: on the thickness.
    """

    class_: str
    d_mm: float | None
    m_mm: float | None
    s_mm: float | None


class Fixing(NamedTuple):
    """Position 4 of an insert.

    Attributes:
        letter: as in the code; N where an inch code leaves it out.
        hole: "none", "cylindrical", "one countersink 40-60" and so on, "special".
        chipbreaker_faces: 0, 1 or 2; None for special.
    """

    letter: str
    hole: str
    chipbreaker_faces: int | None


class InsertReading(NamedTuple):
    """An indexable insert, read.

    Attributes:
        kind: "insert".
        system: "metric" or "inch".
        designation: the code in its normal form.
        equivalent: the same insert in the other system, where it has a code there.
        equivalent_exact: both codes state the same sizes; False where the corner radius, in 0.1 mm in one
            and n/64 in in the other, differs; None without an equivalent.
        SC: shape letter.
        EPSR_deg: included angle of the corner; None for round.
        AN_deg: normal clearance; None where the maker states it.
        tolerance: position 3.
        fixing: position 4.
        double_sided: can be turned over.
        size: position 5 in metric form, as holders write it; None where there is none.
        IC_mm: inscribed circle.
        L_mm: theoretical edge length to the sharp corner.
        W1_mm: width; only inch codes of rectangles and parallelograms tell it.
        S_mm: thickness.
        RE_mm: corner radius, nominal in the system of the code; half the diameter for round inserts.
        edge_condition: position 8 letter.
        HAND: R, L or N as written.
        CEDC: number of cutting edges.
        maker_suffix: the maker's own symbol.
        wiper_angle_deg: cutting edge angle for which a wiper corner is made.
        wiper_clearance_deg: normal clearance of the wiper edge.
        chamfer_width_mm: width of the edge's chamfer.
        chamfer_angle_deg: its angle.
        facet_width_mm: width of the corner's facet (inch codes).
        other_conditions: letter of older inch codes.
        positions: each position with its meaning.
        notes: what the reader of the code should know.
    """

    kind: str
    system: str
    designation: str
    equivalent: str | None
    equivalent_exact: bool | None
    SC: str
    EPSR_deg: float | None
    AN_deg: float | None
    tolerance: Tolerance
    fixing: Fixing
    double_sided: bool | None
    size: str | None
    IC_mm: float | None
    L_mm: float | None
    W1_mm: float | None
    S_mm: float
    RE_mm: float | None
    edge_condition: str | None
    HAND: str | None
    CEDC: int | None
    maker_suffix: str | None
    wiper_angle_deg: float | None
    wiper_clearance_deg: float | None
    chamfer_width_mm: float | None
    chamfer_angle_deg: float | None
    facet_width_mm: float | None
    other_conditions: str | None
    positions: tuple[PositionReading, ...]
    notes: tuple[str, ...]

    def shape(self) -> "InsertShape":
        """Give what decides whether a holder takes this insert."""
        from crib.trade.designation.fit import InsertShape

        return InsertShape(
            SC=self.SC,
            AN_deg=self.AN_deg,
            IC_mm=self.IC_mm,
            L_mm=self.L_mm,
            HAND=self.HAND,
            hole=self.fixing.hole,
            size=self.size,
        )


class HolderReading(NamedTuple):
    """An external turning holder, cartridge or modular head, read.

    Attributes:
        kind: "holder".
        system: "metric" or "inch".
        designation: the code in its normal form.
        equivalent: always None: shanks of one system have no code in the other.
        clamping: position 1 letter.
        hole_needed: hole that this clamping takes: "cylindrical", "countersunk" or "any".
        SC: shape of the insert.
        style: position 3 letter.
        KAPR_deg: tool cutting edge angle.
        AN_deg: normal clearance of the insert.
        HAND: R, L or N.
        H_mm: shank height (of a cartridge: height of the cutting point); None for a modular head.
        B_mm: shank width; None for a cartridge and a modular head.
        LF_mm: functional length.
        WF_mm: functional width; only the codes of modular heads tell it.
        L_mm: theoretical edge length of its insert.
        insert_seat: its insert in short, as WN..08.
        size: insert size in metric form.
        IC_mm: inscribed circle of its insert; None for round and oblong ones.
        qualified: letter of the tolerance or of the qualified faces.
        cartridge: form letter, when it is a cartridge.
        coupling: shank of a modular head, as C5 or HSK-T63.
        coupling_mm: diameter of its flange.
        maker_suffix: the maker's own symbol.
        positions: each position with its meaning.
        notes: what the reader of the code should know.
    """

    kind: str
    system: str
    designation: str
    equivalent: str | None
    clamping: str
    hole_needed: str
    SC: str
    style: str
    KAPR_deg: float | None
    AN_deg: float | None
    HAND: str
    H_mm: float | None
    B_mm: float | None
    LF_mm: float | None
    WF_mm: float | None
    L_mm: float | None
    insert_seat: str
    size: str | None
    IC_mm: float | None
    qualified: str | None
    cartridge: str | None
    coupling: str | None
    coupling_mm: float | None
    maker_suffix: str | None
    positions: tuple[PositionReading, ...]
    notes: tuple[str, ...]

    def seat(self) -> "Seat":
        """Give what decides which inserts fit."""
        from crib.trade.designation.fit import Seat

        return Seat(
            SC=self.SC,
            AN_deg=self.AN_deg,
            IC_mm=self.IC_mm,
            L_mm=self.L_mm,
            HAND=self.HAND,
            hole_needed=self.hole_needed,
            size=self.size,
            internal=False,
        )


class BarReading(NamedTuple):
    """A boring bar, read.

    Attributes:
        kind: "bar".
        system: "metric" or "inch".
        designation: the code in its normal form.
        equivalent: always None, as for holders.
        shank_type: position 1 letter.
        material: of the shank: "steel", "carbide" or "heavy metal".
        coolant: coolant through the bar.
        damped: carries a damper.
        DCON_mm: shank diameter.
        LF_mm: functional length.
        clamping: how the insert is held.
        hole_needed: hole that this clamping takes: "cylindrical", "countersunk" or "any".
        SC: shape of the insert.
        style: letter.
        KAPR_deg: tool cutting edge angle.
        AN_deg: normal clearance of the insert.
        HAND: R or L.
        L_mm: theoretical edge length of its insert.
        IC_mm: inscribed circle of its insert; None for round and oblong ones.
        insert_seat: its insert in short, as CC..09.
        size: insert size in metric form.
        maker_suffix: the maker's own symbol.
        positions: each position with its meaning.
        notes: what the reader of the code should know.
    """

    kind: str
    system: str
    designation: str
    equivalent: str | None
    shank_type: str
    material: str
    coolant: bool
    damped: bool
    DCON_mm: float
    LF_mm: float | None
    clamping: str
    hole_needed: str
    SC: str
    style: str
    KAPR_deg: float | None
    AN_deg: float | None
    HAND: str
    L_mm: float | None
    IC_mm: float | None
    insert_seat: str
    size: str | None
    maker_suffix: str | None
    positions: tuple[PositionReading, ...]
    notes: tuple[str, ...]

    def seat(self) -> "Seat":
        """Give what decides which inserts fit."""
        from crib.trade.designation.fit import Seat

        return Seat(
            SC=self.SC,
            AN_deg=self.AN_deg,
            IC_mm=self.IC_mm,
            L_mm=self.L_mm,
            HAND=self.HAND,
            hole_needed=self.hole_needed,
            size=self.size,
            internal=True,
        )


Reading = InsertReading | HolderReading | BarReading


def edges_per_insert(reading: InsertReading) -> int | None:
    """Give the number of cutting edges of one insert: usable corners of a face x usable faces.

    Args:
        reading: an insert.

    Returns:
        The count; None for round inserts and where the code leaves it open.
    """
    return reading.CEDC
