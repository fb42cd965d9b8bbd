"""Pictures whose perceptual hashes are nearly equal: whole pictures that differ little, with however few points."""

import numpy as np
import numpy.typing as npt

from provenance.likeness.perceptual_hash import hash_of
from provenance.likeness.picture_forms import small_as
from provenance.likeness.values import Form, PicturePrint


def hashes_in_every_form(picture: PicturePrint) -> npt.NDArray[np.uint64]:
    """The perceptual hashes that the picture would have in each form and at each quarter turn: 16 of them."""
    smalls = (small_as(picture, form) for form in Form)
    return np.array([hash_of(np.rot90(small, turn)) for small in smalls for turn in range(4)], np.uint64)


def least_apart(held: npt.NDArray[np.uint64], asked: npt.NDArray[np.uint64]) -> npt.NDArray[np.int64]:
    """For each hash held, in how few of 64 bits it differs from one of those asked about."""
    apart = np.bitwise_count(held[:, None] ^ asked[None, :])
    return np.asarray(apart.min(axis=1), dtype=np.int64)
