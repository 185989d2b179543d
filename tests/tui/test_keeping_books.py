"""Beginning a store, its people and places and settings, wholly by keyboard, also where there is none yet."""

from pathlib import Path

import pytest
from nasty import NASTY, controls
from tui.asking import open_book

from crib.desk import people, places
from crib.desk.keeping.begin import begin
from crib.desk.keeping.settings import settings
from crib.tui.app import CribApp

SIZE = (80, 24)


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def area(pilot):
    return pilot.app.screen.AREA


@pytest.fixture
def blank(tmp_path: Path) -> str:
    """Where no store is, nor its folder."""
    return str(tmp_path / "data" / "crib.db")


async def fill(pilot, *lines):
    for line in lines:
        await pilot.press(*line, "enter")


# -- begin ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_a_store_is_begun_where_none_is(blank, until, looks_like, size):
    async with CribApp(blank, "none yet").run_test(size=size) as pilot:
        await until(pilot, lambda: area(pilot) == "begin")
        await fill(pilot, "Ada Quill", "A.Q", "Fen Pump Works")
        await pilot.press("enter")
        await looks_like(pilot, f"begin_{size[0]}x{size[1]}")
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot).startswith("! '' is no place"))
        pilot.app.screen.form.go("place")
        await fill(pilot, "works / tool room / drawer 1", "home / chest")
        await pilot.press("enter", "right", "enter")
        await until(pilot, lambda: area(pilot) == "find" and said(pilot).startswith("Begun: Ada Quill"))
    assert settings(blank) == {"me": "Ada Quill", "site": "works", "units": "inch"}
    assert [one.path for one in places.places(blank)][1] == "home / chest"


async def test_what_was_typed_before_a_crash_stands_there_again(blank, until):
    async with CribApp(blank).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: area(pilot) == "begin")
        await fill(pilot, "Ada Quill")
        pilot.app.screen.keep()
    async with CribApp(blank).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: area(pilot) == "begin")
        assert pilot.app.screen.form.values()["me"] == "Ada Quill"


async def test_a_store_begun_elsewhere_meanwhile_is_not_begun_again(blank, until):
    async with CribApp(blank).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: area(pilot) == "begin")
        await pilot.press("f9")
        await until(pilot, lambda: area(pilot) == "books")
        begin(blank, me="Bo Fell", place="shop")
        await pilot.press("f2")
        await until(pilot, lambda: area(pilot) == "find")


# -- people and places ------------------------------------------------------------------------------------


async def test_people_and_places_are_added_and_let_go(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "People and places")
        await until(pilot, lambda: said(pilot).startswith("5 people and companies, 38 places"))
        await pilot.press("down")
        await looks_like(pilot, "people_80x24")
        await pilot.press("n")
        await until(pilot, lambda: area(pilot) == "person")
        await pilot.press(*"Ivo Tarn", "enter", "right", "enter", "f5")
        await until(pilot, lambda: said(pilot) == "On record: Ivo Tarn, company.")
        rows = pilot.app.screen.query_one("#lines")
        rows.mark(
            next(at for at in range(rows.count) if getattr(rows._row(at), "path", "") == "works / tool room")
        )
        await pilot.press("p")
        await until(pilot, lambda: area(pilot) == "new_place" and pilot.app.focused.id == "path")
        assert pilot.app.screen.form.values()["path"] == "works / tool room / "
        await pilot.press("end", *"rack / drawer 9", "f5")
        await until(pilot, lambda: said(pilot) == "On record: works / tool room / rack / drawer 9, drawer.")
        rows.mark(next(at for at in range(rows.count) if getattr(rows._row(at), "name", "") == "Wilf Oddney"))
        await pilot.press("g")
        await until(pilot, lambda: area(pilot) == "gone")
        await pilot.press(*"2026-01-05", "f5")
        await until(pilot, lambda: said(pilot) == "Left on 2026-01-05: Wilf Oddney.")
        await until(pilot, lambda: getattr(pilot.app.screen.marked, "gone_on", None) == "2026-01-05")
        await pilot.press("g")
        await until(pilot, lambda: said(pilot) == "Back: Wilf Oddney.")


async def test_names_and_places_of_any_text_are_data(blank, until, seen):
    begin(blank, me="Ada Quill", place="works")
    for text in NASTY.values():
        people.add(blank, ("a " + text)[:80], mark=text[:40], note=text[:200])
        places.add(blank, "works / a " + text.replace("/", "|")[:80])
    async with CribApp(blank).run_test(size=SIZE) as pilot:
        await open_book(pilot, "People and places")
        await until(pilot, lambda: f"{len(NASTY) + 1} people" in said(pilot))
        rows = pilot.app.screen.query_one("#lines")
        for row in range(rows.count):
            rows.mark(row)
            await pilot.pause()
            assert controls(seen(pilot)) == []
        await pilot.press("n")
        await until(pilot, lambda: area(pilot) == "person")
        for text in NASTY.values():
            pilot.app.screen.form.put({"name": text})
            await pilot.press("f5")
            await until(pilot, lambda: pilot.app.screen.is_settled)
            assert controls(seen(pilot)) == []
            if area(pilot) != "person":
                await pilot.press("n")
                await until(pilot, lambda: area(pilot) == "person")


# -- settings ---------------------------------------------------------------------------------------------


async def test_settings_are_changed_all_of_them_or_none(demo_address, until, looks_like):
    before = settings(demo_address)
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Settings")
        await until(pilot, lambda: area(pilot) == "settings" and pilot.app.screen.form.values()["me"] != "")
        await looks_like(pilot, "settings_80x24")
        pilot.app.screen.form.go("me")
        await pilot.press("ctrl+u", *"tobin ashgrove", "enter", "ctrl+u", *"nowhere", "f5")
        await until(pilot, lambda: said(pilot) == "! No site called 'nowhere'.")
        assert settings(demo_address) == before
        assert pilot.app.screen.form.values()["me"] == "tobin ashgrove", "nothing typed is lost"
        await pilot.press("ctrl+u", *"works", "down", "right", "f5")
        await until(pilot, lambda: said(pilot) == "Set: me Tobin Ashgrove; units inch.")
        await until(pilot, lambda: pilot.app.screen.form.values()["me"] == "Tobin Ashgrove")
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot) == "Nothing was typed over.")
    assert settings(demo_address) == before | {"me": "Tobin Ashgrove", "units": "inch"}
