"""Sheets of paper are read back with pypdf: all that was put in is there, nothing in it was obeyed."""

import io
from datetime import UTC, datetime

import pytest
from nasty import NASTY, huge
from pypdf import PdfReader

from crib.errors import InputError
from crib.report.paper import LONGEST, Column, Paper, printable

MADE = datetime(2026, 11, 27, tzinfo=UTC)


def pages(paper: Paper) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(paper.finished())).pages]


@pytest.mark.parametrize(
    ("size", "points"), [("A4", (595.28, 841.89)), ("Letter", (612.0, 792.0))], ids=["A4", "Letter"]
)
def test_a_page_has_the_size_asked(size: str, points: tuple[float, float]) -> None:
    # ISO 216: A4 is 210 mm x 297 mm; ANSI/ASME Y14.1: size A is 8.5 in x 11 in; 72 points an inch
    (page,) = PdfReader(io.BytesIO(Paper("x", size=size).finished())).pages
    assert (page.mediabox.width, page.mediabox.height) == pytest.approx(points, abs=0.01)
    assert Paper("x", size=size, landscape=True).width_mm == Paper("x", size=size).height_mm


def test_a_paper_that_does_not_exist_is_refused() -> None:
    with pytest.raises(InputError, match="no paper called 'B5'"):
        Paper("x", size="B5")


def test_a_table_goes_on_over_pages_with_its_head_and_the_page_numbers() -> None:
    paper = Paper("Tools signed in", made=MADE)
    paper.table(
        [Column(head="Tag"), Column(head="Worth", right=True)], [(f"H{n:03}", "1.50") for n in range(150)]
    )
    told = pages(paper)
    assert len(told) > 2
    for n, text in enumerate(told, 1):
        assert f"page {n} of {len(told)}" in text
        assert "Tools signed in" in text
        assert text.count("Worth") == 1
    assert [word for text in told for word in text.split() if word.startswith("H")] == [
        f"H{n:03}" for n in range(150)
    ]


def test_a_head_a_date_and_a_sum_are_not_cut_where_a_wide_column_has_room() -> None:
    columns = [Column(head="photos", share=0.1), Column(head="of", share=0.1), Column(head="what", share=9.0)]
    paper = Paper("x")
    paper.table(columns, [("3", "2026-11-27", "holder " * 30)])
    assert {"photos", "2026-11-27"} <= set(pages(paper)[0].split())
    crowd = Paper("x")  # and where there is none, everything is there all the same
    crowd.table([Column(head="photographs")] * 40, [["2026-11-27"] * 40])
    assert pages(crowd)[0].replace("\n", "").replace(" ", "").count("-27") == 40


def test_the_same_input_gives_the_same_bytes() -> None:
    def made() -> bytes:
        paper = Paper("x", made=MADE)
        paper.heading("⌀ 25 ± 0,01 mm ≥ ½ → Ångström Žižka Παπάς Планшайба")
        paper.signatures(["Ada Quill"])
        return paper.finished()

    assert made() == made()
    assert b"DejaVuSans" in made()  # the fonts travel with the file
    (text,) = (page.extract_text() for page in PdfReader(io.BytesIO(made())).pages)
    assert "⌀ 25 ± 0,01 mm ≥ ½ → Ångström Žižka Παπάς Планшайба" in text


@pytest.mark.parametrize("name", NASTY)
def test_hostile_text_is_printed_as_data_through_every_door(name: str) -> None:
    text = NASTY[name]
    paper = Paper(text)
    paper.heading(text)
    paper.fields([(text, text)])
    paper.table([Column(head=text)], [(text,)])
    paper.signatures([text])
    paper.put(text, 20, 200, 60, lines=2)
    told = "".join("".join(pages(paper)).split())
    assert "".join(printable(text, 40).split("…")[0].split())[:30] in told


def test_signs_that_the_font_lacks_are_told_by_number_and_controls_are_seen() -> None:
    assert printable("工具 a\u202eb\tc\nd") == "[U+5DE5 5177] a�b c�d"
    assert printable("half \ud800 a sign") == "half � a sign"


def test_ten_megabytes_are_cut_and_it_says_so() -> None:
    text = huge()
    assert printable(text).endswith(f" … ({len(text) - LONGEST} signs more)")
    paper = Paper("x")
    paper.text(text)
    paper.table([Column(head="x")], [(text,)])
    assert len(pages(paper)) < 4


def test_braces_of_a_user_are_no_page_number() -> None:
    paper = Paper("{nb}")
    paper.text("{nb} tools")
    assert "{nb} tools" in pages(paper)[0]


def test_what_is_no_picture_is_refused() -> None:
    with pytest.raises(InputError, match="can't be printed"):
        Paper("x").pictures([(b"GIF89a, they say", "")], wide_mm=50, high_mm=50)


def test_a_text_that_is_too_long_for_its_place_ends_in_an_ellipsis() -> None:
    paper = Paper("x", bare=True)
    assert paper.put("a long name that does not fit", 20, 20, 30, lines=1) == 1
    (text,) = pages(paper)
    assert text.startswith("a long name")
    assert text.rstrip().endswith("…")
    assert "page 1" not in text
