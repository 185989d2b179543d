"""Printing quantities in both systems, the user's own first. By exact factors: printing needs no pint.

Sources (keys of trade/tables/sources.toml) stand beside each factor; all are exact by definition.
"""

import math

from crib.units.kinds import Kind, System

MM_PER_IN = 25.4  # units_yard_pound: the inch of 1959
M_PER_FT = 0.3048  # units_yard_pound: twelve of them
KG_PER_LB = 0.45359237  # units_yard_pound: the pound of 1959
STANDARD_GRAVITY_M_S2 = 9.80665  # units_gravity
N_PER_LBF = 4.4482216152605  # a pound under standard gravity
KW_PER_HP = 550 * M_PER_FT * N_PER_LBF / 1000  # units_nist: mechanical horsepower, 550 ft·lbf/s
SOURCES = ("units_si", "units_yard_pound", "units_gravity", "units_nist")

# A length is shown as a fraction of an inch when it is that close to a 64th.
FRACTION_WITHIN_IN = 0.0005


# How a kind is printed: its unit in both systems (one only where both share it), the factor between them.
# No dataclass: printing is all that a short command needs of this room, and making one costs a millisecond.
_STYLES = {
    Kind.LENGTH: ("mm", "in", MM_PER_IN),
    Kind.SPEED: ("m/min", "ft/min", M_PER_FT),
    Kind.FEED: ("mm/rev", "in/rev", MM_PER_IN),
    Kind.FORCE: ("N", "lbf", N_PER_LBF),
    Kind.STIFFNESS: ("N/mm", "lbf/in", N_PER_LBF / MM_PER_IN),
    Kind.FREQUENCY: ("Hz", "", 1.0),
    Kind.POWER: ("kW", "hp", KW_PER_HP),
    Kind.ANGLE: ("°", "", 1.0),
    Kind.TEMPERATURE: ("°C", "°F", 1.8),
    Kind.ROTATION: ("rev/min", "", 1.0),
    Kind.TIME: ("min", "", 1.0),
    Kind.MASS: ("kg", "lb", KG_PER_LB),
    Kind.PRESSURE: ("N/mm²", "psi", N_PER_LBF / MM_PER_IN**2),
    Kind.TORQUE: ("N m", "lbf ft", N_PER_LBF * M_PER_FT),
    Kind.RATIO: ("", "", 1.0),
}


def show(
    value: float, kind: Kind, system: System | str = System.METRIC, both: bool = True, *, fine: bool = False
) -> str:
    """Print a quantity: `415.925 mm (16 3/8 in)`, `0.25 mm/rev (0.010 in/rev)`, `80 Hz`.

    Args:
        value: in the canonical unit of its kind; infinity is printed as such.
        kind: what it is.
        system: the user's own system, printed first.
        both: whether the other system follows in brackets, for kinds that have one.
        fine: for lengths that were measured: decimals to 0.1 µm or 0.00001 in, never a near fraction.

    Raises:
        ValueError: the value is not a number.
    """
    if math.isnan(value):
        raise ValueError(f"no {kind} to show: the value is not a number")
    kind, system = Kind(kind), System(system)
    if not _STYLES[kind][1]:
        return _one(value, kind, System.METRIC, first=True, fine=fine)
    text = _one(value, kind, system, first=True, fine=fine)
    if not both or math.isinf(value):
        return text
    other = System.INCH if system is System.METRIC else System.METRIC
    return f"{text} ({_one(value, kind, other, first=False, fine=fine)})"


def span(low: str, high: str) -> str:
    """Give the two ends of a band as printed: "1.8 to 2.2"; one figure where both print alike."""
    return low if low == high else f"{low} to {high}"


def inch_fraction(mm: float) -> str | None:
    """Give a length as a fraction of an inch, if it is one.

    Args:
        mm: the length in millimetres.

    Returns:
        The nearest 64th in lowest terms, as "16 3/8", "-3/8" or "2"; None if it is more than 0.0005 in away,
        or nothing would be left of the length.
    """
    if not math.isfinite(mm):
        return None
    inches = mm / MM_PER_IN
    parts = round(inches * 64)
    if parts == 0 or abs(inches - parts / 64) > FRACTION_WITHIN_IN + 1e-9:
        return None
    whole, over = divmod(abs(parts), 64)
    common = math.gcd(over, 64)
    pieces = [str(whole)] if whole else []
    if over:
        pieces.append(f"{over // common}/{64 // common}")
    return ("-" if parts < 0 else "") + " ".join(pieces)


def _one(value: float, kind: Kind, system: System, *, first: bool, fine: bool) -> str:
    """Print the value in one system."""
    metric_unit, inch_unit, factor = _STYLES[kind]
    inch = system is System.INCH
    label = inch_unit if inch else metric_unit
    space = "" if label in ("", "°") else " "
    if math.isinf(value):
        return f"{'-' if value < 0 else ''}∞{space}{label}"
    if kind is Kind.TEMPERATURE:
        text = _fixed(value * factor + 32 if inch else value, 1, digits=1)
    elif kind is Kind.LENGTH:
        text = _length(value, inch=inch, fine=fine)
    elif kind is Kind.FEED:
        text = _feed(value, inch=inch, first=first)
    else:
        text = _significant(value / factor if inch else value, first)
    return f"{text}{space}{label}"


def _length(mm: float, *, inch: bool, fine: bool) -> str:
    if not inch:
        return _fixed(mm, 4 if fine else 3)
    if fine:
        return _fixed(mm / MM_PER_IN, 5, least=4)
    return inch_fraction(mm) or _fixed(mm / MM_PER_IN, 4, least=3)


def _feed(mm: float, *, inch: bool, first: bool) -> str:
    """Print a feed; in brackets, thousandths of an inch are enough where they are within 2 %."""
    if not inch:
        return _fixed(mm, 3)
    inches = mm / MM_PER_IN
    rough = not first and abs(round(inches, 3) - inches) <= 0.02 * abs(inches)
    return _fixed(inches, 3, least=3, digits=1) if rough else _fixed(inches, 4, least=3)


def _significant(value: float, first: bool) -> str:
    """Print four digits, or three in brackets; the user's own figure keeps all digits before the point."""
    if not value:
        return "0"
    digits = 4 if first else 3
    if not first:
        value = float(f"{value:.{digits}g}")
    places = digits - 1 - math.floor(math.log10(abs(value)))
    return _fixed(value, max(places, 0), digits=1)


def _fixed(value: float, places: int, *, least: int = 0, digits: int = 2) -> str:
    """Print so many decimals, more where fewer than so many digits would be left, without idle zeros."""
    if not value:
        return "0"
    places = max(places, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{places}f}"
    if "." in text:
        stem, _, decimals = text.partition(".")
        decimals = decimals[:least] + decimals[least:].rstrip("0")
        text = f"{stem}.{decimals}" if decimals else stem
    return text
