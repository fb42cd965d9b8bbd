"""Rectangles in whole points of a small picture of a page."""

from collections.abc import Iterable
from typing import NamedTuple

from provenance.records.readings import Box


class Rectangle(NamedTuple):
    """A rectangle in points: `right` and `bottom` are the first column and row that are outside."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def wide(self) -> int:
        """How many columns."""
        return self.right - self.left

    @property
    def high(self) -> int:
        """How many rows."""
        return self.bottom - self.top

    @property
    def area(self) -> int:
        """How many points; 0 where there are none."""
        return max(0, self.wide) * max(0, self.high)

    @property
    def inside(self) -> tuple[slice, slice]:
        """Its rows and columns, to take them out of an array."""
        return slice(self.top, self.bottom), slice(self.left, self.right)

    def common(self, other: "Rectangle") -> int:
        """How many points it has in common with another."""
        return Rectangle(
            max(self.left, other.left),
            max(self.top, other.top),
            min(self.right, other.right),
            min(self.bottom, other.bottom),
        ).area

    def together(self, other: "Rectangle") -> "Rectangle":
        """The smallest rectangle that holds both."""
        return Rectangle(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )

    def as_box(self, shape: tuple[int, ...]) -> Box:
        """Tell it in percent of a picture of so many rows and columns."""
        down, across = 100 / shape[0], 100 / shape[1]
        return Box(self.left * across, self.top * down, self.wide * across, self.high * down)


def rectangle_of(box: Box, shape: tuple[int, ...], more: float = 0.0) -> Rectangle:
    """Give the points of a picture that a box touches, within the picture.

    Args:
        box: in percent of the picture.
        shape: its rows and columns.
        more: points by which the box is grown on every side.
    """
    rows, columns = shape[:2]
    left, right = box.x * columns / 100 - more, (box.x + box.w) * columns / 100 + more
    top, bottom = box.y * rows / 100 - more, (box.y + box.h) * rows / 100 + more
    return Rectangle(
        max(0, int(left)), max(0, int(top)), min(columns, -int(-right // 1)), min(rows, -int(-bottom // 1))
    )


def join_near(rectangles: Iterable[Rectangle], gap: float) -> list[Rectangle]:
    """Join rectangles that overlap, or of which less than a gap lies between, until none is left to be joined."""
    joined: list[Rectangle] = []
    for each in rectangles:
        whole = each
        while near := [other for other in joined if _are_near(whole, other, gap)]:
            for other in near:
                joined.remove(other)
                whole = whole.together(other)
        joined.append(whole)
    return joined


def _are_near(one: Rectangle, other: Rectangle, gap: float) -> bool:
    across = max(one.left, other.left) - min(one.right, other.right)
    down = max(one.top, other.top) - min(one.bottom, other.bottom)
    return across < gap and down < gap
