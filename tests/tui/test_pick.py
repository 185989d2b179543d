"""Pick: the cut as a form, the ranked answer, and where a cut in words leads."""

import json
from dataclasses import replace
from math import inf
from types import SimpleNamespace

from tui.asking import ask
from tui.fake_desk import FakeDesk, Gate, candidate, chain, logged, picked

from crib.cli.demo import WORKED
from crib.desk.picking.pick import pick, rank
from crib.desk.ringing.logbook import LogRequest
from crib.desk.starting.costs import CostsTold
from crib.desk.why.chain import explain
from crib.errors import BadQuantity
from crib.tui.app import DRAFT_NAME, CribApp
from crib.tui.screens.pick_lines import candidate_lines, chain_page, job_lines
from crib.tui.widgets.cut_form import CutForm

SIZE = (80, 24)
CUT = "bore 16 to 16 3/8 in grey iron on the boring mill"


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def form(pilot):
    return pilot.app.screen.query_one(CutForm).values()


def request(desk):
    return [asked for name, asked in desk.asked if name == "pick"][-1]


async def test_the_form_is_filled_and_run_by_keyboard_alone(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await pilot.press("f4", *"grey iron", "tab", *"boring mill", "tab", *"16 in", "tab", *"16 3/8")
        await pilot.press("up", "up", "up", "left", "left")
        await pilot.press("ctrl+r")
        await until(pilot, lambda: said(pilot).startswith("B01 with I01"))
        assert request(desk).material == "grey iron"
        assert request(desk).machine == "boring mill"
        assert (request(desk).from_, request(desk).to) == ("16 in", "16 3/8")
        assert request(desk).hand == "right"
        assert request(desk).scale is False


async def test_choices_are_taken_by_letter_by_arrow_and_by_mouse(address, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f4", "up", "b")
        assert form(pilot)["op"] == "bore"
        await pilot.press("right")
        assert form(pilot)["op"] == "turn"
        row = next(at for at, line in enumerate(seen(pilot).splitlines()) if "Interrupted" in line)
        column = seen(pilot).splitlines()[row].index(" yes", 50)
        await pilot.click(offset=(column + 1, row))
        assert form(pilot)["interrupted"] == "yes"


async def test_a_cut_in_words_fills_the_form_and_runs(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: said(pilot).startswith("B01 with I01"))
        assert (request(desk).op, request(desk).from_, request(desk).to) == ("bore", "16 in", "16 3/8")
        assert (request(desk).material, request(desk).machine) == ("grey iron", "boring mill")


async def test_half_a_cut_asks_for_the_rest(address, until):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await ask(pilot, "turn the shaft from 50 to 48")
        await until(pilot, lambda: said(pilot) == "Fill in what is still missing.")
        assert said(pilot, "why") == "Not understood: shaft."
        assert pilot.app.focused.id == "material"


async def test_what_an_earlier_cut_left_in_the_form_is_said_before_it_counts(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: said(pilot).startswith("B01"))
        await ask(pilot, "turn 50 to 48 in bronze")
        await until(pilot, lambda: said(pilot) == "Is this the cut?")
        assert "Kept from before: machine boring mill; F8 clears." in said(pilot, "why")
        assert len([name for name, _ in desk.asked if name == "pick"]) == 1
        await pilot.press("f8")
        assert not any(value for name, value in form(pilot).items() if name != "op")


async def test_a_choice_is_opened_and_left_again(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: said(pilot).startswith("B01"))
        await pilot.press("down", "enter")
        assert said(pilot).startswith("2. B02 S40V-SCLCL12 + I02")
        await until(pilot, lambda: "Holder       B02" in seen(pilot))
        await pilot.press("end")
        await until(pilot, lambda: "– handbook of cutting, table 3" in seen(pilot))
        await pilot.press("escape")
        assert said(pilot).startswith("B01 with I01")
        await pilot.press("escape")
        assert form(pilot)["material"] == "grey iron"


def test_a_choice_in_full_holds_every_part_of_the_answer():
    lines = [line.text for line in candidate_lines(candidate(1), picked(), "metric", 78)]
    for told in (
        "Holder       B01 S40V-SCLCL12. left hand. Ada Birch's. shop / drawer 2",
        "Insert       I01 CCGT120404F. Ada Birch's. shop / drawer 2. 7 edges left",
        "– clearance eats into the wall below 25 mm",
        "– The machine's manual comes first.",
        "Speed        63 rev/min, 80 m/min (262 ft/min)",
        "             from 60 m/min to 120 m/min, to start at 90 m/min: handbook of",
        "Feed         0.15 mm/rev (0.006 in/rev)",
        "Finish       Rz about 7 µm",
        "Stability    margin 2.4 (1.8 to 2.6 by the sources of the cutting force),",
        "             should hold; quiet at every speed up to 2.4 mm (0.0945 in) deep",
        "Passes: 2 from 406.4 mm (16 in), 32.5 min",
        "   pass    to                      deep, a side  feed         min",
        "1  rough   412.4 mm (16.2362 in)   3 mm          0.15 mm/rev  12.5",
        "2  finish  415.925 mm (16 3/8 in)  1.762 mm      0.1 mm/rev   20",
        "– takes 4 times as long as the quickest that holds",
        "– scale: the first cut must reach under the skin",
        "– sharp edge",
        "– set-up weak: 4000 N/mm",
        "– handbook of cutting, table 3",
    ):
        assert told in lines


async def test_force_bars_compare_the_choices(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: "▸  1  B01" in seen(pilot))
        bars = [line.count("█") for line in seen(pilot).splitlines() if "rev/min" in line and "█" in line]
        assert bars == [3, 6, 9]
        await until(pilot, lambda: "low pressure, should hold" in seen(pilot))
        await until(pilot, lambda: "will probably chatter" in seen(pilot))


def test_choices_that_are_not_listed_are_counted():
    lines = [line.text for line in job_lines(picked(total=45), "metric", 78)]
    assert "The first 3 of 45 are listed." in lines


async def test_the_chain_behind_a_choice_is_shown_and_scrolled(address, until, seen):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: said(pilot).startswith("B01"))
        await pilot.press("down", "w")
        await until(pilot, lambda: said(pilot) == "Why: S40V-SCLCL12 (B02)")
        assert [asked for name, asked in desk.asked if name == "why"] == [request(desk)]
        speed = "= π × 415.925 × 63 / 1000 = 82.32 m/min (270.1 ft/min) [1]"
        await until(pilot, lambda: speed in seen(pilot))
        await pilot.press("end")
        await until(pilot, lambda: "margin 1.2 … 3.6" in seen(pilot))
        await pilot.press("escape")
        assert said(pilot).startswith("B01")


async def test_the_chain_is_of_the_cut_that_was_answered(address, until, seen):
    """What was typed into the form since then is another cut."""
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: said(pilot).startswith("B01"))
        pilot.app.screen.query_one(CutForm).type_over({"material": "bronze"})
        await pilot.press("w")
        await until(pilot, lambda: said(pilot).startswith("Why: "))
        assert next(asked for name, asked in desk.asked if name == "why").material == "grey iron"


def test_a_chain_fits_a_narrow_page():
    for width in (38, 58, 78):
        assert all(len(line.text) <= width for line in chain_page(chain(1), "metric", width))


def test_a_real_chain_fits_the_page_too(demo_store):
    ranked = rank(demo_store, WORKED)
    for place in range(1, len(ranked.cuts) + 1, 7):
        page = chain_page(explain(ranked, place), "metric", 78)
        assert len(page) > 200
        assert all(len(line.text) <= 78 for line in page)


async def test_the_ladder_and_what_was_turned_down(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: said(pilot).startswith("B01"))
        await pilot.press("l")
        await until(pilot, lambda: "x1.6" in seen(pilot))
        await until(pilot, lambda: "I12 from drawer 4" in seen(pilot))
        await pilot.press("r")
        await until(pilot, lambda: "25 mm short of reach" in seen(pilot))
        await pilot.press("e")
        assert form(pilot)["from_"] == "16 in"


async def test_one_key_logs_how_the_marked_choice_cut(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: said(pilot).startswith("B01"))
        await pilot.press("down", "h")
        await until(pilot, lambda: "How did it go with B02" in seen(pilot))
        await pilot.press("escape")
        await until(pilot, lambda: said(pilot) == "Nothing was logged.")
        await pilot.press("h", "3")
        await until(pilot, lambda: said(pilot) == "Logged: chatter: boring with B02 + I02")
        assert said(pilot, "why") == "The next pick reckons with it."


async def test_all_results_have_their_key_on_a_narrow_screen(address, until, seen):
    async with CribApp(address, desk=FakeDesk()).run_test(size=(60, 20)) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: said(pilot).startswith("B01 with I01"))
        await pilot.press("h")
        await until(pilot, lambda: "How did it go" in seen(pilot))
        assert "1 clean   2 marks   3 rang   4 broke   5 worn   Esc leave" in seen(pilot)


async def test_minutes_and_the_pitch_heard_are_logged_with_it(address, until, seen):
    requests = []

    def log_cut(answer, place, request):
        requests.append(request)
        if request.heard == "loud":
            raise BadQuantity("'loud' is no pitch", "for example 190 Hz")
        return logged(answer, place, request)

    async with CribApp(address, desk=FakeDesk(log_cut=log_cut)).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: said(pilot).startswith("B01"))
        await pilot.press("h", "m", *"12", "enter", "p", *"loud", "enter", "3")
        await until(pilot, lambda: said(pilot) == "! 'loud' is no pitch.")
        await pilot.press("h")
        await until(pilot, lambda: "[12 " in seen(pilot) and "[loud " in seen(pilot))  # nothing typed is lost
        await pilot.press("p", "ctrl+u", *"190 Hz", "escape", "3")
        await until(pilot, lambda: said(pilot).startswith("Logged: chatter"))
        assert requests[-1] == LogRequest(result="chatter", minutes="12", heard="190 Hz")
        await pilot.press("h")
        await until(pilot, lambda: "How did it go" in seen(pilot) and "[12 " not in seen(pilot))


async def test_a_cut_may_be_told_by_its_kept_set_up_and_a_stray_slash_is_dropped(address, until):
    def choices():
        return SimpleNamespace(**{**vars(usual), "setups": ("weak", "pump liner", "pump liner at mouth")})

    desk = FakeDesk(choices=choices)
    usual = FakeDesk().choices()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await ask(pilot, "//bore the pump liner at the mouth")
        await until(pilot, lambda: said(pilot) == "Fill in what is still missing.")
        assert said(pilot, "why") == "Everything asked was understood."
        assert (form(pilot)["op"], form(pilot)["setup"]) == ("bore", "pump liner at mouth")
        assert pilot.app.question == "bore the pump liner at the mouth"
        await ask(pilot, "bore 120 to 121 mm in grey iron on the pump liner")  # not a machine
        await until(pilot, lambda: form(pilot)["to"] == "121 mm")
        assert (form(pilot)["setup"], form(pilot)["machine"]) == ("pump liner", "")
        await ask(pilot, "bore gauge 16")  # begins like a cut, and is none
        await until(pilot, lambda: desk.asked[-1] == ("find", "bore gauge 16"))


async def test_costs_and_overhang_are_asked_with_the_cut(address, until):
    desk = FakeDesk()
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await pilot.press("f4")
        told = {"machine_rate": "60 EUR/h", "edge_cost": "2.40 EUR", "change_time": "3 min"}
        pilot.app.screen.query_one(CutForm).type_over({"material": "iron", "overhang": "90 mm", **told})
        await pilot.press("ctrl+r")
        await until(pilot, lambda: said(pilot).startswith("B01 with I01"))
        assert request(desk).costs == CostsTold(**told)
        assert request(desk).overhang == "90 mm"


def test_what_pays_is_shown_where_costs_were_told(demo_store):
    told = CostsTold(machine_rate="60 EUR/h", edge_cost="2.40 EUR", change_time="3 min")
    for costs in (told, CostsTold()):
        answer = pick(demo_store, replace(WORKED, costs=costs))
        page = " ".join(line.text for line in candidate_lines(answer.candidates[0], answer, "metric", 78))
        assert ("What pays" in page) is costs.told


async def test_a_rejection_of_a_field_leaves_the_form_as_it_is(address, until):
    def pick(_request):
        raise BadQuantity("'16x' is no length", "for example 16 3/8 in")

    async with CribApp(address, desk=FakeDesk(pick=pick)).run_test(size=SIZE) as pilot:
        await pilot.press("f4", *"iron", "enter")
        await until(pilot, lambda: said(pilot) == "! '16x' is no length.")
        assert said(pilot, "why") == "For example 16 3/8 in."
        assert form(pilot)["material"] == "iron"


async def test_a_late_answer_to_an_earlier_cut_is_dropped(address, until):
    gate = Gate()

    def pick(request):
        if request.material == "slow":
            gate.wait()
            return picked(verdict="late")
        return picked(verdict="in time")

    async with CribApp(address, desk=FakeDesk(pick=pick)).run_test(size=SIZE) as pilot:
        await pilot.press("f4", *"slow", "enter")
        await pilot.press("ctrl+u", *"quick", "enter")
        await until(pilot, lambda: said(pilot) == "in time")
        gate.open()
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        assert said(pilot) == "in time"


async def test_nothing_on_hand_is_told_apart_from_an_empty_screen(address, until, seen):
    nothing = picked(candidates=(), ladder=(), verdict="Nothing on hand does it.", next_step="See why.")
    async with CribApp(address, desk=FakeDesk(pick=lambda _request: nothing)).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: said(pilot) == "Nothing on hand does it.")
        await until(pilot, lambda: "r rejected" in seen(pilot))
        assert "l ladder" not in seen(pilot)
        await pilot.press("enter", "l")
        assert said(pilot) == "Nothing on hand does it."


async def test_figures_that_are_not_known_are_said(address, until, seen):
    bare = candidate(1, insert=None, stability_margin=inf, b_lim_mm=None, Rz_um=None, minutes=None)
    answer = picked(candidates=(bare,))
    async with CribApp(address, desk=FakeDesk(pick=lambda _request: answer)).run_test(size=SIZE) as pilot:
        await ask(pilot, CUT)
        await until(pilot, lambda: "margin ∞" in seen(pilot))
        await pilot.press("enter")
        await until(pilot, lambda: "Finish       not known" in seen(pilot))


async def test_what_was_typed_survives_a_crash(address, until, tmp_path):
    draft = tmp_path / DRAFT_NAME
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f4", *"grey iron")
        await until(pilot, draft.exists)
        assert draft.stat().st_mode & 0o777 == 0o600
        assert json.loads(draft.read_text())["material"] == "grey iron"
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f4")
        assert form(pilot)["material"] == "grey iron"


async def test_what_was_typed_last_is_kept_on_leaving(address, tmp_path):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f4", *"iron", "ctrl+q")
    assert json.loads((tmp_path / DRAFT_NAME).read_text())["material"] == "iron"


async def test_a_damaged_draft_is_passed_over(address, tmp_path):
    (tmp_path / DRAFT_NAME).write_text("[1, 2")
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f4")
        assert form(pilot)["material"] == ""


async def test_nothing_typed_is_lost_when_screens_change(address):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f4", *"grey", "f2", "f3", "f4", *" iron")
        assert form(pilot)["material"] == "grey iron"


async def test_the_names_on_record_that_match_are_said(address, until):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await pilot.press("f4")
        await until(pilot, lambda: "grey iron 200, tin bronze" in said(pilot, "hint"))
        await pilot.press(*"bro")
        await until(pilot, lambda: said(pilot, "hint").endswith("On record: tin bronze. → takes the first."))
        await pilot.press("right")
        assert form(pilot)["material"] == "tin bronze"


async def test_a_point_of_a_set_up_is_found_with_its_colon(address, until):
    desk = FakeDesk(choices=lambda: SimpleNamespace(**{**usual, "setups": ("rigid", "pump liner at mouth")}))
    usual = vars(FakeDesk().choices())
    async with CribApp(address, desk=desk).run_test(size=SIZE) as pilot:
        await pilot.press("f4")
        pilot.app.screen.query_one("#setup").focus()
        await until(pilot, lambda: "rigid, pump liner at mouth" in said(pilot, "hint"))
        await pilot.press(*"pump liner:mou")
        await until(pilot, lambda: "On record: pump liner at mouth." in said(pilot, "hint"))


async def test_a_tools_hand_goes_into_the_form_unless_one_is_there(address, until):
    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        await until(pilot, lambda: said(pilot) == "Yes, 2 on site.")
        await pilot.press("escape", "p")
        await until(pilot, lambda: pilot.app.screen.AREA == "pick")
        assert form(pilot)["hand"] == "left"
        await pilot.press("f2", "down", "p")
        assert form(pilot)["hand"] == "left"


async def test_what_is_typed_ahead_of_a_screen_lands_on_it(address, until):
    from textual import events

    async with CribApp(address, desk=FakeDesk()).run_test(size=SIZE) as pilot:
        for key in ("f4", *"iron"):  # without a pause in between
            pilot.app.post_message(events.Key(key, key if len(key) == 1 else None))
        await until(pilot, lambda: pilot.app.screen.AREA == "pick" and form(pilot)["material"] == "iron")
