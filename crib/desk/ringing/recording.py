"""Reading a recording from a file: WAV, 8 to 32 bit, any number of channels."""

import wave
from os.path import basename
from typing import TYPE_CHECKING

from crib.errors import InputError

if TYPE_CHECKING:
    from crib.trade.rigidity.ringing import Recording

LONGEST_S = 60
MOST_CHANNELS = 8
MOST_RATE_HZ = 400_000


def read_wav(path: str) -> "Recording":
    """Read a WAV file, its first minute at most.

    Raises:
        InputError: it can't be opened, or is no WAV that can be read.
    """
    from crib.trade.rigidity.ringing import Recording  # NumPy: only who has a recording waits for it

    name = basename(path)
    try:
        with open(path, "rb") as file, wave.open(file) as sound:
            rate, channels, width = sound.getframerate(), sound.getnchannels(), sound.getsampwidth()
            if not (0 < rate <= MOST_RATE_HZ and channels <= MOST_CHANNELS and width in (1, 2, 3, 4)):
                raise InputError(f"{name}: {channels} channels of {8 * width} bit at {rate} Hz", _PLAIN)
            data = sound.readframes(LONGEST_S * rate)
    except (wave.Error, EOFError) as error:
        raise InputError(
            f"{name} is no WAV file that can be read: {error or 'it ends too soon'}", _PLAIN
        ) from error
    except (OSError, ValueError) as error:  # ValueError: a name with a zero byte in it
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise InputError(f"{name or path!r} can't be opened: {why}", "give the path of a WAV file") from error
    return Recording(rate_hz=rate, channels=channels, width=width, data=data)


_PLAIN = "save it as plain PCM WAV, 8 to 32 bit, mono or stereo"
