"""What may follow the corner of an insert: edge, hand, chamfer, facet and the maker's own symbol."""

from dataclasses import dataclass

from crib.trade.designation.letters import Letters, Symbol
from crib.trade.designation.misread import Misread
from crib.trade.designation.normalise import Breaks, tail
from crib.trade.designation.reading import CERTAIN, MAKER, OUTSIDE, PositionReading

UNDASHED = "read as the maker's own symbol, though no dash stands before it"
CHAMFER_DIGITS = 5


@dataclass(slots=True, eq=False, repr=False)
class Ends:
    """What was found after the corner.

    Attributes:
        pair: wiper letters printed after a radius, outside the standard.
        edge: position 8.
        hand: position 9.
        chamfer: its five digits, or empty.
        facet: facet width of inch codes.
        condition: letter of older inch codes.
        suffix: maker's own symbol.
        notes: what to tell.
    """

    pair: tuple[Symbol, Symbol] | None = None
    edge: Symbol | None = None
    hand: Symbol | None = None
    chamfer: str = ""
    facet: Symbol | None = None
    condition: Symbol | None = None
    suffix: str | None = None
    notes: tuple[str, ...] = ()

    def symbols(self) -> list[Symbol]:
        """Give the symbols that were found, in the order of their positions."""
        return [
            s for s in (*(self.pair or ()), self.edge, self.hand, self.facet, self.condition) if s is not None
        ]

    def text(self) -> str:
        """Give these positions in their normal form."""
        out = "".join([symbol.code for symbol in self.symbols()]) + self.chamfer
        return f"{out}-{self.suffix}" if self.suffix else out

    def all_notes(self) -> tuple[str, ...]:
        """Give what to tell about these positions."""
        return tuple([note for symbol in self.symbols() for note in symbol.notes]) + self.notes

    def positions(self) -> tuple[PositionReading, ...]:
        """Give these positions, each with its meaning."""
        out = [symbol.places[0] for symbol in self.symbols()]
        if self.pair:
            out[:2] = [PositionReading(7, p.found, p.meaning, OUTSIDE) for p in out[:2]]
        if self.chamfer:
            width_mm, angle_deg = chamfer(self.chamfer)
            words = f"chamfer {width_mm:g} mm x {angle_deg:g} deg"
            out.append(PositionReading(10, self.chamfer, words, CERTAIN))
        if self.suffix:
            out.append(PositionReading(13, self.suffix, "the maker's own symbol", MAKER))
        return tuple(out)


NOTHING = Ends()


def chamfer(digits: str) -> tuple[float, float]:
    """Give width (mm) and angle (deg) of the five chamfer digits: 1/100 mm, then degrees.

    Source: ISO 1832 position 10, as used in makers' catalogues.
    """
    return int(digits[:3]) / 100.0, float(digits[3:])


def read_ends(compact: str, breaks: Breaks, start: int, letters: Letters, *, inch: bool) -> Ends:
    """Read everything from `start`, the end of the corner.

    A dash opens the maker's own symbol. So does a blank, where what follows is no edge or hand.

    Args:
        compact: bare code.
        breaks: where separators stood.
        start: index of the first character after the corner.
        letters: the tables.
        inch: read by the inch standard.

    Raises:
        Misread: characters that are neither.
    """
    stop = next((index for index, mark in breaks if index >= start and mark == "-"), len(compact))
    ends, at = _conditions(compact, start, stop, letters, inch)
    if at < stop:
        blanks = [index for index, _ in breaks if start <= index <= at]
        if blanks:
            stop = blanks[-1]
            ends, at = _conditions(compact, start, stop, letters, inch)
    if at < stop:
        if at == start or not (compact[at].isdigit() or ends.facet):
            raise _misread(compact, start, at, ends, letters, inch)
        ends.notes = (f"{compact[at:]}: {UNDASHED}",)
        stop = at
    if stop < len(compact):
        ends.suffix = tail(compact, breaks, stop)
        if ends.chamfer and ends.suffix in letters.tipped:
            ends.notes += (
                f"{ends.suffix}: may be positions 11 and 12 (tipped corners), not a maker's symbol",
            )
    return ends


def _conditions(compact: str, at: int, stop: int, letters: Letters, inch: bool) -> tuple[Ends, int]:
    """Read edge, hand, chamfer and (inch) facet and condition; give where they end."""
    ends = Ends()
    if at < stop and compact[at] in letters.edges:
        ends.edge = letters.edges[compact[at]]
        at = _chamfer(compact, at + 1, stop, ends, letters)
    if at < stop and compact[at] in letters.hands:
        ends.hand = letters.hands[compact[at]]
        at = _chamfer(compact, at + 1, stop, ends, letters)
    if not inch or at >= stop:
        return ends, at
    if ends.hand is not None and compact[at] in letters.inch_facets:
        ends.facet = letters.inch_facets[compact[at]]
        return ends, at + 1
    if ends.edge is None and compact[at] in letters.inch_conditions:
        ends.condition = letters.inch_conditions[compact[at]]
        return ends, at + 1
    return ends, at


def _chamfer(compact: str, at: int, stop: int, ends: Ends, letters: Letters) -> int:
    """Take chamfer digits if a chamfered edge went before; give where they end."""
    if ends.edge is None or ends.chamfer or ends.edge.code not in letters.chamfered:
        return at
    digits = compact[at : min(at + CHAMFER_DIGITS, stop)]
    if len(digits) < CHAMFER_DIGITS or not digits.isdigit():
        return at
    ends.chamfer = digits
    return at + CHAMFER_DIGITS


def _misread(compact: str, start: int, at: int, ends: Ends, letters: Letters, inch: bool) -> Misread:
    """Say what is wrong after the corner."""
    sign = compact[at]
    position, expected = 8, [*letters.edges, *letters.hands, *(letters.inch_conditions if inch else ())]
    why = f"{sign} is neither an edge condition nor a hand"
    if ends.hand is not None and sign in letters.edges:
        position, expected, why = 9, [], "the edge condition comes before the hand"
    elif ends.hand is not None:
        position, expected, why = 10, [], f"{sign} has no meaning after the hand"
    elif ends.edge is not None:
        position, expected, why = 9, [*letters.hands], f"{sign} is not a hand"
    return Misread(
        "insert", "inch" if inch else "metric", position, at, sign, [*expected, "- and the maker's own symbol"],
        why, (f"{compact[:start]}-{compact[start:]}",),
    )  # fmt: skip
