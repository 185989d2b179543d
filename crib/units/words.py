"""The unit words people type, and what each is called in units.txt.

A unit is one word or two joined by `/` or `per`; its dimension is written the same way ("L/T" is a length per
time), so a unit of the wrong kind is told without asking the registry.
"""

from dataclasses import dataclass
from functools import cache

from crib.units.kinds import Kind, System

METRIC, INCH = System.METRIC, System.INCH


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as the registry knows it.

    Attributes:
        name: its name, or product of names, in units.txt.
        dimension: letters joined by "/": L length, A area, T time, R revolution, C cycle, F force, M mass,
            P power, Q torque, N angle, K temperature, 1 number.
        system: where it belongs; None if to both.
    """

    name: str
    dimension: str
    system: System | None


KIND_OF = {
    "L": Kind.LENGTH, "L/T": Kind.SPEED, "L/R": Kind.FEED, "F": Kind.FORCE, "F/L": Kind.STIFFNESS,
    "C/T": Kind.FREQUENCY, "P": Kind.POWER, "N": Kind.ANGLE, "K": Kind.TEMPERATURE, "R/T": Kind.ROTATION,
    "T": Kind.TIME, "M": Kind.MASS, "F/A": Kind.PRESSURE, "Q": Kind.TORQUE, "1": Kind.RATIO,
}  # fmt: skip

# The unit of a bare number. The metric one is the canonical unit.
BARE = {
    Kind.LENGTH: (Unit("millimeter", "L", METRIC), Unit("inch", "L", INCH)),
    Kind.SPEED: (Unit("meter/minute", "L/T", METRIC), Unit("foot/minute", "L/T", INCH)),
    Kind.FEED: (Unit("millimeter/revolution", "L/R", METRIC), Unit("inch/revolution", "L/R", INCH)),
    Kind.FORCE: (Unit("newton", "F", METRIC), Unit("pound_force", "F", INCH)),
    Kind.STIFFNESS: (Unit("newton/millimeter", "F/L", METRIC), Unit("pound_force/inch", "F/L", INCH)),
    Kind.FREQUENCY: (Unit("hertz", "C/T", None), Unit("hertz", "C/T", None)),
    Kind.POWER: (Unit("kilowatt", "P", METRIC), Unit("horsepower", "P", INCH)),
    Kind.ANGLE: (Unit("degree", "N", None), Unit("degree", "N", None)),
    Kind.TEMPERATURE: (Unit("degree_celsius", "K", METRIC), Unit("degree_fahrenheit", "K", INCH)),
    Kind.ROTATION: (Unit("revolution/minute", "R/T", None), Unit("revolution/minute", "R/T", None)),
    Kind.TIME: (Unit("minute", "T", None), Unit("minute", "T", None)),
    Kind.MASS: (Unit("kilogram", "M", METRIC), Unit("pound", "M", INCH)),
    Kind.PRESSURE: (Unit("newton/millimeter**2", "F/A", METRIC), Unit("pound_force/inch**2", "F/A", INCH)),
    Kind.TORQUE: (Unit("newton*meter", "Q", METRIC), Unit("pound_force*foot", "Q", INCH)),
    Kind.RATIO: (Unit("one", "1", None), Unit("one", "1", None)),
}

# name in units.txt, dimension, system, the words (a comma between them, small letters, no dots).
_WORDS = (
    ("millimeter", "L", METRIC, "mm,millimeter,millimeters,millimetre,millimetres"),
    ("centimeter", "L", METRIC, "cm,centimeter,centimeters,centimetre,centimetres"),
    ("meter", "L", METRIC, "m,meter,meters,metre,metres"),
    ("micrometer", "L", METRIC, "um,micron,microns,micrometer,micrometers,micrometre,micrometres"),
    ("inch", "L", INCH, 'in,inch,inches,ins,"'),
    ("foot", "L", INCH, "ft,foot,feet,'"),
    ("thou", "L", INCH, "thou,thous,thousandth,thousandths"),
    ("microinch", "L", INCH, "uin,microinch,microinches"),
    ("millimeter**2", "A", METRIC, "mm2,sq mm,square millimeter,square millimetre"),
    ("centimeter**2", "A", METRIC, "cm2,sq cm"),
    ("meter**2", "A", METRIC, "m2,sq m"),
    ("inch**2", "A", INCH, "in2,sq in,square inch"),
    ("second", "T", None, "s,sec,secs,second,seconds"),
    ("minute", "T", None, "min,mins,minute,minutes"),
    ("hour", "T", None, "h,hr,hrs,hour,hours"),
    ("revolution", "R", None, "rev,revs,r,revolution,revolutions,turn,turns"),
    ("cycle", "C", None, "cycle,cycles"),
    ("newton", "F", METRIC, "n,newton,newtons"),
    ("kilonewton", "F", METRIC, "kn,kilonewton,kilonewtons"),
    ("kilogram_force", "F", METRIC, "kgf,kp"),
    ("pound_force", "F", INCH, "lbf,lbsf,pound-force"),
    ("kip", "F", INCH, "kip,kips"),
    ("kilogram", "M", METRIC, "kg,kgs,kilo,kilos,kilogram,kilograms"),
    ("gram", "M", METRIC, "g,gram,grams"),
    ("tonne", "M", METRIC, "t,tonne,tonnes"),
    ("pound", "M", INCH, "lb,lbs,pound,pounds"),
    ("ounce", "M", INCH, "oz,ounce,ounces"),
    ("watt", "P", METRIC, "w,watt,watts"),
    ("kilowatt", "P", METRIC, "kw,kilowatt,kilowatts"),
    ("horsepower", "P", INCH, "hp,bhp,horsepower"),
    ("metric_horsepower", "P", METRIC, "ps,metric hp,metric horsepower"),
    ("hertz", "C/T", None, "hz,hertz,cps"),
    ("kilohertz", "C/T", None, "khz,kilohertz"),
    ("revolution/minute", "R/T", None, "rpm"),
    ("revolution/second", "R/T", None, "rps"),
    ("foot/minute", "L/T", INCH, "sfm,sfpm,fpm"),
    ("inch/minute", "L/T", INCH, "ipm"),
    ("inch/revolution", "L/R", INCH, "ipr"),
    ("pascal", "F/A", METRIC, "pa"),
    ("kilopascal", "F/A", METRIC, "kpa"),
    ("megapascal", "F/A", METRIC, "mpa"),
    ("gigapascal", "F/A", METRIC, "gpa"),
    ("bar", "F/A", METRIC, "bar,bars"),
    ("pound_force/inch**2", "F/A", INCH, "psi"),
    ("kip/inch**2", "F/A", INCH, "ksi"),
    ("newton*meter", "Q", METRIC, "n m,nm,n·m,newton meter,newton meters,newton metre,newton metres"),
    ("pound_force*foot", "Q", INCH, "lbf ft,ft lbf,lb ft,ft lb,lbf·ft,ft·lbf,ft-lb,ft-lbf,pound feet"),
    ("degree", "N", None, "°,deg,degs,degree,degrees"),
    ("radian", "N", None, "rad,radian,radians"),
    ("milliradian", "N", None, "mrad"),
    ("degree_celsius", "K", METRIC, "c,°c,° c,degc,deg c,degree c,degrees c,celsius,degrees celsius"),
    ("degree_fahrenheit", "K", INCH, "f,°f,° f,degf,deg f,degree f,degrees f,fahrenheit,degrees fahrenheit"),
    ("kelvin", "K", METRIC, "k,kelvin"),
    ("percent", "1", None, "%,percent,per cent,pct"),
)

# Capital letters decide here: a megawatt is no milliwatt. Nobody's stress is in millipascals: mPa is MPa.
_CAPITALS = {
    "MN": Unit("meganewton", "F", METRIC),
    "mN": Unit("millinewton", "F", METRIC),
    "MW": Unit("megawatt", "P", METRIC),
    "mW": Unit("milliwatt", "P", METRIC),
}

# Words that mean something else when a certain kind is asked. A spring scale reads kilograms or pounds; the
# force it means is their weight under standard gravity.
_WEIGHT = {
    "kg": "kgf", "kgs": "kgf", "kilo": "kgf", "kilos": "kgf", "kilogram": "kgf", "kilograms": "kgf",
    "lb": "lbf", "lbs": "lbf", "pound": "lbf", "pounds": "lbf",
}  # fmt: skip
_INSTEAD = {
    Kind.FORCE: _WEIGHT,
    Kind.STIFFNESS: _WEIGHT,
    Kind.PRESSURE: _WEIGHT,
    Kind.ROTATION: {"1/min": "rpm", "/min": "rpm", "min-1": "rpm", "1/s": "rps", "s-1": "rps"},
    Kind.FREQUENCY: {"1/s": "hz", "/s": "hz", "s-1": "hz"},
}
_ARC = {"'": Unit("arcminute", "N", None), '"': Unit("arcsecond", "N", None)}

# Words that mean different things in different shops: never guessed.
AMBIGUOUS = {
    "mil": "a thousandth of an inch to some and a millimetre to others: write thou or mm",
    "mils": "thousandths of an inch to some and millimetres to others: write thou or mm",
    "tenth": "0.0001 in to some and 0.1 mm to others: write it with in or mm",
    "tenths": "0.0001 in to some and 0.1 mm to others: write it with in or mm",
}


@cache
def _words() -> dict[str, Unit]:
    return {
        word: Unit(name, dimension, system)
        for name, dimension, system, words in _WORDS
        for word in words.split(",")
    }


def _word(text: str, kind: Kind) -> Unit | None:
    if text in _CAPITALS:
        return _CAPITALS[text]
    small = text.lower()
    if kind is Kind.ANGLE and small in _ARC:
        return _ARC[small]
    return _words().get(_INSTEAD.get(kind, {}).get(small, small))


def find(text: str, kind: Kind, system: System) -> Unit | None:
    """Find the unit that a text names.

    Args:
        text: what stands behind the number, blanks already made single.
        kind: the kind that was asked: some words depend on it.
        system: the asker's system: a lone degree sign is of its temperature scale.

    Returns:
        The unit, of whatever kind it is; None if it is no unit that crib knows.
    """
    text = tidy(text)
    if kind is Kind.TEMPERATURE and text.lower() in ("°", "deg", "degree", "degrees"):
        return BARE[kind][system is System.INCH]
    whole = _word(text, kind)
    parts = [part.strip() for part in text.split("/")]
    if whole is not None or len(parts) != 2:
        return _as_feed(whole) if kind is Kind.FEED else whole
    over, under = _word(parts[0], kind), _word(parts[1], kind)
    if over is None or under is None:
        return None
    dimension = f"{over.dimension}/{under.dimension}"
    if dimension not in KIND_OF:
        return None
    return Unit(f"{over.name}/{under.name}", dimension, over.system or under.system)


def _as_feed(unit: Unit | None) -> Unit | None:
    """Take a length as a feed per revolution: "ten thou" is how a lathe feed is called out."""
    if unit is None or unit.dimension != "L":
        return unit
    return Unit(f"{unit.name}/revolution", "L/R", unit.system)


def tidy(text: str) -> str:
    """Bring a unit text to the form of the tables: no dots of abbreviation, "per" and "^" written out."""
    text = text.replace("^", "").replace(".", "")
    words = ["/" if word.lower() == "per" else word for word in text.split()]
    if words and words[0].lower() == "surface":
        words = words[1:]
    return " ".join(words).replace(" / ", "/").replace(" /", "/").replace("/ ", "/")
