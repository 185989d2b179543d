"""Reading and printing of quantities."""

import math
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

import crib
from crib import units
from crib.errors import BadQuantity
from crib.trade import tables
from crib.units import Kind, Quantity, System, inch_fraction, read, read_range, show
from crib.units.kinds import CALLED, EXAMPLES
from crib.units.printing import SOURCES
from crib.units.words import BARE

# The first conversion loads pint, so no single example is timed.
quietly = settings(deadline=None, max_examples=120)

READS = [
    # lengths in inches, however they are written
    ("16 3/8", Kind.LENGTH, 415.925),
    ('16-3/8"', Kind.LENGTH, 415.925),
    ('16.375"', Kind.LENGTH, 415.925),
    ("16 - 3/8 in.", Kind.LENGTH, 415.925),
    ("16–3/8″", Kind.LENGTH, 415.925),
    ("16⅜", Kind.LENGTH, 415.925),
    ("16⅜″", Kind.LENGTH, 415.925),
    ("1' 4-3/8\"", Kind.LENGTH, 415.925),
    ("1′ 4⅜″", Kind.LENGTH, 415.925),
    ("1'-4 3/8", Kind.LENGTH, 415.925),
    ("1 ft 4 3/8 in", Kind.LENGTH, 415.925),
    ("1 ft. 4.375 in.", Kind.LENGTH, 415.925),
    ("3/8 in", Kind.LENGTH, 9.525),
    ("⅜ inch", Kind.LENGTH, 9.525),
    ("½", Kind.LENGTH, 12.7),
    ("9/8", Kind.LENGTH, 28.575),
    ("2 INCHES", Kind.LENGTH, 50.8),
    ("1''", Kind.LENGTH, 25.4),
    ("6 thou", Kind.LENGTH, 0.1524),
    ("32 µin", Kind.LENGTH, 0.0008128),
    ("5'", Kind.LENGTH, 1524),
    ("⌀1.25in", Kind.LENGTH, 31.75),
    # in millimetres
    ("415,9 mm", Kind.LENGTH, 415.9),
    ("Ø32", Kind.LENGTH, 32),
    ("dia 32 mm", Kind.LENGTH, 32),
    ("Dia. 32", Kind.LENGTH, 32),
    ("32 mm dia.", Kind.LENGTH, 32),
    ("  12   MM. ", Kind.LENGTH, 12),
    ("１２．５ ｍｍ", Kind.LENGTH, 12.5),
    ("3 1/2 mm", Kind.LENGTH, 3.5),
    ("+5 mm", Kind.LENGTH, 5),
    ("2.5e-3 mm", Kind.LENGTH, 0.0025),
    ("3.2 µm", Kind.LENGTH, 0.0032),
    ("3.2 um", Kind.LENGTH, 0.0032),
    ("2 cm", Kind.LENGTH, 20),
    ("5.", Kind.LENGTH, 5),
    ("0", Kind.LENGTH, 0),
    # decimal marks and grouped digits
    ("1.234", Kind.LENGTH, 1.234),
    ("1,234.5", Kind.LENGTH, 1234.5),
    ("1.234,5", Kind.LENGTH, 1234.5),
    ("1 234,5", Kind.LENGTH, 1234.5),
    ("1 234.5 mm", Kind.LENGTH, 1234.5),
    ("1\u202f234 mm", Kind.LENGTH, 1234),
    ("1\u00a0234\u00a0567,5 mm", Kind.LENGTH, 1234567.5),
    ("1,234,567", Kind.LENGTH, 1234567),
    ("1.234.567,8", Kind.LENGTH, 1234567.8),
    ("0,250", Kind.LENGTH, 0.25),
    (",250", Kind.LENGTH, 0.25),
    ("1234,567", Kind.LENGTH, 1234.567),
    ("12,34", Kind.LENGTH, 12.34),
    # cutting
    ("0.010 in/rev", Kind.FEED, 0.254),
    (".010 ipr", Kind.FEED, 0.254),
    (".010 in./rev.", Kind.FEED, 0.254),
    ("10 thou", Kind.FEED, 0.254),
    ("10 thou per rev", Kind.FEED, 0.254),
    ("1/64", Kind.FEED, 0.396875),
    ("0,25 mm/rev", Kind.FEED, 0.25),
    ("0.25 mm", Kind.FEED, 0.25),
    ("300 sfm", Kind.SPEED, 91.44),
    ("300 SFM", Kind.SPEED, 91.44),
    ("300 ft/min", Kind.SPEED, 91.44),
    ("300 surface feet per minute", Kind.SPEED, 91.44),
    ("90 m/min", Kind.SPEED, 90),
    ("1.5 m/s", Kind.SPEED, 90),
    ("400 rpm", Kind.ROTATION, 400),
    ("400 rev / min", Kind.ROTATION, 400),
    ("400 min⁻¹", Kind.ROTATION, 400),
    ("400 1/min", Kind.ROTATION, 400),
    ("80 Hz", Kind.FREQUENCY, 80),
    ("1.2 kHz", Kind.FREQUENCY, 1200),
    ("7.5 hp", Kind.POWER, 7.5 * 0.74569987158227022),
    ("5.5 kW", Kind.POWER, 5.5),
    ("7.5 PS", Kind.POWER, 7.5 * 0.73549875),
    ("750 mW", Kind.POWER, 0.00075),
    # force and what gives
    ("12 lbf", Kind.FORCE, 12 * 4.4482216152605),
    ("12 lb", Kind.FORCE, 12 * 4.4482216152605),
    ("3 kgf", Kind.FORCE, 29.41995),
    ("3 kg", Kind.FORCE, 29.41995),
    ("5 kN", Kind.FORCE, 5000),
    ("1 mN", Kind.FORCE, 0.001),
    ("1 MN", Kind.FORCE, 1e6),
    ("5 kN/mm", Kind.STIFFNESS, 5000),
    ("20 N/um", Kind.STIFFNESS, 20000),
    ("20 N/µm", Kind.STIFFNESS, 20000),
    ("20 N per µm", Kind.STIFFNESS, 20000),
    ("20 MN/m", Kind.STIFFNESS, 20000),
    ("12 lbf/thou", Kind.STIFFNESS, 12 * 4.4482216152605 / 0.0254),
    ("200 kg/mm²", Kind.PRESSURE, 1961.33),
    ("600 MPa", Kind.PRESSURE, 600),
    ("600 mpa", Kind.PRESSURE, 600),
    ("20 N/mm^2", Kind.PRESSURE, 20),
    ("5 bar", Kind.PRESSURE, 0.5),
    # the rest
    ("3%", Kind.RATIO, 0.03),
    ("3 percent", Kind.RATIO, 0.03),
    ("0.03", Kind.RATIO, 0.03),
    ("1/2", Kind.RATIO, 0.5),
    ("95°", Kind.ANGLE, 95),
    ("95 deg", Kind.ANGLE, 95),
    ("-6º", Kind.ANGLE, -6),
    ("5° 30'", Kind.ANGLE, 5.5),
    ("-5°30′36″", Kind.ANGLE, -5.51),
    ("30'", Kind.ANGLE, 0.5),
    ("68 F", Kind.TEMPERATURE, 20),
    ("68 °F", Kind.TEMPERATURE, 20),
    ("32 deg F", Kind.TEMPERATURE, 0),
    ("20 °C", Kind.TEMPERATURE, 20),
    ("20 ℃", Kind.TEMPERATURE, 20),
    ("−5 C", Kind.TEMPERATURE, -5),
    ("293.15 K", Kind.TEMPERATURE, 20),
    ("20°", Kind.TEMPERATURE, 20),
    ("90 s", Kind.TIME, 1.5),
    ("1.5 h", Kind.TIME, 90),
    ("26 lb", Kind.MASS, 26 * 0.45359237),
    ("500 g", Kind.MASS, 0.5),
]


@pytest.mark.parametrize(("text", "kind", "value"), READS, ids=[f"{kind}-{text}" for text, kind, _ in READS])
def test_reads_what_people_type(text: str, kind: Kind, value: float) -> None:
    quantity = read(text, kind)
    assert quantity.value == pytest.approx(value, rel=1e-12, abs=1e-12)
    assert quantity.kind is kind
    assert quantity.text == text


@pytest.mark.parametrize(
    ("kind", "text", "metric", "inch"),
    [
        (Kind.LENGTH, "2", 2, 50.8),
        (Kind.LENGTH, "1/2", 12.7, 12.7),
        (Kind.FEED, "0.01", 0.01, 0.254),
        (Kind.SPEED, "100", 100, 30.48),
        (Kind.FORCE, "10", 10, 44.482216152605),
        (Kind.STIFFNESS, "1000", 1000, 175.1268352464764),
        (Kind.POWER, "1/2", 0.5, 0.37284993579113511),
        (Kind.TEMPERATURE, "68", 68, 20),
        (Kind.TEMPERATURE, "68°", 68, 20),
        (Kind.MASS, "10", 10, 4.5359237),
        (Kind.ROTATION, "400", 400, 400),
    ],
)
def test_bare_number_takes_the_askers_system(kind: Kind, text: str, metric: float, inch: float) -> None:
    assert read(text, kind).value == pytest.approx(metric, rel=1e-12)
    assert read(text, kind, System.INCH).value == pytest.approx(inch, rel=1e-12)


def test_system_is_that_of_the_unit_typed() -> None:
    assert read("2 in", Kind.LENGTH, "metric").system is System.INCH
    assert read("16 3/8", Kind.LENGTH, "metric").system is System.INCH
    assert read("2 mm", Kind.LENGTH, "inch").system is System.METRIC
    assert read("12 lbf/thou", Kind.STIFFNESS).system is System.INCH
    assert read("80 Hz", Kind.FREQUENCY, "inch").system is System.INCH


WRONG = [
    ("", Kind.LENGTH, "nothing typed"),
    (" \t ", Kind.LENGTH, "nothing typed"),
    ("mm", Kind.LENGTH, "no number"),
    ("five mm", Kind.LENGTH, "no number"),
    ("٣ mm", Kind.LENGTH, "no number"),
    ("nan", Kind.LENGTH, "not a number that can be measured"),
    ("inf mm", Kind.LENGTH, "not a number that can be measured"),
    ("-∞", Kind.TEMPERATURE, "not a number that can be measured"),
    ("1e999", Kind.LENGTH, "too large"),
    ("1e13 mm", Kind.LENGTH, "too large"),
    ("1e12 kN", Kind.FORCE, "too large"),
    ("1e-400", Kind.LENGTH, "too small"),
    ("1e-13 mm", Kind.LENGTH, "too small"),
    ("9" * 79, Kind.LENGTH, "too large"),
    ("9" * 81, Kind.LENGTH, "too long"),
    ("-5 mm", Kind.LENGTH, "below zero"),
    ("−3 kN", Kind.FORCE, "below zero"),
    ("-½", Kind.LENGTH, "below zero"),
    ("-1' 2\"", Kind.LENGTH, "below zero"),
    ("3/0 in", Kind.LENGTH, "divides by zero"),
    ("1 3/0", Kind.LENGTH, "divides by zero"),
    ("12 13 mm", Kind.LENGTH, "more than one number"),
    ("410-440 mm", Kind.LENGTH, "more than one number"),
    ("0-3/8", Kind.LENGTH, "more than one number"),
    ("12 + 3", Kind.LENGTH, "more than one number"),
    ("16 3/8 1/2", Kind.LENGTH, "more than one number"),
    ("410 440", Kind.LENGTH, "may be 410440 or several numbers"),
    ("1 234 mm", Kind.LENGTH, "may be 1234 or several numbers"),
    ("1,234", Kind.LENGTH, "may be 1234 or 1.234"),
    ("16 9/8", Kind.LENGTH, "not less than one"),
    ("1' 14\"", Kind.LENGTH, "a foot or more"),
    ("5° 70'", Kind.ANGLE, "run to 59"),
    ("10²", Kind.LENGTH, "raised"),
    ("16¹⁄₂", Kind.LENGTH, "raised"),
    ("1.2.3", Kind.LENGTH, "do not make one number"),
    ("1,2,3", Kind.LENGTH, "do not make one number"),
    ("1.234,567.8", Kind.LENGTH, "do not make one number"),
    ("5, mm", Kind.LENGTH, "nothing follows the comma"),
    ("1_000 mm", Kind.LENGTH, "no unit"),
    ("5*4 mm", Kind.LENGTH, "no unit"),
    ("5 furlong", Kind.LENGTH, "no unit"),
    ("5 mm/s/s", Kind.SPEED, "no unit"),
    ("__import__('os')", Kind.LENGTH, "no number"),
    ("1 (meter)", Kind.LENGTH, "no unit"),
    ("5 kN", Kind.LENGTH, "“5 kN” is a force; a length was asked"),
    ("5 mm", Kind.FORCE, "“5 mm” is a length; a force was asked"),
    ("300 sfm", Kind.FEED, "“300 sfm” is a speed; a feed per revolution was asked"),
    ("400 rpm", Kind.FREQUENCY, "“400 rpm” is a spindle speed; a frequency was asked"),
    ("5 m", Kind.TIME, "“5 m” is a length; a time was asked"),
    ("5 mm²", Kind.LENGTH, "“5 mm²” is an area; a length was asked"),
    ("20 C", Kind.ANGLE, "“20 C” is a temperature; an angle was asked"),
    ("3 %", Kind.LENGTH, "“3 %” is a plain ratio; a length was asked"),
    ("-300 °C", Kind.TEMPERATURE, "absolute zero"),
]


@pytest.mark.parametrize(("text", "kind", "why"), WRONG, ids=[f"{k}-{t[:20]!r}" for t, k, _ in WRONG])
def test_says_what_is_wrong_and_what_would_be_right(text: str, kind: Kind, why: str) -> None:
    with pytest.raises(BadQuantity) as caught:
        read(text, kind)
    assert why in caught.value.message
    assert caught.value.hint
    assert caught.value.exit_status == 2
    assert caught.value.details["kind"] == kind.value
    assert caught.value.details["examples"] == list(EXAMPLES[kind])


def test_error_names_the_place() -> None:
    with pytest.raises(BadQuantity) as caught:
        read("12.5 mmm", Kind.LENGTH)
    assert caught.value.details["found"] == "mmm"
    assert caught.value.details["position"] == 6


@pytest.mark.parametrize("text", ["6 mil", "6 mils", "2 tenths", "10 mil/rev"])
def test_words_of_two_meanings_are_asked_back(text: str) -> None:
    with pytest.raises(BadQuantity, match="ambiguous") as caught:
        read(text, Kind.FEED if "rev" in text else Kind.LENGTH)
    assert "mm" in caught.value.hint


def test_error_shows_nothing_that_a_terminal_obeys() -> None:
    with pytest.raises(BadQuantity) as caught:
        read("5 \x1b[31m\u202ered\n", Kind.LENGTH)
    assert caught.value.message.isprintable()
    assert "\\x1b" in caught.value.message


def test_signed_lets_a_deviation_be_below_zero() -> None:
    assert read("-2 thou", Kind.LENGTH, signed=True).value == pytest.approx(-0.0508)
    assert read("-16 3/8", Kind.LENGTH, signed=True).value == pytest.approx(-415.925)
    assert math.copysign(1, read("-0 mm", Kind.LENGTH).value) == 1


@pytest.mark.parametrize(
    ("text", "kind", "low", "high"),
    [
        ("410-440 mm", Kind.LENGTH, 410, 440),
        ("410–440 mm", Kind.LENGTH, 410, 440),
        ("410 - 440", Kind.LENGTH, 410, 440),
        ("410 mm to 440", Kind.LENGTH, 410, 440),
        ("410mm–44cm", Kind.LENGTH, 410, 440),
        ("2 in to 60 mm", Kind.LENGTH, 50.8, 60),
        ("dia 32-35 mm", Kind.LENGTH, 32, 35),
        ("16 to 16 1/2", Kind.LENGTH, 406.4, 419.1),
        ("16..16 1/2 in", Kind.LENGTH, 406.4, 419.1),
        ("16…16½ in", Kind.LENGTH, 406.4, 419.1),
        ("16-16-1/2 in", Kind.LENGTH, 406.4, 419.1),
        ("16-3/8-16-1/2 in", Kind.LENGTH, 415.925, 419.1),
        ("1/2-3/4", Kind.LENGTH, 12.7, 19.05),
        ("0-3/8", Kind.LENGTH, 0, 9.525),
        ("0-1 in", Kind.LENGTH, 0, 25.4),
        ("1'-2'", Kind.LENGTH, 304.8, 609.6),
        ('16-3/8"', Kind.LENGTH, 415.925, 415.925),
        ("5'-6\"", Kind.LENGTH, 1676.4, 1676.4),
        ("440 mm", Kind.LENGTH, 440, 440),
        ("1e-3-2e-3 mm", Kind.LENGTH, 0.001, 0.002),
        ("6-8 thou", Kind.FEED, 0.1524, 0.2032),
        ("80-120 m/min", Kind.SPEED, 80, 120),
        ("0-3000 rpm", Kind.ROTATION, 0, 3000),
        ("5-10 min-1", Kind.ROTATION, 5, 10),
        ("1-2 %", Kind.RATIO, 0.01, 0.02),
        ("-5-5°", Kind.ANGLE, -5, 5),
        ("-5 to -3", Kind.ANGLE, -5, -3),
        ("-5--3", Kind.ANGLE, -5, -3),
        ("68-86 F", Kind.TEMPERATURE, 20, 30),
    ],
)
def test_reads_ranges(text: str, kind: Kind, low: float, high: float) -> None:
    first, last = read_range(text, kind)
    assert (first.value, last.value) == pytest.approx((low, high), rel=1e-12, abs=1e-12)


def test_ends_of_a_range_keep_what_was_typed() -> None:
    low, high = read_range("16 to 16 1/2 in", Kind.LENGTH)
    assert (low.text, high.text) == ("16", "16 1/2 in")
    assert (low.system, high.system) == (System.INCH, System.INCH)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("440-410", "runs downwards"),
        ("to 5", "one end"),
        ("1 to", "one end"),
        ("1 to 2 to 3", "two ends"),
        ("1-2-3", "more than one number"),
        ("410-440 kN", "is a force"),
        ("410 kN to 440", "is a force"),
        ("1,234-2 mm", "may be 1234 or 1.234"),
        ("-5-5 mm", "below zero"),
        ("", "nothing typed"),
        ("abc", "no number"),
    ],
)
def test_refuses_what_is_no_range(text: str, why: str) -> None:
    with pytest.raises(BadQuantity, match=why):
        read_range(text, Kind.LENGTH)


@pytest.mark.parametrize(
    ("value", "kind", "metric", "inch"),
    [
        (415.925, Kind.LENGTH, "415.925 mm (16 3/8 in)", "16 3/8 in (415.925 mm)"),
        (415.9, Kind.LENGTH, "415.9 mm (16.374 in)", "16.374 in (415.9 mm)"),
        (0.8, Kind.LENGTH, "0.8 mm (1/32 in)", "1/32 in (0.8 mm)"),
        (0.0016, Kind.LENGTH, "0.0016 mm (0.000063 in)", "0.000063 in (0.0016 mm)"),
        (50.8, Kind.LENGTH, "50.8 mm (2 in)", "2 in (50.8 mm)"),
        (-0.02, Kind.LENGTH, "-0.02 mm (-0.00079 in)", "-0.00079 in (-0.02 mm)"),
        (0, Kind.LENGTH, "0 mm (0 in)", "0 in (0 mm)"),
        (0.25, Kind.FEED, "0.25 mm/rev (0.010 in/rev)", "0.0098 in/rev (0.25 mm/rev)"),
        (0.254, Kind.FEED, "0.254 mm/rev (0.010 in/rev)", "0.010 in/rev (0.254 mm/rev)"),
        (91.44, Kind.SPEED, "91.44 m/min (300 ft/min)", "300 ft/min (91.4 m/min)"),
        (53.378659383126, Kind.FORCE, "53.38 N (12 lbf)", "12 lbf (53.4 N)"),
        (5000, Kind.STIFFNESS, "5000 N/mm (28600 lbf/in)", "28551 lbf/in (5000 N/mm)"),
        (5.5, Kind.POWER, "5.5 kW (7.38 hp)", "7.376 hp (5.5 kW)"),
        (20, Kind.TEMPERATURE, "20 °C (68 °F)", "68 °F (20 °C)"),
        (12, Kind.MASS, "12 kg (26.5 lb)", "26.46 lb (12 kg)"),
        (2000, Kind.PRESSURE, "2000 N/mm² (290000 psi)", "290075 psi (2000 N/mm²)"),
        (80, Kind.FREQUENCY, "80 Hz", "80 Hz"),
        (95, Kind.ANGLE, "95°", "95°"),
        (1234.4, Kind.ROTATION, "1234 rev/min", "1234 rev/min"),
        (12.5, Kind.TIME, "12.5 min", "12.5 min"),
        (0.03, Kind.RATIO, "0.03", "0.03"),
        (math.inf, Kind.RATIO, "∞", "∞"),
        (-math.inf, Kind.FORCE, "-∞ N", "-∞ lbf"),
    ],
)
def test_shows_the_users_own_system_first(value: float, kind: Kind, metric: str, inch: str) -> None:
    assert show(value, kind) == metric
    assert show(value, kind, "inch") == inch
    assert show(value, kind, System.INCH, both=False) == inch.split(" (")[0]


def test_fine_lengths_are_never_rounded_to_a_near_fraction() -> None:
    assert show(25.41, Kind.LENGTH) == "25.41 mm (1 in)"
    assert show(25.41, Kind.LENGTH, fine=True) == "25.41 mm (1.00039 in)"
    assert show(25.4, Kind.LENGTH, "inch", fine=True) == "1.0000 in (25.4 mm)"


def test_what_is_not_a_number_is_not_shown() -> None:
    with pytest.raises(ValueError, match="length"):
        show(math.nan, Kind.LENGTH)


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (16.375, "16 3/8"),
        (0.375, "3/8"),
        (2, "2"),
        (1 / 64, "1/64"),
        (-0.375, "-3/8"),
        (0.375 + 0.0005, "3/8"),
        (0.375 - 0.0005, "3/8"),
        (0.375 + 0.00051, None),
        (0, None),
        (0.0004, None),
        (math.nan, None),
        (math.inf, None),
    ],
)
def test_inch_fraction(inches: float, text: str | None) -> None:
    assert inch_fraction(inches * 25.4) == text


def test_every_kind_has_a_name_examples_and_a_unit() -> None:
    for kind in Kind:
        assert CALLED[kind]
        assert BARE[kind]
        assert show(1.0, kind)
        for text in EXAMPLES[kind]:
            assert read(text, kind).value > 0


def test_sources_of_the_factors_are_named() -> None:
    assert set(SOURCES) <= set(tables.sources())


def test_unknown_name_of_the_room() -> None:
    assert not hasattr(units, "pint")


NO_PINT = """
import sys
import crib.units
assert "crib.units.reading" not in sys.modules, "the reading half was loaded"
from crib.units import Kind, read, show
for text, kind in [("12", "length"), ("12 mm", "length"), ("90 m/min", "speed"), ("0.25 mm/rev", "feed"),
                   ("80 N", "force"), ("5000 N/mm", "stiffness"), ("80 Hz", "frequency"), ("5.5 kW", "power"),
                   ("95°", "angle"), ("20 °C", "temperature"), ("400 rpm", "rotation"),
                   ("2000 N/mm²", "pressure")]:
    show(read(text, Kind(kind)).value, Kind(kind), "inch")
assert "pint" not in sys.modules, "pint was loaded"
read("1 in", Kind.LENGTH)
assert "pint" in sys.modules
"""


def test_pint_is_loaded_only_to_convert() -> None:
    root = Path(crib.__file__).parents[1]
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", NO_PINT], cwd=root, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


KINDS = st.sampled_from(list(Kind))
SYSTEMS = st.sampled_from(list(System))
TYPED = st.one_of(
    st.text(max_size=30),
    st.text(alphabet="0123456789 .,-/'\"eE+°%⅜½mintorevkNfthlbØ–²⁻…", max_size=20),
)


@quietly
@given(TYPED, KINDS, SYSTEMS)
@example("1/2/3", Kind.LENGTH, System.METRIC)
@example("½½", Kind.LENGTH, System.METRIC)
@example("1'1'1'", Kind.LENGTH, System.METRIC)
@example("--1", Kind.ANGLE, System.METRIC)
def test_whatever_is_typed_is_read_or_refused(text: str, kind: Kind, system: System) -> None:
    for reader in (read, read_range):
        try:
            answer = reader(text, kind, system)
        except BadQuantity as error:
            assert error.message.isprintable()
            assert error.hint
            continue
        ends = (answer,) if isinstance(answer, Quantity) else answer
        assert all(math.isfinite(end.value) for end in ends)
        assert ends[0].value <= ends[-1].value


@quietly
@given(
    st.integers(0, 400),
    st.integers(1, 63),
    st.sampled_from(["{} {}/{}", "{}-{}/{}", '{} {}/{}"', "{}-{}/{} in"]),
)
def test_every_64th_is_read_and_shown_again(whole: int, over: int, form: str) -> None:
    assume(whole or "-" not in form)  # 0-3/8 is a range
    inches = whole + over / 64
    quantity = read(form.format(whole, over, 64), Kind.LENGTH)
    assert quantity.value == pytest.approx(inches * 25.4, rel=1e-12)
    fraction = inch_fraction(quantity.value)
    assert fraction is not None
    assert read(fraction, Kind.LENGTH).value == quantity.value


@quietly
@given(st.floats(0.001, 100_000), KINDS, SYSTEMS)
def test_what_is_shown_reads_back(value: float, kind: Kind, system: System) -> None:
    text = show(value, kind, system, both=False)
    again = read(text, kind, system, signed=True)
    slack = {Kind.LENGTH: 0.0128, Kind.FEED: 0.0013, Kind.TEMPERATURE: 0.051}.get(kind, 0)
    assert again.value == pytest.approx(value, rel=0.05 if value < 0.01 else 6e-4, abs=slack)


@quietly
@given(st.floats(0.01, 1000), st.floats(0.01, 1000), KINDS)
def test_a_range_has_its_ends_in_order(first: float, second: float, kind: Kind) -> None:
    low, high = sorted((round(first, 3), round(second, 3)))
    for between in ("-", " - ", "–", " to ", "..", "…"):
        ends = read_range(f"{low:.3f}{between}{high:.3f}", kind)
        assert [end.value for end in ends] == [low, high]


@quietly
@given(st.decimals(0, 999_999, places=4, allow_nan=False))
def test_decimal_point_and_comma_agree(number: object) -> None:
    point = str(number)
    assert read(point.replace(".", ","), Kind.LENGTH).value == read(point, Kind.LENGTH).value
    assert read(f"{number:,}", Kind.LENGTH).value == read(point, Kind.LENGTH).value
