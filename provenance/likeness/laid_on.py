"""Two pictures seen in one frame: the one laid on the other by the geometry between them."""

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from provenance.likeness.agreeing import Matrix, carry, turned_back

Grey = npt.NDArray[np.uint8]
Tones = npt.NDArray[np.float32]
Spots = npt.NDArray[np.float64]
"""Places in a picture; shape (n, 2)."""

_CORNER_TO_MIDDLE = np.array([[1, 0, -0.5], [0, 1, -0.5], [0, 0, 1]])
_MIDDLE_TO_CORNER = np.linalg.inv(_CORNER_TO_MIDDLE)
_SOFT = 0.8
"""How far pictures are softened before they are compared, in pixels of the frame: screens of dots, grain."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Laid:
    """The inner of two pictures, of which the greater share is common to both, and the outer laid on it.

    Attributes:
        inner: the one.
        outer: the other.
        matrix: from pixels of the inner to pixels of the outer.
        low: the upper left corner of the upright rectangle on the inner that holds all they share.
        high: its lower right corner.
        share: how much of the inner's area the outer covers, 0 to 1.
    """

    inner: Grey
    outer: Grey
    matrix: Matrix
    low: Spots
    high: Spots
    share: float


def rectangle(grey: Grey) -> Spots:
    """The corners of a picture in its own pixels: upper left, upper right, lower right, lower left."""
    height, width = grey.shape
    return np.array([(0, 0), (width, 0), (width, height), (0, height)], np.float64)


def covered(inner: Grey, outer: Grey, matrix: Matrix) -> tuple[float, Spots]:
    """How much of the inner's area the outer covers, 0 to 1; and the corners of what it covers."""
    there = carry(turned_back(matrix), rectangle(outer)).astype(np.float32)
    area, common = cv2.intersectConvexConvex(rectangle(inner).astype(np.float32), there)
    return float(area) / inner.size, np.asarray(common, np.float64).reshape(-1, 2)


def lay(inner: Grey, outer: Grey, matrix: Matrix) -> Laid | None:
    """Lay the outer on the inner; None where they share less than a sliver."""
    share, common = covered(inner, outer, matrix)
    if not len(common) or min(np.ptp(common, axis=0)) < 8:
        return None
    return Laid(
        inner=inner, outer=outer, matrix=matrix, low=common.min(axis=0), high=common.max(axis=0), share=share
    )  # fmt: skip


def frame_size(laid: Laid, side: int, block: int) -> tuple[int, int]:
    """Width and height of the frame for the shared rectangle: the longer side as asked, both whole blocks."""
    wide, tall = laid.high - laid.low
    scale = side / max(wide, tall)
    across, down = (max(2, round(float(length * scale) / block)) * block for length in (wide, tall))
    return across, down


def seen(laid: Laid, size: tuple[int, int]) -> tuple[Tones, Tones, Tones]:
    """The inner and the outer in the frame, and 1 where both are, 0 elsewhere."""
    wide, tall = (laid.high - laid.low) / np.array(size)
    frame = np.array([[wide, 0, laid.low[0]], [0, tall, laid.low[1]], [0, 0, 1.0]])
    inner, inside = _view(laid.inner, frame, size)
    outer, inside_outer = _view(laid.outer, laid.matrix @ frame, size)
    return inner, outer, ((inside > 250) & (inside_outer > 250)).astype(np.float32)


def _view(grey: Grey, frame: Matrix, size: tuple[int, int]) -> tuple[Tones, Grey]:
    middle = carry(frame, [(size[0] / 2, size[1] / 2), (size[0] / 2 + 1, size[1] / 2), (size[0] / 2, size[1] / 2 + 1)])
    step = float(np.sqrt(abs(np.linalg.det(middle[1:] - middle[0]))))
    soft = cv2.GaussianBlur(grey, (0, 0), _SOFT * max(1.0, step)).astype(np.float32) - 128
    way = _CORNER_TO_MIDDLE @ frame @ _MIDDLE_TO_CORNER
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    view = cv2.warpPerspective(soft, way, size, flags=flags, borderMode=cv2.BORDER_REPLICATE)
    inside = cv2.warpPerspective(np.full_like(grey, 255), way, size, flags=flags)
    return np.asarray(view, np.float32), np.asarray(inside, np.uint8)
