"""Which box stands in which row.

Points are numbered from 0: first the boxes as they are given, then the places where a line passes a row.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Rows of points.

    Attributes:
        order: the points of each row from left to right, the upper row first.
        row_of: the row of each point, from 0.
        chains: the points of each line, from the upper box over the rows that it passes to the lower one.
    """

    order: tuple[tuple[int, ...], ...]
    row_of: tuple[int, ...]
    chains: tuple[tuple[int, ...], ...]

    @property
    def points(self) -> int:
        """How many points there are."""
        return len(self.row_of)


def ranks(boxes: int, lines: Sequence[tuple[int, int]]) -> list[int]:
    """Give the row of each box: by the longest way to it, then as near as may be to what it hangs on to.

    Args:
        boxes: how many there are.
        lines: the upper and the lower box of each, the upper one with the lower number.
    """
    above: list[list[int]] = [[] for _ in range(boxes)]
    below: list[list[int]] = [[] for _ in range(boxes)]
    for upper, lower in lines:
        above[lower].append(upper)
        below[upper].append(lower)
    rank = [0] * boxes
    for box in range(boxes):
        rank[box] = max((rank[each] + 1 for each in above[box]), default=0)
    shifted = True
    while shifted:
        # Down first: what has nothing above it then stands just above what was made from it.
        down = [_shifted(rank, box, below, above, 1) for box in range(boxes)]
        up = [_shifted(rank, box, above, below, -1) for box in range(boxes)]
        shifted = any(down) or any(up)
    least = min(rank, default=0)
    return [each - least for each in rank]


def _shifted(rank: list[int], box: int, onward: list[list[int]], backward: list[list[int]], by: int) -> bool:
    """Shift a box by a row, with what it pushes along, where that makes the lines shorter altogether; say whether."""
    pushed, waiting, saved = {box}, [box], 0
    while waiting:
        point = waiting.pop()
        for each in onward[point]:
            if each not in pushed and rank[each] - rank[point] == by:
                pushed.add(each)
                waiting.append(each)
    for point in pushed:
        saved += sum(each not in pushed for each in onward[point])
        saved -= sum(each not in pushed for each in backward[point])
    if saved <= 0:
        return False
    for point in pushed:
        rank[point] += by
    return True


def grown(rank: list[int], lines: Sequence[tuple[int, int]]) -> Rows:
    """Add a point for each row that a line passes; each row is in the order of its points' numbers."""
    row_of = list(rank)
    chains = []
    for upper, lower in lines:
        passed = range(rank[upper] + 1, rank[lower])
        chains.append((upper, *range(len(row_of), len(row_of) + len(passed)), lower))
        row_of += passed
    order: list[list[int]] = [[] for _ in range(max(row_of, default=-1) + 1)]
    for point, row in enumerate(row_of):
        order[row].append(point)
    return Rows(order=tuple(map(tuple, order)), row_of=tuple(row_of), chains=tuple(chains))


def broken(rows: Rows, boxes: int, most: int) -> Rows:
    """Break rows of more than so many boxes into several, each box between the lines that pass it; nothing new crosses.

    The boxes of a full row take turns: the first in the first of its rows, the second in the second, and so on. A line
    that leads to a box of a later one, or from a box of an earlier one, passes where the box would have stood.
    """
    parts = [max(1, -(-sum(point < boxes for point in row) // most)) for row in rows.order]
    first = [sum(parts[:number]) for number in range(len(parts) + 1)]
    place = {point: number for row in rows.order for number, point in enumerate(row)}
    row_of = [first[row] for row in rows.row_of]
    for number, row in enumerate(rows.order):
        for turn, box in enumerate(point for point in row if point < boxes):
            row_of[box] += turn % parts[number]
    keys = [(place[point], 0) for point in range(rows.points)]
    chains = []
    for chain in rows.chains:
        longer = [chain[0]]
        for upper, lower in pairwise(chain):
            border = first[rows.row_of[lower]]
            for passed in range(row_of[upper] + 1, row_of[lower]):
                longer.append(len(row_of))
                row_of.append(passed)
                keys.append((place[upper], place[lower]) if passed < border else (place[lower], place[upper]))
            longer.append(lower)
        chains.append(tuple(longer))
    order: list[list[int]] = [[] for _ in range(first[-1])]
    for point in sorted(range(len(row_of)), key=keys.__getitem__):
        order[row_of[point]].append(point)
    return Rows(order=tuple(map(tuple, order)), row_of=tuple(row_of), chains=tuple(chains))
