"""Claims in words, line by line: what commands print and screens show."""

from collections.abc import Iterable

from crib.desk.owed.claims import Claim, Claims, Line, Step
from crib.report.worth_words import value_lines
from crib.units.counts import many


def list_lines(found: Claims) -> Iterable[str]:
    """Put all claims into lines."""
    for one in found.claims:
        gaps = f", {one.gaps} GAPS" if one.gaps else ""
        yield f"{one.number:8} {one.state:12} {one.asked:>14} asked, {one.open:>14} open{gaps}"
        tools = ", ".join(one.tools) or "no line yet"
        yield f"         {one.claimant}, to {one.payer}, made {one.made_on}: {tools}"
        if one.next_due:
            yield f"         next: {one.next_due}"
    if found.suggested:
        yield "On no claim yet, and yours:"
        for tool in found.suggested:
            why = f": {tool.why}" if tool.why else ""
            yield f"  {tool.item.tag:6} {tool.item.label}, {tool.told} {tool.on}{why}"


def claim_lines(found: Claim) -> Iterable[str]:
    """Put one claim into lines."""
    yield _head(found)
    facts = (("relies on", found.clause), ("place of work", found.place_of_work), ("note", found.note))
    yield from (f"  {name}: {value}" for name, value in facts if value)
    yield from gap_lines(found)
    for line in found.lines:
        yield ""
        yield from _line_lines(line)
    yield ""
    yield from _foot(found)
    yield from deadline_lines(found)
    yield "Steps:"
    yield from (f"  {step_line(step)}" for step in found.steps)
    yield ""
    yield found.defer


def gap_lines(found: Claim) -> Iterable[str]:
    """Say loudly what a claim lacks, while something may come of it."""
    if found.all_gaps:
        yield f"GAPS ({len(found.all_gaps)}):"
        yield from (f"  {gap}" for gap in found.all_gaps)


def step_line(step: Step) -> str:
    """Put one step of a claim into a line."""
    of = f"line {step.line_no} " if step.line_no else ""
    to, by = f"to {step.to_whom}" if step.to_whom else "", f"written by {step.by}" if step.by else ""
    told = ", ".join(fact for fact in (step.amount, to, step.why, by) if fact)
    return f"{step.on}  {of}{step.state}" + (f": {told}" if told else "")


def told_lines(found: Claim) -> Iterable[str]:
    """Say where a claim stands after a step."""
    yield _head(found)
    yield from (line for one in found.lines for line in _where(one))
    yield from _foot(found)
    yield from gap_lines(found)
    yield f"crib claim {found.number} tells all of it."


def _head(found: Claim) -> str:
    state = found.state.upper()
    return f"Claim {found.number} of {found.claimant}, to {found.payer}, made {found.made_on}: {state}"


def _where(line: Line) -> Iterable[str]:
    """Say in two lines what a line is about, and where it stands."""
    many = f"{line.quantity} × " if line.quantity != 1 else ""
    tool = f"{line.item.tag}  {line.item.designation or line.item.label}"
    yield f"{line.line_no}. {many}{tool}: {line.event}, {line.on or 'NO DAY'}"
    answers = (
        line.agreed and f"{line.agreed} agreed",
        line.paid and f"{line.paid} paid",
        line.had and f"{line.had} had before",
        line.replaced_by and f"replaced by {', '.join(line.replaced_by)}",
    )
    told = "".join(f", {answer}" for answer in answers if answer)
    yield f"   {line.asked} asked, {line.basis}; {line.state}{told}"


def _line_lines(line: Line) -> Iterable[str]:
    yield from _where(line)
    facts = (
        line.what_happened,
        line.job and f"job {line.job}",
        line.machine and f"on the {line.machine}",
        line.seen_by and f"seen by {line.seen_by}",
        line.asked_by and f"asked for by {line.asked_by}",
        line.old_piece and f"old piece: {line.old_piece}",
        line.worked_out,
    )
    yield from (f"   {fact}" for fact in facts if fact)
    yield "   one piece is worth, side by side:"
    for value in line.values:
        yield from (f"   {text}" for text in value_lines(value))
    shown = ", ".join(f"no. {one.number} {one.kind} {one.on or ''}".strip() for one in line.proofs)
    yield f"   evidence: {shown or 'none'}"


def _foot(found: Claim) -> Iterable[str]:
    sums = found.sums
    by = "; ".join(f"{basis} {amount}" for basis, amount in sums.by_basis.items())
    yield f"Asked {sums.asked}" + (f" ({by})" if len(sums.by_basis) > 1 else "")
    refused = f", not agreed {sums.not_agreed}" if found.rest else ""
    yield f"Agreed {sums.agreed}{refused}, paid {sums.paid}, had before {sums.had}; open {sums.open}"
    yield f"({sums.rounding})"
    yield from found.allowances
    yield from found.rest


def deadline_lines(found: Claim) -> Iterable[str]:
    """Put the deadlines of a claim into lines."""
    if not found.deadlines:
        return
    yield f"Deadlines by the rules {found.rules!r}; each says from which day it was counted:"
    for one in found.deadlines:
        of = f" (line{'s' * (len(one.lines) > 1)} {', '.join(map(str, one.lines))})" if one.lines else ""
        if one.due is None or one.days_left is None:
            yield f"  NO DAY      {one.what}{of}: counted from {one.counted_from}, which is not on record"
            continue
        left = (
            f"{many(one.days_left, 'day')} left"
            if one.days_left >= 0
            else f"{many(-one.days_left, 'day')} ago"
        )
        yield f"  {one.due}  {one.what}{of}: {left}"
        way = f"{many(abs(one.days), 'day')} {'after' if one.days > 0 else 'before'} {one.start}"
        yield f"              {way}, {one.counted_from}"
    for source in dict.fromkeys(f"{one.source} ({one.as_of})" for one in found.deadlines):
        yield f"  rules: {source}"
