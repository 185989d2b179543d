"""Pick: which tool on hand for this cut, and how to start it?"""

from collections.abc import Iterator, Mapping
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.containers import Horizontal, Vertical
from textual.timer import Timer
from textual.widgets import ContentSwitcher, Input

from crib.tui.asked import Cut
from crib.tui.screens import pick_lines
from crib.tui.screens.base import bindings
from crib.tui.screens.how_it_went import HowItWentScreen, Went
from crib.tui.screens.views import ViewsScreen
from crib.tui.widgets.cut_form import COSTS, LABELS, NEEDED, CutForm
from crib.tui.widgets.row_list import RowList
from crib.tui.widgets.text_page import Line, TextPage, TextPanel
from crib.tui.wording import HANDS

if TYPE_CHECKING:
    from crib.desk.picking.pick import Candidate, Choices, PickAnswer, PickRequest
    from crib.desk.ringing.logbook import Logged
    from crib.desk.why.chain import Chain

DRAFT_PAUSE_s = 0.5
FORM, RANKED, DETAIL, LADDER, REJECTED, CHAIN = "form", "ranked", "detail", "ladder", "rejected", "chain"
RUN_HINT = "Enter or Ctrl+R ranks the tools on hand."
BACK = "Esc goes back to the ranked list."


class PickScreen(ViewsScreen):
    """The cut as a form, then the ranked choice."""

    AREA = "pick"
    TITLE_HERE = "Pick"
    BINDINGS = bindings("pick")
    TAKES_KEYS = {
        FORM: "#form",
        RANKED: "#candidates",
        DETAIL: "#detail",
        LADDER: "#rungs",
        REJECTED: "#turned-down",
        CHAIN: "#chain",
    }
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]

    def __init__(self) -> None:
        super().__init__()
        self._answer: PickAnswer | None = None
        self._asked: Mapping[str, str] = {}  # the cut of that answer: the form may have been changed since
        self._pause: Timer | None = None
        self._went = Went()  # what was typed of a cut and could not be read

    def body(self) -> Iterator[Any]:
        """Lay out the form and what takes its place."""
        plain = pick_lines.CandidatePainter(1.0, "metric")
        with ContentSwitcher(initial=FORM, id="views"):
            yield CutForm()
            with Horizontal(id=RANKED):
                with Vertical(id="list"):
                    yield RowList(plain, id="candidates", empty="No tool on hand does it; r tells why.")
                    yield TextPanel(id="job")
                yield TextPage(id="side")
            yield TextPage(id=DETAIL)
            yield TextPage(id=CHAIN)
            with Vertical(id=LADDER):
                yield RowList(pick_lines.ChangePainter(1.0), id="rungs", empty="No change on hand helps.")
                yield TextPanel(id="rung")
            with Vertical(id=REJECTED):
                yield RowList(
                    pick_lines.RejectedPainter(), id="turned-down", empty="Nothing was turned down."
                )
                yield TextPanel(id="why-not")

    def on_mount(self) -> None:
        """Show what was typed before a crash."""
        self.form.type_over(self.crib.draft.load())
        self._say_form()
        self.form.focus_first_empty()

    def on_screen_resume(self) -> None:
        """Fetch the names a cut may use, and the units: other screens may have changed them."""
        self.call("choices", self.crib.desk.choices, self._know, lambda _error: None)

    def _know(self, choices: "Choices") -> None:
        self.crib.units = choices.units
        self.form.know(
            {
                "material": choices.materials,
                "machine": choices.machines,
                "setup": choices.setups,
                "gives": choices.gives,
                "site": choices.sites,
            }
        )

    # -- views -----------------------------------------------------------------------------------------

    @property
    def form(self) -> CutForm:
        """The fields of the cut."""
        return self.query_one(CutForm)

    def can(self, name: str) -> bool:
        """Offer only what the view allows."""
        answer, view = self._answer, self.view
        match name:
            case "run" | "clear":
                return view == FORM
            case "edit":
                return view != FORM
            case "open":
                return view == RANKED and self.candidate is not None
            case "ladder":
                return answer is not None and view not in (FORM, LADDER) and bool(answer.ladder)
            case "rejected":
                return answer is not None and view not in (FORM, REJECTED) and bool(answer.rejected)
            case "why" | "how_it_went":
                return view in (RANKED, DETAIL) and self.candidate is not None
            case _:
                return super().can(name)

    def step_back(self) -> None:
        """Out of the Ask line, then from detail, ladder or rejected to the list, then to the form."""
        ask_has_keys = self.query_one("#ask").has_focus
        if ask_has_keys or self.view == FORM:
            self.focus_body()
        elif self.view == RANKED:
            self.action_edit()
        else:
            self._say_ranked()

    def _say_form(self) -> None:
        self.say(
            "Say what the cut is.",
            "Material, from and to are needed; what is left empty is assumed, and the answer says so.",
            RUN_HINT,
        )

    # -- the form --------------------------------------------------------------------------------------

    def take(self, cut: Cut) -> None:
        """Fill in a cut that was asked for in words, and pick if it says enough by itself."""
        before = self.form.values()
        kept = [
            f"{LABELS[name].lower()} {value}" for name, value in before.items() if is_kept(name, value, cut)
        ]
        self.form.type_over(cut.fields)
        self.turn_to(FORM)
        values = self.form.values()
        unused = f"Not understood: {cut.unused}." if cut.unused else "Everything asked was understood."
        if not all(values[name].strip() for name in NEEDED):
            self.form.focus_first_empty()
            self.say("Fill in what is still missing.", unused, RUN_HINT)
        elif kept or cut.unused:
            told = f" Kept from before: {', '.join(kept)}; F8 clears." if kept else ""
            self.say("Is this the cut?", unused + told, RUN_HINT)
        else:
            self.action_run()

    def start(self, hand: str | None) -> None:
        """Open the form; a tool's hand goes in if none was chosen."""
        if hand in HANDS and not self.form.values()["hand"]:
            self.form.type_over({"hand": HANDS[hand]})
        self._say_form()
        self.turn_to(FORM)

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter in any field picks."""
        if event.input.id != "ask":
            event.stop()
            self.action_run()

    def action_clear(self) -> None:
        """Empty the form."""
        self.form.clear()
        self._say_form()
        self.form.focus_first_empty()

    def action_edit(self) -> None:
        """Go back to the form."""
        self._say_form()
        self.turn_to(FORM)

    def on_form_changed(self) -> None:
        """Keep a draft of what is typed, so that a crash loses nothing."""
        if self._pause is not None:
            self._pause.stop()
        self._pause = self.set_timer(DRAFT_PAUSE_s, self.save_draft)

    def save_draft(self) -> None:
        """Write the draft now."""
        values, draft = self.form.values(), self.crib.draft
        self.run_worker(partial(draft.save, values), thread=True, group="draft")

    # -- the answer ------------------------------------------------------------------------------------

    def action_run(self) -> None:
        """Rank the tools on hand for the cut."""
        values, desk = self.form.values(), self.crib.desk
        self.call("pick", lambda: desk.pick(request_of(values)), partial(self._show, values))

    def _show(self, asked: Mapping[str, str], answer: "PickAnswer") -> None:
        self._answer, self._asked = answer, asked
        system = self.crib.units = answer.job.units
        top_N = max((candidate.pressure_N for candidate in answer.candidates), default=1.0)
        rows = self.query_one("#candidates", RowList)
        rows.painter = pick_lines.CandidatePainter(top_N, system)
        rows.show_rows(answer.candidates)
        rungs = self.query_one("#rungs", RowList)
        rungs.painter = pick_lines.ChangePainter(max((rung.gain for rung in answer.ladder), default=1.0))
        rungs.show_rows(answer.ladder)
        self.query_one("#turned-down", RowList).show_rows(answer.rejected)
        self.query_one("#job", TextPanel).show_lines(partial(pick_lines.job_lines, answer, system))
        self._say_ranked()

    def _say_ranked(self) -> None:
        if self._answer is not None:
            self.say(self._answer.verdict, self._answer.detail, self._answer.next_step)
            self.turn_to(RANKED)

    @property
    def candidate(self) -> "Candidate | None":
        """The marked choice."""
        marked: Candidate | None = self.query_one("#candidates", RowList).marked
        return marked

    def on_row_list_marked(self, event: RowList.Marked) -> None:
        """Say the marked row in full where there is room for it."""
        marked = event.rows.marked
        match event.rows.id:
            case "rungs":
                self.query_one("#rung", TextPanel).show_lines(partial(pick_lines.change_lines, marked))
            case "turned-down":
                self.query_one("#why-not", TextPanel).show_lines(partial(pick_lines.rejected_lines, marked))
            case "candidates":
                self.query_one("#side", TextPage).show_lines(self._candidate_lines)
        self.refresh_keys()

    def _candidate_lines(self, width: int) -> list[Line]:
        if self._answer is None or self.candidate is None:
            return []
        return pick_lines.candidate_lines(self.candidate, self._answer, self.crib.units, width)

    def on_row_list_opened(self) -> None:
        """Open a choice that was clicked again."""
        if self.can("open"):
            self.action_open()

    def action_open(self) -> None:
        """Show the marked choice in full."""
        candidate = self.candidate
        if candidate is not None and self._answer is not None:
            self.say(
                f"{candidate.rank}. {pick_lines.pair(candidate.holder, candidate.insert)}",
                self._answer.detail,
                BACK,
            )
            self.query_one("#detail", TextPage).show_lines(self._candidate_lines)
            self.turn_to(DETAIL)

    def action_why(self) -> None:
        """Show how every figure of the marked choice comes about."""
        candidate, values, desk = self.candidate, self._asked, self.crib.desk
        if candidate is not None:
            place = candidate.rank
            self.call("why", lambda: desk.why(request_of(values), place), self._show_chain)

    def _show_chain(self, chain: "Chain") -> None:
        self.query_one("#chain", TextPage).show_lines(partial(pick_lines.chain_page, chain, self.crib.units))
        self.say(
            f"Why: {chain.of}", "Each step can be checked by hand; what would change it stands last.", BACK
        )
        self.turn_to(CHAIN)

    def action_how_it_went(self) -> None:
        """Ask how the marked choice cut, and log it."""
        candidate, answer = self.candidate, self._answer
        if candidate is not None and answer is not None:
            tools = pick_lines.pair(candidate.holder, candidate.insert)
            self.app.push_screen(
                HowItWentScreen(tools, self._went), partial(self._log, answer, candidate.rank)
            )

    def _log(self, answer: "PickAnswer", place: int, went: Went | None) -> None:
        desk, self._went = self.crib.desk, went or Went()
        if went is None or not went.result:
            self.say("Nothing was logged.", answer.verdict)
            return

        def write() -> "Logged":
            from crib.desk.ringing.logbook import LogRequest

            request = LogRequest(result=went.result, minutes=went.minutes, heard=went.heard)
            return desk.log_cut(answer, place, request)

        self.call("write", write, self._logged)

    def _logged(self, logged: "Logged") -> None:
        self._went = Went()
        self.say(f"Logged: {logged.cut.said}", " ".join((logged.next_step, *logged.cautions[:1])))

    def action_ladder(self) -> None:
        """Show what to change if it chatters."""
        self.say("What to change, largest gain first.", "Each change was recomputed for this cut.", BACK)
        self.turn_to(LADDER)

    def action_rejected(self) -> None:
        """Show what was turned down, and why."""
        if self._answer is not None:
            many = len(self._answer.rejected)
            self.say(
                f"{many} turned down for this cut.", "The first thing that ruled each out is named.", BACK
            )
            self.turn_to(REJECTED)


def is_kept(name: str, value: str, cut: Cut) -> bool:
    """Tell whether a field that was filled before still counts in a cut asked for in words."""
    return bool(value.strip()) and name != "op" and name not in cut.fields


def request_of(values: Mapping[str, str]) -> "PickRequest":
    """Build the desk's request from what stands in the form."""
    # in the worker: the first paint waits for none of the desk
    from crib.desk.picking.pick import PickRequest
    from crib.desk.starting.costs import CostsTold

    flags = [values["skin"].replace(" ", "_"), "interrupted" * bool(values["interrupted"])]
    apart = ("skin", "interrupted", *COSTS)
    texts = {name: value for name, value in values.items() if name not in apart}
    told: dict[str, Any] = {**texts, **{name: True for name in flags if name}}
    return PickRequest(**told, costs=CostsTold(**{name: values.get(name, "").strip() for name in COSTS}))
