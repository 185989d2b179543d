"""Kits: what a job needs, as a list in shop talk. Which tools answer it: kit_match."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING

from crib.desk import lookup
from crib.errors import InputError, NotPossible, UnknownName
from crib.store import stocking
from crib.store.read import Reader, reading
from crib.store.stocking import KitRow

if TYPE_CHECKING:
    from crib.store import models  # SQLAlchemy: asking needs none of it

MOST_LINES = 200
LONGEST = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class KitLine:
    """One need of a kit; `chosen` is the tag of the tool picked for it."""

    line_no: int
    need: str
    quantity: int
    chosen: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """A kit and its needs in order."""

    name: str
    note: str | None
    lines: tuple[KitLine, ...]


def kits(address: str) -> tuple[Kit, ...]:
    """Give every kit, by name."""
    with reading(address) as reader:
        return tuple(_kit(reader, row) for row in stocking.kits(reader))


def kit(address: str, name: str) -> Kit:
    """Give one kit.

    Raises:
        UnknownName: there is none of that name.
    """
    with reading(address) as reader:
        return _kit(reader, kit_row(reader, name))


def new_kit(address: str, name: str, *, note: str = "") -> Kit:
    """Begin a kit.

    Raises:
        InputError: a name that can't be.
        NotPossible: there is one of that name.
    """
    from crib.store.models import Kit as Kept
    from crib.store.writing import writing

    name = _text(name, "name of the kit")
    with reading(address) as reader:
        if any(row.name.lower() == name.lower() for row in stocking.kits(reader)):
            raise NotPossible(f"there is a kit called {name} already", f"crib kit show {name!r}")
    with writing(address) as session:
        session.add(Kept(name=name, note=note.strip() or None))
    return kit(address, name)


def add_need(address: str, name: str, need: str, *, quantity: int = 1, tag: str = "") -> Kit:
    """Add a need to a kit, in shop talk; and the tool for it, if one is chosen already.

    Raises:
        InputError: an empty need, or a count that can't be.
        UnknownName: no such kit or tool.
        NotPossible: the kit is full.
    """
    from crib.store.models import KitLine as Kept

    need = _text(need, "need")
    if not 1 <= quantity <= 10_000:
        raise InputError(f"{quantity} can't be needed", "from 1 to 10000")
    item_id = _item_id(address, tag)

    def change(lines: "list[models.KitLine]") -> None:
        if len(lines) >= MOST_LINES:
            raise NotPossible(f"a kit holds {MOST_LINES} needs", "make another kit")
        number = max((line.line_no for line in lines), default=0) + 1
        lines.append(Kept(line_no=number, need=need, quantity=quantity, item_id=item_id))

    return _changed(address, name, change)


def choose(address: str, name: str, line_no: int, tag: str) -> Kit:
    """Choose the tool for a need; an empty tag leaves the choice open again.

    Raises:
        UnknownName: no such kit, line or tool.
    """
    item_id = _item_id(address, tag)

    def change(lines: "list[models.KitLine]") -> None:
        _line(lines, line_no).item_id = item_id

    return _changed(address, name, change)


def drop_need(address: str, name: str, line_no: int) -> Kit:
    """Take a need off a kit; the others keep their numbers.

    Raises:
        UnknownName: no such kit or line.
    """

    def change(lines: "list[models.KitLine]") -> None:
        lines.remove(_line(lines, line_no))

    return _changed(address, name, change)


def drop_kit(address: str, name: str) -> Kit:
    """Take a kit off the list, and give it as it was. Tools are not touched.

    Raises:
        UnknownName: there is none of that name.
    """
    from crib.store.models import Kit as Kept
    from crib.store.writing import writing

    with reading(address) as reader:
        row = kit_row(reader, name)
        gone = _kit(reader, row)
    with writing(address) as session:
        session.delete(session.get_one(Kept, row.id))
    return gone


def kit_row(reader: Reader, name: str) -> KitRow:
    """Give the kit of this name, without regard to case.

    Raises:
        UnknownName: there is none.
    """
    known = stocking.kits(reader)
    asked = " ".join(name.lower().split())
    for row in known:
        if row.name.lower() == asked:
            return row
    names = [row.name for row in known]
    near = get_close_matches(name, names, n=3) or names[:5]
    raise UnknownName("kit", name, near, hint="" if near else "crib kit new NAME begins one")


def _changed(address: str, name: str, change: "Callable[[list[models.KitLine]], None]") -> Kit:
    from crib.store.models import Kit as Kept
    from crib.store.writing import writing

    with reading(address) as reader:
        row = kit_row(reader, name)
    with writing(address) as session:
        kept = session.get_one(Kept, row.id, with_for_update=True)  # held, or its lines would be let go of
        change(kept.lines)
    return kit(address, row.name)


def _line(lines: "Sequence[models.KitLine]", line_no: int) -> "models.KitLine":
    for line in lines:
        if line.line_no == line_no:
            return line
    raise UnknownName("line", str(line_no), [str(line.line_no) for line in lines][:8])


def _item_id(address: str, tag: str) -> int | None:
    if not tag.strip():
        return None
    with reading(address) as reader:
        return lookup.item(reader, tag).id


def _kit(reader: Reader, row: KitRow) -> Kit:
    lines = []
    for line in row.lines:
        item = reader.item(line.item_id) if line.item_id is not None else None
        lines.append(
            KitLine(
                line_no=line.line_no,
                need=line.need,
                quantity=line.quantity,
                chosen=item.tag if item else None,
            )
        )
    return Kit(name=row.name, note=row.note, lines=tuple(lines))


def _text(typed: str, what: str) -> str:
    text = " ".join(typed.split())
    if not any(sign.isalnum() for sign in text) or len(text) > LONGEST:
        raise InputError(f"the {what} is empty or too long", f"up to {LONGEST} characters")
    return text
