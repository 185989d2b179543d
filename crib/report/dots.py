"""A picture of dots in a grid of characters: braille patterns, or ASCII where there are none."""

from collections.abc import Sequence
from enum import Enum
from math import ceil, floor

Point = tuple[float, float]
Box = tuple[float, float, float, float]
BRAILLE = 0x2800
# bit of each dot of a braille character, by column and row (Unicode, block Braille Patterns)
BITS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))
# a character by which of its upper and lower half is marked
HALVES = (" ", "'", ".", ":")


class GlyphSet(Enum):
    """How dots become characters; the value is dots across and dots down in one of them."""

    BRAILLE = (2, 4)
    ASCII = (1, 2)


def glyphs_for(encoding: str | None, terminal: str | None) -> GlyphSet:
    """Choose braille where a terminal can be expected to show it.

    Args:
        encoding: of the output stream.
        terminal: the TERM variable; a bare Linux console has no braille in its font.
    """
    plain = terminal in ("linux", "dumb", "vt100", "vt220")
    return GlyphSet.BRAILLE if "utf" in (encoding or "").lower() and not plain else GlyphSet.ASCII


class Dots:
    """Lines in mm, drawn on dots that are as far apart across as down.

    Args:
        width: columns of characters, each half as wide as high.
        height: rows of characters.
        glyphs: what the dots become.
    """

    def __init__(self, width: int, height: int, glyphs: GlyphSet) -> None:
        self._glyphs = glyphs
        across, down = glyphs.value
        self._columns, self._rows = width * across, height * down
        self._dots: set[tuple[int, int]] = set()
        self._left = self._top = 0.0
        self._scale = 1.0

    def scale(self, box: Box) -> float:
        """Give how many dots a millimetre would take if this box had to fit."""
        wide, high = max(box[2] - box[0], 1e-9), max(box[3] - box[1], 1e-9)
        return min((self._columns - 1) / wide, (self._rows - 1) / high)

    def fit(self, box: Box) -> None:
        """Choose the scale for a box; it is put at the top, in the middle across."""
        self._scale = self.scale(box)
        spare = self._columns - 1 - (box[2] - box[0]) * self._scale
        self._left, self._top = box[0] - floor(spare / 2.0) / self._scale, box[3]

    def clear(self, points: Sequence[Point]) -> None:
        """Take away the dots inside a closed line."""
        around = [self._at(point) for point in points]
        rows = [y for _, y in around]
        for row in range(ceil(min(rows)), floor(max(rows)) + 1):
            crossings = sorted(_crossings(around, row))
            for enter, leave in zip(crossings[::2], crossings[1::2], strict=False):
                self._dots -= {(column, row) for column in range(ceil(enter), floor(leave) + 1)}

    def line(self, points: Sequence[Point], *, closed: bool, every: int = 1) -> None:
        """Draw a line through points.

        Args:
            points: in mm.
            closed: join the last to the first.
            every: draw only every so-manieth dot.
        """
        cells = [(round(x), round(y)) for x, y in map(self._at, points)]
        trail: list[tuple[int, int]] = []
        for start, end in zip(cells, [*cells[1:], *cells[:1]] if closed else cells[1:], strict=False):
            trail += _between(start, end)
        seen = list(dict.fromkeys(trail or cells))
        self._dots.update(seen[::every])

    def lines(self) -> list[str]:
        """Give the picture as text, without blanks at the ends of lines or empty lines below."""
        across, down = self._glyphs.value
        marks: dict[tuple[int, int], int] = {}
        for x, y in self._dots:
            cell = (x // across, y // down)
            bit = BITS[x % 2][y % 4] if self._glyphs is GlyphSet.BRAILLE else 1 << (y % 2)
            marks[cell] = marks.get(cell, 0) | bit
        last = max((row for _, row in marks), default=-1)
        text = []
        for row in range(last + 1):
            cells = [marks.get((column, row), 0) for column in range(self._columns // across)]
            text.append("".join(self._sign(mark) for mark in cells).rstrip())
        return text

    def _sign(self, mark: int) -> str:
        """Give the character of one cell; an empty one is a plain blank."""
        if self._glyphs is GlyphSet.ASCII:
            return HALVES[mark]
        return chr(BRAILLE + mark) if mark else " "

    def _at(self, point: Point) -> Point:
        """Give where a point lies in dots, rows counted downwards."""
        return (point[0] - self._left) * self._scale, (self._top - point[1]) * self._scale


def _crossings(around: Sequence[Point], row: float) -> list[float]:
    """Give where a closed line crosses a row."""
    found = []
    for (x0, y0), (x1, y1) in zip(around, [*around[1:], around[0]], strict=True):
        if (y0 <= row) != (y1 <= row):
            found.append(x0 + (row - y0) * (x1 - x0) / (y1 - y0))
    return found


def _between(start: tuple[int, int], end: tuple[int, int]) -> list[tuple[int, int]]:
    """Give the dots of a straight line, both ends included (Bresenham's way of stepping)."""
    (x, y), (x1, y1) = start, end
    across, down = abs(x1 - x), -abs(y1 - y)
    step_x, step_y = (1 if x < x1 else -1), (1 if y < y1 else -1)
    slack = across + down
    dots = [(x, y)]
    while (x, y) != (x1, y1):
        doubled = 2 * slack
        if doubled >= down:
            slack += down
            x += step_x
        if doubled <= across:
            slack += across
            y += step_y
        dots.append((x, y))
    return dots
