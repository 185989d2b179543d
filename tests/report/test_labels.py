"""Labels are where the layout says and hold what was asked; their QR code is read where a tag is taken."""

import io
import re

import pytest
import segno
from nasty import NASTY
from pypdf import PdfReader

from crib.desk.asking.ask import find
from crib.desk.intake.labels import Label, labels
from crib.errors import InputError, NothingFound, UnknownName
from crib.report.labels import Layout, labels_pdf

SHEET = Layout(wide_mm=70, high_mm=37, left_mm=0, top_mm=0.5, gap_x_mm=0, gap_y_mm=0)


def label(tag: str, **said: str) -> Label:
    usual = {"name": "left-hand holder", "code": "PWLNL2525M08", "mark": "T.A 3", "owner": "Tobin Ashgrove"}
    return Label(tag=tag, **{**usual, **said})


def sheets(content: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(content)).pages]


def test_a_sheet_is_filled_as_its_layout_says() -> None:
    # A4 is 210 mm x 297 mm (ISO 216): three labels of 70 mm side by side, eight rows of 37 mm
    assert SHEET.grid() == (3, 8)
    told = sheets(labels_pdf([label(f"H{n:02}") for n in range(30)], SHEET, skip=5))
    assert [re.findall(r"H\d\d", text) for text in told] == [
        [f"H{n:02}" for n in range(19)],
        [f"H{n:02}" for n in range(19, 30)],
    ]
    assert "PWLNL2525M08" in told[0]
    assert "T.A 3 Tobin Ashgrove" in told[0]


@pytest.mark.parametrize("skip", [0, 4])
def test_skipped_places_stay_empty(skip: int) -> None:
    (page,) = PdfReader(io.BytesIO(labels_pdf([label("H03")], SHEET, skip=skip))).pages
    places: list[tuple[float, float]] = []
    page.extract_text(
        visitor_text=lambda text, _c, tm, _f, _s: places.append((tm[4], tm[5])) if "H03" in text else None
    )
    ((x, y),) = places
    row, column = divmod(skip, 3)
    mm = 25.4 / 72
    assert 70 * column < x * mm < 70 * (column + 1)
    assert 0.5 + 37 * row < 297 - y * mm < 0.5 + 37 * (row + 1)


@pytest.mark.parametrize(
    "layout",
    [
        Layout(wide_mm=300), Layout(high_mm=5), Layout(left_mm=-1), Layout(paper="B5"), Layout(top_mm=280),
    ],
)  # fmt: skip
def test_a_layout_that_can_t_be_is_refused(layout: Layout) -> None:
    with pytest.raises(InputError):
        labels_pdf([label("H03")], layout)
    with pytest.raises(InputError):
        labels_pdf([label("H03")], SHEET, skip=24)


@pytest.mark.parametrize("name", NASTY)
def test_hostile_text_stays_on_its_label(name: str) -> None:
    text = NASTY[name]
    small = Layout(wide_mm=40, high_mm=12)
    (told,) = sheets(labels_pdf([label("X1", name=text, code=text, mark=text, owner=text)], small))
    assert "X1" in told
    assert len(told) < 300


def test_what_the_code_holds_is_found_when_scanned(demo_store: str) -> None:
    (one,) = labels(demo_store, ["h03"])
    assert one == label("H03", name="left-hand holder for trigon inserts, lever lock")
    # a scanner sends the symbology mark of ISO/IEC 15424, the text, and a return
    scan = f"]Q3{one.tag}\r"
    assert [item.tag for item in find(demo_store, scan).items] == ["H03"]
    assert labels(demo_store, [scan]) == (one,)
    assert segno.make(one.tag, error="m", micro=False).version == 1, "as coarse as can be: easy to read"


def test_tools_are_named_by_tag_or_by_words(demo_store: str) -> None:
    found = labels(demo_store, ["H03"], words="left hand holder here")
    assert found[0].tag == "H03"
    assert len({one.tag for one in found}) == len(found) > 2
    drawer = labels(demo_store, [], at="insert cabinet / drawer 1")
    assert {"I01", "I02", "I03"} < {one.tag for one in drawer}
    with pytest.raises(UnknownName):
        labels(demo_store, ["H99"])
    with pytest.raises(NothingFound):
        labels(demo_store, [], words="kind=gauge hand=left")
    with pytest.raises(InputError):
        labels(demo_store, [])
