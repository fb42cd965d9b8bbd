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
    if all(conflicts & (conflicts - 1) == 0 for conflicts in closed):
        return len(closed)
    weight, _ = HeaviestSets(closed, [1.0] * len(closed)).heaviest(everything)
    return round(weight)
