"""crib stiffness: what is typed at the machine, and what the contract gives back."""

from math import pi
from pathlib import Path

import numpy as np
import pytest
from commands import Crib
from ringing import taps, write_wav
from scipy.integrate import quad

from crib.desk.ringing.measure import MeasureRequest, band_words, measured


def test_a_push_and_a_tap(crib: Crib) -> None:
    found = crib.json(
        "stiffness", "--force", "300 N", "--deflection", "0.04 mm", "--frequency", "92 Hz", "--decay", "3 %"
    )
    assert found["k_N_mm"] == pytest.approx(7500)
    # read to 0.01 mm, zero and reading each half a step out: 0.03 to 0.05 mm; the scale right within 2 %
    assert found["k_low_N_mm"] == pytest.approx(300 / 0.05 * 0.98)
    assert found["k_high_N_mm"] == pytest.approx(300 / 0.03 * 1.02)
    assert found["damping_ratio"] == pytest.approx(0.03)
    assert found["modal_mass_kg"] == pytest.approx(7.5e6 / (2 * np.pi * 92) ** 2)
    assert found["allowed_N_mm"] == pytest.approx(2 * 7500 * 0.03 * 1.03)
    assert any("last digit typed" in line for line in found["assumed"])


def test_several_pairs_in_inches(crib: Crib) -> None:
    there = crib.json(
        "stiffness",
        "--force",
        "20 40 60 40 20 lbf",
        "--deflection",
        "1.0 2.0 3.0 2.2 1.2 thou",
        "--preload",
        "10 lbf",
    )
    assert there["k_N_mm"] == pytest.approx(20 * 4.4482216 / 0.0254)
    assert there["lost_motion_mm"] == pytest.approx(0.2 * 0.0254)
    assert there["readings"] == 3


@pytest.mark.parametrize(
    ("decay", "damping"),
    [
        ("10 to 4 in 5 cycles", 0.029155),
        ("10 -> 4 in 5", 0.029155),
        ("40 % in 5 cycles", 0.029155),
        ("ratio 2.5 in 5 cycles", 0.029155),
        ("7.959 dB in 5 cycles", 0.029155),
        ("half in 4 swings", 0.02757),
        ("T60 0.4 s", 0.0298643),
        ("60 dB in 400 ms", 0.0298643),
        ("89.24 to 94.76 Hz", 0.03),
        ("3 %", 0.03),
        ("0.03", 0.03),
    ],
)
def test_the_ways_to_tell_a_decay(crib: Crib, decay: str, damping: float) -> None:
    found = crib.json("stiffness", "--frequency", "92 Hz", "--decay", decay)
    assert found["damping_ratio"] == pytest.approx(damping, rel=1e-3)
    assert found["k_N_mm"] is None


@pytest.mark.parametrize(("width", "channels"), [(1, 1), (2, 2), (3, 1), (4, 2)])
def test_a_recording(crib: Crib, tmp_path: Path, width: int, channels: int) -> None:
    sound = taps([(92.0, 0.02, 1.0), (310.0, 0.01, 0.4)], many=3)
    path = write_wav(tmp_path / "tap.wav", sound, width, channels)
    found = crib.json("stiffness", "--wav", str(path), "--force", "300 N", "--deflection", "0.040 mm")
    assert found["frequency_hz"] == pytest.approx(92.0, rel=2e-3)
    assert found["damping_ratio"] == pytest.approx(0.02, rel=0.03)
    assert len(found["peaks"]) == 2
    assert found["modal_mass_kg"] == pytest.approx(7.5e6 / (2 * np.pi * 92) ** 2, rel=5e-3)
    other = crib.json("stiffness", "--wav", str(path), "--near", "300 Hz")
    assert other["frequency_hz"] == pytest.approx(310.0, rel=2e-3)
    assert "→" in crib("stiffness", "--wav", str(path)).out


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"not a recording", "no WAV file"),
        (b"", "no WAV file"),
        (b"RIFF\x00\x00\x00\x00WAVE", "no WAV file"),
        (None, "can't be opened"),
    ],
)
def test_a_file_that_is_no_recording(crib: Crib, tmp_path: Path, content: bytes | None, why: str) -> None:
    path = tmp_path / "tap.wav"
    if content is not None:
        path.write_bytes(content)
    error = crib.error("stiffness", "--wav", str(path), status=2)
    assert why in error["message"]


def test_a_recording_that_tells_nothing_is_refused_in_one_line(crib: Crib, tmp_path: Path) -> None:
    path = write_wav(tmp_path / "still.wav", np.zeros(44100))
    ran = crib("stiffness", "--wav", str(path))
    assert ran.status == 2
    assert ran.err.splitlines()[0] == "crib: the recording: it is silent"


def test_a_bar_and_work(crib: Crib) -> None:
    found = crib.json("stiffness", "--bar", "25.4", "--overhang", "101.6", "--bar-material", "steel")
    # Cutting Tool Engineering, July 2019, p. 75: 911.1 N give 0.0757 mm by bending; shear adds 3 %
    assert 911.1 / found["k_ideal_N_mm"] == pytest.approx(0.0757 * 1.034, rel=2e-3)
    assert found["k_low_N_mm"] < found["k_N_mm"] < found["k_high_N_mm"] < found["k_ideal_N_mm"]
    assert found["reach"] == [4, 4]
    hollow = crib.json("stiffness", "--bar", "25.4", "--overhang", "101.6", "--bore", "12.7")
    assert hollow["k_ideal_N_mm"] / found["k_ideal_N_mm"] == pytest.approx(15 / 16, rel=0.01)
    assert hollow["frequency_hz"] > found["frequency_hz"]
    assert crib.json("stiffness", "--bar", "B02")["d_mm"] == 16
    work = crib.json("stiffness", "--work", "60", "--length", "600", "--held", "Chuck + centre")
    assert work["at_mm"] == pytest.approx(351.5, abs=0.1)


def test_a_bar_is_as_stiff_in_a_pick_as_by_itself(crib: Crib) -> None:
    """Both against the sum of bending and shear, integrated along the bar (Castigliano)."""
    d, out, E = 32.0, 160.0, 206_000.0
    bends = quad(lambda x: x**2 / (E * pi * d**4 / 64.0), 0.0, out)[0]
    shears = quad(lambda _: 1.0 / (0.9 * E / 2.6 * pi * d**2 / 4.0), 0.0, out)[0]
    alone = crib.json("stiffness", "--bar", "32 mm", "--overhang", "160 mm", "--bar-material", "steel")
    assert alone["k_ideal_N_mm"] == pytest.approx(1.0 / (bends + shears), rel=1e-6)
    asked = ("--from", "139 mm", "--to", "140 mm", "--length", "160 mm", "--gives", "away")
    picked = crib.json("pick", "--op", "bore", "--material", "cast iron", *asked, "--setup", "weak")
    said = [line for one in picked["candidates"] for line in one["assumed"] if line.startswith("bar ⌀32 ")]
    assert said and f"{alone['k_N_mm'] / 1000:.3g} kN/mm" in said[0]


def test_a_band_whose_ends_print_alike_is_one_figure() -> None:
    alike = measured(MeasureRequest(frequency="90 Hz", decay="2 %"), "metric")
    assert "Damping from 1.4 to 2.6 %" in alike.detail
    assert band_words(None, (0.02, 0.020001), "metric") == ["damping 2 %"]
    assert band_words((4000.0, 4000.01), None, "metric") == [
        "stiffness 4000 N/mm (22800 lbf/in) by the readings"
    ]


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((), "nothing was measured"),
        (("--force", "100 N"), "don't pair"),
        (("--force", "100 N", "--deflection", "10 Hz"), "is a frequency"),
        (("--frequency", "92 Hz", "--decay", "quickly"), "tells no decay"),
        (("--decay", "T60 1 s"), "at what frequency"),
        (("--frequency", "92 Hz", "--added-mass", "2 kg"), "three figures"),
        (("--copied", "1 mm"), "copied step"),
        (("--overhang", "100"), "of a bar or of work"),
        (("--bar", "25"), "how far does the bar stand out"),
        (("--bar", "B99"), "no bar called"),
        (("--bar", "25", "--overhang", "100", "--bore", "30"), "can't be"),
        (("--work", "60"), "how long is the work"),
        (("--work", "60", "--length", "400", "--held", "glue"), "no way of holding"),
        (("--work", "60", "--length", "400", "--at", "500"), "isn't on"),
    ],
)
def test_what_cannot_be_is_said_in_one_line(crib: Crib, arguments: tuple[str, ...], why: str) -> None:
    assert why in crib.error("stiffness", *arguments, status=2)["message"]
