"""What Pick shows, as plain lines: ranked choices, one choice in full, the ladder, what was turned down."""

from collections.abc import Sequence
from math import isfinite
from typing import TYPE_CHECKING

from crib.tui.widgets.text_page import Line
from crib.tui.wording import (
    bar,
    clean,
    fitted,
    hand_in_full,
    named,
    number,
    shown,
    shown_length,
    wrapped,
)
from crib.units.counts import many

if TYPE_CHECKING:
    from crib.desk.picking.pick import Candidate, PickAnswer, Rejected, ToolName
    from crib.desk.ringing.ladder import Change
    from crib.desk.why.chain import Chain

BAR_WIDTH = 10
LEAST_BAR, MOST_BAR = 4, 24
BESIDE_BAR, K_BESIDE = 53, 16  # what the other figures of a choice take, and K
LONG_BAR = 24
NAME_WIDTH = 13
WITH_K = 75  # columns of a row with room for K beside the margin
WITH_DEPTH = 100  # columns of a row with room for the depth too
WIDE_TABLE = 72  # columns of a page with room for sizes in both systems


def pair(holder: "ToolName", insert: "ToolName | None") -> str:
    """Give a holder and its insert by tag and code."""
    return named(holder) + (f" + {named(insert)}" if insert else "")


class CandidatePainter:
    """Draws a choice in two lines: the tools, then the cut with its tool pressure as a bar.

    Args:
        top_N: the pressure that fills a bar.
        system: "metric" or "inch".
    """

    lines = 2

    def __init__(self, top_N: float, system: str) -> None:
        self.top_N = top_N
        self.system = system

    def header(self, width: int) -> None:
        """The rows speak for themselves."""

    def paint(self, row: "Candidate", width: int) -> Sequence[str]:
        """Give the lines of one choice."""
        flags = [word for word, is_so in (("low pressure", row.low_pressure), ("tie", row.tie)) if is_so]
        right = ", ".join([*flags, row.holds])
        left = fitted(f"{row.rank:>2}  {pair(row.holder, row.insert)}", width - len(right) - 1)
        with_K = width >= WITH_K
        length = min(max(width - BESIDE_BAR - with_K * K_BESIDE, LEAST_BAR), MOST_BAR)
        cells = [
            fitted(f"{row.n_rev_min:.0f} rev/min", 12),
            fitted(own(row.f_mm, "feed", self.system), 13),
            bar(row.pressure_N, self.top_N, length),
            fitted(own(row.pressure_N, "force", self.system), 9),
            fitted(f"margin {_margin(row.stability_margin)}", 11),
        ]
        if with_K:
            cells.append(f"K {own(row.regenerative_stiffness_N_mm, 'stiffness', self.system)}")
        deep = f" {own(row.ap_mm, 'length', self.system)} deep" if width >= WITH_DEPTH else ""
        return [f"{left} {right}", "    " + " ".join(cells) + deep]


class ChangePainter:
    """Draws a rung of the ladder: its gain as a bar, then what to change.

    Args:
        top: the gain that fills a bar.
    """

    lines = 1

    def __init__(self, top: float) -> None:
        self.top = top

    def header(self, width: int) -> str:
        """Give the headings."""
        return fitted("Gain", BAR_WIDTH + 8) + "Change"

    def paint(self, row: "Change", width: int) -> Sequence[str]:
        """Give the line of one rung."""
        gain = f"{bar(row.gain, self.top, BAR_WIDTH)} {fitted('x' + number(row.gain, 2), 6)} "
        return [fitted(gain + clean(row.change), width)]


class RejectedPainter:
    """Draws a tool that was turned down: what, then why."""

    lines = 2

    def header(self, width: int) -> None:
        """The rows speak for themselves."""

    def paint(self, row: "Rejected", width: int) -> Sequence[str]:
        """Give the lines of one tool."""
        return [pair(row.holder, row.insert), "    " + clean(row.why)]


def own(value: float, kind: str, system: str) -> str:
    """Give a quantity in the user's own system only, where room is short."""
    from crib.units import Kind, show  # not needed for the first paint

    return show(value, Kind(kind), system, both=False)


def job_lines(answer: "PickAnswer", system: str, width: int) -> list[Line]:
    """Say under the ranked list what was asked and what to mind, worst first."""
    job = answer.job
    sizes = f"{shown_length(job.from_mm, system)} → {shown_length(job.to_mm, system)}"
    deep = f"passes up to {own(job.ap_mm, 'length', system)}"
    parts = (job.op, job.material, sizes, job.machine, job.setup, deep)
    told = ". ".join(clean(part) for part in parts if part)
    lines = [Line(text) for text in wrapped(told, width, mark="Cut: ")[:2]]
    if answer.total > len(answer.candidates):
        lines.append(Line(f"The first {len(answer.candidates)} of {answer.total} are listed."))
    lines += [Line(text) for learned in job.learned for text in wrapped(learned, width, mark="Learned: ")]
    for caution in answer.cautions[:1]:
        more = len(answer.cautions) - 1
        rest = f" {more} more: Enter." if more else ""
        lines += [Line(text) for text in wrapped(caution + rest, width, mark="Mind: ")]
    return lines


def candidate_lines(candidate: "Candidate", answer: "PickAnswer", system: str, width: int) -> list[Line]:
    """Lay out one choice in full for a width."""
    lines = _tools(candidate, answer.job.op, width)
    lines += _listed("Cautions", (*candidate.cautions, answer.defer), width)
    lines += _cut(candidate, system, width)
    lines += _passes(candidate, system, width)
    lines += _forces(candidate, system, width)
    lines += _effects(candidate, width)
    lines += _listed("Why this one", candidate.reasons, width)
    lines += _listed("What speaks against it", candidate.drawbacks, width)
    lines += _listed("Where the push is not to be trusted", candidate.doubts, width)
    lines += _listed("Notes", candidate.notes, width)
    lines += _listed("Assumed", candidate.assumed, width)
    lines += _listed("Sources", candidate.sources, width)
    return lines


def _tools(candidate: "Candidate", op: str, width: int) -> list[Line]:
    lines = []
    hand = hand_in_full("holder" if op == "turning" else "bar", candidate.holder.HAND)
    for name, tool in (("Holder", candidate.holder), ("Insert", candidate.insert)):
        if tool is None:
            continue
        edges = getattr(tool, "edges_left", None)
        parts = (
            named(tool),
            hand if name == "Holder" else "",
            f"{tool.owner}'s" if tool.owner else "owner not recorded",
            tool.place or "place not recorded",
            f"{many(edges, 'edge')} left" if edges is not None else "",
        )
        told = ". ".join(clean(part) for part in parts if part)
        lines += [Line(text) for text in wrapped(told, width, mark=fitted(name, NAME_WIDTH))]
    return lines


def _cut(candidate: "Candidate", system: str, width: int) -> list[Line]:
    speed = f"{candidate.n_rev_min:.0f} rev/min, {shown(candidate.vc_m_min, 'speed', system)}"
    facts = [
        ("Speed", speed),
        ("", _range(candidate, system)),
        *(("", line) for line in candidate.own_speeds),
        ("Feed", shown(candidate.f_mm, "feed", system)),
        ("Depth", shown_length(candidate.ap_mm, system)),
        (
            "Finish",
            f"Rz about {number(candidate.Rz_um, 2)} µm" if candidate.Rz_um is not None else "not known",
        ),
        ("Stability", _stability(candidate, system)),
    ]
    return _facts("The cut", facts, width)


def _effects(candidate: "Candidate", width: int) -> list[Line]:
    """Say what the push leaves on the size, whether the motor pulls it, how long an edge lasts, what pays."""
    facts = [
        *(("Size left" if not at else "", line) for at, line in enumerate(candidate.size.said)),
        ("Power", candidate.power.said),
        ("Edge life", candidate.life.said),
    ]
    if candidate.economy is not None:
        facts += [("What pays" if not at else "", line) for at, line in enumerate(candidate.economy.said)]
    return _facts("What follows", facts, width)


def _facts(title: str, facts: Sequence[tuple[str, str]], width: int) -> list[Line]:
    lines = [Line(""), Line(title, strong=True)]
    for name, value in facts:
        lines += [Line(text) for text in wrapped(value, width, mark=fitted(name, NAME_WIDTH))]
    return lines


def _range(candidate: "Candidate", system: str) -> str:
    """Say what range the speed was taken from, and whose it is."""
    found = candidate.vc_range_m_min
    low, start, high = (own(value, "speed", system) for value in (found.low, found.start, found.high))
    told = low if found.low == found.high else f"from {low} to {high}, to start at {start}"
    return f"{told}: {'; '.join(candidate.speed_sources)}"


def _stability(candidate: "Candidate", system: str) -> str:
    """Say how far it is from chatter, how sure that is, and how deep it holds."""
    low, high = _margin(candidate.stability_margin_low), _margin(candidate.stability_margin_high)
    band = f" ({low} to {high} by the sources of the cutting force)" if low != high else ""
    words = f"margin {_margin(candidate.stability_margin)}{band}, {candidate.holds}"
    if candidate.b_lim_mm is None:
        return f"{words}; quiet at every speed: {candidate.holds_to}"
    return f"{words}; quiet at every speed up to {shown_length(candidate.b_lim_mm, system)} deep"


def _margin(value: float) -> str:
    return number(value, 2) if isfinite(value) else "∞"


def _passes(candidate: "Candidate", system: str, width: int) -> list[Line]:
    """Set the passes out as a table; a narrow page has sizes in the user's own system only."""
    passes = candidate.passes
    start = shown_length(passes[0].from_mm, system) if passes else ""
    both = width >= WIDE_TABLE
    measured: dict[int, str] = {}
    rows = [("", "pass", "to", "deep, a side", "feed", "min")]
    for at, cut in enumerate(passes, 1):
        size = shown_length(cut.to_mm, system) if both else own(cut.to_mm, "length", system)
        deep = own(cut.ap_mm, "length", system)
        minutes = "" if cut.minutes is None else number(cut.minutes)
        rows.append((str(at), cut.kind, size, deep, own(cut.f_mm, "feed", system), minutes))
        measured |= {at: cut.measure} if cut.measure else {}
    title = f"Passes: {len(passes)} from {start}{_time(candidate.minutes)}"
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    table = ["  ".join(cell.ljust(wide) for cell, wide in zip(row, widths, strict=True)) for row in rows]
    lines = [Line(""), Line(title, strong=True)]
    for at, text in enumerate(table):
        lines.append(Line(text.rstrip()))
        if at in measured:
            lines += [Line(part) for part in wrapped(measured[at], width, indent="   ")]
    return lines


def _time(minutes: float | None) -> str:
    return "" if minutes is None else f", {number(minutes)} min"


def _forces(candidate: "Candidate", system: str, width: int) -> list[Line]:
    top = max(candidate.Fc_N, candidate.Ff_N, candidate.Fp_N, candidate.pressure_N, 1e-9)
    drawn = (
        ("cutting", candidate.Fc_N),
        ("feed", candidate.Ff_N),
        ("passive", candidate.Fp_N),
        ("tool pressure", candidate.pressure_N),
    )
    lines = [Line(""), Line("Forces", strong=True)]
    for name, value in drawn:
        told = f"{fitted(name, NAME_WIDTH + 1)}{bar(value, top, LONG_BAR)} {shown(value, 'force', system)}"
        lines.append(Line(told))
    share, low, high = (
        number(value, 2)
        for value in (candidate.pressure_ratio, candidate.pressure_low, candidate.pressure_high)
    )
    ratio = f"Tool pressure is {share} of a plain reference insert's in the same cut ({low} to {high})"
    stiff = shown(candidate.regenerative_stiffness_N_mm, "stiffness", system)
    told = f"{ratio}. To waves it is as stiff as {stiff} (K): that, not the push, decides about chatter."
    if candidate.tied_with:
        told += f" In push it is tied with {ranks(candidate.tied_with)}."
    return [*lines, *(Line(text) for text in wrapped(told, width))]


def _listed(title: str, entries: Sequence[str], width: int) -> list[Line]:
    if not entries:
        return []
    lines = [Line(""), Line(title, strong=True)]
    for entry in entries:
        lines += [Line(text) for text in wrapped(entry, width, mark="– ")]
    return lines


def chain_page(chain: "Chain", system: str, width: int) -> list[Line]:
    """Lay out the chain behind a choice: tables as they are, all else wrapped under its own indent."""
    from crib.desk.why.lines import chain_lines  # not needed for the first paint

    lines = []
    for text in chain_lines(chain, system, width):
        indent = " " * (len(text) - len(text.lstrip()))
        if not text or len(text) <= width:
            lines.append(Line(clean(text), strong=bool(text) and not indent))
            continue
        mark, _, rest = text.strip().partition(" ")
        if not mark.strip("[]").isdigit():
            mark, rest = "", text.strip()
        lines += [Line(part) for part in wrapped(rest, width, indent=indent, mark=mark and mark + " ")]
    return lines


def ranks(places: Sequence[int]) -> str:
    """Put ranks into words."""
    from crib.desk.picking.answer import ranks as in_words  # not needed for the first paint

    return in_words(places)


def change_lines(change: "Change | None", width: int) -> list[Line]:
    """Say a rung of the ladder in full."""
    if change is None:
        return []
    return [Line(text) for text in (*wrapped(change.change, width), *wrapped(change.how, width))]


def rejected_lines(rejected: "Rejected | None", width: int) -> list[Line]:
    """Say a tool that was turned down, and why, in full."""
    if rejected is None:
        return []
    tools = pair(rejected.holder, rejected.insert)
    return [Line(text) for text in (*wrapped(tools, width), *wrapped(rejected.why, width))]
