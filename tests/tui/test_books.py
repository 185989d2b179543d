"""The books on the invented workshop's store, wholly by keyboard at 80 x 24."""

from datetime import date

import pytest
from tui.asking import open_book

from crib.desk.doings.lending import lend
from crib.tui.app import CribApp
from crib.tui.widgets.row_list import RowList

SIZE = (80, 24)


@pytest.fixture(autouse=True)
def a_fixed_day(monkeypatch):
    """A day after all that the demo records, so that pictures don't age."""
    monkeypatch.setattr("crib.desk.dates.today", lambda: date(2026, 11, 27))


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def area(pilot):
    return pilot.app.screen.AREA


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (132, 43)])
async def test_the_list_of_books(demo_address, until, looks_like, size):
    async with CribApp(demo_address, "demo: a private copy").run_test(size=size) as pilot:
        await pilot.press("f9")
        await until(pilot, lambda: area(pilot) == "books" and said(pilot) != "")
        await looks_like(pilot, f"books_{size[0]}x{size[1]}")


async def test_what_is_out_and_marking_it_back(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await pilot.press("f9", "1")
        await until(pilot, lambda: area(pilot) == "out" and said(pilot) == "4 out, 2 overdue.")
        await looks_like(pilot, "out_80x24")
        await pilot.press("g")
        await until(pilot, lambda: said(pilot).startswith("1 of yours out"))
        await pilot.press("r", "f5")
        await until(pilot, lambda: said(pilot).startswith("Back: M04"))
        await pilot.press("ctrl+z")
        await until(pilot, lambda: said(pilot).startswith("Taken back: returned M04"))
        line = pilot.app.screen.line
        assert (line.item.tag, line.since) == ("M04", "2026-08-29"), "the loan is as old as it was"


async def test_a_doing_of_the_list_is_taken_back(demo_address, until):
    done = lend(demo_address, ["B05"], "Wilf Oddney", why="for the big bore")
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Take back")
        await until(pilot, lambda: area(pilot) == "recent" and said(pilot).startswith("One doing."))
        assert pilot.app.screen.marked.act == done.act
        await pilot.press("enter", "y")
        await until(pilot, lambda: said(pilot) == "Taken back: lent B05 S25R-SCLCL09.")
        await until(pilot, lambda: [one.stands for one in pilot.app.screen.found.doings] == [True, False])


async def test_lending_from_the_list_of_tools_and_back(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await pilot.press("f6", *"tag=B05", "enter")
        await until(pilot, lambda: pilot.app.screen.query_one(RowList).count == 1)
        await until(pilot, lambda: pilot.app.focused.id == "found")
        await pilot.press("l")
        await until(pilot, lambda: area(pilot) == "lend" and pilot.app.focused.id == "to")
        await pilot.press(*"wilf", "enter", *"4 dec", "enter")
        await looks_like(pilot, "lend_80x24")
        await pilot.press("f5")
        await until(
            pilot, lambda: area(pilot) == "find" and said(pilot).startswith("Lent to Wilf Oddney: B05")
        )
        assert pilot.app.screen.query_one(RowList).marked.due_back == "2026-12-04"
        await pilot.press("r")
        await until(pilot, lambda: area(pilot) == "give_back" and pilot.app.focused.id == "to")
        await pilot.press("up", "right", "right")
        await looks_like(pilot, "give_back_80x24")
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot).startswith("Back: B05"))
        assert pilot.app.screen.query_one(RowList).marked.condition == "worn"
        await pilot.press("ctrl+z")
        await until(pilot, lambda: said(pilot).startswith("Taken back: returned B05"))


async def test_taking_home_from_a_tools_page(demo_address, until):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await pilot.press("f6", *"tag=H02", "enter")
        await until(pilot, lambda: pilot.app.focused.id == "found")
        await pilot.press("enter")
        await until(pilot, lambda: area(pilot) == "item" and pilot.app.screen.is_settled)
        await pilot.press("t", "y")
        await until(
            pilot, lambda: said(pilot).startswith("Taken home: H02") and "Tamsin's home" in said(pilot)
        )
        await pilot.press("ctrl+z")
        await until(pilot, lambda: said(pilot).startswith("Taken back: taken home H02"))


async def test_what_was_typed_survives_a_crash_and_a_slip_loses_nothing(demo_address, until):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Lend")
        await pilot.press(*"B05", "enter", *"nobody", "enter", "f5")
        await until(pilot, lambda: said(pilot).startswith("! No person called 'nobody'"))
        assert pilot.app.screen.form.values()["tags"] == "B05"
        pilot.app.screen.keep()
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Lend")
        await until(pilot, lambda: area(pilot) == "lend" and pilot.app.screen.form.values()["to"] == "nobody")


async def test_bringing_in_with_who_was_told(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Bring in")
        await pilot.press(*"H11", "enter", *"foreman", "enter", "down", "right", "right")
        await looks_like(pilot, "bring_80x24")
        await pilot.press("ctrl+s")
        await until(pilot, lambda: said(pilot).startswith("Brought in: H11"))
        assert said(pilot, "why") == "foreman was told."
        await pilot.press("ctrl+z")
        await until(pilot, lambda: said(pilot).startswith("Taken back: brought in H11"))


async def test_taking_home_what_is_ticked(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Take home")
        await until(pilot, lambda: area(pilot) == "home" and said(pilot).startswith("12 of yours here"))
        await pilot.press("x", "down", "x")
        await until(pilot, lambda: said(pilot) == "2 ticked.")
        await looks_like(pilot, "home_80x24")
        await pilot.press("t", "y")
        await until(pilot, lambda: said(pilot).startswith("Taken home: B05 S25R-SCLCL09, H02"))
        await pilot.press("ctrl+z")
        await until(pilot, lambda: said(pilot).startswith("Taken back"))
        await pilot.press("a")
        await until(pilot, lambda: said(pilot) == "12 ticked.")


async def test_a_stocktake_typed_ahead_closed_and_taken_back(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Stocktake")
        await pilot.press(*"insert cabinet / drawer 4", "enter")
        await until(pilot, lambda: said(pilot).endswith("0 of 7 counted, none differs."))
        await pilot.press(*"10 22", "enter", "=", "enter", *"9 38", "enter", *"B05 1", "enter")
        await until(pilot, lambda: said(pilot).endswith("4 of 8 counted, 2 differ."))
        await pilot.press(*"9 x", "enter")
        await until(pilot, lambda: said(pilot) == "! 'x' is no number of edges.")
        assert pilot.app.screen.query_one("#counted").value == "9 x", "nothing typed is lost"
        assert pilot.app.screen.line.item.tag == "I35"
        await looks_like(pilot, "stocktake_80x24")
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, "Stocktake")
        await until(pilot, lambda: said(pilot).endswith("4 of 8 counted, 2 differ."))
        assert pilot.app.screen.line.item.tag == "I35", "it goes on where it was left"
        await pilot.press("ctrl+s", "y")
        await until(pilot, lambda: said(pilot).startswith("Closed the count of"))
        assert said(pilot, "why") == "NOT COUNTED, left as they are: 4 (I35, I33, I34, I41)."
        await pilot.press("ctrl+z")
        await until(pilot, lambda: said(pilot).startswith("Taken back: counted B05"))


async def test_using_edges_and_moving_part_of_a_box_from_the_list(demo_address, until, looks_like):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await pilot.press("f6", *"tag=I01", "enter")
        await until(pilot, lambda: pilot.app.focused.id == "found")
        await pilot.press("u")
        await until(pilot, lambda: area(pilot) == "use")
        await pilot.press(*"2", "f5")
        await until(pilot, lambda: said(pilot).startswith("! 2 pieces can't go") or area(pilot) == "find")
        await until(pilot, lambda: said(pilot).startswith("Used 1 edge of I01"))
        assert pilot.app.screen.query_one(RowList).marked.quantity == 8
        await pilot.press("ctrl+z")
        await until(pilot, lambda: said(pilot).startswith("Taken back: edge used I01"))
        await pilot.press("m")
        await until(pilot, lambda: area(pilot) == "move")
        await pilot.press(*"lathe cupboard", "down", *"3", "f5")
        await until(pilot, lambda: said(pilot).startswith("! I01 has 37 edges on 10 pieces"))
        await looks_like(pilot, "move_80x24")
        await pilot.press("down", *"12", "f5")
        await until(pilot, lambda: area(pilot) == "find" and said(pilot).startswith("Moved: 3 of I01"))


@pytest.mark.parametrize(
    ("book", "typed", "told"),
    [
        ("Send out", ["D08", "Wilf", "regrind", "friday"], "Sent out to Wilf Oddney: D08"),
        ("Worn or scrap", ["B12", "", "", "", "", "", "bent"], "! B12 is worn already."),
    ],
)
async def test_sending_out_and_another_state(demo_address, until, book, typed, told):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await open_book(pilot, book)
        for line in typed:
            await pilot.press(*line, "enter")
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot).startswith(told))


async def test_a_doing_said_in_the_ask_line(demo_address, until):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await pilot.press("f6", *"put down: Wilf took the depth mic until 4 dec", "enter")
        await until(
            pilot, lambda: area(pilot) == "lend" and pilot.app.screen.form.values()["back"] == "4 dec"
        )
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot).startswith("Lent to Wilf Oddney: M09"))
        await pilot.press("f6", *"M09 is back", "enter")
        await until(pilot, lambda: area(pilot) == "give_back")
        assert len(pilot.app.screen_stack) == 2, "the list of books, and one form"
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot).startswith("Back: M09"))
        await pilot.press("f6", *"return D09", "enter")
        await until(pilot, lambda: area(pilot) == "give_back" and pilot.app.focused.id == "to")
        await pilot.press("down", "down", "down", *"18.9", "f5")
        await until(pilot, lambda: said(pilot).startswith("Back: D09"))
        assert "diameter 18.9 mm (0.7441 in), before 19.05 mm" in said(pilot, "why")


@pytest.mark.parametrize(
    ("question", "leads_to"),
    [
        ("what do I need to order?", "restock"),
        ("what's out of my box", "out"),
        ("what can I take home tonight", "home"),
        ("what'd it cost to replace D15", "worth"),
        ("last day, settle up", "who_leaves"),
    ],
)
async def test_a_question_for_the_books_opens_the_book(demo_address, until, question, leads_to):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await pilot.press("f6", *question, "enter")
        await until(pilot, lambda: area(pilot) == leads_to)


async def test_books_leads_back_to_the_list_and_keeps_what_was_typed(demo_address, until):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await pilot.press("f9", "2")
        await until(pilot, lambda: area(pilot) == "lend" and pilot.app.focused.id == "tags")
        await pilot.press(*"B05", "f9")
        await until(pilot, lambda: area(pilot) == "books")
        assert len(pilot.app.screen_stack) == 1
        await pilot.press("2")
        await until(pilot, lambda: area(pilot) == "lend" and pilot.app.screen.form.values()["tags"] == "B05")
