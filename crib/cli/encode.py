"""crib encode: what is the code of a thing with these dimensions?"""

from collections.abc import Callable, Iterable
from dataclasses import fields
from typing import Any

import click

from crib.cli.output import Output, with_output
from crib.desk.asking.codes import decode, encode
from crib.errors import InputError
from crib.trade.designation.pen import Written
from crib.trade.designation.spec import BarSpec, HolderSpec, InsertSpec, Spec, spec_of
from crib.units import Kind, read

Function = Callable[..., Any]
SPECS: dict[str, type[Spec]] = {"insert": InsertSpec, "holder": HolderSpec, "bar": BarSpec}
INSTEAD = {"IC_mm": ("L_mm", "size"), "L_mm": ("IC_mm", "size"), "size": ("IC_mm", "L_mm"),
           "LF_mm": ("length",), "length": ("LF_mm",), "KAPR_deg": ("style",), "style": ("KAPR_deg",),
           "corner": ("RE_mm",), "RE_mm": ("corner",)}  # fmt: skip
"""Field -> those that it takes the place of when it changes the code given with --like."""


def option(flag: str, field: str, text: str) -> Callable[[Function], Function]:
    """Make the option for one field of a spec."""
    return click.option(flag, field, metavar="TEXT", help=text)


def shared(function: Function) -> Function:
    """Add the options that every kind has."""
    for made in (
        click.option("--units", type=click.Choice(["metric", "inch"]), help="What bare numbers mean."),
        click.option("--system", type=click.Choice(["metric", "inch"]), help="Which system the code is of."),
        option("--like", "like", "Begin with this code and change what is given."),
        option("--suffix", "maker_suffix", "The maker's own symbol."),
        option("--hand", "HAND", "R, L or N."),
        option("--clearance", "clearance", "Its letter, or the angle: N, 7 deg."),
        option("--shape", "SC", "Shape letter."),
    ):
        function = made(function)
    return function


def of_seat(function: Function) -> Function:
    """Add the options that holders and bars have alike."""
    for made in (
        option("--length-letter", "length", "Letter of the length; a dash for the preferred one."),
        option("--length", "LF_mm", "Functional length."),
        option("--edge", "L_mm", "Edge length of its insert."),
        option("--ic", "IC_mm", "Inscribed circle (or diameter) of its insert."),
        option("--size", "size", "Size of its insert, as the insert's code has it: 12."),
        option("--kapr", "KAPR_deg", "Entering angle, in place of the style letter."),
        option("--style", "style", "Style letter."),
        option("--clamping", "clamping", "Clamping letter."),
    ):
        function = made(function)
    return shared(function)


@click.group()
def command() -> None:
    """From dimensions to the code. Letters as codes have them, measures in any unit: 12.7, 1/2 in, 0.5"."""


@command.command()
@option("--tolerance", "tolerance", "Tolerance class letter.")
@option("--fixing", "fixing", "Letter of hole and chip breaker.")
@option("--ic", "IC_mm", "Inscribed circle, or diameter of a round insert.")
@option("--edge", "L_mm", "Edge length, in place of the circle.")
@option("--width", "W1_mm", "Width of an inch rectangle or parallelogram.")
@option("--thickness", "S_mm", "Thickness.")
@option("--nose", "RE_mm", "Nose radius.")
@option("--corner", "corner", "In place of the radius: two wiper letters, or an inch corner letter.")
@option("--edge-condition", "edge_condition", "F, E, T, S …")
@option("--chamfer", "chamfer_width_mm", "Width of the edge's chamfer.")
@option("--chamfer-angle", "chamfer_angle_deg", "Its angle.")
@option("--facet", "facet_width_mm", "Width of an inch facet.")
@option("--conditions", "other_conditions", "Letter of older inch codes.")
@shared
@with_output
def insert(out: Output, **asked: str | None) -> None:
    """Write the code of an insert."""
    give(out, "insert", asked)


@command.command()
@option("--height", "H_mm", "Shank height.")
@option("--width", "B_mm", "Shank width.")
@option("--qualified", "qualified", "Letter of the special tolerance.")
@option("--cartridge", "cartridge", "Form letter of a cartridge: A.")
@option("--coupling", "coupling", "Modular shank: C5, HSK-T63.")
@option("--offset", "WF_mm", "Functional width of a modular head.")
@of_seat
@with_output
def holder(out: Output, **asked: str | None) -> None:
    """Write the code of a turning holder."""
    give(out, "holder", asked)


@command.command()
@option("--type", "shank_type", "Letter of the bar type: S, A, E …")
@option("--diameter", "DCON_mm", "Shank diameter.")
@of_seat
@with_output
def bar(out: Output, **asked: str | None) -> None:
    """Write the code of a boring bar."""
    give(out, "bar", asked)


def give(out: Output, kind: str, asked: dict[str, str | None]) -> None:
    """Write one code and print it."""
    written = encode(spec(kind, asked))
    out.give(written, lambda: lines(written))


def spec(kind: str, asked: dict[str, str | None]) -> Spec:
    """Put what was typed together.

    Args:
        kind: "insert", "holder" or "bar".
        asked: by field, as typed; None where nothing was.

    Raises:
        InputError: a field that every code needs is missing, or --like is of another kind.
        BadQuantity: a measure that cannot be read.
        BadDesignation: --like is no code.
    """
    units, like, system = asked.pop("units"), asked.pop("like"), asked.pop("system")
    given: dict[str, Any] = {
        name: measured(name, text, units or system or "metric") for name, text in asked.items() if text
    }
    made = SPECS[kind]
    if like:
        began = spec_of(reading := decode(like), system or "")
        if not isinstance(began, made):
            raise InputError(
                f"{reading.designation} is the code of a {reading.kind}",
                f"try: crib encode {reading.kind} --like …",
            )
        cleared: dict[str, Any] = {
            other: None for name in given for other in INSTEAD.get(name, ()) if hasattr(began, other)
        }
        kept = {field.name: getattr(began, field.name) for field in fields(began)}
        return made(**(kept | cleared | given))
    needed = [field.name for field in fields(made) if field.default is not None and field.name != "system"]
    flags = {param.name: param.opts[0] for param in click.get_current_context().command.params}
    missing = [flags[name] for name in needed if name not in given]
    if missing:
        raise InputError(
            f"still needed: {', '.join(missing)}", f"crib encode {kind} --help names the options"
        )
    return made(**given, system=system or "metric")


def measured(name: str, text: str, units: str) -> str | float:
    """Read one field: a measure by its unit, else letters."""
    if name.endswith("_mm"):
        return read(text, Kind.LENGTH, units).value
    if name.endswith("_deg") or (name == "clearance" and any(sign.isdigit() for sign in text)):
        return read(text, Kind.ANGLE, units).value
    return text


def lines(written: Written) -> Iterable[str]:
    """Put a written code into lines."""
    twin = ""
    if written.equivalent:
        twin = f" = {written.equivalent} ({'exact' if written.equivalent_exact else 'nearest'})"
    yield written.designation + twin
    rounded = [name for name, exact in written.exact.items() if not exact]
    yield "  every field exact" if not rounded else "  nearest, not exact: " + ", ".join(rounded)
    for note in written.notes:
        yield f"  note: {note}"
