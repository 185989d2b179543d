"""Where does it start to chatter? Depth limit, lobes, slow-speed damping, and which mode it is that rings."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import inf

from crib.desk import tables
from crib.desk.keeping.sources import cite
from crib.desk.picking.job import machine_for, operation_of, speeds_of
from crib.desk.ringing.edge_in_cut import DEEPEST_MM, Edge, Tried, recorded_edge, straight_edge, told_edge
from crib.desk.ringing.heard import Mode, modes_of, turning, what_rings
from crib.desk.ringing.holding import Held, setup_for
from crib.desk.ringing.learned import with_cuts
from crib.desk.typed import sized
from crib.errors import InputError
from crib.store.read import Reader, reading
from crib.trade.cutting.spindle import MachineSpeeds, cutting_speed
from crib.trade.rigidity import chatter
from crib.trade.rigidity.doubts import Doubt, doubts
from crib.trade.rigidity.pressure import force_towards
from crib.trade.rigidity.process_damping import Rubbing, damped_gain, quiet_speed
from crib.trade.rigidity.setup import Setup
from crib.units import Kind, read, show

CHART_POINTS = 240
SLOWEST_POCKET, FASTEST_PART = 8, 0.6  # the chart runs from this many waves a turn to this part of one
SOURCES = ("rig_chatter", "rig_lobes")
DAMPING_SOURCE = "rig_process_damping"
FORCE_SOURCE = "rig_blend"
NO_SPEEDS = "any speed, for none of a machine is on record: what it may run, its plate and manual say"
NO_LOBES = "the cut pulls the waves flat and rings below the set-up's own pitch: its lobes are not drawn"


@dataclass(frozen=True, slots=True, kw_only=True)
class ChatterRequest:
    """A set-up and a cut, everything as typed; empty means not told.

    Attributes:
        setup: a word, or a kept set-up with or without its point.
        stiffness: measured, at the cut.
        frequency: natural frequency.
        damping: damping ratio.
        gives: which way it gives.
        Ks: cutting stiffness of a straight edge along the motion, instead of a tool.
        material: what is cut.
        feed: per revolution.
        KAPR: entering angle.
        RE: nose radius.
        ap: depth of cut, on the side.
        tool: tag of a holder, bar or bit on record.
        insert: tag of its insert.
        overhang: how far the tool stands out.
        op: turn, face or bore.
        machine: whose speeds count.
        speeds: range of the chart in rev/min, instead.
        n: present spindle speed.
        diameter: where it cuts, for the cutting speed.
        vc: cutting speed, instead of both.
        heard: pitch of the chatter.
        marks: spacing of its marks along the cut.
    """

    setup: str = ""
    stiffness: str = ""
    frequency: str = ""
    damping: str = ""
    gives: str = ""
    Ks: str = ""
    material: str = ""
    feed: str = ""
    KAPR: str = ""
    RE: str = ""
    ap: str = ""
    tool: str = ""
    insert: str = ""
    overhang: str = ""
    op: str = "turn"
    machine: str = ""
    speeds: str = ""
    n: str = ""
    diameter: str = ""
    vc: str = ""
    heard: str = ""
    marks: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LobePoint:
    """One point of the chart; depth null where no depth within reach chatters."""

    n_rev_min: float
    b_lim_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class UsefulLobe:
    """A speed between two lobes worth going to.

    Attributes:
        n_rev_min: spindle speed.
        b_lim_mm: depth that holds there; null where none within reach chatters.
        gain: over the limit for all speeds.
        number: of the gap, 0 for the widest, at the highest speed.
    """

    n_rev_min: float
    b_lim_mm: float | None
    gain: float
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SlowSpeed:
    """What rubbing of the flank does at the present cutting speed, as a range: right within a factor of two.

    Attributes:
        vc_m_min: present cutting speed.
        wave_mm: length of the wave that chatter leaves on the work there: the spacing of its marks.
        quiet_m_min: cutting speed below which rubbing alone stops all chatter: lowest, likely, highest.
        gain: how many times further from chatter than without rubbing, by the lowest and highest; null for no
            chatter at all.
        why: in words.
    """

    vc_m_min: float | None
    wave_mm: float | None
    quiet_m_min: tuple[float, float, float]
    gain: tuple[float | None, float | None] | None
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutForces:
    """Forces of the cut at the depth told, in N, and the one along the way in which it gives."""

    Fc_N: float
    Ff_N: float
    Fp_N: float
    towards_N: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ChatterAnswer:
    """Where it starts to chatter.

    Attributes:
        verdict: the answer in a line.
        detail: how sure, and why.
        next_step: what to do.
        setup: how it is held.
        learned: what the logged cuts on it taught, in words.
        gives: which way it gives.
        cut: what cuts.
        k_N_mm: stiffness, boring bar included.
        frequency_hz: natural frequency.
        damping_ratio: damping.
        allowed_N_mm: stiffness of a cut that it bears at every speed.
        b_lim_mm: depth that holds at every speed; null where none within reach chatters.
        ap_mm: depth for which the next two hold: as told, else the limit.
        regenerative_stiffness_N_mm: of the cut at that depth.
        margin: allowed over it; null where the cut does not regenerate.
        chatter_hz: pitch at which it starts to ring.
        lobes: the chart.
        useful_lobes: speeds between lobes worth going to; the machine's own where one is told.
        lobes_why: whether lobes are of use, in words.
        slow: what a slow cutting speed does.
        modes: every point of the set-up: how it would sound and mark, and whether it fits what was heard.
        heard_hz: pitch as heard, or from the marks.
        machine_speeds: the machine's own speeds inside the chart.
        forces: of the cut; null for a bare figure.
        doubts: where the forces are not to be trusted.
        assumed: what was taken for granted.
        sources: where the figures come from.
        units: the user's own system.
    """

    verdict: str
    detail: str
    next_step: str
    setup: str
    learned: tuple[str, ...]
    gives: str
    cut: str
    k_N_mm: float
    frequency_hz: float
    damping_ratio: float
    allowed_N_mm: float
    b_lim_mm: float | None
    ap_mm: float
    regenerative_stiffness_N_mm: float
    margin: float | None
    chatter_hz: float
    lobes: tuple[LobePoint, ...]
    useful_lobes: tuple[UsefulLobe, ...]
    lobes_why: str
    slow: SlowSpeed
    modes: tuple[Mode, ...]
    heard_hz: float | None
    machine_speeds: tuple[float, ...]
    forces: CutForces | None
    doubts: tuple[str, ...]
    assumed: tuple[str, ...]
    sources: tuple[str, ...]
    units: str


def chatter_limit(address: str, request: ChatterRequest) -> ChatterAnswer:
    """Tell where a cut on a set-up starts to chatter, and at which speeds it does so later.

    Args:
        address: the store.
        request: as typed.

    Raises:
        InputError: something can't be read or can't be, or too little was told.
        UnknownName: a material, tool, machine, set-up or direction that is not on record.
        NotPossible: no cutting force is on record for the material.
    """
    with reading(address) as reader:
        system = reader.settings().get("units", "metric")
        facing = operation_of(request.op) == "facing"
        setup, held = setup_for(request, reader.setups(), system, facing=facing)
        if held is not None and (cuts := reader.cuts(setup_id=held.id)):
            setup, held = with_cuts(setup, held, cuts, reader.tooling(), system)
        machine, stands_said = machine_for(request.machine, held, reader.machines())
        edge, k_N_mm = _edge(request, reader, setup, system)
    speeds = speeds_of(machine)
    if request.machine and machine is not None and speeds is None:
        raise InputError(
            f"the speeds of the {machine.name} are not on record", "crib machine set enters them"
        )
    if speeds is None:
        stands_said = (NO_SPEEDS,)
    return _answer(request, setup, held, edge, k_N_mm, speeds, system, stands_said)


# -- what was asked ---------------------------------------------------------------------------------------


def _edge(request: ChatterRequest, reader: Reader, setup: Setup, system: str) -> tuple[Edge, float]:
    """Give what cuts, and the stiffness that it meets."""
    if request.tool:
        return recorded_edge(
            reader,
            tool=request.tool,
            insert=request.insert,
            material=request.material,
            feed=request.feed,
            operation=operation_of(request.op),
            setup=setup,
            overhang_mm=sized(request.overhang, "overhang", Kind.LENGTH, system),
            system=system,
        )
    if request.Ks:
        return straight_edge(request.Ks, system), setup.k_N_mm
    if not request.material:
        raise InputError(
            "what cuts?",
            "--Ks 2000 N/mm2, or --material 4140 --feed 0.2 --KAPR 95 --RE 0.8, or the same with --tool H01",
        )
    edge = told_edge(
        material=request.material,
        feed=request.feed,
        KAPR=request.KAPR,
        RE=request.RE,
        gives=setup.gives,
        system=system,
    )
    return edge, setup.k_N_mm


def _cutting_speed(request: ChatterRequest, system: str) -> tuple[float | None, float | None]:
    """Give present spindle speed and cutting speed, as far as they were told."""
    n = sized(request.n, "spindle speed", Kind.ROTATION, system)
    d_mm = sized(request.diameter, "diameter", Kind.LENGTH, system)
    vc = sized(request.vc, "cutting speed", Kind.SPEED, system)
    if n and d_mm:
        return n, cutting_speed(n, d_mm)
    if vc and d_mm and n is None:
        return vc / cutting_speed(1.0, d_mm), vc
    return n, vc


def _range(
    request: ChatterRequest, speeds: MachineSpeeds | None, frequency_hz: float, n: float | None
) -> tuple[float, float]:
    """Give the spindle speeds between which the chart is drawn."""
    if request.speeds:
        from crib.units import read_range

        low, high = read_range(request.speeds, Kind.ROTATION)
        if not 0.0 < low.value < high.value:
            raise InputError(f"a chart over {request.speeds} can't be", "--speeds '200 to 3000'")
        return low.value, high.value
    if speeds is not None:
        ends = speeds.steps or (speeds.low or 0.0, speeds.high or 0.0)
        if min(ends) < max(ends):
            return min(ends), max(ends)
    low_n, high_n = 60.0 * frequency_hz / SLOWEST_POCKET, 60.0 * frequency_hz / FASTEST_PART
    return (min(low_n, n), max(high_n, n)) if n else (low_n, high_n)


# -- the answer -------------------------------------------------------------------------------------------


def _answer(
    request: ChatterRequest,
    setup: Setup,
    held: Held | None,
    edge: Edge,
    k_N_mm: float,
    speeds: MachineSpeeds | None,
    system: str,
    speeds_said: tuple[str, ...],
) -> ChatterAnswer:
    damping, f_n = setup.damping_ratio, setup.frequency_hz
    allowed = chatter.allowed_stiffness(k_N_mm, damping)
    limit = edge.limit_of(k_N_mm, damping)
    told_ap = sized(request.ap, "depth", Kind.LENGTH, system)
    ap_mm = told_ap or limit or DEEPEST_MM
    tried = edge.tried(ap_mm)
    margin = chatter.margin(k_N_mm, damping, tried.K_N_mm)
    n, vc = _cutting_speed(request, system)
    negative = tried.K_N_mm < 0.0
    pitch = chatter.chatter_frequency(f_n, damping, negative=negative)
    chart, steps = _chart(edge, setup, k_N_mm, _range(request, speeds, f_n, n), speeds)
    useful, why = _useful(edge, setup, k_N_mm, chart, steps, n) if not negative else ((), NO_LOBES)
    slow = _slow(tried, setup, edge.rubbing, vc, pitch)
    heard = _heard(request, vc, system)
    modes = modes_of(setup, held, vc, heard)
    forces = tried.forces
    found: tuple[Doubt, ...] = ()
    if edge.tool and edge.work and edge.f_mm:
        found = doubts(ap_mm, edge.f_mm, edge.tool, edge.work, rules=tables.trust_rules(), vc_m_min=vc)
    keys = (*SOURCES, DAMPING_SOURCE, *[FORCE_SOURCE] * (forces is not None), *edge.keys)
    return ChatterAnswer(
        verdict=_verdict(limit, told_ap, margin, system),
        detail=_detail(k_N_mm, setup, allowed, tried, ap_mm, system),
        next_step=what_rings(modes, heard, n) if heard else _next_step(useful, slow, told_ap, margin, setup),
        setup=setup.label if k_N_mm == setup.k_N_mm else f"{setup.label} and tool",
        learned=held.learned if held else (),
        gives=setup.gives.words,
        cut=edge.words,
        k_N_mm=k_N_mm,
        frequency_hz=f_n,
        damping_ratio=damping,
        allowed_N_mm=allowed,
        b_lim_mm=limit,
        ap_mm=ap_mm,
        regenerative_stiffness_N_mm=tried.K_N_mm,
        margin=None if margin == inf else margin,
        chatter_hz=pitch,
        lobes=chart,
        useful_lobes=useful,
        lobes_why=why,
        slow=slow,
        modes=modes,
        heard_hz=heard,
        machine_speeds=steps,
        forces=None
        if forces is None
        else CutForces(
            Fc_N=forces.Fc_N,
            Ff_N=forces.Ff_N,
            Fp_N=forces.Fp_N,
            towards_N=force_towards(forces, setup.gives),
        ),
        doubts=tuple(one.why for one in found),
        assumed=tuple(dict.fromkeys((*setup.assumed, *speeds_said, *edge.assumed, *turning(heard, n)))),
        sources=tuple(dict.fromkeys(cite(key) for key in dict.fromkeys(keys))),
        units=system,
    )


def _chart(
    edge: Edge, setup: Setup, k_N_mm: float, ends: tuple[float, float], speeds: MachineSpeeds | None
) -> tuple[tuple[LobePoint, ...], tuple[float, ...]]:
    """Give the chart, the machine's own speeds in it among the others, and those speeds."""
    low, high = ends
    steps = tuple(step for step in (speeds.steps if speeds else ()) if low <= step <= high)
    grid = {low + (high - low) * at / CHART_POINTS for at in range(CHART_POINTS + 1)} | set(steps)
    found = chatter.lobes(
        sorted(grid),
        k_N_mm=k_N_mm,
        frequency_hz=setup.frequency_hz,
        damping_ratio=setup.damping_ratio,
        depth_of=edge.depth_of,
    )
    return tuple(LobePoint(n_rev_min=one.n_rev_min, b_lim_mm=one.b_lim_mm) for one in found), steps


def _useful(
    edge: Edge,
    setup: Setup,
    k_N_mm: float,
    chart: Sequence[LobePoint],
    steps: Sequence[float],
    n: float | None,
) -> tuple[tuple[UsefulLobe, ...], str]:
    """Give the speeds between lobes that are worth going to, and the word on them."""
    rules, f_n, damping = tables.rigidity_rules(), setup.frequency_hz, setup.damping_ratio
    lowest = chatter.allowed_stiffness(k_N_mm, damping)
    low, high = chart[0].n_rev_min, chart[-1].n_rev_min
    found: list[UsefulLobe] = []
    for speed in steps or tuple(_tops(f_n, damping, int(rules.useful_pocket_last), low, high)):
        allowed = chatter.allowed_at_speed(speed, k_N_mm=k_N_mm, frequency_hz=f_n, damping_ratio=damping)
        number = max(0, round(60.0 * f_n / speed) - 1)
        gained = allowed / lowest
        if number <= rules.useful_pocket_last and gained >= rules.useful_pocket_gain:
            found.append(
                UsefulLobe(n_rev_min=speed, b_lim_mm=edge.depth_of(allowed), gain=gained, number=number)
            )
    useful = tuple(sorted(found, key=lambda one: -one.gain))
    fastest = high if n is None else n
    waves = 60.0 * f_n / fastest
    if useful:
        best = useful[0]
        whose = "of the machine's own speeds " if steps else ""
        return useful, (
            f"{whose}{best.n_rev_min:.0f} rev/min lies best between two lobes: "
            f"{best.gain:.1f} times the limit for all speeds"
        )
    at = f"at {fastest:.0f} rev/min" if n is not None else f"even at {fastest:.0f} rev/min"
    if waves > rules.useful_pocket_last + 1:
        return (), (
            f"{at} the work makes {waves:.0f} waves a turn: lobes lie too close together to be of use; "
            "only a slow cutting speed helps, by rubbing"
        )
    return (), "none of the speeds here lies well between two lobes"


def _tops(f_n: float, damping: float, last: int, low: float, high: float) -> Iterable[float]:
    """Give the best speed of each gap between lobes that lies in the range."""
    for number in range(last + 1):
        speed = 60.0 * f_n / chatter.pocket(number, damping)[1]
        if low <= speed <= high:
            yield speed


def _slow(tried: Tried, setup: Setup, rubbing: Rubbing, vc: float | None, pitch: float) -> SlowSpeed:
    """Give what rubbing does, by the lowest, likely and highest of its figures."""

    def quiet(C_N_m: float) -> float:
        return quiet_speed(tried.K_N_mm, tried.contact_mm, setup.frequency_hz, setup.damping_ratio, C_N_m)

    quiets = (quiet(rubbing.low_N_m), quiet(rubbing.C_N_m), quiet(rubbing.high_N_m))
    wave = chatter.wave_length(vc, pitch) if vc else None
    gains: tuple[float | None, float | None] | None = None
    if vc:
        ends = [damped_gain(vc, one, setup.damping_ratio) for one in (quiets[0], quiets[2])]
        gains = (None if ends[0] == inf else ends[0], None if ends[1] == inf else ends[1])
    return SlowSpeed(
        vc_m_min=vc, wave_mm=wave, quiet_m_min=quiets, gain=gains, why=_slow_words(quiets, gains, vc)
    )


def _slow_words(
    quiets: tuple[float, float, float], gains: tuple[float | None, float | None] | None, vc: float | None
) -> str:
    if quiets[2] == 0.0:
        return "moving along the cut it does not rub on its waves: a slow speed does not help"
    if quiets[0] == inf:
        return "the cut does not regenerate: it does not chatter this way"
    border = f"rubbing alone stops it below {quiets[1]:.0f} m/min ({quiets[0]:.0f} to {quiets[2]:.0f})"
    if gains is None or vc is None:
        return f"{border}; tell the speed (--n and --diameter, or --vc) to see how far that is"
    low, high = gains
    if low is None:
        return f"{border}: at {vc:.0f} m/min it keeps quiet at any depth"
    more = "without end" if high is None else f"to {high:.2g}"
    if high is not None and high < 1.1:
        return f"{border}: at {vc:.0f} m/min it does next to nothing"
    return f"{border}: at {vc:.0f} m/min the limit is {low:.2g} {more} times as far"


def _heard(request: ChatterRequest, vc: float | None, system: str) -> float | None:
    """Give the pitch as heard, or from the spacing of the marks."""
    if request.heard:
        return sized(request.heard, "pitch", Kind.FREQUENCY, system)
    if not request.marks:
        return None
    if vc is None:
        raise InputError("how fast was it cutting?", "marks tell a pitch with --n and --diameter, or --vc")
    pitch_mm = read(request.marks, Kind.LENGTH, system).value
    if pitch_mm <= 0.0:
        raise InputError(f"marks {request.marks} apart can't be", "it must be more than zero")
    return vc * 1000.0 / 60.0 / pitch_mm


def _verdict(limit: float | None, told_ap: float | None, margin: float, system: str) -> str:
    if limit is None:
        deepest = show(DEEPEST_MM, Kind.LENGTH, system)
        head = f"No depth up to {deepest} a side chatters"
    else:
        head = f"Holds at every speed up to {show(limit, Kind.LENGTH, system)} a side"
    if told_ap is None:
        return head + "."
    deep = show(told_ap, Kind.LENGTH, system, both=False)
    if margin >= 1.0:
        far = "" if margin == inf else f", {margin:.2g} times what it needs"
        return f"{head}: {deep} holds{far}."
    return f"{head}: {deep} rings, margin {margin:.2g}."


def _detail(k_N_mm: float, setup: Setup, allowed: float, tried: Tried, ap_mm: float, system: str) -> str:
    bears = show(allowed, Kind.STIFFNESS, system, both=False)
    has = show(abs(tried.K_N_mm), Kind.STIFFNESS, system, both=False)
    deep = show(ap_mm, Kind.LENGTH, system, both=False)
    sure = "partly assumed" if setup.assumed else "measured"
    if k_N_mm != setup.k_N_mm:
        return (
            f"Set-up and tool together bear a cut as stiff as {bears}; this one has {has} at {deep}. "
            f"By {sure} figures of the set-up and reckoned ones of the tool."
        )
    return f"The set-up bears a cut as stiff as {bears}; this one has {has} at {deep}. By {sure} figures."


def _next_step(
    useful: Sequence[UsefulLobe], slow: SlowSpeed, told_ap: float | None, margin: float, setup: Setup
) -> str:
    if told_ap is None or margin >= 1.0:
        if setup.assumed:
            return "Measure the set-up, push and tap: crib stiffness. The limit is in proportion to both."
        return "If it still rings: --heard '92 Hz' tells which mode it is; crib pick tells what to change."
    if useful:
        return f"Less depth, or try {useful[0].n_rev_min:.0f} rev/min where machine, chuck and head allow it."
    if slow.quiet_m_min[1] not in (0.0, inf):
        return (
            f"Less depth, or a cutting speed towards {slow.quiet_m_min[1]:.0f} m/min; crib pick tells more."
        )
    return "Less depth, a sharper or smaller nose, a stiffer support: crib pick tells what each gains."
