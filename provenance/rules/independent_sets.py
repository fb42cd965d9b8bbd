"""The heaviest set of items of which no two conflict, exactly.

Sets of items are whole numbers: bit i stands for item i. `closed[i]` is the set of the items that conflict with item i,
with i itself. The search branches on the item with most conflicts, splits what falls apart, and stops where a greedy
set is as heavy as the bound from a cover by cliques (of which each can give one item at most).
"""

from collections.abc import Iterator, Sequence

_NOISE = 1e-12


def members(items: int) -> Iterator[int]:
    """List the numbers of the items in a set, the smallest first."""
    while items:
        lowest = items & -items
        yield lowest.bit_length() - 1
        items ^= lowest


def connected_parts(items: int, closed: Sequence[int]) -> list[int]:
    """Split a set of items into the parts that have no conflict with one another, by their smallest number."""
    parts = []
    while items:
        part = frontier = items & -items
        while frontier:
            lowest = frontier & -frontier
            fresh = closed[lowest.bit_length() - 1] & items & ~part
            part |= fresh
            frontier = (frontier ^ lowest) | fresh
        parts.append(part)
        items &= ~part
    return parts


def pivot(items: int, closed: Sequence[int]) -> int:
    """Choose the item to branch on: one with most conflicts, of several the middle one, so that chains are halved."""
    most, found = -1, [0]
    for number in members(items):
        degree = (closed[number] & items).bit_count()
        if degree > most:
            most, found = degree, [number]
        elif degree == most:
            found.append(number)
    return found[len(found) // 2]


class HeaviestSets:
    """Finds the heaviest independent set within any set of items; remembers what it has found.

    Args:
        closed: the conflicts.
        weights: of each item; not below 0.
    """

    def __init__(self, closed: Sequence[int], weights: Sequence[float]) -> None:
        """Make ready to search."""
        self._closed = closed
        self._weights = weights
        numbers = range(len(closed))
        self._by_weight = sorted(numbers, key=lambda number: (-weights[number], number))
        self._by_worth = sorted(numbers, key=lambda number: (-weights[number] / closed[number].bit_count(), number))
        self._found: dict[int, tuple[float, int]] = {0: (0.0, 0)}

    def heaviest(self, items: int) -> tuple[float, int]:
        """Give the weight of a heaviest independent set within `items`, and the set."""
        if items not in self._found:
            parts = connected_parts(items, self._closed)
            if len(parts) > 1:
                found = [self.heaviest(part) for part in parts]
                self._found[items] = (sum(weight for weight, _ in found), sum(chosen for _, chosen in found))
            else:
                self._found[items] = self._heaviest_of_part(items)
        return self._found[items]

    def _heaviest_of_part(self, items: int) -> tuple[float, int]:
        best = self._greedy(items)
        while self._bound(items) > best[0] + _NOISE:
            number = pivot(items, self._closed)
            weight, chosen = self.heaviest(items & ~self._closed[number])
            best = max(best, (weight + self._weights[number], chosen | 1 << number), key=_weight_of)
            items &= ~(1 << number)
            if len(connected_parts(items, self._closed)) > 1:
                return max(best, self.heaviest(items), key=_weight_of)
            best = max(best, self._greedy(items), key=_weight_of)
        return best

    def _greedy(self, items: int) -> tuple[float, int]:
        weight, chosen = 0.0, 0
        for number in self._by_worth:
            if items >> number & 1:
                weight += self._weights[number]
                chosen |= 1 << number
                items &= ~self._closed[number]
        return weight, chosen

    def _bound(self, items: int) -> float:
        """Add up the heaviest of each clique of a cover; the cliques are gathered round the heaviest item left."""
        total = 0.0
        for number in self._by_weight:
            if items >> number & 1:
                total += self._weights[number]
                items ^= 1 << number
                beside = items & self._closed[number]
                while beside:
                    lowest = beside & -beside
                    items ^= lowest
                    beside &= self._closed[lowest.bit_length() - 1] ^ lowest
        return total


def _weight_of(found: tuple[float, int]) -> float:
    return found[0]
