"""Fingerprints made from a seed, for pictures that nobody has to draw: marks in clumps, as those of real pictures."""

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from provenance.likeness.perceptual_hash import hash_of
from provenance.likeness.values import PicturePrint
from provenance.records.readings import Box

Marks = npt.NDArray[np.uint8]

SIDE = 512
_CLUMPS = 64


def a_print(seed: int, *, points: int = 120, octets: int = 32) -> PicturePrint:
    """A picture that has nothing to do with those of other seeds, but for marks that many pictures have."""
    random = np.random.default_rng(seed)
    places = np.empty((points, 4), np.float32)
    places[:, :2] = random.uniform(0, SIDE, (points, 2))
    places[:, 2] = 4 * 2 ** random.uniform(0, 3, points)
    places[:, 3] = random.uniform(0, 360, points)
    common = np.random.default_rng(1).integers(0, 256, (_CLUMPS, octets), dtype=np.uint8)
    rare = random.integers(0, 256, (points, octets), dtype=np.uint8)
    is_common = random.random(points) < 0.3
    marks = np.where(is_common[:, None], common[random.integers(0, _CLUMPS, points)], rare)
    marks = _with_bits_flipped(marks, 0.08, random)
    small = random.integers(0, 256, (16, 16), dtype=np.uint8)
    whole = Box(0, 0, 100, 100)
    return PicturePrint(part=whole, small=small, hash=hash_of(small), points=places, marks=marks)


def showing(picture: PicturePrint, small: npt.NDArray[np.uint8]) -> PicturePrint:
    """The points of a picture beside other light and dark."""
    return replace(picture, small=small, hash=hash_of(small))


def flipped(picture: PicturePrint, share: float, seed: int) -> PicturePrint:
    """The same picture with a share of the bits of its marks changed."""
    return replace(picture, marks=_with_bits_flipped(picture.marks, share, np.random.default_rng(seed)))


def _with_bits_flipped(marks: Marks, share: float, random: np.random.Generator) -> Marks:
    bits = np.unpackbits(marks, axis=1)
    bits ^= random.random(bits.shape) < share
    return np.packbits(bits, axis=1)


def turned(picture: PicturePrint, degrees: float, factor: float, seed: int, *, kept: float = 0.7) -> PicturePrint:
    """The same picture turned and made larger, with some of its points gone and others in their place."""
    random = np.random.default_rng(seed)
    points = picture.points.copy()
    angle = np.deg2rad(degrees)
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    points[:, :2] = (points[:, :2] - SIDE / 2) @ turn * factor + SIDE / 2
    points[:, 2] *= factor
    points[:, 3] = (points[:, 3] + degrees + random.normal(0, 3, len(points))) % 360
    gone = random.random(len(points)) >= kept
    other = a_print(seed, points=len(points), octets=picture.marks.shape[1])
    points[gone], marks = other.points[gone], np.where(gone[:, None], other.marks, picture.marks)
    return replace(showing(picture, other.small), points=points, marks=marks)
