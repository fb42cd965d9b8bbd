"""The points by which a picture is known again, and the marks of what surrounds each.

The points and the description of their surroundings are those of D. Lowe, Distinctive Image Features from
Scale-Invariant Keypoints, International Journal of Computer Vision 60 (2004), 91-110, as OpenCV has them. Of the 128
numbers of a description two bits each are kept: whether it is among the greater half, and among the greatest quarter.
How many bits differ then says how unlike two surroundings are, whatever the contrast.
"""

from typing import Final

import cv2
import numpy as np
import numpy.typing as npt

from provenance.likeness.picture_forms import NUMBERS, Marks, Points

MOST_POINTS: Final = 600
MARK_BYTES: Final = 2 * NUMBERS // 8
_LOOKED_AT = 2000  # the strongest of so many are chosen from
_FAINTEST = 0.01  # Lowe's least contrast is 0.03, which leaves a faded picture without points
_EVENED = 2.0  # how far the contrast of a dull corner is raised, in OpenCV's measure
_CELLS = 6
_STEPS = 32  # places, sizes and directions are kept to so many parts of a pixel or degree


def find_points(small: npt.NDArray[np.uint8]) -> tuple[Points, Marks]:
    """The points of a small picture and their marks, in an order by which the first few are the best to try.

    The picture's contrast is evened first, and each sixth of its width and height gives its strongest point before any
    gives a second: else the ink of a note across a photograph takes all the points there are.

    Returns:
        The points with places in pixels from the upper left corner, so that the middle of the first pixel is 0.5, 0.5.
    """
    even = cv2.createCLAHE(_EVENED, (8, 8)).apply(small)
    finder = cv2.SIFT.create(nfeatures=_LOOKED_AT, contrastThreshold=_FAINTEST, enable_precise_upscale=True)
    found, numbers = finder.detectAndCompute(even, None)
    if not found:
        return np.zeros((0, 4), np.float32), np.zeros((0, MARK_BYTES), np.uint8)
    points = np.array([(*each.pt, each.size, each.angle) for each in found], np.float32)
    chosen = _spread(points, np.array([each.response for each in found]), small.shape)
    kept = points[chosen]
    kept[:, :2] += 0.5
    kept = np.asarray(np.rint(kept * _STEPS) / _STEPS, np.float32)
    return kept, _as_marks(np.asarray(numbers[chosen], np.float32))


def _spread(points: Points, strength: npt.NDArray[np.float64], shape: tuple[int, ...]) -> npt.NDArray[np.intp]:
    """The strongest of every cell of the picture, then the second of every cell, and so on."""
    cell = [np.minimum(points[:, axis] * _CELLS // shape[1 - axis], _CELLS - 1) for axis in (0, 1)]
    number = cell[0] * _CELLS + cell[1]
    order = np.lexsort((points[:, 3], points[:, 1], points[:, 0], -strength))
    by_cell = order[np.argsort(number[order], kind="stable")]
    starts = np.flatnonzero(np.diff(number[by_cell], prepend=-1))
    rank = np.empty(len(points), np.intp)
    rank[by_cell] = np.arange(len(points)) - np.repeat(starts, np.diff([*starts, len(points)]))
    return np.asarray(order[np.argsort(rank[order], kind="stable")][:MOST_POINTS])


def _as_marks(numbers: npt.NDArray[np.float32]) -> Marks:
    ranked = np.sort(numbers, axis=1)
    levels = [numbers > ranked[:, at : at + 1] for at in (NUMBERS // 2, 3 * NUMBERS // 4)]
    return np.packbits(np.concatenate(levels, axis=1), axis=1)
