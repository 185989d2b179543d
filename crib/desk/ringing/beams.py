"""A boring bar, or round work in the lathe, as a spring: how stiff, how it rings, how far out it may be."""

from dataclasses import dataclass

from crib.desk import tables
from crib.desk.keeping.sources import cite
from crib.desk.typed import sized
from crib.errors import BadQuantity, InputError, UnknownName
from crib.store.read import Reader, reading
from crib.store.rows import BarRow
from crib.trade.rigidity.bars import (
    BarMaterial,
    Reach,
    bar_frequency_hz,
    bar_mass_kg,
    find_bar_material,
    reach_words,
    shear_share,
    tip_stiffness,
)
from crib.trade.rigidity.deflection import HELD, weakest_mm, work_frequency_hz, work_give_mm
from crib.trade.rigidity.measuring import CLAMP_SOURCE, modal_mass_kg
from crib.units import Kind, read, show

BEAM_SOURCE = "bar_beams"
LEAST_SHEAR = 0.02  # a smaller part is not worth naming


@dataclass(frozen=True, slots=True, kw_only=True)
class BarRequest:
    """A bar as typed; empty means not told.

    Attributes:
        bar: diameter, or the tag of a bar on record.
        overhang: from the clamp to the tip.
        material: steel, heavy metal, carbide; of a bar on record its own.
        bore: hole along it.
        head: mass of head or cartridge at its tip.
    """

    bar: str
    overhang: str = ""
    material: str = ""
    bore: str = ""
    head: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkRequest:
    """Round work as typed; empty means not told.

    Attributes:
        work: diameter.
        length: free length.
        held: chuck, centres, or chuck and centre.
        at: where the tool stands, from the chuck or headstock; where it bends most, if not told.
        material: steel, grey iron, aluminium, bronze.
        bore: hole along it.
    """

    work: str
    length: str = ""
    held: str = ""
    at: str = ""
    material: str = ""
    bore: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beam:
    """How stiff a bar or round work is.

    Attributes:
        verdict: the answer in a line.
        detail: how sure, and why.
        next_step: what to do with it.
        k_N_mm: stiffness as expected, and its band: what a real clamp leaves.
        k_ideal_N_mm: in a clamp that gives nothing.
        frequency_hz: natural frequency as expected, and its band.
        modal_mass_kg: mass that swings.
        damping_ratio: always null: reckoning tells none.
        d_mm: diameter.
        length_mm: overhang or free length.
        length_of_diameter: one over the other.
        at_mm: where it is pushed, from the clamp.
        material: what it is made of.
        reach: diameters that such a bar may stand out, lowest and highest of the guides; null for work.
        notes: what to know.
        assumed: what was taken for granted.
        sources: where the figures come from.
        units: the user's own system.
    """

    verdict: str
    detail: str
    next_step: str
    k_N_mm: float
    k_low_N_mm: float
    k_high_N_mm: float
    k_ideal_N_mm: float
    frequency_hz: float
    frequency_low_hz: float
    frequency_high_hz: float
    modal_mass_kg: float
    damping_ratio: float | None
    d_mm: float
    length_mm: float
    length_of_diameter: float
    at_mm: float
    material: str
    reach: tuple[float, float] | None
    notes: tuple[str, ...]
    assumed: tuple[str, ...]
    sources: tuple[str, ...]
    units: str


def bar(address: str, request: BarRequest) -> Beam:
    """Reckon a boring bar.

    Raises:
        InputError: a size that can't be read or can't be, or the overhang is not told.
        UnknownName: no such material, or no bar on record is called so.
    """
    with reading(address) as reader:
        system = reader.settings().get("units", "metric")
        d_mm, known, reach_mm, assumed = _bar_told(request.bar, reader, system)
    out_mm = sized(request.overhang, "overhang", Kind.LENGTH, system) or reach_mm
    if out_mm is None:
        raise InputError("how far does the bar stand out?", "--overhang 150 mm")
    if not request.overhang:
        assumed = (*assumed, f"out its whole reach, {show(out_mm, Kind.LENGTH, system)}")
    typed = request.material or known
    if not typed:
        assumed = (*assumed, "made of steel")
    material = find_bar_material(typed or "steel", tables.bar_materials())
    bore_mm = sized(request.bore, "bore", Kind.LENGTH, system) or 0.0
    head_kg = sized(request.head, "mass", Kind.MASS, system) or 0.0
    return _answer(_bar(d_mm, out_mm, material, bore_mm, head_kg), assumed, system)


def work(address: str, request: WorkRequest) -> Beam:
    """Reckon round work held in the lathe.

    Raises:
        InputError: a size that can't be read or can't be, or is not told.
        UnknownName: no such material or way of holding.
    """
    with reading(address) as reader:
        system = reader.settings().get("units", "metric")
    d_mm = sized(request.work, "diameter", Kind.LENGTH, system)
    length_mm = sized(request.length, "length", Kind.LENGTH, system)
    if d_mm is None or length_mm is None:
        raise InputError("how long is the work, from the chuck or between the centres?", "--length 400 mm")
    held = " ".join(request.held.lower().replace("+", " and ").split()) or "chuck"
    assumed = () if request.held else ("held in the chuck alone (--held centres, or chuck and centre)",)
    if not request.material:
        assumed = (*assumed, "made of steel")
    material = find_bar_material(request.material or "steel", tables.bar_materials())
    bore_mm = sized(request.bore, "bore", Kind.LENGTH, system) or 0.0
    at_mm = read(request.at, Kind.LENGTH, system).value if request.at else weakest_mm(length_mm, held)
    return _answer(_work(d_mm, length_mm, at_mm, material, bore_mm, held, system), assumed, system)


def _bar_told(text: str, reader: Reader, system: str) -> tuple[float, str, float | None, tuple[str, ...]]:
    """Give diameter, material, reach and assumptions of a bar told by size or by tag."""
    try:
        return sized(text, "diameter", Kind.LENGTH, system) or 0.0, "", None, ()
    except BadQuantity as error:
        bars = reader.tooling().bars
        found = next((row for row in bars if row.item.tag.lower() == text.strip().lower()), None)
        if found is None:
            if any(sign.isdigit() for sign in text.strip()[:1]):
                raise
            tags = [row.item.tag for row in bars]
            raise UnknownName("bar", text, tags[:8], "a diameter, or the tag of a bar on record") from error
    return _recorded(found)


def _recorded(row: BarRow) -> tuple[float, str, float | None, tuple[str, ...]]:
    if row.dcon_mm is None:
        raise InputError(f"the diameter of {row.item.tag} is not on record", "give it: --bar 25 mm")
    return row.dcon_mm, row.shank_material or "", row.reach_mm, (f"{row.item.tag} {row.item.label}",)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Spring:
    """What was told of a bar or of work, and what follows in a holding that gives nothing."""

    d_mm: float
    length_mm: float
    at_mm: float
    material: BarMaterial
    ideal_N_mm: float
    rings_hz: float
    where: str
    held_by: str
    reach: Reach | None = None
    notes: tuple[str, ...] = ()


def _bar(d_mm: float, out_mm: float, material: BarMaterial, bore_mm: float, head_kg: float) -> _Spring:
    shear = shear_share(d_mm, out_mm, bore_mm)
    ideal = tip_stiffness(d_mm, out_mm, material.E_N_mm2, bore_mm)
    own_kg = bar_mass_kg(d_mm, out_mm, material.rho_kg_m3, bore_mm)
    reach = tables.bar_reach().get(material.name)
    notes = []
    if reach:
        said = reach_words(out_mm, d_mm, reach)
        notes.append(said or f"{out_mm / d_mm:.3g} diameters out: inside what {material.name} takes")
    if shear >= LEAST_SHEAR:
        notes.append(f"shear takes {shear / (1.0 + shear):.0%} of the stiffness of so short a bar")
    return _Spring(
        d_mm=d_mm,
        length_mm=out_mm,
        at_mm=out_mm,
        material=material,
        ideal_N_mm=ideal,
        rings_hz=bar_frequency_hz(ideal, own_kg, head_kg),
        where="at the tip",
        held_by="the clamp",
        reach=reach,
        notes=tuple(notes),
    )


def _work(
    d_mm: float, length_mm: float, at_mm: float, material: BarMaterial, bore_mm: float, held: str, system: str
) -> _Spring:
    def give(at: float, how: str) -> float:
        return work_give_mm(1.0, d_mm, length_mm, at, material.E_N_mm2, how, bore_mm)

    if give(at_mm, held) <= 0.0:
        raise InputError("at the place where it is held it gives nothing", "--at a place between")
    weakest = {how: give(weakest_mm(length_mm, how), how) for how in HELD}
    return _Spring(
        d_mm=d_mm,
        length_mm=length_mm,
        at_mm=at_mm,
        material=material,
        ideal_N_mm=1.0 / give(at_mm, held),
        rings_hz=work_frequency_hz(d_mm, length_mm, material.E_N_mm2, material.rho_kg_m3, held, bore_mm),
        where=f"{show(round(at_mm, 1), Kind.LENGTH, system)} along",
        held_by={"chuck": "the chuck", "centres": "the centres"}.get(held, "chuck and centre"),
        notes=tuple(
            f"held by {how} instead: {_times(weakest[held] / weakest[how])} where it is weakest"
            for how in HELD
            if how != held
        ),
    )


def _times(stiffer: float) -> str:
    return f"{stiffer:.2g} times as stiff" if stiffer >= 1.0 else f"{1.0 / stiffer:.2g} times as soft"


def _answer(spring: _Spring, assumed: tuple[str, ...], system: str) -> Beam:
    """Put what a real holding leaves of the ideal figures into an answer."""
    rules, material = tables.measuring_rules(), spring.material
    soft, stiff = material.E_low_N_mm2 / material.E_N_mm2, material.E_high_N_mm2 / material.E_N_mm2
    low, high = spring.ideal_N_mm * soft * rules.clamp_low, spring.ideal_N_mm * stiff * rules.clamp_high
    k_N_mm = spring.ideal_N_mm * rules.clamp
    f_low, f_high = rules.clamp_frequency_low, rules.clamp_frequency_high
    frequency, ratio = spring.rings_hz * rules.clamp_frequency, spring.length_mm / spring.d_mm
    keys = (BEAM_SOURCE, CLAMP_SOURCE, *material.source.split())
    keys += tuple(spring.reach.source.split()) if spring.reach else ()
    words = [show(k, Kind.STIFFNESS, system, both=False) for k in (low, high, spring.ideal_N_mm)]
    return Beam(
        verdict=f"{show(k_N_mm, Kind.STIFFNESS, system)} {spring.where}, rings at about {frequency:.0f} Hz; "
        f"{ratio:.3g} diameters.",
        detail=f"From {words[0]} to {words[1]}, by {spring.held_by}; {words[2]} if that gave nothing.",
        next_step=f"Push it there and tap it: much hangs on {spring.held_by}, and damping is not reckoned.",
        k_N_mm=k_N_mm,
        k_low_N_mm=low,
        k_high_N_mm=high,
        k_ideal_N_mm=spring.ideal_N_mm,
        frequency_hz=frequency,
        frequency_low_hz=spring.rings_hz * f_low,
        frequency_high_hz=spring.rings_hz * f_high,
        modal_mass_kg=modal_mass_kg(spring.ideal_N_mm, spring.rings_hz),
        damping_ratio=None,
        d_mm=spring.d_mm,
        length_mm=spring.length_mm,
        length_of_diameter=ratio,
        at_mm=spring.at_mm,
        material=material.name,
        reach=(spring.reach.low, spring.reach.high) if spring.reach else None,
        notes=spring.notes,
        assumed=(
            *assumed,
            f"left of the ideal stiffness by {spring.held_by}: {rules.clamp_low:g} to {rules.clamp_high:g}",
        ),
        sources=tuple(dict.fromkeys(cite(key) for key in dict.fromkeys(keys))),
        units=system,
    )
