"""crib decode: what does this code mean?"""

import sys
from collections.abc import Iterable, Sequence

import click

from crib.cli.output import Output, with_output
from crib.desk.codes import decode
from crib.errors import BadDesignation, InputError
from crib.trade.designation.reading import InsertReading, Reading
from crib.units import Kind, show


@click.command()
@click.argument("code", nargs=-1, required=True)
@click.option("--svg", metavar="FILE", help="Write a drawing at 1:1 to FILE (one code).")
@click.option(
    "--draw/--no-draw", default=None, help="Draw it here too (usual for one code in a terminal; no JSON)."
)
@with_output
def command(code: tuple[str, ...], svg: str | None, draw: bool | None, out: Output) -> None:
    """What does this code mean? CODE may hold blanks; several codes are read one by one."""
    readings = read_all(code)
    answer = readings[0] if len(readings) == 1 else {"codes": readings}
    if svg is not None:
        save_drawing(svg, readings)
    if draw is None:
        draw = len(readings) == 1 and sys.stdout.isatty()
    out.give(answer, lambda: (line for reading in readings for line in told(reading, draw)))


def save_drawing(path: str, readings: Sequence[Reading]) -> None:
    """Write the drawing of one code.

    Raises:
        InputError: there are several, or it cannot be written.
    """
    from crib.cli.drawn import write_svg  # drawing is imported only when it is asked for

    if len(readings) > 1:
        raise InputError("--svg draws one code at a time", "ask for each code on its own")
    write_svg(path, readings[0])


def told(reading: Reading, draw: bool) -> Iterable[str]:
    """Put a reading into lines, with its drawing if one is wanted."""
    yield from lines(reading)
    if draw:
        from crib.cli.drawn import picture

        yield from ("  " + line for line in picture(reading))
        yield ""


def read_all(words: Sequence[str]) -> list[Reading]:
    """Read one code written with blanks, or several codes.

    Raises:
        BadDesignation: what stands there is neither.
    """
    if len(words) == 1:
        return [decode(words[0])]
    try:
        return [decode(word) for word in words]
    except BadDesignation as each:
        try:
            return [decode(" ".join(words))]
        except BadDesignation as whole:
            # the reading that got further says more
            raise (whole if whole.position >= each.position else each) from None


def lines(reading: Reading) -> Iterable[str]:
    """Put a reading into lines: what it is, each position, what to know."""
    other = f" = {reading.equivalent} in the other system" if reading.equivalent else ""
    yield f"{reading.designation}: {reading.kind}, {reading.system}{other}"
    yield sizes(reading)
    for position in reading.positions:
        mark = "" if position.mark == "certain" else f"  [{position.mark}]"
        yield f"  {position.position:2}  {position.found:8} {position.meaning}{mark}"
    for note in reading.notes:
        yield f"  note: {note}"
    yield ""


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
