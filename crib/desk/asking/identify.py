"""What is this? A code with unreadable characters, or a part that was measured, set beside the stock."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from crib.desk.asking.ask import Asker, FoundItem
from crib.desk.asking.codes import designations, label_of, readable
from crib.errors import StoreMissing
from crib.store.filters import Filters
from crib.store.read import Reader, reading
from crib.store.search import compact
from crib.trade import tables
from crib.trade.designation.reading import Reading
from crib.trade.designation.worn import Choice, Possible, Worn, worn

MOST_ITEMS = 50
ON_SITE, ELSEWHERE = "on site", "elsewhere"
NO_STORE = "Nothing is known of the stock: there is no store yet (crib intake FILE makes one)."
Agrees = Callable[[Reading], float | None]
"""Tells how far a recorded code is from what is looked for: 0 is no difference, None is something else."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One code that it can be.

    Attributes:
        code: with `?` for what a measurement does not tell.
        equivalent: the same in the other system, where there is one.
        kind: insert, holder or bar.
        system: in which `code` is written.
        label: in words.
        have: "on site", "elsewhere" or empty.
        misfit: of measurements: 0 for a perfect match; None for a worn code.
        agrees: nothing that is known speaks against it.
        guessed: of a worn code: where the maker's own symbol begins is a guess.
    """

    code: str
    equivalent: str | None
    kind: str
    system: str
    label: str
    have: str
    misfit: float | None = None
    agrees: bool = True
    guessed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Identified:
    """The answer to "what is this?".

    Attributes:
        asked: what was made of the question.
        verdict: the answer in one line.
        detail: how sure, and what of it is on hand.
        next_step: what to do now.
        stock_known: False when there is no store to look in.
        on_site: what is here and can be it.
        elsewhere: what is at home, at another site or lent out and can be it.
        candidates: the codes: those on site, then those elsewhere, then the others in the order of the tables
            or of their misfit.
        total: how many codes there are, guesses apart; the least there are unless `complete`.
        guesses: how many more there are where the maker's own symbol is guessed to begin without a dash.
        complete: no code was left out of the count.
        positions: what may stand at each position, where a code was given.
        tells_apart: what to measure or look at next.
        assumed: errors that were not stated.
        notes: what else to know.
    """

    asked: str
    verdict: str
    detail: str
    next_step: str
    stock_known: bool
    on_site: tuple[FoundItem, ...]
    elsewhere: tuple[FoundItem, ...]
    candidates: tuple[Candidate, ...]
    total: int
    complete: bool
    guesses: int = 0
    positions: tuple[Choice, ...] = ()
    tells_apart: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


# -- the stock ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What of the stock agrees.

    Attributes:
        known: there is a store.
        on_site: best first.
        elsewhere: best first.
        codes: where each code is: normal form without the maker's symbol, to "on site" or "elsewhere".
    """

    known: bool
    on_site: tuple[FoundItem, ...] = ()
    elsewhere: tuple[FoundItem, ...] = ()
    codes: tuple[tuple[str, str], ...] = ()

    def have(self, *codes: str | None) -> str:
        """Say where one of some codes is; empty for nowhere."""
        found = {where for code, where in self.codes if code in codes}
        return ON_SITE if ON_SITE in found else ELSEWHERE if ELSEWHERE in found else ""


def held(address: str, where: Sequence[Filters], agrees: Agrees) -> Held:
    """Give what of the stock agrees.

    Args:
        address: the store; one that does not exist is said, not refused.
        where: parts of the stock to look through.
        agrees: tells for a recorded code.

    Raises:
        StoreError: the store is there, but can't be used.
    """
    try:
        with reading(address) as reader:
            return _held(reader, where, agrees)
    except StoreMissing:
        return Held(known=False)


def _held(reader: Reader, where: Sequence[Filters], agrees: Agrees) -> Held:
    found: dict[str, tuple[float, Reading]] = {}
    for part in where:
        for code in reader.codes(part):
            read = readable(code)
            if read is None:
                continue  # recorded as typed, its geometry unknown
            misfit = agrees(read)
            if misfit is not None:
                found[compact(code)] = (misfit, read)
    if not found:
        return Held(known=True)
    desk = Asker(reader)
    rows = reader.find_items(Filters(codes=tuple(sorted(found)), limit=MOST_ITEMS)).rows
    items = sorted((desk.shown(row) for row in rows), key=lambda item: found[_code(item)][0])
    places = [(bare(found[_code(item)][1]), ON_SITE if item.on_site else ELSEWHERE) for item in items]
    others = [(found[_code(item)][1].equivalent, place[1]) for item, place in zip(items, places, strict=True)]
    return Held(
        known=True,
        on_site=tuple(item for item in items if item.on_site),
        elsewhere=tuple(item for item in items if not item.on_site),
        codes=(*places, *((code, place) for code, place in others if code)),
    )


def _code(item: FoundItem) -> str:
    return compact(item.designation or "")


def bare(read: Reading) -> str:
    """Give a code without the maker's own symbol."""
    return read.designation.removesuffix(f"-{read.maker_suffix}") if read.maker_suffix else read.designation


def said_of_stock(stock: Held) -> str:
    """Say what of it is on hand."""
    if not stock.known:
        return NO_STORE
    here, away = len(stock.on_site), len(stock.elsewhere)
    if not here + away:
        return "Nothing on record is one of these."
    tags = ", ".join(item.tag for item in (*stock.on_site, *stock.elsewhere)[:6])
    return f"On record: {here} on site, {away} elsewhere ({tags}{', …' if here + away > 6 else ''})."


def by_having(candidates: Iterable[Candidate]) -> tuple[Candidate, ...]:
    """Sort: on site, elsewhere, the others; otherwise as they come."""
    order = {ON_SITE: 0, ELSEWHERE: 1, "": 2}
    return tuple(sorted(candidates, key=lambda one: (one.guessed, order[one.have])))


# -- worn codes --------------------------------------------------------------------------------------------


def identify_code(address: str, text: str, *, limit: int = 20) -> Identified:
    """Say what a code with unreadable characters can be, what is on hand first.

    Args:
        address: the store; it need not exist.
        text: `?`, `_` or `.` for one unreadable character, `*` for any number.
        limit: how many codes to give.

    Raises:
        BadDesignation: too little can be read.
        StoreError: the store is there, but can't be used.
    """
    found = worn(text, designations(), tables.rows)
    stock = (
        held(address, _where(found), lambda read: _is_it(found, read)) if found.possible else _known(address)
    )
    candidates = by_having(_candidate(one, stock) for one in found.possible)
    guesses = sum(one.guessed for one in candidates)
    if guesses == len(candidates):
        guesses = 0  # there is nothing else
    shown = " ".join(text.split())
    return Identified(
        asked=shown,
        verdict=_verdict(shown, found, candidates, guesses),
        detail=said_of_stock(stock) if found.possible else "No insert, holder or boring bar has such a code.",
        next_step=_next(found, stock),
        stock_known=stock.known,
        on_site=stock.on_site,
        elsewhere=stock.elsewhere,
        candidates=candidates[:limit],
        total=found.total - guesses,
        complete=found.complete,
        guesses=guesses,
        positions=found.positions,
        notes=found.notes,
    )


def _known(address: str) -> Held:
    """Say only whether there is a store."""
    return held(address, (), lambda _read: None)


def _where(found: Worn) -> tuple[Filters, ...]:
    """Narrow the stock by kind, and by shape where all readings are known."""
    if not found.complete:
        return (Filters(kinds=tuple(sorted({choice.kind for choice in found.positions}))),)
    pairs = sorted({(one.reading.kind, one.reading.SC) for one in found.possible})
    return tuple(Filters(kinds=(kind,), sc=shape) for kind, shape in pairs)


def _is_it(found: Worn, read: Reading) -> float | None:
    """Tell whether a recorded code, in either system, with or without the maker's symbol, is what is worn."""
    forms = {read.designation, bare(read), *([read.equivalent] if read.equivalent else [])}
    return 0.0 if any(found.pattern.fits(form) for form in forms) else None


def _candidate(one: Possible, stock: Held) -> Candidate:
    read = one.reading
    return Candidate(
        code=one.designation,
        equivalent=read.equivalent,
        kind=read.kind,
        system=read.system,
        label=label_of(read),
        have=stock.have(bare(read), read.equivalent),
        guessed=one.guessed,
    )


def _verdict(shown: str, found: Worn, candidates: Sequence[Candidate], guesses: int) -> str:
    if not candidates:
        return f"{shown}: nothing fits."
    count = len(candidates) - guesses
    if found.complete and count == 1:
        only = next(one for one in candidates if not guesses or not one.guessed)
        return f"{shown} is {only.code}: {only.label}."
    kinds = " or ".join(sorted({one.kind for one in candidates if not (guesses and one.guessed)}))
    more = f" ({guesses} more if the maker's own symbol begins earlier)" if guesses and found.complete else ""
    return f"{shown} can be {'' if found.complete else 'at least '}{count} codes: {kinds}{more}."


def _next(found: Worn, stock: Held) -> str:
    if not found.possible:
        near = " or ".join(f"crib identify '{pattern}'" for pattern in found.near)
        return (
            f"One more character may be misread, or the end gone: {near}" if near else "Measure it instead."
        )
    best = (*stock.on_site, *stock.elsewhere)
    if best:
        return f"Compare it with {best[0].tag}: crib show {best[0].tag}"
    if found.total == 1:
        return f"crib decode {found.possible[0].designation}"
    most = max(found.positions, key=lambda choice: len(choice.options))
    codes = " ".join(option.code for option in most.options[:12])
    return f"Look again at position {most.position} ({codes}); it leaves most open. Or measure it."
