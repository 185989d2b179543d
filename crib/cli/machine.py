"""crib machine: what machines have we got, what can each do, and entering a chart once."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import click

from crib.cli.conditions import with_conditions
from crib.cli.groups import WithUsual
from crib.cli.output import Output, with_output, with_store
from crib.desk.starting.machines import Machine, Machines, Saved, machine, machines, save_machine

if TYPE_CHECKING:
    from crib.desk.starting.suits import Suits

# option -> what it says in the help
FIELDS = {
    "kind": "lathe, boring mill, drill or mill.",
    "speeds": 'Steps of its gearbox, "11 15 21 28", or the ends of a stepless drive, "40 to 2000".',
    "feeds": 'Its feeds: "0.06 0.08 0.11", or "0.002 0.004 in/rev".',
    "power": 'Of the motor: "7 1/2 hp".',
    "efficiency": "Of the drive: 75 %.",
    "swing": "Largest work that swings.",
    "travel": "Longest cut.",
    "shanks": 'Square shanks that it takes: "3/4 in to 32 mm", "up to 25 mm".',
    "bars": 'Boring bars that it takes: "10 to 50 mm".',
    "facing-head": "yes or no: a facing head that takes square shanks.",
    "least-bore": "Smallest bore in which the facing head works.",
    "head-speed-limit": "From the head's own plate or manual: rev/min.",
    "head-tangential-limit": "From the head's own plate or manual: m/min where it cuts.",
    "note": "Anything.",
}
SHOWN = 22  # columns for the name of a field


class MachineGroup(WithUsual):
    """Lists machines when nothing is said, shows one when its name is."""

    named = "show"


@click.group(cls=MachineGroup)
def command() -> None:
    """What machines have we got, what can each do; a machine's chart is entered once.

    \b
    crib machine                    all of them
    crib machine "old lathe"        one of them
    crib machine add "works / bay / big lathe" --kind lathe --speeds "11 15 21"
    crib machine suits "old lathe" --material 4140 --tool hss --diameter "3 in"
    crib machine set "big lathe" --power "7 1/2 hp" --note "plate read by lamp"
    """


@command.command("list")
@with_store
@with_output
def list_(out: Output, db: str) -> None:
    """All machines on record."""
    found = machines(db)
    out.give(found, lambda: list_lines(found))


@command.command()
@click.argument("name")
@with_store
@with_output
def show(name: str, out: Output, db: str) -> None:
    """One machine: its speeds, feeds, power and what it takes; what is not recorded."""
    found = machine(db, name)
    out.give(found, lambda: lines(found))


def with_fields(function: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command an option for each field; an empty text takes it off the record."""
    for name, told in reversed(FIELDS.items()):
        function = click.option(f"--{name}", default=None, help=told)(function)
    units = click.Choice(["metric", "inch"])
    return click.option(
        "--units", type=units, default=None, help="What bare numbers mean; else the setting."
    )(function)


@command.command()
@click.argument("path")
@with_fields
@with_store
@with_output
def add(path: str, out: Output, db: str, units: str | None, **fields: str | None) -> None:
    """Enter a new machine, by its path: the place that it stands in, then its name."""
    _save(out, db, path, units, fields, new=True)


@command.command("set")
@click.argument("name")
@with_fields
@with_store
@with_output
def set_(name: str, out: Output, db: str, units: str | None, **fields: str | None) -> None:
    """Change what is on record of a machine; an empty text ("") takes a field off the record."""
    _save(out, db, name, units, fields, new=False)


@command.command("suits")
@click.argument("name")
@click.option("--material", required=True, help="Any name: 4140, 42CrMo4, A36, cast iron …")
@click.option("--tool", required=True, help="HSS, carbide, coated carbide, cermet …, or a grade's use.")
@click.option("--diameter", required=True, help="Where it cuts.")
@click.option("--op", default="turn", help="turn, face, bore, drill …")
@click.option("--cut", default="medium", help="finish, medium, rough or heavy rough.")
@click.option("--hardness", default="", help="Measured: 220 HB, 32 HRC.")
@with_conditions
@click.option("--own/--book", default=None, help="Whose speeds win; else the setting.")
@click.option(
    "--units", type=click.Choice(["metric", "inch"]), default="metric", help="What bare numbers mean."
)
@with_store
@with_output
def suits_(name: str, out: Output, db: str, units: str, **asked: str | bool | None) -> int:
    """What speeds does this machine have that suit a material, a tool and a diameter?"""
    from crib.desk.starting.suits import suits  # the trade's tables: no other command of the group needs them

    found = suits(db, name, system=units, **asked)
    out.give(found, lambda: suits_lines(found, units))
    return 0 if found.any else 1


def suits_lines(found: "Suits", system: str) -> Iterable[str]:
    """Put the speeds that suit into lines; an arrow marks where to start."""
    from crib.desk.starting.suits import by_how_much
    from crib.units import Kind, show

    low, start, high = (
        show(one, Kind.SPEED, system)
        for one in (found.vc_m_min.low, found.vc_m_min.start, found.vc_m_min.high)
    )
    cut = f", {found.cut} cut" if found.cut else ""
    yield found.verdict
    yield f"{found.material}, {found.tool}, {found.op}{cut}, ⌀{show(found.d_mm, Kind.LENGTH, system)}:"
    yield f"  from {low} to {high}, start at {start}"
    near = [one for one in (found.below, found.above) if one is not None]
    listed = {one.n_rev_min: one for one in (*near, *found.steps, found.start)}
    for n in sorted(listed):
        one = listed[n]
        mark = "→" if one.start or n == found.start.n_rev_min else " "
        v = show(one.vc_m_min, Kind.SPEED, system)
        yield f" {mark}{n:8.4g} rev/min  {v:24} {by_how_much(one, found, system)}"
    yield from (f"  assumed: {line}" for line in found.assumed)
    yield from (f"  source: {line}" for line in found.source)
    yield from (f"! {caution}" for caution in found.cautions)
    yield f"Starting points only. {found.defer}"


def _save(
    out: Output, db: str, name: str, units: str | None, fields: dict[str, str | None], *, new: bool
) -> None:
    told = {field: text for field, text in fields.items() if text is not None}
    saved = save_machine(db, name, told, new=new, system=units or "")
    out.give(saved, lambda: saved_lines(saved))


def list_lines(found: Machines) -> Iterable[str]:
    """Put all machines into lines."""
    for one in found.machines:
        yield f"{one.name}: {one.kind}, {steps(one)}; {one.path}"
    if not found.machines:
        yield 'No machine is on record. crib machine add "SITE / NAME" --kind lathe enters one.'


def steps(one: Machine) -> str:
    """Say in short what a machine has of speeds and feeds."""
    if one.speeds_rev_min:
        many = len(one.speeds_rev_min)
        speeds = (
            f"{many} speed{'s' * (many > 1)} {one.speeds_rev_min[0]:g} to {one.speeds_rev_min[-1]:g} rev/min"
        )
    elif one.speed_low_rev_min is not None and one.speed_high_rev_min is not None:
        speeds = f"stepless {one.speed_low_rev_min:g} to {one.speed_high_rev_min:g} rev/min"
    else:
        speeds = "speeds not recorded"
    many = len(one.feeds_mm)
    return f"{speeds}, " + (f"{many} feed{'s' * (many > 1)}" if many else "feeds not recorded")


def lines(one: Machine) -> Iterable[str]:
    """Put one machine into lines."""
    yield f"{one.name} ({one.path})"
    for label, value in one.fields:
        yield f"  {label:{SHOWN}} {value}"
    for label in one.not_recorded:
        yield f"  {label:{SHOWN}} not recorded"


def saved_lines(saved: Saved) -> Iterable[str]:
    """Say what was written."""
    yield f"{'Added' if saved.added else 'Changed'}: {saved.machine.name} ({saved.machine.path})"
    for one in saved.changed:
        was = "" if saved.added else f"; was {one.was or 'not recorded'}"
        yield f"  {one.field:{SHOWN}} {one.now or 'not recorded'}{was}"
    if not saved.changed:
        yield "  Everything was so on record already."
    if saved.added:
        yield from (f"  {label:{SHOWN}} not recorded" for label in saved.machine.not_recorded)
