"""Two pictures laid on one another and compared block by block: does light and dark agree?"""

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from provenance.likeness.agreeing import Matrix, carry

_SIDE = 256
_BLOCK = 16
_REACH = 2
_COVERED = 0.6
_EVEN = 3.0

Grid = npt.NDArray[np.float64]
Grey = npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Blocks:
    """The blocks of the area that two pictures share; arrays of rows by columns.

    Attributes:
        like: the correlation of light and dark within each block, -1 to 1; 0 where one of them is even.
        one: how much light and dark vary within the block of the first, in grey levels.
        other: the same of the second.
        inside: which blocks lie within both pictures.
        frame: from pixels of the blocks' picture to pixels of the second small picture.
    """

    like: Grid
    one: Grid
    other: Grid
    inside: npt.NDArray[np.bool_]
    frame: Matrix


def compare(one: Grey, other: Grey, matrix: Matrix) -> Blocks:
    """Lay the first on the second and compare them block by block."""
    frame, size = _shared_frame(one, other, matrix)
    a, inside_a = _seen(one, np.linalg.inv(matrix) @ frame, size)
    b, inside_b = _seen(other, frame, size)
    return _by_block(a, b, inside_a & inside_b, frame)


def _shared_frame(one: Grey, other: Grey, matrix: Matrix) -> tuple[Matrix, tuple[int, int]]:
    """The rectangle on the second about what they share, as a picture whose longer side has 256 pixels."""
    height, width = one.shape
    corners = carry(matrix, [(0, 0), (width, 0), (width, height), (0, height)])
    low = np.clip(corners.min(axis=0), 0, np.array(other.shape[::-1]))
    high = np.clip(corners.max(axis=0), 0, np.array(other.shape[::-1]))
    wide, tall = np.maximum(high - low, 1.0)
    scale = max(wide, tall) / _SIDE
    size = max(_BLOCK, round(wide / scale / _BLOCK) * _BLOCK), max(_BLOCK, round(tall / scale / _BLOCK) * _BLOCK)
    frame = np.array([[wide / size[0], 0, low[0]], [0, tall / size[1], low[1]], [0, 0, 1.0]])
    return frame, size


def _seen(grey: Grey, frame: Matrix, size: tuple[int, int]) -> tuple[npt.NDArray[np.float32], npt.NDArray[np.bool_]]:
    """A picture as seen in the frame, softened to what the frame can show; and where it lies."""
    step = float(np.sqrt(abs(np.linalg.det(frame[:2, :2]))))
    soft = cv2.GaussianBlur(grey, (0, 0), max(0.5, 0.8 * step))
    middle = np.array([[1, 0, -0.5], [0, 1, -0.5], [0, 0, 1]]) @ frame @ np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    view = cv2.warpPerspective(soft, middle, size, flags=flags, borderMode=cv2.BORDER_REPLICATE)
    inside = cv2.warpPerspective(np.full_like(grey, 255), middle, size, flags=flags)
    return view.astype(np.float32), inside > 250


def _by_block(
    a: npt.NDArray[np.float32], b: npt.NDArray[np.float32], inside: npt.NDArray[np.bool_], frame: Matrix
) -> Blocks:
    share = _sums(inside.astype(np.float32)) / _BLOCK**2
    mask = inside.astype(np.float32)
    best = np.full(share.shape, -1.0)
    mean_a, vary_a = _moments(a, mask)
    centred = (a - _spread(mean_a)) * mask
    for down in range(-_REACH, _REACH + 1):
        for across in range(-_REACH, _REACH + 1):
            moved = np.roll(b, (down, across), (0, 1))
            mean, vary = _moments(moved, mask)
            product = _sums(centred * (moved - _spread(mean))) / np.maximum(_sums(mask), 1)
            best = np.maximum(best, product / np.maximum(np.sqrt(vary_a * vary), 1e-6))
    _, vary_b = _moments(b, mask)
    even = np.minimum(vary_a, vary_b) < 1.0
    return Blocks(
        like=np.where(even, 0.0, best),
        one=np.sqrt(vary_a),
        other=np.sqrt(vary_b),
        inside=share >= _COVERED,
        frame=frame,
    )


def _sums(picture: npt.NDArray[np.float32]) -> Grid:
    rows, columns = picture.shape[0] // _BLOCK, picture.shape[1] // _BLOCK
    return picture.reshape(rows, _BLOCK, columns, _BLOCK).sum(axis=(1, 3), dtype=np.float64)


def _moments(picture: npt.NDArray[np.float32], mask: npt.NDArray[np.float32]) -> tuple[Grid, Grid]:
    count = np.maximum(_sums(mask), 1)
    mean = _sums(picture * mask) / count
    return mean, np.maximum(_sums(picture * picture * mask) / count - mean * mean, 0)


def _spread(grid: Grid) -> npt.NDArray[np.float32]:
    return np.kron(grid, np.ones((_BLOCK, _BLOCK))).astype(np.float32)
