"""If it all burned tonight: what there was, whose, where, its worth, and what would not be believed."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from crib.desk import lookup
from crib.desk.dates import today
from crib.desk.owed.values import months_between
from crib.desk.owed.worth import OLD_PRICE_MONTHS, CameFrom, Value, came_from, values
from crib.store import papers
from crib.store.filters import Filters
from crib.store.read import Reader, reading
from crib.store.rows import ItemRow
from crib.store.words import PATH_JOINT
from crib.units.counts import many
from crib.units.money import Money, total

MOST = 1_000_000
WORST = 10
# what a thing is put down for, the first that is known: insurers ask what a new one costs (common practice)
BASES = ("replacement", "agreed", "cash value", "paid", "estimate")


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """One tool on the list.

    Attributes:
        tag: the shop's own number.
        what: its code or name.
        owner: whose.
        place: where it belongs.
        away: who has it, where it is lent out.
        mark: what is engraved.
        serial: the maker's number.
        maker: as recorded.
        got: when its owner came by it.
        paid: what it cost.
        count: pieces.
        each: what one piece is put down for; None where nothing is on record.
        basis: which value that is.
        on: the day of it.
        all: for all pieces.
        photos: how many.
        gaps: what is missing, in words.
    """

    tag: str
    what: str
    owner: str
    place: str
    away: str | None
    mark: str | None
    serial: str | None
    maker: str | None
    got: date | None
    paid: str | None
    count: int
    each: str | None
    basis: str | None
    on: date | None
    all: str | None
    photos: int
    gaps: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """What lies at one place of one owner: tools, what those with a value come to, how many have none."""

    place: str
    owner: str
    tools: int
    worth: tuple[str, ...]
    without: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Insurance:
    """The list for insurance.

    Attributes:
        verdict: the answer in one line.
        detail: how sure, and why.
        next_step: what to do now.
        on: the day of it.
        sums: by place and owner.
        worst: the ten tools with the worst gaps.
        with_photo: share of tools, in percent.
        with_young_price: share whose price is under two years old, in percent.
        lines: every tool.
    """

    verdict: str
    detail: str
    next_step: str
    on: date
    sums: tuple[Sum, ...]
    worst: tuple[Listed, ...]
    with_photo: int
    with_young_price: int
    lines: tuple[Listed, ...]


def insurance(address: str, *, owner: str = "", place: str = "", on: date | None = None) -> Insurance:
    """List what there is with what it is worth, and what is missing to show it.

    Args:
        address: the store.
        owner: of that owner only.
        place: at that place only.
        on: the day; today if not told.

    Raises:
        UnknownName: no such owner or place.
        StoreError: the store can't be used.
    """
    day = on or today()
    with reading(address) as reader:
        asked = Filters(limit=MOST)
        if owner:
            asked = asked._replace(owner_ids=(lookup.party(reader, owner).id,))
        if place:
            asked = asked._replace(place=lookup.place(reader, place).path)
        rows = [row for row in reader.find_items(asked).rows if row.quantity and row.condition != "scrap"]
        valued = _list(reader, rows, day)
    lines = tuple(line for line, _, _ in valued)
    photo = _percent(sum(bool(line.photos) for line in lines), len(lines))
    young = _percent(sum(is_young for _, _, is_young in valued), len(lines))
    whole = _worth(money for _, money, _ in valued)
    none = sum(money is None for _, money, _ in valued)
    come_to = " and ".join(whole) or "nothing of known worth"
    return Insurance(
        verdict=f"{many(len(lines), 'tool')}, {come_to}; {none} have no value.",
        detail=f"{photo} % have a photo, {young} % a price under two years old. See what your policy covers.",
        next_step="crib worth TAG and crib evidence fill the gaps; --to FILE writes the list.",
        on=day,
        sums=tuple(_sums(valued)),
        worst=tuple(_worst(valued)),
        with_photo=photo,
        with_young_price=young,
        lines=lines,
    )


Valued = tuple[
    Listed, Money | None, bool
]  # a line, what all its pieces are worth, whether its price is young


def _list(reader: Reader, rows: Sequence[ItemRow], day: date) -> list[Valued]:
    known = {row.id for row in rows}
    worth = _values(reader, known, day)
    origin = came_from_all(reader, known)
    photos = Counter(
        proof.item_id
        for proof in papers.proofs(reader)
        if proof.item_id in known and proof.kind == "photo" and proof.withdrawn_at is None
    )
    found = [_listed(row, worth.get(row.id, ()), origin.get(row.id), photos[row.id], day) for row in rows]
    return sorted(found, key=lambda one: (one[0].place, one[0].owner, one[0].tag))


def _values(reader: Reader, known: set[int], day: date) -> Mapping[int, tuple[Value, ...]]:
    """Give the values of the items that have any."""
    told = {row.item_id for row in papers.worths(reader)} | {row.item_id for row in papers.origins(reader)}
    return values(reader, sorted(known & told), on=day) if known & told else {}


def came_from_all(reader: Reader, known: set[int]) -> Mapping[int, CameFrom]:
    """Give how the items were come by of which it is on record."""
    told = {row.item_id for row in papers.origins(reader)} & known
    return came_from(reader, sorted(told)) if told else {}


def _listed(row: ItemRow, worth: Sequence[Value], origin: CameFrom | None, photos: int, day: date) -> Valued:
    by_basis = {value.basis: value for value in worth if value.money is not None}
    value = next((by_basis[basis] for basis in BASES if basis in by_basis), None)
    each = value.money if value else None
    whole = (each * row.quantity).rounded() if each else None
    young = bool(value and value.on and months_between(value.on, day) < OLD_PRICE_MONTHS)
    line = Listed(
        tag=row.tag,
        what=f"{row.designation} {row.label}" if row.designation else row.label,
        owner=row.owner,
        place=row.place,
        away=row.held_by,
        mark=row.mark,
        serial=row.serial,
        maker=origin.maker if origin else None,
        got=origin.on if origin else None,
        paid=origin.paid if origin else None,
        count=row.quantity,
        each=str(each) if each else None,
        basis=value.basis if value else None,
        on=value.on if value else None,
        all=str(whole) if whole else None,
        photos=photos,
        gaps=tuple(_gaps(row, value, photos, young)),
    )
    return line, whole, young


def _gaps(row: ItemRow, value: Value | None, photos: int, young: bool) -> Iterable[str]:
    if value is None:
        yield "NO VALUE"
    elif not young:
        yield "PRICE OLDER THAN TWO YEARS" if value.on else "PRICE WITHOUT A DAY"
    if not photos:
        yield "NO PHOTO"
    if not (row.mark or row.serial):
        yield "NO MARK OR SERIAL"


def _worst(valued: Iterable[Valued]) -> Iterable[Listed]:
    """Give the lines with the most gaps; of as many gaps the dearest first."""
    gaps = [(line, money) for line, money, _ in valued if line.gaps]
    gaps.sort(key=lambda one: (-len(one[0].gaps), -(one[1].amount if one[1] else 0), one[0].tag))
    return (line for line, _ in gaps[:WORST])


def _sums(valued: Iterable[Valued]) -> Iterable[Sum]:
    groups: dict[tuple[str, str], list[Money | None]] = defaultdict(list)
    for line, money, _ in valued:
        room = PATH_JOINT.join(line.place.split(PATH_JOINT)[:2])
        groups[room, line.owner].append(money)
    for (place, owner), found in sorted(groups.items()):
        yield Sum(
            place=place,
            owner=owner,
            tools=len(found),
            worth=_worth(found),
            without=sum(money is None for money in found),
        )


def _worth(found: Iterable[Money | None]) -> tuple[str, ...]:
    """Sum amounts, those of each currency by themselves."""
    by_currency: dict[str, list[Money]] = defaultdict(list)
    for money in found:
        if money is not None:
            by_currency[money.currency].append(money)
    return tuple(str(total(amounts, currency)) for currency, amounts in sorted(by_currency.items()))


def _percent(part: int, whole: int) -> int:
    return round(100 * part / whole) if whole else 0
