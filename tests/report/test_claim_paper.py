"""A claim and a sign-in sheet on paper, read back: everything is there, and nothing was obeyed."""

import csv
import io
from datetime import UTC, date, datetime
from pathlib import Path
from unicodedata import normalize

import pytest
from nasty import NASTY, controls
from openpyxl import load_workbook
from pictures_made import photo
from pypdf import PdfReader
from small_shop import open_shop

from crib.desk.doings.bring_in import bring_in
from crib.desk.keeping.settings import put
from crib.desk.owed import evidence
from crib.desk.owed.claim_doing import LineRequest, add, new
from crib.desk.owed.claims import Claim, claim
from crib.desk.owed.sign_in import sign_sheet
from crib.desk.owed.worth import WorthRequest, record
from crib.report.claim_paper import HEADINGS, claim_pdf, claim_rows
from crib.report.sheets import csv_bytes, xlsx_bytes
from crib.report.sign_paper import sign_pdf
from crib.tui.screens.claim import claim_page

ON, MADE = date(2026, 11, 27), datetime(2026, 11, 27, tzinfo=UTC)
TOOLS = 40


@pytest.fixture
def shop(sqlite_url: str, tmp_path: Path) -> str:
    """A shop whose Ada owns many tools, some of them named in other scripts and by other programs."""
    names = ["=cmd|' /C calc'!A0", "Планшайба ⌀ 25", "κοπτικό", "工具", "[bold]{nb}", "\x1b[31mred"]
    named = [(n, f"{names[n % len(names)]} {n}") for n in range(1, TOOLS + 1)]
    rows = "".join(f'W{n},other,"{name}",Ada Quill,Ada\'s home,AQ {n}\n' for n, name in named)
    open_shop(sqlite_url, tmp_path / "lists", items="tag,kind,label,owner,place,mark\n" + rows)
    put(sqlite_url, "currency", "EUR")
    put(sqlite_url, "rules", "house: hand in: 14 days from event")
    (tmp_path / "a.jpg").write_bytes(photo(exif=True))
    evidence.add(sqlite_url, "W1", [str(tmp_path / "a.jpg")], says="Žižka's mark", on="2024-02-29")
    return sqlite_url


@pytest.fixture
def long_claim(shop: str) -> tuple[Claim, dict[int, bytes]]:
    tags = [f"W{n}" for n in range(1, TOOLS + 1)]
    line = LineRequest(event="broken", basis="agreed", amount="10.05", what="it fell", on="2024-02-20")
    found = claim(shop, new(shop, tags, line, clause="§ 3 of the agreement").number)
    return found, evidence.photos(shop, (proof for one in found.lines for proof in one.proofs))


def text_of(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


def test_a_long_claim_goes_over_pages_with_all_its_parts(long_claim: tuple[Claim, dict[int, bytes]]) -> None:
    found, photos = long_claim
    pdf = claim_pdf(found, photos, on=ON, made=MADE)
    pages = text_of(pdf)
    whole = " ".join(" ".join(pages).split())
    assert len(pages) > 5
    assert f"page {len(pages)} of {len(pages)}" in pages[-1]
    for part in (
        "§ 3 of the agreement", "Планшайба ⌀ 25", "κοπτικό", "[U+5DE5 5177]", "[bold]{nb}", "402.00 EUR",
        "2024-03-05", "14 days after 2024-02-20", "the house's own rule", "LINE 40 (W40): NO PHOTO",
        "Attachments: 1", "Žižka's mark", "comes before anything shown here".replace("comes", "come"),
        "Ada Quill, date", "supervisor, date", "for Moor End Works, date", "the sum of the rounded lines",
    ):  # fmt: skip
        assert part in whole, part
    assert all(f"W{n}" in whole for n in range(1, TOOLS + 1))
    assert "entitled" not in whole
    assert b"maker of the camera" not in pdf, "a photo on paper tells nothing of its camera"
    assert (
        len(PdfReader(io.BytesIO(pdf)).pages[len(pages) - 1].images)
        + sum(len(page.images) for page in PdfReader(io.BytesIO(pdf)).pages[:-1])
        == len(photos)
        == 1
    )
    assert pdf == claim_pdf(found, photos, on=ON, made=MADE)


def test_hostile_text_of_a_claim_is_data_on_paper_in_lists_and_on_the_screen(shop: str) -> None:
    number = new(shop).number
    for n, text in enumerate(NASTY.values(), 1):
        told = dict.fromkeys(("what", "job", "machine", "seen", "asked", "old"), text[:1_900])
        add(shop, number, [f"W{n}"], LineRequest(event="broken", basis="agreed", amount="1", **told))
    found = claim(shop, number)
    pages = text_of(claim_pdf(found, {}, on=ON, made=MADE))
    assert f"page {len(pages)} of {len(pages)}" in pages[-1]
    (_, *rows) = csv.reader(io.StringIO(csv_bytes(HEADINGS, claim_rows(found)).decode("utf-8-sig")))
    assert len(rows) == len(NASTY)
    assert not any(normalize("NFKC", cell).startswith(("=", "+", "-", "@")) for row in rows for cell in row)
    for width in (40, 78):
        assert not any(controls(line.text) for line in claim_page(found, width))


def test_its_lines_as_csv_and_as_a_workbook(long_claim: tuple[Claim, dict[int, bytes]]) -> None:
    rows = claim_rows(long_claim[0])
    (head, *lines) = csv.reader(io.StringIO(csv_bytes(HEADINGS, rows).decode("utf-8-sig")))
    assert head == list(HEADINGS)
    assert len(lines) == TOOLS
    asked, tool = head.index("asked"), head.index("tool")
    assert {line[asked] for line in lines} == {"10.05"}
    assert not any(line[tool].startswith("=") for line in lines)
    sheet = load_workbook(io.BytesIO(xlsx_bytes("claim", HEADINGS, rows))).active
    assert sheet is not None
    assert sheet.cell(2, asked + 1).value == 10.05
    assert sheet.cell(7, tool + 1).data_type == "s"


def test_the_sign_in_sheet_has_mark_value_basis_photo_who_was_told_and_lines_to_sign(shop: str) -> None:
    record(shop, "W1", WorthRequest(agreed="85 EUR", source="both initials"))
    record(shop, "W2", WorthRequest(replacement="12.50 EUR", source="list of 2026"))
    bring_in(shop, ["W1", "W2", "W3"], to="bay", told="the foreman", why="the big ring")
    sheet = sign_sheet(shop, "bring-in")
    assert [tool.item.tag for tool in sheet.tools] == ["W1", "W2", "W3"]
    photos = evidence.photos(shop, (proof for tool in sheet.tools for proof in tool.photos))
    pdf = sign_pdf(sheet, photos, size="Letter", made=MADE)
    whole = " ".join(" ".join(text_of(pdf)).split())
    for part in (
        "Own tools brought in", "AQ 1", "85.00 EUR", "agreed", "both initials", "12.50 EUR", "replacement",
        "the foreman", "NO VALUE ON RECORD: W3", "NO PHOTO: W2, W3", "all pieces: 97.50 EUR", "the big ring",
        "Ada Quill, owner, date", "who was told, date", "page 1 of",
    ):  # fmt: skip
        assert part in whole, part
    assert sum(len(page.images) for page in PdfReader(io.BytesIO(pdf)).pages) == 1
