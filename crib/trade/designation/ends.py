"""What may follow the corner of an insert: edge, hand, chamfer, facet and the maker's own symbol."""

from crib.trade.designation.letters import Letters
from crib.trade.designation.misread import Misread
from crib.trade.designation.normalise import Breaks, tail
from crib.trade.designation.reading import CERTAIN, MAKER, PositionReading
from crib.trade.designation.symbols import Symbol

UNDASHED = "read as the maker's own symbol, though no dash stands before it"
TIPPED = (
    "read as positions 11 and 12, which tipped inserts have, by recollection only; "
    "it may as well be the maker's own symbol"
)
CHAMFER_DIGITS = 5


class Ends:
    """What was found after the corner.

    Attributes:
        edge: position 8, its letter.
        hand: position 9, its letter.
        chamfer: its five digits, or empty.
        facet_mm: facet width of inch codes.
        condition: letter of older inch codes.
        suffix: maker's own symbol.
        pair: wiper letters printed after a radius, outside the standard.
        text: these positions in their normal form.
        places: each of them with its meaning.
        notes: what to tell.
    """

    def __init__(self) -> None:
        self.edge: str | None = None
        self.hand: str | None = None
        self.chamfer: str = ""
        self.facet_mm: float | None = None
        self.condition: str | None = None
        self.suffix: str | None = None
        self.pair: tuple[Symbol, Symbol] | None = None
        self.text: str = ""
        self.places: tuple[PositionReading, ...] = ()
        self.notes: tuple[str, ...] = ()

    def take(self, symbol: Symbol) -> None:
        """Add a symbol to the text, the places and the notes."""
        self.text += symbol.code
        self.places += symbol.places[:1]
        self.notes += symbol.notes


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
    stop = len(compact)
    for index, mark in breaks:
        if index >= start and mark == "-":
            stop = index
            break
    ends = Ends()
    at = _conditions(compact, start, stop, ends, letters, inch)
    if at < stop:
        blanks = [index for index, _ in breaks if start <= index <= at]
        if blanks:
            stop = blanks[-1]
            ends = Ends()
            at = _conditions(compact, start, stop, ends, letters, inch)
    undashed = at < stop
    if undashed:
        # digits after edge or hand (KNUX..R11), or anything after a facet: makers print these without a dash
        if not (ends.facet_mm if inch else at > start and compact[at].isdigit()):
            raise _misread(compact, start, at, ends, letters, inch)
        stop = at
    if ends.chamfer:
        _take_chamfer(ends)
    if stop < len(compact):
        _take_suffix(ends, tail(compact, breaks, stop), letters)
    if undashed:
        ends.notes += (f"{compact[at:]}: {UNDASHED}",)
    return ends


def _conditions(compact: str, at: int, stop: int, ends: Ends, letters: Letters, inch: bool) -> int:
    """Read edge, hand, chamfer and (inch) facet and condition; give where they end."""
    if at >= stop:
        return at
    symbol = letters.edges.get(compact[at])
    if symbol is not None:
        ends.edge = symbol.code
        ends.take(symbol)
        at = _chamfer(compact, at + 1, stop, ends, letters)
    symbol = letters.hands.get(compact[at]) if at < stop else None
    if symbol is not None:
        ends.hand = symbol.code
        ends.take(symbol)
        at = _chamfer(compact, at + 1, stop, ends, letters)
    return _inch_conditions(compact, at, ends, letters) if inch and at < stop else at


def _inch_conditions(compact: str, at: int, ends: Ends, letters: Letters) -> int:
    """Read the facet after the hand, or a condition letter of the older codes."""
    symbol = letters.inch_facets.get(compact[at])
    if symbol is not None and ends.hand is not None:
        ends.facet_mm = symbol.value
        ends.take(symbol)
        return at + 1
    symbol = letters.inch_conditions.get(compact[at])
    if symbol is not None and ends.edge is None:
        ends.condition = symbol.code
        ends.take(symbol)
        return at + 1
    return at


def _chamfer(compact: str, at: int, stop: int, ends: Ends, letters: Letters) -> int:
    """Take chamfer digits if a chamfered edge went before; give where they end."""
    if at + CHAMFER_DIGITS > stop or ends.edge not in letters.chamfered or ends.chamfer:
        return at
    digits = compact[at : at + CHAMFER_DIGITS]
    if not digits.isdigit():
        return at
    ends.chamfer = digits
    return at + CHAMFER_DIGITS


def _take_chamfer(ends: Ends) -> None:
    """Add the chamfer, which stands after the hand."""
    width_mm, angle_deg = chamfer(ends.chamfer)
    words = f"chamfer {width_mm:g} mm x {angle_deg:g} deg"
    ends.text += ends.chamfer
    ends.places += (PositionReading(10, ends.chamfer, words, CERTAIN),)


def _take_suffix(ends: Ends, suffix: str, letters: Letters) -> None:
    """Add the maker's own symbol; after a chamfer its first two letters may tell the tips."""
    ends.suffix = suffix
    ends.text += "-" + suffix
    own = suffix
    if ends.chamfer and not suffix[2:3].isalnum():
        corners, length = letters.tip_corners.get(suffix[:1]), letters.tip_lengths.get(suffix[1:2])
        if corners is not None and length is not None:
            ends.places += (corners.places[0], length.places[0])
            ends.notes += (f"{suffix[:2]}: {TIPPED}",)
            own = suffix[3:]
    if own:
        ends.places += (PositionReading(13, own, "the maker's own symbol", MAKER),)


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
    expected.append("- and the maker's own symbol")
    dashed = [f"{compact[:start]}-{compact[start:]}"] if sign.isalpha() else []
    return Misread("insert", "inch" if inch else "metric", position, at, sign, expected, why, dashed)
