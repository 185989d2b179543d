"""Decode draws what is typed, live, beside its reading."""

from tui.fake_desk import FakeDesk, found, item

from crib.tui.app import CribApp
from crib.tui.widgets.drawing import CAPTION

SIZE = (80, 24)


def said(pilot):
    return pilot.app.screen.query_one("#verdict").said


def dots(text):
    return sum("\u2800" < sign <= "\u28ff" for sign in text)


async def test_the_drawing_follows_the_typing(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        assert not dots(seen(pilot))
        await pilot.press("f3", *"cnmg120408")
        await until(pilot, lambda: dots(seen(pilot)) > 50)
        rhombus = seen(pilot)
        assert CAPTION in rhombus
        await pilot.press("backspace")
        await until(pilot, lambda: said(pilot).startswith("! "))
        assert not dots(seen(pilot)) and CAPTION not in seen(pilot)
        await pilot.press("ctrl+u", *"tnmg160408")
        await until(pilot, lambda: dots(seen(pilot)) > 50)
        assert seen(pilot).splitlines()[6:20] != rhombus.splitlines()[6:20]


async def test_holders_and_bars_are_drawn_too(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"pclnr2525m12")
        await until(pilot, lambda: said(pilot).startswith("Holder") and dots(seen(pilot)) > 30)
        right = seen(pilot)
        await pilot.press("ctrl+u", *"pclnl2525m12")
        await until(pilot, lambda: "PCLNL" in said(pilot) and dots(seen(pilot)) > 30)
        assert right != seen(pilot)
        await pilot.press("ctrl+u", *"s25rsclcr09")
        await until(pilot, lambda: said(pilot).startswith("Boring bar") and dots(seen(pilot)) > 30)


async def test_the_drawing_gives_way_in_a_narrow_window_and_comes_back(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"cnmg120408")
        await until(pilot, lambda: dots(seen(pilot)) > 50)
        await pilot.resize_terminal(60, 20)
        await until(pilot, lambda: not dots(seen(pilot)))
        assert "80 deg rhombic" in seen(pilot)
        await pilot.resize_terminal(120, 40)
        await until(pilot, lambda: dots(seen(pilot)) > 100)


async def test_from_the_drawing_to_what_is_on_hand_and_back(address, until, seen):
    desk = FakeDesk(fitting=lambda _code: found([item(4)]))
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"wnmg080408")
        await until(pilot, lambda: dots(seen(pilot)) > 50)
        await pilot.press("f5")
        await until(pilot, lambda: pilot.app.screen.view == "partners")
        assert not dots(seen(pilot)) and "H04" in seen(pilot)
        await pilot.press("escape")
        await until(pilot, lambda: dots(seen(pilot)) > 50)


async def test_a_bare_console_gets_plain_characters(address, until, seen, monkeypatch):
    monkeypatch.setenv("TERM", "linux")
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"snmg120408")
        await until(pilot, lambda: CAPTION in seen(pilot))
        assert not dots(seen(pilot))
        assert any(":" in line[54:] and "'" in line[54:] for line in seen(pilot).splitlines()[6:20])


async def test_doubts_stay_readable_beside_the_drawing(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f3", *"pcunr2525m12")
        await until(pilot, lambda: said(pilot).startswith("Holder"))
        flat = " ".join(seen(pilot).split())
        assert "[depends on" in flat
