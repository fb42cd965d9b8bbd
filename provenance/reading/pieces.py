"""The pieces of ink of a picture that hang together, with the rectangle round each."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.int64]
Marks = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """Pieces of ink, a column for each fact; rows and columns of the picture count from 0.

    Attributes:
        left: first column of each piece.
        top: first row.
        right: column after the last.
        bottom: row after the last.
        area: points of ink.
    """

    left: Numbers
    top: Numbers
    right: Numbers
    bottom: Numbers
    area: Numbers

    def __len__(self) -> int:
        """How many pieces there are."""
        return len(self.area)

    @property
    def wide(self) -> Numbers:
        """The columns that each takes."""
        return self.right - self.left

    @property
    def high(self) -> Numbers:
        """The rows that each takes."""
        return self.bottom - self.top

    def chosen(self, which: "Marks | Numbers | slice") -> "Pieces":
        """Those that are marked, or named by their numbers, in that order."""
        return Pieces(
            left=self.left[which],
            top=self.top[which],
            right=self.right[which],
            bottom=self.bottom[which],
            area=self.area[which],
        )


def pieces_of(ink: Marks) -> Pieces:
    """Part the ink of a picture into pieces; points that touch by a side or a corner belong together.

    Done by runs along the rows: touching runs of neighbouring rows are joined.
    """
    rows, columns = ink.shape
    wide = columns + 2  # a free point on either side, so that no run goes on in the next row
    flat = np.zeros((rows, wide), dtype=np.int8)
    flat[:, 1:-1] = ink
    changes = np.flatnonzero(np.diff(flat.ravel())) + 1
    begins, ends = changes[::2], changes[1::2]
    piece = _joined(len(begins), *_touching(begins, ends, wide))
    count = int(piece.max(initial=-1)) + 1
    row = begins // wide
    left, top = np.full(count, columns), np.full(count, rows)
    right, bottom = np.zeros(count, dtype=np.int64), np.zeros(count, dtype=np.int64)
    np.minimum.at(left, piece, begins - row * wide - 1)
    np.minimum.at(top, piece, row)
    np.maximum.at(right, piece, ends - row * wide - 1)
    np.maximum.at(bottom, piece, row + 1)
    area = np.zeros(count, dtype=np.int64)
    np.add.at(area, piece, ends - begins)
    return Pieces(left=left, top=top, right=right, bottom=bottom, area=area)


def _touching(begins: Numbers, ends: Numbers, wide: int) -> tuple[Numbers, Numbers]:
    """Pair each run with those of the next row that it touches."""
    first = np.searchsorted(ends, begins + wide, "left")
    after = np.searchsorted(begins, ends + wide, "right")
    count = np.maximum(after - first, 0)
    upper = np.repeat(np.arange(len(begins)), count)
    within = np.arange(int(count.sum())) - np.repeat(np.cumsum(count) - count, count)
    return upper, np.repeat(first, count) + within


def _joined(count: int, one: Numbers, other: Numbers) -> Numbers:
    """Number what belongs together, from 0: pairs get the lower number of the two until none has another."""
    number = np.arange(count)
    while True:
        low = np.minimum(number[one], number[other])
        if np.array_equal(low, number[one]) and np.array_equal(low, number[other]):
            return np.asarray(np.unique(number, return_inverse=True)[1], dtype=np.int64)
        np.minimum.at(number, number[one], low)
        np.minimum.at(number, number[other], low)
        shorter = number[number]
        while not np.array_equal(shorter, number):
            number, shorter = shorter, shorter[shorter]
