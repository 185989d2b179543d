"""crib setup: kept set-ups, measured at their points."""

from collections.abc import Iterable
from typing import Any

import click

from crib.cli.groups import WithUsual
from crib.cli.output import Output, with_output, with_store
from crib.cli.stiffness import measured_lines, measures_of, with_measures
from crib.desk.ringing.setups import KeptSetup, PointMeasured, Setups, add_setup, measure_setup, setup, setups
from crib.units import Kind, show


class SetupGroup(WithUsual):
    """Lists set-ups when nothing is said, shows one when its name is."""

    named = "show"


@click.group(cls=SetupGroup)
def command() -> None:
    """Set-ups that are kept by name, with what was measured at each of their points.

    \b
    crib setup                           all of them
    crib setup "pump liner"              one of them
    crib setup add "pump liner" --machine "old lathe" --note "mouth free"
    crib setup measure "pump liner:mouth" --force "100 N" --deflection "0.03 mm"
    crib setup measure "pump liner:mouth" --wav tap.wav
    crib pick … --setup "pump liner"     reckons with the point that rings first
    """


@command.command("list")
@with_store
@with_output
def list_(out: Output, db: str) -> None:
    """All kept set-ups."""
    found = setups(db)
    out.give(found, lambda: list_lines(found))


@command.command("show")
@click.argument("name")
@with_store
@with_output
def show_(name: str, out: Output, db: str) -> None:
    """One set-up: its points, and what was measured there."""
    found = setup(db, name)
    out.give(found, lambda: lines(found))


@command.command()
@click.argument("name")
@click.option("--machine", default="", help="The machine that it stands on.")
@click.option("--note", default="", help="Anything: how it is held, what is free.")
@with_store
@with_output
def add(name: str, machine: str, note: str, out: Output, db: str) -> None:
    """Enter a set-up; its points follow when they are measured."""
    found = add_setup(db, name, machine=machine, note=note)
    out.give(found, lambda: (f"Added: {found.name}", *lines(found)))


@command.command()
@click.argument("name")
@click.option("--point", default="", help="Where it was measured: mouth, top of bore … or NAME:POINT.")
@click.option("--gives", default="", help="Which way it gives there: away, along, along the spindle, down …")
@click.option("--how", default="", help="With what it was measured.")
@click.option("--add", is_flag=True, help="Enter the set-up if it is not on record.")
@with_measures
@with_store
@with_output
def measure(
    out: Output, db: str, name: str, point: str, gives: str, how: str, add: bool, **asked: Any
) -> None:
    """Keep what was measured at a point of a set-up; the newest counts, the older stays on record."""
    found = measure_setup(db, name, measures_of(asked), point=point, gives=gives, how=how, add=add)
    out.give(found, lambda: written_lines(found))


def list_lines(found: Setups) -> Iterable[str]:
    """Put all set-ups into lines."""
    for one in found.setups:
        yield from lines(one)
    if not found.setups:
        yield 'No set-up is kept. crib setup measure "pump liner:mouth" --add --force … enters one.'


def lines(one: KeptSetup) -> Iterable[str]:
    """Put one set-up into lines."""
    where = f" on the {one.machine}" if one.machine else ""
    yield f"{one.name}{where}" + (f": {one.note}" if one.note else "")
    for at, point in enumerate(one.points):
        first = "   rings first" * (at == 0 and len(one.points) > 1)
        yield f"  {point.name or 'its one point'}: {point.said}{first}"
        by = f" by {point.by}" if point.by else ""
        how = f", {point.how}" if point.how else ""
        yield f"    measured {point.at[:10]}{by}{how}" + f" ({point.times} times)" * (point.times > 1)
    if not one.points:
        yield "  nothing measured yet: crib setup measure"


def written_lines(found: PointMeasured) -> Iterable[str]:
    """Say what was measured and written."""
    kept, point = found.setup, next(one for one in found.setup.points if one.name == found.point)
    yield f"Kept: {kept.name}{f', {point.name}' if point.name else ''}{' (a new set-up)' * found.new}"
    yield from list(measured_lines(found.measured))[:-1]
    bears = show(point.allowed_N_mm, Kind.STIFFNESS, found.measured.units)
    partly = ", partly by assumed figures" * point.partly_assumed
    yield f'Next: it bears a cut as stiff as {bears} at any speed{partly}; crib pick --setup "{kept.name}"'
