"""Why this figure? The whole chain behind an answer, to be checked by hand, and what would change it most.

Every value comes from the functions behind the answer; the formulas beside them are text that tests work out
again from the numbers printed.
"""

from math import isfinite

from crib.desk import tables
from crib.desk.picking.answer import economy_for, life_for, minutes_of
from crib.desk.picking.bar import across, bar_of
from crib.desk.picking.cut import (
    Cut,
    Plan,
    depth_of_edge,
    finish_data,
    limit_of,
    looked_at,
    most_feed,
    pressure_of,
    speed_for,
    tool_of,
)
from crib.desk.picking.feed_marks import last_feed, marks_of, minor_edge_of
from crib.desk.picking.job import Job, speeds_of
from crib.desk.picking.pick import PickAnswer, PickRequest, Ranked, answer_of, rank
from crib.desk.picking.size_error import size_errors
from crib.desk.picking.stock import uses_facing_head
from crib.desk.starting.head import turns
from crib.desk.starting.load import power_of
from crib.desk.starting.start import Reckoned, Start, in_words, reckon, spindle
from crib.desk.why.effects import (
    Symbols,
    economy_steps,
    effect_steps,
    efficiency_step,
    life_steps,
    reserve_steps,
)
from crib.desk.why.force import (
    Look,
    chip_steps,
    force_steps,
    model_steps,
    piece_steps,
    stiffness_step,
    tool_steps,
)
from crib.desk.why.size import bar_steps, size_steps
from crib.desk.why.start import (
    DEFINED,
    ceiling_step,
    feed_steps,
    finish_steps,
    not_above,
    speed_steps,
    spindle_steps,
    work_steps,
)
from crib.desk.why.step import Chain as Chain
from crib.desk.why.step import Column as Column
from crib.desk.why.step import Maker
from crib.desk.why.step import Number as Number
from crib.desk.why.step import Sensitivity as Sensitivity
from crib.desk.why.step import Step as Step
from crib.desk.why.step import Table as Table
from crib.desk.why.unsure import unsure
from crib.errors import NothingFound
from crib.store.rows import BarRow, BitRow
from crib.trade.cutting.force import cutting_forces, force_parts
from crib.trade.cutting.passes import Pass, depth_limit
from crib.trade.cutting.spindle import cutting_speed
from crib.trade.rigidity.chatter import allowed_stiffness, margin, regenerative_stiffness
from crib.trade.rigidity.pressure import tool_pressure
from crib.trade.tables import rows

SAME_SIZE_MM = 1e-6  # a step read from inches is the same step
DEPTH_IS = {"drilling": "half the drill", "reaming": "stock on the side", "threading": "infeed to start with"}


def why_start(address: str, **asked: object) -> tuple[Start, Chain]:
    """Give starting data and the chain behind them; arguments and errors as for `starting.start.start`."""
    reckoned = reckon(address, **asked)
    found = in_words(reckoned)
    return found, Chain(
        of=f"{found.material}, {found.tool}, {found.op}",
        rank=None,
        steps=tuple(_start_steps(reckoned, found)),
        sensitivities=(),
    )


def why_pick(address: str, request: PickRequest, place: int, *, most: int) -> tuple[PickAnswer, Chain]:
    """Give a ranking and the chain behind one of its candidates.

    Args:
        address: the store.
        request: the cut, as typed.
        place: the candidate's rank, from 1.
        most: how many candidates to give.

    Raises:
        CribError: as for `crib.desk.picking.pick.pick`.
        NothingFound: there is no candidate of that rank.
    """
    ranked = rank(address, request)
    return answer_of(ranked, most), explain(ranked, place)


def explain(ranked: Ranked, place: int) -> Chain:
    """Give the chain behind one candidate of a ranking.

    Raises:
        NothingFound: there is no candidate of that rank.
    """
    many = len(ranked.cuts)
    if not many:
        raise NothingFound(
            "nothing on hand does it: there are no figures to show",
            "ask without --why: it says why each tool was passed over",
        )
    if not 1 <= place <= many:
        raise NothingFound(f"there is no candidate {place}: {many} can do it", f"--why 1 … {many}")
    job, cut = ranked.job, ranked.cuts[place - 1]
    maker = Maker()
    work_steps(maker, job.material)
    _speed(maker, job, cut)
    tool_steps(maker, cut.tool)
    _feed(maker, job, cut)
    _stock(maker, ranked, cut)
    looks = _looks(job, cut)
    _forces(maker, job, cut, looks)
    _power(maker, job, cut)
    _pressure(maker, job, cut)
    _chatter(maker, job, cut, looks)
    size = size_errors(job, cut)
    size_steps(maker, job, cut, size)
    _finish(maker, cut)
    _minutes(maker, job, cut, size.spring)
    _life(maker, job, cut, size.spring)
    insert = cut.pair.insert
    named = [cut.pair.arm.item, *([insert.item] if insert else [])]
    return Chain(
        of=" with ".join(f"{item.designation or item.label} ({item.tag})" for item in named),
        rank=place,
        steps=tuple(maker.steps),
        sensitivities=unsure(job, cut, ranked.ap_mm),
    )


# -- starting data ----------------------------------------------------------------------------------------


def _start_steps(reckoned: Reckoned, found: Start) -> list[Step]:
    maker, data = Maker(), reckoned.data
    work_steps(maker, reckoned.material)
    speed_steps(maker, data, reckoned.at)
    n_rev_min, said = spindle(reckoned)
    if n_rev_min is not None and reckoned.d_mm is not None:
        spindle_steps(
            maker,
            reckoned.d_mm,
            speeds_of(reckoned.machine),
            n_rev_min,
            cutting_speed(n_rev_min, reckoned.d_mm),
            v_start=data.vc_m_min.start,
            head=reckoned.machine if turns(reckoned.machine, reckoned.operation) else None,
            said="; ".join(said),
        )
    feed_steps(maker, data)
    if found.machine_f_mm is not None:
        not_above(maker, "f", "feed", "f_s", reckoned.feeds, found.machine_f_mm, "mm/rev")
    if data.ap_mm is not None:
        name = DEPTH_IS.get(reckoned.operation, "depth to start with")
        maker.given("ap_s", name, data.ap_mm.start, "mm", source=" ".join(data.sources))
    symbols = Symbols(
        vc="vc" if n_rev_min is not None else "v_s",
        f="f" if found.machine_f_mm is not None else "f_s",
        ap="ap_s" if data.ap_mm is not None else "",
    )
    cut = reckoned.cut or reckoned.operation
    effect_steps(maker, found.effects, symbols, tool=data.tool_material, cut=cut, machine=reckoned.machine)
    return maker.steps


# -- one candidate ----------------------------------------------------------------------------------------


def _speed(maker: Maker, job: Job, cut: Cut) -> None:
    speed_steps(maker, cut.data)
    head = job.machine if uses_facing_head(job) else None
    start = cut.data.vc_m_min.start
    said = "; ".join(speed_for(job, cut.data)[2])
    n_rev_min, vc_m_min = cut.n_rev_min, cut.vc_m_min
    spindle_steps(maker, job.d_mm, job.speeds, n_rev_min, vc_m_min, v_start=start, head=head, said=said)


def _feed(maker: Maker, job: Job, cut: Cut) -> None:
    """The feed of roughing: as told, else from the table within nose and machine; and that of finishing."""
    if job.f_mm is not None:
        maker.part("Feed")
        maker.given("f", "feed as told", cut.f_mm, "mm/rev")
    else:
        feed_steps(maker, cut.data)
        wanted, formula = cut.data.f_mm.start, "f_s"
        if cut.tool.RE_mm > 0.0:
            ceiling_step(maker, cut.tool, cut.cut, "f_n")
            wanted, formula = min(wanted, most_feed(cut.tool, cut.cut)), "min(f_s, f_n)"
        maker.step("f_w", "feed wanted", formula, wanted, "mm/rev")
        not_above(maker, "f", "feed", "f_w", job.feeds, cut.f_mm, "mm/rev")
    if _finishes(cut):
        _finish_feed(maker, job, cut)


def _finishes(cut: Cut) -> bool:
    """Whether there is a finishing pass of its own."""
    return len(cut.passes) > 1 and cut.passes[-1].kind == "finish"


def _finish_feed(maker: Maker, job: Job, cut: Cut) -> None:
    if job.f_mm is not None:
        maker.step("f_f", "feed of the finishing pass, as told", "f", cut.finish_f_mm, "mm/rev")
        return
    data = finish_data(job.material, tool_of(cut.pair)[1], job.operation, job.hb)
    limits = {"f": cut.f_mm}
    if data is not None:
        finish_steps(maker, data.f_mm, data.sources)
        limits["ff_s"] = data.f_mm.start
    if cut.tool.RE_mm > 0.0:
        ceiling_step(maker, cut.tool, "finish", "f_nf")
        limits["f_nf"] = most_feed(cut.tool, "finish")
    formula = f"min({', '.join(limits)})" if len(limits) > 1 else "f"
    maker.step("f_fw", "feed wanted for the finishing pass", formula, min(limits.values()), "mm/rev")
    not_above(maker, "f_f", "feed of the finishing pass", "f_fw", job.feeds, cut.finish_f_mm, "mm/rev")


def _stock(maker: Maker, ranked: Ranked, cut: Cut) -> None:
    """From the sizes to the depth of the passes: symbol ap for the deepest."""
    job = ranked.job
    maker.part("Stock and passes")
    maker.given("d_from", "size that is there", job.from_mm, "mm")
    maker.given("d_to", "size wanted", job.to_mm, "mm")
    half = " / 2" if job.on_diameter else ""
    maker.step("z", "stock, on the side", f"abs(d_to − d_from){half}", job.stock_mm, "mm")
    maker.given("ap_j", "depth of a pass, at most", ranked.ap_mm, "mm", assumed="; ".join(ranked.why))
    limit = _edge_depth(maker, job, cut)
    deepest = min(ranked.ap_mm, limit) if limit else ranked.ap_mm
    formula = "min(ap_j, ap_e)" if limit else "ap_j"
    maker.step("ap_m", "the same, as the edge stands it", formula, deepest, "mm")
    motor = next((line for line in cut.assumed if line.startswith("depth held by the motor")), "")
    if _is_stepped(job, cut):
        _steps(maker, job, cut)
        return
    if not _finishes(cut):
        _equal_passes(maker, ("ap", "z"), cut.passes, motor)
        return
    _finish_depth(maker, cut, deepest, motor)
    _equal_passes(maker, ("ap_r", "(z − ap_f)"), cut.passes[:-1], motor)
    maker.step("ap", "the deepest pass: its forces count", "max(ap_r, ap_f)", cut.ap_mm, "mm")
    sign = "+" if job.to_mm > job.from_mm else "−"
    count = f"{len(cut.passes) - 1} × " if len(cut.passes) > 2 else ""
    taken = f"{'2 × ' if job.on_diameter else ''}{count}ap_r"
    name = "size to measure before the finishing pass"
    maker.step("d_m", name, f"d_from {sign} {taken}", cut.passes[-1].from_mm, "mm")


def _is_stepped(job: Job, cut: Cut) -> bool:
    """Whether the passes are of the step told: edge and motor stand it."""
    first = abs(cut.passes[0].to_mm - cut.passes[0].from_mm)
    return job.step_mm is not None and (len(cut.passes) == 1 or abs(first - job.step_mm) < SAME_SIZE_MM)


def _steps(maker: Maker, job: Job, cut: Cut) -> None:
    """Passes of the step told, and the last that takes what is left."""
    many, last = len(cut.passes), cut.passes[-1].ap_mm
    if many == 1:
        maker.step("ap", "depth of the one pass", "z", cut.ap_mm, "mm")
        return
    maker.given("z_s", "what each pass takes on the size, as told", job.step_mm or 0.0, "mm")
    side = " / 2" if job.on_diameter else ""
    maker.step("i", "passes", f"ceil(z / (z_s{side}))", many)
    maker.step("ap", "depth of each, on the side", f"z_s{side}", cut.ap_mm, "mm")
    maker.step("ap_f", "depth of the last: what is left", "z − (i − 1) × ap", last, "mm")
    sign = "+" if job.to_mm > job.from_mm else "−"
    name = "size to measure before the last pass"
    maker.step("d_m", name, f"d_from {sign} (i − 1) × z_s", cut.passes[-1].from_mm, "mm")


def _equal_passes(maker: Maker, named: tuple[str, str], passes: tuple[Pass, ...], motor: str) -> None:
    """Share what is to come off among equal passes; named: symbol of their depth, formula of the whole."""
    symbol, whole = named
    if len(passes) == 1:
        maker.step(symbol, "depth of the one pass for it", whole, passes[0].ap_mm, "mm", assumed=motor)
        return
    if motor:
        maker.given("i", "equal passes", len(passes), assumed=motor)
    else:
        maker.step("i", "equal passes", f"ceil({whole} / ap_m)", len(passes))
    maker.step(symbol, "depth of each", f"{whole} / i", passes[0].ap_mm, "mm")


def _finish_depth(maker: Maker, cut: Cut, deepest: float, motor: str) -> None:
    """The depth of the finishing pass."""
    rules, last, name = tables.pick_rules(), cut.passes[-1].ap_mm, "depth of the finishing pass"
    low, high = rules.least_finish_mm, rules.most_finish_mm
    if motor and last < min(max(cut.tool.RE_mm * rules.finish_of_nose, low), high, deepest):
        maker.given("ap_f", name, last, "mm", assumed=motor)
        return
    also = {"r_f": rules.finish_of_nose, "ap_least": low, "ap_most": high}
    formula, source = "min(max(r_f × r, ap_least), ap_most, ap_m)", "pick_nose pick_finish"
    maker.step("ap_f", name, formula, last, "mm", source=source, also=also)


def _edge_depth(maker: Maker, job: Job, cut: Cut) -> float | None:
    """The depth that the edge stands."""
    limit = depth_of_edge(cut.pair, job)
    if limit is None:
        return None
    arm, insert = cut.pair.arm, cut.pair.insert
    if isinstance(arm, BitRow) and arm.shank_mm is not None:
        also = {"H": arm.shank_mm, "H_r": tables.pick_rules().bit_depth_of_shank}
        maker.step("ap_e", "depth the bit stands", "H_r × H", limit, "mm", source="pick_bit", also=also)
    elif insert is not None:
        length = insert.item.l_mm if insert.item.l_mm is not None else insert.item.ic_mm or 0.0
        rule = depth_limit(insert.item.sc or "", length, rows, interrupted=job.interrupted)
        if rule is not None:
            also = {"L_e": length, "L_r": rule.of_L}
            name = "depth the edge stands: part of its length"
            maker.step("ap_e", name, "L_r × L_e", limit, "mm", source=rule.source, also=also)
    return limit


def _looks(job: Job, cut: Cut) -> list[tuple[Look, float]]:
    """The passes that are looked at, with the stiffness of each; the deepest, whose forces count, first."""
    found = []
    for number, (_, ap_mm, f_mm) in enumerate(looked_at(Plan.of(cut.passes), (cut.f_mm, cut.finish_f_mm))):
        model = tables.force_model()
        look = Look(
            ap="ap_f" if number else "ap",
            f="f_f" if number else "f",
            mark="2" if number else "",
            ap_mm=ap_mm,
            f_mm=f_mm,
            parts=force_parts(ap_mm, f_mm, cut.tool, job.work, model),
        )
        stiff = regenerative_stiffness(ap_mm, f_mm, cut.tool, job.work, gives=job.setup.gives, model=model)
        found.append((look, stiff))
    return found


def _forces(maker: Maker, job: Job, cut: Cut, looks: list[tuple[Look, float]]) -> None:
    look = looks[0][0]
    model_steps(maker, job.work.iso513, cut.tool, tables.force_model())
    maker.part("Chip of the deepest pass")
    chip_steps(maker, cut.tool, look)
    piece_steps(maker, cut.tool, look)
    force_steps(maker, cut.tool, job.work, look)


def _power(maker: Maker, job: Job, cut: Cut) -> None:
    maker.part("Power")
    maker.step("Pc", "power at the edge", "Fc × vc / 60000", cut.Pc_kW, "kW", source=DEFINED)
    machine = job.machine
    efficiency_step(maker, machine)
    maker.step("Pm", "power the motor must have", "Pc / η", cut.motor_kW, "kW", source=DEFINED)
    if machine and machine.power_kw:
        maker.given("P_has", f"motor of the {machine.name} on record", machine.power_kw, "kW")
    power = power_of(cut.Pc_kW, job.material, cut.cut, machine, job.system)
    reserve_steps(maker, power, "Pc", cut.cut, machine)


def _pressure(maker: Maker, job: Job, cut: Cut) -> None:
    """The push where the set-up gives, against that of the plain insert in the same cut."""
    gives, rules, found = job.setup.gives, tables.rigidity_rules(), pressure_of(job, cut)
    maker.part(f"Tool pressure; it gives {gives.words}")
    weights = (
        ("w_p", "Fp", gives.weight_away),
        ("w_f", "Ff", gives.weight_along),
        ("w_c", "Fc", gives.weight_down),
    )
    for symbol, of, weight in weights:
        maker.given(symbol, f"how much {of} counts", weight, source="rig_gives")
    formula = "√((w_p × Fp{0})^2 + (w_f × Ff{0})^2 + (w_c × Fc{0})^2)"
    maker.step("P", "tool pressure", formula.format(""), found.P_N, "N", source="rig_gives")
    plain = cutting_forces(cut.ap_mm, cut.f_mm, rules.reference, job.work, tables.force_model())
    said = (
        f"the same sums for the plain insert: nose {rules.reference.RE_mm:g} mm, "
        f"{rules.reference.KAPR_deg:g}°, rake {rules.reference.rake_deg:+g}°, inclination "
        f"{rules.reference.LAMS_deg:g}°, rounding {rules.reference.hone_um:g} µm"
    )
    for symbol, value in (("Fc0", plain.Fc_N), ("Ff0", plain.Ff_N), ("Fp0", plain.Fp_N)):
        maker.given(
            symbol, f"{symbol[:2]} of the plain insert", value, "N", source="rig_reference", assumed=said
        )
        said = ""
    maker.step(
        "P0", "its pressure", formula.format("0"), tool_pressure(plain, gives), "N", source="rig_gives"
    )
    low_pressure = f"low pressure is {rules.low_pressure_ratio:g} or less, and its high end below 1"
    maker.step("P_r", "pressure of the plain insert's", "P / P0", found.ratio, assumed=low_pressure)
    band = "assumed rake and rounding at either end, and either direction of the push"
    for symbol, end, value in (("P_low", "lowest", found.low), ("P_high", "highest", found.high)):
        maker.given(symbol, f"{end} of that ratio", value, source="rig_band", assumed=band)


def _chatter(maker: Maker, job: Job, cut: Cut, looks: list[tuple[Look, float]]) -> None:
    """The stiffness of the cut against what the set-up allows."""
    setup = job.setup
    maker.part("Chatter")
    for symbol, name, value in (
        ("u_a", "away from the tool", setup.gives.away),
        ("u_f", "along the feed", setup.gives.along),
        ("u_v", "down with the cut", setup.gives.down),
    ):
        if setup.gives.along or setup.gives.down:
            maker.given(symbol, f"direction in which it gives: {name}", value, source="rig_gives")
    name = "stiffness of the deepest pass, over its pieces above"
    stiffness_step(maker, looks[0][0], setup.gives, looks[0][1], name)
    for look, stiff in looks[1:]:
        maker.part("Chip of the finishing pass")
        chip_steps(maker, cut.tool, look)
        piece_steps(maker, cut.tool, look)
        force_steps(maker, cut.tool, job.work, look)
        maker.part("Chatter, all passes")
        stiffness_step(maker, look, setup.gives, stiff, "stiffness of the finishing pass")
    _spring(maker, job, cut)
    said = next((line for line in setup.assumed if "damping" in line), "measured")
    maker.given("ζ", "damping ratio of the set-up", setup.damping_ratio, assumed=said)
    margins = {f"M{look.mark}": _margin(maker, job, cut, look, stiff) for look, stiff in looks}
    limited = [symbol for symbol, value in margins.items() if isfinite(value)]
    if len(looks) > 1 and limited:
        formula = f"min({', '.join(limited)})" if len(limited) > 1 else limited[0]
        maker.step("M_w", "margin: the worst pass", formula, min(margins.values()))
    if limited:
        _margin_band(maker, job, cut, "M_w" if len(looks) > 1 else "M")
    _reach(maker, job, cut)


def _spring(maker: Maker, job: Job, cut: Cut) -> None:
    """Stiffness of the set-up, and of a boring bar one behind the other with it: symbol k."""
    said = next((line for line in job.setup.assumed if "stiffness" in line), "measured")
    bar = bar_of(job, cut.pair)
    if bar is None:
        if isinstance(cut.pair.arm, BarRow):
            said = "; ".join([said, *(line for line in cut.assumed if "own give is left out" in line)])
        maker.given("k", "stiffness of the set-up", cut.k_N_mm, "N/mm", assumed=said)
        return
    maker.given("k_s", "stiffness of the set-up", job.setup.k_N_mm, "N/mm", assumed=said)
    bar_steps(maker, job, cut)
    also = {"u": across(job, cut.pair)}
    name = "both one behind the other; u: part of the motion across bar or shank"
    maker.step("k", name, "1 / (1 / k_s + u / k_b)", cut.k_N_mm, "N/mm", also=also)


def _margin(maker: Maker, job: Job, cut: Cut, look: Look, stiff: float) -> float:
    """What the set-up allows over the stiffness of one pass."""
    damping, mark = job.setup.damping_ratio, look.mark
    sign, allows = ("−", "K_an") if stiff < 0.0 else ("+", "K_a")
    if not maker.knows(allows):
        allowed = allowed_stiffness(cut.k_N_mm, damping, negative=stiff < 0.0)
        formula, name = f"2 × k × ζ × (1 {sign} ζ)", "stiffness allowed at every speed"
        maker.step(allows, name, formula, allowed, "N/mm", source="rig_chatter")
    found = margin(cut.k_N_mm, damping, stiff)
    name = "margin of the finishing pass" if mark else "margin of the deepest pass"
    if isfinite(found):
        maker.step(f"M{mark}", name, f"{allows} / abs(K{mark})", found, source="rig_chatter")
    else:
        maker.given(f"M{mark}", name, found, assumed="a wave pushes it no way that gives: it can't ring")
    return found


def _margin_band(maker: Maker, job: Job, cut: Cut, symbol: str) -> None:
    if not maker.knows("kc_low"):
        return
    source = job.material.kc_band_source
    for end, name, value in (
        ("high", "margin by the highest force of the sources", cut.margin_low),
        ("low", "margin by the lowest", cut.margin_high),
    ):
        maker.step(f"M_{end}", name, f"{symbol} × kc1.1 / kc_{end}", value, source=source)


def _reach(maker: Maker, job: Job, cut: Cut) -> None:
    """The depth to which it holds, found by trying."""
    limit = limit_of(job, cut)
    if limit is not None:
        said = "found by trying depths until the stiffness of the cut is what is allowed"
        maker.given("ap_k", "depth at which it just holds at every speed", limit, "mm", assumed=said)


def _finish(maker: Maker, cut: Cut) -> None:
    """The feed marks of the last pass."""
    marks, minor = marks_of(cut), minor_edge_of(cut)
    if marks is None or minor is None:
        return
    maker.part("Finish")
    f = "f_f" if last_feed(cut) == cut.finish_f_mm and maker.knows("f_f") else "f"
    if marks.made_by == "arc":
        formula = f"1000 × (r − √(r^2 − ({f} / 2)^2))"
    else:
        maker.given("κ_2", "angle of the minor edge: 180° less corner and entering angle", minor, "°")
        flat = "min(κ_2, κr, 90)"
        formula = f"1000 × r × (1 − cos(2 × asin(√({f} × sin({flat}) / (2 × r))) − {flat}))"
        if marks.made_by == "both edges":
            sides = "(tan({0} / 2) + tan({1} / 2))", "(1 / tan({0}) + 1 / tan({1}))"
            nose, edges = (text.format("min(κr, 90)", "min(κ_2, 90)") for text in sides)
            formula = f"1000 × ({f} − r × {nose}) / {edges}"
    maker.step("Rz", f"feed marks at best, made by {marks.made_by}", formula, marks.Rz_um, "µm")


def _minutes(maker: Maker, job: Job, cut: Cut, spring: bool) -> None:
    if job.length_mm is None or cut.minutes is None:
        return
    maker.part("Time")
    maker.given("L", "way of the tool", job.length_mm, "mm")
    passes = cut.timed_passes
    first, last, count = passes[0].minutes or 0.0, passes[-1].minutes or 0.0, len(passes)
    each = "L / ({0} × n)"
    if not _finishes(cut):
        maker.step("T_1", "a pass", each.format("f"), first, "min", source=DEFINED)
        many = count + spring
        maker.step("T", "in the cut, all passes", f"{many} × T_1", minutes_of(cut, spring) or 0.0, "min")
        return
    maker.step("T_1", "a roughing pass", each.format("f"), first, "min", source=DEFINED)
    maker.step("T_2", "the finishing pass", each.format("f_f"), last, "min", source=DEFINED)
    again, total = " + T_2" * spring, minutes_of(cut, spring) or 0.0
    maker.step("T", "in the cut, all passes", f"{count - 1} × T_1 + T_2{again}", total, "min")


def _life(maker: Maker, job: Job, cut: Cut, spring: bool) -> None:
    """How long an edge lasts in the roughing passes, and what pays."""
    symbols = Symbols(vc="vc", f="f", ap="ap")
    life = life_for(job, cut)
    life_steps(maker, life.lines, symbols)
    economy = economy_for(job, cut, life, minutes_of(cut, spring))
    if economy is not None:
        economy_steps(maker, economy, life.lines, symbols)
