"""What machines have we got, what can each do, and entering a chart once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

from crib.desk.starting.chart import FIELDS, applies, read_changes
from crib.errors import InputError, NotPossible, UnknownName
from crib.store.read import Reader, reading
from crib.store.rows import MachineRow
from crib.store.words import PATH_JOINT

if TYPE_CHECKING:
    from crib.store import models
    from crib.store.writing import WriteSession

NOT_FOR_MACHINES = ("cabinet", "drawer", "machine")


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """One machine as on record; None and () stand for "not recorded".

    Attributes:
        name: its name.
        path: where it stands.
        kind: lathe, boring mill, drill or mill.
        speeds_rev_min: steps of its gearbox.
        speed_low_rev_min: slowest of a stepless drive.
        speed_high_rev_min: fastest of a stepless drive.
        feeds_mm: its feeds, in mm/rev.
        power_kW: of the motor.
        efficiency: of the drive, 0 to 1.
        swing_mm: largest work that swings.
        travel_mm: longest cut.
        shank_low_mm: smallest square shank that it takes.
        shank_high_mm: largest.
        bar_low_mm: smallest round bar that it takes.
        bar_high_mm: largest.
        facing_head: it has a facing head that takes square shanks.
        least_bore_mm: smallest bore in which that works.
        head_speed_limit_rev_min: the head's own limit, from its plate or manual.
        head_tangential_limit_m_min: the same as a speed where it cuts.
        note: anything.
        fields: label and value of what is recorded, in words, the user's own units first.
        typed: field -> what would be typed for it, in the user's own units.
        not_recorded: labels of what such a machine has and nobody entered.
    """

    name: str
    path: str
    kind: str
    speeds_rev_min: tuple[float, ...]
    speed_low_rev_min: float | None
    speed_high_rev_min: float | None
    feeds_mm: tuple[float, ...]
    power_kW: float | None
    efficiency: float | None
    swing_mm: float | None
    travel_mm: float | None
    shank_low_mm: float | None
    shank_high_mm: float | None
    bar_low_mm: float | None
    bar_high_mm: float | None
    facing_head: bool
    least_bore_mm: float | None
    head_speed_limit_rev_min: float | None
    head_tangential_limit_m_min: float | None
    note: str | None
    fields: tuple[tuple[str, str], ...]
    typed: Mapping[str, str]
    not_recorded: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Machines:
    """All machines on record, by path, and what a form needs to know.

    Attributes:
        machines: by path.
        places: paths in which a machine may stand.
        units: the user's own system of units.
    """

    machines: tuple[Machine, ...]
    places: tuple[str, ...]
    units: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """One field that was changed, in words; empty for not recorded."""

    field: str
    was: str
    now: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """What was written.

    Attributes:
        machine: as it is on record now.
        added: it is new.
        changed: what is different from before.
    """

    machine: Machine
    added: bool
    changed: tuple[Changed, ...]


def machines(address: str) -> Machines:
    """Give all machines on record.

    Args:
        address: the store.
    """
    with reading(address) as reader:
        system = reader.settings().get("units", "metric")
        return Machines(
            machines=tuple(_machine(row, system) for row in reader.machines()),
            places=tuple(place.path for place in reader.places() if place.kind not in NOT_FOR_MACHINES),
            units=system,
        )


def machine(address: str, name: str) -> Machine:
    """Give one machine.

    Args:
        address: the store.
        name: its name or path.

    Raises:
        UnknownName: no machine is called that.
        InputError: several are.
    """
    with reading(address) as reader:
        system = reader.settings().get("units", "metric")
        return _machine(exactly(name, reader.machines()), system)


def save_machine(
    address: str, name: str, changes: Mapping[str, str], *, new: bool = False, system: str = ""
) -> Saved:
    """Enter a machine, or change fields of one.

    Args:
        address: the store.
        name: a machine on record by its name or path; for a new one its path. The place that it stands in
            must be on record.
        changes: field (names of `chart.FIELDS`) -> as typed; an empty text takes it off the record.
        new: it is to be added.
        system: "metric" or "inch": what bare numbers mean; the setting, if not told.

    Raises:
        InputError: a field can't be read or can't be (detail `field`), or nothing is to be changed.
        UnknownName: no such machine, place or kind.
        NotPossible: it is on record already.
        StoreError: the store can't be used.
    """
    from crib.store.writing import writing  # SQLAlchemy: looking machines up needs none of it

    for field in changes:
        if field not in FIELDS:
            raise UnknownName("field of a machine", field, get_close_matches(field, FIELDS, n=3))
    with reading(address) as reader:
        system = system or reader.settings().get("units", "metric")
        values = read_changes(changes, system)
        before = None if new else exactly(name, reader.machines())
        path = _new_path(name, reader, values) if before is None else before.path
    if before is not None and not values:
        raise InputError(f"nothing to change on the {before.name}", "for example --power '7 1/2 hp'")
    with writing(address) as session:
        put(session, _record(session, path, new=new), values)
    with reading(address) as reader:
        after = next(row for row in reader.machines() if row.path == path)
    return Saved(machine=_machine(after, system), added=new, changed=_differences(before, after, system))


def exactly(name: str, rows: Sequence[MachineRow]) -> MachineRow:
    """Give the machine of that very name or path: what is written goes to no near one.

    Raises:
        UnknownName: no machine is called that.
        InputError: several are.
    """
    wanted = _path(name).lower()
    found = [row for row in rows if row.path.lower() == wanted] or [
        row for row in rows if row.name.lower() == wanted
    ]
    if len(found) > 1:
        paths = ", ".join(row.path for row in found)
        raise InputError(f"{len(found)} machines are called {name!r}", f"give the path: {paths}")
    if not found:
        names = [row.name for row in rows]
        near = get_close_matches(wanted, [known.lower() for known in names], n=3, cutoff=0.5)
        nearest = [known for known in names if known.lower() in near]
        raise UnknownName("machine", name, nearest or names)
    return found[0]


# -- writing ----------------------------------------------------------------------------------------------


def put(session: "WriteSession", record: "models.Machine", values: Mapping[str, Any]) -> None:
    """Write values to a machine's record.

    Args:
        session: of a write transaction.
        record: the machine.
        values: column -> value, as read_changes gives them.
    """
    from crib.store import models

    for column, value in values.items():
        if column == "speeds_rev_min":
            kept = {step.n_rev_min: step for step in record.speeds}
            record.speeds = [kept.get(n) or models.MachineSpeed(n_rev_min=n) for n in value]
        elif column == "feeds_mm":
            held = {step.f_mm: step for step in record.feeds}
            record.feeds = [held.get(f) or models.MachineFeed(f_mm=f) for f in value]
        else:
            setattr(record, column, value)
    session.add(record)


def _record(session: "WriteSession", path: str, *, new: bool) -> "models.Machine":
    """Give the record to write to; for a new machine make its place too, where it is not there."""
    from sqlalchemy import select

    from crib.store import models
    from crib.store.places import add_place

    place = session.scalars(select(models.Place).where(models.Place.path == path)).one_or_none()
    record = session.get(models.Machine, place.id) if place else None
    if record is not None and new:
        raise NotPossible(f"{path} was entered just now by another", "crib machine set changes it")
    if record is not None:
        return record
    if not new:
        raise NotPossible(f"{path} went off the record just now", "nothing was changed")
    if place is None:
        above, name = path.rsplit(PATH_JOINT, 1)
        parent = session.scalars(select(models.Place).where(models.Place.path == above)).one()
        place = add_place(session, name, "machine", parent)
    return models.Machine(place_id=place.id, kind="lathe")  # its own kind follows: a new one must tell it


def _path(name: str) -> str:
    return PATH_JOINT.join(" ".join(part.split()) for part in name.split("/"))


def _new_path(name: str, reader: Reader, values: Mapping[str, Any]) -> str:
    """Give the path of a new machine as it will be on record.

    Raises:
        InputError: it has no place to stand in, or no kind.
        UnknownName: that place is not on record.
        NotPossible: the machine is on record already.
    """
    wanted = _path(name)
    above, _, own = wanted.rpartition(PATH_JOINT)
    places = {place.path.lower(): place for place in reader.places()}
    if not above or not own:
        stands = [place.path for place in places.values() if place.kind not in NOT_FOR_MACHINES]
        example = f'for example "{stands[-1] if stands else "works / machine shop"} / {own or "big lathe"}"'
        raise InputError(f"where does {name!r} stand?", f"give its path, {example}", field="path")
    known = places.get(wanted.lower())
    if known and any(row.place_id == known.id for row in reader.machines()):
        raise NotPossible(f"{known.path} is on record already", "crib machine set changes it")
    if known and known.kind != "machine":
        what = f"{known.path} is on record as {known.kind}, not as a machine"
        raise InputError(what, "put the machine's own name behind it", field="path")
    if known is None and above.lower() not in places:
        near = get_close_matches(above.lower(), places, n=3, cutoff=0.4)
        raise UnknownName("place", above, [places[path].path for path in near])
    parent = places[above.lower()]
    if parent.kind in NOT_FOR_MACHINES:
        raise InputError(f"a machine can't stand in a {parent.kind}", "name the area or site", field="path")
    if "kind" not in values:
        raise InputError("a new machine needs its kind", FIELDS["kind"].hint, field="kind")
    return known.path if known else parent.path + PATH_JOINT + own


# -- showing ----------------------------------------------------------------------------------------------


def _machine(row: MachineRow, system: str) -> Machine:
    shown = [(field, field.shown(row, system)) for field in FIELDS.values() if applies(field, row)]
    return Machine(
        name=row.name,
        path=row.path,
        kind=row.kind,
        speeds_rev_min=row.speeds_rev_min,
        speed_low_rev_min=row.speed_low_rev_min,
        speed_high_rev_min=row.speed_high_rev_min,
        feeds_mm=row.feeds_mm,
        power_kW=row.power_kw,
        efficiency=row.efficiency,
        swing_mm=row.swing_mm,
        travel_mm=row.travel_mm,
        shank_low_mm=row.shank_low_mm,
        shank_high_mm=row.shank_high_mm,
        bar_low_mm=row.bar_low_mm,
        bar_high_mm=row.bar_high_mm,
        facing_head=row.facing_head,
        least_bore_mm=row.least_bore_mm,
        head_speed_limit_rev_min=row.head_speed_limit_rev_min,
        head_tangential_limit_m_min=row.head_tangential_limit_m_min,
        note=row.note,
        fields=tuple((field.label, text) for field, text in shown if text),
        typed={field.name: field.typed(row, system) for field in FIELDS.values()},
        not_recorded=tuple(field.label for field, text in shown if not text and field.name != "note"),
    )


def _differences(before: MachineRow | None, after: MachineRow, system: str) -> tuple[Changed, ...]:
    found = []
    for field in FIELDS.values():
        now = field.shown(after, system)
        if before is None:
            found += [Changed(field=field.label, was="", now=now)] * (
                field.is_recorded(after) and now != "no"
            )
        elif any(getattr(before, column) != getattr(after, column) for column in field.columns):
            found.append(Changed(field=field.label, was=field.shown(before, system), now=now))
    return tuple(found)
