"""Figures that may well be one and the same, gathered."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm


@dataclass(frozen=True, slots=True)
class Uncertain:
    """A figure and the square of its standard uncertainty, both exact and in one unit."""

    value: Fraction
    variance: Fraction


@dataclass(frozen=True, slots=True)
class _Spot:
    """A figure, and the square of twice its standard uncertainty, in whole steps that all figures share."""

    place: int
    reach: int

    @property
    def height(self) -> int:
        return self.place * self.place - self.reach

    def short_of(self, other: "_Spot") -> int:
        """Give by how much the square of the distance is beyond this one's own reach."""
        distance = self.place - other.place
        return distance * distance - self.reach


def gather(figures: Sequence[Uncertain]) -> list[list[int]]:
    """Gather figures of which each is within reach of another: |x-y| <= 2 sqrt(ux^2 + uy^2), from one to the next.

    Exact, in about n log n steps. Whatever lies between two figures that are within reach of one another is within
    reach of one of them: else it would be more than 2 ux from the one and 2 uy from the other, which together is more
    than their distance. So every cluster is a run of the figures in order of size, and what is looked for is where
    runs end.

    Args:
        figures: in any order.

    Returns:
        The numbers of the figures of each cluster, from the least figure up; equal figures in the order given.
    """
    order = sorted(range(len(figures)), key=lambda number: figures[number].value)
    spots = _spots([figures[number] for number in order])
    joined = [False] * len(spots)
    _join(spots, 0, joined)
    clusters: list[list[int]] = []
    for number, is_joined in zip(order, joined, strict=True):
        if not is_joined:
            clusters.append([])
        clusters[-1].append(number)
    return clusters


def _spots(figures: Sequence[Uncertain]) -> list[_Spot]:
    """Bring all to whole numbers, which are quick to compare and lose nothing."""
    steps = lcm(*(part.denominator for figure in figures for part in (figure.value, figure.variance)))
    return [_Spot(int(figure.value * steps), int(figure.variance * 4 * steps * steps)) for figure in figures]


def _join(spots: Sequence[_Spot], start: int, joined: list[bool]) -> None:
    """Mark each spot that is in one run with the spot before it; the first of them stands in `joined` at `start`."""
    middle = len(spots) // 2
    if not middle:
        return
    low, high = spots[:middle], spots[middle:]
    _join(low, start, joined)
    _join(high, start + middle, joined)
    first = _first_within_reach(low, high)
    if first is not None:
        after = len(spots) - (_first_within_reach(_mirrored(high), _mirrored(low)) or 0)
        joined[start + first + 1 : start + after] = [True] * (after - first - 1)


def _first_within_reach(spots: Sequence[_Spot], others: Sequence[_Spot]) -> int | None:
    """Give the first spot that is within reach of any of the others; None where none is. Both in order of place."""
    front = _front(others)
    at = 0
    for number, spot in enumerate(spots):
        while at + 1 < len(front) and front[at + 1].short_of(spot) <= front[at].short_of(spot):
            at += 1
        if front[at].short_of(spot) <= spot.reach:
            return number
    return None


def _front(spots: Sequence[_Spot]) -> list[_Spot]:
    """Leave those that reach farther than all others at some place: the lower convex hull of x^2 - reach over x.

    What a spot at x is short of one at q is x^2 - reach - 2xq + q^2: straight lines in q, of which the lowest counts.
    """
    front: list[_Spot] = []
    for spot in spots:
        while front and (_is_covered(front[-1], spot) or (len(front) > 1 and _is_idle(front[-2], front[-1], spot))):
            front.pop()
        front.append(spot)
    return front


def _is_covered(spot: _Spot, after: _Spot) -> bool:
    return spot.place == after.place and spot.reach <= after.reach


def _is_idle(before: _Spot, spot: _Spot, after: _Spot) -> bool:
    """Say whether the middle one is on or above the line between the two others."""
    rise = (spot.height - before.height) * (after.place - before.place)
    return rise >= (after.height - before.height) * (spot.place - before.place)


def _mirrored(spots: Sequence[_Spot]) -> list[_Spot]:
    return [_Spot(-spot.place, spot.reach) for spot in reversed(spots)]
