"""Labels for drawers and boxes: name, mark, code, and a QR code of the tag, on sheets of any layout."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import segno

from crib.desk.dates import now
from crib.desk.intake.labels import Label, labels
from crib.desk.outside import save_new
from crib.errors import InputError
from crib.report.paper import Paper, SIZES_mm

QUIET = 4  # modules left white around a QR code: ISO/IEC 18004
INNER_mm = 1.5  # printers miss by as much
LEAST_WIDE_mm, LEAST_HIGH_mm = 20.0, 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """How a sheet is cut, in millimetres.

    Attributes:
        paper: "A4" or "Letter".
        wide_mm: of a label.
        high_mm: of a label.
        left_mm: from the edge of the sheet to the first label.
        top_mm: from the upper edge to the first label.
        gap_x_mm: between labels side by side.
        gap_y_mm: between rows.
    """

    paper: str = "A4"
    wide_mm: float = 62.0
    high_mm: float = 29.0
    left_mm: float = 8.0
    top_mm: float = 10.0
    gap_x_mm: float = 2.0
    gap_y_mm: float = 2.0

    def grid(self) -> tuple[int, int]:
        """Give how many labels stand side by side, and how many rows there are.

        Raises:
            InputError: there is no such paper, or no label fits on it.
        """
        if self.paper not in SIZES_mm:
            raise InputError(f"there is no paper called {self.paper!r}", "one of: " + ", ".join(SIZES_mm))
        if self.wide_mm < LEAST_WIDE_mm or self.high_mm < LEAST_HIGH_mm:
            raise InputError(
                f"a label of {self.wide_mm:g} x {self.high_mm:g} mm is too small to print on",
                f"at least {LEAST_WIDE_mm:g} x {LEAST_HIGH_mm:g} mm",
            )
        if min(self.left_mm, self.top_mm, self.gap_x_mm, self.gap_y_mm) < 0:
            raise InputError("a margin or gap is below zero", "0 or more millimetres")
        wide, high = SIZES_mm[self.paper]
        # a hair more than fits still fits: sizes of sheets are rounded
        across = int((wide - self.left_mm + self.gap_x_mm + 0.1) / (self.wide_mm + self.gap_x_mm))
        down = int((high - self.top_mm + self.gap_y_mm + 0.1) / (self.high_mm + self.gap_y_mm))
        if across < 1 or down < 1:
            raise InputError(
                f"no label of {self.wide_mm:g} x {self.high_mm:g} mm fits on {self.paper} with these margins",
                "make label or margins smaller",
            )
        return across, down


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """Labels that were written to a file.

    Attributes:
        saved: its path.
        labels: that are on it.
        across: labels side by side on a sheet.
        down: rows on a sheet.
        verdict: that in one line.
        advice: how to print it.
    """

    saved: str
    labels: tuple[Label, ...]
    across: int
    down: int
    verdict: str
    advice: str = "Print it at 100 %, not fitted to the page; try plain paper first."


def layout_of(*, size: str, margin: str, gap: str, paper: str) -> Layout:
    """Read how a sheet is cut, each of the first three two numbers of mm: 62x29, "62,5 x 29".

    Raises:
        InputError: one can't be read, or no label fits.
    """
    (wide, high), (left, top), (gap_x, gap_y) = _two(size, "size"), _two(margin, "margin"), _two(gap, "gap")
    layout = Layout(
        paper=paper, wide_mm=wide, high_mm=high, left_mm=left, top_mm=top, gap_x_mm=gap_x, gap_y_mm=gap_y
    )
    layout.grid()
    return layout


def _two(text: str, what: str) -> tuple[float, float]:
    try:
        parts = text.lower().replace("mm", "").replace(",", ".").split("x")
        one, other = (float(part) for part in parts)
    except ValueError:
        raise InputError(f"the {what} {text!r} can't be read", "two numbers of mm, like 62x29") from None
    if not (0 <= one < 1000 and 0 <= other < 1000):
        raise InputError(f"the {what} {text!r} is no size of paper", "two numbers of mm, like 62x29")
    return one, other


def save_labels(
    address: str,
    path: str,
    tags: Sequence[str],
    *,
    at: str = "",
    words: str = "",
    layout: Layout,
    skip: int = 0,
    lines: bool = False,
) -> Printed:
    """Write labels of tools to a file that is not there yet.

    Args:
        address: the store.
        path: of the file.
        tags: of the tools.
        at: a place whose tools are meant too.
        words: shop talk for further ones.
        layout: how a sheet is cut.
        skip: so many places at the beginning are used already.
        lines: draw the edge of each label.

    Raises:
        CribError: no such tools, or the file can't be written.
    """
    found = labels(address, tags, at=at, words=words)
    saved = save_new(path, labels_pdf(found, layout, skip=skip, lines=lines, made=now()))
    across, down = layout.grid()
    return Printed(
        saved=saved,
        labels=found,
        across=across,
        down=down,
        verdict=f"{len(found)} label{'s' * (len(found) != 1)} in {saved}, "
        f"{across} x {down} on a sheet of {layout.paper}.",
    )


def labels_pdf(
    shown: Sequence[Label],
    layout: Layout,
    *,
    skip: int = 0,
    lines: bool = False,
    made: datetime | None = None,
) -> bytes:
    """Print labels on sheets.

    Args:
        shown: in the order of the sheet, row by row.
        layout: how the sheet is cut.
        skip: so many places at the beginning are used already.
        lines: draw the edge of each label, to cut along or to see whether the layout is right.
        made: the moment that the file says it was made.

    Raises:
        InputError: the layout can't be.
    """
    across, down = layout.grid()
    if not 0 <= skip < across * down:
        raise InputError(
            f"{skip} places can't be skipped: a sheet has {across * down}", "a number below that"
        )
    paper = Paper("labels", size=layout.paper, made=made, bare=True)
    for number, label in enumerate(shown, skip):
        place = number % (across * down)
        if place == 0 and number > skip:
            paper.new_page()
        row, column = divmod(place, across)
        left = layout.left_mm + column * (layout.wide_mm + layout.gap_x_mm)
        top = layout.top_mm + row * (layout.high_mm + layout.gap_y_mm)
        if lines:
            paper.box(left, top, layout.wide_mm, layout.high_mm)
        _draw(paper, label, left, top, layout)
    return paper.finished()


def _draw(paper: Paper, label: Label, left_mm: float, top_mm: float, layout: Layout) -> None:
    side = min(layout.high_mm, 0.42 * layout.wide_mm)
    _draw_code(paper, label.tag, left_mm, top_mm + (layout.high_mm - side) / 2, side)
    x_mm, wide = left_mm + side, layout.wide_mm - side - INNER_mm
    # type grows with the label, within what is read at arm's length
    large = max(8.0, min(16.0, layout.high_mm * 0.5))
    small = max(6.0, min(9.0, layout.high_mm * 0.27))
    line = small * 0.46
    y_mm = top_mm + INNER_mm
    paper.put(label.tag, x_mm, y_mm, wide, size_pt=large, bold=True)
    y_mm += large * 0.46
    rest = int((top_mm + layout.high_mm - INNER_mm - y_mm) / line)
    told = [text for text in (label.code, " ".join((label.mark, label.owner)).strip()) if text]
    told = told[: max(0, rest - 1)]  # the name comes first, then as much of the others as there is room for
    used = paper.put(label.name, x_mm, y_mm, wide, size_pt=small, lines=max(1, min(2, rest - len(told))))
    y_mm += used * line
    for text in told:
        paper.put(text, x_mm, y_mm, wide, size_pt=small, bold=text == label.code)
        y_mm += line


def _draw_code(paper: Paper, text: str, left_mm: float, top_mm: float, side_mm: float) -> None:
    """Draw a QR code with its quiet zone into a square."""
    matrix = segno.make(text, error="m", micro=False).matrix
    module = side_mm / (len(matrix) + 2 * QUIET)
    for y, row in enumerate(matrix):
        x = 0
        while x < len(row):
            end = x
            while end < len(row) and row[end]:
                end += 1
            if end > x:  # dark modules side by side are one box: no hair lines between them
                at = left_mm + (QUIET + x) * module
                paper.box(at, top_mm + (QUIET + y) * module, (end - x) * module, module, filled=True)
            x = end + 1
