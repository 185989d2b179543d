"""Sizes said aloud, in figures; in mm they are held against the inch of 25.4 mm (ISO 31-1)."""

import pytest

from crib.units import Kind, read_range
from crib.units.spoken import figures


@pytest.mark.parametrize(
    ("said", "typed"),
    [
        ("who has my inch-and-a-half bar", "who has my 1 1/2 in bar"),
        ("what'll measure sixteen to sixteen and a half?", "what'll measure 16 to 16 1/2 in?"),
        ("a three quarter inch holder", "a 3/4 in holder"),
        ("an inch and three quarters", "1 3/4 in"),
        ("half an inch reamer", "1/2 in reamer"),
        ("Three-eighths of an inch", "3/8 in"),
        ("five eighths drill", "5/8 in drill"),
        ("seven sixty-fourths drill", "7/64 in drill"),
        ("bore two inch to two and five thirty-seconds", "bore 2 in to 2 5/32 in"),
        ("twenty-five mm bar", "25 mm bar"),
        ("sixteen and a half mm", "16.5 mm"),
        ("2 and a half inch", "2 1/2 in"),
    ],
)
def test_a_size_said_aloud(said: str, typed: str) -> None:
    assert figures(said) == typed


@pytest.mark.parametrize(
    "talk",
    [
        "three jaw chuck",
        "half-used boxes here",
        "second shift took the depth mic",
        "first quarter claim",
        "one of Tobin's four bars",
        "1 1/2 in bar",
        "25 mm bar",
        "twelve seconds",
    ],
)
def test_other_talk_stays_as_it_was(talk: str) -> None:
    assert figures(talk) == talk


@pytest.mark.parametrize(
    ("said", "inches"),
    [("an inch and a quarter", 1.25), ("nine sixteenths", 0.5625), ("twenty-one inches", 21)],
)
def test_what_it_is_in_millimetres(said: str, inches: float) -> None:
    low, high = read_range(figures(said), Kind.LENGTH)
    assert low.value == high.value == pytest.approx(25.4 * inches)
