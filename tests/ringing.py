"""Recordings made up for tests: modes that ring after taps, in noise, as a WAV file holds them."""

import wave
from collections.abc import Sequence
from io import BytesIO
from math import pi, sqrt
from pathlib import Path

import numpy as np

RATE = 22050


def taps(
    modes: Sequence[tuple[float, float, float]], *, many: int = 5, noise: float = 0.01, seed: int = 1
) -> np.ndarray:
    """Give the sound of taps a second apart: modes of frequency in Hz, damping ratio and size."""
    random = np.random.default_rng(seed)
    sound = random.normal(0.0, noise, round(RATE * (0.3 + many)))
    for tap in range(many):
        begin = round(RATE * (0.3 + tap))
        t = np.arange(len(sound) - begin) / RATE
        size = random.uniform(0.6, 1.0)
        for hz, damping, part in modes:
            w = 2 * pi * hz
            sound[begin:] += size * part * np.exp(-damping * w * t) * np.sin(w * sqrt(1 - damping**2) * t)
        blow = round(0.002 * RATE)
        sound[begin : begin + blow] += 0.3 * size * random.normal(0.0, 1.0, blow)
    return 0.8 * sound / np.abs(sound).max()


def packed(sound: np.ndarray, width: int = 2) -> bytes:
    """Give samples as a WAV file packs them: 8 bits unsigned, more signed."""
    if width == 1:
        return np.round(sound * 127 + 128).astype(np.uint8).tobytes()
    values = np.round(sound * (2 ** (8 * width - 1) - 1)).astype("<i4")
    return values.view(np.uint8).reshape(-1, 4)[:, :width].tobytes()


def write_wav(path: Path, sound: np.ndarray, width: int = 2, channels: int = 1) -> Path:
    """Write a WAV file; with two channels the first is silence."""
    if channels == 2:
        sound = np.stack([np.zeros_like(sound), sound], axis=1).reshape(-1)
    whole = BytesIO()
    with wave.open(whole, "wb") as file:
        file.setnchannels(channels)
        file.setsampwidth(width)
        file.setframerate(RATE)
        file.writeframes(packed(sound, width))
    path.write_bytes(whole.getvalue())
    return path
