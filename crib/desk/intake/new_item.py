"""From a row of a list, and the reading of its code, to a new item with the details of its kind."""

from typing import Any

from crib.desk.asking.codes import decode, label_of
from crib.desk.intake.lists import ListRow
from crib.errors import BadDesignation, InputError
from crib.store import models
from crib.trade.designation.reading import BarReading, HolderReading, InsertReading, Reading

CODED = ("insert", "holder", "bar")


class RowError(InputError):
    """One column of a row can't be taken."""

    def __init__(self, column: str, why: str) -> None:
        super().__init__(why)
        self.column = column
        self.why = why


def reading_of(row: ListRow) -> Reading | None:
    """Read the code of an insert, holder or bar; other kinds keep theirs as typed.

    Raises:
        RowError: the code can't be read, or is of another kind than the row says.
    """
    code, kind = row.get("code"), row.get("kind")
    if not code or kind not in (None, *CODED):
        if kind is None:
            raise RowError("kind", "must be given where there is no code to read it from")
        return None
    try:
        reading = decode(code)
    except BadDesignation as error:
        raise RowError("code", f"{error.message}; {error.hint}" if error.hint else error.message) from error
    if kind not in (None, reading.kind):
        raise RowError("code", f"reads as {_a(reading.kind)}, but the row says {_a(kind)}")
    return reading


def edges_of(row: ListRow, item: models.Item, quantity: int) -> int | None:
    """Give the fresh edges of a row: as told; of a new box by its code; of a used one nobody knows.

    Raises:
        RowError: it is no insert, or they are too many.
    """
    edges: int | None = row.get("edges_left")
    if edges is None and row.get("condition") == "new" and item.insert is not None and item.insert.cedc:
        return item.insert.cedc * quantity
    refuse_edges(item, quantity, edges)
    return edges


def refuse_edges(item: models.Item, quantity: int, edges: int | None) -> None:
    """Refuse more edges than a batch can have.

    Raises:
        RowError: it is no insert, or they are too many.
    """
    if edges is None:
        return
    if item.kind != "insert":
        raise RowError("edges_left", "is counted for inserts only")
    most = item.insert.cedc if item.insert else None
    if most is not None and edges > most * quantity:
        raise RowError("edges_left", f"is more than {quantity} x {most} edges of this code")


def new_item(row: ListRow, reading: Reading | None) -> models.Item:
    """Build an item from its row, geometry from its code where it has one that reads.

    Raises:
        RowError: a range that ends before it begins.
    """
    if row.get("high") is not None and row["high"] < row.get("low", 0.0):
        raise RowError("high", "is below low")
    kind = reading.kind if reading else row["kind"]
    details = {
        "insert": _insert_detail,
        "holder": _holder_detail,
        "bar": _bar_detail,
        "bit": _bit_detail,
        "rotary": _rotary_detail,
        "gauge": _gauge_detail,
    }
    detail: dict[str, Any] = {kind: details[kind](row, reading)} if kind in details else {}
    return models.Item(
        tag=row["tag"],
        kind=kind,
        label=row.get("label") or (label_of(reading) if reading else kind),
        designation=reading.designation if reading else row.get("code"),
        equivalent=reading.equivalent if reading else None,
        mark=row.get("mark"),
        serial=row.get("serial"),
        note=row.get("note"),
        hand=reading.HAND if reading else row.get("hand"),
        sc=reading.SC if reading else None,
        an_deg=reading.AN_deg if reading else None,
        ic_mm=reading.IC_mm if reading else None,
        l_mm=reading.L_mm if reading else None,
        **detail,
    )


def _insert_detail(row: ListRow, reading: Reading | None) -> models.InsertDetail:
    own: dict[str, Any] = {}
    if isinstance(reading, InsertReading):
        own = {
            "type_letter": reading.fixing.letter,
            "tolerance": reading.tolerance.class_,
            "s_mm": reading.S_mm,
            "re_mm": reading.RE_mm,
            "epsr_deg": reading.EPSR_deg,
            "edge_condition": reading.edge_condition,
            "cedc": reading.CEDC,
        }
    return models.InsertDetail(
        grade=row.get("grade"),
        chipbreaker=row.get("chipbreaker"),
        tool_material=row.get("tool_material"),
        application=row.get("application"),
        **own,
    )


def _holder_detail(row: ListRow, reading: Reading | None) -> models.HolderDetail:
    if not isinstance(reading, HolderReading):
        return models.HolderDetail(dmin_mm=row.get("dmin"), kapr_deg=row.get("kapr"))
    return models.HolderDetail(
        clamping=reading.clamping,
        style=reading.style,
        kapr_deg=reading.KAPR_deg,
        h_mm=reading.H_mm,
        b_mm=reading.B_mm,
        lf_mm=reading.LF_mm,
        dmin_mm=row.get("dmin"),
    )


def _bar_detail(row: ListRow, reading: Reading | None) -> models.BarDetail:
    own: dict[str, Any] = {}
    if isinstance(reading, BarReading):
        own = {
            "shank_type": reading.shank_type,
            "dcon_mm": reading.DCON_mm,
            "lf_mm": reading.LF_mm,
            "style": reading.style,
            "kapr_deg": reading.KAPR_deg,
            "clamping": reading.clamping,
        }
    material = row.get("shank_material") or (reading.material if isinstance(reading, BarReading) else None)
    return models.BarDetail(
        dmin_mm=row.get("dmin"), reach_mm=row.get("reach"), shank_material=material, **own
    )


def _bit_detail(row: ListRow, _reading: Reading | None) -> models.BitDetail:
    return models.BitDetail(
        tool_material=row.get("tool_material"),
        shank_mm=row.get("shank"),
        kapr_deg=row.get("kapr"),
        re_mm=row.get("re"),
        rake_deg=row.get("rake"),
        clearance_deg=row.get("clearance"),
        inclination_deg=row.get("inclination"),
    )


def _rotary_detail(row: ListRow, _reading: Reading | None) -> models.RotaryDetail:
    return models.RotaryDetail(
        what=row.get("what"), dc_mm=row.get("dc"), lf_mm=row.get("lf"), tool_material=row.get("tool_material")
    )


def _gauge_detail(row: ListRow, _reading: Reading | None) -> models.GaugeDetail:
    return models.GaugeDetail(
        measures=row.get("measures", "other"),
        low_mm=row.get("low"),
        high_mm=row.get("high"),
        resolution_mm=row.get("resolution"),
    )


def _a(kind: str) -> str:
    return ("an " if kind[0] in "aeiou" else "a ") + kind
