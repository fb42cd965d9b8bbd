"""The fingerprint of a picture: a small grey copy, a hash, and the points by which it is known again."""

from typing import Final

import cv2
import numpy as np
import numpy.typing as npt
from PIL import Image

from provenance.likeness.perceptual_hash import hash_of
from provenance.likeness.picture_points import find_points
from provenance.likeness.values import PicturePrint
from provenance.records.readings import Box

METHOD: Final = f"picture points 1, opencv {cv2.__version__}"
SMALL_SIDE = 512
_LEAST_SIDE = 32
_LEAST_POINTS = 8


def print_of(grey: Image.Image, part: Box) -> PicturePrint | None:
    """Take the fingerprint of a picture.

    Args:
        grey: the whole page in grey, upright as delivered.
        part: where the picture stands on it; the whole page is `Box(0, 0, 100, 100)`.

    Returns:
        None where there is nothing to tell it by: blank, even, or under 32 pixels a side.
    """
    cv2.setNumThreads(1)
    picture = _cut(grey, part)
    if min(picture.size) < _LEAST_SIDE:
        return None
    small = _made_small(picture)
    points, marks = find_points(small)
    if len(points) < _LEAST_POINTS:
        return None
    return PicturePrint(part=part, small=small, hash=hash_of(small), points=points, marks=marks)


def _cut(page: Image.Image, part: Box) -> Image.Image:
    left, upper = round(page.width * part.x / 100), round(page.height * part.y / 100)
    right, lower = round(page.width * (part.x + part.w) / 100), round(page.height * (part.y + part.h) / 100)
    return page.crop((left, upper, min(right, page.width), min(lower, page.height)))


def _made_small(grey: Image.Image) -> npt.NDArray[np.uint8]:
    scale = min(1.0, SMALL_SIDE / max(grey.size))
    size = max(8, round(grey.width * scale)), max(8, round(grey.height * scale))
    return np.asarray(grey.convert("L").resize(size, Image.Resampling.BOX), dtype=np.uint8)
