"""A set-up: how stiff it is, how it rings, and which way it gives.

Directions are the tool's own: "away" is square to the finished surface (passive force), "along" is along
the feed (feed force), "down" is along the cutting speed (cutting force).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import isfinite, sqrt

from crib.errors import InputError, UnknownName


@dataclass(frozen=True, slots=True, kw_only=True)
class Gives:
    """The way a set-up gives.

    Attributes:
        name: the word of the table "gives".
        words: as said to people.
        also: other words for it.
        away, along, down: unit vector of the vibration.
        weight_away, weight_along, weight_down: how much Fp, Ff and Fc count in the tool pressure.
    """

    name: str
    words: str
    also: tuple[str, ...]
    away: float
    along: float
    down: float
    weight_away: float
    weight_along: float
    weight_down: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedSetup:
    """Assumed figures of a set-up known only by a word, from the table "setups"."""

    name: str
    words: str
    k_N_mm: float
    frequency_hz: float
    damping_ratio: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """A set-up as the mechanics sees it.

    Attributes:
        label: its name, with "assumed figures" where it has only a name.
        k_N_mm: stiffness at the cut in the direction in which it gives.
        frequency_hz: natural frequency of that motion.
        damping_ratio: its damping as a share of critical damping.
        gives: which way.
        assumed: every figure that was not measured, in words.
    """

    label: str
    k_N_mm: float
    frequency_hz: float
    damping_ratio: float
    gives: Gives
    assumed: tuple[str, ...] = ()


DEFAULT_GIVES = "away"
UNKNOWN = "unknown"


def load_gives(rows: Iterable[Mapping[str, str]]) -> Mapping[str, Gives]:
    """Build the directions from the rows of the table "gives", by name."""
    found = {}
    for row in rows:
        away, along, down = (float(row[key]) for key in ("away", "along", "down"))
        size = sqrt(away * away + along * along + down * down)
        found[row["name"]] = Gives(
            name=row["name"],
            words=row["words"],
            also=tuple(row["also"].split()),
            away=away / size,
            along=along / size,
            down=down / size,
            weight_away=float(row["weight_away"]),
            weight_along=float(row["weight_along"]),
            weight_down=float(row["weight_down"]),
        )
    return found


def load_setups(rows: Iterable[Mapping[str, str]]) -> Mapping[str, NamedSetup]:
    """Build the named set-ups from the rows of the table "setups", by name."""
    return {
        row["name"]: NamedSetup(
            name=row["name"],
            words=row["words"],
            k_N_mm=float(row["k_N_mm"]),
            frequency_hz=float(row["frequency_hz"]),
            damping_ratio=float(row["damping_ratio"]),
        )
        for row in rows
    }


def find_gives(text: str, directions: Mapping[str, Gives]) -> Gives:
    """Give the direction that a word names.

    Args:
        text: a name or another word for it, in any case.
        directions: from `load_gives`.

    Raises:
        UnknownName: no direction is called so.
    """
    word = text.strip().lower()
    for direction in directions.values():
        if word == direction.name or word in direction.also:
            return direction
    raise UnknownName("direction in which a set-up gives", text, hint="one of " + ", ".join(directions))


def named_setup(
    name: str,
    setups: Mapping[str, NamedSetup],
    directions: Mapping[str, Gives],
    gives: Gives | str | None = None,
) -> Setup:
    """Give a set-up known only by a word, with its assumed figures.

    Args:
        name: rigid, fair, weak, flimsy or unknown.
        setups: from `load_setups`.
        directions: from `load_gives`.
        gives: which way it gives, or the word for it; None takes "away from the tool" and says so.

    Raises:
        UnknownName: no such set-up or direction.
    """
    word = name.strip().lower()
    if word not in setups:
        raise UnknownName("set-up", name, hint="one of " + ", ".join(setups))
    figures = setups[word]
    direction, said = _direction(gives, directions)
    return Setup(
        label=f"{word} (assumed figures)",
        k_N_mm=figures.k_N_mm,
        frequency_hz=figures.frequency_hz,
        damping_ratio=figures.damping_ratio,
        gives=direction,
        assumed=(
            f"stiffness {figures.k_N_mm / 1000:g} kN/mm, {figures.frequency_hz:g} Hz, "
            f"damping {figures.damping_ratio * 100:g} %: {_assumed(word)}",
            *said,
        ),
    )


def measured_setup(
    *,
    setups: Mapping[str, NamedSetup],
    directions: Mapping[str, Gives],
    k_N_mm: float | None = None,
    frequency_hz: float | None = None,
    damping_ratio: float | None = None,
    gives: Gives | str | None = None,
    like: str = "unknown",
    label: str = "measured",
) -> Setup:
    """Give a set-up from what was measured; what was not is taken from a named one and said so.

    Args:
        setups: from `load_setups`.
        directions: from `load_gives`.
        k_N_mm: stiffness.
        frequency_hz: natural frequency.
        damping_ratio: share of critical damping, above 0 and below 1.
        gives: which way it gives.
        like: named set-up that fills the gaps.
        label: its name.

    Raises:
        InputError: a stiffness, frequency or damping that can't be.
        UnknownName: no such set-up or direction.
    """
    fill = named_setup(like, setups, directions, gives)
    _check_positive("stiffness", k_N_mm, "N/mm")
    _check_positive("frequency", frequency_hz, "Hz")
    _check_positive("damping ratio", damping_ratio, "")
    if damping_ratio is not None and damping_ratio >= 1.0:
        raise InputError(f"damping ratio {damping_ratio:g} would not ring", "0.03 or 3 % is usual")
    said = []
    if k_N_mm is None:
        said.append(f"stiffness {fill.k_N_mm / 1000:g} kN/mm assumed")
    if frequency_hz is None:
        said.append(f"natural frequency {fill.frequency_hz:g} Hz assumed")
    if damping_ratio is None:
        said.append(f"damping {fill.damping_ratio * 100:g} % assumed")
    return Setup(
        label=label,
        k_N_mm=fill.k_N_mm if k_N_mm is None else k_N_mm,
        frequency_hz=fill.frequency_hz if frequency_hz is None else frequency_hz,
        damping_ratio=fill.damping_ratio if damping_ratio is None else damping_ratio,
        gives=fill.gives,
        assumed=(*said, *fill.assumed[1:]),
    )


def _direction(gives: Gives | str | None, directions: Mapping[str, Gives]) -> tuple[Gives, tuple[str, ...]]:
    if gives is not None:
        return gives if isinstance(gives, Gives) else find_gives(gives, directions), ()
    direction = directions[DEFAULT_GIVES]
    return direction, (f"taken to give {direction.words}",)


def _assumed(word: str) -> str:
    """Say of a named set-up's figures that they are assumed."""
    return "assumed, nothing told of it" if word == UNKNOWN else f"assumed figures for a {word} set-up"


def _check_positive(name: str, value: float | None, unit: str) -> None:
    if value is not None and not (isfinite(value) and value > 0.0):
        raise InputError(f"{name} {value:g} {unit} can't be".replace("  ", " "), "give a figure above 0")
