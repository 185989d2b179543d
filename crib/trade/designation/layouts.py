"""The order of the symbols in each kind of code, as fields that say what may stand in them.

For codes with characters that can't be read (`worn`): a layout is walked field by field, and each field gives
only what the tables hold.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import product

from crib.trade.designation.letters import Letters
from crib.trade.designation.pattern import Pattern

DIGITS = "0123456789"
CHAMFER_DIGITS = 5
DASH = "-"

Step = tuple[str, str]
"""What stands in a field, and what is to be remembered for the fields after it."""
Field = Callable[[str, Pattern, int], Iterable[Step]]
"""Gives the steps from what is remembered, the pattern and the place in it."""
Rows = Callable[[str], "tuple[Mapping[str, str], ...]"]


@dataclass(frozen=True, slots=True)
class Layout:
    """One kind of code in one system.

    Attributes:
        kind: "insert", "holder" or "bar".
        system: "metric" or "inch".
        fields: its fields in order.
        usual: which of them hold two digits that, unreadable, are looked for among the usual ones.
    """

    kind: str
    system: str
    fields: tuple[Field, ...]
    usual: frozenset[int] = frozenset()


def shank_codes(rows: Rows, used_for: str) -> tuple[str, ...]:
    """Give the usual two-digit shank sizes, from the table.

    Args:
        rows: gives the rows of a table by its name (`crib.trade.tables.rows`).
        used_for: "holder", "bar" or "inch bar".
    """
    return tuple(row["code"] for row in rows("shank_size") if row["used_for"] == used_for)


def layouts(letters: Letters, rows: Rows, *, loose: bool = False) -> tuple[Layout, ...]:
    """Give all layouts.

    Args:
        letters: the tables of symbols.
        rows: gives the rows of a table by its name, for the usual shank sizes.
        loose: take any two digits for a corner radius or a shank, not only those of the tables.

    Source: ISO 1832 and ANSI B212.4 (inserts), ISO 5608 and ANSI B212.5 (holders), ISO 6261 (bars).
    """
    make = _Fields(letters, loose)
    holder, bar, inch_bar = (
        make.two_digits(shank_codes(rows, used)) for used in ("holder", "bar", "inch bar")
    )
    five = (
        make.table(letters.clampings), make.shape, make.table(letters.styles),
        make.table(letters.metric_clearances), make.table(letters.hands),
    )  # fmt: skip
    one_hand = (*five[:4], make.table([hand for hand in letters.hands if hand != "N"]))
    types, inch_sizes, dash = make.table(letters.bar_types), make.table(letters.inch_size_symbols), _dash
    bar_lengths = make.table([code for code in letters.inch_bar_lengths if code in letters.lengths])
    metric_ends = (make.wiper_after, make.edge, make.chamfer, make.hand, make.chamfer, make.settled)
    inch_ends = (make.edge, make.chamfer, make.hand, make.chamfer, make.inch_last)
    return (
        Layout("insert", "metric", (
            make.shape, make.table(letters.metric_clearances), make.table(letters.metric_classes),
            make.table(letters.metric_types), make.size, make.table(letters.thicknesses), make.corner,
            *metric_ends,
        ), frozenset({6})),
        Layout("insert", "inch", (
            make.shape, make.table(letters.inch_clearances), make.table(letters.classes),
            make.table(letters.types), make.inch_size, make.table(letters.inch_thicknesses),
            make.inch_corner, *inch_ends,
        )),
        Layout("holder", "metric", (
            *five, holder, holder, make.length, make.seat_size, make.tolerance,
        ), frozenset({5, 6})),
        Layout("holder", "metric", (
            *five, holder, make.table(["CA"]), dash, make.seat_size,
        ), frozenset({5})),
        Layout("holder", "inch", (
            *five, make.table(letters.inch_shanks), dash, inch_sizes, make.table(letters.inch_lengths),
        )),
        Layout("bar", "metric", (
            types, bar, make.table(letters.lengths), dash, *one_hand, make.seat_size,
        ), frozenset({1})),
        Layout("bar", "inch", (
            types, inch_bar, bar_lengths, dash, *one_hand, inch_sizes,
        ), frozenset({1})),
    )  # fmt: skip


def _dash(memory: str, pattern: Pattern, at: int) -> Iterator[Step]:
    """A dash that may be left out; unreadable, it takes a character."""
    yield "", memory
    if pattern.unknown(at):
        yield DASH, memory


class _Fields:
    """Makes the fields. Memory is the shape letter up to the size, then what the ends need to know."""

    def __init__(self, letters: Letters, loose: bool) -> None:
        self.letters = letters
        self.loose = loose
        self.sizes: dict[str, list[str]] = {}
        for key in letters.sizes:
            self.sizes.setdefault(key[0], []).append(key[1:])
        self.rounds = list(dict.fromkeys(key[:2] for key in letters.rounds))
        self.pairs = [a + c for a in letters.wiper_angles for c in letters.wiper_clearances]

    # -- letters and digits by table ----------------------------------------------------------------------

    def table(self, codes: Iterable[str]) -> Field:
        """A field that holds any symbol of a table."""
        kept = tuple(codes)
        return lambda memory, _pattern, _at: [(code, memory) for code in kept]

    def shape(self, _memory: str, _pattern: Pattern, _at: int) -> list[Step]:
        """The shape letter, remembered."""
        return [(code, code) for code in self.letters.shapes]

    def two_digits(self, codes: tuple[str, ...]) -> Field:
        """Millimetres in two digits: the table's, and whatever can be read in full."""

        def field(memory: str, pattern: Pattern, at: int) -> list[Step]:
            if self.loose:
                return [(code, memory) for code in _two(DIGITS, DIGITS)]
            seen = pattern.digits(at, 2)
            return [(code, memory) for code in dict.fromkeys((*codes, *([seen] if seen else ())))]

        return field

    # -- inserts ------------------------------------------------------------------------------------------

    def size(self, memory: str, _pattern: Pattern, _at: int) -> list[Step]:
        """Metric size; a round one is remembered, since its corner depends on it."""
        if self.letters.shapes[memory].corners is None:
            return [(code, memory + code) for code in self.rounds]
        return [(code, memory) for code in self._sizes(memory)]

    def _sizes(self, shape: str) -> Iterable[str]:
        """Sizes of a shape; an oblong one may have any."""
        if self.letters.shapes[shape].edge_per_IC is None:
            return _two(DIGITS, DIGITS)
        return self.sizes.get(shape, ())

    def corner(self, memory: str, pattern: Pattern, at: int) -> list[Step]:
        """Metric corner: a radius, two wiper letters, or how a round insert ends."""
        if len(memory) > 1:
            return [(c, "round") for c in self.letters.round_corners if memory[1:] + c in self.letters.rounds]
        seen = pattern.digits(at, 2)
        radii = _two(DIGITS, DIGITS) if self.loose else [*self.letters.corners, *([seen] if seen else ())]
        return [(code, "radius") for code in dict.fromkeys(radii)] + [(code, "") for code in self.pairs]

    def inch_size(self, memory: str, _pattern: Pattern, _at: int) -> list[Step]:
        """Inch size: eighths, or width and length of an oblong insert."""
        if self.letters.shapes[memory].edge_per_IC is None:
            return [(code, memory) for code in _two(DIGITS[1:], DIGITS[1:])]
        return [(code, memory) for code in self.letters.inch_size_symbols]

    def inch_corner(self, memory: str, _pattern: Pattern, _at: int) -> list[Step]:
        """Inch corner: sixty-fourths, wiper letters or a letter; nothing (or 0) for a round insert."""
        if self.letters.shapes[memory].corners is None:
            return [("", ""), ("0", "")]
        letters = self.letters
        return [(code, "") for code in (*letters.inch_corners, *self.pairs, *letters.inch_corner_letters)]

    # -- what follows the corner; a gap at the very end is not filled with it ------------------------------
    # memory: edge, then hand ("-" for none), then "c" for a chamfer

    def wiper_after(self, memory: str, pattern: Pattern, at: int) -> list[Step]:
        """Wiper letters after a radius, outside the standard: only where one of them can be read."""
        steps = [("", "")]
        if memory == "radius" and not pattern.dashed(at) and not pattern.blank(at, 2):
            steps += [(code, "wiper") for code in self.pairs]
        return steps

    def edge(self, memory: str, pattern: Pattern, at: int) -> list[Step]:
        """Edge condition, if any."""
        start = "w" if memory == "wiper" else ""
        if pattern.dashed(at) or pattern.trails(at):
            return [("", start + "-")]
        return [("", start + "-"), *((code, start + code) for code in self.letters.edges)]

    def chamfer(self, memory: str, pattern: Pattern, at: int) -> Iterator[Step]:
        """Five chamfer digits after a chamfered edge; a gap of unknown length is not filled with them."""
        yield "", memory
        edge = memory.lstrip("w")[:1]
        if edge in self.letters.chamfered and "c" not in memory and not pattern.dashed(at):
            choices = [pattern.choices(at + n, DIGITS) for n in range(CHAMFER_DIGITS)]
            for digits in product(*choices):
                yield "".join(digits), memory + "c"

    def hand(self, memory: str, pattern: Pattern, at: int) -> list[Step]:
        """Hand, if any."""
        if pattern.dashed(at) or pattern.trails(at):
            return [("", memory + "-")]
        return [("", memory + "-"), *((code, memory + code) for code in self.letters.hands)]

    def settled(self, memory: str, _pattern: Pattern, _at: int) -> list[Step]:
        """Nothing more; wiper letters after a radius need an edge or a hand behind them."""
        if memory.startswith("w") and not memory.strip("wc-"):
            return []
        return [("", _told(memory))]

    def inch_last(self, memory: str, pattern: Pattern, at: int) -> list[Step]:
        """Facet after the hand, or the letter of an older code."""
        steps = [("", _told(memory))]
        if pattern.dashed(at) or pattern.trails(at):
            return steps
        handed = any(hand in memory[1:] for hand in self.letters.hands)
        if handed:
            steps += [(code, "told") for code in self.letters.inch_facets]
        if memory.startswith("-"):
            steps += [(code, "") for code in self.letters.inch_conditions]
        return steps

    # -- holders and bars ---------------------------------------------------------------------------------

    def seat_size(self, memory: str, _pattern: Pattern, _at: int) -> list[Step]:
        """Metric size of the insert that a holder takes."""
        shape = self.letters.shapes[memory]
        codes = self.rounds if shape.corners is None else self._sizes(memory)
        return [(code, "") for code in codes]

    def length(self, memory: str, pattern: Pattern, at: int) -> list[Step]:
        """Length letter of a holder, or the dash for the preferred length."""
        steps = [(code, memory) for code in self.letters.lengths]
        if pattern.dashed(at) or pattern.unknown(at):
            steps.append((DASH, memory))
        return steps

    def tolerance(self, memory: str, pattern: Pattern, at: int) -> list[Step]:
        """Letter of the qualified faces, if any; after a break it would be the maker's."""
        codes = () if pattern.broken(at) or pattern.trails(at) else self.letters.holder_tolerances
        return [("", memory), *((code, memory) for code in codes)]


def _told(memory: str) -> str:
    """Give "told" where an edge or a hand stands: digits right behind them are the maker's."""
    return "told" if memory.strip("wc-") else ""


def _two(first: str, second: str) -> list[str]:
    """Give all pairs of digits but 00."""
    return [a + b for a in first for b in second if a + b != "00"]
