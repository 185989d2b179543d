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
from crib.store.papers import SignedRow
from crib.store.read import Reader, reading
from crib.units.money import total

WORDS = {"bring-in": "brought in", "take-home": "taken home"}  # sheet -> what the ledger calls it
# what a value on the sheet is taken from, the first that is on record; the sheet says which
_SHEET_VALUES = ("agreed", "replacement", "by age", "paid")


@dataclass(frozen=True, slots=True, kw_only=True)
class SignedTool:
    """One tool on the sheet.

    Attributes:
        item: the tool.
        on: the day it came or went.
        place: where to.
        told: who was told of it.
        why: what for.
        value: of one piece, the first on record of agreed, replacement, by age, paid; null if none is.
        photos: numbers of its photos.
    """

    item: FoundItem
    on: date
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
    """

    sheet: str
    owner: str
    site: str
    on: date
    chosen: str
    tools: tuple[SignedTool, ...]
    sums: tuple[str, ...]
    not_valued: tuple[str, ...]


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
        wanted = [line for line in lines.values() if _is_wanted(line, act, day)]
        wanted.sort(key=lambda line: line.id)
        tools = tuple(
            _tools(reader, asker, wanted, whose.id, None if act or day or sheet != "bring-in" else here)
        )
        if not tools:
            raise NothingFound(
                f"no tool of {whose.name}'s was {WORDS[sheet]}" + (f" since {day}" if day else ""),
                "crib bring records tools as brought in",
            )
        return SignSheet(
            sheet=sheet,
            owner=whose.name,
            site=next(place.path for place in reader.places() if place.id == here),
            on=today(),
            chosen=f"of one doing, {act}" if act else f"since {day}" if day else _CHOSEN[sheet],
            tools=tools,
            sums=tuple(_sums(tools)),
            not_valued=tuple(tool.item.tag for tool in tools if tool.value is None),
        )


_CHOSEN = {"bring-in": "all that were brought in and are here now", "take-home": "all that were taken home"}


def _is_wanted(line: SignedRow, act: str, since: date | None) -> bool:
    if act:
        return line.act == act.strip()
    return since is None or line.at.astimezone().date() >= since


def _tools(
    reader: Reader, asker: Asker, lines: Iterable[SignedRow], owner_id: int, site_id: int | None
) -> Iterable[SignedTool]:
    for line in lines:
        row = reader.item(line.item_id)
        if row is None or row.owner_id != owner_id or (site_id is not None and row.site_id != site_id):
            continue
        worth = {value.basis: value for value in values(reader, [row.id], on=today())[row.id]}
        known = [worth[basis] for basis in _SHEET_VALUES if worth[basis].money is not None]
        yield SignedTool(
            item=asker.shown(row),
            on=line.at.astimezone().date(),
            place=line.place,
            told=line.told,
            why=line.why,
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
