"""The beginning of a tape: hum, a knock, and nobody speaking yet."""

import io
import math
import random
import wave

_RATE = 8_000
_SECONDS = 2
_HUM = 50
_KNOCK = 1.2


def tape_beginning(seed: int) -> bytes:
    """Make a WAVE file of 8 bits, one channel and 8,000 samples a second."""
    chance = random.Random(seed)
    samples = bytes(_sample(number / _RATE, chance) for number in range(_RATE * _SECONDS))
    kept = io.BytesIO()
    with wave.open(kept, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(1)
        file.setframerate(_RATE)
        file.writeframes(samples)
    return kept.getvalue()


def _sample(at: float, chance: random.Random) -> int:
    hum = 5 * math.sin(2 * math.pi * _HUM * at)
    knock = 90 * math.exp(-60 * (at - _KNOCK)) * math.sin(2 * math.pi * 300 * at) if at > _KNOCK else 0.0
    return max(0, min(255, round(128 + hum + knock + chance.gauss(0, 1.5))))
