"""The weightiest set: the pairwise independent items that together weigh most for the machine represented, exactly.

The weight of a set is the sum over categories of what its total in that category is worth when carried over. It rises
with each total, so only sets count whose totals no other set beats: these are kept for each connected part of the
conflicts, and the parts are joined. Where that becomes too many, a tangent shuts out what cannot be best (`tangents`).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from provenance.rules.carrying_over import carry_over, slope
from provenance.rules.independent_sets import connected_parts, members, pivot
from provenance.rules.settling import settle
from provenance.rules.tangents import Load, Relaxed, Scales, Tangent, relax
from provenance.rules.unbeaten import unbeaten

__all__ = ["Load", "weightiest_set"]

_EQUAL = 1e-9
_CLOSE = 1e-6
_UNIT = 10**12
_MANY = 150


class _TooManyError(Exception):
    """There are more sets to keep than is quick."""


@dataclass(frozen=True, slots=True)
class _Kept:
    """A set of items that may be part of the weightiest: its items as bits, its totals in millionths of a millionth."""

    totals: tuple[int, ...]
    items: int


def weightiest_set(
    loads: Sequence[Load], closed: Sequence[int], agreements: Sequence[float]
) -> tuple[float, tuple[int, ...]]:
    """Find the weightiest independent set; ties go to the larger set, then to the one that comes first in order.

    Only where some hundred sets stay in question and one of them is proved to be within a millionth of a deciban of the
    weightiest is that one taken, and its ties settled by single exchanges (`settling`).

    Args:
        loads: the items, in order of claim, source and place; every weight above 0.
        closed: for each item the set of those that conflict with it, itself included, as bits.
        agreements: for each category, how often machines of that category agree with this one.

    Returns:
        Its weight for this machine in decibans, and the numbers of its items; 0 and nothing where there are no items.
    """
    scales = Scales(loads, closed, agreements)
    everything = (1 << len(loads)) - 1
    if all(conflicts & (conflicts - 1) == 0 for conflicts in closed):
        best = everything
    elif all(conflicts == everything for conflicts in closed):
        best = _best_alone(scales)
    else:
        best = _best_of(scales, _without_beaten(loads, closed))
    return scales.worth(scales.totals(best)), tuple(members(best))


def _best_alone(scales: Scales) -> int:
    """Choose the item that is worth most alone: of each category the heaviest is asked, of equals the first."""
    heaviest: dict[int, int] = {}
    for number, load in enumerate(scales.loads):
        if load.weight > scales.loads[heaviest.setdefault(load.category, number)].weight:
            heaviest[load.category] = number
    worths = {
        number: carry_over(scales.loads[number].weight, scales.agreements[category])
        for category, number in heaviest.items()
    }
    enough = max(worths.values()) - _EQUAL
    return 1 << min(number for number, worth in worths.items() if worth >= enough)


def _best_of(scales: Scales, left: int) -> int:
    try:
        return _first_of_best(_Search(scales, None, _MANY).keep(left), scales.agreements)
    except _TooManyError:
        relaxed = relax(scales, left)
    limit = 2 * _MANY if relaxed.lead <= _CLOSE else None
    try:
        search = _Search(scales, relaxed.tangent, limit)
        closer = relaxed.knowing(search.near(left, relaxed), scales)
        if closer is not relaxed:
            relaxed, search = closer, _Search(scales, closer.tangent, limit)
        return _first_of_best(search.keep_closely(left, relaxed), scales.agreements)
    except _TooManyError:
        return settle(relaxed.best, scales, left)


def _first_of_best(kept: Sequence[_Kept], agreements: Sequence[float]) -> int:
    worths = [_worth(each, agreements) for each in kept]
    enough = max(worths) - _EQUAL
    return min((each for each, worth in zip(kept, worths, strict=True) if worth >= enough), key=_first).items


def _without_beaten(loads: Sequence[Load], closed: Sequence[int]) -> int:
    """Leave out items in whose place a heavier or earlier one of the same category can always stand."""
    left = (1 << len(loads)) - 1
    first: dict[tuple[int, int], int] = {}
    by_weight = sorted(range(len(loads)), key=lambda number: (-loads[number].weight, number))
    rank = {number: place for place, number in enumerate(by_weight)}
    for number in by_weight:
        if first.setdefault((closed[number], loads[number].category), number) != number:
            left ^= 1 << number
    for number in by_weight:
        if left >> number & 1:
            for rival in members(left & closed[number]):
                heavier = loads[rival].category == loads[number].category and rank[rival] < rank[number]
                if heavier and closed[rival] & left & ~closed[number] == 0:
                    left ^= 1 << number
                    break
    return left


class _Search:
    """Lists the independent sets that may be part of the weightiest.

    Args:
        scales: the items.
        tangent: what shuts sets out; None for a plain search.
        limit: how many sets to keep at most; None for no limit.
    """

    def __init__(self, scales: Scales, tangent: Tangent | None, limit: int | None) -> None:
        self._scales = scales
        self._closed = scales.closed
        self._tangent = tangent
        self._limit = limit
        categories = range(len(scales.agreements))
        self._totals = [
            tuple(round(load.weight * _UNIT) if load.category == category else 0 for category in categories)
            for load in scales.loads
        ]
        self._found: dict[int, list[_Kept]] = {0: [_Kept((0,) * len(categories), 0)]}

    def keep(self, items: int) -> list[_Kept]:
        """List the independent sets within `items` that may be part of the weightiest.

        Raises:
            _TooManyError: there are more than the limit.
        """
        if items not in self._found:
            parts = connected_parts(items, self._closed)
            self._found[items] = self._join(parts) if len(parts) > 1 else self._keep_of_part(items)
        return self._found[items]

    def _join(self, parts: Sequence[int]) -> list[_Kept]:
        joined, over = self.keep(0), 0
        for part in parts:
            over |= part
            kept = self.keep(part)
            joined = self._sift(over, (_both(one, other) for one in joined for other in kept))
        return joined

    def near(self, items: int, relaxed: Relaxed) -> int:
        """Find a good set, part by part, keeping near to the mixture."""
        begun, over = self.keep(0), 0
        for part in connected_parts(items, self._closed):
            over |= part
            mixed = self._scales.mixed(relaxed.shares, items & ~over)
            joined = [_both(one, other) for one in begun for other in self.keep(part)]
            worths = {each.items: self._worth_with(each, mixed) for each in joined}
            begun = sorted(joined, key=lambda each: (-worths[each.items], each.items))[:_MANY]
        return begun[0].items

    def _worth_with(self, kept: _Kept, mixed: Sequence[float]) -> float:
        return self._scales.worth([total + more for total, more in zip(self._in_decibans(kept), mixed, strict=True)])

    def keep_closely(self, items: int, relaxed: Relaxed) -> list[_Kept]:
        """List the same for all items, leaving out half-joined sets that cannot become as good as one already known.

        Raises:
            _TooManyError: there are more than the limit.
        """
        enough = self._scales.worth(self._scales.totals(relaxed.best)) - _EQUAL
        parts = connected_parts(items, self._closed)
        ahead = [[self._in_decibans(each) for each in self.keep(part)] for part in parts]
        joined, over = self.keep(0), 0
        for place, part in enumerate(parts):
            over |= part
            sets = (_both(one, other) for one in joined for other in self.keep(part))
            mixed = self._scales.mixed(relaxed.shares, items & ~over)
            rest = ahead[place + 1 :]
            likely = self._likely_unbeaten(over, sets)
            joined = self._no_more([each for each in likely if self._can_reach(each, mixed, rest) >= enough])
        return joined

    def _can_reach(self, kept: _Kept, mixed: Sequence[float], rest: Sequence[Sequence[Sequence[float]]]) -> float:
        """Give what no set that goes on from this one is worth more than: by the tangent where it meets the mixture."""
        begun = self._in_decibans(kept)
        point = [total + more for total, more in zip(begun, mixed, strict=True)]
        gains = tuple(map(slope, point, self._scales.agreements))
        best = sum(max(sum(map(float.__mul__, gains, option)) for option in options) for options in rest)
        return self._scales.worth(point) + best - sum(map(float.__mul__, gains, mixed))

    @staticmethod
    def _in_decibans(kept: _Kept) -> list[float]:
        return [total / _UNIT for total in kept.totals]

    def _keep_of_part(self, items: int) -> list[_Kept]:
        if self._tangent is None and len(self._found) > _MANY:
            raise _TooManyError
        found: list[_Kept] = []
        left = items
        while left:
            hopeful = left if self._tangent is None else self._tangent.likely(left, items)
            if hopeful is None:
                break
            number = pivot(left, self._closed, hopeful)
            alone = _Kept(self._totals[number], 1 << number)
            found.extend(_both(alone, other) for other in self.keep(left & ~self._closed[number]))
            left ^= 1 << number
            if len(connected_parts(left, self._closed)) > 1:
                found.extend(self.keep(left))
                break
        return self._sift(items, found)

    def _sift(self, items: int, sets: Iterable[_Kept]) -> list[_Kept]:
        return self._no_more(self._likely_unbeaten(items, sets))

    def _no_more(self, kept: list[_Kept]) -> list[_Kept]:
        if self._limit is not None and len(kept) > self._limit:
            raise _TooManyError
        return kept

    def _likely_unbeaten(self, items: int, sets: Iterable[_Kept]) -> list[_Kept]:
        """Keep what is not shut out, and whose totals no other set reaches in every category, by falling totals.

        Of equal totals the larger set is kept, then the first.
        """
        by_totals: dict[tuple[int, ...], _Kept] = {}
        if self._tangent is not None:
            gains, floor = self._tangent.gains, self._tangent.least(items) * _UNIT
            sets = [each for each in sets if sum(map(float.__mul__, gains, map(float, each.totals))) >= floor]
        for each in sets:
            other = by_totals.get(each.totals)
            if other is None or _first(each) < _first(other):
                by_totals[each.totals] = each
        falling = sorted(by_totals, reverse=True)
        return [by_totals[falling[number]] for number in unbeaten(falling)]


def _both(one: _Kept, other: _Kept) -> _Kept:
    return _Kept(tuple(map(int.__add__, one.totals, other.totals)), one.items | other.items)


def _first(kept: _Kept) -> tuple[int, tuple[int, ...]]:
    return -kept.items.bit_count(), tuple(members(kept.items))


def _worth(kept: _Kept, agreements: Sequence[float]) -> float:
    return sum(carry_over(total / _UNIT, agreement) for total, agreement in zip(kept.totals, agreements, strict=True))
