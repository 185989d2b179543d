"""What speeds does this machine have that suit? Its steps in the range, and how near the rest come."""

from dataclasses import dataclass, replace
from math import inf

from crib.desk.picking.job import speeds_of
from crib.desk.starting import head
from crib.desk.starting.start import Reckoned, in_words, reckon
from crib.errors import InputError, NotPossible
from crib.store.rows import MachineRow
from crib.trade.cautions import DEFER
from crib.trade.cutting.speeds import Range
from crib.trade.cutting.spindle import MachineSpeeds, cutting_speed, nearest_not_above, spindle_speed
from crib.units import Kind, show

_SAME = 1e-9  # rounding of floats, not of the machine


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One speed of the machine.

    Attributes:
        n_rev_min: the speed.
        vc_m_min: cutting speed that it makes.
        off_m_min: how far that is outside the range: below zero too slow, above zero too fast, 0 within.
        start: it is the nearest not above where to start.
    """

    n_rev_min: float
    vc_m_min: float
    off_m_min: float
    start: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Suits:
    """Which speeds of a machine suit a cut.

    Attributes:
        machine: its name.
        material: as found.
        tool: tool material.
        op: operation.
        cut: kind of cut; empty for drilling and the like.
        d_mm: where it cuts.
        vc_m_min: range of cutting speeds, and where to start.
        n_rev_min: the same as spindle speeds.
        head_limit_rev_min: what the facing head may turn there, by its record; None where it plays no part
            or is not recorded.
        steps: the speeds that suit, slowest first.
        stepless_rev_min: of a stepless drive the slowest and fastest that suit; None for steps or none.
        start: the speed nearest to the start and not above; outside the range where off_m_min is not 0.
        below: the nearest speed that is too slow; None where there is none.
        above: the nearest speed that is too fast, or that the head may not turn; None likewise.
        verdict: the answer in a sentence.
        speeds_from: "own" where the shop's own proven speed counts, else "book".
        source: where the range is from.
        assumed: what was taken for granted.
        cautions: what to mind.
    """

    machine: str
    material: str
    tool: str
    op: str
    cut: str
    d_mm: float
    vc_m_min: Range
    n_rev_min: Range
    head_limit_rev_min: float | None
    steps: tuple[Step, ...]
    stepless_rev_min: tuple[float, float] | None
    start: Step
    below: Step | None
    above: Step | None
    verdict: str
    speeds_from: str
    source: tuple[str, ...]
    assumed: tuple[str, ...]
    cautions: tuple[str, ...]
    defer: str = DEFER

    @property
    def any(self) -> bool:
        """Whether any speed suits."""
        return bool(self.steps) or self.stepless_rev_min is not None


def suits(address: str, machine: str, **asked: object) -> Suits:
    """Tell which speeds of a machine suit a cut.

    Args:
        address: the store.
        machine: its name or path.
        asked: the other fields of crib.desk.starting.start.StartRequest; the diameter is needed.

    Raises:
        InputError: a word or size that is not known or can't be read, or no diameter.
        NotPossible: the machine's speeds are not on record.
        StoreError: the store can't be used.
    """
    if not str(machine).strip():
        raise InputError("which machine?", "crib machine lists them")
    reckoned = reckon(address, machine=machine, **asked)
    row, speeds = reckoned.machine, speeds_of(reckoned.machine)
    if reckoned.d_mm is None:
        raise InputError("where does it cut?", "--diameter '3 in'")
    if row is None or speeds is None:
        raise NotPossible(
            f"no spindle speeds of the {row.name if row else machine} are on record",
            "crib machine set NAME --speeds '11 15 21' enters them",
        )
    return _answer(reckoned, row, speeds, reckoned.d_mm)


def _answer(reckoned: Reckoned, row: MachineRow, speeds: MachineSpeeds, d_mm: float) -> Suits:
    vc = reckoned.data.vc_m_min
    limit = head.limit(row, d_mm)[0] if head.turns(row, reckoned.operation) else inf
    wanted = spindle_speed(vc.start, d_mm)
    first = nearest_not_above(min(wanted, limit), speeds)
    widened: tuple[str, ...] = ()
    if reckoned.data is not reckoned.book or vc.low == vc.high:
        next_below = cutting_speed(first.value, d_mm)
        vc = Range(low=min(vc.low, next_below), start=vc.start, high=vc.high)
        widened = ("one speed is on record, no range: the machine's next step below it is taken to suit",)
    known = [_step(n, d_mm, vc, n == first.value) for n in (*speeds.steps, *_ends(speeds))]
    steps = [step for step in known if not step.off_m_min and step.n_rev_min <= limit * (1 + _SAME)]
    start = _step(first.value, d_mm, vc, True)
    said = in_words(reckoned)
    found = Suits(
        machine=row.name,
        material=said.material,
        tool=said.tool,
        op=said.op,
        cut=said.cut,
        d_mm=d_mm,
        vc_m_min=vc,
        n_rev_min=Range(low=spindle_speed(vc.low, d_mm), start=wanted, high=spindle_speed(vc.high, d_mm)),
        head_limit_rev_min=None if limit == inf else limit,
        steps=tuple(steps) if speeds.steps else (),
        stepless_rev_min=None if speeds.steps else _overlap(speeds, d_mm, vc, limit),
        start=start,
        below=max((step for step in known if step.off_m_min < 0), key=_n, default=None),
        above=min(
            (step for step in known if step.off_m_min > 0 or step.n_rev_min > limit), key=_n, default=None
        ),
        verdict="",
        speeds_from=said.speeds_from,
        source=said.source,
        assumed=(*said.assumed, *widened),
        cautions=said.cautions,
    )
    return replace(found, verdict=_verdict(found, reckoned.system))


def _ends(speeds: MachineSpeeds) -> tuple[float, ...]:
    return () if speeds.low is None or speeds.high is None else (speeds.low, speeds.high)


def _n(step: Step) -> float:
    return step.n_rev_min


def _step(n_rev_min: float, d_mm: float, vc: Range, start: bool) -> Step:
    v = cutting_speed(n_rev_min, d_mm)
    off = v - vc.low if v < vc.low * (1 - _SAME) else v - vc.high if v > vc.high * (1 + _SAME) else 0.0
    return Step(n_rev_min=n_rev_min, vc_m_min=v, off_m_min=off, start=start)


def _overlap(speeds: MachineSpeeds, d_mm: float, vc: Range, limit: float) -> tuple[float, float] | None:
    slowest, fastest = _ends(speeds)
    low = max(slowest, spindle_speed(vc.low, d_mm))
    high = min(fastest, spindle_speed(vc.high, d_mm), limit)
    return (low, high) if low <= high * (1 + _SAME) else None


def _verdict(found: Suits, system: str) -> str:
    start = f"start at {found.start.n_rev_min:.4g} rev/min"
    if found.stepless_rev_min:
        low, high = found.stepless_rev_min
        return f"{low:.4g} to {high:.4g} rev/min of the {found.machine} suit; {start}."
    if found.steps and not found.start.off_m_min:
        many = len(found.steps)
        return f"{many} speed{'s' * (many > 1)} of the {found.machine} suit{'s' * (many == 1)}; {start}."
    if found.steps:
        faster = f"{found.steps[0].n_rev_min:g} rev/min suits, but is above the start"
        off = by_how_much(found.start, found, system)
        return f"{faster}; the next below, {found.start.n_rev_min:g}, is {off}."
    near = [
        f"{step.n_rev_min:g} rev/min is {by_how_much(step, found, system)}"
        for step in (found.below, found.above)
        if step is not None
    ]
    return f"No speed of the {found.machine} suits: {'; '.join(near)}."


def by_how_much(step: Step, found: Suits, system: str) -> str:
    """Say how far a speed lies outside the range: `12 m/min (39 ft/min, 8 %) too slow`."""
    if not step.off_m_min:
        limit = found.head_limit_rev_min
        held = limit is not None and step.n_rev_min > limit
        return f"above the facing head's limit on record, {limit:.4g} rev/min" if held else "within the range"
    end = found.vc_m_min.low if step.off_m_min < 0 else found.vc_m_min.high
    by = show(abs(step.off_m_min), Kind.SPEED, system, both=False)
    return f"{by} ({abs(step.off_m_min) / end:.0%}) too {'slow' if step.off_m_min < 0 else 'fast'}"
