"""Codes with unreadable characters: everything that they can be.

The layouts of the standards are walked field by field, each branch cut as soon as the readable characters
rule it out, so that the time goes with the answers and not with the characters that are missing.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from crib.errors import BadDesignation
from crib.trade.designation.layouts import Layout, Rows, layouts
from crib.trade.designation.letters import Letters
from crib.trade.designation.misread import Misread
from crib.trade.designation.normalise import clean
from crib.trade.designation.pattern import ONE, SOME, Pattern, pattern_of
from crib.trade.designation.reading import InsertReading, Reading
from crib.trade.designation.resolve import read, read_clean

MOST = 1000  # readings listed; nobody looks at more
WALKED = 3 * MOST  # codes looked at; some are no codes after all, or the same
NEAREST = 3
LOOSE = "nothing of the tables fits, so corner radii and shank sizes of any two digits were let through"
USUAL = "unreadable corner radii and shank sizes were looked for among the usual ones only"
TRAILS = "what is not compulsory (edge condition, hand, the maker's own symbol) may follow, and is not listed"
POINT = "the point was taken for a decimal point; type ? for a character that can't be read"

Way = tuple[str, int, str]
"""A symbol, and from where the pattern goes on with what in mind."""
Node = tuple[int, int, str]
"""Field, place in the pattern, memory."""
START: Node = (0, 0, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Possible:
    """One thing that a worn code can be.

    Attributes:
        designation: whole code, with what can be read of the maker's own symbol.
        reading: what it means.
        maker: maker's own symbol as far as it can be read, never interpreted; empty for none.
        guessed: that the maker's symbol begins there is a guess: no dash was seen.
    """

    designation: str
    reading: Reading
    maker: str
    guessed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """What may stand at a position, and what it would mean."""

    code: str
    meaning: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One position of one kind of code, with all that may stand there.

    Attributes:
        kind: "insert", "holder" or "bar".
        system: "metric" or "inch".
        position: of the standard.
        options: in the order of the tables.
    """

    kind: str
    system: str
    position: int
    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """Everything that a worn code can be.

    Attributes:
        pattern: what was made of the text.
        possible: the readings, metric before inch, each in the order of the tables.
        total: how many are listed.
        complete: False when there are more than could be listed: then `total` is the least there are.
        positions: what may stand at each position, over all readings also when not all are listed.
        notes: what was assumed.
        near: patterns that would read, when nothing does: with one more character taken as unreadable.
    """

    pattern: Pattern
    possible: tuple[Possible, ...]
    total: int
    complete: bool
    positions: tuple[Choice, ...]
    notes: tuple[str, ...]
    near: tuple[str, ...] = ()


def worn(text: str, letters: Letters, rows: Rows, *, most: int = MOST) -> Worn:
    """Give every valid reading of a code with unreadable characters.

    Args:
        text: `?`, `_` or `.` for one unreadable character, `*` for any number of them, also none.
        letters: the tables.
        rows: gives the rows of a table by its name (`crib.trade.tables.rows`).
        most: how many readings to list.

    Raises:
        BadDesignation: too little can be read, or a character that no code holds.
    """
    pattern = pattern_of(text, points=True)
    if whole := _whole(pattern, text, letters):
        return whole
    notes: tuple[str, ...] = (POINT,) if "." in pattern.signs else ()
    usual = layouts(letters, rows)
    found = _Search(pattern, letters, usual, most)
    if not found.possible and notes:
        pattern, notes = pattern_of(text, points=False), ()
        found = _Search(pattern, letters, usual, most)
    if found.possible:
        notes += (USUAL,) if found.narrowed else ()
    else:
        found = _Search(pattern, letters, layouts(letters, rows, loose=True), most)
        notes += (LOOSE,) if found.possible else ()
    if found.possible and pattern.signs.endswith(SOME):
        notes += (TRAILS,)
    return Worn(
        pattern=pattern,
        possible=tuple(found.possible.values()),
        total=len(found.possible),
        complete=found.complete,
        positions=found.positions(),
        notes=notes,
        near=() if found.possible else tuple(_near(pattern, letters, rows)),
    )


def _whole(pattern: Pattern, text: str, letters: Letters) -> Worn | None:
    """Read a code of which nothing is missing."""
    if ONE in pattern.signs or SOME in pattern.signs:
        return None
    try:
        reading = read(text, letters)
    except BadDesignation:
        return None
    one = Possible(designation=reading.designation, reading=reading, maker="")
    return Worn(
        pattern=pattern, possible=(one,), total=1, complete=True, positions=_choices([reading]), notes=()
    )


def _near(pattern: Pattern, letters: Letters, rows: Rows) -> Iterator[str]:
    """Give patterns that would read: gone on after the end, or with one more character unreadable."""
    signs = pattern.signs
    tries = [signs + SOME] + [
        signs[:n] + ONE + signs[n + 1 :] for n, sign in enumerate(signs) if sign not in (ONE, SOME)
    ]
    found = 0
    all_layouts = layouts(letters, rows)
    for signs in tries:
        if found < NEAREST and _Search(Pattern(signs, pattern.breaks), letters, all_layouts, 1).possible:
            found += 1
            yield signs


class _Search:
    """All readings of one pattern over some layouts."""

    def __init__(self, pattern: Pattern, letters: Letters, over: Iterable[Layout], most: int) -> None:
        self.letters = letters
        self.possible: dict[str, Possible] = {}
        self.complete = True
        over = tuple(over)
        self.walks = [walk for layout in over if (walk := _Walk(pattern, layout, False)).ways(START)]
        self._collect(self.walks, most, False)
        if self.complete and not (self.possible and SOME in pattern.signs):
            guesses = [walk for layout in over if (walk := _Walk(pattern, layout, True)).ways(START)]
            self._collect(guesses, most, True)
            self.walks += guesses
        self.narrowed = any(walk.narrowed for walk in self.walks)

    def _collect(self, walks: Iterable["_Walk"], most: int, guessed: bool) -> None:
        """Read what some walks give, up to a number."""
        codes = (found for walk in walks for found in walk.codes(START, ""))
        for walked, (code, maker) in enumerate(codes):
            one = _read(code, maker, self.letters, guessed)
            if one is None or one.designation in self.possible:
                self.complete = walked < WALKED
            elif len(self.possible) == most:
                self.complete = False
            else:
                self.possible[one.designation] = one
            if not self.complete:
                return

    def positions(self) -> tuple[Choice, ...]:
        """Give what may stand at each position; guesses count only where there is nothing else."""
        plain = [one.reading for one in self.possible.values() if not one.guessed]
        readings = plain or [one.reading for one in self.possible.values()]
        if not self.complete:
            walks = [walk for walk in self.walks if not (plain and walk.guess)]
            samples = (_read(*found, self.letters, False) for walk in walks for found in walk.samples())
            readings += [one.reading for one in samples if one is not None]
        return _choices(readings)


class _Walk:
    """One layout walked along one pattern."""

    def __init__(self, pattern: Pattern, layout: Layout, guess: bool) -> None:
        self.guess = guess
        self.pattern = pattern
        self.layout = layout
        self.narrowed = False
        self._known: dict[Node, tuple[Way, ...]] = {}

    def ways(self, node: Node) -> tuple[Way, ...]:
        """Give the symbols that may stand at a node and lead to an end."""
        known = self._known.get(node)
        if known is None:
            known = self._known[node] = tuple(self._find(node))
            field, at, _ = node
            if known and field in self.layout.usual and self.pattern.gaps(at, 2):
                self.narrowed = True
        return known

    def _find(self, node: Node) -> Iterator[Way]:
        field, at, memory = node
        last = field + 1 == len(self.layout.fields)
        for code, then in self.layout.fields[field](memory, self.pattern, at):
            for place in self.pattern.after(at, code) if code else (at,):
                if last:
                    if self.pattern.maker(place, then == "told", self.guess) is not None:
                        yield code, place, then
                elif self.ways((field + 1, place, then)):
                    yield code, place, then

    def codes(self, node: Node, head: str) -> Iterator[tuple[str, str]]:
        """Give every code from a node on, and what the maker added to it."""
        field = node[0] + 1
        for code, place, then in self.ways(node):
            if field == len(self.layout.fields):
                yield head + code, self.pattern.maker(place, then == "told", self.guess) or ""
            else:
                yield from self.codes((field, place, then), head + code)

    def samples(self) -> Iterator[tuple[str, str]]:
        """Give codes such that each symbol of each field stands in at least one."""
        heads = {START: ""}
        for field in range(1, len(self.layout.fields) + 1):
            reached: dict[Node, str] = {}
            seen = set()
            for node, head in heads.items():
                for code, place, then in self.ways(node):
                    after = (field, place, then)
                    if (code, after) not in seen:
                        seen.add((code, after))
                        reached.setdefault(after, head + code)
                        yield self._finished(after, head + code)
            heads = reached

    def _finished(self, node: Node, head: str) -> tuple[str, str]:
        """Go on from a node to the first end."""
        if node[0] < len(self.layout.fields):
            return next(self.codes(node, head))
        return head, self.pattern.maker(node[1], node[2] == "told", self.guess) or ""


def _read(code: str, maker: str, letters: Letters, guessed: bool) -> Possible | None:
    """Read one code; None if it is none after all, or its corner is larger than the insert."""
    whole = f"{code}-{maker}" if maker else code
    readable = ONE not in maker and SOME not in maker
    try:
        reading = read_clean(*clean(whole if readable else code), letters)
    except (Misread, BadDesignation):
        return None
    if isinstance(reading, InsertReading) and reading.SC != "R" and _too_round(reading):
        return None
    if maker and readable and not reading.maker_suffix:
        return None  # together they read as something else, which has its own way
    designation = reading.designation if readable else f"{reading.designation}-{maker}"
    return Possible(designation=designation, reading=reading, maker=maker, guessed=guessed)


def _too_round(reading: InsertReading) -> bool:
    """Tell whether a corner radius leaves no straight edge: it would be a round insert."""
    return reading.IC_mm is not None and reading.RE_mm is not None and 2.0 * reading.RE_mm >= reading.IC_mm


def _choices(readings: Iterable[Reading]) -> tuple[Choice, ...]:
    """Collect what stands at each position over many readings."""
    found: dict[tuple[str, str, int], dict[str, str]] = {}
    for reading in readings:
        for place in reading.positions:
            options = found.setdefault((reading.kind, reading.system, place.position), {})
            options.setdefault(place.found, place.meaning)
    return tuple(
        Choice(
            kind=kind,
            system=system,
            position=position,
            options=tuple(Option(code=code, meaning=meaning) for code, meaning in options.items()),
        )
        for (kind, system, position), options in sorted(found.items(), key=lambda item: item[0])
    )
