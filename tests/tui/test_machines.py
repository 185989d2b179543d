"""Machines: the list, the chart as a form, what is wrong said where it was typed, nothing typed lost."""

import json

from tui.asking import ask
from tui.fake_desk import FakeDesk, fleet, machine

from crib.errors import InputError, UnknownName
from crib.tui.app import CribApp
from crib.tui.screens.machines import DRAFT_NAME
from crib.tui.widgets.machine_form import MachineForm
from crib.tui.widgets.row_list import RowList

SIZE = (80, 24)


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def form(pilot):
    return pilot.app.screen.query_one(MachineForm).values()


def saves(desk):
    return [asked for name, asked in desk.asked if name == "save_machine"]


async def opened(pilot, until, key="enter"):
    """Open Machines, mark the lathe and press a key."""
    await pilot.press("f7")
    await until(pilot, lambda: pilot.app.screen.AREA == "machines" and pilot.app.screen.is_settled)
    await pilot.press("down", key)
    await until(pilot, lambda: pilot.app.screen.view == "form")


async def test_the_list_shows_the_marked_machine_in_full(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f7")
        await until(pilot, lambda: "2 machines on record." in said(pilot))
        await pilot.press("down")
        await until(pilot, lambda: "shop / bay / old lathe" in seen(pilot))
        assert "travel                  not recorded" in seen(pilot)


async def test_a_chart_is_changed_by_keyboard_alone(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await opened(pilot, until)
        assert pilot.app.focused.id == "speeds"
        assert form(pilot)["path"] == "shop / bay / old lathe"
        await pilot.press("end", *" 800", "down", "down", "tab", "tab", "tab", *"80 in", "ctrl+s")
        await until(pilot, lambda: said(pilot).startswith("Saved: old lathe: speeds, travel."))
        assert saves(desk) == [
            (
                "shop / bay / old lathe",
                {"speeds": "11 15 21 28 39 53 72 98 133 181 246 335 456 620 800", "travel": "80 in"},
            )
        ]
        await until(pilot, lambda: pilot.app.screen.is_settled)
        assert pilot.app.screen.view == "fleet"
        assert pilot.app.screen.query_one(RowList).marked.name == "old lathe"


async def test_what_was_not_changed_is_not_written(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await opened(pilot, until)
        await pilot.press("ctrl+s")
        await until(pilot, lambda: said(pilot) == "Nothing was changed.")
        assert saves(desk) == []
        await pilot.press("escape")
        await until(pilot, lambda: pilot.app.screen.view == "fleet")


async def test_a_new_machine(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await opened(pilot, until, "n")
        assert pilot.app.focused.id == "path"
        await pilot.press(*"mill 2", "enter", "b", "enter", *"20 40")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: said(pilot).startswith("Added: "))
        [(name, changes)] = saves(desk)
        assert name == "shop / bay / mill 2"
        assert {field: text for field, text in changes.items() if text} == {
            "kind": "boring mill",
            "speeds": "20 40",
            "facing_head": "no",
        }


async def test_what_is_wrong_is_said_and_its_field_has_the_keyboard(address, until):
    def refuse(_asked, **_named):
        raise InputError("power: '7 mm' is a length", "for example 7 1/2 hp", field="power")

    async with CribApp(address, desk=FakeDesk(save_machine=refuse)).run_test(size=SIZE) as pilot:
        await opened(pilot, until)
        await pilot.press("end", *" 800", "f5")
        await until(pilot, lambda: said(pilot) == "! Power: '7 mm' is a length.")
        assert said(pilot, "why") == "For example 7 1/2 hp."
        await until(pilot, lambda: pilot.app.focused.id == "power")
        assert form(pilot)["speeds"].endswith("620 800")


async def test_a_place_that_is_not_there_leads_back_to_the_path(address, until):
    def refuse(_asked, **_named):
        raise UnknownName("place", "shp", ["shop"])

    async with CribApp(address, desk=FakeDesk(save_machine=refuse)).run_test(size=SIZE) as pilot:
        await opened(pilot, until, "n")
        await pilot.press("tab", "tab", *"20", "ctrl+s")
        await until(pilot, lambda: "shop" in said(pilot, "why"))
        await until(pilot, lambda: pilot.app.focused.id == "path")


async def test_leaving_asks_when_something_was_typed(address, until):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await opened(pilot, until)
        await pilot.press("x", "escape", "n")
        assert form(pilot)["speeds"].endswith("620x") or form(pilot)["speeds"].startswith("x11")
        assert pilot.app.screen.view == "form"
        await pilot.press("escape", "y")
        await until(pilot, lambda: said(pilot) == "Left as it was.")
        await pilot.press("e")
        await until(pilot, lambda: "x" not in form(pilot)["speeds"])


async def test_what_was_typed_survives_a_crash(address, until, tmp_path):
    draft = tmp_path / DRAFT_NAME
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await opened(pilot, until)
        await pilot.press("end", *" 800")
        await until(pilot, draft.exists)
        assert draft.stat().st_mode & 0o777 == 0o600
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f7")
        await until(pilot, lambda: said(pilot) == "This chart was not saved yet.")
        assert form(pilot)["speeds"].endswith("620 800")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: said(pilot).startswith("Saved"))
        assert json.loads(draft.read_text()) == {}


async def test_a_new_chart_typed_last_is_kept_on_leaving(address, until, tmp_path):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await opened(pilot, until, "n")
        await pilot.press(*"mill 2", "tab", "tab", *"20 40", "ctrl+q")
    kept = json.loads((tmp_path / DRAFT_NAME).read_text())
    assert (kept["path"], kept["speeds"], kept["editing"]) == ("shop / bay / mill 2", "20 40", "")


async def test_a_shop_without_machines(address, until, seen):
    desk = FakeDesk(machines=lambda: fleet(places=()))
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await pilot.press("f7")
        await until(pilot, lambda: said(pilot) == "No machine is on record.")
        assert "n new machine" in seen(pilot)
        assert "edit chart" not in seen(pilot)


async def test_names_on_record_are_data(address, until, seen):
    desk = FakeDesk(machines=lambda: fleet(machine("[red]\x1b[31mlathe")))
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await pilot.press("f7")
        await until(pilot, lambda: "[red]" in seen(pilot))
        assert "\x1b" not in seen(pilot)


async def test_the_chart_of_the_workshop_s_lathe(demo_address, until, seen):
    from crib.desk.starting.machines import machine as on_record

    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await opened(pilot, until)
        await until(pilot, lambda: form(pilot)["path"].endswith("/ old lathe"))
        await pilot.press("down", "down", "tab", "end", *"x", "ctrl+s")
        await until(pilot, lambda: said(pilot).startswith("! Efficiency:"))
        await pilot.press("backspace", "backspace", "backspace", "backspace", "backspace", *"72 %", "ctrl+s")
        await until(pilot, lambda: said(pilot).startswith("Saved: old lathe: efficiency."))
        assert on_record(demo_address, "old lathe").efficiency == 0.72
        await ask(pilot, "turn 80 to 76 mm in cast iron on the old lathe")
        await until(pilot, lambda: pilot.app.screen.AREA == "pick" and "rev/min" in seen(pilot))
