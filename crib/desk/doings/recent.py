"""What was done lately: each doing with the word that takes it back."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from crib.errors import NothingFound
from crib.store.read import reading
from crib.store.record_rows import LedgerRow, RecentRow

MOST = 20
MOST_NAMED = 3
_ON_THE_WAY = ("split", "added")  # beside another line of the doing they only made room for it


@dataclass(frozen=True, slots=True, kw_only=True)
class RecentDoing:
    """One doing.

    Attributes:
        act: the word that names it.
        on: day and time of this place.
        who: who did it; None where that was not set.
        what: what it was, in the ledger's words.
        tools: the tools that it touched, by their tags.
        why: what was said of it.
        stands: False once it was taken back.
    """

    act: str
    on: str
    who: str | None
    what: str
    tools: tuple[str, ...]
    why: str | None
    stands: bool

    @property
    def tools_named(self) -> str:
        """Name the tools, the first few by their tags."""
        more = len(self.tools) - MOST_NAMED
        return ", ".join(self.tools[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Recent:
    """The last doings, the latest first."""

    verdict: str
    detail: str
    doings: tuple[RecentDoing, ...]


def recent(address: str, most: int = MOST) -> Recent:
    """Tell what was done last, by anybody.

    Args:
        address: the store.
        most: so many doings at most.

    Raises:
        NothingFound: nothing was done yet that could be taken back.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        rows = reader.recent(most)
    if not rows:
        raise NothingFound(
            "nothing was done yet that could be taken back",
            "lending, moving, using edges and the like can be",
        )
    undone = cancelled(rows)
    by_act: dict[str, list[RecentRow]] = defaultdict(list)
    for row in rows:
        by_act[row.act].append(row)
    doings = tuple(_told(act, lines, undone) for act, lines in by_act.items())
    return Recent(
        verdict=f"The last {len(doings)} doings, the latest first." if len(doings) > 1 else "One doing.",
        detail="crib undo WORD takes one back; what later ones stand on, after those.",
        doings=doings,
    )


def cancelled(rows: Iterable[RecentRow | LedgerRow]) -> set[int]:
    """Give the lines put right by lines that still stand; those are later, so they are among the rows."""
    found: set[int] = set()
    for row in sorted(rows, key=lambda row: row.id, reverse=True):
        if row.corrects_id is not None and row.id not in found:
            found.add(row.corrects_id)
    return found


def _told(act: str, lines: Sequence[RecentRow], undone: set[int]) -> RecentDoing:
    main = next((line for line in lines if line.what not in _ON_THE_WAY), lines[0])
    return RecentDoing(
        act=act,
        on=main.at.astimezone().strftime("%Y-%m-%d %H:%M"),
        who=main.actor,
        what=main.what,
        tools=tuple(dict.fromkeys(line.tag for line in lines)),
        why=main.why,
        stands=any(line.id not in undone for line in lines),
    )
