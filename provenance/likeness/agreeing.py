"""Which points of two pictures agree, and the geometry that takes the one picture to the other."""

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from provenance.likeness.picture_forms import Marks, Points

Pairs = npt.NDArray[np.intp]
"""Which point of the first belongs to which of the second; shape (n, 2)."""
Matrix = npt.NDArray[np.float64]
"""3 by 3: takes x, y, 1 in pixels of the first small picture to pixels of the second."""

_CLEARLY = 0.9  # the nearest mark differs in at most so much of the bits by which the next one differs
_ALIKE_BITS = 0.29  # marks of one point differ in at most this share of their bits
_GUESSES = 80  # the surest pairs, each of which alone tells a turn, a scale and a shift
_NEAR = 0.04  # of the shorter picture's longer side: how far a guess may be out
_CLOSE = 0.012
_TURN = 25.0  # degrees
_STRETCH = np.log(1.6)
_LEAST_FOR_PERSPECTIVE = 12


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Geometry:
    """How the first picture lies on the second.

    Attributes:
        matrix: from pixels of the first to pixels of the second.
        inliers: how many different points agree with it.
    """

    matrix: Matrix
    inliers: int


def pair_up(one: Marks, other: Marks) -> Pairs:
    """Pair points whose marks are nearest to one another and clearly nearer than the next; surest first."""
    if min(len(one), len(other)) < 2:
        return np.zeros((0, 2), np.intp)
    there, ratio = _nearest(one, other)
    back, _ = _nearest(other, one)
    return _surest(there, np.where(back[there] == np.arange(len(one)), ratio, 2.0))


def pair_one_way(one: Marks, other: Marks) -> Pairs:
    """As `pair_up`, at half the cost: the second's points are not asked which of the first is nearest to them."""
    if min(len(one), len(other)) < 2:
        return np.zeros((0, 2), np.intp)
    return _surest(*_nearest(one, other))


def _surest(there: npt.NDArray[np.intp], ratio: npt.NDArray[np.float64]) -> Pairs:
    at = np.flatnonzero(ratio <= _CLEARLY)
    at = at[np.argsort(ratio[at], kind="stable")]
    return np.stack([at, there[at]], axis=1)


def _nearest(one: Marks, other: Marks) -> tuple[Pairs, npt.NDArray[np.float64]]:
    apart, index = cv2.batchDistance(one, other, cv2.CV_32S, normType=cv2.NORM_HAMMING, K=2)
    return index[:, 0].astype(np.intp), apart[:, 0] / np.maximum(apart[:, 1], 1)


def agree(one: Points, other: Points, pairs: Pairs, sides: tuple[float, float]) -> npt.NDArray[np.bool_]:
    """Which pairs agree with the one pair that most others agree with.

    A pair of points alone tells by sizes and directions how the picture was turned, scaled and shifted.

    Args:
        one: the points of the first picture.
        other: those of the second.
        pairs: surest first.
        sides: the longer side of each picture in pixels.
    """
    if not len(pairs):
        return np.zeros(0, np.bool_)
    a, b = one[pairs[:, 0]].astype(np.float64), other[pairs[:, 1]].astype(np.float64)
    za, zb = a[:, 0] + 1j * a[:, 1], b[:, 0] + 1j * b[:, 1]
    stretch, turn = np.log(b[:, 2] / a[:, 2]), b[:, 3] - a[:, 3]
    move = np.exp(stretch + 1j * np.radians(turn))
    guess = slice(0, _GUESSES)
    out = np.abs(move[guess, None] * (za[None] - za[guess, None]) - (zb[None] - zb[guess, None]))
    allowed = _NEAR * np.minimum(sides[1], np.exp(stretch[guess]) * sides[0])
    turned = np.abs((turn[None] - turn[guess, None] + 180) % 360 - 180)
    fits = (out <= allowed[:, None]) & (turned <= _TURN) & (np.abs(stretch[None] - stretch[guess, None]) <= _STRETCH)
    best = int(np.argmax(fits.sum(axis=1)))
    return np.asarray(fits[best])


def count_places(points: Points) -> int:
    """How many different places points stand at: one place can have several directions."""
    return len(np.unique(np.rint(points[:, :2]), axis=0))


def lay_on(
    one: tuple[Points, Marks], other: tuple[Points, Marks], pairs: Pairs, sides: tuple[float, float]
) -> Geometry | None:
    """Work out how the first picture lies on the second from pairs that roughly agree.

    Returns:
        None where no plausible geometry is found.
    """
    matrix = _fit_flat(one[0][pairs[:, 0], :2], other[0][pairs[:, 1], :2], _NEAR * sides[1] / 2)
    for within in (2 * _CLOSE * sides[1], _CLOSE * sides[1]):
        if matrix is None or not is_plausible(matrix, sides[0]):
            return None
        pairs = _guided(one, other, matrix, within)
        matrix = _fit(one[0][pairs[:, 0], :2], other[0][pairs[:, 1], :2], within, sides[0])
    if matrix is None or not is_plausible(matrix, sides[0]):
        return None
    off = np.hypot(*(carry(matrix, one[0][pairs[:, 0], :2]) - other[0][pairs[:, 1], :2]).T)
    good = pairs[off <= _CLOSE * sides[1]]
    inliers = min(count_places(one[0][good[:, 0]]), count_places(other[0][good[:, 1]]))
    return Geometry(matrix=matrix, inliers=inliers)


def _fit(one: Points, other: Points, within: float, side: float) -> Matrix | None:
    """A perspective from many pairs, an affine map from few or where the perspective is out of reason."""
    if len(one) >= _LEAST_FOR_PERSPECTIVE:
        found = cv2.findHomography(one, other, cv2.RANSAC, within, maxIters=300, confidence=0.99)[0]
        if np.shape(found) == (3, 3) and is_plausible(np.asarray(found, np.float64), side):
            return np.asarray(found, np.float64)
    return _fit_flat(one, other, within)


def _fit_flat(one: Points, other: Points, within: float) -> Matrix | None:
    """An affine map: what turns, stretches and leans but keeps lines side by side; None from fewer than 3 pairs."""
    if len(one) < 3:
        return None
    affine = cv2.estimateAffine2D(one, other, method=cv2.RANSAC, ransacReprojThreshold=within, maxIters=300)[0]
    return None if np.shape(affine) != (2, 3) else np.vstack([affine, [0.0, 0.0, 1.0]])


def _guided(one: tuple[Points, Marks], other: tuple[Points, Marks], matrix: Matrix, within: float) -> Pairs:
    """Pairs of points that lie where the geometry wants them, with like marks, the likest of each."""
    at = carry(matrix, one[0][:, :2])
    off = np.abs((at[:, 0] + 1j * at[:, 1])[:, None] - (other[0][:, 0] + 1j * other[0][:, 1])[None])
    grown = np.log(np.maximum(_growth(matrix, one[0][:, :2]), 1e-6))
    stretch = np.log(other[0][:, 2])[None] - np.log(one[0][:, 2])[:, None]
    first, second = np.nonzero((off <= within) & (np.abs(stretch - grown[:, None]) <= _STRETCH))
    bits = np.bitwise_count(one[1][first] ^ other[1][second]).sum(axis=1, dtype=np.int64)
    like = bits <= _ALIKE_BITS * 8 * one[1].shape[1]
    first, second, bits = first[like], second[like], bits[like]
    order = np.lexsort((second, first, bits))
    _, lead = np.unique(first[order], return_index=True)
    order = order[np.sort(lead)]
    _, lead = np.unique(second[order], return_index=True)
    order = order[np.sort(lead)]
    return np.stack([first[order], second[order]], axis=1)


def carry(matrix: Matrix, places: npt.ArrayLike) -> npt.NDArray[np.float64]:
    """Places of the first picture on the second; shape (n, 2)."""
    flat = np.asarray(places, np.float64)
    carried = np.column_stack([flat, np.ones(len(flat))]) @ matrix.T
    return np.asarray(carried[:, :2] / carried[:, 2:])


def turned_back(matrix: Matrix) -> Matrix:
    """From pixels of the second picture to pixels of the first."""
    return np.asarray(np.linalg.inv(matrix), np.float64)


def _growth(matrix: Matrix, places: npt.ArrayLike) -> npt.NDArray[np.float64]:
    """How many times longer what stands at each place of the first picture is on the second."""
    depth = np.asarray(places, np.float64) @ matrix[2, :2] + matrix[2, 2]
    return np.asarray(np.sqrt(np.abs(np.linalg.det(matrix) / depth**3)))


def is_plausible(matrix: Matrix, side: float) -> bool:
    """Whether a picture laid down so could be one taken of the other: not folded, not turned over, not drawn out."""
    x, y = (np.array([0.0, 1, 1, 0, 0.5]) * side, np.array([0.0, 0, 1, 1, 0.5]) * side)
    depth = matrix[2, 0] * x + matrix[2, 1] * y + matrix[2, 2]
    if (depth <= 0).any():
        return False
    grown = np.linalg.det(matrix) / depth**3
    # Turned over, the growth is below nought everywhere, and its largest is more than six times its smallest.
    if grown.max() > 6 * grown.min() or not 1 / 400 < grown[4] < 400:
        return False
    stretched = np.linalg.svd(matrix[:2, :2] - np.outer(carry(matrix, [(x[4], y[4])])[0], matrix[2, :2]))[1]
    return bool(stretched[0] <= 2.0 * stretched[1])
