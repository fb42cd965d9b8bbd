"""In which order the boxes of each row stand, so that few lines cross."""

from bisect import bisect, insort
from collections.abc import Sequence
from itertools import pairwise

from provenance.reports.layered_rows import Rows, broken, grown, ranks

_SWEEPS = 16
"""How often at most the order is looked at from above and from below, from each beginning."""
_PATIENCE = 4
"""After how many sweeps that brought nothing it is left at that."""
_MOST_BEGINNINGS = 40
_WORK = 2000
"""How many points are ordered from the beginning, all beginnings together, but for the first two."""
_PRIME = 2**31 - 1


def in_few_crossings(boxes: int, lines: Sequence[tuple[int, int]], *, most: int) -> tuple[Rows, int]:
    """Put boxes into rows and each row into an order; how many lines cross then comes with it.

    Args:
        boxes: how many there are.
        lines: the upper and the lower box of each, the upper one with the lower number.
        most: how many boxes may stand in one row.
    """
    rows, crossings = _ordered(grown(ranks(boxes, lines), lines))
    return broken(rows, boxes, most), crossings


def _ordered(rows: Rows) -> tuple[Rows, int]:
    """Order the rows of each group that hangs together by itself, and put the groups side by side."""
    order: list[list[int]] = [[] for _ in rows.order]
    crossings = 0
    near = _near(rows)
    for family in _families(rows, near):
        ordering = _Ordering(rows, family, near)
        ordering.settle()
        crossings += ordering.crossings
        for row, own in zip(order, ordering.order, strict=True):
            row.extend(own)
    return Rows(order=tuple(map(tuple, order)), row_of=rows.row_of, chains=rows.chains), crossings


_Near = tuple[list[list[int]], list[list[int]]]


def _near(rows: Rows) -> _Near:
    """What each point hangs on to in the row above, and in the row below."""
    above: list[list[int]] = [[] for _ in range(rows.points)]
    below: list[list[int]] = [[] for _ in range(rows.points)]
    for chain in rows.chains:
        for upper, lower in pairwise(chain):
            above[lower].append(upper)
            below[upper].append(lower)
    return above, below


def _families(rows: Rows, near: _Near) -> list[list[list[int]]]:
    """The rows of each group of points that hang together; they are put side by side, so that none crosses another."""
    above, below = near
    family = [-1] * rows.points
    families: list[list[list[int]]] = []
    for start in range(rows.points):
        waiting = [start] if family[start] < 0 else []
        if waiting:
            families.append([[] for _ in rows.order])
        while waiting:
            point = waiting.pop()
            if family[point] < 0:
                family[point] = len(families) - 1
                waiting += [*above[point], *below[point]]
    for row, points in enumerate(rows.order):
        for point in points:
            families[family[point]][row].append(point)
    return families


class _Ordering:
    """The search for an order of each row.

    Attributes:
        order: the best so far.
        crossings: how often lines cross in it.
    """

    def __init__(self, rows: Rows, family: list[list[int]], near: _Near) -> None:
        self._row_of = rows.row_of
        self._family = family
        self._above, self._below = near
        self._place = [0] * rows.points
        self.order: list[list[int]] = []
        self.crossings = -1

    def settle(self) -> None:
        """Sweep from several beginnings, and keep the best order that comes up; the fewer points, the more of them."""
        beginnings = max(2, min(_MOST_BEGINNINGS, _WORK // sum(map(len, self._family))))
        for beginning in range(beginnings):
            if self.crossings == 0:
                break
            order = self._walked(beginning)
            self._exchange(order, equals=False)
            self._keep(order)
            best, idle = -1, 0
            for sweep in range(_SWEEPS):
                self._sweep(order, down=(sweep + beginning) % 2 == 0, ties_turned=sweep % 4 >= 2)
                self._exchange(order, equals=sweep % 2 == 1)
                crossings = self._keep(order)
                idle = idle + 1 if 0 <= best <= crossings else 0
                best = min(best, crossings) if best >= 0 else crossings
                if best == 0 or idle > _PATIENCE:
                    break

    def _walked(self, beginning: int) -> list[list[int]]:
        """Begin with what hangs together side by side, as a walk into the depth meets it.

        Args:
            beginning: 0 walks down from the first row, 1 up from the last; the others take what they meet in an order
                that is mixed up, by another power of their numbers for each.
        """
        near = [[*below, *above] for below, above in zip(self._below, self._above, strict=True)]
        starts = [point for row in self._family for point in row]
        if beginning == 1:
            near = [each[::-1] for each in near]
            starts.reverse()
        if beginning > 1:
            mixed = {point: pow(point + 2, 1009 + beginning, _PRIME) for point in starts}
            starts.sort(key=mixed.__getitem__)
            for point in starts:
                near[point].sort(key=mixed.__getitem__)
        order: list[list[int]] = [[] for _ in self._family]
        seen: set[int] = set()
        for start in starts:
            stack = [start]
            while stack:
                point = stack.pop()
                if point not in seen:
                    seen.add(point)
                    order[self._row_of[point]].append(point)
                    stack += reversed(near[point])
        return order

    def _set_places(self, row: list[int]) -> None:
        for place, point in enumerate(row):
            self._place[point] = place

    def _sweep(self, order: list[list[int]], *, down: bool, ties_turned: bool) -> None:
        """Put each row by the mean place of what its points hang on to in the row before."""
        towards = self._above if down else self._below
        numbered = range(len(order)) if down else range(len(order) - 1, -1, -1)
        before = 1
        for number in numbered:
            row = order[number]
            self._set_places(row)
            scale = before / max(1, len(row))
            means = {
                point: self._mean(towards[point]) if towards[point] else scale * self._place[point] for point in row
            }
            if ties_turned:
                row.reverse()
            row.sort(key=means.__getitem__)
            self._set_places(row)
            before = max(1, len(row))

    def _mean(self, towards: list[int]) -> float:
        return sum([self._place[each] for each in towards]) / len(towards)

    def _exchange(self, order: list[list[int]], *, equals: bool) -> None:
        """Exchange neighbours as long as that saves crossings; once also where it saves none and costs none."""
        for row in order:
            self._set_places(row)
        least = 0 if equals else 1
        due = set(range(len(order)))
        while due:
            changed = {number for number in sorted(due) if self._exchanged(order[number], least)}
            due = {near for number in changed for near in (number - 1, number, number + 1) if 0 <= near < len(order)}
            least = 1

    def _exchanged(self, row: list[int], least: int) -> bool:
        """Go once through a row, and exchange where that saves so many crossings; say whether any were saved."""
        saved = False
        for place in range(len(row) - 1):
            left, right = row[place], row[place + 1]
            saving = self._saving(left, right)
            if saving >= least:
                row[place], row[place + 1] = right, left
                self._place[left], self._place[right] = place + 1, place
                saved = saved or saving > 0
        return saved

    def _saving(self, left: int, right: int) -> int:
        """How many crossings fewer there are when two neighbours change sides."""
        saving, place = 0, self._place
        for ends in (self._above, self._below):
            of_left, of_right = ends[left], ends[right]
            if len(of_left) == len(of_right) == 1:
                one, other = place[of_left[0]], place[of_right[0]]
                saving += (one > other) - (one < other)
            elif of_left and of_right:
                others = [place[each] for each in of_right]
                for one in [place[each] for each in of_left]:
                    for other in others:
                        saving += (one > other) - (one < other)
        return saving

    def _keep(self, order: list[list[int]]) -> int:
        """Keep an order that is better than the best so far; how often lines cross in it."""
        for row in order:
            self._set_places(row)
        crossings = sum(self._between(row) for row in order)
        if self.crossings < 0 or crossings < self.crossings:
            self.order, self.crossings = [list(row) for row in order], crossings
        return crossings

    def _between(self, row: list[int]) -> int:
        """How often the lines that lead down from a row cross."""
        ends: list[int] = []
        crossings = 0
        for point in row:
            below = [self._place[each] for each in self._below[point]]
            crossings += sum([len(ends) - bisect(ends, each) for each in below])
            for each in below:
                insort(ends, each)
        return crossings
