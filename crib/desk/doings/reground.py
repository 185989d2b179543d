"""The new size of a drill, reamer, mill or tap that was ground: what is typed, and its line in the ledger."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from crib.desk.doings.doing import Doing
from crib.desk.typed import sized
from crib.errors import InputError, NotPossible
from crib.store.read import Reader
from crib.store.rows import ItemRow, RotaryRow
from crib.units import Kind, show


@dataclass(frozen=True, slots=True, kw_only=True)
class Reground:
    """What a regrind changed of one tool.

    Attributes:
        facts: the sizes that are others now, as a line of the ledger takes them.
        told: the same in words, with what they were before.
    """

    facts: dict[str, float]
    told: str


def reground(
    reader: Reader, rows: Sequence[ItemRow], diameter: str, length: str, pieces: int | None = None
) -> Reground | None:
    """Read the new size of the one tool that is named; None where none is typed.

    Args:
        reader: of the store.
        rows: the tools that are named.
        diameter: as typed; empty: as before.
        length: likewise.
        pieces: of a batch, that have it.

    Raises:
        InputError: it can't be read, or several tools are named.
        NotPossible: the tool is none of a size that a regrind changes, or has that size already.
    """
    system = reader.settings().get("units", "metric")
    typed = {
        "dc_mm": sized(diameter.strip(), "diameter", Kind.LENGTH, system),
        "lf_mm": sized(length.strip(), "length", Kind.LENGTH, system),
    }
    if not any(typed.values()):
        return None
    if len(rows) != 1:
        raise InputError("a new size goes with one tool", "record the others by themselves")
    (row,) = rows
    detail = reader.detail(row.id)
    if not isinstance(detail, RotaryRow):
        raise NotPossible(
            f"{row.tag} {row.label} is no drill, reamer, mill or tap",
            "no diameter of it is kept: leave it out",
        )
    was = {"dc_mm": detail.dc_mm, "lf_mm": detail.lf_mm}
    facts = {name: size for name, size in typed.items() if size is not None and size != was[name]}
    if not facts:
        raise NotPossible(f"{row.tag} has that size on record already", "leave it out")
    return Reground(facts=facts, told=_told(row, facts, was, pieces or row.quantity, system))


def _told(
    row: ItemRow, facts: Mapping[str, float], was: Mapping[str, float | None], pieces: int, system: str
) -> str:
    parts = []
    for name, word in (("dc_mm", "diameter"), ("lf_mm", "length")):
        if name in facts:
            before = was[name]
            had = "none on record" if before is None else show(before, Kind.LENGTH, system)
            parts.append(f"{word} {show(facts[name], Kind.LENGTH, system)}, before {had}")
    many = f"of all {pieces} " if pieces > 1 else ""
    named = "dc_mm" in facts and any(sign.isdigit() for sign in row.label)
    return f"Now {many}{'; '.join(parts)}." + (f" Its name is still {row.label!r}." if named else "")


def record(do: Doing, item_id: int, new: Reground | None, why: str = "") -> None:
    """Append the line of a new size to a doing; nothing for none."""
    if new is not None:
        facts: dict[str, Any] = {f"to_{name}": size for name, size in new.facts.items()}
        do.record(item_id, "reground", why=why.strip() or None, **facts)
