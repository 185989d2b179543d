"""The shop's own proven speeds on the invented workshop's store, by keyboard at 80 x 24."""

import pytest

from crib.desk.starting.proven import proven
from crib.errors import NothingFound
from crib.tui.app import CribApp
from crib.tui.widgets.row_list import RowList


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def area(pilot):
    return pilot.app.screen.AREA


async def test_a_speed_is_entered_listed_and_withdrawn(demo_address, until):
    async with CribApp(demo_address).run_test(size=(80, 24)) as pilot:
        await pilot.press("f7")
        await until(pilot, lambda: area(pilot) == "machines" and pilot.app.screen.machine is not None)
        await pilot.press("o")
        await until(pilot, lambda: area(pilot) == "proven" and said(pilot).startswith("1 proven"))
        await pilot.press("n")
        await until(pilot, lambda: area(pilot) == "proven_form" and pilot.app.focused is not None)
        await pilot.press(*"4140", "down", *"carbide", "down", "down", "down", *"95 m/min", "ctrl+s")
        await until(pilot, lambda: area(pilot) == "proven" and said(pilot).startswith("Recorded"))
        assert "The book for such a cut" in said(pilot, "why")
        rows = pilot.app.screen.query_one("#lines", RowList)
        await until(pilot, lambda: rows.count == 2)  # the workshop has one of a slide valve
        (newest,) = proven(demo_address, material="4140").proven
        assert (round(newest.vc_m_min), newest.tool, newest.op) == (95, "carbide", "turning")
        await pilot.press("end", "d")
        await until(pilot, lambda: area(pilot) == "withdraw")
        await pilot.press(*"chatter", "ctrl+s")
        await until(pilot, lambda: area(pilot) == "proven" and said(pilot).startswith("Withdrawn"))
        await pilot.press("escape")
        await until(pilot, lambda: area(pilot) == "machines")
    with pytest.raises(NothingFound):
        proven(demo_address, material="4140")
    (gone,) = proven(demo_address, material="4140", withdrawn=True).proven
    assert (gone.withdrawn_why, gone.id) == ("chatter", newest.id)


async def test_a_slip_is_said_and_nothing_typed_is_lost(demo_address, until):
    async with CribApp(demo_address).run_test(size=(60, 20)) as pilot:
        await pilot.press("f7")
        await until(pilot, lambda: area(pilot) == "machines" and pilot.app.screen.is_settled)
        await pilot.press("o")
        await until(pilot, lambda: area(pilot) == "proven" and pilot.app.screen.is_settled)
        await pilot.press("n")
        await until(pilot, lambda: area(pilot) == "proven_form" and pilot.app.focused is not None)
        await pilot.press(*"cheese", "down", *"carbide", "down", "down", "down", *"95", "ctrl+s")
        await until(pilot, lambda: "material called 'cheese'" in said(pilot))
        assert pilot.app.screen.form.values()["material"] == "cheese"
