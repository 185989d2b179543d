"""Decode: read as it is typed."""

from tui.asking import ask
from tui.fake_desk import FakeDesk, Gate, found, item

from crib.desk.asking.codes import decode
from crib.tui.app import CribApp
from crib.tui.screens.decode import PAUSE_s

SIZE = (80, 24)


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


async def test_a_code_is_read_as_it_is_typed(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"wnmg 080408")
        await until(pilot, lambda: said(pilot).startswith("Insert WNMG080408, metric code."))
        await until(pilot, lambda: "7   08" in seen(pilot))
        await until(pilot, lambda: "nose radius" in seen(pilot))
        await until(pilot, lambda: "0.8 mm (1/32 in)" in seen(pilot))


async def test_half_a_code_says_what_is_missing_and_takes_no_answer_from_before(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"wnmg080408")
        await until(pilot, lambda: said(pilot).startswith("Insert"))
        await pilot.press("backspace", "backspace", "backspace", "backspace")
        await until(pilot, lambda: said(pilot).startswith("! "))
        assert "Meaning" not in seen(pilot)


async def test_a_reading_that_comes_late_is_dropped(address, until):
    gate = Gate()

    def slow(text):
        if text == "WNMG080408":
            gate.wait()
        return decode(text)

    async with CribApp(address, desk=FakeDesk(decode=slow)).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"WNMG080408", "enter")
        await pilot.press("e", *["backspace"] * 10, *"CCMT09T304", "enter")
        await until(pilot, lambda: said(pilot).startswith("Insert CCMT09T304"))
        gate.open()
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        assert said(pilot).startswith("Insert CCMT09T304")


async def test_emptying_the_line_empties_the_reading(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"wnmg080408")
        await until(pilot, lambda: said(pilot).startswith("Insert"))
        await pilot.press("ctrl+u")
        await until(pilot, lambda: said(pilot).startswith("Type the code"))
        assert "Meaning" not in seen(pilot)


async def test_a_code_in_the_ask_line_leads_here(address, until):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await ask(pilot, "what is a WNMG 432?")
        await until(pilot, lambda: pilot.app.screen.AREA == "decode")
        await until(pilot, lambda: said(pilot).startswith("Insert WNMG432, inch code."))


async def test_what_only_looks_like_a_code_leads_to_find(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await ask(pilot, "bar 25 mm")
        await until(pilot, lambda: ("find", "bar 25 mm") in desk.asked)
        assert pilot.app.screen.AREA == "find"


async def test_what_goes_with_a_code_is_listed_and_opened(address, until, seen):
    away = item(5, on_site=False, site="Ada's home")
    desk = FakeDesk(fitting=lambda _code: found([item(4)], elsewhere=[away]))
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"wnmg080408", "enter")
        await until(pilot, lambda: said(pilot).startswith("Insert"))
        await pilot.press("f")
        await until(pilot, lambda: said(pilot) == "Yes, 1 on site.")
        assert ("fitting", "WNMG080408") in desk.asked
        await until(pilot, lambda: "H05" in seen(pilot))
        await pilot.press("enter")
        await until(pilot, lambda: pilot.app.screen.AREA == "item")
        await pilot.press("escape", "escape")
        assert said(pilot).startswith("Insert WNMG080408")
        await pilot.press("escape", *"F")
        assert pilot.app.screen.code.value == "wnmg080408F"


async def test_a_code_from_elsewhere_is_read_once(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: said(pilot) == "Yes, 2 on site.")
        await pilot.press("escape", "d")
        await until(pilot, lambda: said(pilot).startswith("Holder"))
        await pilot.press("f")
        await until(pilot, lambda: pilot.app.screen.view == "partners")
        await pilot.pause(2 * PAUSE_s)
        assert pilot.app.screen.view == "partners"
        assert [name for name, _ in desk.asked].count("decode") == 1


async def test_the_code_stays_while_other_screens_are_open(address, until):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"wnmg", "f2", "f4", "f3")
        assert pilot.app.screen.code.value == "wnmg"
