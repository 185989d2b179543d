"""What a recording of a tap tells: the frequencies at which a set-up rings, and how fast each dies away.

The only module that uses NumPy. Taps are found by their sudden rise; peaks in the mean spectrum of what
follows them; around each peak a band is filtered out, and a line through the logarithm of its swing, and one
through its phase, give damping and frequency of each tap. Of several taps the median counts.

Source: keys measure_decay (logarithmic decrement), measure_tap (how to tap and record).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, pi, sqrt

import numpy as np
import numpy.typing as npt

from crib.errors import InputError
from crib.trade.rigidity.measuring import Estimate

Samples = npt.NDArray[np.float64]

SHORTEST_S = 0.2
SILENT = 1e-3  # part of full scale: 60 dB below it
CLIPPED_RUN = 3  # samples at full scale one after the other
FRAME_S = 0.005
APART = 30  # frames between two taps
RISE = 4.0  # a tap is that many times louder than what went before
FAINT_TAP = 0.1  # of the loudest
LONGEST_RING_S = 2.5
LOW_HZ, HIGH_HZ = 15.0, 8000.0
FAINT_PEAK = 1e-3  # of the strongest peak's power: 30 dB
ABOVE_NEIGHBOURS, STEADY = 5.0, 50.0  # times the median power around it; a tone that does not die away
VALLEY = 0.4  # of the smaller peak, at most
MOST_PEAKS = 6
BAND_OF_PEAK, BAND_OF_GAP = 0.15, 0.3  # half width of the filter
SETTLE = 2.5  # the filter's own ring, in its time constants
ABOVE_NOISE = 4.0
DEEPEST_DROP = 100.0  # 40 dB
LEAST_CYCLES, LEAST_DROP = 3.0, 1.5
BEATS = 0.15  # a line that fits worse than this (in nepers) is no single decay


@dataclass(frozen=True, slots=True, kw_only=True)
class Recording:
    """Sound as it stands in a file.

    Attributes:
        rate_hz: samples a second.
        channels: interleaved.
        width: bytes of a sample; one byte is unsigned, more are signed, little end first.
        data: the samples.
    """

    rate_hz: int
    channels: int
    width: int
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Peak:
    """One frequency at which it rings.

    Attributes:
        frequency_hz: natural frequency: median of the taps, least and greatest.
        damping_ratio: likewise; None where no decay could be fitted.
        level_db: below the strongest peak.
        taps: taps in which its decay could be fitted.
        beats: the decay is no single one: two modes lie close together.
    """

    frequency_hz: Estimate
    damping_ratio: Estimate | None
    level_db: float
    taps: int
    beats: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Ringing:
    """What a recording holds.

    Attributes:
        seconds: its length.
        taps: how many were found.
        peaks: the strongest first.
    """

    seconds: float
    taps: int
    peaks: tuple[Peak, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Decay:
    frequency_hz: float
    damping_ratio: float
    seconds: float
    misfit: float


def analyse(recording: Recording, *, one_tap_share: float) -> Ringing:
    """Find the taps in a recording, the frequencies at which it rings after them, and their damping.

    Args:
        recording: the sound.
        one_tap_share: part by which damping from one tap alone may be out.

    Raises:
        InputError: it is too short, silent or clipped, or nothing rings in it.
    """
    sound = _loudest_channel(recording)
    rate = recording.rate_hz
    seconds = len(sound) / rate
    if seconds < SHORTEST_S:
        raise InputError(f"{seconds:.2g} s is too short", f"at least {SHORTEST_S:g} s, one second is better")
    _check_level(sound, recording.width)
    sound = sound - sound.mean()
    starts = _taps(sound, rate)
    before_next = [start - round(4 * FRAME_S * rate) for start in starts[1:]]
    rings = [sound[begin:end] for begin, end in zip(starts, [*before_next, len(sound)], strict=False)]
    rings = [ring for ring in rings if len(ring) >= SHORTEST_S / 2.0 * rate]
    if starts and not rings:
        raise InputError("nothing is left after the tap", "let it ring out before the recording is stopped")
    quiet = sound[: max(0, starts[0] - ceil(2 * FRAME_S * rate))] if starts else sound[:0]
    found = _peaks([_heard(ring, rate) for ring in rings] or [sound], rate)
    peaks = [_peak(rings, quiet, rate, at, found, one_tap_share) for at in range(len(found))]
    rung = tuple(
        peak
        for peak, (_, _, above) in zip(peaks, found, strict=True)
        if peak.damping_ratio or above >= STEADY
    )
    if not rung:
        raise InputError("nothing rings in it", "tap harder, hold the recorder nearer, keep the shop quiet")
    return Ringing(seconds=seconds, taps=len(rings), peaks=rung)


# -- from bytes to taps -----------------------------------------------------------------------------------


def _loudest_channel(recording: Recording) -> Samples:
    """Give the samples of the loudest channel, 1 being full scale."""
    width, many = recording.width, recording.channels
    whole = len(recording.data) // (width * many) * width * many
    raw = np.frombuffer(recording.data[:whole], dtype=np.uint8)
    if width == 1:
        values = raw.astype(np.float64) - 128.0
    else:  # 3 bytes are no number of NumPy's: each sample moves to the upper end of four
        padded = np.zeros((len(raw) // width, 4), dtype=np.uint8)
        padded[:, 4 - width :] = raw.reshape(-1, width)
        values = padded.view("<i4")[:, 0].astype(np.float64) / 2.0 ** (32 - 8 * width)
    values = values.reshape(-1, many) / 2.0 ** (8 * width - 1)
    if not len(values):
        return values[:, 0]
    loudest: Samples = values[:, int(np.argmax(values.var(axis=0)))]
    return loudest


def _check_level(sound: Samples, width: int) -> None:
    """Refuse what is silent or clipped."""
    step = 2.0 ** (1 - 8 * width)
    if np.abs(sound - sound.mean()).max() < max(SILENT, 2.0 * step):
        raise InputError("it is silent", "tap harder, hold the recorder nearer")
    full = np.abs(sound) >= min(0.9995, 1.0 - 1.5 * step)
    runs = np.convolve(full, np.ones(CLIPPED_RUN), "valid")
    if (runs >= CLIPPED_RUN).any():
        raise InputError("it is clipped: the loudest parts are cut off", "tap softer, or further away")


def _loudness(sound: Samples, rate: int) -> tuple[int, Samples]:
    """Give the samples of a frame, and the root mean square of each frame."""
    frame = max(1, round(FRAME_S * rate))
    many = len(sound) // frame
    return frame, np.sqrt((sound[: many * frame].reshape(many, frame) ** 2).mean(axis=1))


def _taps(sound: Samples, rate: int) -> list[int]:
    """Give where the ringing begins after each tap: shortly behind the loudest sample of a sudden rise."""
    frame, loud = _loudness(sound, rate)
    floor = max(float(np.quantile(loud, 0.05)), 1e-9)
    starts: list[int] = []
    last = -APART
    for at in range(len(loud)):
        before = float(np.median(loud[max(0, at - 12) : at - 2])) if at > 2 else floor
        if loud[at] < FAINT_TAP * loud.max() or loud[at] < RISE * max(before, floor) or at - last < APART:
            continue
        last = at
        blow = sound[at * frame : (at + 6) * frame]
        starts.append(at * frame + int(np.argmax(np.abs(blow))) + frame)
    return starts


def _heard(ring: Samples, rate: int) -> Samples:
    """Give the part of a ring that stands above the noise: the rest would only roughen its spectrum."""
    frame, loud = _loudness(ring[: round(LONGEST_RING_S * rate)], rate)
    drowned = np.flatnonzero(loud < 2.0 * np.quantile(loud, 0.1))
    after = int(drowned[0]) if len(drowned) else len(loud)
    return ring[: max(after * frame, round(SHORTEST_S / 2.0 * rate))]


# -- peaks ------------------------------------------------------------------------------------------------


Found = tuple[float, float, float]  # frequency, power, power over the median around it


def _peaks(rings: Sequence[Samples], rate: int) -> list[Found]:
    """Give the peaks in the mean spectrum of the taps, the strongest first."""
    size = 1 << (4 * max(map(len, rings)) - 1).bit_length()
    power = np.zeros(size // 2 + 1)
    for ring in rings:
        taper = np.cos(np.linspace(0.0, pi / 2.0, len(ring))) ** 2  # ends softly: no leakage from the cut-off
        one = np.abs(np.fft.rfft(ring * taper, size)) ** 2
        power += one / one.sum()
    step = rate / size
    low = max(1, round(max(LOW_HZ, 3.0 * rate / max(map(len, rings))) / step))
    high = min(len(power) - 2, round(min(HIGH_HZ, 0.45 * rate) / step))
    if high <= low:
        return []
    inner = power[low:high]
    tops = np.flatnonzero((inner > power[low - 1 : high - 1]) & (inner >= power[low + 1 : high + 1])) + low
    found: list[Found] = []
    strongest = float(inner.max())
    for top in sorted((int(top) for top in tops), key=lambda top: -power[top]):
        if power[top] < FAINT_PEAK * strongest or len(found) == MOST_PEAKS:
            break
        around = max(round(0.6 * top), round(20.0 / step), 8)
        median = float(np.median(power[max(1, top - around) : top + around]))
        frequency = step * (top + _vertex(power[top - 1 : top + 2]))
        apart = max(0.04 * frequency, 4.0 * rate / max(map(len, rings)))
        above = float(power[top]) / median
        parted = all(abs(frequency - one[0]) > apart and _parted(power, top, one[0] / step) for one in found)
        if above >= ABOVE_NEIGHBOURS and parted:
            found.append((frequency, float(power[top]), above))
    return found


def _parted(power: Samples, top: int, other: float) -> bool:
    """Tell whether a valley lies between two peaks: ripples of one broad peak are none of their own."""
    low, high = sorted((top, round(other)))
    return float(power[low : high + 1].min()) < VALLEY * float(power[top])


def _vertex(three: Samples) -> float:
    """Give where a parabola through three logarithms has its top, in steps from the middle one."""
    left, middle, right = np.log(np.maximum(three, 1e-300))
    bend = left - 2.0 * middle + right
    return float(0.5 * (left - right) / bend) if bend < 0.0 else 0.0


def _peak(
    rings: Sequence[Samples],
    quiet: Samples,
    rate: int,
    at: int,
    found: Sequence[Found],
    one_tap_share: float,
) -> Peak:
    """Fit the decay of one peak in every tap."""
    frequency, power, _ = found[at]
    gap = min((abs(frequency - other) for other, *_ in found if other != frequency), default=frequency)
    half = min(BAND_OF_PEAK * frequency, BAND_OF_GAP * gap)
    decays = [one for ring in rings if (one := _decay(ring, quiet, rate, frequency, half))]
    level = 10.0 * float(np.log10(power / found[0][1]))
    if not decays:
        near = rate / max(map(len, rings), default=rate) / 2.0
        place = Estimate(value=frequency, low=frequency - near, high=frequency + near)
        return Peak(frequency_hz=place, damping_ratio=None, level_db=level, taps=0, beats=False)
    frequencies, dampings = [one.frequency_hz for one in decays], [one.damping_ratio for one in decays]
    places, sizes = _middle(frequencies), _middle(dampings)
    if len(decays) == 1:
        near = 0.5 / decays[0].seconds
        places = Estimate(value=places.value, low=places.value - near, high=places.value + near)
        out = one_tap_share * sizes.value
        sizes = Estimate(value=sizes.value, low=sizes.value - out, high=sizes.value + out)
    beats = float(np.median([one.misfit for one in decays])) > BEATS
    return Peak(frequency_hz=places, damping_ratio=sizes, level_db=level, taps=len(decays), beats=beats)


def _middle(values: Sequence[float]) -> Estimate:
    return Estimate(value=float(np.median(values)), low=min(values), high=max(values))


# -- one decay --------------------------------------------------------------------------------------------


def _decay(ring: Samples, quiet: Samples, rate: int, frequency: float, half: float) -> _Decay | None:
    """Fit one decay in the band around a frequency; None where it is too short or drowned."""
    swing = _band(ring, rate, frequency, half)
    size = np.abs(swing)
    settle = ceil(SETTLE * rate / (2.0 * pi * half))
    noise = 0.0
    if len(quiet) > 4 * settle:
        noise = float(np.median(np.abs(_band(quiet, rate, frequency, half))[settle:-settle]))
    end = len(size) - settle
    if end <= settle:
        return None
    noise = noise or float(np.median(size[-max(1, len(size) // 8) :])) / ABOVE_NOISE
    drowned = np.flatnonzero(size[settle:end] < max(ABOVE_NOISE * noise, size[settle] / DEEPEST_DROP))
    if len(drowned):
        end = settle + int(drowned[0])
    seconds = (end - settle) / rate
    if seconds * frequency < LEAST_CYCLES or size[settle] < LEAST_DROP * size[end - 1]:
        return None
    t = np.arange(settle, end) / rate
    part = swing[settle:end]
    log_size, phase, weight = np.log(np.abs(part)), np.unwrap(np.angle(part)), np.abs(part)
    falls, misfit = _slope(t, log_size, weight)
    turns, _ = _slope(t, phase, weight)
    if falls >= 0.0 or turns <= 0.0:
        return None
    natural = sqrt(falls * falls + turns * turns)
    return _Decay(
        frequency_hz=natural / (2.0 * pi), damping_ratio=-falls / natural, seconds=seconds, misfit=misfit
    )


def _band(sound: Samples, rate: int, frequency: float, half: float) -> npt.NDArray[np.complex128]:
    """Filter a band out, as swing and phase; the filter is a bell curve of this standard deviation."""
    size = 1 << (2 * len(sound) - 1).bit_length()  # twice as long: the end does not run into the beginning
    spectrum = np.fft.fft(sound, size)
    places = np.fft.fftfreq(size, 1.0 / rate)
    bell = np.where(places > 0.0, 2.0 * np.exp(-0.5 * ((places - frequency) / half) ** 2), 0.0)
    filtered: npt.NDArray[np.complex128] = np.fft.ifft(spectrum * bell)[: len(sound)]
    return filtered


def _slope(t: Samples, values: Samples, weight: Samples) -> tuple[float, float]:
    """Give the slope of the weighted line through values, and how far off it they lie (root mean square)."""
    share = weight / weight.sum()
    t_mean, mean = float(share @ t), float(share @ values)
    slope = float(share @ ((t - t_mean) * (values - mean)) / (share @ (t - t_mean) ** 2))
    off = values - mean - slope * (t - t_mean)
    return slope, sqrt(float(share @ off**2))
