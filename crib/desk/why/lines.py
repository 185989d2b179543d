"""A chain in lines for people: each step with its formula, the numbers put in, result and source."""

import re
from collections.abc import Iterator, Sequence
from math import isfinite

from crib.desk.why.step import SYMBOL, WORDS, Chain, Sensitivity, Step, Table
from crib.units import Kind, show

DOUBLED = re.compile(r"\(\((−[\d.]+)\)\)")  # a minus in brackets of its own, inside a function's
KINDS = {
    "mm": Kind.LENGTH,
    "m/min": Kind.SPEED,
    "mm/rev": Kind.FEED,
    "N": Kind.FORCE,
    "N/mm": Kind.STIFFNESS,
    "kW": Kind.POWER,
}
COLUMN = 9
INDENT = 5
NO_LIMIT = "no limit"
FIGURES = (  # of an answer, as a list of what changes it shows them
    ("margin", "margin", 3),
    ("cutting force", "Fc_N", 4),
    ("tool pressure", "pressure_N", 4),
    ("time", "minutes", 3),
)


def chain_lines(chain: Chain, system: str, width: int = 0) -> Iterator[str]:
    """Put a chain into lines.

    Args:
        chain: what is behind an answer.
        system: "metric" or "inch": an inch user gets each result in inch units too. Formulas stay in the
            units they are written for.
        width: columns of the page, for tables wider than it; 0 for any.
    """
    cites = {text: number for number, text in enumerate(_sources(chain), start=1)}
    yield f"How it comes about: {chain.of}"
    if any("Σ" in step.formula for step in chain.steps):
        yield "(angles in degrees; Σ is the sum over the pieces of the table before it)"
    part = ""
    for number, step in enumerate(chain.steps, start=1):
        if step.part != part:
            part = step.part
            yield ""
            yield part
        yield from _step_lines(number, step, cites, system, width)
    if chain.sensitivities:
        yield ""
        yield "What would change it most"
        for one in chain.sensitivities:
            yield from _sensitivity_lines(one)
    yield ""
    yield "Sources"
    yield from (f"  [{number}] {text}" for text, number in cites.items())


def _sources(chain: Chain) -> Sequence[str]:
    return list(dict.fromkeys(text for step in chain.steps for text in step.source))


def _step_lines(number: int, step: Step, cites: dict[str, int], system: str, width: int) -> Iterator[str]:
    if step.table is not None:
        yield from _table_lines(step.table, step, width)
    marks = "".join(f" [{cites[text]}]" for text in step.source)
    result = f"{figure(step.value)}{_unit(step.unit)}{_also(step, system)}"
    if not step.formula:
        yield f"{number:4} {step.name}: {step.symbol} = {result}{marks}"
    else:
        yield f"{number:4} {step.name}: {step.symbol} = {step.formula}"
        put_in = substituted(step)
        numbers = "" if put_in == step.formula else f"= {put_in} "
        yield f"       {numbers}= {result}{marks}"
    if step.assumed:
        yield f"       {step.assumed}"


def _table_lines(table: Table, step: Step, width: int) -> Iterator[str]:
    """Set out the pieces of the edge, each column headed by its symbol and unit."""
    values = {one.symbol: one.value for one in step.numbers}
    yield "     The edge in pieces, in the order of the edge:"
    for column in table.columns:
        formula = f" = {_put_in(column.formula, values)}" if column.formula else ""
        yield f"       {column.symbol}: {column.name}{formula}"
    heads = [f"{one.symbol} {one.unit}".strip() for one in table.columns]
    many = len(heads) if width <= 0 else max(1, (width - INDENT) // COLUMN)
    for start in range(0, len(heads), many):
        cells = slice(start, start + many)
        yield " " * INDENT + "".join(f"{head:>{COLUMN}}" for head in heads[cells])
        for row in table.rows:
            yield " " * INDENT + "".join(f"{_figure(value, 4):>{COLUMN}}" for value in row[cells])


def substituted(step: Step) -> str:
    """Give a step's formula with the numbers in place of the symbols."""
    return _put_in(step.formula, {one.symbol: one.value for one in step.numbers})


def _put_in(formula: str, values: dict[str, float]) -> str:
    def put(symbol: str) -> str:
        if symbol in WORDS or symbol not in values:
            return symbol
        text = figure(values[symbol])
        return f"({text})" if values[symbol] < 0 else text

    return DOUBLED.sub(r"(\1)", SYMBOL.sub(lambda found: put(found[0]), formula))


def figure(value: float) -> str:
    """Give a figure with enough digits to reckon on: five that count, three decimals from 100 up."""
    return _figure(value, 5)


def _figure(value: float, digits: int) -> str:
    if not isfinite(value):
        return NO_LIMIT
    text = f"{value:.{digits - 2}f}" if abs(value) >= 100.0 else f"{value:.{digits}g}"
    if "e" in text:
        text = f"{value:.9f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace("-", "−")


def _unit(unit: str) -> str:
    return f" {unit}" if unit and unit != "°" else unit


def _also(step: Step, system: str) -> str:
    """Give a result in inch units too, for whoever works in them."""
    kind = KINDS.get(step.unit)
    if system != "inch" or kind is None or not isfinite(step.value):
        return ""
    return f" ({show(step.value, kind, system, both=False)})"


def _sensitivity_lines(one: Sensitivity) -> Iterator[str]:
    yield f"  {one.what}: {one.low} … {one.high}"
    changes = []
    for name, field, digits in FIGURES:
        low, high = getattr(one, field)
        if low is None or high is None:
            continue
        first, last = (_rounded(end, digits) for end in (low, high))
        if first != last:
            unit = {"Fc_N": " N", "pressure_N": " N", "minutes": " min"}.get(field, "")
            changes.append(f"{name} {first} … {last}{unit}")
    yield f"       {'; '.join(changes) if changes else 'changes nothing here'}"


def _rounded(value: float, digits: int) -> str:
    if not isfinite(value):
        return NO_LIMIT
    return f"{float(f'{value:.{digits}g}'):.10g}"
