"""The boring bar of a cut as a spring, one behind the other with the set-up."""

from dataclasses import dataclass

from crib.desk import tables
from crib.desk.picking.stock import Held, Pair, overhang_of
from crib.store.rows import BarRow
from crib.trade.rigidity.bars import BarMaterial, find_bar_material, tip_stiffness
from crib.trade.rigidity.ladder import in_series


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A boring bar as a spring: diameter, how far it is out, what it is made of and whether that is known."""

    DCON_mm: float
    out_mm: float
    material: BarMaterial
    material_assumed: bool


def stiffness_of(job: Held, pair: Pair) -> tuple[float, tuple[str, ...]]:
    """Give the stiffness of set-up and boring bar one behind the other, in N/mm, and what was assumed.

    A bar bends sideways: only the part of the motion across it adds its give; along itself it is stiff.
    """
    bar = bar_of(job, pair)
    if bar is None:
        unknown = isinstance(pair.arm, BarRow) and pair.arm.dcon_mm is not None and across(job) > 0.0
        left_out = "length and reach not known: the bar's own give is left out"
        return job.setup.k_N_mm, (left_out,) if unknown else ()
    own = tip_stiffness(bar.DCON_mm, bar.out_mm, bar.material.E_N_mm2)
    gives = f"bar ⌀{bar.DCON_mm:g} out {bar.out_mm:.0f} mm gives too: {own / 1000:.3g} kN/mm, ideal clamp"
    said = ["shank material not on record: reckoned as steel"] if bar.material_assumed else []
    return in_series(job.setup.k_N_mm, own / across(job)), (*said, gives)


def across(job: Held) -> float:
    """Give the part of the set-up's motion that lies across a bar, squared."""
    gives = job.setup.gives
    return gives.away**2 + gives.down**2


def bar_of(job: Held, pair: Pair) -> Bar | None:
    """Give the bar that bends in this cut; None where none does, or how far it is out is not known."""
    return bar_in(job, pair) if across(job) > 0.0 else None


def bar_in(job: Held, pair: Pair) -> Bar | None:
    """Give the bar that cuts, whichever way the set-up gives; None where none does or reach is unknown."""
    arm = pair.arm
    if not isinstance(arm, BarRow) or arm.dcon_mm is None:
        return None
    known, material = tables.bar_materials(), arm.shank_material or ""
    overhang, assumed = overhang_of(job, arm), material.lower() not in known
    if overhang is None:
        return None
    found = find_bar_material("steel" if assumed else material, known)
    return Bar(DCON_mm=arm.dcon_mm, out_mm=overhang, material=found, material_assumed=assumed)
