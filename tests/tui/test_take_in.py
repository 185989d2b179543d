"""Taking stock in on the invented workshop's store, wholly by keyboard at 80 x 24."""

from crib.desk.asking.ask import find
from crib.desk.keeping.audit import audit
from crib.tui.app import CribApp

SIZE = (80, 24)


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def values(pilot):
    return pilot.app.screen.form.values()


async def open_book(pilot, until):
    await pilot.press("f9")
    await until(pilot, lambda: pilot.app.screen.AREA == "books" and said(pilot) != "")
    while "Take stock in" not in pilot.app.screen.query_one("#books").marked.name:
        await pilot.press("down")
    await pilot.press("enter")
    await until(pilot, lambda: pilot.app.screen.AREA == "take_in" and pilot.app.focused.id == "code")


async def test_codes_are_read_as_typed_kept_repeated_and_taken_back(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, until)
        await pilot.press("up", "up", *"insert cabinet / drawer 2", "enter", "enter")
        await pilot.press(*"CNMG 120404 x10 new")
        await until(pilot, lambda: said(pilot).startswith("CNMG120404 = CNMG431"))
        await pilot.press("enter")
        await until(pilot, lambda: said(pilot).startswith("I48: CNMG120404"))
        assert values(pilot)["code"] == ""
        await pilot.press("+", "enter")
        await until(pilot, lambda: said(pilot).startswith("I49: CNMG120404"))
        await pilot.press(*"CNMX 12", "enter")
        await until(pilot, lambda: said(pilot).startswith("!") or "CNMX" in said(pilot))
        assert values(pilot)["code"] == "CNMX 12", "what can't be read stays to be mended"
        await pilot.press("ctrl+u", *"owner=T.A", "enter")
        await until(pilot, lambda: said(pilot).startswith("From here on: Tobin Ashgrove's"))
        assert values(pilot)["owner"] == "Tobin Ashgrove"
        await pilot.press(*"DCMT 11T304")
        await until(pilot, lambda: said(pilot).startswith("DCMT11T304"))
        await looks_like(pilot, "take_in_80x24")
        await pilot.press("enter")
        await until(pilot, lambda: said(pilot).startswith("I50: DCMT11T304"))
        await pilot.press("ctrl+z")
        await until(pilot, lambda: said(pilot) == "Taken back: added I50 DCMT11T304.")
        await pilot.press("ctrl+z")
        await until(pilot, lambda: said(pilot) == "Taken back: added I49 CNMG120404.")
        assert [line[:3] for line in pilot.app.screen.kept] == ["I48"]
        await pilot.press("escape")
        await until(pilot, lambda: pilot.app.screen.AREA == "books")
    (item,) = find(demo_address, "tag=I48").items
    assert (item.quantity, item.edges_left, item.place) == (
        10,
        40,
        "works / tool room / insert cabinet / drawer 2",
    )
    assert audit(demo_address).sound


async def test_a_scanner_that_is_quicker_than_the_disk_loses_nothing(demo_address, until):
    codes = ["CNMG120404", "CNMG120408", "TNMG160408", "DCMT11T304"]
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, until)
        for code in codes:
            await pilot.press("]", "C", "1", *code, "enter")
        await until(pilot, lambda: len(pilot.app.screen.kept) == 4)
        assert [line.split()[1] for line in reversed(pilot.app.screen.kept)] == codes


async def test_hostile_lines_are_data(demo_address, until):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, until)
        for text in ("[red]x[/]", "=cmd|' /C calc'!A0", "../../x"):
            await pilot.press("ctrl+u")
            pilot.app.screen.form.put({"code": f'kind=other label="{text}"'})
            await pilot.press("enter")
            await until(pilot, lambda text=text: f": {text}, " in said(pilot))
    assert find(demo_address, "kind=other").total >= 3
