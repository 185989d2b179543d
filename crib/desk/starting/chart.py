"""A machine's plate and chart, field by field: how each is typed, read, shown, and what can't be."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import pairwise
from typing import Any

from crib.errors import BadQuantity, InputError, UnknownName
from crib.store.rows import MachineRow
from crib.store.words import MACHINE_KINDS
from crib.units import Kind, read, show
from crib.units.printing import MM_PER_IN

# Beyond these no machine was ever built: a slip of the keyboard, such as blanks left out between steps.
MOST = {
    Kind.ROTATION: 1e6,
    Kind.FEED: 1e3,
    Kind.POWER: 1e5,
    Kind.LENGTH: 1e6,
    Kind.SPEED: 1e5,
    Kind.RATIO: 1.0,
}
MOST_STEPS = 400
MOST_NOTE = 2000
YES = {"yes": True, "y": True, "no": False, "n": False}

_NUMBER_FIRST = re.compile(r"[\d.,]")
_UNIT_BEHIND = re.compile(r"[\d.,/]+\s*(?P<unit>[^\d.,/\s].*)")
_STEPLESS = re.compile(r"\d\s*(?:[a-z/]+\s*)?(?:\bto\b|\.\.|…|-|–)\s*\d", re.IGNORECASE)

Columns = Mapping[str, Any]  # column of the machine's record -> value


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One thing that a machine's record holds.

    Attributes:
        name: the option and the field of the form.
        label: what people call it.
        hint: what may be typed.
        columns: columns of the record that it fills.
        read: text that isn't empty and the system of units -> values of the columns.
        typed: record and system -> the text that would give these values; empty where nothing is recorded.
        shown: record and system -> the same for reading, in both systems of units.
    """

    name: str
    label: str
    hint: str
    columns: tuple[str, ...]
    read: Callable[[str, str], Columns]
    typed: Callable[[MachineRow, str], str]
    shown: Callable[[MachineRow, str], str]

    def is_recorded(self, machine: MachineRow) -> bool:
        """Whether anything of it is on record."""
        return any(getattr(machine, column) not in (None, ()) for column in self.columns)


def read_changes(changes: Mapping[str, str], system: str) -> dict[str, Any]:
    """Read what is typed for some fields.

    Args:
        changes: name of a field -> text; an empty text takes it off the record.
        system: "metric" or "inch": what bare numbers mean.

    Returns:
        Column of the machine's record -> value.

    Raises:
        InputError: a text that can't be read or can't be; its detail `field` names the field.
    """
    found: dict[str, Any] = {}
    for name, text in changes.items():
        field = FIELDS[name]
        try:
            found |= field.read(text.strip(), system) if text.strip() else _nothing(field)
        except BadQuantity as error:
            raise BadQuantity(
                f"{field.label}: {error.message}", error.hint, **{**error.details, "field": name}
            ) from error
        except UnknownName as error:
            error.details["field"] = name
            raise
        except InputError as error:
            raise InputError(f"{field.label}: {error.message}", error.hint, field=name) from error
    return found


def _nothing(field: Field) -> Columns:
    if field.name == "kind":
        raise InputError("a machine needs its kind", "one of: " + ", ".join(MACHINE_KINDS))
    empty = {"speeds_rev_min": (), "feeds_mm": (), "facing_head": False}
    return {column: empty.get(column) for column in field.columns}


# -- steps ------------------------------------------------------------------------------------------------


def read_steps(text: str, kind: Kind, system: str) -> tuple[float, ...]:
    """Read the steps of a chart: `11 15 21`, `0.06; 0.08`, `0.002 0.004 in/rev` (the last unit is for all).

    Args:
        text: steps with blanks or semicolons between them; a comma parts them where a blank follows.
        kind: rotation or feed.
        system: what a bare number means.

    Returns:
        The steps from low to high.

    Raises:
        InputError: a step can't be read, can't be, or stands twice.
    """
    found = sorted(_sane(read(step, kind, system).value, step, kind) for step in parted(text))
    if len(found) > MOST_STEPS:
        raise InputError(f"{len(found)} steps can't be a chart", f"at most {MOST_STEPS}")
    for lower, higher in pairwise(found):
        if lower == higher:
            raise InputError(f"{show(lower, kind, system)} stands twice", "each step once")
    return tuple(found)


def parted(text: str) -> list[str]:
    """Part a list of quantities: a word behind a number is its unit; the last one's goes for all without."""
    steps = _steps(text)
    behind = _UNIT_BEHIND.fullmatch(steps[-1])
    unit = f" {behind['unit']}" if behind else ""
    return [step if _UNIT_BEHIND.fullmatch(step) else step + unit for step in steps]


def _steps(text: str) -> list[str]:
    steps: list[str] = []
    for piece in re.split(r"[;\s]+|,(?=\s)", text.strip(" ;,")):
        parts = piece.split(",") if piece.count(",") > 1 else [piece]  # 11,15,21: no number has two commas
        for part in filter(None, parts):
            if steps and not _NUMBER_FIRST.match(part):
                steps[-1] += f" {part}"
            else:
                steps.append(part)
    return steps or [text]


def _sane(value: float, text: str, kind: Kind) -> float:
    if value <= 0:
        raise InputError(f"{text!r} can't be", "it must be more than zero; leave it empty for not recorded")
    if value > MOST[kind]:
        hint = "75 % or 0.75" if kind is Kind.RATIO else "is a blank or a point missing?"
        raise InputError(f"{text!r} is more than any machine has", hint)
    return value


# -- fields -----------------------------------------------------------------------------------------------


def _read_speeds(text: str, system: str) -> Columns:
    if _STEPLESS.search(text):
        from crib.units import read_range

        low, high = read_range(text, Kind.ROTATION, system)
        ends = [_sane(end.value, end.text, Kind.ROTATION) for end in (low, high)]
        return {"speeds_rev_min": (), "speed_low_rev_min": ends[0], "speed_high_rev_min": ends[1]}
    steps = read_steps(text, Kind.ROTATION, system)
    return {"speeds_rev_min": steps, "speed_low_rev_min": None, "speed_high_rev_min": None}


def _type_speeds(machine: MachineRow, _system: str) -> str:
    if machine.speeds_rev_min:
        return " ".join(f"{n:.9g}" for n in machine.speeds_rev_min)
    low, high = machine.speed_low_rev_min, machine.speed_high_rev_min
    return "" if low is None or high is None else f"{low:.9g} to {high:.9g}"


def _show_speeds(machine: MachineRow, system: str) -> str:
    text = _type_speeds(machine, system)
    return f"{text} rev/min" + ("" if machine.speeds_rev_min else ", stepless") if text else ""


def _type_feeds(machine: MachineRow, _system: str) -> str:
    """Give the feeds as they stand on the plate: in the system in which they are round."""
    metric, inch = (" ".join(f"{f / unit:.6g}" for f in machine.feeds_mm) for unit in (1.0, MM_PER_IN))
    if not metric:
        return ""
    return f"{inch} in/rev" if len(inch) < len(metric) else f"{metric} mm/rev"


def _show_feeds(machine: MachineRow, system: str) -> str:
    text = _type_feeds(machine, system)
    other = "metric" if text.endswith("in/rev") else "inch"
    also = [show(f, Kind.FEED, other, both=False).split() for f in machine.feeds_mm]
    return f"{text} ({' '.join(one[0] for one in also)} {also[0][1]})" if also else ""


def _read_range(low: str, high: str) -> Callable[[str, str], Columns]:
    def read_it(text: str, system: str) -> Columns:
        from crib.units import read_range

        words = text.split()
        if words[:2] == ["up", "to"]:
            return {low: None, high: _length(text.split("to", 1)[1], system)}
        if words[0] == "from" and "to" not in words:
            return {low: _length(text.split("from", 1)[1], system), high: None}
        least, most = read_range(text.removeprefix("from "), Kind.LENGTH, system)
        return {low: _sane(least.value, text, Kind.LENGTH), high: _sane(most.value, text, Kind.LENGTH)}

    return read_it


def _length(text: str, system: str) -> float:
    return _sane(read(text.strip(), Kind.LENGTH, system).value, text.strip(), Kind.LENGTH)


def _print_range(low: str, high: str, both: bool) -> Callable[[MachineRow, str], str]:
    def print_it(machine: MachineRow, system: str) -> str:
        ends = [
            None if value is None else show(value, Kind.LENGTH, system, both)
            for value in (getattr(machine, low), getattr(machine, high))
        ]
        if ends[0] and ends[1]:
            return f"{ends[0]} to {ends[1]}"
        return f"from {ends[0]}" if ends[0] else f"up to {ends[1]}" if ends[1] else ""

    return print_it


def _range(name: str, label: str, hint: str) -> Field:
    low, high = f"{name.removesuffix('s')}_low_mm", f"{name.removesuffix('s')}_high_mm"
    return Field(
        name=name,
        label=label,
        hint=hint,
        columns=(low, high),
        read=_read_range(low, high),
        typed=_print_range(low, high, both=False),
        shown=_print_range(low, high, both=True),
    )


def _one(name: str, label: str, column: str, kind: Kind, hint: str) -> Field:
    def print_it(machine: MachineRow, system: str, both: bool) -> str:
        value = getattr(machine, column)
        if value is None:
            return ""
        return f"{100 * value:.4g} %" if kind is Kind.RATIO else show(value, kind, system, both)

    return Field(
        name=name,
        label=label,
        hint=hint,
        columns=(column,),
        read=lambda text, system: {column: _sane(read(text, kind, system).value, text, kind)},
        typed=lambda machine, system: print_it(machine, system, False),
        shown=lambda machine, system: print_it(machine, system, True),
    )


def _read_kind(text: str, _system: str) -> Columns:
    if text.lower() not in MACHINE_KINDS:
        near = get_close_matches(text.lower(), MACHINE_KINDS, n=1)
        hint = f"did you mean {near[0]}?" if near else "one of: " + ", ".join(MACHINE_KINDS)
        raise UnknownName("kind of machine", text, near or MACHINE_KINDS, hint)
    return {"kind": text.lower()}


def _read_head(text: str, _system: str) -> Columns:
    if text.lower() not in YES:
        raise InputError(f"{text!r} is neither yes nor no", "yes or no")
    return {"facing_head": YES[text.lower()]}


def _read_note(text: str, _system: str) -> Columns:
    if len(text) > MOST_NOTE:
        raise InputError(f"the note holds {len(text)} characters", f"at most {MOST_NOTE}")
    return {"note": text}


def _plain(name: str, label: str, hint: str, read_it: Callable[[str, str], Columns]) -> Field:
    def print_it(machine: MachineRow, _system: str) -> str:
        value = getattr(machine, name)
        return ("yes" if value else "no") if isinstance(value, bool) else value or ""

    return Field(
        name=name, label=label, hint=hint, columns=(name,), read=read_it, typed=print_it, shown=print_it
    )


_ALL: Sequence[Field] = (
    _plain("kind", "kind", "One of: " + ", ".join(MACHINE_KINDS) + ".", _read_kind),
    Field(
        name="speeds",
        label="speeds",
        hint="Steps as on the chart, 11 15 21 28, or the ends of a stepless drive: 40 to 2000.",
        columns=("speeds_rev_min", "speed_low_rev_min", "speed_high_rev_min"),
        read=_read_speeds,
        typed=_type_speeds,
        shown=_show_speeds,
    ),
    Field(
        name="feeds",
        label="feeds",
        hint="Steps as on the chart: 0.06 0.08 0.11 mm/rev, or 0.002 0.004 0.006 in/rev.",
        columns=("feeds_mm",),
        read=lambda text, system: {"feeds_mm": read_steps(text, Kind.FEED, system)},
        typed=_type_feeds,
        shown=_show_feeds,
    ),
    _one("power", "power", "power_kw", Kind.POWER, "Of the motor: 7 1/2 hp or 5.5 kW."),
    _one("efficiency", "efficiency", "efficiency", Kind.RATIO, "Of the drive: 75 % or 0.75."),
    _one("swing", "swing", "swing_mm", Kind.LENGTH, "Largest work that swings: 21 in."),
    _one("travel", "travel", "travel_mm", Kind.LENGTH, "Longest cut: 80 in."),
    _range("shanks", "square shanks", "That it takes: 3/4 in to 32 mm, or up to 25 mm."),
    _range("bars", "boring bars", "That it takes: 10 to 50 mm."),
    _plain("facing_head", "facing head", "Whether it has one that takes square shanks.", _read_head),
    _one("least_bore", "least bore", "least_bore_mm", Kind.LENGTH, "Smallest its facing head works in."),
    _one(
        "head_speed_limit",
        "head's speed limit",
        "head_speed_limit_rev_min",
        Kind.ROTATION,
        "From the head's own plate or manual, in rev/min; leave it empty if you can't read it.",
    ),
    _one(
        "head_tangential_limit",
        "head's tangential limit",
        "head_tangential_limit_m_min",
        Kind.SPEED,
        "From its plate or manual, as m/min or ft/min where it cuts; empty if you can't read it.",
    ),
    _plain("note", "note", "Anything.", _read_note),
)
FIELDS: Mapping[str, Field] = {field.name: field for field in _ALL}
HEAD_FIELDS = ("least_bore", "head_speed_limit", "head_tangential_limit")


def applies(field: Field, machine: MachineRow) -> bool:
    """Whether a machine of that kind has such a thing at all."""
    if field.name in HEAD_FIELDS:
        return machine.facing_head
    return not (field.name in ("shanks", "bars", "facing_head") and machine.kind == "drill")
