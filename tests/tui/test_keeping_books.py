"""Beginning a store, its people and places and settings, wholly by keyboard, also where there is none yet."""

import threading
from datetime import date
from pathlib import Path

import pytest
from nasty import NASTY, controls
from tui.asking import open_book

from crib.desk import people, places
from crib.desk.keeping.begin import begin
from crib.desk.keeping.settings import settings
from crib.tui.app import CribApp
from crib.tui.screens.begin import BeginScreen

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


async def test_going_elsewhere_while_it_is_written_closes_the_form_on_coming_back(blank, until, monkeypatch):
    go_on = threading.Event()
    write = BeginScreen.write

    def slow(self, values):
        go_on.wait(5)
        return write(self, values)

    monkeypatch.setattr(BeginScreen, "write", slow)
    async with CribApp(blank).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: area(pilot) == "begin")
        await fill(pilot, "Ada Quill", "", "", "works")
        await pilot.press("f5", "f9", "1")
        await until(pilot, lambda: area(pilot) == "out")
        go_on.set()
        await until(pilot, lambda: Path(blank).exists() and pilot.app.written)
        assert area(pilot) == "out", "what stands on the screen is not closed in its stead"
        await pilot.press("f2")
        await until(pilot, lambda: area(pilot) == "find" and said(pilot).startswith("Begun: Ada Quill"))


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
    for text in list(NASTY.values())[::3]:
        places.add(blank, "works / a " + text.replace("/", "|")[:80])
    async with CribApp(blank).run_test(size=SIZE) as pilot:
        await open_book(pilot, "People and places")
        await until(pilot, lambda: said(pilot).startswith("1 people"))
        texts = list(NASTY.values())
        for text, other in zip(texts[::2], texts[1::2], strict=False):
            await pilot.press("n")
            await until(pilot, lambda: area(pilot) == "person")
            pilot.app.screen.form.put({"name": f"a {text}"[:80], "mark": other[:40], "note": other[:200]})
            await pilot.press("f5")
            await until(pilot, lambda: area(pilot) == "people" and pilot.app.screen.is_settled)
            assert said(pilot).startswith("On record: a ")
            assert controls(seen(pilot)) == []
        rows = pilot.app.screen.query_one("#lines")
        for row in range(rows.count):
            rows.mark(row)
            await pilot.pause()
            assert controls(seen(pilot)) == []
    assert len(people.people(blank)) == len(NASTY) // 2 + 1


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


# -- backups ----------------------------------------------------------------------------------------------


async def test_a_copy_is_made_looked_through_and_put_back(demo_address, tmp_path, until):
    (tmp_path / "stick").mkdir()
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Backups")
        await until(pilot, lambda: said(pilot).startswith("0 files beside the store"))
        await pilot.press("n")
        await until(pilot, lambda: area(pilot) == "back_up")
        pilot.app.screen.form.put({"to": str(tmp_path / "stick")})
        await pilot.press("enter")
        await until(pilot, lambda: area(pilot) == "backups" and said(pilot).startswith("Backed up to "))
        await until(pilot, lambda: pilot.app.screen.marked is not None)
        await pilot.press("enter")
        await until(pilot, lambda: said(pilot) == "Whole: 149 items, and as its ledger says.")
        people.add(demo_address, "Too Late")
        await pilot.press("r")
        await until(pilot, lambda: area(pilot) == "restore")
        await pilot.press("enter", "n")
        await until(pilot, lambda: area(pilot) == "restore" and said(pilot) == "Nothing was recorded.")
        assert any(one.name == "Too Late" for one in people.people(demo_address))
        await pilot.press("enter", "y")
        await until(pilot, lambda: area(pilot) == "backups" and said(pilot).startswith("Put back: 149 items"))
        assert not any(one.name == "Too Late" for one in people.people(demo_address))
        await until(pilot, lambda: pilot.app.screen.query_one("#lines").count == 2)
        assert any(one.name == "Too Late" for one in people.people(pilot.app.screen.found[0].path)), (
            "it was kept"
        )


async def test_a_copy_that_is_damaged_or_not_there_is_told_and_changes_nothing(demo_address, tmp_path, until):
    (tmp_path / "bad.db").write_bytes(Path(demo_address).read_bytes()[:200_000])
    before = Path(demo_address).read_bytes()
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Backups")
        await until(pilot, lambda: said(pilot).startswith("1 file beside the store"))
        await pilot.press("enter")
        await until(pilot, lambda: said(pilot).startswith("! ") and "bad.db" in said(pilot))
        await pilot.press("r")
        await until(pilot, lambda: area(pilot) == "restore")
        for source in (str(tmp_path / "bad.db"), str(tmp_path / "none.db"), ""):
            pilot.app.screen.form.put({"source": source})
            await pilot.press("f5", "y")
            await until(pilot, lambda: area(pilot) == "restore" and said(pilot).startswith("! "))
            assert pilot.app.screen.form.values()["source"] == source
            pilot.app.screen.say("")
    assert Path(demo_address).read_bytes() == before


async def test_a_copy_is_put_back_on_a_new_computer(demo_address, blank, until):
    async with CribApp(blank).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: area(pilot) == "begin")
        await open_book(pilot, "Backups")
        await until(pilot, lambda: area(pilot) == "backups" and pilot.app.screen.is_settled)
        await pilot.press("r")
        await until(pilot, lambda: area(pilot) == "restore")
        pilot.app.screen.form.put({"source": demo_address})
        await pilot.press("f5", "y")
        await until(pilot, lambda: area(pilot) == "backups" and said(pilot).startswith("Put back: 149"))
        await pilot.press("f2")
        await until(pilot, lambda: area(pilot) == "find" and said(pilot).startswith("149 tools"))


async def test_the_audit_and_everything_written_out(demo_address, tmp_path, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Backups")
        await until(pilot, lambda: area(pilot) == "backups" and pilot.app.screen.is_settled)
        await pilot.press("x")
        await until(pilot, lambda: area(pilot) == "export")
        pilot.app.screen.form.put({"folder": str(tmp_path / "all")})
        await pilot.press("enter")
        await until(pilot, lambda: area(pilot) == "backups" and said(pilot).startswith("Written out to"))
        assert (tmp_path / "all" / "manifest.json").exists()
        await pilot.press("a")
        await until(pilot, lambda: said(pilot) == "0 differences in 149 items rebuilt from the ledger.")
        await looks_like(pilot, "audit_80x24")


# -- labels -----------------------------------------------------------------------------------------------


async def test_a_sheet_of_labels_is_printed(demo_address, tmp_path, monkeypatch, until, looks_like):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("crib.desk.dates.today", lambda: date(2026, 11, 27))
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await pilot.press("f6", *"tag=H01", "enter")
        await until(pilot, lambda: pilot.app.focused.id == "found")
        await pilot.press("w")
        await until(pilot, lambda: area(pilot) == "labels" and pilot.app.focused.id == "at")
        await looks_like(pilot, "labels_80x24")
        await pilot.press("f5")
        await until(pilot, lambda: area(pilot) == "find" and said(pilot).startswith("1 label in "))
        await open_book(pilot, "Labels")
        await until(pilot, lambda: area(pilot) == "labels" and pilot.app.focused.id == "tags")
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot) == "! No tool is named.")
        for field, typed, told in (
            ("tags", "H99", "! No tag called 'H99'"),
            ("size", "wide", "! The size 'wide' can't be read."),
            ("skip", "900", "! 900 places can't be skipped"),
            (
                "file",
                "labels-2026-11-27.pdf",
                "! Labels-2026-11-27.pdf is there already",
            ),
        ):
            usual = {**pilot.app.screen.usual(), "tags": "H01", "file": "other.pdf"}
            pilot.app.screen.form.put({**usual, field: typed})
            await pilot.press("f5")
            await until(pilot, lambda told=told: said(pilot).startswith(told))
            assert pilot.app.screen.form.values()[field] == typed
        pilot.app.screen.form.put(
            {**pilot.app.screen.usual(), "at": "insert cabinet / drawer 4", "file": "drawer.pdf"}
        )
        await pilot.press("f5")
        await until(pilot, lambda: "labels in" in said(pilot) and "on a sheet of A4" in said(pilot))
    assert Path("drawer.pdf").read_bytes().startswith(b"%PDF")


async def test_hostile_names_of_files_are_data(demo_address, tmp_path, monkeypatch, until, seen):
    monkeypatch.chdir(tmp_path)
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        doors = (("Labels", "", "tags"), ("Backups", "n", "to"), ("Backups", "r", "source"))
        for at, (book, key, entry) in enumerate(doors):
            await open_book(pilot, book)
            await until(pilot, lambda: pilot.app.screen.is_settled)
            await pilot.press(*([key] if key else []))
            await until(pilot, lambda: area(pilot) in ("labels", "back_up", "restore"))
            for text in list(NASTY.values())[at::3]:
                folder = "none/" if entry == "to" else ""
                pilot.app.screen.form.put({entry: folder + text, "file": "none/x.pdf"})
                await pilot.press("f5", *(["y"] if entry == "source" else []))
                await until(pilot, lambda: said(pilot).startswith("!") and pilot.app.screen.is_settled)
                assert controls(seen(pilot)) == []
                pilot.app.screen.say("")
            await pilot.press("escape")
