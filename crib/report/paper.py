"""Sheets of paper: pages with a title, tables that go on over pages, boxes to sign in; written as PDF.

Everything printed goes through `printable`: what users typed is data, and signs that the font lacks are told
by their Unicode numbers, so that nothing is lost and nothing breaks.
"""

import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from itertools import chain, islice
from pathlib import Path
from typing import Any
from unicodedata import category, normalize
from weakref import finalize

from fpdf import FPDF
from fpdf.errors import FPDFException
from fpdf.fonts import TTFFont

from crib.errors import InputError

FONTS = Path(__file__).parent / "fonts"
SIZES_mm = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN_mm = 15.0
HEADER_mm = 10.0  # below the upper margin: title and page number, with a rule under them
TEXT_pt, SMALL_pt, HEADING_pt = 10.0, 8.0, 13.0
LINE = 1.25  # height of a line, of the type's
PT_mm = 25.4 / 72
LONGEST, LONGEST_CELL = (
    4_000,
    500,
)  # signs of one text, of a cell of a table; what is longer is cut, and says so
PADDING_mm = 1.2
LOOKED_AT, UNCUT = 50, 10  # rows of a table by which its columns are set; signs of a word that is not cut
CAPTION_LINES = 2
_CONTROLS = ("Cc", "Cf", "Cs", "Zl", "Zp")


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a table.

    Attributes:
        head: what stands above it.
        share: its part of the width, beside those of the others.
        right: figures, set to the right.
    """

    head: str
    share: float = 1.0
    right: bool = False


@cache
def signs(bold: bool = False) -> frozenset[int]:
    """Give the code points that the font can print."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    with TTFont(_face(bold)) as font:
        return frozenset(font.getBestCmap())


def printable(text: str, longest: int = LONGEST) -> str:
    """Give a text as it can be printed.

    Controls and marks of direction become `�`, blanks of any kind a blank, and a run of signs that the font
    lacks their Unicode numbers: 工具 → `[U+5DE5 5177]`. More signs than `longest` are cut, and it says so.
    """
    cut = len(text) - longest
    known = signs()
    done: list[str] = []
    numbers: list[str] = []
    for sign in normalize("NFC", text[:longest]):
        kind = category(sign)
        plain = " " if kind == "Zs" or sign == "\t" else "�" if kind in _CONTROLS else sign
        if ord(plain) in known:
            done += _told(numbers)
            done.append(plain)
        else:
            numbers.append(f"{ord(sign):04X}")
    done += _told(numbers)
    return "".join(done) + (f" … ({cut} signs more)" if cut > 0 else "")


class Paper:
    """One document. Text flows down the page; `box` and `put` place things by millimetres.

    Args:
        title: stands at the head of each page.
        size: "A4" or "Letter".
        landscape: the long edge below.
        made: the moment that the file says it was made; the same input then gives the same bytes.
        bare: no title and no page number on the pages (labels).

    Raises:
        InputError: there is no such size.
    """

    def __init__(
        self,
        title: str,
        *,
        size: str = "A4",
        landscape: bool = False,
        made: datetime | None = None,
        bare: bool = False,
    ) -> None:
        if size not in SIZES_mm:
            raise InputError(f"there is no paper called {size!r}", "one of: " + ", ".join(SIZES_mm))
        wide, high = sorted(SIZES_mm[size], reverse=landscape)
        self.width_mm, self.height_mm = wide, high
        self.title, self.bare = printable(title), bare
        self.left_mm, self.right_mm = MARGIN_mm, wide - MARGIN_mm
        self.bottom_mm = high - MARGIN_mm
        self._pdf = FPDF(unit="mm", format=(wide, high))
        self._pdf.alias_nb_pages("")  # else "{nb}" in a user's text would become a number
        for style, bold in (("", False), ("B", True)):
            self._pdf.add_font("DejaVu", style, _face(bold))
        # the library leaves the font files open
        finalize(
            self, _close, [font.ttfont for font in self._pdf.fonts.values() if isinstance(font, TTFFont)]
        )
        self._pdf.set_margins(0, 0, 0)
        self._pdf.set_auto_page_break(False)
        self._pdf.c_margin = 0
        self._pdf.set_title(self.title)
        self._pdf.set_creator("crib")
        if made is not None:
            self._pdf.set_creation_date(made)
        self.y_mm = 0.0
        self.new_page()

    @property
    def body_mm(self) -> float:
        """Give the width between the margins."""
        return self.right_mm - self.left_mm

    @property
    def top_mm(self) -> float:
        """Give where the text of a page begins."""
        return MARGIN_mm if self.bare else MARGIN_mm + HEADER_mm

    @property
    def room_mm(self) -> float:
        """Give the height that is left on this page."""
        return self.bottom_mm - self.y_mm

    # -- what flows down the page -------------------------------------------------------------------------

    def new_page(self) -> None:
        """Go on at the top of a new page."""
        self._pdf.add_page()
        self.y_mm = self.top_mm

    def need(self, height_mm: float) -> None:
        """Go to a new page unless this one has the room; what is higher than a page stays."""
        if height_mm > self.room_mm and self.y_mm > self.top_mm:
            self.new_page()

    def gap(self, height_mm: float = 4.0) -> None:
        """Leave some room."""
        self.y_mm += height_mm

    def heading(self, text: str) -> None:
        """Print a heading; it stays with what follows."""
        self.need(30.0)
        self.gap(2.0)
        self.text(text, size_pt=HEADING_pt, bold=True)
        self.gap(1.0)

    def text(self, text: str, *, size_pt: float = TEXT_pt, bold: bool = False) -> None:
        """Print a paragraph over the width of the page."""
        lines = self._lines(printable(text), self.body_mm, size_pt, bold)
        for line in lines:
            self.need(_height(size_pt))
            self._draw(line, self.left_mm, self.y_mm, self.body_mm, size_pt, bold)
            self.y_mm += _height(size_pt)

    def fields(self, pairs: Iterable[tuple[str, str]], *, name_mm: float = 42.0) -> None:
        """Print names and values in two columns."""
        for name, value in pairs:
            told = self._lines(printable(value), self.body_mm - name_mm, TEXT_pt, False)
            self.need(_height(TEXT_pt) * min(len(told), 3))
            self.put(name, self.left_mm, self.y_mm, name_mm - PADDING_mm, bold=True)
            for line in told:
                self.need(_height(TEXT_pt))
                self._draw(line, self.left_mm + name_mm, self.y_mm, self.body_mm - name_mm, TEXT_pt, False)
                self.y_mm += _height(TEXT_pt)

    def table(
        self, columns: Sequence[Column], rows: Iterable[Sequence[str]], *, size_pt: float = SMALL_pt
    ) -> None:
        """Print a table; its head is repeated on each page, a row goes over pages only if it is higher.

        Args:
            columns: heads, shares of the width, sides.
            rows: the cells of each row, as many as there are columns.
            size_pt: height of the type.
        """
        self.gap(1.0)
        coming = iter(rows)
        first = list(islice(coming, LOOKED_AT))
        widths = self._widths(columns, first, size_pt)
        self._table_row(columns, widths, [column.head for column in columns], size_pt, head=True)
        for row in chain(first, coming):
            self._table_row(columns, widths, row, size_pt, head=False)
        self.rule()

    def pictures(self, shown: Iterable[tuple[bytes, str]], *, wide_mm: float, high_mm: float) -> None:
        """Print photos side by side, as many in a row as fit, each with its caption below.

        Args:
            shown: JPEG or PNG contents that the store has checked, and captions.
            wide_mm: each at most so wide.
            high_mm: and at most so high.

        Raises:
            InputError: one is no picture.
        """
        across = max(1, int((self.body_mm + PADDING_mm) // (wide_mm + PADDING_mm)))
        cell_mm = high_mm + (CAPTION_LINES + 0.5) * _height(SMALL_pt)
        for n, (content, caption) in enumerate(shown):
            if n % across == 0:
                self.need(cell_mm)
                self.y_mm += cell_mm
            x_mm, y_mm = self.left_mm + n % across * (wide_mm + PADDING_mm), self.y_mm - cell_mm
            try:
                self._pdf.image(io.BytesIO(content), x_mm, y_mm, wide_mm, high_mm, keep_aspect_ratio=True)
            except (FPDFException, OSError, ValueError) as error:
                raise InputError("a picture can't be printed", f"it was refused as: {error}") from error
            self.put(caption, x_mm, y_mm + high_mm, wide_mm, size_pt=SMALL_pt, lines=CAPTION_LINES)

    def signatures(self, names: Sequence[str]) -> None:
        """Print lines to sign on, side by side, each with a name below and room for the date."""
        self.need(24.0)
        self.gap(16.0)
        each = self.body_mm / max(1, len(names))
        for n, name in enumerate(names):
            left = self.left_mm + n * each
            self._pdf.line(left, self.y_mm, left + each - 8.0, self.y_mm)
            self.put(f"{name}, date", left, self.y_mm + 1.0, each - 8.0, size_pt=SMALL_pt)
        self.gap(8.0)

    def rule(self) -> None:
        """Draw a thin line over the width of the page."""
        self._pdf.set_line_width(0.2)
        self._pdf.line(self.left_mm, self.y_mm, self.right_mm, self.y_mm)
        self.gap(1.0)

    # -- what is placed by millimetres --------------------------------------------------------------------

    def put(
        self,
        text: str,
        x_mm: float,
        y_mm: float,
        width_mm: float,
        *,
        size_pt: float = TEXT_pt,
        bold: bool = False,
        right: bool = False,
        lines: int = 1,
    ) -> int:
        """Print a text at a place, in at most so many lines; what does not fit ends in an ellipsis.

        Returns:
            The number of lines printed.
        """
        found = self._lines(printable(text), width_mm, size_pt, bold)
        if len(found) > lines:
            found = [
                *found[: lines - 1],
                self._shortened(" ".join(found[lines - 1 :]), width_mm, size_pt, bold),
            ]
        for n, line in enumerate(found):
            self._draw(line, x_mm, y_mm + n * _height(size_pt), width_mm, size_pt, bold, right)
        return len(found)

    def box(self, x_mm: float, y_mm: float, wide_mm: float, high_mm: float, *, filled: bool = False) -> None:
        """Draw a rectangle: its outline, or filled with black."""
        self._pdf.set_line_width(0.1)
        self._pdf.set_fill_color(0)
        self._pdf.rect(x_mm, y_mm, wide_mm, high_mm, style="F" if filled else "D")

    def finished(self) -> bytes:
        """Give the file: title and page number are put on each page now that their number is known."""
        if not self.bare:
            for page in range(1, self._pdf.pages_count + 1):
                self._pdf.page = page
                told = f"page {page} of {self._pdf.pages_count}"
                self.put(
                    self.title, self.left_mm, MARGIN_mm, self.body_mm - 40.0, size_pt=SMALL_pt, bold=True
                )
                self.put(told, self.right_mm - 38.0, MARGIN_mm, 38.0, size_pt=SMALL_pt, right=True)
                self._pdf.set_line_width(0.2)
                self._pdf.line(self.left_mm, MARGIN_mm + 5.0, self.right_mm, MARGIN_mm + 5.0)
        return bytes(self._pdf.output())

    # -- lines --------------------------------------------------------------------------------------------

    def _widths(
        self, columns: Sequence[Column], rows: Sequence[Sequence[str]], size_pt: float
    ) -> list[float]:
        """Share the width out; where there is room none is too narrow for its head, a date or a sum."""
        whole = sum(column.share for column in columns)
        widths = [self.body_mm * column.share / whole for column in columns]
        least = []
        for n, column in enumerate(columns):
            short = {
                word for row in rows for word in printable(row[n], LONGEST_CELL).split() if len(word) <= UNCUT
            }
            self._type(size_pt, False)
            words = max(map(self._pdf.get_string_width, short), default=0.0)
            self._type(size_pt, True)
            head = max(map(self._pdf.get_string_width, column.head.split()), default=0.0)
            least.append(max(words, head) + 2 * PADDING_mm + 0.1)
        wanting = sum(max(0.0, low - width) for low, width in zip(least, widths, strict=True))
        spare = sum(max(0.0, width - low) for low, width in zip(least, widths, strict=True))
        if wanting > spare:
            return widths
        return [
            low if width <= low else width - (width - low) * wanting / spare
            for low, width in zip(least, widths, strict=True)
        ]

    def _table_row(
        self,
        columns: Sequence[Column],
        widths: Sequence[float],
        cells: Sequence[str],
        size_pt: float,
        head: bool,
    ) -> None:
        line_mm = _height(size_pt)
        told = [
            self._lines(printable(cell, LONGEST_CELL), width - 2 * PADDING_mm, size_pt, head)
            for cell, width in zip(cells, widths, strict=True)
        ]
        left = max(map(len, told))
        page_mm = self.bottom_mm - self.top_mm
        # a head stays with the first row below it
        whole = (left + 3 * head) * line_mm + 2 * PADDING_mm
        start = 0
        while left:
            if self.y_mm > self.top_mm and self.room_mm < (whole if whole < page_mm / 2 else 4 * line_mm):
                self.new_page()
                if not head:
                    self._table_row(columns, widths, [column.head for column in columns], size_pt, head=True)
            fit = max(1, min(left, int((self.room_mm - 2 * PADDING_mm) / line_mm)))
            self._pdf.set_line_width(0.3 if head else 0.1)
            self._pdf.line(self.left_mm, self.y_mm, self.right_mm, self.y_mm)
            x_mm = self.left_mm
            for column, width, lines in zip(columns, widths, told, strict=True):
                for n, line in enumerate(lines[start : start + fit]):
                    y_mm = self.y_mm + PADDING_mm + n * line_mm
                    inner = width - 2 * PADDING_mm
                    self._draw(line, x_mm + PADDING_mm, y_mm, inner, size_pt, head, column.right)
                x_mm += width
            self.y_mm += fit * line_mm + 2 * PADDING_mm
            start, left = start + fit, left - fit
            whole = left * line_mm + 2 * PADDING_mm

    def _draw(
        self,
        line: str,
        x_mm: float,
        y_mm: float,
        width_mm: float,
        size_pt: float,
        bold: bool,
        right: bool = False,
    ) -> None:
        self._type(size_pt, bold)
        self._pdf.set_xy(x_mm, y_mm)
        self._pdf.cell(width_mm, _height(size_pt), line, align="R" if right else "L")

    def _lines(self, text: str, width_mm: float, size_pt: float, bold: bool) -> list[str]:
        """Cut a printable text into lines: between words; inside of one only if it is longer than a line."""
        self._type(size_pt, bold)
        wide = self._pdf.get_string_width
        lines: list[str] = []
        line = ""
        for word in text.split(" "):
            if line and wide(f"{line} {word}") <= width_mm:
                line = f"{line} {word}"
                continue
            if line:
                lines.append(line)
            while len(word) > 1 and wide(word) > width_mm:
                fit = self._fitting(word, width_mm)
                lines.append(word[:fit])
                word = word[fit:]
            line = word
        return [*lines, line]

    def _fitting(self, text: str, width_mm: float) -> int:
        """Give how many signs of a text fit a width in the type that is set; one at least."""
        used, fit = 0.0, 0
        for sign in text:
            used += self._pdf.get_string_width(sign)
            if used > width_mm and fit:
                break
            fit += 1
        return fit

    def _shortened(self, text: str, width_mm: float, size_pt: float, bold: bool) -> str:
        self._type(size_pt, bold)
        if self._pdf.get_string_width(text) <= width_mm:
            return text
        room = max(0.0, width_mm - self._pdf.get_string_width("…"))
        return text[: self._fitting(text, room)].rstrip() + "…"

    def _type(self, size_pt: float, bold: bool) -> None:
        self._pdf.set_font("DejaVu", "B" if bold else "", size_pt)


def _told(numbers: list[str]) -> list[str]:
    """Put the numbers of signs that the font lacks into words, and forget them."""
    told = [f"[U+{' '.join(numbers)}]"] if numbers else []
    numbers.clear()
    return told


def _close(fonts: Iterable[Any]) -> None:
    for font in fonts:
        font.close()


def _height(size_pt: float) -> float:
    return size_pt * PT_mm * LINE


def _face(bold: bool) -> Path:
    return FONTS / ("DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf")
