"""crib stiffness: how stiff is it and how does it ring, measured or reckoned."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import click

from crib.cli.output import Output, with_output, with_store
from crib.errors import InputError
from crib.units import Kind, show

if TYPE_CHECKING:
    from crib.desk.ringing.beams import Beam
    from crib.desk.ringing.measure import Measured, MeasureRequest

# option -> (given several times, what it says in the help)
MEASURES = {
    "force": (True, 'Push test: forces, in the order taken: "100 200 300 N".'),
    "deflection": (True, 'What the indicator read at each: "12 25 37 um".'),
    "resolution": (False, "Finest step of the indicator; else the last digit typed."),
    "preload": (False, "Readings below this force only took up the play."),
    "frequency": (False, 'Tap test: at which it rings, "92 Hz".'),
    "decay": (
        False,
        'How it dies away: "10 to 4 in 5 cycles", "8 dB in 5", "T60 1.2 s", "90 to 95 Hz", "3 %".',
    ),
    "added-mass": (False, "A known mass clamped on where the tool cuts."),
    "frequency-with": (False, "At which it rings with that on."),
    "wav": (False, "A recording of taps, as WAV: frequency and damping are found in it."),
    "near": (False, "Of its frequencies the one nearest to this, not the strongest."),
    "copied": (False, "A step in the stock, on the side, that one pass copied …"),
    "left": (False, "… what was left of it …"),
    "depth": (False, "… depth of that pass beside the step …"),
    "feed": (False, "… its feed …"),
    "material": (False, "… what was cut …"),
    "KAPR": (False, "… entering angle …"),
    "RE": (False, "… and nose radius of the tool."),
}
BEAMS = {
    "bar": "A boring bar: diameter, or the tag of one on record.",
    "overhang": "How far it stands out.",
    "bar-material": "steel, heavy metal, carbide.",
    "bore": "Hole along the bar or work.",
    "head": "Mass at the bar's tip.",
    "work": "Round work: diameter.",
    "length": "Its free length.",
    "held": "chuck, centres, or chuck and centre.",
    "at": "Where the tool stands, from the chuck; else where it bends most.",
    "work-material": "steel, grey iron, aluminium, bronze.",
}


def with_measures(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options of a measurement, and what was asked as argument `measures`."""
    for name, (many, told) in reversed(MEASURES.items()):
        default: Any = () if many else ""
        function = click.option(f"--{name}", multiple=many, default=default, help=told)(function)
    return function


def measures_of(asked: dict[str, Any]) -> "MeasureRequest":
    """Take the options of a measurement out of what a command was asked."""
    from crib.desk.ringing.measure import MeasureRequest

    fields = {name.replace("-", "_").lower(): name.replace("-", "_") for name in MEASURES}
    return MeasureRequest(**{field: asked.pop(option) for option, field in fields.items()})


@click.command()
@with_measures
@click.option("--bar", default="", help=BEAMS["bar"])
@click.option("--overhang", default="", help=BEAMS["overhang"])
@click.option("--bar-material", default="", help=BEAMS["bar-material"])
@click.option("--bore", default="", help=BEAMS["bore"])
@click.option("--head", default="", help=BEAMS["head"])
@click.option("--work", default="", help=BEAMS["work"])
@click.option("--length", default="", help=BEAMS["length"])
@click.option("--held", default="", help=BEAMS["held"])
@click.option("--at", default="", help=BEAMS["at"])
@click.option("--work-material", default="", help=BEAMS["work-material"])
@with_store
@with_output
def command(out: Output, db: str, **asked: Any) -> None:
    """How stiff is it, how does it ring? By push, tap, recording, added mass, copied step; or reckoned."""
    request = measures_of(asked)
    if not (asked["bar"] or asked["work"]):
        stray = [name for name, text in asked.items() if text]
        if stray:
            raise InputError(
                f"--{stray[0].replace('_', '-')} is of a bar or of work", "--bar 25 or --work 60"
            )
        from crib.desk.ringing.measure import measure

        found = measure(db, request)
        out.give(found, lambda: measured_lines(found))
        return
    beam = _beam(db, asked)
    out.give(beam, lambda: beam_lines(beam))


def _beam(db: str, asked: dict[str, str]) -> "Beam":
    from crib.desk.ringing.beams import BarRequest, WorkRequest, bar, work

    if asked["bar"]:
        told = BarRequest(
            bar=asked["bar"],
            overhang=asked["overhang"],
            material=asked["bar_material"],
            bore=asked["bore"],
            head=asked["head"],
        )
        return bar(db, told)
    return work(
        db,
        WorkRequest(
            work=asked["work"],
            length=asked["length"],
            held=asked["held"],
            at=asked["at"],
            material=asked["work_material"],
            bore=asked["bore"],
        ),
    )


def measured_lines(found: "Measured") -> Iterable[str]:
    """Put a measurement into lines."""
    yield found.verdict
    yield found.detail
    for peak in found.peaks:
        mark = "→" if peak.chosen else " "
        damping = "no decay"
        if peak.damping_ratio is not None and peak.damping_low is not None and peak.damping_high is not None:
            taps = f"{peak.taps} tap{'s' * (peak.taps != 1)}"
            low, high = 100 * peak.damping_low, 100 * peak.damping_high
            damping = f"damping {100 * peak.damping_ratio:.2g} % ({low:.3g} to {high:.3g}), {taps}"
        rings = f"{peak.frequency_hz:8.4g} Hz  {peak.level_db:6.1f} dB"
        yield f" {mark}{rings}  {damping}{', beats' * peak.beats}"
    if found.lost_motion_mm is not None:
        lost = show(found.lost_motion_mm, Kind.LENGTH, found.units, fine=True)
        yield f"  lost motion on the way back: {lost}"
    yield from (f"  note: {line}" for line in found.notes)
    yield from (f"  assumed: {line}" for line in found.assumed)
    yield from (f"  source: {line}" for line in found.sources)
    yield f"Next: {found.next_step}"


def beam_lines(beam: "Beam") -> Iterable[str]:
    """Put a bar or work into lines."""
    yield beam.verdict
    yield beam.detail
    mass = show(beam.modal_mass_kg, Kind.MASS, beam.units)
    rings = f"{beam.frequency_low_hz:.0f} to {beam.frequency_high_hz:.0f} Hz"
    yield f"  frequency from {rings}; {mass} swing with it"
    yield from (f"  note: {line}" for line in beam.notes)
    yield from (f"  assumed: {line}" for line in beam.assumed)
    yield from (f"  source: {line}" for line in beam.sources)
    yield f"Next: {beam.next_step}"
