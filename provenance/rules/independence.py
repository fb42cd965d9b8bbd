"""Independent lines: how many of the items go back to nothing in common, pair by pair."""

from collections import defaultdict
from collections.abc import Sequence

from provenance.rules.independent_sets import HeaviestSets, members


def conflicts_of(descents: Sequence[frozenset[str]]) -> tuple[int, ...]:
    """Give for each item, numbered from 0, the set of those that share something with it, itself included, as bits."""
    by_name: dict[str, int] = defaultdict(int)
    for number, descent in enumerate(descents):
        for name in descent:
            by_name[name] |= 1 << number
    closed = [1 << number for number in range(len(descents))]
    for together in by_name.values():
        if together & (together - 1):
            for number in members(together):
                closed[number] |= together
    return tuple(closed)


def count_lines(closed: Sequence[int]) -> int:
    """Count the independent lines: the largest number of items of which no two conflict, exactly.

    Args:
        closed: for each item the set of those that conflict with it, itself included.
    """
    everything = (1 << len(closed)) - 1
    if all(conflicts == everything for conflicts in closed):
        return min(len(closed), 1)
    weight, _ = HeaviestSets(closed, [1.0] * len(closed)).heaviest(_without_needless(closed))
    return round(weight)


def _without_needless(closed: Sequence[int]) -> int:
    """Leave out items in whose place another can always stand, one that conflicts with nothing more than they do."""
    left = (1 << len(closed)) - 1
    first: dict[int, int] = {}
    for number, conflicts in enumerate(closed):
        if first.setdefault(conflicts, number) != number:
            left ^= 1 << number
    for number in members(left):
        for other in members(closed[number] & left & ~(1 << number)):
            if closed[other] & left & ~closed[number] == 0:
                left ^= 1 << number
                break
    return left
