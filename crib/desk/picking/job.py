"""The job as it was asked, turned into figures: sizes, material, machine, set-up; and what was assumed."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from crib.desk import tables
from crib.desk.hands import hand_of
from crib.desk.picking.pass_depth import read_pass
from crib.desk.ringing.holding import Held, setup_for
from crib.desk.starting.conditions import Conditions, is_interrupted
from crib.desk.starting.costs import NO_COSTS, CostsTold, Prices, read_costs
from crib.desk.starting.material import read_material
from crib.desk.typed import sized
from crib.errors import InputError, NotPossible, UnknownName
from crib.store.read import Reader
from crib.store.rows import MachineRow, ProvenRow
from crib.trade.cutting.force import Work
from crib.trade.cutting.materials import Material
from crib.trade.cutting.power import drive_efficiency
from crib.trade.cutting.spindle import MachineSpeeds
from crib.trade.rigidity.setup import Setup
from crib.trade.tables import rows
from crib.units import Kind, read, show

OPERATIONS = {
    "turn": "turning",
    "turning": "turning",
    "face": "facing",
    "facing": "facing",
    "bore": "boring",
    "boring": "boring",
}
UNITLESS = re.compile(r"[\s\d.,/-]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class PickRequest(Conditions):
    """A cut as asked for, everything as typed; empty means not told.

    Attributes:
        op: turn, face or bore.
        material: any name of the work material; a hardness may stand behind it ("4140 at 300 HB").
        hardness: measured: "220 HB", "45 HRC".
        from_: size that is there: diameter, or for facing the length.
        to: size wanted.
        length: length of the cut along the feed.
        diameter: for facing: the largest diameter.
        machine: name of a machine on record.
        hand: left, right or neutral.
        site: where the tools must be; the site we are at if not told.
        setup: rigid, fair, weak or flimsy; or a kept set-up, as "pump liner" or "pump liner at mouth".
        stiffness: measured, at the cut.
        frequency: natural frequency, measured.
        damping: damping ratio, measured.
        gives: away, along, down, slanting, unknown, along the spindle, or several: "away and along".
        depth: depth of one pass at most, on the side unless said otherwise ("1/8 on diameter").
        overhang: how far the tool stands out of what clamps it.
        step: what each pass takes, on the sizes unless said otherwise ("1/16", "1 mm a side").
        feed: feed per revolution.
        costs: what time and edges cost.
    """

    op: str = ""
    material: str = ""
    hardness: str = ""
    from_: str = ""
    to: str = ""
    length: str = ""
    diameter: str = ""
    machine: str = ""
    hand: str = ""
    site: str = ""
    setup: str = ""
    stiffness: str = ""
    frequency: str = ""
    damping: str = ""
    gives: str = ""
    overhang: str = ""
    depth: str = ""
    step: str = ""
    feed: str = ""
    costs: CostsTold = NO_COSTS


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Job:
    """A cut in figures.

    Compared and hashed by identity, so that what hangs on the job alone can be kept for all candidates.

    Attributes:
        operation: "turning", "facing" or "boring".
        material: what is cut.
        hb: its Brinell hardness as told; None where the usual one counts.
        work: the same as the mechanics sees it.
        from_mm: size that is there.
        to_mm: size wanted.
        length_mm: way of the tool; None when not told.
        overhang_mm: how far the tool stands out; None when not told.
        d_mm: diameter where the speed is reckoned.
        machine: what is known of the machine; None when not told.
        speeds: its spindle speeds, None when not on record.
        feeds: its feeds, None when not on record.
        hand: hand of tool wanted, None for any.
        site_id: where the tools must be.
        site: that site's name.
        setup: how it gives.
        held: the kept set-up behind that; None where it is a word or only figures.
        conditions: what lowers speed and feed.
        depth_mm: depth of one pass as told, on the side.
        step_mm: the same in the measure of the sizes, where every pass takes just that; None for equal ones.
        f_mm: feed as told.
        system: units the user works in.
        own: the shop's own proven speeds for the material.
        own_wins: they stand in the place of the book's, not beside.
        prices: what time and edges cost; None where nothing was told.
        assumed: what was taken for granted, in words.
    """

    operation: str
    material: Material
    hb: float | None
    work: Work
    from_mm: float
    to_mm: float
    length_mm: float | None
    overhang_mm: float | None
    d_mm: float
    machine: MachineRow | None
    speeds: MachineSpeeds | None
    feeds: MachineSpeeds | None
    hand: str | None
    site_id: int
    site: str
    setup: Setup
    held: Held | None
    conditions: tuple[str, ...]
    depth_mm: float | None
    step_mm: float | None
    f_mm: float | None
    system: str
    own: tuple[ProvenRow, ...]
    own_wins: bool
    prices: Prices | None
    assumed: tuple[str, ...]

    @property
    def on_diameter(self) -> bool:
        """Whether the sizes are diameters."""
        return self.operation != "facing"

    @property
    def interrupted(self) -> bool:
        """Whether the tool is struck."""
        return is_interrupted(self.conditions)

    @property
    def weak(self) -> bool:
        """Whether the set-up was called weak or flimsy."""
        return self.setup.label.startswith(("weak", "flimsy"))

    @property
    def stock_mm(self) -> float:
        """What is to come off, on the side."""
        return abs(self.from_mm - self.to_mm) / (2.0 if self.on_diameter else 1.0)


def understand_job(request: PickRequest, reader: Reader) -> Job:
    """Turn what was asked into figures.

    Args:
        request: as typed.
        reader: the store, for machines, sites and settings.

    Raises:
        InputError: a size or word that can't be read, or sizes that run the wrong way.
        UnknownName: a material, machine, site or set-up that is not on record.
        NotPossible: which site we are at is not set, or no cutting force is on record for the material.
    """
    settings = reader.settings()
    system = settings.get("units", "metric")
    operation = operation_of(request.op)
    material, hardness = read_material(request.material, request.hardness)
    kc11, mc = material.kienzle()
    from_mm, to_mm = _sizes(request, operation, system)
    site_id, site = _site(request.site or settings.get("site", ""), reader)
    setup, held = setup_for(request, reader.setups(), system, facing=operation == "facing")
    machine, stands_said = machine_for(request.machine, held, reader.machines())
    hand, hand_said = _hand(request.hand, machine, operation)
    depth_mm, step_mm = _depths(request, operation, system)
    length_mm, d_mm, said = _way(request, operation, from_mm, to_mm, system)
    _check_machine(machine, operation, d_mm, length_mm)
    return Job(
        operation=operation,
        material=material,
        hb=hardness.hb if hardness else None,
        work=Work(kc11_N_mm2=kc11, mc=mc, iso513=material.iso513),
        from_mm=from_mm,
        to_mm=to_mm,
        length_mm=length_mm,
        overhang_mm=_overhang(request, operation, length_mm, system),
        d_mm=d_mm,
        machine=machine,
        speeds=speeds_of(machine),
        feeds=MachineSpeeds(steps=machine.feeds_mm) if machine and machine.feeds_mm else None,
        hand=hand,
        site_id=site_id,
        site=site,
        setup=setup,
        held=held,
        conditions=request.conditions,
        depth_mm=depth_mm,
        step_mm=step_mm,
        f_mm=sized(request.feed, "feed", Kind.FEED, system),
        system=system,
        own=reader.proven(material.id),
        own_wins=settings.get("speeds") == "own",
        prices=read_costs(request.costs, settings.get("currency", "")) if request.costs.told else None,
        assumed=(
            *(hardness.assumed if hardness else ()),
            *_force_said(material),
            *stands_said,
            *_machine_said(machine),
            *hand_said,
            *said,
            *setup.assumed,
        ),
    )


def operation_of(op: str) -> str:
    """Give the operation that a word names.

    Raises:
        UnknownName: no such operation.
    """
    try:
        return OPERATIONS[op.strip().lower()]
    except KeyError:
        raise UnknownName("operation", op, hint="turn, face or bore") from None


def machine_of(name: str, machines: Sequence[MachineRow]) -> MachineRow | None:
    """Give the machine of that name or path; None for no name.

    Raises:
        InputError: several machines are called that.
        UnknownName: no such machine on record.
    """
    if not name:
        return None
    wanted = name.strip().lower()
    found = [machine for machine in machines if wanted == machine.path.lower()]
    found = found or [machine for machine in machines if wanted == machine.name.lower()]
    if len(found) > 1:
        paths = ", ".join(machine.path for machine in found)
        raise InputError(f"{len(found)} machines are called {name!r}", f"give the path: {paths}")
    if found:
        return found[0]
    names = [machine.name for machine in machines]
    near = get_close_matches(wanted, [known.lower() for known in names], n=1, cutoff=0.8)
    if near:  # "boring mil": a slip, not another machine
        return next(machine for machine in machines if machine.name.lower() == near[0])
    raise UnknownName("machine", name, names)


def machine_for(
    name: str, held: Held | None, machines: Sequence[MachineRow]
) -> tuple[MachineRow | None, tuple[str, ...]]:
    """Give the machine as told, else the one that the kept set-up stands on, and a word where that is so.

    Raises:
        InputError: several machines are called that.
        UnknownName: no such machine on record.
    """
    if name or held is None or held.machine_id is None:
        return machine_of(name, machines), ()
    machine = next(machine for machine in machines if machine.place_id == held.machine_id)
    return machine, (f"on the {machine.name}, where the set-up '{held.name}' is kept",)


def speeds_of(machine: MachineRow | None) -> MachineSpeeds | None:
    """Give the spindle speeds of a machine; None where none are on record."""
    if machine is None:
        return None
    if machine.speeds_rev_min:
        return MachineSpeeds(steps=machine.speeds_rev_min)
    if machine.speed_low_rev_min and machine.speed_high_rev_min:
        return MachineSpeeds(low=machine.speed_low_rev_min, high=machine.speed_high_rev_min)
    return None


def efficiency(machine: MachineRow | None) -> float:
    """Give the drive's efficiency: on record, else the low end of what is usual."""
    if machine and machine.efficiency:
        return machine.efficiency
    return drive_efficiency("unknown", rows)[0]


def _sizes(request: PickRequest, operation: str, system: str) -> tuple[float, float]:
    if not (request.from_ and request.to):
        raise InputError("the size that is there and the size wanted are needed", "--from 80 mm --to 76 mm")
    from_mm, to_mm = _two_sizes(request.from_, request.to, system)
    if operation == "boring" and to_mm <= from_mm:
        raise InputError(
            f"boring from {request.from_} to {request.to} takes nothing off", "a bore grows: swap them"
        )
    if operation != "boring" and to_mm >= from_mm:
        raise InputError(
            f"{operation} from {request.from_} to {request.to} takes nothing off", "the size falls: swap them"
        )
    return from_mm, to_mm


def _two_sizes(one: str, other: str, system: str) -> tuple[float, float]:
    """Read two sizes; one without a unit takes the other's: from 16 to 16 3/8 in."""
    first, second = (read(text, Kind.LENGTH, system) for text in (one, other))
    if UNITLESS.fullmatch(one) and not UNITLESS.fullmatch(other):
        first = read(one, Kind.LENGTH, second.system)
    elif UNITLESS.fullmatch(other) and not UNITLESS.fullmatch(one):
        second = read(other, Kind.LENGTH, first.system)
    return first.value, second.value


def _check_machine(
    machine: MachineRow | None, operation: str, widest_mm: float, length_mm: float | None
) -> None:
    """Refuse what the machine can't do by its record.

    Raises:
        NotPossible: a drill is to turn, the work does not swing, or the cut is longer than the travel.
    """
    if machine is None:
        return
    if machine.kind == "drill":
        what = f"the {machine.name} neither turns nor bores to size"
        raise NotPossible(what, "name a lathe or a boring mill")
    swing = machine.swing_mm if machine.kind == "lathe" and operation != "boring" else None
    if swing and widest_mm > swing:
        widest, most = show(widest_mm, Kind.LENGTH), show(swing, Kind.LENGTH)
        what = f"⌀{widest} does not swing in the {machine.name}: {most} on record"
        raise NotPossible(what, "name another machine, or none")
    if length_mm is not None and machine.travel_mm and length_mm > machine.travel_mm:
        long, most = show(length_mm, Kind.LENGTH), show(machine.travel_mm, Kind.LENGTH)
        what = f"{long} is longer than the {machine.name} travels: {most} on record"
        raise NotPossible(what, "cut it in two settings, or name another machine")


def _way(
    request: PickRequest, operation: str, from_mm: float, to_mm: float, system: str
) -> tuple[float | None, float, tuple[str, ...]]:
    """Give the way of the tool, the diameter that sets the speed, and what was assumed of them."""
    length = _length(request.length, "length", system)
    diameter = _length(request.diameter, "diameter", system)
    if operation == "facing":
        if diameter is None:
            raise InputError("facing needs the largest diameter", "--diameter 200 mm")
        if length is not None and length > diameter / 2.0:
            across, most = (show(mm, Kind.LENGTH, system) for mm in (length, diameter / 2.0))
            raise InputError(
                f"a cut {across} long is past the centre of that face", f"{most} at most, or no length"
            )
        said = () if length else ("faced to the centre",)
        return length or diameter / 2.0, diameter, said
    said = () if length else ("length not told: no time is reckoned",)
    return length, max(from_mm, to_mm), said


def _overhang(request: PickRequest, operation: str, length_mm: float | None, system: str) -> float | None:
    """Give how far the tool stands out; None where it is not told.

    Raises:
        InputError: a bar that does not come to the end of its bore.
    """
    out_mm = _length(request.overhang, "overhang", system)
    if out_mm is not None and operation == "boring" and length_mm is not None and out_mm < length_mm:
        what = f"out {request.overhang} the tool does not come through a bore of {request.length}"
        raise InputError(what, "an overhang of at least that, or none: then it is as short as can be")
    return out_mm


def _depths(request: PickRequest, operation: str, system: str) -> tuple[float | None, float | None]:
    """Give the depth of a pass on the side, and the step where every pass is to take just that."""
    if request.depth and request.step:
        raise InputError(f"a pass is told twice: {request.depth} and {request.step}", "either depth or step")
    on_diameter, told = operation != "facing", request.step or request.depth
    if not told:
        return None, None
    size_mm, each = read_pass(told, system, sizes_on_diameter=on_diameter, usual_side=not request.step)
    depth_mm = size_mm / 2.0 if on_diameter else size_mm
    return depth_mm, size_mm if request.step or each else None


def _length(text: str, what: str, system: str) -> float | None:
    return sized(text, what, Kind.LENGTH, system)


def _site(name: str, reader: Reader) -> tuple[int, str]:
    sites = [place for place in reader.places() if place.kind == "site"]
    for site in sites:
        if site.name.lower() == name.strip().lower() or (not name and len(sites) == 1):
            return site.id, site.name
    if not name:
        raise NotPossible("which site you are at is not set", "crib setting site NAME, or --site")
    raise UnknownName("site", name, [site.name for site in sites])


def _hand(text: str, machine: MachineRow | None, operation: str) -> tuple[str | None, tuple[str, ...]]:
    if text:
        return hand_of(text), ()
    if machine and machine.kind == "lathe":
        way = "feeding inwards from the front" if operation == "facing" else "feeding towards the headstock"
        return "R", (f"right-hand tool: {way} (--hand left for the other way)",)
    return None, ("hand not told: both hands are offered; mind which way the spindle turns and feeds",)


def _force_said(material: Material) -> tuple[str, ...]:
    """Say how far the sources of the cutting force lie apart, and like cuts."""
    kc11, low, high = material.kc11_N_mm2, material.kc_low_N_mm2, material.kc_high_N_mm2
    scatter = f"forces of like cuts scatter by {tables.force_model().scatter:.0%} either way on top"
    if kc11 is None or low is None or high is None or low == high:
        return (*material.assumed, scatter)
    band = f"specific force kc1.1 {kc11:.0f} N/mm²; sources run from {low:.0f} to {high:.0f}"
    return (*material.assumed, band, scatter)


def _machine_said(machine: MachineRow | None) -> tuple[str, ...]:
    if machine is None:
        return ("machine not told: speed and feed without its steps, no check of power",)
    missing = [
        name
        for name, value in (
            ("spindle speeds", speeds_of(machine)),
            ("feeds", machine.feeds_mm),
            ("power", machine.power_kw),
        )
        if not value
    ]
    return (f"{machine.name}: {', '.join(missing)} not on record",) if missing else ()
