"""The two ways that others take to find pictures again, in the shape in which they are usually described.

A perceptual hash of 64 bits (ImageHash's DCT hash), in the eight orientations and in the negative of each, and the
points of ORB (E. Rublee, V. Rabaud, K. Konolige, G. Bradski, ORB: an efficient alternative to SIFT or SURF, ICCV 2011)
with a homography by random sampling, over the whole picture.
"""

from functools import lru_cache

import cv2
import imagehash
import numpy as np
import numpy.typing as npt
from PIL import Image, ImageOps

MOST_BITS = 8
LEAST_INLIERS = 15
_SIDE, _POINTS, _RATIO, _NEAR = 900, 1000, 0.8, 5.0


def hash_is_near(one: Image.Image, other: Image.Image) -> bool:
    """Whether the hashes are at most eight bits apart, as they are or turned, mirrored, or as a negative."""
    held = imagehash.phash(other)
    ways = [one, *(one.transpose(way) for way in Image.Transpose)]
    return any(imagehash.phash(form) - held <= MOST_BITS for way in ways for form in (way, ImageOps.invert(way)))


def orb_inliers(one: Image.Image, other: Image.Image) -> int:
    """How many points agree on one plane's geometry."""
    points, marks = _points(one)
    other_points, other_marks = _points(other)
    if min(len(points), len(other_points)) < 8:
        return 0
    found = cv2.BFMatcher(cv2.NORM_HAMMING).knnMatch(marks, other_marks, k=2)
    kept = [pair[0] for pair in found if len(pair) == 2 and pair[0].distance < _RATIO * pair[1].distance]
    if len(kept) < 8:
        return 0
    start = np.array([points[match.queryIdx] for match in kept], dtype=np.float32)
    end = np.array([other_points[match.trainIdx] for match in kept], dtype=np.float32)
    way, agree = cv2.findHomography(start, end, cv2.RANSAC, _NEAR)
    return int(agree.sum()) if np.shape(way) == (3, 3) else 0


@lru_cache(maxsize=8)
def _points_of(data: bytes, size: tuple[int, int]) -> tuple[npt.NDArray[np.float32], npt.NDArray[np.uint8]]:
    grey = np.frombuffer(data, dtype=np.uint8).reshape(size[1], size[0])
    found, marks = cv2.ORB.create(nfeatures=_POINTS).detectAndCompute(grey, None)
    if not found:
        return np.zeros((0, 2), np.float32), np.zeros((0, 32), np.uint8)
    return np.array([point.pt for point in found], dtype=np.float32), np.asarray(marks, dtype=np.uint8)


def _points(picture: Image.Image) -> tuple[npt.NDArray[np.float32], npt.NDArray[np.uint8]]:
    small = picture.copy()
    small.thumbnail((_SIDE, _SIDE))
    return _points_of(small.tobytes(), small.size)
