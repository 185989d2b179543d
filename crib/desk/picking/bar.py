"""What stands out and bends in a cut, boring bar or shank, as a spring behind the set-up."""

from dataclasses import dataclass

from crib.desk import tables
from crib.desk.picking.stock import Held, Pair, overhang_of
from crib.store.rows import BarRow, BitRow
from crib.trade.rigidity.bars import (
    BarMaterial,
    bar_frequency_hz,
    bar_mass_kg,
    find_bar_material,
    shank_mass_kg,
    shank_stiffness,
    tip_stiffness,
)
from crib.trade.rigidity.ladder import in_series


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A bar or shank as a spring, in a clamp that gives as real ones do.

    Attributes:
        DCON_mm: diameter; of a square shank its lesser side.
        square: it is a square shank.
        out_mm: how far it stands out.
        material: what it is made of.
        material_assumed: that is not on record.
    """

    DCON_mm: float
    square: bool
    out_mm: float
    material: BarMaterial
    material_assumed: bool

    @property
    def k_ideal_N_mm(self) -> float:
        """Stiffness at its tip in a clamp that gives nothing."""
        stiff = shank_stiffness if self.square else tip_stiffness
        return stiff(self.DCON_mm, self.out_mm, self.material.E_N_mm2)

    @property
    def k_N_mm(self) -> float:
        """Stiffness at its tip, as `crib stiffness --bar` reckons it."""
        return self.k_ideal_N_mm * tables.measuring_rules().clamp

    @property
    def rings_hz(self) -> float:
        """Frequency at which it would ring by itself."""
        mass = shank_mass_kg if self.square else bar_mass_kg
        ideal = bar_frequency_hz(self.k_ideal_N_mm, mass(self.DCON_mm, self.out_mm, self.material.rho_kg_m3))
        return ideal * tables.measuring_rules().clamp_frequency

    @property
    def named(self) -> str:
        """What it is, in a word and its size."""
        return f"shank {self.DCON_mm:g} square" if self.square else f"bar ⌀{self.DCON_mm:g}"


def stiffness_of(job: Held, pair: Pair) -> tuple[float, tuple[str, ...]]:
    """Give the stiffness of set-up and bar or shank one behind the other, in N/mm, and what was assumed.

    A bar bends sideways: only the part of the motion across it adds its give; along itself it is stiff.
    """
    bar = bar_of(job, pair)
    if bar is None:
        unknown = isinstance(pair.arm, BarRow) and pair.arm.dcon_mm is not None and across(job, pair) > 0.0
        left_out = "length and reach not known: the bar's own give is left out"
        return job.setup.k_N_mm, (left_out,) if unknown else ()
    rules = tables.measuring_rules()
    gives = (
        f"{bar.named} out {bar.out_mm:.0f} mm, {bar.out_mm / bar.DCON_mm:.2g} times its thickness, "
        f"gives too: {bar.k_N_mm / 1000:.3g} kN/mm, {rules.clamp:g} of that in an ideal clamp "
        f"(real ones leave {rules.clamp_low:g} to {rules.clamp_high:g})"
    )
    said = ["shank material not on record: reckoned as steel"] if bar.material_assumed else []
    return behind(job, pair, bar), (*said, gives)


def behind(job: Held, pair: Pair, bar: Bar) -> float:
    """Give the stiffness of the set-up and a bar or shank one behind the other, in N/mm."""
    return in_series(job.setup.k_N_mm, bar.k_N_mm / across(job, pair))


def across(job: Held, pair: Pair) -> float:
    """Give the part of the set-up's motion that lies across the bar or shank, squared.

    A bar lies along the feed of its bore, a square shank square to the feed; only in facing along it.
    """
    gives = job.setup.gives
    along_feed = isinstance(pair.arm, BarRow) or job.operation == "facing"
    return (gives.away if along_feed else gives.along) ** 2 + gives.down**2


def bar_of(job: Held, pair: Pair) -> Bar | None:
    """Give the bar or shank that bends in this cut; None where none does, or its size or reach is unknown."""
    return bar_in(job, pair) if across(job, pair) > 0.0 else None


def bar_in(job: Held, pair: Pair) -> Bar | None:
    """Give the bar or shank that cuts, whichever way it gives; None where size or reach is unknown."""
    arm, out_mm = pair.arm, overhang_of(job, pair.arm)
    if out_mm is None:
        return None
    if isinstance(arm, BarRow):
        size, material = arm.dcon_mm, arm.shank_material or ""
    elif isinstance(arm, BitRow):
        size, material = arm.shank_mm, "steel"
    else:
        size, material = min(filter(None, (arm.h_mm, arm.b_mm)), default=None), "steel"
    if size is None:
        return None
    known = tables.bar_materials()
    assumed = material.lower() not in known
    return Bar(
        DCON_mm=size,
        square=not isinstance(arm, BarRow),
        out_mm=out_mm,
        material=find_bar_material("steel" if assumed else material, known),
        material_assumed=assumed,
    )
