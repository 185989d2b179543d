"""Conversion by pint. Nothing outside sees a pint object, and pint never sees what someone typed."""

import sys
from functools import cache
from os.path import dirname, join

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable


@cache
def _converter() -> "Callable[[float, str, str], float]":
    """Load pint with the small unit file beside this module: at the first conversion, once."""
    # pint loads NumPy wherever it is installed, and takes half as long again; we hand it plain floats only
    hidden = "numpy" not in sys.modules
    if hidden:
        sys.modules["numpy"] = None  # type: ignore[assignment]  # makes an import fail
    try:
        from pint import UnitRegistry
    finally:
        if hidden:
            del sys.modules["numpy"]

    registry: UnitRegistry[float] = UnitRegistry(None, on_redefinition="raise")
    registry.load_definitions(join(dirname(__file__), "units.txt"))

    def convert(value: float, source: str, target: str) -> float:
        return float(registry.convert(value, source, target))

    return convert


def convert(value: float, source: str, target: str) -> float:
    """Convert a value from one unit to another.

    Args:
        value: in the source unit.
        source: a product of names of units.txt, from the tables of words.py.
        target: likewise.

    Returns:
        The value in the target unit, free of the last digits' binary noise: sums on the kelvin scale are
        true to about 1e-13, so nine decimals of a degree and fourteen digits elsewhere are kept.
    """
    if source == target:
        return value
    result = _converter()(value, source, target)
    if target == "degree_celsius":
        return round(result, 9) + 0.0
    return float(f"{result:.14g}")
