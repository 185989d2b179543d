"""What do I put in for this cut, and how do I start it? Stock on hand, ranked for the job."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import ceil, inf

from crib.desk import tables
from crib.desk.picking.answer import Candidate as Candidate
from crib.desk.picking.answer import PickAnswer as PickAnswer
from crib.desk.picking.answer import Rejected as Rejected
from crib.desk.picking.answer import ToolName as ToolName
from crib.desk.picking.answer import candidate, job_line, reject, rejected, said
from crib.desk.picking.cut import Cut, data_for, drawbacks_of, pressure_of, ratio_of, tool_of, work_out
from crib.desk.picking.job import Job, understand_job
from crib.desk.picking.job import PickRequest as PickRequest
from crib.desk.picking.ring import ring_of, sharper_rings
from crib.desk.picking.size_error import minutes_per_mm
from crib.desk.picking.stock import Pair, Stock, stock_for
from crib.desk.ringing.change import Change as Change
from crib.desk.ringing.holding import names_of
from crib.desk.ringing.ladder import climb
from crib.desk.ringing.learned import history_of, with_cuts
from crib.errors import CribError, InputError
from crib.store.filters import Filters
from crib.store.read import reading
from crib.store.rows import CutRow, ItemRow
from crib.units import Kind, show

RIGID = "rigid"
MOST_SHOWN = 20
MOST_PASSES = 100  # more is a slip in the sizes, not a job
MOST_WORKHOLDING = 500  # items that are looked through for a prop
MOST_STEPS = 12  # ways of sharing the stock among passes that are tried


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
    return answer_of(rank(address, request), most)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """What is behind an answer.

    Attributes:
        job: the cut asked for, in figures.
        stock: what there is for it.
        workholding: on record, wherever it is.
        logged: cuts in its material.
        ap_mm: depth of the roughing passes, on the side.
        why: why it is that.
        cuts: what can do it, in order.
        quickest: time of the quickest that holds, for each millimetre of length, in minutes.
        no_data: what can't be worked out.
    """

    job: Job
    stock: Stock
    workholding: tuple[ItemRow, ...]
    logged: tuple[CutRow, ...]
    ap_mm: float
    why: tuple[str, ...]
    cuts: tuple[Cut, ...]
    quickest: float
    no_data: tuple[Rejected, ...]


def rank(address: str, request: PickRequest) -> Ranked:
    """Work out all that is on hand for a cut and put it in order.

    Raises:
        CribError: as for `pick`.
    """
    with reading(address) as reader:
        job, tooling = understand_job(request, reader), reader.tooling()
        logged = reader.cuts(material=job.material.id)
        workholding = reader.find_items(Filters(kinds=("workholding",), limit=MOST_WORKHOLDING)).rows
        if job.held is not None:
            on_it = reader.cuts(setup_id=job.held.id)
            setup, held = with_cuts(job.setup, job.held, on_it, tooling, job.system)
            job = replace(job, setup=setup, held=held)
    stock = stock_for(job, tooling)
    ap_mm, why = _depth(job, stock.here)
    cuts, no_data = _work_out_all(job, stock.here, ap_mm)
    ordered, quickest = in_order(job, cuts)
    return Ranked(
        job=job,
        stock=stock,
        workholding=workholding,
        logged=logged,
        ap_mm=ap_mm,
        why=why,
        cuts=ordered,
        quickest=quickest,
        no_data=tuple(no_data),
    )


def answer_of(ranked: Ranked, most: int = MOST_SHOWN) -> PickAnswer:
    """Put what was ranked into an answer of at most so many candidates."""
    job, ap_mm, cuts = ranked.job, ranked.ap_mm, ranked.cuts
    shown = cuts[:most]
    pressures = [pressure_of(job, cut) for cut in shown]
    rings = [ring_of(job, cut) for cut in shown]
    candidates = tuple(
        candidate(
            job,
            rank,
            cut,
            pressures,
            rings[rank - 1],
            _drawbacks(job, cut, minutes_per_mm(job, cut), ranked.quickest),
            history_of(ranked.logged, cut.pair, job.system),
        )
        for rank, cut in enumerate(shown, start=1)
    )
    elsewhere = _work_out_all(job, ranked.stock.elsewhere, ap_mm)[0] if shown else []
    ladder = climb(job, shown[0], cuts, elsewhere, ranked.workholding) if shown else ()
    keen = sharper_rings(job, shown, rings)
    verdict, detail, next_step = said(job, ranked.stock, shown, candidates, ladder)
    return PickAnswer(
        job=job_line(job, ap_mm, ranked.why),
        verdict=verdict,
        detail=f"{detail} {keen}." if keen else detail,
        next_step=next_step,
        candidates=candidates,
        total=len(cuts),
        rejected=(*rejected(ranked.stock.rejected), *ranked.no_data),
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
            setups=(*tables.setups(), *names_of(reader.setups())),
            gives=tuple(tables.directions()),
            sites=tuple(place.name for place in reader.places() if place.kind == "site"),
            site=settings.get("site", ""),
            units=settings.get("units", "metric"),
        )


# -- how deep, and in which order -------------------------------------------------------------------------


def _depth(job: Job, pairs: Sequence[Pair]) -> tuple[float, tuple[str, ...]]:
    """Give the depth of the roughing passes for all candidates alike, and why it is that.

    As told; else, on a rigid set-up, as deep as the tables print; else as deep as something on hand holds
    well. All candidates are compared at the same depth, or their pressures would not compare.
    """
    deepest = job.depth_mm or _deepest_printed(job, pairs)
    fewest = max(1, ceil(job.stock_mm / deepest))
    if fewest > MOST_PASSES:
        stock, each = (show(size, Kind.LENGTH, job.system) for size in (job.stock_mm, deepest))
        too_many = f"{stock} a side at {each} a pass is {fewest} passes"
        raise InputError(too_many, "check the sizes and the depth")
    if job.depth_mm is not None:
        return min(job.depth_mm, job.stock_mm), ("depth of a pass as told",)
    steps = [job.stock_mm / count for count in range(fewest, fewest + MOST_STEPS)]
    if job.setup.label.startswith(RIGID) or not pairs:
        return steps[0], ("depth of a pass: as deep as the tables print for a rough cut",)
    least = tables.pick_rules().least_finish_mm
    unlike = _unlike(pairs)
    tried: list[tuple[float, tuple[int, float]]] = []
    for step in steps:
        if step >= least or step == steps[0]:
            tried.append((step, _best_of(job, unlike, step)))
            if tried[-1][1][0] == 0:
                break  # none shallower is better
    grade = min(grade for _, (grade, _) in tried)
    if grade < _HOLDS_NOT:
        depth = next(step for step, (reached, _) in tried if reached == grade)
        return depth, ("depth of a pass: as deep as something on hand holds without chatter",)
    best = max(margin for _, (_, margin) in tried)
    # thinner passes for a gain that is lost in what is assumed would only take longer to ring
    depth = next(step for step, (_, margin) in tried if margin * tables.pick_rules().least_gain >= best)
    return depth, ("depth of a pass: the deepest that is about as near to holding as any",)


_HOLDS_NOT = 3  # grades of a depth: 0 holds with a reserve, 1 just holds, 2 only with a drawback


def _best_of(job: Job, pairs: Sequence[Pair], ap_mm: float) -> tuple[int, float]:
    """Give the best grade that any candidate reaches at a depth, and its margin."""
    cuts, _ = _work_out_all(job, pairs, ap_mm)
    minutes = [minutes_per_mm(job, cut) for cut in cuts]
    quickest, wanted = _quickest(cuts, minutes), tables.pick_rules().wanted_margin
    best = (_HOLDS_NOT, 0.0)
    for cut, each in zip(cuts, minutes, strict=True):
        if not cut.stable:
            grade = _HOLDS_NOT
        elif _drawbacks(job, cut, each, quickest):
            grade = 2
        else:
            grade = 0 if cut.margin >= wanted else 1
        best = min(best, (grade, cut.margin), key=lambda one: (one[0], -one[1]))
    return best


def _unlike(pairs: Sequence[Pair]) -> list[Pair]:
    """Give one pair of each geometry: to find a depth, boxes of the same insert count once."""
    found: dict[object, Pair] = {}
    for pair in pairs:
        tool, material, _ = tool_of(pair)
        found.setdefault((tool, material, type(pair.arm), pair.notes), pair)
    return list(found.values())


def _deepest_printed(job: Job, pairs: Sequence[Pair]) -> float:
    deepest = tables.pick_rules().least_finish_mm
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
            without.append(reject(pair.arm.item, pair.insert.item if pair.insert else None, error.message))
    return cuts, without


def in_order(job: Job, cuts: Sequence[Cut]) -> tuple[tuple[Cut, ...], float]:
    """Put cuts in order; give with them the time of the quickest that holds, per millimetre of length."""
    minutes = [minutes_per_mm(job, cut) for cut in cuts]
    quickest = _quickest(cuts, minutes)
    places = [_order(job, cut, each, quickest) for cut, each in zip(cuts, minutes, strict=True)]
    return tuple(cuts[at] for at in sorted(range(len(cuts)), key=places.__getitem__)), quickest


def _order(job: Job, cut: Cut, minutes: float, quickest: float) -> tuple[object, ...]:
    """Give a cut's place: what holds with a reserve and has no drawback first; then what pushes least.

    Pressures are sorted in classes, about as wide as what is assumed of any tool leaves open; inside a class
    the quicker one wins. On a rigid set-up the quickest. What does not hold stands by how near it comes to
    holding: there a blunt tool is not saved by having nothing else against it.
    """
    rules = tables.pick_rules()
    ids = (cut.pair.arm.item.id, cut.pair.insert.item.id if cut.pair.insert else 0)
    last = (-cut.margin, *ids)  # of two bars alike otherwise, the stiffer
    drawbacks = len(_drawbacks(job, cut, minutes, quickest))
    if job.setup.label.startswith(RIGID):
        return (not cut.stable, drawbacks, minutes, cut.pressure_N, last)
    if cut.stable:
        ratio = ratio_of(job, cut)
        pushes = int(ratio / rules.pressure_class)
        return (0, cut.margin < rules.wanted_margin, drawbacks, pushes, minutes, ratio, last)
    return (1, -round(cut.margin, 1), drawbacks, minutes, last)


def _quickest(cuts: Sequence[Cut], minutes: Sequence[float]) -> float:
    """Give the time of the quickest candidate that holds: what rings is no measure of time."""
    return min((each for cut, each in zip(cuts, minutes, strict=True) if cut.stable), default=inf)


def _drawbacks(job: Job, cut: Cut, minutes: float, quickest: float) -> tuple[str, ...]:
    """Say what speaks against a candidate although its figures may be good."""
    times = minutes / quickest
    if times <= tables.pick_rules().slow:
        return drawbacks_of(job, cut)
    return (*drawbacks_of(job, cut), f"takes {times:.2g} times as long as the quickest that holds")
