"""What the eye judges: whole screens as plain text. CRIB_UPDATE_PICTURES=1 stores them anew."""

import pytest
from tui.asking import ask
from tui.fake_desk import FakeDesk, found, item

from crib.tui.app import CribApp
from crib.tui.widgets.row_list import RowList

NOTE = "demo workshop – a private copy"
SIZES = [(60, 20), (80, 24), (132, 43)]


def stock(question, **_):
    """Two holders here, one lent, and one at home."""
    here = [
        item(1),
        item(2, owner="Bo Fell", HAND="R", label="right-hand holder 95°", designation="MWLNR2525M08"),
        item(3, kind="insert", tag="I07", HAND=None, designation="WNMG080408", label="trigon", edges_left=5),
        item(4, on_site=False, held_by="Cy Marsh", due_back="2026-04-01", note="shim missing"),
    ]
    away = item(5, on_site=False, site="Ada's home", place="Ada's home / bench")
    return found(here, elsewhere=[away])


def app(address):
    return CribApp(address, NOTE, desk=FakeDesk(find=stock))


async def shown(pilot, until):
    await until(pilot, lambda: pilot.app.screen.query_one(RowList).count == 6)
    await pilot.press("escape")
    await until(pilot, lambda: pilot.app.focused.id == "found")


@pytest.mark.parametrize("size", SIZES)
async def test_find(address, until, looks_like, size):
    async with app(address).run_test(size=size) as pilot:
        await shown(pilot, until)
        await looks_like(pilot, f"find_{size[0]}x{size[1]}")


async def test_find_with_the_tool_at_home_marked(address, until, looks_like):
    async with app(address).run_test(size=(80, 24)) as pilot:
        await shown(pilot, until)
        await pilot.press("end")
        await looks_like(pilot, "find_at_home_80x24")
        await pilot.press("b")
        await until(pilot, lambda: len(pilot.app.screen_stack) == 2)
        await looks_like(pilot, "bring_in_80x24")


async def test_one_tool(address, until, looks_like):
    async with app(address).run_test(size=(80, 24)) as pilot:
        await shown(pilot, until)
        await pilot.press("enter")
        await until(pilot, lambda: pilot.app.screen.AREA == "item" and pilot.app.screen.is_settled)
        await looks_like(pilot, "item_80x24")


@pytest.mark.parametrize("size", SIZES)
async def test_decode(address, until, looks_like, size):
    async with app(address).run_test(size=size) as pilot:
        await ask(pilot, "WNMG 080408")
        await until(
            pilot, lambda: pilot.app.screen.AREA == "decode" and pilot.app.screen._reading is not None
        )
        await looks_like(pilot, f"decode_{size[0]}x{size[1]}")


@pytest.mark.parametrize("size", SIZES)
async def test_pick_form(address, until, looks_like, size):
    async with app(address).run_test(size=size) as pilot:
        await pilot.press("f4", *"grey")
        await until(pilot, lambda: "grey iron 200" in pilot.app.screen.query_one("#hint").said)
        await looks_like(pilot, f"form_{size[0]}x{size[1]}")


@pytest.mark.parametrize("size", SIZES)
async def test_pick_ranked(address, until, looks_like, size):
    async with app(address).run_test(size=size) as pilot:
        await ask(pilot, "bore 16 to 16 3/8 in grey iron")
        await until(pilot, lambda: pilot.app.screen.AREA == "pick" and pilot.app.screen.view == "ranked")
        await looks_like(pilot, f"ranked_{size[0]}x{size[1]}")


@pytest.mark.parametrize(
    ("key", "view"), [("enter", "detail"), ("l", "ladder"), ("r", "rejected"), ("w", "chain")]
)
async def test_pick_in_full(address, until, looks_like, key, view):
    async with app(address).run_test(size=(80, 24)) as pilot:
        await ask(pilot, "bore 16 to 16 3/8 in grey iron")
        await until(pilot, lambda: pilot.app.screen.AREA == "pick" and pilot.app.screen.view == "ranked")
        await pilot.press(key)
        await until(pilot, lambda: pilot.app.screen.view == view)
        await looks_like(pilot, f"{view}_80x24")


@pytest.mark.parametrize("size", SIZES)
async def test_machines(address, until, looks_like, size):
    async with app(address).run_test(size=size) as pilot:
        await pilot.press("f7")
        await until(pilot, lambda: pilot.app.screen.AREA == "machines" and pilot.app.screen.is_settled)
        await pilot.press("down")
        await looks_like(pilot, f"machines_{size[0]}x{size[1]}")
        await pilot.press("e")
        await until(pilot, lambda: pilot.app.screen.view == "form")
        await looks_like(pilot, f"machine_form_{size[0]}x{size[1]}")


async def test_help(address, until, looks_like):
    async with app(address).run_test(size=(80, 24)) as pilot:
        await shown(pilot, until)
        await pilot.press("question_mark")
        await until(pilot, lambda: pilot.app.screen.AREA == "help")
        await looks_like(pilot, "help_80x24")


@pytest.mark.parametrize("small", [(60, 20), (20, 8), (3, 2)])
async def test_a_window_may_shrink_and_grow_again(address, until, looks_like, small):
    async with app(address).run_test(size=(80, 24)) as pilot:
        await shown(pilot, until)
        await pilot.resize_terminal(*small)
        await pilot.press("f4", "f3", "f2")
        await pilot.resize_terminal(80, 24)
        await until(pilot, lambda: pilot.app.screen.size == (80, 24))
        await looks_like(pilot, "find_80x24")


async def test_a_terminal_without_colour_shows_the_same(address, until, looks_like, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    async with app(address).run_test(size=(80, 24)) as pilot:
        await shown(pilot, until)
        await looks_like(pilot, "find_80x24")
