"""Last day: what is mine, what is theirs, what is half, and what is unclear, each with the proof held."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from crib.desk import lookup
from crib.desk.dates import today
from crib.desk.owed.claim_state import LIVE, Standing, standing
from crib.desk.owed.insurance import came_from_all
from crib.desk.owed.worth import CameFrom
from crib.store import papers
from crib.store.filters import Filters
from crib.store.read import Reader, reading
from crib.store.rows import ItemRow, PartyRow
from crib.store.search import compact
from crib.units.money import Money

MOST = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """One tool in one of the four columns: the proof held, and what is to be said or done."""

    tag: str
    what: str
    count: int
    owner: str
    where: str
    proof: str
    say: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaving:
    """A settlement with somebody who leaves.

    Attributes:
        name: who leaves.
        on: the day of it.
        verdict: the answer in one line.
        detail: how sure, and why.
        next_step: what to do now.
        mine: the leaver's own, free of anything.
        theirs: of others, in the leaver's hands: to give back.
        half: partly paid by one, partly by the other.
        unclear: why it can't be settled yet.
        sign: who signs.
    """

    name: str
    on: date
    verdict: str
    detail: str
    next_step: str
    mine: tuple[Settled, ...]
    theirs: tuple[Settled, ...]
    half: tuple[Settled, ...]
    unclear: tuple[Settled, ...]
    sign: tuple[str, ...]


def leaving(address: str, name: str, *, on: date | None = None) -> Leaving:
    """Sort everything that a person owns or has into four columns.

    Args:
        address: the store.
        name: who leaves: a name, a mark, me.
        on: the day; today if not told.

    Raises:
        UnknownName: nobody is called so.
        StoreError: the store can't be used.
    """
    day = on or today()
    with reading(address) as reader:
        who = lookup.party(reader, name)
        sorter = _Sorter(reader, who)
        companies = [one.name for one in reader.parties() if one.kind == "company"]
        sorter.sort()
    columns = sorter.columns
    counts = {column: len(found) for column, found in columns.items()}
    return Leaving(
        name=who.name,
        on=day,
        verdict=f"{who.name}: {counts['mine']} own, {counts['theirs']} to give back, "
        f"{counts['half']} half-paid, {counts['unclear']} unclear.",
        detail="From the records alone; what was agreed and not written down is not in it. "
        "Local rules on wages and property come first.",
        next_step=f'crib list leaving "{who.name}" --to FILE.pdf prints it with lines to sign.',
        mine=tuple(columns["mine"]),
        theirs=tuple(columns["theirs"]),
        half=tuple(columns["half"]),
        unclear=tuple(columns["unclear"]),
        sign=(who.name, companies[0] if len(companies) == 1 else "for the shop", "witness"),
    )


class _Sorter:
    """Sorts tools into columns, on one open reader."""

    def __init__(self, reader: Reader, who: PartyRow) -> None:
        self.reader = reader
        self.who = who
        self.gone = {one.name for one in reader.parties() if one.gone_on is not None}
        own = reader.find_items(Filters(owner_ids=(who.id,), limit=MOST)).rows
        held = reader.find_items(Filters(held_by_id=who.id, limit=MOST)).rows
        self.own = [row for row in own if row.quantity or row.held_by]
        self.held = [row for row in held if row.owner_id != who.id]
        self.proofs = self._proofs()
        self.origin = came_from_all(reader, {row.id for row in self.own})
        self.claims = self._claims()
        self.alike = self._alike()
        self.columns: dict[str, list[Settled]] = {"mine": [], "theirs": [], "half": [], "unclear": []}

    def sort(self) -> None:
        rods = self.rods_of_others()
        for row in self.own:
            column, say = self.own_column(row)
            if told := rods.pop(row.id, None):
                column, say = "unclear", "; ".join(part for part in (say, told[1]) if part)
            self.put(column, row, say)
        for row in self.held:
            due = f", due back {row.due_back}" if row.due_back else ""
            self.put("theirs", row, f"belongs to {row.owner}{due}: give it back")
        for row, say in rods.values():
            self.put("unclear", row, say)

    def rods_of_others(self) -> dict[int, tuple[ItemRow, str]]:
        """Give the sets with rods of another owner that touch the leaver, and what is said of them."""
        found = {}
        for gauge in self.reader.gauges():
            rods: dict[str, list[str]] = {}
            for rod in gauge.rods:
                foreign = rod.owner is not None and rod.owner_id != gauge.item.owner_id
                if rod.owner and foreign and self.who.id in (rod.owner_id, gauge.item.owner_id):
                    rods.setdefault(rod.owner, []).append(f"{rod.length_mm:g} mm")
            if rods:
                told = (
                    f"its rod{'s' * (len(sizes) > 1)} of {', '.join(sizes)} "
                    f"{'are' if len(sizes) > 1 else 'is'} {owner}'s"
                    for owner, sizes in rods.items()
                )
                found[gauge.item.id] = (gauge.item, "; ".join(told))
        return found

    def own_column(self, row: ItemRow) -> tuple[str, str]:
        """Say which column a tool of the leaver's own belongs in, and why."""
        for state, currency in self.claims.get(row.id, ()):
            if state.paid and (state.open or state.state == "part settled"):
                paid, due = Money(state.paid, currency), Money(state.open, currency)
                return "half", f"claim: {paid} paid, {due} owed"
            if state.state in LIVE:
                return "unclear", f"claimed, {state.state}: {Money(state.asked, currency)} asked"
        if row.held_by:
            left = ", who has left" if row.held_by in self.gone else ""
            return "unclear", f"lent to {row.held_by}{left}: get it back first"
        if row.id in self.alike:
            return "unclear", f"the same mark is on {self.alike[row.id]}"
        if not (self.proofs.get(row.id) or row.mark or row.serial):
            return "unclear", "nothing shows whose it is: no mark, number, photo or paper"
        return "mine", ""

    def put(self, column: str, row: ItemRow, say: str) -> None:
        self.columns[column].append(
            Settled(
                tag=row.tag,
                what=row.designation or row.label,
                count=row.quantity,
                owner=row.owner,
                where=f"{row.place}, lent to {row.held_by}" if row.held_by else row.place,
                proof=self.proof(row),
                say=say,
            )
        )

    def proof(self, row: ItemRow) -> str:
        """Say what shows whose a tool is."""
        kinds = Counter(self.proofs.get(row.id, ()))
        told = [f"{count} {kind}s" if count > 1 else kind for kind, count in sorted(kinds.items())]
        told += [f"marked {row.mark}"] * bool(row.mark) + [f"no. {row.serial}"] * bool(row.serial)
        origin: CameFrom | None = self.origin.get(row.id)
        if origin:
            told.append(origin.how + (f" from {origin.from_whom}" if origin.from_whom else ""))
        return ", ".join(told) or "none"

    def _proofs(self) -> Mapping[int, Sequence[str]]:
        found: dict[int, list[str]] = {}
        for proof in papers.proofs(self.reader):
            if proof.item_id is not None and proof.withdrawn_at is None:
                found.setdefault(proof.item_id, []).append(proof.kind)
        return found

    def _claims(self) -> Mapping[int, Sequence[tuple[Standing, str]]]:
        """Give where the lines of the leaver's claims stand, by item."""
        steps = papers.claim_steps(self.reader)
        claims = {one.id: one for one in papers.claims(self.reader) if one.claimant_id == self.who.id}
        found: dict[int, list[tuple[Standing, str]]] = {}
        for line in papers.claim_lines(self.reader):
            if (claim := claims.get(line.claim_id)) is not None:
                now = standing(line, [step for step in steps if step.claim_id == claim.id])
                if now.asked >= Decimal(0):
                    found.setdefault(line.item_id, []).append((now, claim.currency))
        return found

    def _alike(self) -> Mapping[int, str]:
        """Give the tools of others that bear the mark of one's own, dots aside."""
        marks: dict[str, list[ItemRow]] = {}
        for row in self.reader.find_items(Filters(limit=MOST)).rows:
            if row.mark and row.quantity:
                marks.setdefault(compact(row.mark), []).append(row)
        found = {}
        for row in self.own:
            others = self._others(row, marks.get(compact(row.mark or ""), ()))
            if others:
                found[row.id] = ", ".join(others)
        return found

    def _others(self, row: ItemRow, same: Iterable[ItemRow]) -> list[str]:
        """Give tools of others with the same mark that this one can't be told from: nothing else differs."""
        if row.serial or self.proofs.get(row.id):
            return []
        name = compact(row.designation or row.label)
        others = [
            one
            for one in same
            if one.owner_id != row.owner_id and compact(one.designation or one.label) == name
        ]
        return [f"{one.tag} ({one.owner})" for one in others[:3]]
