"""The reading path: SQL text on the bare driver, no SQLAlchemy, because a command's start-up is waited for.

with reading(url) as crib:
    found = crib.find_items(Filters(tokens=query_tokens("left hand wnmg")))
"""

from __future__ import annotations  # the rows named below are loaded when first needed

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime
from typing import Any

from crib.store import rows, sql
from crib.store.address import Address, parse
from crib.store.connect import open_postgres
from crib.store.faults import translated
from crib.store.filters import Filters, hits_of, page_only, page_query
from crib.store.rows import Found, ItemRow, PartyRow, PlaceRow
from crib.store.upgrade import HEAD, judge, open_store, reading_sqlite

_NAMED = re.compile(r":([a-z]\w*)")
_DUE_BACK = ItemRow._fields.index("due_back")
_Row = Sequence[Any]


class Reader:
    """One open connection to a store, for reading. Each call sees what was committed when it began."""

    def __init__(self, engine: str, connection: Any) -> None:
        self._engine = engine
        self._connection = connection

    def ask(self, text: str, values: Mapping[str, object] | None = None) -> list[Any]:
        """Run one query and give all its rows.

        Args:
            text: SQL with :name parameters.
            values: the parameters.
        """
        if self._engine == "sqlite":
            return list(self._connection.execute(text, values or {}))
        return list(self._connection.execute(_NAMED.sub(r"%(\1)s", text), values or {}))

    def find_items(self, asked: Filters) -> Found:
        """Give one page of the items that answer, and how many there are.

        Args:
            asked: what is looked for.

        Returns:
            Rows in order: like `exact` first, then by normalised designation, then by number; may be empty.
        """
        page, count, values = page_query(asked, self._engine)
        found = self.ask(page, values | page_only(asked))
        items = tuple(_item(row[:-1]) for row in found)
        if found and found[0][-1] is not None:
            return Found(items, found[0][-1])
        if items and len(items) < asked.limit:
            return Found(items, asked.offset + len(items))
        if not items and not asked.offset and asked.limit:
            return Found((), 0)
        return Found(items, self.ask(count, values)[0][0])

    def codes(self, asked: Filters) -> tuple[str, ...]:
        """Give the different designations of all items that answer; pages are of no account."""
        hits, where, values = hits_of(asked, self._engine)
        return tuple(code for (code,) in self.ask(sql.CODES.format(hits=hits, where=where), values) if code)

    def words(self, asked: Filters, letters: str) -> set[str]:
        """Give the search words, without tags, of as many items that answer as `limit` says.

        Args:
            asked: which items.
            letters: any of these the words begin with.
        """
        hits, where, values = hits_of(asked, self._engine)
        found = self.ask(sql.TOKENS.format(hits=hits, where=where), values | {"limit": asked.limit})
        text = " " + " ".join([tok for tok, _ in found])
        # by a pattern that begins with two fixed signs: an eighth of the time of cutting up each text
        words = {
            word for letter in set(letters) for word in re.findall(rf" ({re.escape(letter)}[^ ]*)", text)
        }
        return words.difference([tag for _, tag in found])

    def item(self, item_id: int) -> ItemRow | None:
        """Give one item, or None."""
        found = self.ask(sql.ITEM, {"id": item_id})
        return _item(found[0]) if found else None

    def detail(
        self, item_id: int
    ) -> rows.HolderRow | rows.BarRow | rows.BitRow | rows.InsertRow | rows.RotaryRow | rows.GaugeRow | None:
        """Give one item with the detail of its kind, or None where it has none."""
        item = self.item(item_id)
        if item is None or item.kind not in sql.DETAILS:
            return None
        where, values = "WHERE item.id = :id", {"id": item_id}
        if item.kind == "gauge":
            found: Sequence[Any] = self._gauges(where, "WHERE gauge_item_id = :id", values)
        else:
            kinds = {
                "holder": rows.HolderRow,
                "bar": rows.BarRow,
                "bit": rows.BitRow,
                "insert": rows.InsertRow,
                "rotary": rows.RotaryRow,
            }
            found = self._detailed(item.kind, kinds[item.kind], where, values)
        return found[0] if found else None

    def tooling(self, site_id: int | None = None) -> rows.Tooling:
        """Give every holder, bar, bit and insert with its details.

        Args:
            site_id: of that site only; None for all.
        """
        where = "" if site_id is None else "WHERE item.site_id = :site_id"
        values: dict[str, object] = {} if site_id is None else {"site_id": site_id}
        return rows.Tooling(
            holders=self._detailed("holder", rows.HolderRow, where, values),
            bars=self._detailed("bar", rows.BarRow, where, values),
            bits=self._detailed("bit", rows.BitRow, where, values),
            inserts=self._detailed("insert", rows.InsertRow, where, values),
        )

    def gauges(self) -> tuple[rows.GaugeRow, ...]:
        """Give every gauge with its rods and last check."""
        return self._gauges("", "", {})

    def parties(self) -> tuple[PartyRow, ...]:
        """Give all parties by name."""
        return tuple(PartyRow._make((*row[:-1], as_day(row[-1]))) for row in self.ask(sql.PARTIES))

    def places(self) -> tuple[PlaceRow, ...]:
        """Give all places by path."""
        return tuple(PlaceRow._make(row) for row in self.ask(sql.PLACES))

    def machines(self) -> tuple[rows.MachineRow, ...]:
        """Give all machines by path, with speeds and feeds from low to high."""
        speeds, feeds = _grouped(self.ask(sql.MACHINE_SPEEDS)), _grouped(self.ask(sql.MACHINE_FEEDS))
        flag = rows.MachineRow._fields.index("facing_head")
        return tuple(
            rows.MachineRow._make(
                (
                    *row[:flag],
                    bool(row[flag]),
                    *row[flag + 1 :],
                    tuple(n for (n,) in speeds.get(row[0], ())),
                    tuple(f for (f,) in feeds.get(row[0], ())),
                )
            )
            for row in self.ask(sql.MACHINES)
        )

    def settings(self) -> dict[str, str]:
        """Give the choices of this store by key."""
        return dict(self.ask(sql.SETTINGS))

    def proven(self, material: str = "", *, withdrawn: bool = False) -> tuple[rows.ProvenRow, ...]:
        """Give the shop's own proven speeds, oldest first.

        Args:
            material: of that material only, by its id in the tables; empty for all.
            withdrawn: those that were withdrawn too.
        """
        tests = ["proven.material = :material"] * bool(material)
        tests += ["proven.withdrawn_at IS NULL"] * (not withdrawn)
        where = "WHERE " + " AND ".join(tests) if tests else ""
        found = self.ask(sql.PROVEN.format(where=where), {"material": material} if material else {})
        gone = rows.ProvenRow._fields.index("withdrawn_at")
        return tuple(
            rows.ProvenRow._make(
                (
                    row[0],
                    as_moment(row[1]),
                    *row[2:gone],
                    None if row[gone] is None else as_moment(row[gone]),
                    *row[gone + 1 :],
                )
            )
            for row in found
        )

    def setups(self) -> tuple[rows.SetupRow, ...]:
        """Give the kept set-ups by name, each with all its measurements, oldest first."""
        points = _grouped(self.ask(sql.SETUP_POINTS))
        return tuple(
            rows.SetupRow._make(
                (
                    *row,
                    tuple(
                        rows.SetupPointRow._make((number, as_moment(at), *rest))
                        for number, at, *rest in points.get(row[0], ())
                    ),
                )
            )
            for row in self.ask(sql.SETUPS)
        )

    def cuts(
        self, *, material: str = "", setup_id: int | None = None, withdrawn: bool = False
    ) -> tuple[rows.CutRow, ...]:
        """Give logged cuts, oldest first.

        Args:
            material: in that material only, by its id in the tables; empty for all.
            setup_id: on that set-up only; None for all.
            withdrawn: those that were withdrawn too.
        """
        values: dict[str, object] = {}
        tests = ["cut.withdrawn_at IS NULL"] * (not withdrawn)
        if material:
            tests.append("cut.material = :material")
            values["material"] = material
        if setup_id is not None:
            tests.append("cut.setup_id = :setup_id")
            values["setup_id"] = setup_id
        where = "WHERE " + " AND ".join(tests) if tests else ""
        gone = rows.CutRow._fields.index("withdrawn_at")
        return tuple(
            rows.CutRow._make(
                (
                    row[0],
                    as_moment(row[1]),
                    *row[2:gone],
                    None if row[gone] is None else as_moment(row[gone]),
                    *row[gone + 1 :],
                )
            )
            for row in self.ask(sql.CUTS.format(where=where), values)
        )

    def ledger_of(self, item_id: int) -> tuple[rows.LedgerRow, ...]:
        """Give an item's story, oldest line first."""
        due = rows.LedgerRow._fields.index("due_back")
        return tuple(
            rows.LedgerRow._make((row[0], as_moment(row[1]), *row[2:due], as_day(row[due]), *row[due + 1 :]))
            for row in self.ask(sql.LEDGER, {"item_id": item_id})
        )

    def tags_of_act(self, act: str, *, but: int) -> tuple[str, ...]:
        """Give the tags of the tools that one doing touched, but for one of them."""
        return tuple(tag for (tag,) in self.ask(sql.ACT_TAGS, {"act": act, "but": but}))

    def recent(self, most: int) -> tuple[rows.RecentRow, ...]:
        """Give the lines of the last doings, the latest doing first, its lines in order.

        Args:
            most: so many doings at most.
        """
        return tuple(
            rows.RecentRow._make((act, line, as_moment(at), *rest))
            for act, line, at, *rest in self.ask(sql.RECENT, {"most": most})
        )

    def claimed_items(self) -> set[int]:
        """Give the items with a claim that is not over."""
        return {item_id for (item_id,) in self.ask(sql.CLAIMED)}

    def stocktakes(self) -> tuple[rows.StocktakeRow, ...]:
        """Give the counts of places that are under way, the first begun first."""
        return tuple(
            rows.StocktakeRow._make((*row[:3], as_moment(row[3]), row[4])) for row in self.ask(sql.STOCKTAKES)
        )

    def stocktake_counts(self, stocktake_id: int) -> dict[int, tuple[int, int | None]]:
        """Give the newest count of each item of a stocktake: pieces and edges, in the order first counted."""
        found = self.ask(sql.STOCKTAKE_COUNTS, {"stocktake_id": stocktake_id})
        return {item_id: (pieces, edges) for item_id, pieces, edges in found}

    def out(self) -> tuple[rows.OutRow, ...]:
        """Give every tool that somebody has, the one longest out first."""
        width = sql.ITEM_WIDTH
        return tuple(
            rows.OutRow._make((_item(row[:width]), as_moment(row[width]), *row[width + 1 :]))
            for row in self.ask(sql.OUT)
        )

    def _detailed(
        self, kind: str, row_type: Any, where: str, values: Mapping[str, object]
    ) -> tuple[Any, ...]:
        width = sql.ITEM_WIDTH
        return tuple(
            row_type._make((_item(row[:width]), *row[width:]))
            for row in self.ask(sql.detailed(kind, where), values)
        )

    def _gauges(
        self, where: str, where_parts: str, values: Mapping[str, object]
    ) -> tuple[rows.GaugeRow, ...]:
        rods = _grouped(self.ask(sql.RODS.format(where=where_parts), values))
        checks = _grouped(self.ask(sql.CHECKS.format(where=where_parts), values))
        width = sql.ITEM_WIDTH
        found = []
        for row in self.ask(sql.detailed("gauge", where), values):
            own = tuple(rows.RodRow._make((*rod[:-1], bool(rod[-1]))) for rod in rods.get(row[0], ()))
            done = checks.get(row[0])
            last = (
                rows.CheckRow(_sure_day(done[-1][0]), done[-1][1], as_day(done[-1][2]), done[-1][3])
                if done
                else None
            )
            found.append(rows.GaugeRow._make((_item(row[:width]), *row[width:], own, last)))
        return tuple(found)


@contextmanager
def reading(url: str) -> Iterator[Reader]:
    """Open a store for reading; an older one is upgraded first.

    Args:
        url: a path or a postgresql:// address.

    Raises:
        StoreMissing: there is no store.
        StoreNewer: a newer crib wrote it.
        StoreDamaged: it is damaged or of another program.
        StoreReadOnly: we may not read it, or it is older and we may not write it.
        StoreBusy: a writer held it too long.
    """
    address = parse(url)
    with translated(address):
        reader, connection = _open(address, url)
        try:
            yield reader
        finally:
            connection.close()


def _open(address: Address, url: str) -> tuple[Reader, Any]:
    reader, connection = _connect(address)
    try:
        if judge(address, reader.ask) != HEAD:
            connection.close()
            open_store(url)  # upgrades an older one; says what is wrong otherwise
            return _connect(address)
    except BaseException:
        connection.close()
        raise
    return reader, connection


def _connect(address: Address) -> tuple[Reader, Any]:
    if address.is_file:
        connection: Any = reading_sqlite(address)
        return Reader("sqlite", connection), connection
    connection = open_postgres(address.dsn)
    connection.autocommit = True
    return Reader("postgresql", connection), connection


def _item(row: _Row) -> ItemRow:
    due = row[_DUE_BACK]
    if isinstance(due, str):
        return ItemRow._make((*row[:_DUE_BACK], date.fromisoformat(due), *row[_DUE_BACK + 1 :]))
    return ItemRow._make(row)


def as_day(value: str | date | None) -> date | None:
    """Give a day as either engine keeps it."""
    return date.fromisoformat(value) if isinstance(value, str) else value


def _sure_day(value: str | date) -> date:
    return date.fromisoformat(value) if isinstance(value, str) else value


def as_moment(value: str | datetime) -> datetime:
    """Give a moment as either engine keeps it, in UTC."""
    if isinstance(value, str):
        return datetime.fromisoformat(value).replace(tzinfo=UTC)
    return value.astimezone(UTC)


def _grouped(found: list[Any]) -> dict[int, list[Any]]:
    """Group rows by their first column, which is left out."""
    groups: dict[int, list[Any]] = {}
    for row in found:
        groups.setdefault(row[0], []).append(row[1:])
    return groups
