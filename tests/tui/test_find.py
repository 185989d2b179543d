"""Find, on a desk that answers as told."""

from tui.asking import ask
from tui.fake_desk import FakeDesk, Gate, brought, found, item

from crib.errors import NotPossible, UnknownName
from crib.tui.app import CribApp
from crib.tui.widgets.row_list import RowList

SIZE = (80, 24)


def verdict(pilot):
    return pilot.app.screen.query_one("#verdict").said


def why(pilot):
    return pilot.app.screen.query_one("#why").said


def tags(pilot):
    rows = pilot.app.screen.query_one(RowList)
    return [rows._row(at).tag for at in range(rows.count)]


async def test_the_first_screen_lists_what_there_is(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: verdict(pilot) == "Yes, 2 on site.")
        assert desk.asked == [("find", "")]
        assert tags(pilot) == ["H01", "H02"]


async def test_a_question_is_answered_and_the_keys_go_to_the_list(address, until, seen):
    desk = FakeDesk(find=lambda question, **_: found([item(7)] if question else []))
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await ask(pilot, "left hand holder")
        await until(pilot, lambda: verdict(pilot) == "Yes, 1 on site.")
        assert pilot.app.focused.id == "found"
        await until(pilot, lambda: "cuts toward the tailstock" in seen(pilot))
        await until(pilot, lambda: "d decode" in seen(pilot))


async def test_what_was_understood_is_said(address, until):
    from crib.desk.asking.talk import Said

    said = (Said(field="hand", value="L", from_="left"),)
    desk = FakeDesk(find=lambda _question, **_: found([item(1)], understood=said))
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: why(pilot).startswith("Read as: hand L."))


async def test_a_question_can_be_typed_on_every_screen(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        for key in ("f2", "f3", "f4"):
            await pilot.press(key, "f6", *f"bar {key}", "enter")
            await until(pilot, lambda asked=("find", f"bar {key}"): asked in desk.asked)
            assert pilot.app.screen.AREA == "find"


async def test_a_stale_answer_is_dropped(address, until):
    gate = Gate()

    def find(question, **_):
        if question == "slow":
            gate.wait()
        return found([item(1, tag=question.upper() or "ALL")])

    async with CribApp(address, desk=FakeDesk(find=find)).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: verdict(pilot) != "")
        await ask(pilot, "slow")
        await ask(pilot, "quick")
        await until(pilot, lambda: tags(pilot) == ["QUICK"])
        gate.open()
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        assert tags(pilot) == ["QUICK"]


async def test_waiting_says_so_and_can_be_stopped(address, until):
    gate = Gate()

    def find(question, **_):
        if question:
            gate.wait()
        return found([item(1)])

    async with CribApp(address, desk=FakeDesk(find=find)).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: verdict(pilot) == "Yes, 1 on site.")
        await ask(pilot, "slow")
        await until(pilot, lambda: verdict(pilot) == "Looking …")
        await pilot.press("escape")
        assert verdict(pilot) == "Stopped waiting."
        gate.open()
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        assert verdict(pilot) == "Stopped waiting."


async def test_an_error_is_one_clear_line_with_its_hint(address, until, seen):
    def find(question, **_):
        raise UnknownName("person", "tonsin", ["Tamsin Arkwell"])

    async with CribApp(address, desk=FakeDesk(find=find)).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: verdict(pilot) == "! No person called 'tonsin'.")
        assert why(pilot) == "Did you mean Tamsin Arkwell?"
        assert "Traceback" not in seen(pilot)


async def test_a_missing_store_is_said_on_the_first_screen(address, until):
    async with CribApp(address).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: pilot.app.screen.AREA == "begin")
        await pilot.press("escape")
        await until(pilot, lambda: pilot.app.screen.AREA == "find")
        assert verdict(pilot).startswith("! ")
        assert "none.db" in verdict(pilot)
        assert why(pilot).startswith("F2, Find, begins one")
        await pilot.press("f5")
        await until(pilot, lambda: pilot.app.screen.AREA == "begin")


async def test_what_is_elsewhere_stands_below_a_heading(address, until, seen):
    away = item(3, on_site=False, site="Ada's home", place="Ada's home / bench")
    desk = FakeDesk(find=lambda _question, **_: found([], elsewhere=[away]))
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: "None here. Elsewhere:" in seen(pilot))
        assert pilot.app.screen.query_one(RowList).marked == away


async def test_bringing_in_asks_first_and_tells_what_was_recorded(address, until, seen):
    away = item(3, on_site=False, site="Ada's home", place="Ada's home / bench")
    here = item(3, place="shop / lathe")
    state = {"now": away}

    def bring_in(tags):
        state["now"] = here
        return brought(here)

    desk = FakeDesk(find=lambda _question, **_: found([state["now"]]), bring_in=bring_in)
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: tags(pilot) == ["H03"])
        await pilot.press("escape", "b")
        await until(pilot, lambda: "Bring H03 MWLNL2525M08 in from Ada's home / bench?" in seen(pilot))
        await pilot.press("n")
        await until(pilot, lambda: verdict(pilot) == "Not brought in.")
        assert ("bring_in", ["H03"]) not in desk.asked
        await pilot.press("b")
        await pilot.press("y")
        await until(pilot, lambda: verdict(pilot).startswith("Brought in: H03"))
        assert ("bring_in", ["H03"]) in desk.asked
        await until(pilot, lambda: pilot.app.screen.query_one(RowList).marked == here)
        assert "now in shop / lathe" in verdict(pilot)


async def test_bringing_in_is_not_offered_for_what_is_here_or_lent(address, until, seen):
    lent = item(2, on_site=False, held_by="Bo Fell")
    desk = FakeDesk(find=lambda _question, **_: found([item(1), lent]))
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: tags(pilot) == ["H01", "H02"])
        await pilot.press("escape", "b")
        assert "bring in" not in seen(pilot)
        await pilot.press("down", "b")
        assert "Bring" not in seen(pilot)


async def test_a_refusal_to_bring_in_is_shown(address, until):
    away = item(3, on_site=False, site="Ada's home")

    def bring_in(tags):
        raise NotPossible("H03 is on site already", "nothing was recorded")

    desk = FakeDesk(find=lambda _question, **_: found([away]), bring_in=bring_in)
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: tags(pilot) == ["H03"])
        await pilot.press("escape", "b", "enter")
        await until(pilot, lambda: verdict(pilot) == "! H03 is on site already.")
        assert why(pilot) == "Nothing was recorded."


async def test_everything_can_be_done_with_the_mouse(address, until, seen):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: tags(pilot) == ["H01", "H02"])
        rows = pilot.app.screen.query_one(RowList)
        await pilot.click(rows, offset=(10, 2))
        assert rows.marked.tag == "H02"
        await pilot.click("#keys", offset=(seen(pilot).splitlines()[-1].index("d decode"), 0))
        await until(pilot, lambda: verdict(pilot).startswith("Insert") or "Holder" in verdict(pilot))
        await pilot.click("#title", offset=(seen(pilot).splitlines()[0].index("Find"), 0))
        assert pilot.app.screen.AREA == "find"
        await pilot.click(pilot.app.screen.query_one(RowList), offset=(10, 2))
        await until(pilot, lambda: pilot.app.screen.AREA == "item")
        await pilot.click("#keys", offset=(seen(pilot).splitlines()[-1].index("Esc back"), 0))
        assert pilot.app.screen.AREA == "find"


async def test_a_tools_page_tells_facts_and_history(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: tags(pilot) == ["H01", "H02"])
        await pilot.press("escape", "enter")
        await until(pilot, lambda: "2026-03-01 08:00  added" in seen(pilot))
        await until(pilot, lambda: "entering angle        95°" in seen(pilot))
        await pilot.press("escape")
        assert pilot.app.screen.AREA == "find"


async def test_asking_from_a_tools_page_leads_back_to_the_list(address, until):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: tags(pilot) == ["H01", "H02"])
        await pilot.press("escape", "enter")
        await until(pilot, lambda: pilot.app.screen.AREA == "item")
        await ask(pilot, "long bar")
        await until(pilot, lambda: pilot.app.screen.AREA == "find")
        await until(pilot, lambda: ("find", "long bar") in pilot.app.desk.asked)


async def test_text_from_the_store_is_never_obeyed(address, until, seen):
    nasty = item(
        1, label="[bold red]x[/] \x1b[2Jgone \u202eback", designation=None, owner="[@click=app.quit]q[/]"
    )
    async with CribApp(address, desk=FakeDesk(find=lambda _q, **_: found([nasty]))).run_test(
        size=SIZE
    ) as pilot:
        await until(pilot, lambda: tags(pilot) == ["H01"])
        await pilot.pause()
        await until(pilot, lambda: "[bold red]x[/]" in seen(pilot))
        assert "\x1b" not in seen(pilot)
        assert "\u202e" not in seen(pilot)


async def test_what_is_pasted_is_made_harmless(address):
    from textual import events

    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f6")
        pilot.app.focused.post_message(events.Paste("bar\x1b[2J\x07"))
        await pilot.pause()
        assert pilot.app.focused.value == "bar\N{REPLACEMENT CHARACTER}[2J\N{REPLACEMENT CHARACTER}"


async def test_only_pages_in_sight_are_asked_for(address, until):
    desk = FakeDesk(find=lambda _q, limit, offset: found([item(offset + at) for at in range(limit)], 100_000))
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        rows = pilot.app.screen.query_one(RowList)
        await until(pilot, lambda: rows.count == 100_000)
        await pilot.press("escape", "end")
        await until(pilot, lambda: rows.marked is not None)
        assert rows.marked.id == 99_999
        assert len(desk.asked) == 2
