"""What is running out, what to buy, and how many edges are left of a code."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil

from crib.desk import dates
from crib.desk.asking.ask import Asker
from crib.desk.owed.claim_state import LIVE, standing
from crib.desk.restocking.minimums import Minimum, as_minimum, meant
from crib.desk.restocking.usage import Usage, usage
from crib.desk.tables import service_levels
from crib.errors import InputError, NothingFound
from crib.store import papers, stocking
from crib.store.read import Reader, reading
from crib.store.stocking import MinimumRow, StockRow
from crib.trade.stocking.reorder import z_of
from crib.units.money import Money

UNFIT = ("damaged", "scrap")


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One batch of a code.

    Attributes:
        tag: the shop's own number.
        owner: whose.
        place: where it belongs.
        condition: as recorded.
        quantity: pieces.
        edges_left: None where nobody has counted.
        state: unopened, opened, used up, not counted; or where it is: lent to …, sent out to …
        counts: it counts as there.
        grade: of the carbide, as recorded.
    """

    tag: str
    owner: str
    place: str
    condition: str
    quantity: int
    edges_left: int | None
    state: str
    counts: bool
    grade: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One code (and grade) on a site: what is there, what should be, and what to buy.

    Attributes:
        minimum: what should be there; None where nothing was set.
        what: the code or name.
        grade: of that grade only; empty for any.
        counted_in: pieces or edges.
        have: here and fit for use.
        others: here, but belonging to others than who pays: not counted in `have`.
        uncounted: pieces here whose edges nobody has counted: not counted in `have`.
        on_loan: lent out.
        sent_out: out for regrinding or repair.
        on_claim: pieces in claims that are not settled.
        want: how many to get, so counted.
        buy: pieces to buy; 0 where what is out is enough once it is back.
        why: in words.
        price: what was last paid, and for what.
        kits: kits that a tool of this code was chosen for.
        usage: how fast it goes.
        boxes: the batches.
    """

    minimum: Minimum | None
    what: str
    grade: str
    counted_in: str
    have: int
    others: int
    uncounted: int
    on_loan: int
    sent_out: int
    on_claim: int
    want: int
    buy: int
    why: str
    price: str | None
    kits: tuple[str, ...]
    usage: Usage
    boxes: tuple[Box, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Restock:
    """What is below its minimum.

    Attributes:
        verdict: the answer in one line.
        detail: how sure, and why.
        next_step: what to do now.
        buy: lines to buy.
        ask_back: lines that are short only while something is lent or sent out.
        enough: lines with enough; given only when asked for.
    """

    verdict: str
    detail: str
    next_step: str
    buy: tuple[Line, ...]
    ask_back: tuple[Line, ...]
    enough: tuple[Line, ...]


def restock(
    address: str, *, whole: bool = False, service: float | None = None, today: date | None = None
) -> Restock:
    """Say what is below its minimum.

    Args:
        address: the store.
        whole: give the lines with enough too.
        service: share of waits, in percent, in which a reorder point should not run out.
        today: the last day of the history looked at.

    Raises:
        InputError: no such service level.
        StoreError: the store can't be used.
    """
    _check_service(service)
    with reading(address) as reader:
        rows = stocking.minimums(reader)
        claimed = _on_claim(reader)
        lines = [_line(reader, row, claimed, today or dates.today(), service) for row in rows]
    buy = tuple(line for line in lines if line.buy)
    back = tuple(line for line in lines if line.want and not line.buy)
    enough = tuple(line for line in lines if not line.want)
    verdict, detail, step = _lines_of(lines, buy, back)
    return Restock(
        verdict=verdict,
        detail=detail,
        next_step=step,
        buy=buy,
        ask_back=back,
        enough=enough if whole else (),
    )


def left_of(
    address: str, code: str, *, grade: str = "", service: float | None = None, today: date | None = None
) -> Line:
    """Say how much is left of one code on the site we are at, box by box.

    Args:
        address: the store.
        code: a code, a tag, or a name on record.
        grade: of that grade only.
        service: as in restock.
        today: the last day of the history looked at.

    Raises:
        NothingFound: none is on record here, and no minimum is set.
        NotPossible: which site we are at is not set.
        InputError: no such service level.
    """
    _check_service(service)
    with reading(address) as reader:
        site_id = Asker(reader).here_or_refuse()
        norm, what, kind = meant(reader, code)
        for row in stocking.minimums(reader):
            if (row.norm, row.site_id) == (norm, site_id) and grade.lower() in ("", row.grade.lower()):
                return _line(reader, row, _on_claim(reader), today or dates.today(), service)
        if not stocking.stock_of(reader, norm, site_id):
            raise NothingFound(f"no {what} is on record on this site", "crib find looks everywhere")
        asked = _asked(norm, what, grade, site_id, kind == "insert")
        return _line(reader, asked, _on_claim(reader), today or dates.today(), service)


def beside(line: Line) -> str:
    """Say what there is besides, that does not count as here."""
    told = (
        (line.others, f"{line.counted_in} of other owners"),
        (line.uncounted, "pieces whose edges nobody has counted"),
        (line.on_loan, f"{line.counted_in} lent out"),
        (line.sent_out, f"{line.counted_in} sent out"),
        (line.on_claim, "pieces on claim"),
        (line.usage.worn_out, f"worn out or scrapped in {line.usage.days} days"),
    )
    return ", ".join(f"{count} {what}" for count, what in told if count)


def _asked(norm: str, what: str, grade: str, site_id: int, is_insert: bool) -> MinimumRow:
    """Give the question about a code without a minimum in the form of one."""
    in_what = "edges" if is_insert else "pieces"
    return MinimumRow(0, norm, what, grade, 0, None, in_what, None, site_id, "", None, None, None, None, None)


def _check_service(service: float | None) -> None:
    if service is None:
        return
    try:
        z_of(service, service_levels())
    except KeyError:
        known = ", ".join(row["service_percent"] for row in service_levels())
        raise InputError(f"there is no z for {service:g} %", f"one of: {known}") from None


def _on_claim(reader: Reader) -> Mapping[int, int]:
    """Give the pieces of each batch that stand in claims of which something may still come."""
    found: Counter[int] = Counter()
    steps = papers.claim_steps(reader)
    for line in papers.claim_lines(reader):
        now = standing(line, [step for step in steps if step.claim_id == line.claim_id])
        if now.state in LIVE and not now.replaced_by:
            found[line.item_id] += line.quantity
    return found


def _line(
    reader: Reader, row: MinimumRow, claimed: Mapping[int, int], today: date, service: float | None
) -> Line:
    stock = [one for one in stocking.stock_of(reader, row.norm, row.site_id) if _of_grade(one, row.grade)]
    own = [one for one in stock if row.payer_id in (None, one.owner_id)]
    here = [one for one in own if _is_here(one)]
    out = [one for one in own if one.held_by_id is not None and one.condition not in UNFIT]
    have = _count(here, row.counted_in)
    lent = _count((one for one in out if one.went != "sent out"), row.counted_in)
    sent = _count((one for one in out if one.went == "sent out"), row.counted_in)
    short = have < row.least
    want = max(0, (row.up_to or row.least) - have) if short else 0
    # what comes back need not be bought: nothing is padded
    to_buy = max(0, want - lent - sent) if short and have + lent + sent < row.least else 0
    return Line(
        minimum=as_minimum(row) if row.id else None,
        what=row.what,
        grade=row.grade,
        counted_in=row.counted_in,
        have=have,
        others=_count((one for one in stock if one not in own and _is_here(one)), row.counted_in),
        uncounted=sum(one.quantity for one in here if row.counted_in == "edges" and one.edges_left is None),
        on_loan=lent,
        sent_out=sent,
        on_claim=sum(claimed.get(one.id, 0) for one in own),
        want=want,
        buy=_pieces(to_buy, row.counted_in, stock),
        why=_why(row, have, lent, sent, to_buy) if short else "",
        price=_price(reader, row),
        kits=stocking.kits_with(reader, row.norm),
        usage=usage(
            own,
            stocking.taken_of(reader, row.norm),
            counted_in=row.counted_in,
            have=have,
            lead_days=row.lead_days,
            today=today,
            service_percent=service,
        ),
        boxes=tuple(_box(one, one in here) for one in stock if one.quantity or one.held_by_id),
    )


def _of_grade(stock: StockRow, grade: str) -> bool:
    return not grade or (stock.grade or "").lower() == grade.lower()


def _is_here(stock: StockRow) -> bool:
    return stock.held_by_id is None and stock.condition not in UNFIT


def _count(stock: Iterable[StockRow], counted_in: str) -> int:
    if counted_in == "edges":
        return sum(one.edges_left or 0 for one in stock)
    return sum(one.quantity for one in stock)


def _pieces(count: int, counted_in: str, stock: Sequence[StockRow]) -> int:
    """Give the pieces to buy; where no batch says how many edges a new one has, an edge is a piece."""
    each = next((one.cedc for one in stock if one.cedc), None) if counted_in == "edges" else 1
    return ceil(count / (each or 1))


def _why(row: MinimumRow, have: int, lent: int, sent: int, to_buy: int) -> str:
    parts = [f"{have} {row.counted_in} here, {row.least} are the least"]
    parts += [f"buying goes up to {row.up_to or row.least}"] * bool(to_buy)
    parts += [f"{sent} sent out"] * bool(sent) + [f"{lent} lent out"] * bool(lent)
    if row.note:
        parts.append(row.note)
    return "; ".join(parts)


def _price(reader: Reader, row: MinimumRow) -> str | None:
    """Give what was paid last: as told with the minimum, else what a batch on record cost."""
    if row.price is not None:
        return f"{Money(row.price, row.currency or '').rounded()} a piece"
    for paid in stocking.paid_for(reader, row.norm):
        return f"{Money(paid.paid, paid.currency or '').rounded()} for {paid.tag} on {paid.on_date}"
    return None


def _box(stock: StockRow, counts: bool) -> Box:
    whole = stock.cedc is not None and stock.edges_left == stock.cedc * stock.quantity
    if stock.held_by_id is not None:
        state = f"{stock.went or 'lent'} to {stock.held_by}"
    elif stock.edges_left is None:
        state = "edges not counted" if stock.cedc is not None else stock.condition
    elif stock.edges_left == 0:
        state = "used up"
    else:
        state = "unopened" if whole and stock.condition == "new" else "opened"
    return Box(
        tag=stock.tag,
        owner=stock.owner,
        place=stock.place,
        condition=stock.condition,
        quantity=stock.quantity,
        edges_left=stock.edges_left,
        state=state,
        counts=counts,
        grade=stock.grade,
    )


def _lines_of(lines: Sequence[Line], buy: Sequence[Line], back: Sequence[Line]) -> tuple[str, str, str]:
    if not lines:
        step = "crib minimum set CODE --least N says how many there should be."
        return "No minimums are set, so nothing can be below one.", "From the records.", step
    parts = [f"{len(buy)} to buy"] + [f"{len(back)} short until what is out comes back"] * bool(back)
    verdict = ", ".join(parts) + f", of {len(lines)} with a minimum." if buy or back else ""
    verdict = verdict or f"Nothing to buy: all {len(lines)} with a minimum have enough."
    unsure = sum(bool(line.uncounted) for line in lines)
    detail = "From the records; what nobody wrote down is not in it."
    if unsure:
        detail += f" {unsure} hold pieces whose edges nobody has counted."
    return verdict, detail, "crib restock CODE tells one, box by box; --to FILE prints the list."
