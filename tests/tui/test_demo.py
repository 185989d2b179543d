"""Whole jobs on the invented workshop's store: ask, choose, see the right answer."""

from tui.asking import ask

from crib.tui.app import CribApp
from crib.tui.widgets.row_list import RowList

SIZE = (80, 24)


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def tags(pilot):
    rows = pilot.app.screen.query_one(RowList)
    return {rows._row(at).tag for at in range(rows.count)}


async def test_the_first_screen_lists_the_workshop(demo_address, until):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: said(pilot).endswith("on site."))
        assert pilot.app.screen.query_one(RowList).count > 100


async def test_which_left_hand_holder_is_on_site(demo_address, until, seen):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await ask(pilot, "left hand holder for a WNMG 080408 here")
        await until(pilot, lambda: said(pilot).startswith("Yes, "))
        # demo_data/holders.csv: H03 for the same insert is at Tobin's home, H04 is lent to Wilf
        assert tags(pilot) == {"H01", "H02"}
        await until(pilot, lambda: "cuts toward the tailstock" in seen(pilot))
        assert "Read as: hand L" in said(pilot, "why")


async def test_a_tool_brought_from_home_is_recorded(demo_address, until, seen):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await ask(pilot, "tag=H11")
        await until(pilot, lambda: tags(pilot) == {"H11"})
        await until(pilot, lambda: "b bring in" in seen(pilot))
        await pilot.press("b", "y")
        await until(pilot, lambda: said(pilot).startswith("Brought in: H11 SCLCL2525M09"))
        await until(pilot, lambda: pilot.app.screen.query_one(RowList).marked.on_site)
        assert "b bring in" not in seen(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: "brought in" in seen(pilot))


async def test_an_insert_from_a_box_without_a_label(demo_address, until, seen):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await ask(pilot, "what is a CCMT 32.51?")
        await until(pilot, lambda: said(pilot) == "Insert CCMT32.51, inch code. Metric code: CCMT09T304.")
        await until(pilot, lambda: "9.525 mm (3/8 in)" in seen(pilot))
        await pilot.press("f")
        await until(pilot, lambda: "H19" in tags(pilot))
        assert "H01" not in tags(pilot)


async def test_an_insert_for_a_cut_that_rings(demo_address, until, seen):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await ask(pilot, "bore 16 to 16 3/8 in grey iron on the boring mill, weak set-up, 9 in long")
        await until(pilot, lambda: pilot.app.screen.AREA == "pick" and pilot.app.screen.view == "ranked")
        answer = pilot.app.screen._answer
        best = answer.candidates[0]
        assert answer.job.from_mm == 406.4
        assert answer.job.to_mm == 415.925
        assert best.holder.tag in said(pilot)
        await until(pilot, lambda: f"{best.n_rev_min:.0f} rev/min" in seen(pilot))
        await until(pilot, lambda: f"▸  1  {best.holder.tag} {best.holder.designation}" in seen(pilot))
        await pilot.press("enter")
        await until(pilot, lambda: "No speed limit is on record for this facing head" in seen(pilot))
        await pilot.press("l")
        await until(pilot, lambda: answer.ladder[0].change in seen(pilot))
        await pilot.press("r")
        await until(pilot, lambda: said(pilot) == f"{len(answer.rejected)} turned down for this cut.")


async def test_bad_input_is_one_clear_line(demo_address, until, seen):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        for question in (
            "turn 50 to 48 in unobtainium",
            "owner=nobody",
            "turn 50 to 48 in steel on the moon",
        ):
            await ask(pilot, question)
            await until(pilot, lambda: said(pilot).startswith("! ") and said(pilot, "why") != "")
            assert "Traceback" not in seen(pilot)
            await pilot.press("f2")
            await ask(pilot, "tag=H01")
            await until(pilot, lambda: pilot.app.screen.AREA == "find" and not said(pilot).startswith("! "))
            await pilot.press("f4", "f8", "f2")


async def test_the_names_on_record_are_offered(demo_address, until):
    async with CribApp(demo_address).run_test(size=SIZE) as pilot:
        await pilot.press("f4", "tab", *"old")
        await until(pilot, lambda: "On record: old lathe." in said(pilot, "hint"))
