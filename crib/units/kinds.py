"""The kinds of quantity that crib knows, and the two systems of units."""

from enum import StrEnum


class Kind(StrEnum):
    """What sort of quantity is meant; decides the canonical unit."""

    LENGTH = "length"
    SPEED = "speed"
    FEED = "feed"
    FORCE = "force"
    STIFFNESS = "stiffness"
    FREQUENCY = "frequency"
    POWER = "power"
    ANGLE = "angle"
    TEMPERATURE = "temperature"
    ROTATION = "rotation"
    TIME = "time"
    MASS = "mass"
    PRESSURE = "pressure"
    TORQUE = "torque"
    RATIO = "ratio"


class System(StrEnum):
    """The units someone works in: decides what a bare number means and which system is printed first."""

    METRIC = "metric"
    INCH = "inch"


# How each kind is called in a message, and what someone might have typed.
CALLED = {
    Kind.LENGTH: "a length",
    Kind.SPEED: "a speed",
    Kind.FEED: "a feed per revolution",
    Kind.FORCE: "a force",
    Kind.STIFFNESS: "a stiffness",
    Kind.FREQUENCY: "a frequency",
    Kind.POWER: "a power",
    Kind.ANGLE: "an angle",
    Kind.TEMPERATURE: "a temperature",
    Kind.ROTATION: "a spindle speed",
    Kind.TIME: "a time",
    Kind.MASS: "a mass",
    Kind.PRESSURE: "a pressure or stress",
    Kind.TORQUE: "a torque",
    Kind.RATIO: "a plain ratio",
}
EXAMPLES = {
    Kind.LENGTH: ("415.9 mm", "16-3/8 in", "6 thou", "1' 4-3/8\""),
    Kind.SPEED: ("90 m/min", "300 sfm", "300 ft/min"),
    Kind.FEED: ("0.25 mm/rev", "0.010 in/rev", ".010 ipr"),
    Kind.FORCE: ("80 N", "5 kN", "12 lbf", "3 kgf"),
    Kind.STIFFNESS: ("5000 N/mm", "20 N/µm", "12 lbf/thou"),
    Kind.FREQUENCY: ("80 Hz", "1.2 kHz"),
    Kind.POWER: ("5.5 kW", "7.5 hp"),
    Kind.ANGLE: ("95°", "95 deg", "5° 30'"),
    Kind.TEMPERATURE: ("20 °C", "68 F"),
    Kind.ROTATION: ("400 rpm", "400 rev/min"),
    Kind.TIME: ("12 min", "90 s", "1.5 h"),
    Kind.MASS: ("12 kg", "26 lb"),
    Kind.PRESSURE: ("2000 N/mm²", "600 MPa", "290 ksi"),
    Kind.TORQUE: ("40 N m", "30 lbf ft"),
    Kind.RATIO: ("0.03", "3 %"),
}
