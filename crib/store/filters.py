"""What a search may ask for, and its WHERE: fields from closed lists, values always as parameters."""

from collections.abc import Callable, Sequence
from datetime import date
from typing import NamedTuple

from crib.store import search, sql
from crib.store.words import PATH_JOINT

_SAME = 0.01  # mm or degrees: sizes closer than this are the same size
_LAST_SIGN = "\U0010ffff"

# field → the columns it may stand in, by table ("item" or a detail table)
RANGE_FIELDS: dict[str, tuple[str, ...]] = {
    "ic_mm": ("item",),
    "l_mm": ("item",),
    "an_deg": ("item",),
    "quantity": ("item",),
    "edges_left": ("item",),
    "re_mm": ("insert_detail", "bit_detail"),
    "s_mm": ("insert_detail",),
    "epsr_deg": ("insert_detail",),
    "h_mm": ("holder_detail",),
    "b_mm": ("holder_detail",),
    "lf_mm": ("holder_detail", "bar_detail", "rotary_detail"),
    "dmin_mm": ("holder_detail", "bar_detail"),
    "dcon_mm": ("bar_detail",),
    "reach_mm": ("bar_detail",),
    "kapr_deg": ("holder_detail", "bar_detail", "bit_detail"),
    "shank_mm": ("bit_detail",),
    "dc_mm": ("rotary_detail",),
    "covers_mm": ("gauge_detail",),
}
EQUAL_FIELDS: dict[str, tuple[str, ...]] = {
    "style": ("holder_detail", "bar_detail"),
    "clamping": ("holder_detail", "bar_detail"),
    "type_letter": ("insert_detail",),
    "tolerance": ("insert_detail",),
    "grade": ("insert_detail",),
    "chipbreaker": ("insert_detail",),
    "edge_condition": ("insert_detail",),
    "tool_material": ("insert_detail", "bit_detail", "rotary_detail"),
    "shank_type": ("bar_detail",),
    "shank_material": ("bar_detail",),
    "measures": ("gauge_detail",),
    "what": ("rotary_detail",),
}


class Range(NamedTuple):
    """A size between two bounds, both included; an open bound is None.

    Attributes:
        field: one of RANGE_FIELDS; for covers_mm the gauge's range must hold low to high.
        low: least.
        high: greatest.
    """

    field: str
    low: float | None = None
    high: float | None = None


class Filters(NamedTuple):
    """What is looked for; all of it must hold.

    Attributes:
        tokens: from search.query_tokens.
        beginnings: a token may be the beginning of a word (search.SHORTEST_BEGINNING letters and more).
        exact: from search.compact: a tag or designation like it comes first.
        kinds: any of words.ITEM_KINDS.
        hands: any of words.HANDS.
        conditions: any of words.CONDITIONS.
        owner_ids: any of these owners.
        held_by_id: lent to whom.
        lent: True for what is lent out, False for what isn't.
        due_before: promised back before that day.
        site_id: on that site.
        not_site_id: on any other site.
        place: path of a place; itself and all below.
        tag: the shop's own number, without regard to blanks, dashes and case.
        codes: designations in the form of search.compact; any of them.
        code_starts: what a designation in that form begins with; any of them.
        sc: insert shape letter that it is or takes.
        an_deg: clearance angle.
        ic_mm: inscribed circle.
        ranges: sizes.
        equals: field of EQUAL_FIELDS and value, without regard to case.
        emptied: batches without a piece left too: boxes that ran out, parts that went back to theirs.
        limit: rows of a page.
        offset: rows before the page.
    """

    tokens: tuple[str, ...] = ()
    beginnings: bool = False
    exact: str = ""
    kinds: tuple[str, ...] = ()
    hands: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    owner_ids: tuple[int, ...] = ()
    held_by_id: int | None = None
    lent: bool | None = None
    due_before: date | None = None
    site_id: int | None = None
    not_site_id: int | None = None
    place: str = ""
    tag: str = ""
    codes: tuple[str, ...] = ()
    code_starts: tuple[str, ...] = ()
    sc: str | None = None
    an_deg: float | None = None
    ic_mm: float | None = None
    ranges: tuple[Range, ...] = ()
    equals: tuple[tuple[str, str], ...] = ()
    emptied: bool = True
    limit: int = 50
    offset: int = 0


class Where:
    """A WHERE under construction: conditions and their parameters."""

    def __init__(self) -> None:
        self.conditions: list[str] = []
        self.values: dict[str, object] = {}

    def value(self, value: object) -> str:
        """Take a value in and give its placeholder."""
        name = f"v{len(self.values)}"
        self.values[name] = value
        return ":" + name

    def add(self, column: str, operator: str, value: object) -> None:
        """Ask for a comparison; nothing is asked for with None."""
        if value is not None:
            self.conditions.append(f"{column} {operator} {self.value(value)}")

    def any_of(self, column: str, values: Sequence[object]) -> None:
        """Ask for any of some values."""
        if values:
            self.conditions.append(f"{column} IN ({', '.join(self.value(value) for value in values)})")

    def text(self) -> str:
        """Give the whole WHERE; empty when all is wanted."""
        return "WHERE " + " AND ".join(self.conditions) if self.conditions else ""


def page_query(asked: Filters, engine: str) -> tuple[str, str, dict[str, object]]:
    """Give the query for a page, the query for the total, and their parameters.

    The page's last column is the total; NULL where everything is asked for and a page need not read it all.

    Args:
        asked: what is looked for.
        engine: "sqlite" or "postgresql".
    """
    hits, where, values = hits_of(asked, engine)
    count = sql.COUNT.format(hits=hits, where=where)
    stock = where
    if not asked.emptied:
        begun = f"{where} AND" if where else "WHERE"
        stock, gone = f"{begun} {sql.NOT_EMPTIED}", f"{begun} {sql.EMPTIED}"
        # the few that are empty are found by an index of their own; the others' indexes hold no quantity
        count = f"SELECT ({count}) - ({sql.COUNT.format(hits=hits, where=gone)})"
    if not where and not asked.exact:
        total = "NULL"
    elif _of_one_kind(asked):
        total = f"({count})"  # an index gives page and total in order: twenty times as quick as sorting all
    else:
        total = "count(*) OVER ()"
    # without a rank the index on (norm, id) gives the order by itself
    rank, order = (sql.RANK, "rank, norm, id") if asked.exact else ("0", "item.norm, item.id")
    page = sql.PAGE.format(place=rank, total=total, hits=hits, where=stock, order=order)
    return page, count, values


def _of_one_kind(asked: Filters) -> bool:
    """Tell whether one kind is asked for, narrowed by nothing but what the index ix_item_facets holds."""
    return len(asked.kinds) == 1 and asked == Filters(
        beginnings=asked.beginnings,
        kinds=asked.kinds,
        hands=asked.hands,
        conditions=asked.conditions,
        lent=asked.lent,
        site_id=asked.site_id,
        not_site_id=asked.not_site_id,
        emptied=asked.emptied,
        limit=asked.limit,
        offset=asked.offset,
    )


def hits_of(asked: Filters, engine: str) -> tuple[str, str, dict[str, object]]:
    """Give FROM and WHERE of what answers, and their parameters.

    Args:
        asked: what is looked for.
        engine: "sqlite" or "postgresql".
    """
    where = Where()
    if asked.tokens:
        make = search.sqlite_match if engine == "sqlite" else search.postgres_match
        match = make(asked.tokens, asked.beginnings)
        where.conditions.append(sql.MATCH[engine] if match else "1 = 0")
        where.values["match"] = match
    _of_item(asked, where)
    _of_place(asked, where)
    for size in asked.ranges:
        _range(size, where)
    for field, value in asked.equals:
        _equal(field, value, where)
    return sql.HITS[engine, bool(asked.tokens)], where.text(), where.values


def page_only(asked: Filters) -> dict[str, object]:
    """Give the parameters that the page has and the total has not."""
    own: dict[str, object] = {"limit": asked.limit, "offset": asked.offset}
    return own | {"exact": asked.exact} if asked.exact else own


def _of_item(asked: Filters, where: Where) -> None:
    where.any_of("item.kind", asked.kinds)
    where.any_of("item.hand", asked.hands)
    where.any_of("item.condition", asked.conditions)
    where.any_of("item.code", asked.codes)
    if asked.code_starts:
        starts = (_begins("item.code", start, where) for start in asked.code_starts)
        where.conditions.append(f"({' OR '.join(starts)})")
    where.add("item.tag_code", "=", search.compact(asked.tag) if asked.tag else None)
    where.add("item.sc", "=", asked.sc)
    for column, size in (("item.ic_mm", asked.ic_mm), ("item.an_deg", asked.an_deg)):
        if size is not None:
            where.conditions.append(_between(column, size - _SAME, size + _SAME, where))


def _of_place(asked: Filters, where: Where) -> None:
    where.any_of("item.owner_id", asked.owner_ids)
    where.add("item.held_by_id", "=", asked.held_by_id)
    if asked.lent is not None:
        where.conditions.append(f"item.held_by_id IS {'NOT ' if asked.lent else ''}NULL")
    where.add("item.due_back", "<", asked.due_before.isoformat() if asked.due_before else None)
    where.add("item.site_id", "=", asked.site_id)
    where.add("item.site_id", "<>", asked.not_site_id)
    if asked.place:
        here, below = where.value(asked.place), asked.place + PATH_JOINT
        where.conditions.append(
            f"item.place_id IN (SELECT id FROM place WHERE path = {here} "
            f"OR substr(path, 1, {where.value(len(below))}) = {where.value(below)})"
        )


def _begins(column: str, start: str, where: Where) -> str:
    """Ask for a beginning as a range, which the index answers; no sign sorts behind the last of Unicode."""
    return f"{column} >= {where.value(start)} AND {column} < {where.value(start + _LAST_SIGN)}"


def _between(column: str, low: float | None, high: float | None, where: Where) -> str:
    parts = []
    if low is not None:
        parts.append(f"{column} >= {where.value(low)}")
    if high is not None:
        parts.append(f"{column} <= {where.value(high)}")
    return " AND ".join(parts) or f"{column} IS NOT NULL"


def _range(size: Range, where: Where) -> None:
    tables = RANGE_FIELDS[size.field]
    if size.field == "covers_mm":
        low = size.high if size.low is None else size.low
        high = size.low if size.high is None else size.high
        where.conditions.append(
            "item.id IN (SELECT item_id FROM gauge_detail "
            f"WHERE low_mm <= {where.value(low)} AND high_mm >= {where.value(high)})"
        )
    elif tables == ("item",):
        where.conditions.append(_between(f"item.{size.field}", size.low, size.high, where))
    else:
        where.conditions.append(_in_details(tables, lambda: _between(size.field, size.low, size.high, where)))


def _equal(field: str, value: str, where: Where) -> None:
    where.conditions.append(
        _in_details(EQUAL_FIELDS[field], lambda: f"lower({field}) = {where.value(value.lower())}")
    )


def _in_details(tables: tuple[str, ...], condition: Callable[[], str]) -> str:
    parts = (f"item.id IN (SELECT item_id FROM {table} WHERE {condition()})" for table in tables)
    return "(" + " OR ".join(parts) + ")"
