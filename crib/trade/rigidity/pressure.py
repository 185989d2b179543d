"""Tool pressure: how hard a cut pushes on a set-up where it gives, against a plain reference insert.

The pressure is the length of the force vector with each part weighted by how much the set-up gives that
way. Its ratio to the reference insert at the same depth and feed tells more than the newtons: what is
uncertain in the material falls out of it. What remains uncertain (assumed rake and hone, the direction in
which a nose pushes) is given as a band; candidates whose bands overlap are a tie.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import sqrt

from crib.errors import TableError
from crib.trade.cutting.force import ForceModel, Forces, Work, cutting_forces
from crib.trade.cutting.tool import CuttingTool
from crib.trade.rigidity.setup import Gives


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """Judgements of this room, from the table "rigidity_rules".

    Attributes:
        reference: the plain reference insert.
        low_pressure_ratio: at or below this ratio a tool is called low-pressure.
        reason_share: a property that changes the pressure by less is not named.
        useful_pocket_gain: a gap between lobes that raises the limit this much is worth hunting.
        useful_pocket_last: gaps beyond this one lie too close together.
        process_damping_N_m: flank contact force per edge length and slope of the wave.
    """

    reference: CuttingTool
    low_pressure_ratio: float
    reason_share: float
    useful_pocket_gain: float
    useful_pocket_last: float
    process_damping_N_m: float

    @classmethod
    def load(cls, rows: Iterable[Mapping[str, str]]) -> "Rules":
        """Build from the rows of the table "rigidity_rules".

        Raises:
            TableError: a figure is missing.
        """
        figures = {row["name"]: float(row["value"]) for row in rows}
        head = "reference_"
        tool = {name.removeprefix(head): value for name, value in figures.items() if name.startswith(head)}
        rest = {name: value for name, value in figures.items() if not name.startswith(head)}
        try:
            return cls(reference=CuttingTool(SC="C", AN_deg=0.0, **tool), **rest)  # type: ignore[arg-type]
        except TypeError as error:
            raise TableError(f"table rigidity_rules: {error}") from error


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One property and what it does to the pressure.

    Attributes:
        name: rake, inclination, edge, land, nose or entering angle.
        words: the property against the reference's.
        share: -0.2 for a fifth less than with the reference's.
    """

    name: str
    words: str
    share: float

    @property
    def said(self) -> str:
        """The cause in a line."""
        return f"{self.words}: {abs(self.share) * 100:.0f} % {'less' if self.share < 0 else 'more'}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressure:
    """How hard a candidate pushes.

    Attributes:
        P_N: pressure.
        ratio: P_N over that of the reference insert in the same cut.
        low, high: band of the ratio.
        low_pressure: clearly less than the reference.
        causes: what makes it less (or more), the greatest first.
        forces: the three forces behind it.
    """

    P_N: float
    ratio: float
    low: float
    high: float
    low_pressure: bool
    causes: tuple[Cause, ...]
    forces: Forces

    @property
    def reasons(self) -> tuple[str, ...]:
        """The causes in words."""
        return tuple(cause.said for cause in self.causes)


def tool_pressure(forces: Forces, gives: Gives) -> float:
    """Give the pressure of one cut on a set-up that gives one way, in N.

    Args:
        forces: the forces of the cut.
        gives: which way the set-up gives.
    """
    return _weighted(forces.Fc_N, forces.Ff_N, forces.Fp_N, gives)


def compare(
    ap_mm: float,
    f_mm: float,
    tool: CuttingTool,
    work: Work,
    *,
    gives: Gives,
    rules: Rules,
    model: ForceModel,
    explain: bool = True,
) -> Pressure:
    """Compare a tool with the plain reference insert in the same cut.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: the candidate.
        work: what is cut.
        gives: which way the set-up gives.
        rules: reference insert and thresholds.
        model: constants of the force model.
        explain: find the reasons too. They cost more than all the rest: when thousands are ranked, ask
            for them only for those that are shown.

    Raises:
        InputError: a depth, feed, nose, entering angle or material that can't be.
    """
    forces = cutting_forces(ap_mm, f_mm, tool, work, model)
    pressure = tool_pressure(forces, gives)
    reference = tool_pressure(cutting_forces(ap_mm, f_mm, rules.reference, work, model), gives)
    low, high = _band(ap_mm, f_mm, tool, work, gives=gives, model=model, forces=forces)
    ratio = pressure / reference
    high /= reference
    found: tuple[Cause, ...] = ()
    if explain:
        found = causes(ap_mm, f_mm, tool, work, gives=gives, rules=rules, model=model, pressure=pressure)
    return Pressure(
        P_N=pressure,
        ratio=ratio,
        low=low / reference,
        high=high,
        low_pressure=ratio <= rules.low_pressure_ratio and high < 1.0,
        causes=found,
        forces=forces,
    )


def force_towards(forces: Forces, gives: Gives) -> float:
    """Give the force along the direction in which a set-up gives, in N; below 0 it draws them together.

    Args:
        forces: the forces of the cut.
        gives: which way the set-up gives.
    """
    return forces.Fp_N * gives.away + forces.Ff_N * gives.along + forces.Fc_N * gives.down


def tied(one: Pressure, other: Pressure) -> bool:
    """Tell whether the bands of two candidates overlap: then neither is surely the gentler."""
    return one.low <= other.high and other.low <= one.high


def _weighted(Fc_N: float, Ff_N: float, Fp_N: float, gives: Gives) -> float:
    away, along, down = gives.weight_away * Fp_N, gives.weight_along * Ff_N, gives.weight_down * Fc_N
    return sqrt(away * away + along * along + down * down)


def _ends(forces: Forces, gives: Gives) -> tuple[float, float]:
    """Give the pressure under either theory of the push's direction."""
    return (
        _weighted(forces.Fc_N, forces.Ff_local_N, forces.Fp_local_N, gives),
        _weighted(forces.Fc_N, forces.Ff_chord_N, forces.Fp_chord_N, gives),
    )


def _band(
    ap_mm: float,
    f_mm: float,
    tool: CuttingTool,
    work: Work,
    *,
    gives: Gives,
    model: ForceModel,
    forces: Forces,
) -> tuple[float, float]:
    """Give the least and greatest pressure that the assumed rake and hone and either theory allow, in N."""
    if not (tool.rake_assumed or tool.edge_assumed):
        one, other = _ends(forces, gives)
        return min(one, other), max(one, other)
    turn = model.band_rake_deg if tool.rake_assumed else 0.0
    less, more = (model.band_hone_low, model.band_hone_high) if tool.edge_assumed else (1.0, 1.0)
    keen = replace(tool, rake_deg=tool.rake_deg + turn, hone_um=tool.hone_um * less)
    dull = replace(tool, rake_deg=tool.rake_deg - turn, hone_um=tool.hone_um * more)
    ends = (
        *_ends(cutting_forces(ap_mm, f_mm, keen, work, model), gives),
        *_ends(cutting_forces(ap_mm, f_mm, dull, work, model), gives),
    )
    return min(ends), max(ends)


def causes(
    ap_mm: float,
    f_mm: float,
    tool: CuttingTool,
    work: Work,
    *,
    gives: Gives,
    rules: Rules,
    model: ForceModel,
    pressure: float | None = None,
) -> tuple[Cause, ...]:
    """Give what each property adds to the pressure or takes off: it is set to the reference's and recomputed.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: the candidate.
        work: what is cut.
        gives: which way the set-up gives.
        rules: reference insert and the least part worth naming.
        model: constants of the force model.
        pressure: the tool's pressure in N where it is known already.

    Returns:
        The greatest first. The parts do not add up: they act on one another.

    Raises:
        InputError: a depth, feed, nose, entering angle or material that can't be.
    """
    if pressure is None:
        pressure = tool_pressure(cutting_forces(ap_mm, f_mm, tool, work, model), gives)
    found = []
    for name, words, like in _swaps(ap_mm, tool, rules.reference):
        other = tool_pressure(cutting_forces(ap_mm, f_mm, like, work, model), gives)
        share = pressure / other - 1.0
        if abs(share) >= rules.reason_share:
            found.append(Cause(name=name, words=words, share=share))
    return tuple(sorted(found, key=lambda cause: -abs(cause.share)))


def _swaps(ap_mm: float, tool: CuttingTool, plain: CuttingTool) -> list[tuple[str, str, CuttingTool]]:
    """List the properties in which a tool differs from the reference, in words, and the tool without each."""
    swaps = []
    if tool.rake_deg != plain.rake_deg:
        clear = f" ({tool.AN_deg:g}° clearance)" if tool.AN_deg else ""
        words = f"rake {tool.rake_deg:+g}°{clear} against {plain.rake_deg:+g}°"
        swaps.append(("rake", words, replace(tool, rake_deg=plain.rake_deg)))
    if tool.LAMS_deg != plain.LAMS_deg:
        words = f"inclination {tool.LAMS_deg:g}° against {plain.LAMS_deg:g}°"
        swaps.append(("inclination", words, replace(tool, LAMS_deg=plain.LAMS_deg)))
    if tool.hone_um != plain.hone_um:
        words = f"edge rounding {tool.hone_um:g} µm against {plain.hone_um:g} µm"
        swaps.append(("edge", words, replace(tool, hone_um=plain.hone_um)))
    if tool.land_mm > 0.0:
        words = f"land {tool.land_mm:g} mm at {tool.land_rake_deg:g}° against none"
        swaps.append(("land", words, replace(tool, land_mm=0.0)))
    if tool.RE_mm != plain.RE_mm:
        words = f"nose {tool.RE_mm:g} mm against {plain.RE_mm:g} mm at {ap_mm:.3g} mm depth"
        swaps.append(("nose", words, replace(tool, RE_mm=plain.RE_mm)))
    if tool.KAPR_deg != plain.KAPR_deg:
        words = f"entering angle {tool.KAPR_deg:g}° against {plain.KAPR_deg:g}°"
        swaps.append(("entering angle", words, replace(tool, KAPR_deg=plain.KAPR_deg)))
    return swaps
