"""The heaviest set of items of which no two conflict, exactly.

Sets of items are whole numbers: bit i stands for item i. `closed[i]` is the set of the items that conflict with item i,
with i itself. The search leaves out items in whose place another can always stand, splits what falls apart, branches on
the item with most conflicts, and follows only what can still become heavier than the best set known: a cover by cliques
(of which each can give one item at most) says how heavy it can become.
"""

from collections.abc import Iterator, Sequence

_NOISE = 1e-12
_UNKNOWN = float("inf")


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
        while frontier and part != items:
            lowest = frontier & -frontier
            fresh = closed[lowest.bit_length() - 1] & items & ~part
            part |= fresh
            frontier = (frontier ^ lowest) | fresh
        parts.append(part)
        items &= ~part
    return parts


def pivot(items: int, closed: Sequence[int], among: int | None = None) -> int:
    """Choose the item to branch on: one with most conflicts, of several the middle one, so that chains are halved.

    Args:
        items: the items in question.
        closed: the conflicts.
        among: those of them to choose from; None for all.
    """
    most, found, waiting = -1, [0], items if among is None else among
    while waiting:
        lowest = waiting & -waiting
        waiting ^= lowest
        number = lowest.bit_length() - 1
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
        self._by_weight = sorted(numbers, key=lambda number: (weights[number], number))
        self._by_worth = sorted(numbers, key=lambda number: (-weights[number] / closed[number].bit_count(), number))
        self._found: dict[int, tuple[float, int]] = {0: (0.0, 0)}
        self._at_most: dict[int, float] = {}

    def heaviest(self, items: int) -> tuple[float, int]:
        """Give the weight of a heaviest independent set within `items`, and the set."""
        if items not in self._found:
            begun = self._greedy(items)
            self._found[items] = self.over(items, begun[0]) or begun
        return self._found[items]

    def over(self, items: int, floor: float, *, unsettled: int | None = None) -> tuple[float, int] | None:
        """Give the weight of a heaviest independent set within `items` and the set, if it weighs more than `floor`.

        Args:
            items: the items in question.
            floor: what the set must weigh more than.
            unsettled: those of them of which it is not known that they can be neither taken nor left out at once;
                None for all.

        Returns:
            None where there is no such set, to a millionth of a millionth. Quicker than asking for the heaviest.
        """
        if items in self._found:
            return self._found[items] if self._found[items][0] > floor + _NOISE else None
        if self._at_most.get(items, _UNKNOWN) <= floor + _NOISE:
            return None
        best = self._search(items, floor, items if unsettled is None else unsettled)
        if best is None:
            self._at_most[items] = floor
        else:
            self._found[items] = best
        return best

    def _search(self, items: int, floor: float, unsettled: int) -> tuple[float, int] | None:
        best, weight, chosen, left = None, 0.0, 0, items
        while True:
            left, more, surely = self._reduce(left, unsettled)
            weight, chosen = weight + more, chosen | surely
            parts = connected_parts(left, self._closed)
            if len(parts) != 1:
                found = self._over_parts(parts, floor - weight)
                return (weight + found[0], chosen | found[1]) if found else best
            if self._bound(left) <= floor - weight + _NOISE:
                return best
            number = pivot(left, self._closed)
            with_it = weight + self._weights[number]
            beside = left & self._closed[number]
            found = self.over(left ^ beside, floor - with_it, unsettled=self._touching(beside) & ~beside & left)
            if found:
                best = (with_it + found[0], chosen | 1 << number | found[1])
                floor = best[0]
            left ^= 1 << number
            unsettled = self._closed[number] & left

    def _over_parts(self, parts: list[int], floor: float) -> tuple[float, int] | None:
        """Find the same for parts without conflict with one another; the small ones first."""
        parts.sort(key=int.bit_count)
        bounds = [self._found[part][0] if part in self._found else self._bound(part) for part in parts]
        weight, chosen, rest = 0.0, 0, sum(bounds)
        if rest <= floor + _NOISE:
            return None
        for part, bound in zip(parts, bounds, strict=True):
            rest -= bound
            found = self.over(part, floor - weight - rest, unsettled=0)
            if found is None:
                return None
            weight, chosen = weight + found[0], chosen | found[1]
        return (weight, chosen) if weight > floor + _NOISE else None

    def _touching(self, items: int) -> int:
        """List what conflicts with any of some items, with these themselves."""
        touched, closed = 0, self._closed
        for number in members(items):
            touched |= closed[number]
        return touched

    def _reduce(self, left: int, check: int) -> tuple[int, float, int]:
        """Take what some heaviest set must hold, and leave out what it can do without.

        An item is taken if it weighs as much as all that conflict with it together, and stands in for one that is no
        heavier and conflicts with all that it conflicts with. Both hang on its conflicts alone, so an item has to be
        looked at again only once one of these is gone.

        Args:
            left: the items in question.
            check: those of them to look at.

        Returns:
            What is left, and the weight and the set of what was taken.
        """
        weight, chosen = 0.0, 0
        while check:
            lowest = check & -check
            check ^= lowest
            number = lowest.bit_length() - 1
            beside = self._closed[number] & left ^ lowest
            needless, rivals = self._needless(number, beside)
            if rivals <= self._weights[number]:
                weight, chosen = weight + self._weights[number], chosen | lowest
                left ^= lowest
                needless = beside
            left &= ~needless
            for other in members(needless):
                check |= self._closed[other]
            check &= left
        return left, weight, chosen

    def _needless(self, number: int, beside: int) -> tuple[int, float]:
        """List those beside an item in whose place it can stand, and add up what the others weigh."""
        closed, weights = self._closed, self._weights
        conflicts, weight = beside | 1 << number, weights[number]
        needless, rivals = 0, 0.0
        while beside:
            lowest = beside & -beside
            beside ^= lowest
            other = lowest.bit_length() - 1
            if weights[other] <= weight and not conflicts & ~closed[other]:
                needless |= lowest
            else:
                rivals += weights[other]
        return needless, rivals

    def _greedy(self, items: int) -> tuple[float, int]:
        weight, chosen = 0.0, 0
        for number in self._by_worth:
            if items >> number & 1:
                weight += self._weights[number]
                chosen |= 1 << number
                items &= ~self._closed[number]
        return weight, chosen

    def _bound(self, items: int) -> float:
        """Give what no independent set within `items` weighs more than: a cover by cliques, each with a price.

        Each item's weight is paid by the cliques that it is in. A clique is gathered round the lightest item that is
        not paid in full, at the price of what that one lacks; what is paid is out (S. Held, W. Cook and E. C. Sewell,
        *Maximum-weight stable sets and safe lower bounds for graph coloring*, 2012).
        """
        total, closed, lacking = 0.0, self._closed, list(self._weights)
        for number in self._by_weight:
            if items >> number & 1:
                price = lacking[number]
                total += price
                items ^= 1 << number
                beside = items & closed[number]
                while beside:
                    lowest = beside & -beside
                    other = lowest.bit_length() - 1
                    lacking[other] -= price
                    if lacking[other] <= 0:
                        items ^= lowest
                    beside &= closed[other] ^ lowest
        return total
