"""The fingerprint of a picture: a small grey copy, a hash, and the points by which it is known again."""

from typing import Final

import cv2
import numpy as np
import numpy.typing as npt
from PIL import Image

from provenance.likeness.perceptual_hash import hash_of
from provenance.likeness.picture_content import has_content
from provenance.likeness.picture_points import find_points
from provenance.likeness.print_bytes import as_kept
from provenance.likeness.values import PicturePrint
from provenance.records.readings import Box

METHOD: Final = f"picture points 3, opencv {cv2.__version__}"
"""Of what the fingerprints are made: prints of another method are thrown away and made anew."""
SMALL_SIDE: Final = 512
"""The longer side of the small picture, in pixels; a smaller picture stays as it is."""
_LEAST_SIDE = 32
_NARROWEST = 8  # pixels of the small picture
_LEAST_POINTS = 12


def print_of(grey: Image.Image, part: Box) -> PicturePrint | None:
    """Take the fingerprint of a picture.

    Args:
        grey: the whole page, upright as delivered; colours are taken as grey.
        part: where the picture stands on it; the whole page is `Box(0, 0, 100, 100)`.

    Returns:
        None where there is nothing to tell it by: blank, even, with nothing on it but dust and folds, under 32 pixels
        a side, or so narrow that its small copy is under 8.
    """
    cv2.setNumThreads(1)  # each worker has a core of its own
    picture = _cut(grey, part)
    if min(picture.size) < _LEAST_SIDE or min(picture.size) * SMALL_SIDE < _NARROWEST * max(picture.size):
        return None
    small = _made_small(picture)
    if not has_content(small):
        return None
    points, marks = find_points(small)
    if len(points) < _LEAST_POINTS:
        return None
    return PicturePrint(part=part, small=as_kept(small), hash=hash_of(small), points=points, marks=marks)


def _cut(page: Image.Image, part: Box) -> Image.Image:
    left, upper = round(page.width * part.x / 100), round(page.height * part.y / 100)
    right, lower = round(page.width * (part.x + part.w) / 100), round(page.height * (part.y + part.h) / 100)
    return page.crop((left, upper, min(right, page.width), min(lower, page.height)))


def _made_small(picture: Image.Image) -> npt.NDArray[np.uint8]:
    scale = min(1.0, SMALL_SIDE / max(picture.size))
    size = round(picture.width * scale), round(picture.height * scale)
    return np.asarray(picture.convert("L").resize(size, Image.Resampling.BOX), dtype=np.uint8)
