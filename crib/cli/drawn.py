"""Drawings at the command line: in the terminal, and as SVG files. Imported only when one is asked for."""

import os
import sys
import tempfile
from collections.abc import Iterable
from typing import TYPE_CHECKING

from crib.desk.asking.sketches import sketch
from crib.errors import InputError
from crib.report.dots import GlyphSet, glyphs_for
from crib.report.drawing import PAPER_LONGEST_mm, page, to_svg
from crib.trade.designation.reading import Reading

if TYPE_CHECKING:
    from crib.report.figure import Figure

ROWS = 14  # a picture that leaves the reading on a screen of 24 lines
USUAL = os.terminal_size((80, 24))


def picture(reading: Reading) -> Iterable[str]:
    """Give a drawing as lines for the terminal that stdout is."""
    size = USUAL
    if sys.stdout.isatty():
        size = os.get_terminal_size(sys.stdout.fileno())
    width, height = size.columns or USUAL.columns, min(ROWS, (size.lines or USUAL.lines) - 2)
    yield from page(sketch(reading), width - 2, height, terminal_glyphs(), reading.system)


def terminal_glyphs() -> GlyphSet:
    """Choose the signs that the terminal that stdout is can be expected to show."""
    return glyphs_for(sys.stdout.encoding, os.environ.get("TERM"))


def terminal_width(usual: int) -> int:
    """Give the columns of the terminal that stdout is, one left free; the usual where it is none."""
    return os.get_terminal_size(sys.stdout.fileno()).columns - 1 if sys.stdout.isatty() else usual


def svg_of(reading: Reading) -> str:
    """Draw a reading as SVG for paper."""
    return to_svg(sketch(reading, PAPER_LONGEST_mm), reading.system)


def write_figure(path: str, figure: "Figure") -> None:
    """Write a figure to a file, as PNG or SVG by the ending of its name.

    Raises:
        InputError: another ending, or it cannot be written there.
    """
    from crib.report.figure import figure_png, figure_svg

    ending = os.path.splitext(path)[1].lower()
    if ending not in (".svg", ".png"):
        raise InputError(f"{path!r} is no name of a picture that crib draws", "end it in .svg or .png")
    _write(path, figure_png(figure) if ending == ".png" else figure_svg(figure).encode())


def write_svg(path: str, text: str) -> None:
    """Write a drawing to a file, whole or not at all.

    Args:
        path: an earlier drawing is replaced, any other file is left alone.
        text: the drawing.

    Raises:
        InputError: it cannot be written there.
    """
    _write(path, text.encode())


def _write(path: str, content: bytes) -> None:
    try:
        _check_replaceable(path)
        handle, draft = tempfile.mkstemp(dir=os.path.dirname(path) or ".", prefix=".crib-")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            os.replace(draft, path)
        except BaseException:
            os.unlink(draft)
            raise
    except OSError as error:
        raise InputError(
            f"the drawing cannot be written to {path!r}: {error.strerror or error}",
            "name a file in a folder that you may write to",
        ) from error


def _check_replaceable(path: str) -> None:
    """Keep from writing over what is no drawing.

    Raises:
        InputError: something else is there.
    """
    if not os.path.lexists(path):
        return
    if os.path.isfile(path):
        with open(path, "rb") as file:
            start = file.read(4)
        if start in (b"", b"<svg", b"\x89PNG"):
            return
    raise InputError(
        f"the drawing is not written to {path!r}: something else than a drawing is there",
        "give another name, such as drawing.svg",
    )
