"""Set-ups: named and measured, and which way they give."""

from math import hypot, sqrt

import pytest
from mechanics import GIVES, SETUPS

from crib.errors import InputError, UnknownName
from crib.trade.rigidity.setup import find_gives, measured_setup, named_setup


def test_named_setups_say_that_their_figures_are_assumed() -> None:
    weak = named_setup("Weak", SETUPS, GIVES)
    assert weak.label == "weak (assumed figures)"
    assert weak.gives.name == "away"
    assert "8 kN/mm, 160 Hz, damping 2.5 %: assumed figures" in weak.assumed[0]
    assert weak.assumed[1] == "taken to give away from the tool"
    assert len(named_setup("weak", SETUPS, GIVES, "along").assumed) == 1


def test_named_setups_stand_in_order() -> None:
    names = ("rigid", "fair", "weak", "flimsy")
    bearing = [SETUPS[name].k_N_mm * SETUPS[name].damping_ratio for name in names]
    assert bearing == sorted(bearing, reverse=True)
    assert len(set(bearing)) == 4


def test_measured_figures_replace_assumed_ones_singly() -> None:
    setup = measured_setup(setups=SETUPS, directions=GIVES, k_N_mm=5000.0, gives="radial")
    assert (setup.k_N_mm, setup.frequency_hz, setup.damping_ratio) == (5000.0, 200.0, 0.03)
    assert setup.assumed == ("natural frequency 200 Hz assumed", "damping 3 % assumed")
    whole = measured_setup(
        setups=SETUPS, directions=GIVES, k_N_mm=5000.0, frequency_hz=90.0, damping_ratio=0.01, gives="along"
    )
    assert whole.assumed == ()


@pytest.mark.parametrize(
    ("word", "name"),
    [("away", "away"), ("Radial", "away"), (" axial ", "along"), ("tangential", "down"), ("mix", "slanting")],
)
def test_directions_by_any_of_their_words(word: str, name: str) -> None:
    assert find_gives(word, GIVES).name == name


def test_directions_are_unit_vectors() -> None:
    for gives in GIVES.values():
        assert hypot(gives.away, gives.along, gives.down) == pytest.approx(1.0)
    assert GIVES["slanting"].away == pytest.approx(1 / sqrt(2))


@pytest.mark.parametrize(
    ("said", "word"),
    [
        ({"k_N_mm": 0.0}, "stiffness 0 N/mm"),
        ({"frequency_hz": -5.0}, "frequency -5 Hz"),
        ({"damping_ratio": float("inf")}, "damping ratio inf"),
        ({"damping_ratio": 3.0}, "would not ring"),
    ],
)
def test_figures_that_cannot_be_are_named(said: dict[str, float], word: str) -> None:
    with pytest.raises(InputError, match=word):
        measured_setup(setups=SETUPS, directions=GIVES, **said)  # type: ignore[arg-type]


def test_unknown_words_list_what_there_is() -> None:
    with pytest.raises(UnknownName) as caught:
        named_setup("wobbly", SETUPS, GIVES)
    assert "flimsy" in caught.value.hint
    with pytest.raises(UnknownName):
        find_gives("sideways", GIVES)
