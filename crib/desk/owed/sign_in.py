"""The sheet of tools that were brought in, or taken home: what is on it for whom to sign."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from crib.desk import lookup
from crib.desk.asking.ask import Asker, FoundItem
from crib.desk.dates import read_day, today
from crib.desk.owed import evidence
from crib.desk.owed.evidence import Proof
from crib.desk.owed.worth import Value, values
from crib.errors import NothingFound
from crib.store import papers
from crib.store.filters import Filters
from crib.store.papers import SignedRow
from crib.store.read import Reader, reading
from crib.store.rows import ItemRow
from crib.units.money import total

MOST = 100_000
WORDS = {"bring-in": "brought in", "take-home": "taken home"}  # sheet -> what the ledger calls it
# what a value on the sheet is taken from, the first that is on record; the sheet says which
_SHEET_VALUES = ("agreed", "replacement", "by age", "paid")


@dataclass(frozen=True, slots=True, kw_only=True)
class SignedTool:
    """One tool on the sheet.

    Attributes:
        item: the tool.
        on: the day it came or went; null for one that is here, and nobody recorded how it came.
        place: where to; where it lies, for such a one.
        told: who was told of it.
        why: what for.
        value: of one piece, the first on record of agreed, replacement, by age, paid; null if none is.
        photos: numbers of its photos.
    """

    item: FoundItem
    on: date | None
    place: str
    told: str | None
    why: str | None
    value: Value | None
    photos: tuple[Proof, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SignSheet:
    """A sheet to sign.

    Attributes:
        sheet: bring-in or take-home.
        owner: whose tools.
        site: where we are.
        on: the day the sheet is made.
        chosen: which tools are on it, in words.
        tools: in the order in which they came.
        sums: of the values, one a currency; quantities reckoned in.
        not_valued: tags of tools without a value.
        not_recorded: tags of tools that are here without a bring-in on record.
    """

    sheet: str
    owner: str
    site: str
    on: date
    chosen: str
    tools: tuple[SignedTool, ...]
    sums: tuple[str, ...]
    not_valued: tuple[str, ...]
    not_recorded: tuple[str, ...]


def sign_sheet(address: str, sheet: str, *, act: str = "", since: str = "", owner: str = "") -> SignSheet:
    """Give the tools for a sheet: those of one doing, those since a day, or all of mine that are here.

    Args:
        address: the store.
        sheet: bring-in or take-home.
        act: the word of one doing, as `crib bring` told it.
        since: a day; as of it all that came, or went.
        owner: whose tools; mine, if not told.

    Raises:
        NothingFound: there is none.
        NotPossible: who we are, or which site we are at, is not set.
        UnknownName: nobody of that name.
        BadDate: the day can't be read.
    """
    with reading(address) as reader:
        whose = lookup.party(reader, owner) if owner else lookup.me_or_refuse(reader)
        asker = Asker(reader)
        here = asker.here_or_refuse()
        day = read_day(since, on=today(), ahead=False) if since else None
        # of a tool that came several times, the last time counts
        lines = {line.item_id: line for line in papers.signed(reader, WORDS[sheet])}
        wanted: list[tuple[ItemRow, SignedRow | None]] = []
        if whole := sheet == "bring-in" and not act and day is None:
            asked = Filters(owner_ids=(whose.id,), site_id=here, emptied=False, limit=MOST)
            rows = [row for row in reader.find_items(asked).rows if row.condition != "scrap"]
            wanted = [(row, lines.get(row.id)) for row in rows]
            wanted.sort(key=lambda pair: (pair[1] is None, pair[1].id if pair[1] else 0, pair[0].place))
        else:
            for one in sorted(lines.values(), key=lambda one: one.id):
                if _is_wanted(one, act, day) and (row := reader.item(one.item_id)) is not None:
                    wanted.append((row, one))
        tools = tuple(_tools(reader, asker, ((row, one) for row, one in wanted if row.owner_id == whose.id)))
        if not tools:
            since_then = f" since {day}" if day else ""
            what = "is here" if whole else f"was {WORDS[sheet]}{since_then}"
            raise NothingFound(f"no tool of {whose.name}'s {what}", "crib bring records tools as brought in")
        return SignSheet(
            sheet=sheet,
            owner=whose.name,
            site=next(place.path for place in reader.places() if place.id == here),
            on=today(),
            chosen=_chosen(sheet, act, day),
            tools=tools,
            sums=tuple(_sums(tools)),
            not_valued=tuple(tool.item.tag for tool in tools if tool.value is None),
            not_recorded=tuple(tool.item.tag for tool in tools if tool.on is None),
        )


def _chosen(sheet: str, act: str, since: date | None) -> str:
    """Say which tools are on a sheet."""
    if act:
        return f"{WORDS[sheet]} by one doing, {act}"
    if since:
        return f"{WORDS[sheet]} since {since}"
    return "all that are here now" if sheet == "bring-in" else "all that were taken home"


def _is_wanted(line: SignedRow, act: str, since: date | None) -> bool:
    if act:
        return line.act == act.strip()
    return since is None or line.at.astimezone().date() >= since


def _tools(
    reader: Reader, asker: Asker, wanted: Iterable[tuple[ItemRow, SignedRow | None]]
) -> Iterable[SignedTool]:
    for row, line in wanted:
        worth = {value.basis: value for value in values(reader, [row.id], on=today())[row.id]}
        known = [worth[basis] for basis in _SHEET_VALUES if worth[basis].money is not None]
        yield SignedTool(
            item=asker.shown(row),
            on=line.at.astimezone().date() if line else None,
            place=line.place if line else row.place,
            told=line.told if line else None,
            why=line.why if line else None,
            value=known[0] if known else None,
            photos=tuple(
                evidence.shown(one, row.tag)
                for one in papers.proofs(reader, item_ids=[row.id])
                if one.withdrawn_at is None and one.kind == "photo"
            ),
        )


def _sums(tools: Iterable[SignedTool]) -> Iterable[str]:
    found = [(tool.value.money, tool.item.quantity) for tool in tools if tool.value and tool.value.money]
    for currency in dict.fromkeys(money.currency for money, _ in found):
        yield str(total((m.rounded() * many for m, many in found if m.currency == currency), currency))
