"""How far to the right each point of a row stands: near to what it hangs on to, and clear of its neighbours."""

from collections.abc import Sequence
from itertools import pairwise

from provenance.reports.layered_rows import Rows

_ROUNDS = 10
_STILL = 0.5
"""How little everything may move in a round for it to be left at that."""
_STRAIGHT = 8.0
"""How much more a line that passes rows wants to run straight than a line between two boxes (common practice)."""
_BESIDE_LINE = 0.6
"""The gap beside a passing line, as a share of the gap between two boxes."""


def straightened(rows: Rows, widths: Sequence[float], *, gap: float) -> list[float]:
    """Give the middle of each point, so that the row that reaches farthest to the left begins at 0.

    Args:
        rows: the points in their order, which is kept.
        widths: of each point; 0 for where a line passes.
        gap: between two boxes; somewhat less beside a line.
    """
    apart = [
        [
            (widths[left] + widths[right]) / 2 + (gap if widths[left] and widths[right] else gap * _BESIDE_LINE)
            for left, right in pairwise(row)
        ]
        for row in rows.order
    ]
    drawn = _towards(rows, widths)
    weights = [sum([share for _, share in each]) or 1.0 for each in drawn]
    towards = [[(other, share / weight) for other, share in each] for each, weight in zip(drawn, weights, strict=True)]
    middles = [0.0] * rows.points
    for row, spaces in zip(rows.order, apart, strict=True):
        for point, middle in zip(row, _centred(spaces), strict=True):
            middles[point] = middle
    numbers = range(len(rows.order))
    for _ in range(_ROUNDS):
        moved = 0.0
        for number in (*numbers, *reversed(numbers)):
            row = rows.order[number]
            wanted = [
                sum([middles[other] * share for other, share in towards[point]]) if towards[point] else middles[point]
                for point in row
            ]
            kept = _kept_apart(wanted, [weights[point] for point in row], apart[number])
            for point, middle in zip(row, kept, strict=True):
                moved = max(moved, abs(middle - middles[point]))
                middles[point] = middle
        if moved < _STILL:
            break
    left = min((middle - width / 2 for middle, width in zip(middles, widths, strict=True)), default=0.0)
    return [middle - left for middle in middles]


def _towards(rows: Rows, widths: Sequence[float]) -> list[list[tuple[int, float]]]:
    """For each point what it hangs on to, and how strongly."""
    found: list[list[tuple[int, float]]] = [[] for _ in range(rows.points)]
    for chain in rows.chains:
        for upper, lower in pairwise(chain):
            passing = (not widths[upper]) + (not widths[lower])
            weight = _STRAIGHT if passing == 2 else 1.0 + passing
            found[upper].append((lower, weight))
            found[lower].append((upper, weight))
    return found


def _centred(spaces: Sequence[float]) -> list[float]:
    places = [0.0]
    for space in spaces:
        places.append(places[-1] + space)
    return [place - places[-1] / 2 for place in places]


def _kept_apart(wanted: Sequence[float], weights: Sequence[float], spaces: Sequence[float]) -> list[float]:
    """Give the places nearest to those wanted, by weighted squares, at which neighbours are so far apart at least.

    With the spaces taken off, that is isotonic regression; blocks that would pass one another are pooled (M. Ayer and
    others, *An empirical distribution function for sampling with incomplete information*, 1955).
    """
    shifts = [0.0]
    for space in spaces:
        shifts.append(shifts[-1] + space)
    blocks: list[tuple[float, float, int]] = []
    for place, weight, shift in zip(wanted, weights, shifts, strict=True):
        total, mass, count = (place - shift) * weight, weight, 1
        while blocks and blocks[-1][0] * mass >= total * blocks[-1][1]:
            before = blocks.pop()
            total, mass, count = total + before[0], mass + before[1], count + before[2]
        blocks.append((total, mass, count))
    level = [total / mass for total, mass, count in blocks for _ in range(count)]
    return [place + shift for place, shift in zip(level, shifts, strict=True)]
