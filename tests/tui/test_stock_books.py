"""What runs out, kits, missing parts and lists, wholly by keyboard at 80 x 24 on the invented workshop."""

from datetime import date
from pathlib import Path

import pytest
from nasty import NASTY, controls

from crib.desk.restocking.kits import add_need, new_kit
from crib.tui.app import CribApp
from crib.tui.books import BOOKS

SIZE = (80, 24)


@pytest.fixture(autouse=True)
def a_fixed_day(monkeypatch, tmp_path):
    """A day after all that the demo records, so that pictures don't age; files go to a folder of the test."""
    monkeypatch.setattr("crib.desk.dates.today", lambda: date(2026, 11, 27))
    monkeypatch.chdir(tmp_path)


def said(pilot):
    return pilot.app.screen.query_one("#verdict").said


def area(pilot):
    return pilot.app.screen.AREA


async def open_book(pilot, name, until, where):
    await pilot.press("f9")
    await until(pilot, lambda: area(pilot) == "books" and said(pilot) != "")
    rows = pilot.app.screen.query_one("#books")
    rows.mark([book.name for book in BOOKS].index(name))
    await pilot.press("enter")
    await until(pilot, lambda: area(pilot) == where and said(pilot) != "" and pilot.app.screen.is_settled)


async def test_restock_to_the_boxes_and_a_new_minimum(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Restock", until, "restock")
        assert said(pilot) == "3 to buy, of 7 with a minimum."
        await looks_like(pilot, "restock_80x24")
        await pilot.press("enter")
        await until(pilot, lambda: area(pilot) == "left" and "10 pieces here" in said(pilot))
        await pilot.press("escape")
        await until(pilot, lambda: area(pilot) == "restock")
        await pilot.press("n")
        await until(pilot, lambda: area(pilot) == "minimum" and pilot.app.focused.id == "code")
        await pilot.press(*"I03", "enter", *"99", "enter", "f5")
        await until(pilot, lambda: said(pilot) == "Set: at least 99 edges of WNMG080412 at works.")
        await pilot.press("w")
        await until(pilot, lambda: area(pilot) == "file")
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot).startswith("Written: "))
    assert Path("to-buy-2026-11-27.pdf").read_bytes().startswith(b"%PDF")


async def test_a_kit_is_matched_added_to_and_a_substitute_taken(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Kits", until, "kits")
        await pilot.press("enter")
        await until(
            pilot, lambda: area(pilot) == "kit" and said(pilot).startswith("bogie bracket: of 6 needs")
        )
        pilot.app.screen.query_one("#lines").mark(4)
        await pilot.pause()
        await looks_like(pilot, "kit_80x24")
        await pilot.press("c")
        await until(pilot, lambda: area(pilot) == "choose")
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot) == "Chosen: I31 for need 5.")
        await until(pilot, lambda: pilot.app.screen.marked.state == "have")
        await pilot.press("n")
        await until(pilot, lambda: area(pilot) == "need" and pilot.app.focused.id == "need")
        await pilot.press(*"screw jacks", "f5")
        await until(pilot, lambda: said(pilot) == "Added to bogie bracket: screw jacks.")


async def test_a_part_is_found_gone_and_back_in(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Missing parts", until, "missing")
        assert said(pilot) == "2 tools lack a part; 1 of the 2 parts may be had here."
        await looks_like(pilot, "missing_80x24")
        await pilot.press("b")
        await until(pilot, lambda: said(pilot) == "Back in: shim of H05.")
        await pilot.press("b")
        await until(pilot, lambda: said(pilot) == "Back in: 203.2 mm (8 in) rod of M07.")
        await pilot.press("n")
        await until(pilot, lambda: area(pilot) == "part")
        await pilot.press(*"H17", "enter", *"shim", "f5")
        await until(pilot, lambda: said(pilot) == "Recorded: shim of H17 is gone.")


async def test_lists_for_insurance_and_for_leaving(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Lists", until, "insurance")
        await looks_like(pilot, "insurance_80x24")
        await pilot.press("s")
        await until(pilot, lambda: area(pilot) == "who_leaves")
        await pilot.press(*"tobin", "enter")
        await until(pilot, lambda: area(pilot) == "leaving" and said(pilot).startswith("Tobin Ashgrove:"))
        await looks_like(pilot, "leaving_80x24")


async def test_hostile_needs_are_data(demo_address, until, seen):
    new_kit(demo_address, "hostile")
    for text in NASTY.values():
        add_need(demo_address, "hostile", "a " + text[:200])
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Kits", until, "kits")
        pilot.app.screen.query_one("#lines").mark(1)
        await pilot.press("enter")
        await until(pilot, lambda: area(pilot) == "kit" and said(pilot).startswith("hostile: of"))
        for row in range(len(NASTY)):
            pilot.app.screen.query_one("#lines").mark(row)
            await pilot.pause()
            assert controls(seen(pilot)) == []
