"""What do I put in for this cut, and how do I start it? Stock on hand, ranked for the job."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import inf

from crib.desk import tables
from crib.desk.cut import (
    LEAST_FINISH_MM,
    Cut,
    data_for,
    drawbacks_of,
    limit_of,
    overhang_of,
    pressure_of,
    ratio_of,
    roughness_of,
    time_of,
    tool_of,
    work_out,
)
from crib.desk.job import Job, understand_job
from crib.desk.job import PickRequest as PickRequest
from crib.desk.ladder import WANTED, Change, climb
from crib.desk.sources import cite
from crib.desk.stock import Pair, Stock, away_of, stock_for, uses_facing_head, whereabouts
from crib.errors import CribError
from crib.store.read import reading
from crib.store.rows import BarRow, ItemRow
from crib.trade.cautions import DEFER, triggered
from crib.trade.rigidity.pressure import Pressure, tied
from crib.trade.rigidity.setup import Setup
from crib.units import Kind, show

RIGID = "rigid"
MOST_SHOWN = 20
MOST_PASSES = 12
BAND = 0.2  # of the plain insert's pressure: about what assumed rake and edge rounding leave open
SLOW = 3.0  # times as long as the quickest: then pushing little is no longer worth it (common practice)
WEAK_K_N_mm = 10_000.0
LONG_BAR = {"steel": 4.0, "carbide": 6.0, "heavy metal": 6.0}  # diameters out, as the caution says
SLENDER = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolName:
    """A tool as an answer names it."""

    id: int
    tag: str
    designation: str | None
    label: str
    owner: str
    place: str
    HAND: str | None
    edges_left: int | None
    condition: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PassLine:
    """One pass: sizes, depth on the side, rough or finish, minutes where the length is known."""

    from_mm: float
    to_mm: float
    ap_mm: float
    kind: str
    minutes: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class JobLine:
    """The job as it was understood."""

    op: str
    material: str
    from_mm: float
    to_mm: float
    length_mm: float | None
    machine: str | None
    hand: str | None
    site: str
    setup: str
    gives: str
    k_N_mm: float
    frequency_hz: float
    damping_ratio: float
    ap_mm: float
    units: str
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One holder with its insert (or one bit) for the job, in figures; keys as in the contract."""

    rank: int
    holder: ToolName
    insert: ToolName | None
    vc_m_min: float
    n_rev_min: float
    f_mm: float
    ap_mm: float
    passes: tuple[PassLine, ...]
    minutes: float | None
    Fc_N: float
    Ff_N: float
    Fp_N: float
    Pc_kW: float
    pressure_N: float
    pressure_ratio: float
    pressure_low: float
    pressure_high: float
    tie: bool
    stability_margin: float
    regenerative_stiffness_N_mm: float
    b_lim_mm: float | None
    low_pressure: bool
    Rz_um: float | None
    reasons: tuple[str, ...]
    assumed: tuple[str, ...]
    sources: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rejected:
    """What can't do the job, and why."""

    holder: ToolName
    insert: ToolName | None
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PickAnswer:
    """The answer: the job as understood, three lines in words, candidates in order, what was passed over."""

    job: JobLine
    verdict: str
    detail: str
    next_step: str
    candidates: tuple[Candidate, ...]
    total: int
    rejected: tuple[Rejected, ...]
    ladder: tuple[Change, ...]
    cautions: tuple[str, ...]
    defer: str = DEFER


def pick(address: str, request: PickRequest, *, most: int = MOST_SHOWN) -> PickAnswer:
    """Rank the stock on hand for a cut and say how to start each.

    Args:
        address: the store.
        request: the cut, as typed.
        most: how many candidates to give.

    Raises:
        InputError: something typed that can't be read or can't be.
        NotPossible: no cutting force is on record for the material, or the site is not set.
        StoreError: the store can't be used.
    """
    with reading(address) as reader:
        job = understand_job(request, reader)
        stock = stock_for(job, reader.tooling())
    ap_mm, said = _depth(job, stock.here)
    cuts, no_data = _work_out_all(job, stock.here, ap_mm)
    quickest = _quickest(cuts)
    ordered = sorted(cuts, key=lambda cut: _order(job, cut, quickest))
    shown = ordered[:most]
    pressures = [pressure_of(job, cut) for cut in shown]
    candidates = tuple(
        _candidate(job, rank, cut, pressures, quickest) for rank, cut in enumerate(shown, start=1)
    )
    ladder = climb(job, shown[0], ordered, _work_out_all(job, stock.elsewhere, ap_mm)[0]) if shown else ()
    verdict, detail, next_step = _said(job, stock, shown, candidates, ladder)
    return PickAnswer(
        job=_job_line(job, ap_mm, said),
        verdict=verdict,
        detail=detail,
        next_step=next_step,
        candidates=candidates,
        total=len(cuts),
        rejected=(*_rejected(stock), *no_data),
        ladder=ladder,
        cautions=candidates[0].cautions if candidates else (),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What a form may offer: names on record and known words."""

    materials: tuple[str, ...]
    machines: tuple[str, ...]
    setups: tuple[str, ...]
    gives: tuple[str, ...]
    sites: tuple[str, ...]
    site: str
    units: str


def choices(address: str) -> Choices:
    """Give what the form of a cut may offer."""
    known = tables.materials()
    with reading(address) as reader:
        settings = reader.settings()
        return Choices(
            materials=tuple(known.label(index) for index in range(len(known.rows))),
            machines=tuple(machine.name for machine in reader.machines()),
            setups=tuple(tables.setups()),
            gives=tuple(tables.directions()),
            sites=tuple(place.name for place in reader.places() if place.kind == "site"),
            site=settings.get("site", ""),
            units=settings.get("units", "metric"),
        )


# -- how deep, and in which order -------------------------------------------------------------------------


def _depth(job: Job, pairs: Sequence[Pair]) -> tuple[float, tuple[str, ...]]:
    """Give the depth of the roughing passes for all candidates alike, and why it is that.

    As told; else, on a rigid set-up, as deep as the tables print; else as deep as something on hand holds
    without chatter. All candidates are compared at the same depth, or their pressures would not compare.
    """
    if job.depth_mm is not None:
        return min(job.depth_mm, job.stock_mm), ("depth of a pass as told",)
    steps = [job.stock_mm / count for count in range(1, MOST_PASSES + 1)]
    deepest = _deepest_printed(job, pairs)
    printed = [step for step in steps if step <= deepest] or steps[-1:]
    if job.setup.label.startswith(RIGID) or not pairs:
        return printed[0], ("depth of a pass: as deep as the tables print for a rough cut",)
    for step in printed:
        if step < LEAST_FINISH_MM:
            break
        if any(cut.stable for cut in _work_out_all(job, pairs, step)[0]):
            return step, ("depth of a pass: as deep as something on hand holds without chatter",)
    return printed[0], ("depth of a pass: no shallower one holds either",)


def _deepest_printed(job: Job, pairs: Sequence[Pair]) -> float:
    deepest = LEAST_FINISH_MM
    for material in {tool_of(pair)[1] for pair in pairs}:
        try:
            deepest = max(deepest, data_for(job, material, job.stock_mm)[0].ap_mm.high)
        except CribError:
            continue  # said beside each candidate that has no data
    return deepest


def _work_out_all(job: Job, pairs: Iterable[Pair], ap_mm: float) -> tuple[list[Cut], list[Rejected]]:
    """Work out every candidate; those without data are told apart, not dropped."""
    cuts: list[Cut] = []
    without: list[Rejected] = []
    for pair in pairs:
        try:
            cuts.append(work_out(job, pair, ap_mm))
        except CribError as error:
            without.append(_reject(pair.arm.item, pair.insert.item if pair.insert else None, error.message))
    return cuts, without


def _order(job: Job, cut: Cut, quickest: float) -> tuple[object, ...]:
    """Give a cut's place: what holds with a reserve and has no drawback first; then what pushes least.

    Pressures closer than the band of what is assumed of any tool count as equal: there the quicker one
    wins. On a rigid set-up pressure decides nothing but a tie.
    """
    minutes = time_of(cut)
    last = (cut.pair.arm.item.id, cut.pair.insert.item.id if cut.pair.insert else 0)
    drawbacks = len(_drawbacks(job, cut, quickest))
    if job.setup.label.startswith(RIGID):
        return (not cut.stable, drawbacks, minutes, cut.pressure_N, last)
    if cut.stable:
        ratio = ratio_of(job, cut)
        return (0, cut.margin < WANTED, drawbacks, int(ratio / BAND), minutes, ratio, last)
    return (1, -cut.margin, drawbacks, minutes, last)


def _quickest(cuts: Iterable[Cut]) -> float:
    """Give the time of the quickest candidate that holds; without one, no candidate is called slow."""
    return min((time_of(cut) for cut in cuts if cut.stable), default=inf)


def _drawbacks(job: Job, cut: Cut, quickest: float) -> tuple[str, ...]:
    """Say what speaks against a candidate although it holds."""
    times = time_of(cut) / quickest
    slow = (f"takes {times:.2g} times as long as the quickest that holds",) if times > SLOW else ()
    return (*drawbacks_of(job, cut), *slow)


# -- the answer -------------------------------------------------------------------------------------------


def _candidate(job: Job, rank: int, cut: Cut, pressures: Sequence[Pressure], quickest: float) -> Candidate:
    pressure = pressures[rank - 1]
    neighbours = [pressures[other] for other in (rank - 2, rank) if 0 <= other < len(pressures)]
    insert = cut.pair.insert
    limit = limit_of(job, cut)
    minutes = None if cut.minutes is None else cut.minutes / len(cut.passes)
    return Candidate(
        rank=rank,
        holder=_name(cut.pair.arm.item),
        insert=_name(insert.item) if insert else None,
        vc_m_min=cut.vc_m_min,
        n_rev_min=cut.n_rev_min,
        f_mm=cut.f_mm,
        ap_mm=cut.ap_mm,
        passes=tuple(
            PassLine(from_mm=one.from_mm, to_mm=one.to_mm, ap_mm=one.ap_mm, kind=one.kind, minutes=minutes)
            for one in cut.passes
        ),
        minutes=cut.minutes,
        Fc_N=cut.forces.Fc_N,
        Ff_N=cut.forces.Ff_N,
        Fp_N=cut.forces.Fp_N,
        Pc_kW=cut.Pc_kW,
        pressure_N=pressure.P_N,
        pressure_ratio=pressure.ratio,
        pressure_low=pressure.low,
        pressure_high=pressure.high,
        tie=any(tied(pressure, other) for other in neighbours),
        stability_margin=cut.margin,
        regenerative_stiffness_N_mm=cut.K_N_mm,
        b_lim_mm=limit,
        low_pressure=pressure.low_pressure,
        Rz_um=roughness_of(cut),
        reasons=(_holds(job, cut, limit), *_drawbacks(job, cut, quickest), *pressure.reasons),
        assumed=tuple(dict.fromkeys((*job.assumed, *cut.assumed))),
        sources=_sources(job, cut),
        cautions=tuple(caution.text for caution in triggered(_triggers(job, cut), tables.cautions())),
    )


def _holds(job: Job, cut: Cut, limit: float | None) -> str:
    """Say in words whether the cut holds."""
    if limit is None:
        return f"holds: no depth that its edge stands chatters, if it gives only {job.setup.gives.words}"
    deep = show(limit, Kind.LENGTH, job.system)
    if cut.stable:
        return f"holds: {cut.margin:.2g} times clear of chatter; up to {deep} a side at every speed"
    return f"will probably chatter: only {cut.margin:.2g} of what is needed; holds to {deep} a side"


def _sources(job: Job, cut: Cut) -> tuple[str, ...]:
    keys = " ".join((*cut.data.sources, job.material.kc_source))
    return tuple(dict.fromkeys(cite(key) for key in dict.fromkeys(keys.split())))


def _triggers(job: Job, cut: Cut) -> set[str]:
    """Give the conditions of this cut that call for a caution."""
    found = {"measuring"} if len(cut.passes) > 1 else set()
    machine = job.machine
    if machine:
        found.add(machine.kind)
    if job.conditions:
        found.add("scale or interrupted")
    if job.operation == "boring" and len(cut.passes) > 1:
        found.add("gauge in bore")
    if machine and machine.facing_head and uses_facing_head(job, cut.pair.arm):
        found.add("facing head")
        if machine.head_speed_limit_rev_min is None:
            found.add("head limit unknown")
    if machine and machine.kind == "boring mill" and job.setup.k_N_mm <= WEAK_K_N_mm:
        found.add("tall set-up")
    if job.operation == "turning" and job.length_mm and job.length_mm > SLENDER * job.to_mm:
        found.add("slender")
    for word in ("magnesium", "titanium"):
        if word in job.material.name.lower():
            found.add(word)
    return found | _bar_triggers(job, cut.pair)


def _bar_triggers(job: Job, pair: Pair) -> set[str]:
    bar = pair.arm
    if not isinstance(bar, BarRow):
        return set()
    overhang = overhang_of(job, bar)
    if overhang is None or not bar.dcon_mm:
        return {"bar overhang unknown"}
    most = LONG_BAR.get((bar.shank_material or "steel").lower(), LONG_BAR["steel"])
    return {"long bar"} if overhang > most * bar.dcon_mm else set()


def _job_line(job: Job, ap_mm: float, said: tuple[str, ...]) -> JobLine:
    setup: Setup = job.setup
    return JobLine(
        op=job.operation,
        material=job.material.label,
        from_mm=job.from_mm,
        to_mm=job.to_mm,
        length_mm=job.length_mm,
        machine=job.machine.name if job.machine else None,
        hand=job.hand,
        site=job.site,
        setup=setup.label,
        gives=setup.gives.words,
        k_N_mm=setup.k_N_mm,
        frequency_hz=setup.frequency_hz,
        damping_ratio=setup.damping_ratio,
        ap_mm=ap_mm,
        units=job.system,
        assumed=(*job.assumed, *said),
    )


def _name(item: ItemRow) -> ToolName:
    return ToolName(
        id=item.id,
        tag=item.tag,
        designation=item.designation,
        label=item.label,
        owner=item.owner,
        place=item.place,
        HAND=item.hand,
        edges_left=item.edges_left,
        condition=item.condition,
    )


def _reject(holder: ItemRow, insert: ItemRow | None, why: str) -> Rejected:
    return Rejected(holder=_name(holder), insert=_name(insert) if insert else None, why=why)


def _rejected(stock: Stock) -> Iterable[Rejected]:
    # the wrong hand is plain to see: what is out, damaged or incomplete is what one looks for
    ordered = sorted(stock.rejected, key=lambda unfit: unfit.why.endswith("is wanted"))
    return (_reject(unfit.item, None, unfit.why) for unfit in ordered)


def _said(
    job: Job,
    stock: Stock,
    shown: Sequence[Cut],
    candidates: Sequence[Candidate],
    ladder: Sequence[Change],
) -> tuple[str, str, str]:
    """Put the answer into three lines: the answer, how sure and why, what next."""
    if not shown:
        parts = [item for pair in stock.elsewhere for item in away_of(job, pair)]
        away = "; ".join([*dict.fromkeys(f"{item.tag} {whereabouts(item)}" for item in parts)][:3])
        if away:
            return (
                "Nothing on hand does it.",
                f"What would: {away}.",
                "Ask for it, or crib bring TAG when it is here.",
            )
        return (
            "Nothing on record does it.",
            "See why each was passed over: rejected.",
            "Change the job (hand, machine, length), or enter what you have: crib intake FILE.",
        )
    best = candidates[0]
    insert = (
        f" with {best.insert.designation or best.insert.label} ({best.insert.tag})" if best.insert else ""
    )
    speed = f"{best.n_rev_min:.4g} rev/min, {show(best.f_mm, Kind.FEED, job.system)}"
    passes = f"{len(best.passes)} pass{'es' * (len(best.passes) > 1)}"
    verdict = (
        f"{best.holder.designation or best.holder.label} ({best.holder.tag}){insert}: {speed}, {passes}."
    )
    tie = "; as good as a tie with the next" if best.tie and len(candidates) > 1 else ""
    sure = "assumed figures" in job.setup.label or "assumed" in " ".join(job.setup.assumed)
    detail = f"{best.reasons[0][0].upper()}{best.reasons[0][1:]}{tie}. " + (
        "The set-up's figures are assumed: a push test settles it." if sure else "From measured figures."
    )
    step = f"If it rings: {ladder[0].change}." if ladder else "If it rings, measure the set-up: push and tap."
    return verdict, detail, step
