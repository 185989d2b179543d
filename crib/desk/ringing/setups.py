"""Kept set-ups: entering one, measuring it at its points, and what is on record of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from math import inf

from crib.desk import tables
from crib.desk.lookup import my_id
from crib.desk.ringing.holding import JOINTS, called, points_of
from crib.desk.ringing.measure import Measured, MeasureRequest, band_words, measured
from crib.desk.starting.machines import exactly
from crib.desk.typed import text
from crib.errors import InputError, NotPossible, UnknownName
from crib.store.read import reading
from crib.store.rows import SetupPointRow, SetupRow
from crib.trade.rigidity.chatter import allowed_stiffness
from crib.trade.rigidity.directions import read_gives
from crib.units import Kind, show

LONGEST_NAME = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupPoint:
    """One point of a kept set-up as measured last; null where it was not measured.

    Attributes:
        name: of the point; empty where there is only one.
        gives: which way it gives, as on record.
        k_N_mm: stiffness, and its band.
        frequency_hz: natural frequency.
        damping_ratio: damping, and its band.
        band: both bands in words.
        allowed_N_mm: stiffness of a cut that it bears at every speed; assumed figures fill the gaps.
        partly_assumed: some of that is assumed.
        times: how often it was measured.
        at: when last, ISO 8601.
        by: who did.
        how: with what the figures that count were measured.
        said: all of it in a line.
    """

    name: str
    gives: str | None
    k_N_mm: float | None
    k_low_N_mm: float | None
    k_high_N_mm: float | None
    frequency_hz: float | None
    damping_ratio: float | None
    damping_low: float | None
    damping_high: float | None
    band: tuple[str, ...]
    allowed_N_mm: float
    partly_assumed: bool
    times: int
    at: str
    by: str | None
    how: str | None
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptSetup:
    """A kept set-up, the point that rings first at the head of its points."""

    id: int
    name: str
    machine: str | None
    note: str | None
    points: tuple[SetupPoint, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Setups:
    """All kept set-ups by name, and what a form needs to know."""

    setups: tuple[KeptSetup, ...]
    machines: tuple[str, ...]
    units: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PointMeasured:
    """What was measured and written."""

    setup: KeptSetup
    point: str
    measured: Measured
    new: bool


def setups(address: str) -> Setups:
    """Give all kept set-ups.

    Args:
        address: the store.
    """
    with reading(address) as reader:
        system = reader.settings().get("units", "metric")
        return Setups(
            setups=tuple(_kept(row, system) for row in reader.setups()),
            machines=tuple(machine.path for machine in reader.machines()),
            units=system,
        )


def setup(address: str, name: str) -> KeptSetup:
    """Give one kept set-up.

    Args:
        address: the store.
        name: its name.

    Raises:
        UnknownName: none is called that.
    """
    with reading(address) as reader:
        return _kept(_exactly(name, reader.setups()), reader.settings().get("units", "metric"))


def add_setup(address: str, name: str, *, machine: str = "", note: str = "") -> KeptSetup:
    """Enter a set-up; its points follow when they are measured.

    Args:
        address: the store.
        name: what it is to be called.
        machine: name or path of the machine that it stands on; empty for any.
        note: anything.

    Raises:
        InputError: a name that can't be one.
        UnknownName: no such machine.
        NotPossible: it is on record already.
        StoreError: the store can't be used.
    """
    from crib.store import models
    from crib.store.writing import writing  # SQLAlchemy: looking up needs none of it

    called_so = _name(name)
    with reading(address) as reader:
        machine_id = exactly(machine, reader.machines()).place_id if machine.strip() else None
        if any(row.name.lower() == called_so.lower() for row in reader.setups()):
            raise NotPossible(f"{called_so} is on record already", "crib setup measure adds to it")
    with writing(address) as session:
        session.add(models.Setup(name=called_so, machine_id=machine_id, note=text(note, "note")))
    return setup(address, called_so)


def measure_setup(
    address: str,
    name: str,
    request: MeasureRequest,
    *,
    point: str = "",
    gives: str = "",
    how: str = "",
    add: bool = False,
) -> PointMeasured:
    """Write what was measured at a point of a set-up; what was measured there before stays on record.

    Args:
        address: the store.
        name: the set-up, with or without its point behind it ("tall bracket:top of bore").
        request: what was measured, as typed.
        point: the point, where it does not stand behind the name; empty for a set-up with one.
        gives: which way it gives there; as before, if not told.
        how: with what it was measured.
        add: enter the set-up if it is not on record.

    Raises:
        InputError: something can't be read or can't be, or nothing was measured.
        UnknownName: no such set-up or direction.
        StoreError: the store can't be used.
    """
    from crib.store import models
    from crib.store.writing import writing

    with reading(address) as reader:
        system = reader.settings().get("units", "metric")
        rows, by_id = reader.setups(), my_id(reader)
    name, point = _parted(name, point, rows)
    new = add and all(row.name.lower() != name.lower() for row in rows)
    row = None if new else _exactly(name, rows)
    point = _as_before(point, row)
    way = " ".join(gives.split())
    if way:
        read_gives(way, tables.directions())  # refuses what is no direction
    found = measured(request, system)
    with writing(address) as session:
        kept = models.Setup(name=_name(name)) if row is None else session.get_one(models.Setup, row.id)
        session.add(kept)
        kept.points.append(
            models.SetupPoint(
                at=datetime.now(UTC),
                point=point,
                gives=way or None,
                k_n_mm=found.k_N_mm,
                k_low_n_mm=found.k_low_N_mm,
                k_high_n_mm=found.k_high_N_mm,
                frequency_hz=found.frequency_hz,
                damping_ratio=found.damping_ratio,
                damping_low=found.damping_low,
                damping_high=found.damping_high,
                by_id=by_id,
                how=text(how, "way of measuring") or ", ".join(found.how),
            )
        )
    return PointMeasured(setup=setup(address, name), point=point, measured=found, new=new)


# -- names ------------------------------------------------------------------------------------------------


def _name(typed: str) -> str:
    """Give a name as it will be on record.

    Raises:
        InputError: it can't be one.
    """
    name = " ".join(typed.split())
    if not name:
        raise InputError("a set-up needs a name", 'for example "pump liner"')
    if len(name) > LONGEST_NAME:
        raise InputError(f"a name of {len(name)} characters is hard to say", f"at most {LONGEST_NAME}")
    if name.lower() in tables.setups():
        raise InputError(f"{name!r} is a word for assumed figures", "give it a name of its own")
    if any(joint in name for joint in JOINTS):
        raise InputError(f"in {name!r} a point would be read", "a name without colon, comma or “at”")
    return name


def _parted(name: str, point: str, rows: Sequence[SetupRow]) -> tuple[str, str]:
    """Part a name from the point that may stand behind it."""
    whole = " ".join(name.split())
    names = {row.name.lower() for row in rows}
    if point or whole.lower() in names:
        return whole, " ".join(point.split())
    for joint in JOINTS:
        head, found, tail = whole.partition(joint)
        if found and tail.strip():
            return head.strip(), tail.strip()
    return whole, ""


def _as_before(point: str, row: SetupRow | None) -> str:
    """Write a point as it was written before, whatever the case; its beginning does, as where it is asked."""
    before = {one.point.lower(): one.point for one in row.measured} if row else {}
    begins = [full for low, full in before.items() if point and low.startswith(point.lower())]
    return before.get(point.lower(), begins[0] if len(begins) == 1 else point)


def _exactly(name: str, rows: Sequence[SetupRow]) -> SetupRow:
    wanted = " ".join(name.split()).lower()
    for row in rows:
        if row.name.lower() == wanted:
            return row
    names = [row.name for row in rows]
    raise UnknownName("set-up", name, names[:8], "" if names else "crib setup add NAME enters one")


# -- showing ----------------------------------------------------------------------------------------------


def _kept(row: SetupRow, system: str) -> KeptSetup:
    points = points_of(row) if row.measured else ()
    return KeptSetup(
        id=row.id,
        name=row.name,
        machine=row.machine,
        note=row.note,
        points=tuple(
            _point(
                [one for one in row.measured if one.point == point.name],
                allowed_stiffness(point.setup.k_N_mm, point.setup.damping_ratio),
                system,
            )
            for point in points
        ),
    )


def _point(lines: Sequence[SetupPointRow], allowed: float, system: str) -> SetupPoint:
    """Give a point as measured last, figure by figure; a band goes with its figure."""
    by_k = next((one for one in reversed(lines) if one.k_n_mm is not None), None)
    by_damping = next((one for one in reversed(lines) if one.damping_ratio is not None), None)
    by_hz = next((one for one in reversed(lines) if one.frequency_hz is not None), None)
    hz = by_hz.frequency_hz if by_hz else None
    gives = next((one.gives for one in reversed(lines) if one.gives), None)
    last = lines[-1]
    parts = [
        show(by_k.k_n_mm, Kind.STIFFNESS, system) if by_k and by_k.k_n_mm else "stiffness not measured",
        f"{hz:.4g} Hz" if hz else "frequency not measured",
        f"damping {100 * by_damping.damping_ratio:.2g} %"
        if by_damping and by_damping.damping_ratio
        else "damping not measured",
        f"gives {gives}" if gives else "which way it gives not told",
    ]
    return SetupPoint(
        name=last.point,
        gives=gives,
        k_N_mm=by_k.k_n_mm if by_k else None,
        k_low_N_mm=by_k.k_low_n_mm if by_k else None,
        k_high_N_mm=by_k.k_high_n_mm if by_k else None,
        frequency_hz=hz,
        damping_ratio=by_damping.damping_ratio if by_damping else None,
        damping_low=by_damping.damping_low if by_damping else None,
        damping_high=by_damping.damping_high if by_damping else None,
        band=_band(by_k, by_damping, system),
        allowed_N_mm=allowed,
        partly_assumed=not (by_k and by_damping),
        times=len(lines),
        at=last.at.isoformat(),
        by=last.by,
        how=_how(lines, (by_k, by_hz, by_damping)),
        said=", ".join(parts),
    )


def _band(by_k: SetupPointRow | None, by_damping: SetupPointRow | None, system: str) -> tuple[str, ...]:
    """Say how far stiffness and damping may lie apart, where a measurement told."""
    k = (by_k.k_low_n_mm, by_k.k_high_n_mm or inf) if by_k and by_k.k_low_n_mm else None
    low, high = (by_damping.damping_low, by_damping.damping_high) if by_damping else (None, None)
    return tuple(band_words(k, (low, high) if low and high else None, system))


def _how(lines: Sequence[SetupPointRow], counts: Sequence[SetupPointRow | None]) -> str | None:
    """Name the ways in which the figures that count were measured, in the order taken."""
    return "; ".join(dict.fromkeys(line.how for line in lines if line in counts and line.how)) or None


def named(kept: KeptSetup, point: SetupPoint) -> str:
    """Give what is typed for a point of a set-up."""
    return called(kept.name, point.name)
