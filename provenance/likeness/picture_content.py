"""Whether there is anything on a picture to tell it by.

A blank page is not blank to a scanner: there is grain, dust, a fold, the edge of the lid. Were it given a fingerprint,
blank pages by the thousand would be copies of one another.
"""

import cv2
import numpy as np
import numpy.typing as npt

_CELLS = 16
_LEAST_CELLS = 0.13  # of the cells within the margin
_STANDS_OUT = 4.0  # times the usual grain
_LEAST, _MOST = 4.0, 7.0  # grey levels that count as standing out, on the cleanest and on the busiest picture
_DUST = 0.04  # of the longer side: what is smaller on its own is dust
_NEIGHBOURHOOD = 8.0
_LONG = 0.25  # of the longer side: what runs straight for so long is a fold, a rule or the edge of a sheet
_THIN = 9  # pixels: what is broader is no line


def has_content(small: npt.NDArray[np.uint8]) -> bool:
    """Whether enough of a small picture, its outermost sixteenth left out, bears something larger than dust.

    Folds and ruled lines do not count: they tell one sheet from another no better than its size does.
    """
    return bool(_bearing(small)[1:-1, 1:-1].mean() >= _LEAST_CELLS)


def _bearing(small: npt.NDArray[np.uint8]) -> npt.NDArray[np.float64]:
    """Which of 16 by 16 cells bear something, 1 or 0."""
    marks = _larger_than_dust(_standing_out(small)).astype(np.float32)
    height, width = (max(_CELLS, side // _CELLS * _CELLS) for side in marks.shape)
    shares = cv2.resize(cv2.resize(marks, (width, height)), (_CELLS, _CELLS), interpolation=cv2.INTER_AREA)
    return np.asarray(shares > 0.01, np.float64)


def _standing_out(small: npt.NDArray[np.uint8]) -> npt.NDArray[np.uint8]:
    soft = cv2.GaussianBlur(small.astype(np.float32), (0, 0), 0.8)
    apart = np.abs(soft - cv2.GaussianBlur(soft, (0, 0), _NEIGHBOURHOOD))
    usual = 1.4826 * float(np.median(apart))  # the median deviation as a standard deviation, for even grain
    return np.asarray(apart > min(max(_STANDS_OUT * usual, _LEAST), _MOST), np.uint8)


def _larger_than_dust(marks: npt.NDArray[np.uint8]) -> npt.NDArray[np.bool_]:
    joined = np.asarray(cv2.morphologyEx(marks, cv2.MORPH_CLOSE, np.ones((5, 5), np.uint8)), np.uint8)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(joined)
    sides = np.maximum(stats[:, cv2.CC_STAT_WIDTH], stats[:, cv2.CC_STAT_HEIGHT])
    large = sides >= _DUST * max(marks.shape)
    large[0] = False  # the ground
    return np.asarray(large[labels] & (marks > 0) & ~_straight(marks, joined))


def _straight(marks: npt.NDArray[np.uint8], joined: npt.NDArray[np.uint8]) -> npt.NDArray[np.bool_]:
    """Where thin marks run straight along or down the sheet, give or take a degree or two."""
    long = max(3, round(_LONG * max(marks.shape)))
    found = np.zeros(marks.shape, np.bool_)
    for turn in (0, 1):
        kernels = [np.ones(shape[::-1] if turn else shape, np.uint8) for shape in ((1, 3), (3, 1), (1, long))]
        unbroken = cv2.dilate(cv2.morphologyEx(marks, cv2.MORPH_CLOSE, kernels[0]), kernels[1])
        found |= np.asarray(cv2.morphologyEx(unbroken, cv2.MORPH_OPEN, kernels[2]), np.bool_)
    broad = cv2.morphologyEx(joined, cv2.MORPH_OPEN, np.ones((_THIN, _THIN), np.uint8))
    return np.asarray((cv2.dilate(found.astype(np.uint8), np.ones((5, 5), np.uint8)) > 0) & (broad == 0))
