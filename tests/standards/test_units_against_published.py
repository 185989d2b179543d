"""Conversions against published figures and an outside library.

Published: NIST Special Publication 811 (2008), appendix B.8, "Factors for units listed alphabetically", to
the seven digits printed there. Compared with reproductions of the appendix, save the rows marked
[from memory]; pound-force per inch was seen to five digits (1.7513 E+02) only.
"""

import math
import re

import pint
import pytest

from crib.units import Kind, printing, read
from crib.units.words import _WORDS, BARE, KIND_OF

NIST = [
    ("1 in", Kind.LENGTH, 2.54e-2 * 1000),  # inch -> m, exact
    ("1 ft", Kind.LENGTH, 3.048e-1 * 1000),  # foot -> m, exact
    ("1 thou", Kind.LENGTH, 2.54e-5 * 1000),  # mil (0.001 in) -> m, exact
    ("1 µin", Kind.LENGTH, 2.54e-8 * 1000),  # microinch -> m, exact
    ("1 lbf", Kind.FORCE, 4.448222),  # pound-force -> N
    ("1 kip", Kind.FORCE, 4.448222e3),  # kip -> N
    ("1 kgf", Kind.FORCE, 9.80665),  # kilogram-force -> N, exact
    ("1 lb", Kind.MASS, 4.535924e-1),  # pound (avoirdupois) -> kg
    ("1 oz", Kind.MASS, 2.834952e-2),  # ounce (avoirdupois) -> kg
    ("1 hp", Kind.POWER, 7.456999e2 / 1000),  # horsepower (550 ft·lbf/s) -> W
    ("1 PS", Kind.POWER, 7.354988e2 / 1000),  # horsepower (metric) -> W [from memory]
    ("1 lbf/in", Kind.STIFFNESS, 1.751268e2 / 1000),  # pound-force per inch -> N/m [from memory]
    ("1 lbf/thou", Kind.STIFFNESS, 175.1268),  # the same per 0.001 in: 0.1751268 N/µm
    ("1 psi", Kind.PRESSURE, 6.894757e3 / 1e6),  # pound-force per square inch -> Pa
    ("1 ksi", Kind.PRESSURE, 6.894757e6 / 1e6),  # kip per square inch -> Pa [from memory]
    ("1 ft/min", Kind.SPEED, 5.08e-3 * 60),  # foot per minute -> m/s, exact [from memory]
    ("1 rad", Kind.ANGLE, 1 / 1.745329e-2),  # degree -> rad [from memory]
    ("212 °F", Kind.TEMPERATURE, 100),  # t/°C = (t/°F - 32) / 1.8
]


@pytest.mark.parametrize(("text", "kind", "published"), NIST, ids=[text for text, _, _ in NIST])
def test_agrees_with_nist_sp_811(text: str, kind: Kind, published: float) -> None:
    assert read(text, kind).value == pytest.approx(published, rel=3e-7)


@pytest.fixture(scope="module")
def outside() -> "pint.UnitRegistry[float]":
    """Give pint's own default registry, which shares nothing with crib's unit file."""
    return pint.UnitRegistry()


@pytest.mark.parametrize(
    ("ours", "source", "target"),
    [
        (printing.MM_PER_IN, "inch", "millimeter"),
        (printing.M_PER_FT, "foot", "meter"),
        (printing.KG_PER_LB, "pound", "kilogram"),
        (printing.STANDARD_GRAVITY_M_S2, "standard_gravity", "meter / second ** 2"),
        (printing.N_PER_LBF, "force_pound", "newton"),
        (printing.KW_PER_HP, "horsepower", "kilowatt"),
    ],
)
def test_printing_factors_agree_with_pints_own_registry(
    outside: "pint.UnitRegistry[float]", ours: float, source: str, target: str
) -> None:
    assert ours == pytest.approx(outside.convert(1, source, target), rel=1e-13)


def test_pound_force_is_a_pound_under_standard_gravity() -> None:
    weight = printing.KG_PER_LB * printing.STANDARD_GRAVITY_M_S2
    assert weight == pytest.approx(printing.N_PER_LBF, rel=1e-15)


# What pint's default registry calls differently.
ELSEWHERE = {
    "pound_force": "force_pound",
    "kilogram_force": "force_kilogram",
    "degree_celsius": "degree_Celsius",
    "degree_fahrenheit": "degree_Fahrenheit",
    "one": "dimensionless",
}
# Turns and cycles are left out: pint counts a turn as an angle, crib keeps them apart.
CONVERTED = [
    (name, words.split(",")[-1], KIND_OF[dimension])
    for name, dimension, _, words in _WORDS
    if dimension in KIND_OF and not {"R", "C"} & set(dimension.split("/"))
]


def _theirs(name: str) -> str:
    return re.sub(r"\b(" + "|".join(ELSEWHERE) + r")\b", lambda found: ELSEWHERE[found[0]], name)


@pytest.mark.parametrize(("name", "word", "kind"), CONVERTED, ids=[name for name, _, _ in CONVERTED])
def test_every_unit_word_agrees_with_pints_own_registry(
    outside: "pint.UnitRegistry[float]", name: str, word: str, kind: Kind
) -> None:
    expected = outside.convert(7, _theirs(name), _theirs(BARE[kind][0].name))
    assert read(f"7 {word}", kind).value == pytest.approx(expected, rel=1e-12, abs=1e-9)


def test_shown_figures_agree_with_the_conversion() -> None:
    """Both ways of converting, by the printing factors and by the registry, give one answer."""
    for kind, (_, inch, factor) in printing._STYLES.items():
        if inch and kind is not Kind.TEMPERATURE:
            assert read(f"1 {inch}", kind).value == pytest.approx(factor, rel=1e-13)
    assert math.isclose(read("1 °F", Kind.TEMPERATURE).value, (1 - 32) / 1.8, abs_tol=1e-9)
