"""Where a cut on a set-up chatters: a form, the chart, what a slow speed does, which point rings."""

import os
from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.widgets import ContentSwitcher, Input

from crib.tui.screens.base import bindings
from crib.tui.screens.book import BookScreen
from crib.tui.screens.views import ViewsScreen
from crib.tui.widgets.plain_form import Entry, PlainForm
from crib.tui.widgets.text_page import Line, TextPage
from crib.tui.wording import shown, wrapped

if TYPE_CHECKING:
    from crib.desk.ringing.chatter import ChatterAnswer

FORM, PAGE = "form", "chart"
CHART_ROWS = 12
RUN_HINT = "Enter goes on; Ctrl+R or F5 draws the chart; Esc leaves."
PAGE_HINT = "e changes the cut; Esc goes back."
FIELDS = (
    Entry(name="setup", label="Set-up", hint="A kept one, NAME or NAME:point; or rigid, fair, weak, flimsy."),
    Entry(name="material", label="Material", hint="What is cut: 4140, A36, grey cast iron …"),
    Entry(name="feed", label="Feed", hint="Per revolution: 0.2, 0.008 in."),
    Entry(name="ap", label="Depth", hint="On the side; empty: only the limit is told."),
    Entry(
        name="tool",
        label="Tool",
        hint="Tag of a holder, bar or bit; empty: a plain insert, 95°, 0.8 nose.",
    ),
    Entry(name="insert", label="Insert", hint="Its tag; empty: the first that fits."),
    Entry(name="machine", label="Machine", hint="Whose speeds count; empty: any."),
    Entry(name="n", label="Speed", hint="Spindle speed it runs at, in rev/min."),
    Entry(
        name="diameter",
        label="Diameter",
        hint="Where it cuts: with the speed it tells what rubbing does.",
    ),
    Entry(name="heard", label="Heard", hint="Pitch of the chatter, 92 Hz: which point rings?"),
)


class ChatterScreen(ViewsScreen, BookScreen):
    """A cut on a set-up, and the chart of it.

    Args:
        setup: what is known of it beforehand.
        machine: that it stands on.
    """

    AREA = "chatter"
    TITLE_HERE = "Machines"
    BINDINGS = bindings("chatter")
    TAKES_KEYS = {FORM: "#form", PAGE: f"#{PAGE}"}

    def __init__(self, setup: str = "", machine: str = "") -> None:
        super().__init__()
        self._given = {"setup": setup, "machine": machine}

    def body(self) -> Iterator[Any]:
        """Lay out the form, and the page that takes its place."""
        with ContentSwitcher(initial=FORM, id="views"):
            yield PlainForm(FIELDS)
            yield TextPage(id=PAGE)

    def on_mount(self) -> None:
        """Fill in what is known."""
        self.form.put(self._given)
        self.form.go("material" if self._given["setup"] else "setup")
        self.say("Which cut on this set-up?", "What is left empty is assumed, and said so.", RUN_HINT)

    @property
    def form(self) -> PlainForm:
        """The fields."""
        return self.query_one(PlainForm)

    def can(self, name: str) -> bool:
        """Offer only what the view allows."""
        view = self.view
        return view == PAGE if name == "edit" else view == FORM if name == "run" else super().can(name)

    def step_back(self) -> None:
        """From the chart to the form, and from there to the set-ups."""
        if self.view == PAGE and not self.query_one("#ask").has_focus:
            self.action_edit()
        else:
            super().step_back()

    def action_edit(self) -> None:
        """Go back to the form; what was typed is still there."""
        self.turn_to(FORM)
        self.query_one("#next").say(RUN_HINT)  # type: ignore[attr-defined]

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter goes on to the next field, and runs from the last one."""
        if event.input.id != "ask":
            event.stop()
            self.form.action_next()

    def on_plain_form_finished(self) -> None:
        """Run from the last field."""
        self.action_run()

    def action_run(self) -> None:
        """Ask where it chatters."""
        address, values = self.crib.address, self.form.values()

        def ask() -> "ChatterAnswer":
            from crib.desk.ringing.chatter import ChatterRequest, chatter_limit

            return chatter_limit(address, ChatterRequest(**values))

        self.call("read", ask, self._show, lambda error: self.say_error(error, RUN_HINT))

    def _show(self, found: "ChatterAnswer") -> None:
        self.query_one(f"#{PAGE}", TextPage).show_lines(partial(answer_lines, found))
        self.say(found.verdict, found.detail, f"{found.next_step} {PAGE_HINT}")
        self.turn_to(PAGE)


def answer_lines(found: "ChatterAnswer", width: int) -> list[Line]:
    """Lay out the chart, and what stands behind it."""
    from crib.report.chart import bar_lines, chart_lines, force_bars, stability_chart
    from crib.report.dots import glyphs_for

    glyphs, system = glyphs_for("utf-8", os.environ.get("TERM")), found.units
    lines = [Line(row) for row in chart_lines(stability_chart(found), width, CHART_ROWS, glyphs)]

    def add(text: str) -> None:
        lines.extend(Line(part) for part in wrapped(text, width))

    add(f"{found.lobes_why[0].upper()}{found.lobes_why[1:]}.")
    for one in found.useful_lobes[:4]:
        deep = "any depth" if one.b_lim_mm is None else shown(one.b_lim_mm, "length", system)
        add(f"  {one.n_rev_min:.4g} rev/min holds to {deep}: {one.gain:.2g} times")
    add(f"Slow: {found.slow.why}.")
    for mode in found.modes:
        apart = shown(float(f"{mode.marks_mm:.3g}"), "length", system) if mode.marks_mm else ""
        marks = f", marks {apart} apart" if apart else ""
        off = f"; heard {100 * mode.off:+.0f} %" if mode.off is not None else ""
        sign = "→" if mode.fits else " "
        add(f"{sign} {mode.point or 'It'} rings at {mode.chatter_hz:.4g} Hz{marks}{off}")
    if found.forces is not None:
        lines.append(Line(f"Forces at {shown(found.ap_mm, 'length', system)}", strong=True))
        lines += [Line(row) for row in bar_lines(force_bars(found), width, glyphs, system)]
    for head, told in (
        ("Learned", found.learned),
        ("Doubt", found.doubts),
        ("Assumed", found.assumed),
        ("Source", found.sources),
    ):
        for text in told:
            add(f"{head}: {text}")
    return lines
