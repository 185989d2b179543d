"""How stiff is it, and how does it ring? By a push, a tap, a recording, an added mass, a copied step."""

from dataclasses import dataclass, field, replace
from math import inf

from crib.desk import tables
from crib.desk.keeping.sources import cite
from crib.desk.ringing.readings import read_decay, read_list, step_as_typed
from crib.errors import InputError
from crib.store.read import reading
from crib.trade.rigidity.chatter import allowed_stiffness
from crib.trade.rigidity.measuring import (
    DECAY_SOURCE,
    MASS_SOURCE,
    PUSH_SOURCE,
    Estimate,
    mass_from_added,
    modal_mass_kg,
    modal_stiffness_N_mm,
    push_test,
    stiffness_from_step,
    wanted_push_N,
)
from crib.units import Kind, read, show, span

TAP_SOURCE = "measure_tap"
COPY_SOURCE = "bar_copying"


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureRequest:
    """What was measured, everything as typed; empty means not told.

    Attributes:
        force: forces of a push test, in the order taken.
        deflection: what the indicator read at each.
        resolution: finest step of the indicator; else the last digit of its readings.
        preload: readings below it are left out: it took up the play.
        frequency: at which it rings after a tap.
        decay: how that dies away.
        added_mass: a known mass clamped on where the tool cuts.
        frequency_with: at which it rings with that on.
        wav: path of a recording of taps.
        near: of the recording's peaks, the one nearest to this; else the strongest.
        copied: height of a step in the stock, on the side.
        left: what a pass left of it, on the side.
        depth: depth of that pass beside the step, on the side.
        feed: its feed.
        material: what was cut.
        KAPR: entering angle of the tool.
        RE: its nose radius.
    """

    force: tuple[str, ...] = ()
    deflection: tuple[str, ...] = ()
    resolution: str = ""
    preload: str = ""
    frequency: str = ""
    decay: str = ""
    added_mass: str = ""
    frequency_with: str = ""
    wav: str = ""
    near: str = ""
    copied: str = ""
    left: str = ""
    depth: str = ""
    feed: str = ""
    material: str = ""
    KAPR: str = ""
    RE: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PeakFound:
    """One frequency of a recording; null where no decay could be fitted."""

    frequency_hz: float
    frequency_low_hz: float
    frequency_high_hz: float
    damping_ratio: float | None
    damping_low: float | None
    damping_high: float | None
    level_db: float
    taps: int
    beats: bool
    chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What the measurement tells; null where it tells nothing of it, or leaves the end of a band open.

    Attributes:
        verdict: the answer in a line.
        detail: how sure, and why.
        next_step: what would make it surer.
        how: the ways in which it was measured.
        k_N_mm: stiffness where it was pushed, and its band.
        frequency_hz: natural frequency, and its band.
        damping_ratio: share of critical damping, and its band.
        modal_mass_kg: mass that swings, and its band.
        allowed_N_mm: regenerative stiffness of a cut that it bears at every speed.
        lost_motion_mm: how far the readings on the way back lie off.
        readings: that the line of a push test is drawn through.
        peaks: of a recording, the strongest first.
        notes: what to know of the readings.
        assumed: what was taken for granted.
        sources: where the methods come from.
        units: the user's own system.
    """

    verdict: str
    detail: str
    next_step: str
    how: tuple[str, ...]
    k_N_mm: float | None
    k_low_N_mm: float | None
    k_high_N_mm: float | None
    frequency_hz: float | None
    frequency_low_hz: float | None
    frequency_high_hz: float | None
    damping_ratio: float | None
    damping_low: float | None
    damping_high: float | None
    modal_mass_kg: float | None
    modal_mass_low_kg: float | None
    modal_mass_high_kg: float | None
    allowed_N_mm: float | None
    lost_motion_mm: float | None
    readings: int
    peaks: tuple[PeakFound, ...]
    notes: tuple[str, ...]
    assumed: tuple[str, ...]
    sources: tuple[str, ...]
    units: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """What is known so far, each way of measuring adding to it."""

    how: tuple[str, ...] = ()
    k: Estimate | None = None
    frequency: Estimate | None = None
    damping: Estimate | None = None
    mass: Estimate | None = None
    lost_motion_mm: float | None = None
    readings: int = 0
    peaks: tuple[PeakFound, ...] = ()
    notes: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    keys: tuple[str, ...] = field(default=())


def measure(address: str, request: MeasureRequest) -> Measured:
    """Tell stiffness, frequency, damping and moving mass from what was measured.

    Args:
        address: the store, for the user's units.
        request: as typed.

    Raises:
        InputError: something can't be read or can't be, or nothing was measured.
        UnknownName: a material that is not known.
    """
    with reading(address) as reader:
        system = reader.settings().get("units", "metric")
    return measured(request, system)


def measured(request: MeasureRequest, system: str) -> Measured:
    """Tell the same with the user's units given.

    Raises:
        InputError: something can't be read or can't be, or nothing was measured.
        UnknownName: a material that is not known.
    """
    found = _Found()
    if request.force or request.deflection:
        found = _pushed(found, request, system)
    if request.wav:
        found = _recorded(found, request, system)
    elif request.frequency or request.decay:
        found = _tapped(found, request)
    if request.added_mass or request.frequency_with:
        found = _weighted(found, request, system)
    if request.copied or request.left:
        found = _copied(found, request, system)
    if not found.how:
        raise InputError(
            "nothing was measured",
            '--force "300 N" --deflection "0.04 mm", or --frequency "92 Hz" --decay "10 to 4 in 5 cycles", '
            "or --wav tap.wav, or --bar 25 --overhang 150",
        )
    if found.k and found.frequency and found.mass is None:
        found = replace(found, mass=_mass(found.k, found.frequency), keys=(*found.keys, MASS_SOURCE))
    return _answer(found, system)


# -- the ways of measuring --------------------------------------------------------------------------------


def _pushed(found: _Found, request: MeasureRequest, system: str) -> _Found:
    """Add a push test."""
    rules = tables.measuring_rules()
    forces = read_list(request.force, Kind.FORCE, system)
    deflections = read_list(request.deflection, Kind.LENGTH, system)
    assumed = [f"forces right within {rules.force_error:.0%}"]
    if request.resolution:
        step = read(request.resolution, Kind.LENGTH, system).value
    else:
        step = step_as_typed(request.deflection, system)
        assumed.append(
            f"indicator read to {show(step, Kind.LENGTH, system, fine=True)}, the last digit typed"
            if step
            else "how finely the indicator reads is not told: its error is left out"
        )
    preload = read(request.preload, Kind.FORCE, system).value if request.preload else 0.0
    push = push_test(forces, deflections, step_mm=step, force_error=rules.force_error, preload_N=preload)
    return replace(
        found,
        how=(*found.how, "push test"),
        k=push.k_N_mm,
        lost_motion_mm=push.lost_motion_mm,
        readings=push.used,
        notes=(*found.notes, *_push_notes(push.k_N_mm, push.misfit_mm, step, max(forces), system)),
        assumed=(*found.assumed, *assumed),
        keys=(*found.keys, PUSH_SOURCE),
    )


def _push_notes(k: Estimate, misfit_mm: float, step_mm: float, most_N: float, system: str) -> list[str]:
    """Say what speaks against the readings of a push test."""
    rules, notes = tables.measuring_rules(), []
    wanted = wanted_push_N(k.value, step_mm, rules.fine_share)
    if step_mm and wanted > 1.5 * most_N:
        finer = show(most_N / k.value * rules.fine_share, Kind.LENGTH, system, fine=True)
        notes.append(
            f"too light a push to be sure: {show(wanted, Kind.FORCE, system)} (a lever or a jack), "
            f"or an indicator that reads {finer}, would settle it within {rules.fine_share:.0%}"
        )
    if misfit_mm > max(step_mm, 0.1 * most_N / k.value):
        off = show(misfit_mm, Kind.LENGTH, system, fine=True)
        notes.append(f"the readings lie up to {off} off the line: play, or a joint that stiffens under load")
    return notes


def _recorded(found: _Found, request: MeasureRequest, system: str) -> _Found:
    """Add a recording of taps."""
    from crib.desk.ringing.recording import read_wav
    from crib.trade.rigidity.ringing import analyse  # NumPy: only who has a recording waits for it

    try:
        rings = analyse(read_wav(request.wav), one_tap_share=tables.measuring_rules().one_tap_share)
    except InputError as error:
        raise InputError(f"the recording: {error.message}", error.hint) from error
    about = request.near or request.frequency
    chosen = rings.peaks[0]
    if about:
        near = read(about, Kind.FREQUENCY, system).value
        chosen = min(rings.peaks, key=lambda peak: abs(peak.frequency_hz.value - near))
    notes = [*found.notes]
    if chosen.beats:
        notes.append("its decay is no single one: two modes lie close together, or something rattles")
    if chosen.damping_ratio is None:
        notes.append("a steady tone: no tap dies away in it, so it tells no damping")
    if len(rings.peaks) > 1 and not about:
        notes.append(
            "several frequencies: the strongest is taken; touch the tool where it cuts and tap again: "
            "the one that dies is the one that counts (--near takes another)"
        )
    assumed = [*found.assumed]
    if chosen.taps == 1:
        share = tables.measuring_rules().one_tap_share
        assumed.append(f"one tap alone: damping right within {share:.0%}; tap five times")
    taps = f"{rings.taps} tap{'s' * (rings.taps != 1)}" if rings.taps else "no tap"
    return replace(
        found,
        how=(*found.how, f"recording, {taps} in {rings.seconds:.3g} s"),
        frequency=chosen.frequency_hz,
        damping=chosen.damping_ratio,
        peaks=tuple(
            PeakFound(
                frequency_hz=peak.frequency_hz.value,
                frequency_low_hz=peak.frequency_hz.low,
                frequency_high_hz=peak.frequency_hz.high,
                damping_ratio=peak.damping_ratio.value if peak.damping_ratio else None,
                damping_low=peak.damping_ratio.low if peak.damping_ratio else None,
                damping_high=peak.damping_ratio.high if peak.damping_ratio else None,
                level_db=peak.level_db,
                taps=peak.taps,
                beats=peak.beats,
                chosen=peak is chosen,
            )
            for peak in rings.peaks
        ),
        notes=tuple(notes),
        assumed=tuple(assumed),
        keys=(*found.keys, TAP_SOURCE, DECAY_SOURCE),
    )


def _tapped(found: _Found, request: MeasureRequest) -> _Found:
    """Add a frequency and a decay as read off."""
    hz = read(request.frequency, Kind.FREQUENCY).value if request.frequency else None
    if hz is not None and hz <= 0.0:
        raise InputError(f"a frequency of {request.frequency} can't be", "it must be more than zero")
    damping: Estimate | None = None
    assumed = [*found.assumed]
    if request.decay:
        ratio, middle = read_decay(request.decay, hz)
        hz = middle if hz is None else hz
        out = tables.measuring_rules().one_tap_share
        damping = Estimate(value=ratio, low=ratio * (1.0 - out), high=ratio * (1.0 + out))
        assumed.append(f"damping right within {out:.0%}: tap five times, take the median")
    return replace(
        found,
        how=(*found.how, "tap test"),
        frequency=None if hz is None else Estimate(value=hz, low=hz, high=hz),
        damping=damping,
        assumed=tuple(assumed),
        keys=(*found.keys, TAP_SOURCE, *[DECAY_SOURCE] * bool(damping)),
    )


def _weighted(found: _Found, request: MeasureRequest, system: str) -> _Found:
    """Add the frequency with a known mass clamped on."""
    if not (request.added_mass and request.frequency_with and found.frequency):
        raise InputError(
            "a mass clamped on tells something with three figures",
            '--frequency "92 Hz" --added-mass "2 kg" --frequency-with "84 Hz"',
        )
    added = read(request.added_mass, Kind.MASS, system).value
    heavy = read(request.frequency_with, Kind.FREQUENCY, system).value
    alone = found.frequency
    mass = mass_from_added(added, alone.value, heavy)
    # half a step of the last digit either way, as for any reading; the ratio of the two is what counts
    off = _last_digit(request.frequency_with) / 2.0
    near, far = alone.value - off, alone.value + off
    high = mass_from_added(added, near, heavy + off) if near > heavy + off else inf
    band = Estimate(value=mass, low=mass_from_added(added, far, max(heavy - off, 1e-9)), high=high)
    stiff = [modal_stiffness_N_mm(one, alone.value) for one in (band.value, band.low)]
    top = modal_stiffness_N_mm(high, alone.value) if high != inf else high
    notes = [*found.notes]
    if found.k is not None:
        by_push = show(found.k.value, Kind.STIFFNESS, system)
        notes.append(f"the push test says {by_push}: by force and by mass they may differ by half")
    return replace(
        found,
        how=(*found.how, "mass clamped on"),
        k=found.k or Estimate(value=stiff[0], low=stiff[1], high=top),
        mass=band,
        notes=tuple(notes),
        assumed=(*found.assumed, f"frequencies read to {2 * off:g} Hz, the last digit typed"),
        keys=(*found.keys, MASS_SOURCE),
    )


def _last_digit(text: str) -> float:
    """Give the step of the last digit of a frequency as typed, in the unit typed, as Hz."""
    number = text.strip().split()[0].rstrip("HhZzKk")
    decimals = len(number.partition(".")[2] or number.partition(",")[2])
    return 10.0**-decimals * (1000.0 if "k" in text.lower() else 1.0)


def _copied(found: _Found, request: MeasureRequest, system: str) -> _Found:
    """Add a step in the stock that one pass copied."""
    from crib.desk.ringing.edge_in_cut import told_cut  # only this way of measuring needs the forces
    from crib.trade.cutting.force import cutting_forces

    needed = (request.copied, request.left, request.depth, request.feed, request.material)
    if not all(needed):
        raise InputError(
            "a copied step tells something with the step, what was left, and the cut",
            "--copied 1 mm --left 0.05 mm --depth 0.3 mm --feed 0.1 --material 4140 --KAPR 95 --RE 0.8",
        )
    copied, left, depth = (read(text, Kind.LENGTH, system).value for text in needed[:3])
    if not 0.0 < left < copied:
        raise InputError(f"of a step of {request.copied} {request.left} can't be left", "less than the step")
    tool, work, f_mm, said = told_cut(
        material=request.material, feed=request.feed, KAPR=request.KAPR, RE=request.RE, system=system
    )
    model = tables.force_model()
    on, off = (cutting_forces(ap, f_mm, tool, work, model).Fp_N for ap in (depth + copied - left, depth))
    k = stiffness_from_step(on, off, left)
    half = step_as_typed((request.left,), system) / 2.0
    high = k * left / (left - half) if left > half else inf
    band = Estimate(value=k, low=k * left / (left + half), high=high)
    return replace(
        found,
        how=(*found.how, "copied step"),
        k=found.k or band,
        assumed=(*found.assumed, *said, "the push by the force model: right within a third at best"),
        keys=(*found.keys, COPY_SOURCE),
    )


# -- the answer -------------------------------------------------------------------------------------------


def _mass(k: Estimate, frequency: Estimate) -> Estimate:
    """Give the swinging mass from stiffness and frequency."""
    high = inf if k.high == inf else modal_mass_kg(k.high, frequency.low)
    return Estimate(
        value=modal_mass_kg(k.value, frequency.value), low=modal_mass_kg(k.low, frequency.high), high=high
    )


def _answer(found: _Found, system: str) -> Measured:
    k, frequency, damping, mass = found.k, found.frequency, found.damping, found.mass
    allowed = allowed_stiffness(k.value, damping.value) if k and damping else None
    return Measured(
        verdict=_verdict(found, system),
        detail=_detail(found, allowed, system),
        next_step=_next_step(found),
        how=found.how,
        **_band("k", "N_mm", k),
        **_band("frequency", "hz", frequency),
        damping_ratio=damping.value if damping else None,
        damping_low=damping.low if damping else None,
        damping_high=damping.high if damping else None,
        **_band("modal_mass", "kg", mass),
        allowed_N_mm=allowed,
        lost_motion_mm=found.lost_motion_mm,
        readings=found.readings,
        peaks=found.peaks,
        notes=found.notes,
        assumed=found.assumed,
        sources=tuple(dict.fromkeys(cite(key) for key in dict.fromkeys(found.keys))),
        units=system,
    )


def _band(name: str, unit: str, one: Estimate | None) -> dict[str, float | None]:
    """Give figure and band under their keys; an open end is null."""
    keys = (f"{name}_{unit}", f"{name}_low_{unit}", f"{name}_high_{unit}")
    if one is None:
        return dict.fromkeys(keys)
    high = None if one.high == inf else one.high
    return dict(zip(keys, (one.value, one.low, high), strict=True))


_WHERE = {
    "push test": "where it was pushed",
    "mass clamped on": "where the mass sat",
    "copied step": "at the cut",
}


def _verdict(found: _Found, system: str) -> str:
    parts = []
    if found.k:
        where = next((_WHERE[one] for one in found.how if one in _WHERE), "")
        parts.append(f"{show(found.k.value, Kind.STIFFNESS, system)} {where}")
    if found.frequency:
        parts.append(f"rings at {found.frequency.value:.4g} Hz")
    if found.damping:
        parts.append(f"damping {100.0 * found.damping.value:.2g} %")
    if found.mass:
        parts.append(f"{show(found.mass.value, Kind.MASS, system)} swing")
    text = ", ".join(parts)
    return f"{text[0].upper()}{text[1:]}."


def _detail(found: _Found, allowed: float | None, system: str) -> str:
    """Say how sure the figures are, and what they allow."""
    k, damping = found.k, found.damping
    parts = band_words(
        (k.low, k.high) if k else None, (damping.low, damping.high) if damping else None, system
    )
    if allowed is not None:
        parts.append(f"a cut may be as stiff as {show(allowed, Kind.STIFFNESS, system)} at any speed")
    text = "; ".join(parts) or "one reading, no band"
    return f"{text[0].upper()}{text[1:]}."


def band_words(
    k_N_mm: tuple[float, float] | None, damping: tuple[float, float] | None, system: str
) -> list[str]:
    """Say how far stiffness and damping may lie apart; one figure where both ends print alike.

    Args:
        k_N_mm: lowest and highest stiffness, infinity for no end; None where it was not measured.
        damping: lowest and highest damping ratio, likewise.
        system: the user's own units.
    """
    parts = []
    if k_N_mm:
        low, high = ("no end" if k == inf else show(k, Kind.STIFFNESS, system) for k in k_N_mm)
        parts.append(f"stiffness {_from(low, high)} by the readings")
    if damping:
        low, high = (f"{100 * ratio:.2g}" for ratio in damping)
        parts.append(f"damping {_from(low, high)} %")
    return parts


def _from(low: str, high: str) -> str:
    return "from " * (low != high) + span(low, high)


def _next_step(found: _Found) -> str:
    coarse = tables.measuring_rules().coarse_share
    if found.k and "push test" in found.how and found.k.spread > coarse:
        return "Push harder, or with a finer indicator: the band is wide."
    if found.k is None:
        return "Push with a known force and read an indicator: the limit is in proportion to stiffness."
    if found.damping is None:
        return "Tap and let it ring: the limit is in proportion to damping."
    return "Keep it: crib setup measure NAME with the same figures; crib chatter tells what it bears."
