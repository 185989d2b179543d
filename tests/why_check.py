"""Formulas of a chain worked out again from the numbers beside them, by a small arithmetic of its own."""

import ast
import math
import re
from collections.abc import Callable, Mapping, Sequence

Row = Mapping[str, float]


def not_above(wanted: float, *steps: float) -> float:
    """The largest step that is not above what is wanted; the least where all are."""
    return max((step for step in steps if step <= wanted * (1 + 1e-9)), default=min(steps))


def in_degrees(function: Callable[[float], float]) -> Callable[[float], float]:
    return lambda degrees: function(math.radians(degrees))


FUNCTIONS: dict[str, Callable[..., float]] = {
    "sin": in_degrees(math.sin),
    "cos": in_degrees(math.cos),
    "tan": in_degrees(math.tan),
    "asin": lambda x: math.degrees(math.asin(x)),
    "acos": lambda x: math.degrees(math.acos(x)),
    "atan": lambda x: math.degrees(math.atan(x)),
    "atan2": lambda y, x: math.degrees(math.atan2(y, x)),
    "min": min,
    "max": max,
    "abs": abs,
    "sqrt": math.sqrt,
    "ceil": lambda x: math.ceil(x - 1e-4),  # printed figures are rounded
    "not_above": not_above,
}
OPERATORS: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: lambda a, b: a + b,
    ast.Sub: lambda a, b: a - b,
    ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b,
    ast.Pow: lambda a, b: a**b,
}
NAME = re.compile(r"[^\W\d_][\w.]*")


def work_out(formula: str, numbers: Row, pieces: Sequence[Row] = ()) -> float:
    """Work a formula out.

    Args:
        formula: as printed.
        numbers: value of each symbol in it; none for a formula that has its numbers in.
        pieces: rows over which Σ sums, by column.
    """
    names: dict[str, str] = {}

    def plain(found: re.Match[str]) -> str:
        word = found[0]
        if word in FUNCTIONS or word == "Σ":
            return "total" if word == "Σ" else word
        return names.setdefault(word, f"name{len(names)}")

    text = formula.replace("√", "sqrt").replace("×", "*").replace("^", "**").replace("−", "-")
    tree = ast.parse(NAME.sub(plain, text), mode="eval").body
    known = {short: math.pi if word == "π" else numbers.get(word) for word, short in names.items()}
    columns = {short: word for word, short in names.items()}
    return _value(tree, known, columns, pieces)


def _value(
    tree: ast.expr, known: Mapping[str, float | None], columns: Mapping[str, str], pieces: Sequence[Row]
) -> float:
    match tree:
        case ast.Constant(value=int() | float() as value):
            return value
        case ast.UnaryOp(op=ast.USub(), operand=inner):
            return -_value(inner, known, columns, pieces)
        case ast.BinOp(left=left, op=operator, right=right):
            sides = (_value(side, known, columns, pieces) for side in (left, right))
            return OPERATORS[type(operator)](*sides)
        case ast.Call(func=ast.Name(id="total"), args=[inner]):
            return sum(
                _value(inner, {**known, **{s: row[c] for s, c in columns.items() if c in row}}, columns, ())
                for row in pieces
            )
        case ast.Call(func=ast.Name(id=name), args=arguments):
            return FUNCTIONS[name](*(_value(one, known, columns, pieces) for one in arguments))
        case ast.Name(id=name):
            value = known[name]
            assert value is not None, f"no number for {columns[name]!r}"
            return value
    raise AssertionError(f"not arithmetic: {ast.dump(tree)}")
