"""Photos, papers and worth of a tool on the invented workshop's store, by keyboard at 80 x 24."""

import io
from datetime import UTC, date, datetime

import pytest
from pictures_made import photo
from PIL import Image

from crib.report.blocks import half_blocks
from crib.tui.app import CribApp
from crib.tui.widgets.photo import PhotoView

SIZE = (80, 24)


@pytest.fixture(autouse=True)
def a_fixed_day(monkeypatch):
    """A day after all that the demo records, so that pictures don't age."""
    for module in ("dates", "owed.worth", "owed.mine", "owed.evidence"):
        monkeypatch.setattr(f"crib.desk.{module}.today", lambda: date(2026, 11, 27))
        monkeypatch.setattr(
            f"crib.desk.{module}.now", lambda: datetime(2026, 11, 27, tzinfo=UTC), raising=False
        )


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def is_at(pilot, name, start):
    return lambda: (
        name == pilot.app.screen.AREA and pilot.app.screen.is_settled and said(pilot).startswith(start)
    )


async def to_item(pilot, until, tag):
    await pilot.press("f6", *f"tag={tag}", "enter")
    await until(pilot, lambda: pilot.app.focused.id == "found")
    await pilot.press("enter")
    await until(pilot, is_at(pilot, "item", tag))


async def test_photos_and_papers_of_a_tool(demo_address, until, seen, looks_like, tmp_path):
    (tmp_path / "bill.jpg").write_bytes(photo(hue=200))
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await to_item(pilot, until, "D08")
        await pilot.press("v")
        await until(pilot, is_at(pilot, "worth", "D08"))
        await pilot.press("e")
        await until(pilot, is_at(pilot, "evidence", "D08: 1 photo, 1 statement."))
        view = pilot.app.screen.query_one(PhotoView)
        await until(pilot, lambda: "▀" in seen(pilot))
        colours = {
            segment.style.color.triplet
            for y in range(3, 9)
            for segment in view.render_line(y)
            if segment.style and segment.style.color
        }
        assert len(colours) > 10, "a photo is drawn in its colours"
        await pilot.press("end")
        await until(pilot, lambda: "I have seen the adjustable reamer" in seen(pilot))
        await looks_like(pilot, "evidence_80x24")
        await pilot.press("a")
        await until(pilot, is_at(pilot, "evidence_add", "W"))
        await pilot.press(*str(tmp_path / "bill.jpg"), "enter", "r", "enter", *"paid in cash", "f5")
        await until(pilot, is_at(pilot, "evidence", "Taken in: no. 4, receipt of D08."))
        await pilot.press("end", "w")
        await until(pilot, is_at(pilot, "evidence_withdraw", "W"))
        await pilot.press(*"another tool", "enter")
        await until(pilot, is_at(pilot, "evidence", "Withdrawn: no. 4."))


async def test_what_it_is_worth_and_where_it_came_from(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await to_item(pilot, until, "D08")
        await pilot.press("v")
        await until(pilot, is_at(pilot, "worth", "D08 is worth: replacement 62.40 EUR, by age"))
        await looks_like(pilot, "worth_80x24")
        await pilot.press("a")
        await until(pilot, is_at(pilot, "worth_add", "W"))
        await pilot.press(*"48", "enter", *"both initials", "f5")
        await until(pilot, is_at(pilot, "worth", "Recorded: D08: replacement 62.40 EUR, agreed 48.00 EUR"))
        await pilot.press("f")
        await until(pilot, is_at(pilot, "worth_origin", "W"))
        await pilot.press("down", "down", *"1 EUR", "f5")
        await until(pilot, is_at(pilot, "worth", "Recorded: D08: paid 1.00 EUR"))


def test_half_blocks_are_the_picture_made_small() -> None:
    # against Pillow's own resizing to the same number of pixels
    content = photo(64, 48, kind="PNG")
    cells = half_blocks(content, 40, 10)
    with Image.open(io.BytesIO(content)) as image:
        small = image.convert("RGB").resize((len(cells[0]), 2 * len(cells)))
    assert len(cells) == 10
    assert len(cells[0]) == round(64 * 20 / 48)
    for y, row in enumerate(cells):
        for x, (upper, lower) in enumerate(row):
            assert (upper, lower) == (small.getpixel((x, 2 * y)), small.getpixel((x, 2 * y + 1)))
