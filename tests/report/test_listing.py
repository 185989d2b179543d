"""A list in each form: what users typed is data in all of them."""

import csv
import io

from nasty import NASTY, controls
from openpyxl import load_workbook
from pypdf import PdfReader

from crib.report.listing import Heading, Listing, listing_bytes
from crib.store.cells import unguarded


def test_hostile_text_is_data_in_every_form() -> None:
    texts = [*NASTY.values(), "x" * 100_000]
    listing = Listing(
        title=NASTY["path"],
        intro=list(NASTY.values()),
        columns=(Heading(name="n"), Heading(name="text", share=4)),
        rows=[(n, text) for n, text in enumerate(texts)],
    )
    rows = list(csv.reader(io.StringIO(listing_bytes(listing, "a.csv").decode("utf-8-sig"), newline="")))
    assert [unguarded(row[1]) for row in rows[1:]] == texts
    assert not [row[1] for row in rows if row[1][:1] in ("=", "+", "-", "@", "\t", "\r")]
    sheet = load_workbook(io.BytesIO(listing_bytes(listing, "a.xlsx"))).active
    assert sheet is not None
    assert {cell.data_type for row in sheet.iter_rows(min_col=2, max_col=2) for cell in row} == {"s"}
    pdf = PdfReader(io.BytesIO(listing_bytes(listing, "a.pdf")))
    printed = "".join(page.extract_text() for page in pdf.pages)
    assert controls(printed) == []
    assert "=cmd|" in printed
    assert all("/AA" not in page and "/Annots" not in page for page in pdf.pages)
