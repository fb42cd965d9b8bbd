"""Rectangles inside a rectangle, each as large as its share and as near to a square as rows allow.

The method of M. Bruls, K. Huizing and J. J. van Wijk, "Squarified Treemaps", Data Visualization 2000, pages 33-42: the
largest come first; a row is laid along the shorter side of what is left, and takes in the next one for as long as that
makes the longest rectangle of the row no longer.
"""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle: its upper left corner and its sides, in any one unit."""

    x: float
    y: float
    width: float
    height: float

    @property
    def size(self) -> float:
        """How much it covers."""
        return self.width * self.height

    @property
    def ratio(self) -> float:
        """The longer side by the shorter; 1 for a square."""
        return max(self.width, self.height) / min(self.width, self.height)


def squarified(shares: Sequence[float], within: Area) -> tuple[Area, ...]:
    """Part a rectangle among shares.

    Args:
        shares: each more than 0, in any order and on any scale.
        within: the rectangle; its sides are more than 0.

    Returns:
        An area for each share, in the order of the shares; together they are the whole rectangle.

    Raises:
        ValueError: a share or a side is not more than 0.
    """
    if min(within.width, within.height) <= 0 or any(share <= 0 for share in shares):
        raise ValueError("shares and sides have to be more than 0")
    order = sorted(range(len(shares)), key=lambda each: -shares[each])
    scale = within.size / sum(shares) if shares else 0.0
    sizes = [shares[each] * scale for each in order]
    areas: list[Area] = []
    left = within
    while len(areas) < len(sizes):
        row = _row(sizes, len(areas), min(left.width, left.height))
        laid, left = _laid(row, left, is_last=len(areas) + len(row) == len(sizes))
        areas += laid
    placed = dict(zip(order, areas, strict=True))
    return tuple(placed[each] for each in range(len(shares)))


def _row(sizes: Sequence[float], begin: int, side: float) -> Sequence[float]:
    """The sizes from `begin` on that stand in one row along a side: until one more would make it worse."""
    total, end = sizes[begin], begin + 1
    while end < len(sizes):
        longer = total + sizes[end]
        if _worst(sizes[begin], sizes[end], longer, side) > _worst(sizes[begin], sizes[end - 1], total, side):
            break
        total, end = longer, end + 1
    return sizes[begin:end]


def _worst(largest: float, smallest: float, total: float, side: float) -> float:
    """The worst ratio of sides in a row of that total along a side; only the largest and the smallest can have it."""
    return max(side**2 * largest / total**2, total**2 / (side**2 * smallest))


def _laid(row: Sequence[float], left: Area, *, is_last: bool) -> tuple[list[Area], Area]:
    """Lay a row along the shorter side, and give what is left then; the last row takes all that is left."""
    is_column = left.width >= left.height
    side, depth = (left.height, left.width) if is_column else (left.width, left.height)
    total = sum(row)
    thick = depth if is_last else total / side
    areas, begin = [], 0.0
    for number, size in enumerate(row):
        long = side - begin if number == len(row) - 1 else side * size / total
        at = (left.x, left.y + begin, thick, long) if is_column else (left.x + begin, left.y, long, thick)
        areas.append(Area(*at))
        begin += long
    if is_column:
        return areas, Area(left.x + thick, left.y, left.width - thick, left.height)
    return areas, Area(left.x, left.y + thick, left.width, left.height - thick)
