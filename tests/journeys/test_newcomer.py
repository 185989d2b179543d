"""A newcomer does it all on the screens, by keyboard at 80 x 24, from an empty folder: no command is typed.

Begin a store, add people and places, take a tool in by its code and a list with foreign headings, lend a
tool, make a backup and look through it.
"""

from pathlib import Path

import pytest
from tui.asking import ask, open_book
from tui.conftest import Until

from crib.desk.asking.ask import find
from crib.desk.keeping.audit import audit
from crib.desk.keeping.safe import look_through
from crib.desk.people import people
from crib.tui.app import CribApp

LIST = """Platte;Anzahl;Zustand;Regal;Notiz
DCMT 11T304;5;new;works / tool room / drawer 2;blue box
MWLNL 2525 M08;1;good;works / tool room / drawer 1;
"""


async def test_from_an_empty_folder_to_a_backup(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, until: Until
) -> None:
    home = tmp_path / "home"
    home.mkdir()
    (home / "tools.csv").write_text(LIST)
    monkeypatch.setenv("HOME", str(home))
    address = str(home / "data" / "crib" / "crib.db")

    async with CribApp(address).run_test(size=(80, 24)) as pilot:

        def says(beginning: str) -> bool:
            return pilot.app.screen.query_one("#verdict").said.startswith(beginning)

        def area_now() -> str:
            return str(pilot.app.screen.AREA)

        async def book(name: str) -> None:
            await pilot.press("f9")
            while area_now() != "books":  # a page that was left open stands before the list
                await pilot.press("escape")
            await open_book(pilot, name)

        async def at(area: str) -> None:
            await until(pilot, lambda: area_now() == area and pilot.app.screen.is_settled)

        async def typed(*lines: str) -> None:
            for line in lines:
                await pilot.press(*line, "enter")

        # the first screen asks by itself; the last two entries are choices that fit as they are
        await at("begin")
        await typed(
            "Ada Quill", "A.Q", "Fen Pump Works", "works / tool room / drawer 1", "home / chest", "", ""
        )
        await until(pilot, lambda: says("Begun: Ada Quill, at works"))

        await book("People and places")
        await at("people")
        await pilot.press("n")
        await at("person")
        await typed("Bo Fell")
        await pilot.press("f5")
        await until(pilot, lambda: says("On record: Bo Fell, person."))
        await pilot.press("p")
        await at("new_place")
        await pilot.press("ctrl+u", *"works / tool room / drawer 2", "f5")
        await until(pilot, lambda: says("On record: works / tool room / drawer 2, drawer."))

        await book("Take stock in")
        await at("take_in")
        await pilot.press("up", "up", *"drawer 1", "enter", "enter")
        await typed("CNMG 120408 x10 new")
        await until(pilot, lambda: says("I01: CNMG120408"))

        await book("Take a list in")
        await at("intake")
        await pilot.press(*"~/tools.csv", "f5")
        await at("preview")
        assert says("! tools.csv: nothing is known of the heading 'Platte' and 4 more")
        await pilot.press("m")
        await at("headings")
        for _ in range(5):
            await pilot.press("enter")
            await at("column")
            await pilot.press("enter")
            await at("headings")
        await pilot.press("escape")
        await at("preview")
        assert says("Would take: 2 items.")
        await pilot.press("t", "y")
        await until(pilot, lambda: says("Taken: 2 items."))

        await pilot.press("f2")
        await at("find")
        await ask(pilot, "left hand holder here")
        await until(pilot, lambda: says("Yes, one left-hand holder") or says("Yes, 1 left-hand holder"))
        await pilot.press("l")
        await at("lend")
        await typed("Bo", "in 2 weeks")
        await pilot.press("f5")
        await until(pilot, lambda: says("Lent to Bo Fell: H01"))

        await book("Backups")
        await at("backups")
        await pilot.press("n")
        await at("back_up")
        await pilot.press("enter")
        await until(pilot, lambda: says("Backed up to ") and pilot.app.screen.is_settled)
        await pilot.press("enter")
        await until(pilot, lambda: says("Whole: 3 items"))

    (copy,) = home.glob("crib-*.db")
    assert look_through(str(copy)).items == 3
    assert audit(address).sound
    assert [one.name for one in people(address)] == ["Ada Quill", "Bo Fell", "Fen Pump Works"]
    found = {item.tag: (item.owner, item.place, item.held_by) for item in find(address, "").items}
    assert found == {
        "I01": ("Ada Quill", "works / tool room / drawer 1", None),
        "I02": ("Ada Quill", "works / tool room / drawer 2", None),
        "H01": ("Ada Quill", "works / tool room / drawer 1", "Bo Fell"),
    }
