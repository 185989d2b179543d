"""The chain behind an answer: its steps, and a maker that puts them together.

A formula is text: the arithmetic itself is done once, by the functions behind the answer, and a step carries
what they gave. Tests work every formula out again from the numbers printed beside it.

Formulas are written with + − × / ^ √, π, sin cos tan asin acos atan atan2 in degrees, min, max, abs, ceil;
"not_above(w, a, b …)" is the largest of a, b … that is not above w; "Σ(…)" is the sum over the pieces of the
table before it.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from crib.desk.keeping.sources import cite

SYMBOL = re.compile(r"[^\W\d_][\w.']*")
WORDS = frozenset(
    ("sin", "cos", "tan", "asin", "acos", "atan", "atan2", "min", "max", "abs", "ceil", "not_above", "Σ", "π")
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number that goes into a formula."""

    symbol: str
    value: float
    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table of pieces.

    Attributes:
        symbol: what formulas call it.
        unit: of its figures.
        name: what it is.
        formula: for each piece; empty where the shape of the edge gives it.
    """

    symbol: str
    unit: str
    name: str
    formula: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """The engaged edge cut into pieces: one row a piece."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the chain.

    Attributes:
        part: which part of the chain it belongs to.
        name: what it is.
        symbol: what later formulas call it.
        formula: in plain symbols; empty for what was told, read or looked up.
        numbers: what goes into the formula (and into the formulas of the table's columns).
        value: the result.
        unit: of the result.
        source: where formula or figure come from.
        assumed: what was taken for granted; empty for nothing.
        table: pieces of the edge, where the result is a sum over them.
    """

    part: str
    name: str
    symbol: str
    formula: str
    numbers: tuple[Number, ...]
    value: float
    unit: str
    source: tuple[str, ...]
    assumed: str
    table: Table | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensitivity:
    """What one assumed or uncertain input does to the answer.

    Attributes:
        what: the input.
        low, high: what it was set to, in words.
        margin, Fc_N, pressure_N, minutes: the answer's figure at either; None where there is none.
        most: which of these changes most.
        times: how many times as large it is where it is largest (at an end, or as answered) as where it is
            least; infinite where a margin has no limit at one end.
    """

    what: str
    low: str
    high: str
    margin: tuple[float | None, float | None]
    Fc_N: tuple[float | None, float | None]
    pressure_N: tuple[float | None, float | None]
    minutes: tuple[float | None, float | None]
    most: str
    times: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """The whole chain behind one answer.

    Attributes:
        of: what it is the chain of.
        rank: the candidate's place, from 1; None where nothing is ranked.
        steps: in the order of reckoning.
        sensitivities: what would change the answer most, the largest change first.
    """

    of: str
    rank: int | None
    steps: tuple[Step, ...]
    sensitivities: tuple[Sensitivity, ...]


class Maker:
    """Puts a chain together; a formula's numbers are looked up by the symbols of earlier steps."""

    def __init__(self) -> None:
        self.steps: list[Step] = []
        self._known: dict[str, Number] = {}
        self._columns: frozenset[str] = frozenset()
        self._part = ""

    def part(self, title: str) -> None:
        """Begin the next part."""
        self._part = title

    def knows(self, symbol: str) -> bool:
        """Whether an earlier step gave this symbol."""
        return symbol in self._known

    def value(self, symbol: str) -> float:
        """Give what an earlier step gave for a symbol."""
        return self._known[symbol].value

    def given(
        self, symbol: str, name: str, value: float, unit: str = "", *, source: str = "", assumed: str = ""
    ) -> None:
        """Add what was told, read or looked up.

        Args:
            symbol: what later formulas call it.
            name: what it is.
            value: in its unit.
            unit: of the value.
            source: source keys, separated by blanks.
            assumed: what was taken for granted.
        """
        self.step(symbol, name, "", value, unit, source=source, assumed=assumed)

    def step(
        self,
        symbol: str,
        name: str,
        formula: str,
        value: float,
        unit: str = "",
        *,
        source: str = "",
        assumed: str = "",
        also: Mapping[str, float] | None = None,
        table: Table | None = None,
    ) -> None:
        """Add a step.

        Args:
            symbol: what later formulas call it.
            name: what it is.
            formula: in plain symbols, without the result's; empty for what was told, read or looked up.
            value: in its unit.
            unit: of the value.
            source: source keys, separated by blanks.
            assumed: what was taken for granted.
            also: numbers that no earlier step gave.
            table: pieces over which this formula and later ones sum.
        """
        extra = {key: Number(symbol=key, value=number, unit="") for key, number in (also or {}).items()}
        if table is not None:
            self._columns = frozenset(column.symbol for column in table.columns)
        texts = [formula, *(column.formula for column in (table.columns if table else ()))]
        numbers = {key: extra.get(key) or self._known[key] for key in self._wanted(texts)}
        done = Step(
            part=self._part,
            name=name,
            symbol=symbol,
            formula=formula,
            numbers=tuple(numbers.values()),
            value=value,
            unit=unit,
            source=cited(source),
            assumed=assumed,
            table=table,
        )
        self.steps.append(done)
        self._known[symbol] = Number(symbol=symbol, value=value, unit=unit)

    def _wanted(self, formulas: Sequence[str]) -> Iterator[str]:
        for formula in formulas:
            for found in SYMBOL.findall(formula):
                if found not in WORDS and found not in self._columns:
                    yield found


def cited(keys: str) -> tuple[str, ...]:
    """Give the citations of source keys, each once."""
    return tuple(dict.fromkeys(cite(key) for key in keys.split()))
