"""What a recording of taps tells, against synthesised decays in noise and against scipy's own tools."""

import numpy as np
import pytest
import scipy.signal
from ringing import RATE, packed, taps

from crib.errors import InputError
from crib.trade.rigidity.ringing import Recording, Ringing, analyse


def heard(sound: np.ndarray, width: int = 2) -> Ringing:
    recording = Recording(rate_hz=RATE, channels=1, width=width, data=packed(sound, width))
    return analyse(recording, one_tap_share=0.3)


@pytest.mark.parametrize("width", [1, 2, 3, 4])
@pytest.mark.parametrize(
    ("hz", "damping", "noise"),
    [(92, 0.02, 0.01), (92, 0.1, 0.003), (45, 0.05, 0.01), (600, 0.005, 0.03), (1200, 0.03, 0.01)],
)
def test_a_decay_that_was_put_in_comes_out(hz: float, damping: float, noise: float, width: int) -> None:
    found = heard(taps([(hz, damping, 1.0)], noise=noise), width)
    assert found.taps == 5
    peak = found.peaks[0]
    assert peak.frequency_hz.value == pytest.approx(hz, rel=2e-3)
    assert peak.damping_ratio is not None
    assert peak.damping_ratio.value == pytest.approx(damping, rel=0.03)
    assert peak.damping_ratio.low <= peak.damping_ratio.value <= peak.damping_ratio.high
    assert len(found.peaks) == 1


@pytest.mark.parametrize(
    "modes",
    [
        [(92.0, 0.02, 1.0), (310.0, 0.01, 0.4)],
        [(160.0, 0.025, 1.0), (190.0, 0.02, 0.5)],
        [(150.0, 0.01, 1.0), (250.0, 0.012, 1.0), (700.0, 0.01, 0.5)],
    ],
)
def test_several_modes_are_told_apart(modes: list[tuple[float, float, float]]) -> None:
    found = heard(taps(modes))
    by_hz = sorted(found.peaks, key=lambda peak: peak.frequency_hz.value)
    assert len(by_hz) == len(modes)
    for peak, (hz, damping, _) in zip(by_hz, modes, strict=True):
        assert peak.frequency_hz.value == pytest.approx(hz, rel=2e-3)
        assert peak.damping_ratio is not None
        assert peak.damping_ratio.value == pytest.approx(damping, rel=0.05)


def test_it_agrees_with_scipy() -> None:
    """The same tap by scipy.signal: periodogram and find_peaks, Butterworth band, Hilbert envelope."""
    sound = taps([(210.0, 0.015, 1.0), (540.0, 0.01, 0.5)], many=1, noise=0.004)
    found = heard(sound)
    ring = sound[round(0.31 * RATE) :]
    places, power = scipy.signal.periodogram(ring, RATE, nfft=1 << 18)
    tops, _ = scipy.signal.find_peaks(power, prominence=power.max() / 100)
    assert [peak.frequency_hz.value for peak in sorted(found.peaks, key=lambda p: p.frequency_hz.value)] == (
        pytest.approx(sorted(places[tops]), rel=5e-3)
    )
    for peak in found.peaks:
        hz = peak.frequency_hz.value
        band = scipy.signal.butter(3, [0.85 * hz, 1.15 * hz], "bandpass", fs=RATE, output="sos")
        swing = np.abs(scipy.signal.hilbert(scipy.signal.sosfiltfilt(band, ring)))
        part = slice(round(0.04 * RATE), round(0.2 * RATE))
        slope = np.polyfit(np.arange(len(swing))[part] / RATE, np.log(swing[part]), 1)[0]
        assert peak.damping_ratio is not None
        assert peak.damping_ratio.value == pytest.approx(-slope / (2 * np.pi * hz), rel=0.05)


def test_two_close_modes_are_said_to_beat_or_are_parted() -> None:
    found = heard(taps([(100.0, 0.01, 1.0), (103.0, 0.01, 1.0)], noise=0.002))
    assert found.peaks[0].beats or len(found.peaks) == 2


def test_a_steady_tone_has_a_frequency_and_no_damping() -> None:
    t = np.arange(2 * RATE) / RATE
    sound = 0.4 * np.sin(2 * np.pi * 96.0 * t) + np.random.default_rng(2).normal(0.0, 0.01, len(t))
    found = heard(sound)
    assert found.taps == 0
    assert found.peaks[0].frequency_hz.value == pytest.approx(96.0, abs=0.3)
    assert found.peaks[0].damping_ratio is None


NOISE = np.random.default_rng(3).normal(0.0, 0.1, 2 * RATE)


@pytest.mark.parametrize(
    ("sound", "why"),
    [
        (np.zeros(RATE), "silent"),
        (np.full(RATE, 0.3), "silent"),
        (taps([(92.0, 0.02, 1.0)])[: RATE // 10], "too short"),
        (np.zeros(0), "too short"),
        (np.clip(3.0 * taps([(92.0, 0.02, 1.0)]), -1.0, 1.0), "clipped"),
        (NOISE, "nothing rings"),
    ],
    ids=["silence", "a constant", "short", "nothing", "clipped", "noise"],
)
def test_what_tells_nothing_is_refused(sound: np.ndarray, why: str) -> None:
    with pytest.raises(InputError, match=why):
        heard(sound)
