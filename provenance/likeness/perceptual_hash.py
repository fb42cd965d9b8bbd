"""The perceptual hash of a picture: 64 bits of its coarse light and dark, for whole pictures that are nearly equal.

After C. Zauner, Implementation and Benchmarking of Perceptual Image Hash Functions (diploma thesis, Upper Austria
University of Applied Sciences, Hagenberg 2010), 3.2.1, the hash based on the discrete cosine transform: the picture is
reduced to 32 by 32, transformed, and of the 8 by 8 lowest frequencies each gives one bit: above the median or not. The
thesis leaves out the constant term; here it stays in as the first bit, as `phash` of the library ImageHash has it, so
that the figures published for that library hold.
"""

import numpy as np
import numpy.typing as npt
from PIL import Image

_SIDE = 32
_KEPT = 8


def hash_of(grey: npt.NDArray[np.uint8]) -> int:
    """The 64 bits of a grey picture as one number, the constant term's bit first.

    Args:
        grey: height by width, 8 bits, any size from 1 by 1.
    """
    small = Image.fromarray(grey).resize((_SIDE, _SIDE), Image.Resampling.LANCZOS)
    return _number(_low_frequencies(np.asarray(small, dtype=np.float64)))


def _low_frequencies(square: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """The lowest 8 by 8 coefficients of the cosine transform (DCT-II) of a 32 by 32 picture."""
    rows = _COSINES @ square @ _COSINES.T
    return np.asarray(rows)


def _cosines() -> npt.NDArray[np.float64]:
    at = (2 * np.arange(_SIDE) + 1) * np.pi / (2 * _SIDE)
    return np.asarray(2 * np.cos(np.arange(_KEPT)[:, None] * at[None, :]))


_COSINES = _cosines()


def _number(frequencies: npt.NDArray[np.float64]) -> int:
    bits = (frequencies > np.median(frequencies)).ravel()
    return int.from_bytes(np.packbits(bits).tobytes(), "big")


def bits_apart(one: int, other: int) -> int:
    """How many of the 64 bits differ."""
    return (one ^ other).bit_count()
