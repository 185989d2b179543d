"""What all writers of codes share: taking a letter or the nearest table value, and keeping what was exact."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from crib.errors import BadDesignation
from crib.trade.designation.letters import Letters
from crib.trade.designation.reading import CERTAIN, Reading
from crib.trade.designation.resolve import read
from crib.trade.designation.symbols import Shape, Symbols

EXACT_MM = 0.01  # tables and people round inch fractions to two decimals: 9.52 is 9.525
EXACT_RADIUS_MM = 0.002  # keeps 0.8 mm and 1/32 in apart
EXACT_DEG = 0.05
AGREE_MM = 0.05  # edge length and inscribed circle of one size, both rounded
INSERT_CLEARANCE = 2  # position; there the inch system has letters of its own
Choice = tuple[str, float, bool]
"""A code, the value it stands for, and whether it may be taken for a value near by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A code, written.

    Attributes:
        kind: "insert", "holder" or "bar".
        system: "metric" or "inch".
        designation: the code.
        equivalent: the same insert in the other system, where it has a code there.
        equivalent_exact: both codes state the same sizes.
        exact: by field, whether the code states just what was asked or the nearest that it can.
        notes: what was rounded, and what to know of the code.
    """

    kind: str
    system: str
    designation: str
    equivalent: str | None
    equivalent_exact: bool | None
    exact: Mapping[str, bool]
    notes: tuple[str, ...]


@dataclass(slots=True)
class Pen:
    """Keeps what was taken for what while one code is written.

    Attributes:
        system: "metric" or "inch".
        exact: as in Written.
        notes: as in Written.
    """

    system: str
    exact: dict[str, bool] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def letter(self, name: str, position: int, code: str, allowed: Iterable[str]) -> str:
        """Take a letter that must stand in its table."""
        wanted = [c for c in allowed if c]
        taken = code.strip().upper()
        if taken not in wanted:
            raise self.refuse(
                name, position, code, wanted, f"{code!r} is no letter of the {self.system} system"
            )
        self.exact[name] = True
        return taken

    def nearest(
        self, name: str, position: int, value: float, choices: Iterable[Choice], unit: str, exact: float
    ) -> str:
        """Take the code whose value is nearest; one that only makers use, or was recalled, only if exact.

        Raises:
            BadDesignation: the value lies off the end of the table by more than half of its last step.
        """
        all_choices = list(choices)
        for code, stands_for, _ in all_choices:
            if abs(stands_for - value) <= exact:
                self.exact[name] = True
                return code
        free = [choice for choice in all_choices if choice[2]] or all_choices
        values = sorted({stands_for for _, stands_for, _ in free})
        low, high = values[0], values[-1]
        first = (values[1] - low) / 2.0 if len(values) > 1 else exact
        last = (high - values[-2]) / 2.0 if len(values) > 1 else exact
        if not low - first <= value <= high + last:
            wanted = [f"{stands_for:g}" for stands_for in values]
            raise self.refuse(
                name,
                position,
                f"{value:g}",
                wanted,
                f"{value:g} {unit} lies outside {low:g} to {high:g} {unit}",
            )
        code, stands_for, _ = min(free, key=lambda choice: abs(choice[1] - value))
        self.say(name, value, code, stands_for, unit)
        return code

    def say(self, name: str, value: float, code: str, stands_for: float, unit: str) -> None:
        """Say that a code stands for something near what was asked."""
        self.exact[name] = False
        self.notes.append(
            f"{name}: {value:g} {unit} was asked; {code} stands for {stands_for:g} {unit} (nearest)"
        )

    def refuse(
        self, name: str, position: int, found: str, expected: Iterable[str], why: str, hint: str = ""
    ) -> BadDesignation:
        """Give the error that names the field, what was given and what may stand there."""
        wanted = list(expected)
        return BadDesignation(
            f"{name} (position {position}): {why}", position=position, found=found, expected=wanted,
            hint=hint or "there may stand: " + ", ".join(wanted), field=name, system=self.system,
        )  # fmt: skip

    def done(self, text: str, letters: Letters) -> tuple[Written, Reading]:
        """Read the code back, and give it with what that tells.

        Raises:
            BadDesignation: the code would be read by the other system.
        """
        try:
            reading = read(text, letters)
        except (
            BadDesignation
        ) as error:  # letters and sizes are of the tables: only what was added can be at fault
            raise self.refuse(
                "maker_suffix", 13, text, (), error.message, "leave the maker's symbol out"
            ) from error
        if reading.system != self.system:
            raise self.refuse(
                "system",
                0,
                text,
                (self.system,),
                f"{text} would be read as a code of the {reading.system} system",
            )
        written = Written(
            kind=reading.kind, system=reading.system, designation=reading.designation,
            equivalent=reading.equivalent, equivalent_exact=getattr(reading, "equivalent_exact", None),
            exact=self.exact, notes=(*self.notes, *reading.notes),
        )  # fmt: skip
        return written, reading


def choices(table: Symbols) -> list[Choice]:
    """Give the codes of a table with the values they stand for."""
    return [
        (code, symbol.value, symbol.places[0].mark == CERTAIN)
        for code, symbol in table.items()
        if symbol.value is not None
    ]


def take_clearance(pen: Pen, position: int, asked: str | float, letters: Letters) -> str:
    """Take the clearance by its letter or its angle; the inch system's double angles by letter only."""
    if isinstance(asked, str):
        inch = pen.system == "inch" and position == INSERT_CLEARANCE
        return pen.letter(
            "clearance", position, asked, letters.inch_clearances if inch else letters.metric_clearances
        )
    return pen.nearest("clearance", position, asked, choices(letters.metric_clearances), "deg", EXACT_DEG)


def take_size(
    pen: Pen, position: int, shape: Shape, IC_mm: float | None, L_mm: float | None, letters: Letters
) -> str:
    """Take the size of a shape with an inscribed circle, by the circle or by the edge.

    Returns:
        Its code; for a metric round insert with the corner field that its kind of diameter asks for.

    Raises:
        BadDesignation: neither was given, or they don't agree, or no size is near.
    """
    ratio = shape.edge_per_IC or 1.0
    if IC_mm is None and L_mm is None:
        wanted = ["IC_mm", "L_mm"]
        raise pen.refuse("IC_mm", position, "", wanted, "neither inscribed circle nor edge length was given")
    if IC_mm is not None and L_mm is not None and abs(IC_mm * ratio - L_mm) > AGREE_MM:
        edge = f"{IC_mm * ratio:.2f}"
        why = f"an inscribed circle of {IC_mm:g} mm makes an edge of {edge} mm, not {L_mm:g} mm"
        raise pen.refuse("L_mm", position, f"{L_mm:g}", [edge], why, "give one of the two")
    if pen.system == "inch":
        sizes = choices(letters.inch_size_symbols)
    elif shape.corners is None:
        sizes = [(key, size.IC_mm or 0.0, True) for key, size in letters.rounds.items()]
    else:
        sizes = [
            (key[1:], size.IC_mm or 0.0, size.places[0].mark == CERTAIN)
            for key, size in letters.sizes.items()
            if key[0] == shape.code
        ]
    if IC_mm is not None:
        return pen.nearest("IC_mm", position, IC_mm, sizes, "mm", EXACT_MM)
    edges = [(code, round(value * ratio, 3), free) for code, value, free in sizes]
    return pen.nearest("L_mm", position, L_mm or 0.0, edges, "mm", EXACT_MM)
