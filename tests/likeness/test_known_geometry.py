"""What a proof says of the geometry, held against the homography by which the second picture was made."""

from functools import cache

import cv2
import numpy as np
import numpy.typing as npt
import pytest
from likeness.base_pictures import bases
from likeness.transformations import TRANSFORMATIONS, Transformed

from provenance.likeness.prints import print_of
from provenance.likeness.proof import Query, prove
from provenance.likeness.values import Corners, Likeness, PictureMatch
from provenance.records.readings import Box

NAMES = ("chelsea", "scene 9, view 1", "drawing 12", "engraving 4")
WHOLE = Box(0, 0, 100, 100)
ALONE = tuple(name for name in TRANSFORMATIONS if name not in {"inset on a page", "book print"})
Spots = npt.NDArray[np.float32]


@cache
def _proved(base: str, transformation: str) -> tuple[tuple[int, int], Transformed, PictureMatch]:
    """A picture and what was made of it, compared; the size of the picture first."""
    picture = next(one for one in bases() if one.name == base).picture()
    made = TRANSFORMATIONS[transformation](picture, 11)
    first, second = print_of(picture, WHOLE), print_of(made.picture, WHOLE)
    assert first is not None
    assert second is not None
    return picture.size, made, prove(Query(first), second)


def _in_pixels(corners: Corners, size: tuple[int, int]) -> Spots:
    return np.asarray(np.array(corners) / 100 * np.array(size), dtype=np.float32)


def _rectangle(size: tuple[int, int]) -> Spots:
    return np.array([(0, 0), (size[0], 0), size, (0, size[1])], dtype=np.float32)


def _taken(spots: Spots, way: npt.NDArray[np.float64]) -> Spots:
    return np.asarray(cv2.perspectiveTransform(spots[None], way)[0], dtype=np.float32)


def _common(one: Spots, other: Spots) -> tuple[float, Spots]:
    area, shape = cv2.intersectConvexConvex(cv2.convexHull(one), cv2.convexHull(other))
    return float(area), np.asarray(shape, dtype=np.float32).reshape(-1, 2)


def _alike(one: Spots, other: Spots) -> float:
    """The area in common as a share of the area that either covers."""
    common = _common(one, other)[0]
    return common / (cv2.contourArea(cv2.convexHull(one)) + cv2.contourArea(cv2.convexHull(other)) - common)


@pytest.mark.parametrize("transformation", ALONE)
def test_the_matched_area_is_where_the_picture_lies_on_the_other(transformation: str) -> None:
    size, made, match = _proved(NAMES[0], transformation)

    there = _common(_taken(_rectangle(size), made.homography), _rectangle(made.picture.size))[1]

    assert match.likeness is not Likeness.DISTINCT
    assert match.form is made.form
    assert _alike(_in_pixels(match.other, made.picture.size), there) > 0.9


@pytest.mark.parametrize("base", NAMES[1:])
@pytest.mark.parametrize("transformation", ["crop keeping 75 %", "phone photograph"])
def test_the_two_matched_areas_are_one_area_by_the_known_geometry(base: str, transformation: str) -> None:
    size, made, match = _proved(base, transformation)

    one, other = _in_pixels(match.one, size), _in_pixels(match.other, made.picture.size)

    assert _alike(_taken(one, made.homography), other) > 0.9


@pytest.mark.parametrize("transformation", ["rescan at half", "quarter turn", "mirrored negative", "phone photograph"])
def test_the_corners_of_both_areas_stand_in_one_order(transformation: str) -> None:
    size, made, match = _proved(NAMES[0], transformation)

    foretold = _taken(_in_pixels(match.one, size), made.homography)
    away = np.linalg.norm(foretold - _in_pixels(match.other, made.picture.size), axis=1)

    assert float(away.max()) < 0.04 * float(np.hypot(*made.picture.size))


def test_a_crop_covers_the_smaller_picture_whole() -> None:
    _, _, match = _proved(NAMES[0], "crop keeping 50 %")

    assert match.overlap > 0.9
    assert match.inliers >= 15
    assert match.correlation > 0.8


def test_more_points_agree_with_a_good_rescan_than_with_a_phone_photograph() -> None:
    good, poor = (_proved(NAMES[1], name)[2] for name in ("JPEG at quality 30", "phone photograph"))

    assert good.inliers > poor.inliers > 0
    assert good.score > poor.score
