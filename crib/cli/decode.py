"""crib decode: what does this code mean?"""

import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

import click

from crib.cli.output import Output, with_output
from crib.desk.asking.codes import decode_any
from crib.errors import BadDesignation, InputError
from crib.trade.designation.reading import InsertReading, Reading
from crib.units import Kind, show

if TYPE_CHECKING:
    from crib.trade.designation.iso513 import ApplicationReading

    AnyReading = Reading | ApplicationReading


@click.command()
@click.argument("code", nargs=-1)
@click.option("--file", metavar="FILE", help="Read a file of codes, one a line; # begins a comment.")
@click.option("--svg", metavar="FILE", help="Write a drawing at 1:1 to FILE (one code).")
@click.option(
    "--draw/--no-draw", default=None, help="Draw it here too (usual for one code in a terminal; no JSON)."
)
@with_output
def command(code: tuple[str, ...], file: str | None, svg: str | None, draw: bool | None, out: Output) -> int:
    """What does this code mean? CODE may hold blanks; several codes are read one by one."""
    if (file is None) == (not code):
        raise InputError("give codes, or --file with a file of codes", "for example: crib decode CNMG120408")
    if file is not None:
        from crib.cli.decode_file import decode_file  # only for this option

        return decode_file(file, out)
    readings = read_all(code)
    answer = readings[0] if len(readings) == 1 else {"codes": readings}
    if svg is not None:
        save_drawing(svg, readings)
    if draw is None:
        draw = len(readings) == 1 and sys.stdout.isatty()
    out.give(answer, lambda: (line for reading in readings for line in told(reading, draw)))
    return 0


def save_drawing(path: str, readings: "Sequence[AnyReading]") -> None:
    """Write the drawing of one code.

    Raises:
        InputError: there are several, or it cannot be written.
    """
    from crib.cli.drawn import svg_of, write_svg  # drawing is imported only when it is asked for

    if len(readings) > 1:
        raise InputError("--svg draws one code at a time", "ask for each code on its own")
    if not isinstance(readings[0], Reading):
        raise InputError(f"{readings[0].designation} is no tool: there is nothing to draw", "give its code")
    write_svg(path, svg_of(readings[0]))


def told(reading: "AnyReading", draw: bool) -> Iterable[str]:
    """Put a reading into lines, with its drawing if one is wanted."""
    yield from lines(reading)
    if draw and isinstance(reading, Reading):
        from crib.cli.drawn import picture

        yield from ("  " + line for line in picture(reading))
        yield ""


def read_all(words: Sequence[str]) -> "list[AnyReading]":
    """Read one code written with blanks, or several codes.

    Raises:
        BadDesignation: what stands there is neither.
    """
    if len(words) == 1:
        return [decode_any(words[0])]
    try:
        return [decode_any(word) for word in words]
    except BadDesignation as each:
        try:
            return [decode_any(" ".join(words))]
        except BadDesignation as whole:
            # the reading that got further says more
            raise (whole if whole.position >= each.position else each) from None


def lines(reading: "AnyReading") -> Iterable[str]:
    """Put a reading into lines: what it is, each position, what to know."""
    if isinstance(reading, Reading):
        yield f"{reading.designation}: {reading.kind}, {reading.system}{twin(reading)}"
        yield sizes(reading)
    else:
        yield f"{reading.designation}: what a grade is meant for (ISO 513)"
    if isinstance(reading, InsertReading):
        yield tolerances(reading)
    for position in reading.positions:
        mark = "" if position.mark == "certain" else f"  [{position.mark}]"
        yield f"  {position.position:2}  {position.found:8} {position.meaning}{mark}"
    for note in reading.notes:
        yield f"  note: {note}"
    yield ""


def twin(reading: Reading) -> str:
    """Name the code of the other system, and say whether it states the same sizes."""
    if not isinstance(reading, InsertReading) or not reading.equivalent:
        return ""
    how = "exact" if reading.equivalent_exact else "nearest: its nose radius differs by a hair"
    return f" = {reading.equivalent} in the other system ({how})"


def tolerances(reading: InsertReading) -> str:
    """Put the tolerances into one line, in both systems."""
    tolerance = reading.tolerance
    said = [
        f"{name} ±{show(value, Kind.LENGTH, reading.system)}"
        for name, value in (("IC", tolerance.d_mm), ("corner", tolerance.m_mm), ("thick", tolerance.s_mm))
        if value is not None
    ]
    return f"  tolerance class {tolerance.class_}: " + (", ".join(said) or "not established")


def sizes(reading: Reading) -> str:
    """Put the sizes that matter into one line, in both systems."""
    system = reading.system
    named: tuple[tuple[str, float | None], ...]
    if isinstance(reading, InsertReading):
        named = (
            ("IC", reading.IC_mm),
            ("edge", reading.L_mm),
            ("thick", reading.S_mm),
            ("nose", reading.RE_mm),
        )
    else:
        named = (("insert", reading.IC_mm), ("length", reading.LF_mm))
    said = [f"{name} {show(value, Kind.LENGTH, system)}" for name, value in named if value is not None]
    if isinstance(reading, InsertReading):
        said += [f"{reading.CEDC} edges"] if reading.CEDC else []
    else:
        said.insert(0, f"takes {reading.insert_seat}")
        said += [] if reading.KAPR_deg is None else [f"entering angle {reading.KAPR_deg:g}°"]
    return "  " + ", ".join(said)
