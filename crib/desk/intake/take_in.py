"""Taking stock in: one line typed or scanned becomes one tool or batch on record.

A line is a code, then how many and whose, in any order: `CNMG 120408 x10 of Ada`, `MWLNL 2525 M08 worn`,
`kind=spare label="shim 12.7" x6`. Any column of the items list may be said as column=value.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select

from crib.desk import lookup
from crib.desk.asking.ask import Asker
from crib.desk.asking.codes import label_of
from crib.desk.doings.batch import copy_of
from crib.desk.doings.doing import Doing, Done, doing, done
from crib.desk.intake.lists import ITEM_COLUMNS, ListRow
from crib.desk.intake.new_item import RowError, new_item, reading_of, refuse_edges
from crib.desk.intake.scanned import scanned
from crib.desk.intake.tags import is_taken, next_tag
from crib.errors import InputError, NotPossible
from crib.store import ledger
from crib.store.filters import Filters
from crib.store.models import Item
from crib.store.read import Reader, reading
from crib.store.rows import ItemRow, PartyRow, PlaceRow
from crib.store.search import compact
from crib.store.words import CONDITIONS
from crib.trade.designation.reading import InsertReading, Reading
from crib.units.counts import many

LONGEST_LINE = 2_000
MOST_PIECES = 100_000
_SHORT = {"at": "place", "edges": "edges_left", "breaker": "chipbreaker", "count": "quantity"}
_OWN = ("mark", "serial", "note", "label")  # what a like tool may say otherwise
_PAIR = re.compile(r'(?<!\S)([A-Za-z_]+)=("[^"]*"|\S*)')
_COUNT = re.compile(r"(?<!\S)(?:[x×*]\s?(\d+)|(\d+)\s?[x×*]|(\d+) (?:pcs|pieces|off))(?!\S)", re.IGNORECASE)
_EDGES = re.compile(r"(?<!\S)(\d+) edges?(?!\S)", re.IGNORECASE)
_OWNER = re.compile(r"(?<!\S)of ([^\s,;][^,;]*)(?:$|[,;]\s?)", re.IGNORECASE)
_STOP = re.compile(r"[,;]+(?!\S)")  # between what is said; a comma inside a size or code is none


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """What one line was understood as; nothing is written yet.

    Attributes:
        text: the line.
        says: what it says, in one line.
        also: what is on record of the same code already; empty where nothing is.
        values: the columns of the items list.
        like: the tag of the tool that it is like; empty where a code is read.
        owner: whose it is.
        place: where it will lie.
        read: its code as read.
    """

    text: str
    says: str
    also: str
    values: Mapping[str, Any]
    like: str
    owner: PartyRow
    place: PlaceRow
    read: Reading | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """One line that was kept: the tag it got, what it was understood as, and the doing."""

    tag: str
    says: str
    also: str
    done: Done


def read_line(text: str, system: str = "metric") -> dict[str, Any]:
    """Cut a line into the columns of the items list.

    Args:
        text: as typed or scanned.
        system: "metric" or "inch": what bare numbers mean.

    Raises:
        InputError: there is nothing, or a column or value that can't be.
    """
    if len(text) > LONGEST_LINE:
        raise InputError(f"the line holds {len(text)} characters", f"at most {LONGEST_LINE}")
    rest = scanned(text)
    said: dict[str, str] = {}
    for pair in _PAIR.finditer(rest):
        name = _SHORT.get(pair[1].lower(), pair[1].lower())
        if name not in ITEM_COLUMNS:
            raise InputError(f"there is no column {pair[1]!r}", "columns: " + ", ".join(ITEM_COLUMNS))
        said[name] = pair[2].strip('"').strip()
    rest = _PAIR.sub(" ", rest)
    if found := _OWNER.search(rest):
        said["owner"] = found[1].strip()
        rest = f"{rest[: found.start()]} {rest[found.end() :]}"
    rest = _STOP.sub(" ", rest)
    for name, pattern in (("quantity", _COUNT), ("edges_left", _EDGES)):
        if found := pattern.search(rest):
            said[name] = next(part for part in found.groups() if part)
            rest = f"{rest[: found.start()]} {rest[found.end() :]}"
    words = rest.split()
    while words and words[-1].lower() in CONDITIONS:
        said["condition"] = words.pop()
    if words:
        said["code"] = " ".join(words)
    if not (values := read_columns(said, system)):
        raise InputError("the line holds no code", "for example: CNMG 120408 x10")
    return values


def read_columns(said: Mapping[str, str], system: str) -> dict[str, Any]:
    """Turn columns of the items list from text to values; empty ones are left out.

    Raises:
        RowError: one can't be read.
    """
    values = {}
    for name, text in said.items():
        try:
            if text:
                values[name] = ITEM_COLUMNS[name](text, system)
        except InputError as error:
            raise RowError(name, f"{name}: {error.message}; {error.hint}") from error
    return values


def understand(
    address: str, text: str, *, owner: str = "", at: str = "", like: str = "", system: str = "", **more: Any
) -> Understood:
    """Say what a line means; nothing is written.

    Args:
        address: the store.
        text: the line; may be empty with `like`.
        owner: whose, where the line doesn't say; the setting `me` if neither does.
        at: where, where the line doesn't say; the site we are at if neither does.
        like: the tag of a tool on record that this one is like.
        system: "metric" or "inch": what bare numbers mean; else the setting.
        more: further columns of the items list, as values; the line wins.

    Raises:
        InputError: the line can't be read, or names what is not on record.
        NotPossible: it doesn't say whose it is or where it lies, and no setting does.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        settings = reader.settings()
        read_as = system or settings.get("units", "metric")
        typed = {name: value for name, value in more.items() if value not in (None, "")}
        values = {**typed, **(read_line(text, read_as) if text.strip() or not like else {})}
        party, place = _whose_and_where(reader, values.get("owner", owner), values.get("place", at))
        source = lookup.item(reader, like) if like else None
        if source is not None and (values.get("code") or values.get("kind")):
            raise InputError(f"a code stands beside {source.tag}, to be copied", "say one or the other")
        read = None if source is not None else reading_of(_row(values))
        _refuse(values, source, read)
        return Understood(
            text=scanned(text),
            says=_says(values, source, read, party, place),
            also=_also(reader, source.designation if source else read.designation if read else None),
            values=_with_edges(values, read),
            like=source.tag if source else "",
            owner=party,
            place=place,
            read=read,
        )


def whose_and_where(address: str, owner: str, at: str) -> tuple[PartyRow, PlaceRow]:
    """Give the person and the place that are called so; who and where we are for what is empty.

    Raises:
        UnknownName: nobody, or no place, is called so.
        NotPossible: it is empty, and no setting says.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        return _whose_and_where(reader, owner, at)


def keep(address: str, line: Understood) -> Added:
    """Put what was understood on record, under its own tag or the next free one of its kind.

    Raises:
        InputError: its tag is on record already, or its edges can't be.
        StoreError: the store can't be used.
    """
    values = line.values
    with doing(address) as do:
        if line.like:
            source = do.session.scalars(select(Item).where(Item.tag == line.like)).one()
            item = copy_of(source, _tag(do, values.get("tag"), source.kind))
            item.serial = None  # each has its own
            for name in _OWN:
                if name in values:
                    setattr(item, name, values[name])
            if item.insert is not None:
                item.insert.grade = values.get("grade", item.insert.grade)
                item.insert.chipbreaker = values.get("chipbreaker", item.insert.chipbreaker)
        else:
            kind = line.read.kind if line.read else values["kind"]
            item = new_item(_row({**values, "tag": _tag(do, values.get("tag"), kind)}), line.read)
        quantity = values.get("quantity", 1)
        refuse_edges(item, quantity, values.get("edges_left"))
        start = ledger.Start(
            at=do.at, owner_id=line.owner.id, place_id=line.place.id, actor_id=do.me_id, act=do.act,
            condition=values.get("condition", "good"), quantity=quantity, why="taken in",
            edges_left=values.get("edges_left"),
        )  # fmt: skip
        ledger.add(do.session, item, start)
        do.session.flush()
        do.touched.append(item.id)
        tag = item.tag
    kept = done(address, do, f"{tag}: {line.says}", line.also)
    return Added(tag=tag, says=line.says, also=line.also, done=kept)


# -- what a line says -------------------------------------------------------------------------------------


def _row(values: Mapping[str, Any]) -> ListRow:
    return ListRow(file="", line=0, values=values)


def _whose_and_where(reader: Reader, owner: str, at: str) -> tuple[PartyRow, PlaceRow]:
    party = lookup.party(reader, owner) if owner else lookup.me(reader)
    if party is None:
        raise NotPossible("it is not said whose it is", "say --owner NAME, or once: crib setting me NAME")
    site_id = Asker(reader).here()
    if at:
        return party, lookup.place(reader, at, site_id=site_id)
    for place in reader.places():
        if place.id == site_id:
            return party, place
    raise NotPossible("it is not said where it lies", "say --at PLACE, or once: crib setting site NAME")


def _refuse(values: Mapping[str, Any], source: ItemRow | None, read: Reading | None) -> None:
    """Refuse counts that can't be before anybody relies on the reading."""
    quantity = values.get("quantity", 1)
    if not 1 <= quantity <= MOST_PIECES:
        raise RowError("quantity", f"{quantity} pieces can't be taken in: one to {MOST_PIECES:,}")
    if "lent_to" in values or "due_back" in values:
        raise RowError("lent_to", "take it in first, then lend it: crib lend")
    kind = read.kind if read else source.kind if source else values.get("kind")
    edges = values.get("edges_left")
    if edges is not None and kind != "insert":
        raise RowError("edges_left", "edges are counted for inserts only")
    if edges is not None and isinstance(read, InsertReading) and read.CEDC and edges > read.CEDC * quantity:
        raise RowError(
            "edges_left", f"{many(edges, 'edge')} are more than {quantity} x {read.CEDC} of this code"
        )


def _with_edges(values: Mapping[str, Any], read: Reading | None) -> Mapping[str, Any]:
    """Count the edges of new inserts: all are fresh."""
    is_new = values.get("condition") == "new" and values.get("edges_left") is None
    if is_new and isinstance(read, InsertReading) and read.CEDC:
        return {**values, "edges_left": read.CEDC * values.get("quantity", 1)}
    return values


def _says(
    values: Mapping[str, Any], source: ItemRow | None, read: Reading | None, owner: PartyRow, place: PlaceRow
) -> str:
    """Say in one line what was understood, codes in both systems."""
    if read is not None:
        other = f" = {read.equivalent}" if read.equivalent else ""
        what = f"{read.designation}{other}, {values.get('label') or label_of(read)}"
    elif source is not None:
        what = f"like {source.tag}, {source.designation or values.get('label') or source.label}"
    else:
        what = values.get("label") or values.get("code") or values["kind"]
    edges = _with_edges(values, read).get("edges_left")
    parts = [
        what,
        *(values[name] for name in ("grade", "chipbreaker", "condition") if name in values),
        f"{values.get('quantity', 1)} pieces" if values.get("quantity", 1) != 1 else "",
        many(edges, "edge") if edges is not None else "",
        f"mark {values['mark']}" if "mark" in values else "",
        f"{owner.name}'s",
        f"at {place.path}",
    ]
    return ", ".join(part for part in parts if part)


def _also(reader: Reader, designation: str | None) -> str:
    """Say what is on record of the same code already: it may be the one in hand."""
    if not designation:
        return ""
    found = reader.find_items(Filters(codes=(compact(designation),), limit=3))
    if not found.total:
        return ""
    named = "; ".join(f"{row.tag} x{row.quantity}, {row.owner}'s, {row.place}" for row in found.rows)
    more = f"; {found.total - 3} more" if found.total > 3 else ""
    return f"On record already: {named}{more}"


def _tag(do: Doing, wanted: str | None, kind: str) -> str:
    """Give the tag that is wanted, or the next free one as the shop numbers this kind."""
    if not wanted:
        return next_tag(do.session, kind)
    if is_taken(do.session, wanted):
        raise RowError("tag", f"{wanted} is on record already")
    return wanted
