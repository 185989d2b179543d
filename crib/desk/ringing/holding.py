"""How the work is held: a word, measured figures, or a kept set-up at one of its points."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from crib.desk import tables
from crib.errors import UnknownName
from crib.store.rows import SetupPointRow, SetupRow
from crib.trade.rigidity.chatter import allowed_stiffness
from crib.trade.rigidity.directions import read_gives
from crib.trade.rigidity.setup import Setup, measured_setup, named_setup
from crib.units import Kind, read

UNKNOWN_SETUP = "unknown"
AT = " at "
JOINTS = (AT, ", ", ":")
FIGURES = ("k_N_mm", "frequency_hz", "damping_ratio")


class AskedHolding(Protocol):
    """What any question says of how the work is held, as typed; empty means not told."""

    @property
    def setup(self) -> str:
        """A word of the tables, or a kept set-up with or without one of its points."""

    @property
    def stiffness(self) -> str:
        """Measured, at the cut."""

    @property
    def frequency(self) -> str:
        """Natural frequency."""

    @property
    def damping(self) -> str:
        """Damping ratio."""

    @property
    def gives(self) -> str:
        """Which way it gives."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One point of a kept set-up, as the mechanics sees it; its name is empty where there is only one."""

    name: str
    setup: Setup


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A kept set-up.

    Attributes:
        id: its number in the store.
        name: what it is called.
        machine_id: the machine that it stands on; None where that is not kept.
        note: anything.
        points: all of them, softest first.
        point: the one that is reckoned with.
        learned: what the cuts on it taught, in words.
    """

    id: int
    name: str
    machine_id: int | None
    note: str | None
    points: tuple[Point, ...]
    point: str
    learned: tuple[str, ...] = ()


def setup_for(
    request: AskedHolding, kept: Sequence[SetupRow], system: str, *, facing: bool
) -> tuple[Setup, Held | None]:
    """Give how a job is held, and the kept set-up behind it; None where it is a word or only figures.

    Args:
        request: as typed; "pump liner", "pump liner at mouth", "pump liner:mouth", or "weak", with or
            without measured figures.
        kept: the set-ups on record.
        system: what bare numbers mean.
        facing: the feed runs across the spindle.

    Raises:
        InputError: a figure that can't be read or can't be.
        UnknownName: no such set-up, point or direction.
    """
    found = _find(request.setup, kept)
    told = {
        "k_N_mm": read(request.stiffness, Kind.STIFFNESS, system).value if request.stiffness else None,
        "frequency_hz": read(request.frequency, Kind.FREQUENCY, system).value if request.frequency else None,
        "damping_ratio": read(request.damping, Kind.RATIO, system).value if request.damping else None,
    }
    if found is None:
        return _by_word(request, told, facing=facing), None
    row, wanted = found
    points = points_of(row, gives=request.gives, told=told, facing=facing)
    point = _point(row, points, wanted) if wanted else points[0]
    held = Held(
        id=row.id, name=row.name, machine_id=row.machine_id, note=row.note, points=points, point=point.name
    )
    return point.setup, held


def _point(row: SetupRow, points: Sequence[Point], wanted: str) -> Point:
    """Give the point of that name, or the only one whose name begins so: "top" for "top of bore"."""
    exactly = [one for one in points if one.name.lower() == wanted.lower()]
    begins = [one for one in points if one.name.lower().startswith(wanted.lower())]
    found = exactly or begins
    if len(found) != 1:
        raise UnknownName(f"point of {row.name}", wanted, [one.name for one in points if one.name])
    return found[0]


def points_of(
    row: SetupRow,
    *,
    gives: str = "",
    told: Mapping[str, float | None] | None = None,
    facing: bool = False,
) -> tuple[Point, ...]:
    """Give the points of a kept set-up, the one that chatters first at the head.

    Args:
        row: as kept.
        gives: another direction than what is on record.
        told: other figures than those on record, by name.
        facing: the feed runs across the spindle.
    """
    names = dict.fromkeys(one.point for one in row.measured) or {"": None}
    found = [
        Point(name=name, setup=_measured(row, name, gives=gives, told=told or {}, facing=facing))
        for name in names
    ]
    return tuple(sorted(found, key=lambda one: allowed_stiffness(one.setup.k_N_mm, one.setup.damping_ratio)))


def called(name: str, point: str) -> str:
    """Say which set-up and point."""
    return f"{name}{AT}{point}" if point else name


def names_of(kept: Iterable[SetupRow]) -> tuple[str, ...]:
    """Give what may be typed for the kept set-ups: each by itself and at each of its points."""
    found: list[str] = []
    for row in kept:
        points = dict.fromkeys(one.point for one in row.measured if one.point)
        found += [row.name, *(called(row.name, point) for point in points)]
    return tuple(found)


def _find(text: str, kept: Iterable[SetupRow]) -> tuple[SetupRow, str] | None:
    """Give the kept set-up that was named and the point behind it; None for a word of the tables or nothing.

    Raises:
        UnknownName: it is neither.
    """
    name = " ".join(text.split()).lower()
    if not name or name in tables.setups():
        return None
    by_name = {row.name.lower(): row for row in kept}
    if name in by_name:
        return by_name[name], ""
    for joint in JOINTS:
        head, _, point = name.rpartition(joint)
        if head.rstrip() in by_name:
            return by_name[head.rstrip()], point.strip()
    near = [row.name for row in by_name.values()]
    raise UnknownName("set-up", text, near, "one of " + ", ".join((*tables.setups(), *near)))


def _by_word(request: AskedHolding, told: Mapping[str, float | None], *, facing: bool) -> Setup:
    word = request.setup or UNKNOWN_SETUP
    gives = read_gives(request.gives, tables.directions(), facing=facing) if request.gives else None
    if all(value is None for value in told.values()):
        return named_setup(word, tables.setups(), tables.directions(), gives)
    return measured_setup(
        setups=tables.setups(),
        directions=tables.directions(),
        gives=gives,
        like=word,
        label=_how_sure(told),
        **told,
    )


def _measured(
    row: SetupRow, point: str, *, gives: str, told: Mapping[str, float | None], facing: bool
) -> Setup:
    """Give one point as last measured; a figure that was not measured there is assumed and said so."""
    lines = [one for one in row.measured if one.point == point]
    figures = {name: _last(lines, name.lower()) if told.get(name) is None else told[name] for name in FIGURES}
    way = gives or next((one.gives for one in reversed(lines) if one.gives), "")
    return measured_setup(
        setups=tables.setups(),
        directions=tables.directions(),
        gives=read_gives(way, tables.directions(), facing=facing) if way else None,
        like=UNKNOWN_SETUP,
        label=f"'{called(row.name, point)}' ({_how_sure(figures)})",
        **figures,
    )


def _how_sure(figures: Mapping[str, float | None]) -> str:
    known = [value is not None for value in figures.values()]
    if all(known):
        return "measured"
    return "partly measured" if any(known) else "assumed figures, nothing measured"


def _last(lines: Sequence[SetupPointRow], figure: str) -> float | None:
    """Give a figure as it was measured last; None where it never was."""
    found = [getattr(one, figure) for one in lines]
    return next((value for value in reversed(found) if value is not None), None)
