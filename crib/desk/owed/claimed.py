"""What was claimed so far, tool by tool, and own tools on no claim to which something happened."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from crib.desk import lookup
from crib.desk.asking.ask import Asker, FoundItem
from crib.desk.doings.recent import cancelled
from crib.desk.owed.claim_state import LIVE, Standing, standing
from crib.store import papers
from crib.store.filters import Filters
from crib.store.papers import ClaimLineRow, ClaimRow, ClaimStepRow
from crib.store.read import Reader
from crib.store.rows import ItemRow, LedgerRow

MOST_SUGGESTED = 200
# condition of an own tool that may be worth a claim -> the event of the claim
_SUGGESTED = {"worn": "worn out", "damaged": "broken", "scrap": "broken"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """An own tool to which something happened, and which is on no claim for it.

    Attributes:
        item: the tool.
        event: what it was, as a claim calls it.
        on: when the ledger says so.
        why: in its words.
        pieces: lost, by the counts since the last claim; null for the whole tool.
        edges: used up since the last claim; null where that is not it.
    """

    item: FoundItem
    event: str
    on: date
    why: str | None
    pieces: int | None = None
    edges: int | None = None

    @property
    def told(self) -> str:
        """Say what happened, with how many."""
        counts = ((self.pieces, "piece"), (self.edges, "edge"))
        parts = [f"{many} {word}{'s' * (many != 1)}" for many, word in counts if many]
        return " ".join([self.event, *parts])


def lines_by_item(reader: Reader) -> Mapping[int, Sequence[tuple[ClaimRow, ClaimLineRow, Standing]]]:
    """Give all lines of claims by item, with where they stand."""
    steps: dict[int, list[ClaimStepRow]] = defaultdict(list)
    for step in papers.claim_steps(reader):
        steps[step.claim_id].append(step)
    known = {row.id: row for row in papers.claims(reader)}
    found: dict[int, list[tuple[ClaimRow, ClaimLineRow, Standing]]] = defaultdict(list)
    for line in papers.claim_lines(reader):
        found[line.item_id].append((known[line.claim_id], line, standing(line, steps[line.claim_id])))
    return found


def is_live(claim_row: ClaimRow, now: Standing) -> bool:
    """Tell whether something may still come of a line."""
    return claim_row.state in LIVE and now.state in LIVE


def suggested(reader: Reader) -> tuple[Suggestion, ...]:
    """Give own tools that were worn, broken, lost or used up, and on no claim that stands for it."""
    who, asker, on_claims = lookup.me(reader), Asker(reader), lines_by_item(reader)
    if who is None:
        return ()
    own = Filters(owner_ids=(who.id,), limit=MOST_SUGGESTED, conditions=tuple(_SUGGESTED))
    bad = reader.find_items(own).rows
    fewer = [row for one in papers.used_or_fewer(reader, who.id) if (row := reader.item(one)) is not None]
    found: list[Suggestion] = []
    for row in dict.fromkeys((*bad, *fewer)):
        stands = [(claim, now) for claim, _, now in on_claims.get(row.id, ()) if now.state != "withdrawn"]
        if any(is_live(claim, now) for claim, now in stands):
            continue
        lines = _since_claimed(reader.ledger_of(row.id), claimed=bool(stands))
        ways = [*_fewer(asker, row, lines)]
        if not ways and not stands and (event := _SUGGESTED.get(row.condition)):
            ways = [*_worse(asker, row, event, lines)]
        found += ways
    return tuple(found)


def _since_claimed(lines: Sequence[LedgerRow], *, claimed: bool) -> Sequence[LedgerRow]:
    """Give the lines that stand, since the last claim where one was made."""
    undone = cancelled(lines)
    last = max((line.id for line in lines if claimed and line.what == "claimed"), default=0)
    return [line for line in lines if line.id > last and line.id not in undone and line.corrects_id is None]


def _fewer(asker: Asker, row: ItemRow, lines: Sequence[LedgerRow]) -> Iterable[Suggestion]:
    """Tell of pieces that a count did not find, and of edges that were used up."""
    counts = [line for line in lines if line.what == "counted"]
    lost = -sum(line.quantity_change for line in counts)
    if lost > 0:
        last = next(line for line in reversed(counts) if line.quantity_change)
        yield _suggestion(asker, row, "lost", last, pieces=lost)
    # a count of the same pieces with fewer edges: they were used, and nobody wrote it down
    same = [line for line in counts if not line.quantity_change]
    used = [line for line in lines if line.what == "edge used" or line in same]
    edges = -sum(line.edges_change or 0 for line in used)
    if edges > 0:
        last = next(line for line in reversed(used) if line.edges_change)
        yield _suggestion(asker, row, "consumed", last, edges=edges)


def _worse(asker: Asker, row: ItemRow, event: str, lines: Sequence[LedgerRow]) -> Iterable[Suggestion]:
    """Tell of a tool that is worn, damaged or scrap as a whole."""
    told = [line for line in lines if line.what in LEDGER_WORDS[event]]
    if told:
        yield _suggestion(asker, row, event, told[-1])


def _suggestion(
    asker: Asker,
    row: ItemRow,
    event: str,
    line: LedgerRow,
    *,
    pieces: int | None = None,
    edges: int | None = None,
) -> Suggestion:
    return Suggestion(
        item=asker.shown(row), event=event, on=line.at.astimezone().date(), why=line.why, pieces=pieces,
        edges=edges,
    )  # fmt: skip


# event of a claim -> what the ledger calls it, newest first
LEDGER_WORDS = {
    "broken": ("regraded", "scrapped", "edge used"),
    "worn out": ("regraded", "scrapped"),
    "lost": ("counted", "scrapped"),
    "stolen": ("counted", "scrapped"),
    "consumed": ("edge used", "scrapped"),
    "bought": ("added",),
}


@dataclass(frozen=True, slots=True)
class Happened:
    """What a line of the ledger tells of an event: its number, day and words."""

    ledger_id: int
    on: date
    why: str | None


def last_of(reader: Reader, item_id: int, event: str) -> Happened | None:
    """Give the last line of an item's ledger that tells of such an event."""
    for line in reversed(reader.ledger_of(item_id)):
        if line.what in LEDGER_WORDS.get(event, ()):
            return Happened(line.id, line.at.astimezone().date(), line.why)
    return None
