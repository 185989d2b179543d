"""Set-ups on the invented workshop's store: points, measuring, charts; by keyboard alone at 80 x 24."""

from datetime import UTC, datetime

import pytest
from ringing import taps, write_wav

from crib.tui.app import CribApp
from crib.tui.widgets.row_list import RowList

SIZE = (80, 24)


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def area(pilot):
    return pilot.app.screen.AREA


async def opened(pilot, until):
    """From Machines to the set-ups."""
    await pilot.press("f7")
    await until(pilot, lambda: area(pilot) == "machines" and pilot.app.screen.is_settled)
    await pilot.press("s")
    await until(pilot, lambda: area(pilot) == "setups" and said(pilot).endswith("kept."))


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (132, 43)])
async def test_the_list_of_points(demo_address, until, looks_like, size):
    async with CribApp(demo_address, "demo: a private copy").run_test(size=size) as pilot:
        await opened(pilot, until)
        assert said(pilot) == "3 set-ups kept."
        assert pilot.app.screen.query_one(RowList).count == 6
        await pilot.press("end")
        await looks_like(pilot, f"setups_{size[0]}x{size[1]}")
        await pilot.press("escape")
        await until(pilot, lambda: area(pilot) == "machines")


async def test_a_chart_of_the_marked_point(demo_address, until, looks_like, seen):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await opened(pilot, until)
        await pilot.press("end", "up", "c")
        await until(pilot, lambda: area(pilot) == "chatter" and pilot.app.focused.id == "material")
        await pilot.press(*"A36", "enter", *"0.2", "enter", *"1 mm", "enter", *"H01", "enter", *"I01")
        await looks_like(pilot, "chatter_form_80x24")
        await pilot.press("f5")
        await until(pilot, lambda: "rings, margin" in said(pilot))
        await looks_like(pilot, "chatter_80x24")
        await pilot.press("end")
        await until(pilot, lambda: "Source:" in seen(pilot))
        await pilot.press("e")
        await until(pilot, lambda: pilot.app.focused.id == "insert")
        await pilot.press("escape")
        await until(pilot, lambda: area(pilot) == "setups")


async def test_what_can_not_be_read_stays_in_the_form(demo_address, until):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await opened(pilot, until)
        await pilot.press("enter")
        await until(pilot, lambda: area(pilot) == "chatter")
        await pilot.press(*"unobtainium", "enter", *"0.2", "f5")
        await until(pilot, lambda: "no material" in said(pilot).lower())
        assert pilot.app.screen.form.values()["material"] == "unobtainium"


async def test_a_push_and_a_recording_are_kept(demo_address, until, looks_like, tmp_path, monkeypatch):
    class Day(datetime):
        @classmethod
        def now(cls, tz=None):
            return datetime(2026, 12, 1, 8, 0, tzinfo=UTC)

    monkeypatch.setattr("crib.desk.ringing.setups.datetime", Day)
    path = write_wav(tmp_path / "tap.wav", taps([(130.0, 0.02, 1.0)], many=3))
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await opened(pilot, until)
        await pilot.press("n")
        await until(pilot, lambda: area(pilot) == "measure" and pilot.app.focused.id == "name")
        await pilot.press("enter", "f5")
        await until(pilot, lambda: said(pilot).startswith("!"))
        pilot.app.screen.form.go("name")
        await pilot.press(*"wheel disc:rim", "enter", *"along", "enter", *"200 N", "enter", *"0.050 mm")
        await looks_like(pilot, "measure_80x24")
        await pilot.press("enter", "enter", "enter", *str(path), "f5")
        await until(pilot, lambda: area(pilot) == "setups" and said(pilot).startswith("Kept, wheel disc:"))
        await until(pilot, lambda: pilot.app.screen.query_one(RowList).count == 7)
        await pilot.press("end")
        row = pilot.app.screen.row
        assert row.asked == "wheel disc:rim"
        assert row.point.k_N_mm == pytest.approx(4000)
        assert row.point.frequency_hz == pytest.approx(130, rel=2e-3)
        await looks_like(pilot, "setups_measured_80x24")
