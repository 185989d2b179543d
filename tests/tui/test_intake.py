"""Taking a list in on the screens: tried, mapped, taken; wholly by keyboard at 80 x 24."""

from pathlib import Path

import pytest
from nasty import NASTY, controls
from tui.asking import open_book

from crib.desk.asking.ask import find
from crib.desk.keeping.audit import audit
from crib.report.sheets import csv_bytes
from crib.tui.app import CribApp

SIZE = (80, 24)
FOREIGN = """Platte;Anzahl;Zustand;Regal;Farbe
CNMG 120408;10;new;works / tool room;blue
MWLNL 2525 M08;1;good;works / tool room;
"""


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def area(pilot):
    return pilot.app.screen.AREA


@pytest.fixture(autouse=True)
def in_a_folder_of_its_own(tmp_path, monkeypatch):
    """Lists are named by short paths."""
    monkeypatch.chdir(tmp_path)


async def try_list(pilot, until, *lines, then="preview"):
    await open_book(pilot, "Take a list in")
    await until(pilot, lambda: area(pilot) == "intake" and pilot.app.screen.form.values()["owner"] != "")
    for line in lines:
        await pilot.press(*line, "enter")
    await pilot.press("f5")
    await until(pilot, lambda: area(pilot) == then and pilot.app.screen.is_settled)


async def test_foreign_headings_are_said_one_by_one_and_the_list_is_taken(demo_address, until, looks_like):
    Path("own.csv").write_text(FOREIGN)
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await try_list(pilot, until, "own.csv")
        assert said(pilot) == "! own.csv: nothing is known of the heading 'Platte' and 4 more."
        await pilot.press("m")
        await until(pilot, lambda: area(pilot) == "headings" and said(pilot).startswith("5 of 5"))
        await looks_like(pilot, "headings_80x24")
        for _ in range(4):
            await pilot.press("enter")
            await until(pilot, lambda: area(pilot) == "column" and pilot.app.screen.is_settled)
            await pilot.press("enter")
            await until(pilot, lambda: area(pilot) == "headings" and pilot.app.screen.is_settled)
        await pilot.press("x")
        await until(pilot, lambda: said(pilot) == "Every heading is known.")
        await pilot.press("w")
        await until(pilot, lambda: area(pilot) == "keep_headings")
        await pilot.press("f5")
        await until(pilot, lambda: area(pilot) == "headings" and said(pilot).startswith("Kept: "))
        await pilot.press("escape")
        await until(pilot, lambda: area(pilot) == "preview" and said(pilot) == "Would take: 2 items.")
        await looks_like(pilot, "preview_80x24")
        await pilot.press("escape")
        await until(pilot, lambda: area(pilot) == "intake")
        await pilot.press("f5")
        await until(pilot, lambda: area(pilot) == "preview" and pilot.app.screen.is_settled)
        assert said(pilot) == "Would take: 2 items.", "what was chosen is kept"
        await pilot.press("t", "n")
        await until(pilot, lambda: area(pilot) == "preview")
        assert find(demo_address, "tag=H28").total == 0
        await pilot.press("t", "y")
        await until(pilot, lambda: area(pilot) == "intake" and said(pilot) == "Taken: 2 items.")
    (holder,) = find(demo_address, "MWLNL2525M08 at tool room", owner="me").items
    assert holder.owner == "Tamsin Arkwell"
    assert audit(demo_address).sound
    assert Path("headings.csv").read_text().splitlines()[-1] == "Farbe,"


async def test_a_kept_mapping_and_updating_what_is_on_record(demo_address, until):
    (tool,) = find(demo_address, "tag=H01").items
    Path("own.csv").write_text(f"Nr;Was;Zustand\nH01;{tool.designation};worn\n")
    Path("kept.csv").write_text("heading,column\nNr,tag\nWas,code\nZustand,condition\n")
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Take a list in")
        await until(pilot, lambda: area(pilot) == "intake" and pilot.app.screen.form.values()["owner"] != "")
        pilot.app.screen.form.put(
            {"files": "own.csv", "owner": tool.owner, "place": tool.place, "mapping": "kept.csv"}
        )
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot).startswith("! 1 row can't be taken"))
        assert "is on record already" in pilot.app.screen.marked["why"]
        await pilot.press("escape", "down", "right", "f5")
        await until(pilot, lambda: area(pilot) == "preview" and said(pilot) == "Would take: 1 item.")
        assert pilot.app.screen.marked.how == "changed"
        await pilot.press("t", "y")
        await until(pilot, lambda: said(pilot) == "Taken: 1 item.")
    assert find(demo_address, "tag=H01").items[0].condition == "worn"


async def test_what_can_t_be_taken_is_told_by_row_and_tried_again_once_mended(
    demo_address, until, looks_like
):
    list_ = Path("own.csv")
    list_.write_text(
        "code,owner,place,quantity\nCNMG 120408,Tamsin Arkwell,works,many\nCNMG,nobody,nowhere,1\n"
    )
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await try_list(pilot, until, "own.csv")
        assert said(pilot) == "! 2 rows can't be taken, so none was."
        await looks_like(pilot, "preview_refused_80x24")
        list_.write_text("code,owner,place\nCNMG 120408,Tamsin Arkwell,works\n")
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot) == "Would take: 1 item.")


async def test_a_file_that_is_not_there_leaves_the_form_as_typed(demo_address, until):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await try_list(pilot, until, "none.csv", then="intake")
        await until(pilot, lambda: said(pilot).startswith("! None.csv: No such file"))
        assert pilot.app.screen.form.values()["files"] == "none.csv"


async def test_hostile_headings_cells_and_names_of_files_are_data(demo_address, until, seen):
    headings = [" ".join(text[:60].split()) or "blank" for text in NASTY.values()]
    Path("own.csv").write_bytes(csv_bytes(headings, [[text[:200] for text in NASTY.values()]]))
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Take a list in")
        await until(pilot, lambda: area(pilot) == "intake" and pilot.app.screen.is_settled)
        for name in [*NASTY.values(), "own.csv"]:
            pilot.app.screen.form.put({"files": name})
            await pilot.press("f5")
            await until(pilot, lambda: pilot.app.screen.is_settled)
            assert said(pilot).startswith("!")
            assert controls(seen(pilot)) == []
        assert area(pilot) == "preview"
        await pilot.press("m")
        await until(pilot, lambda: area(pilot) == "headings" and pilot.app.screen.is_settled)
        rows = pilot.app.screen.query_one("#lines")
        for at in range(rows.count):
            rows.mark(at)
            await pilot.pause()
            assert controls(seen(pilot)) == []
        await pilot.press("home", "enter")
        await until(pilot, lambda: area(pilot) == "column" and pilot.app.screen.is_settled)
        assert controls(seen(pilot)) == []
