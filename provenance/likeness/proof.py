"""The proof that two pictures are one: points that agree, the geometry between them, and light and dark compared."""

from collections.abc import Mapping
from functools import cached_property

import cv2
import numpy as np
import numpy.typing as npt

from provenance.likeness.picture_forms import Marks, Points, small_as, take_as
from provenance.likeness.values import Corners, Form, Likeness, PictureMatch, PicturePrint
from provenance.records.readings import Box

_LEAST_PAIRS = 8


class Query:
    """A picture that is compared with others: its points and marks in every form, worked out once."""

    def __init__(self, picture: PicturePrint) -> None:
        """Remember the picture."""
        self.picture = picture

    @cached_property
    def forms(self) -> Mapping[Form, tuple[Points, Marks]]:
        """The points and marks of the picture as it is, mirrored, negative, and both."""
        return {form: take_as(self.picture, form) for form in Form}


def prove(query: Query, other: PicturePrint) -> PictureMatch:
    """Compare two pictures and say whether they are one."""
    best = _nothing()
    for form, (points, marks) in query.forms.items():
        pairs = _pair(marks, other.marks)
        if len(pairs) < _LEAST_PAIRS:
            continue
        found = _judge(query, other, form, (points[pairs[:, 0], :2], other.points[pairs[:, 1], :2]))
        best = max(best, found, key=lambda match: match.score)
    return best


def _nothing() -> PictureMatch:
    return PictureMatch(
        likeness=Likeness.DISTINCT, score=0.0, inliers=0, overlap=0.0, correlation=0.0, form=Form.PLAIN, one=(),
        other=(), why="no points agree",
    )  # fmt: skip


def _pair(one: Marks, other: Marks) -> npt.NDArray[np.intp]:
    found = cv2.BFMatcher(cv2.NORM_HAMMING, crossCheck=False).knnMatch(one, other, k=2)
    return np.array(
        [(m[0].queryIdx, m[0].trainIdx) for m in found if len(m) == 2 and m[0].distance < 0.85 * m[1].distance], np.intp
    ).reshape(-1, 2)


def _judge(query: Query, other: PicturePrint, form: Form, pairs: tuple[Points, Points]) -> PictureMatch:
    matrix, mask = cv2.findHomography(pairs[0], pairs[1], cv2.RANSAC, 4.0)
    if np.shape(matrix) != (3, 3) or not 0.02 < abs(np.linalg.det(matrix[:2, :2])) < 50:
        return _nothing()
    inliers = int(mask.sum())
    small = small_as(query.picture, form)
    height, width = other.small.shape
    warped = cv2.warpPerspective(small, matrix, (width, height), flags=cv2.INTER_AREA)
    inside = cv2.warpPerspective(np.full_like(small, 255), matrix, (width, height)) > 250
    if inside.sum() < 400 or inliers < _LEAST_PAIRS:
        return _nothing()
    correlation = float(np.corrcoef(warped[inside], other.small[inside])[0, 1])
    likeness = Likeness.DISTINCT
    if inliers >= 12:
        likeness = Likeness.COPY if inliers >= 20 and correlation > 0.5 else Likeness.POSSIBLE
    corners = np.array([(0, 0), (small.shape[1], 0), small.shape[::-1], (0, small.shape[0])], np.float32)
    there = cv2.perspectiveTransform(corners[None], matrix)[0]
    if form in {Form.MIRRORED, Form.MIRRORED_NEGATIVE}:
        corners[:, 0] = small.shape[1] - corners[:, 0]
    return PictureMatch(
        likeness=likeness, score=min(1.0, inliers / 100) * max(0.0, correlation), inliers=inliers,
        overlap=float(inside.mean()), correlation=correlation, form=form,
        one=_on_page(corners, query.picture), other=_on_page(there, other), why=f"{inliers} points agree",
    )  # fmt: skip


def _on_page(corners: npt.NDArray[np.float32], picture: PicturePrint) -> Corners:
    height, width = picture.small.shape
    part: Box = picture.part
    return tuple(
        (
            min(100.0, max(0.0, part.x + part.w * float(x) / width)),
            min(100.0, max(0.0, part.y + part.h * float(y) / height)),
        )
        for x, y in corners
    )
