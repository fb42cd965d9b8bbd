"""The points and marks of a picture as its mirror image, its negative, and its mirrored negative would have them.

They follow from the picture's own without a second look at it. A mark tells the directions of light and dark in four
by four fields about its point, seen along the point's own direction. In a mirror the fields change places across that
direction and every turn to the left becomes one to the right. In a negative, the point's direction and all others turn
half round: seen along it, the fields stand in reverse order and the directions are as they were.
"""

import numpy as np
import numpy.typing as npt

from provenance.likeness.values import Form, PicturePrint

Points = npt.NDArray[np.float32]
Marks = npt.NDArray[np.uint8]

NUMBERS = 128
_FIELDS = np.arange(NUMBERS).reshape(4, 4, 8)
_MIRRORED = _FIELDS[::-1][:, :, -np.arange(8) % 8].ravel()
_NEGATIVE = _FIELDS[::-1, ::-1].ravel()
_ORDERS = {
    Form.PLAIN: np.arange(NUMBERS),
    Form.MIRRORED: _MIRRORED,
    Form.NEGATIVE: _NEGATIVE,
    Form.MIRRORED_NEGATIVE: _MIRRORED[_NEGATIVE],
}


def take_as(picture: PicturePrint, form: Form) -> tuple[Points, Marks]:
    """The points and marks that the picture would have in a form."""
    if form is Form.PLAIN:
        return picture.points, picture.marks
    points = picture.points.copy()
    if form in {Form.MIRRORED, Form.MIRRORED_NEGATIVE}:
        points[:, 0] = picture.small.shape[1] - points[:, 0]
        points[:, 3] = (180 - points[:, 3]) % 360
    if form in {Form.NEGATIVE, Form.MIRRORED_NEGATIVE}:
        points[:, 3] = (points[:, 3] + 180) % 360
    bits = np.unpackbits(picture.marks, axis=1).reshape(len(points), -1, NUMBERS)
    return points, np.packbits(bits[:, :, _ORDERS[form]].reshape(len(points), -1), axis=1)


def small_as(picture: PicturePrint, form: Form) -> npt.NDArray[np.uint8]:
    """The small picture in a form."""
    small = picture.small
    if form in {Form.MIRRORED, Form.MIRRORED_NEGATIVE}:
        small = small[:, ::-1]
    if form in {Form.NEGATIVE, Form.MIRRORED_NEGATIVE}:
        small = 255 - small
    return np.ascontiguousarray(small)
