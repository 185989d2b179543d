"""A list on paper or for a spreadsheet: the same rows as CSV, XLSX or PDF, by the name of the file."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from crib.errors import InputError
from crib.report.sheets import Cell

KINDS = (".csv", ".xlsx", ".pdf")


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A column of a list.

    Attributes:
        name: what stands above it.
        share: its part of a sheet's width, beside those of the others; 0 leaves it off the paper.
        right: figures, set to the right.
    """

    name: str
    share: float = 1.0
    right: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """One list.

    Attributes:
        title: stands above it.
        intro: lines before the table; on paper only.
        columns: of the table.
        rows: as many cells as there are columns.
        closing: lines after the table; on paper only.
        sign: names below lines to sign on; on paper only.
    """

    title: str
    columns: Sequence[Heading]
    rows: Sequence[Sequence[Cell]]
    intro: Sequence[str] = ()
    closing: Sequence[str] = ()
    sign: Sequence[str] = ()


def listing_bytes(listing: Listing, file: str) -> bytes:
    """Write a list in the form that the file's name asks for.

    Raises:
        InputError: the name ends in no form that is known.
    """
    makers: dict[str, Callable[[Listing], bytes]] = {".csv": _csv, ".xlsx": _xlsx, ".pdf": _pdf}
    for ending, make in makers.items():
        if file.lower().endswith(ending):
            return make(listing)
    raise InputError(f"{file} says no form that a list is written in", "end its name in " + ", ".join(KINDS))


def _csv(listing: Listing) -> bytes:
    from crib.report.sheets import csv_bytes

    return csv_bytes([column.name for column in listing.columns], listing.rows)


def _xlsx(listing: Listing) -> bytes:
    from crib.report.sheets import xlsx_bytes

    return xlsx_bytes(listing.title, [column.name for column in listing.columns], listing.rows)


def _pdf(listing: Listing) -> bytes:
    from crib.report.paper import Column, Paper  # brings the PDF library

    paper = Paper(listing.title, landscape=True)
    for line in listing.intro:
        paper.text(line)
    kept = [n for n, column in enumerate(listing.columns) if column.share]
    columns = [listing.columns[n] for n in kept]
    heads = [Column(head=column.name, share=column.share, right=column.right) for column in columns]
    paper.table(heads, [[_told(row[n]) for n in kept] for row in listing.rows])
    for line in listing.closing:
        paper.text(line)
    if listing.sign:
        paper.signatures(listing.sign)
    return paper.finished()


def _told(cell: Cell) -> str:
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    return "" if cell is None else str(cell)
