"""Tangents to the weight of a set: linear measures that are never below it, and shut out sets that cannot be the best.

Carrying over is concave, so the weight of any set is at most what the tangent at any point says. Under a tangent the
weightiest set is a heaviest independent set, which is found quickly. A set that falls further behind under the tangent
than the tangent leads over a set already known cannot be the weightiest (reduced-cost fixing of integer programming).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from provenance.rules.carrying_over import carry_over, slope
from provenance.rules.independent_sets import HeaviestSets, members

_ROUNDING = 2e-10
_STEPS = 60
_HALVINGS = 40
_FLAT = 1e-12


@dataclass(frozen=True, slots=True)
class Load:
    """One item on the scales: the number of its category, and its weight in decibans before carrying over."""

    category: int
    weight: float


@dataclass(frozen=True, slots=True)
class Scales:
    """Items to choose among.

    Attributes:
        loads: the items, in order of claim, source and place; every weight above 0.
        closed: for each item the set of those that conflict with it, itself included, as bits.
        agreements: for each category, how often machines of that category agree with this one.
    """

    loads: Sequence[Load]
    closed: Sequence[int]
    agreements: Sequence[float]

    def totals(self, items: int) -> list[float]:
        """Add up the items of a set by category."""
        totals, loads = [0.0] * len(self.agreements), self.loads
        for number in members(items):
            load = loads[number]
            totals[load.category] += load.weight
        return totals

    def worth(self, totals: Sequence[float]) -> float:
        """Give what totals by category are worth for this machine, in decibans."""
        return sum(map(carry_over, totals, self.agreements))

    def gain(self, number: int, totals: Sequence[float]) -> float:
        """Give how much an item adds to what totals by category are worth."""
        category, weight = self.loads[number].category, self.loads[number].weight
        agreement, total = self.agreements[category], totals[category]
        return carry_over(total + weight, agreement) - carry_over(total, agreement)

    def mixed(self, shares: Mapping[int, float], within: int) -> list[float]:
        """Add up by category what a mixture of sets has within some items."""
        totals = [0.0] * len(self.agreements)
        for items, share in shares.items():
            totals = [total + share * more for total, more in zip(totals, self.totals(items & within), strict=True)]
        return totals


@dataclass(frozen=True, slots=True)
class Tangent:
    """A linear measure that is never below the weight of a set.

    Attributes:
        bound: what no set can be worth more than, in decibans.
        sets: the heaviest independent sets under it.
        gains: what one deciban counts under it, by category.
        counts: what each item counts under it.
        slack: how far the weightiest set can fall behind under it.
    """

    bound: float
    sets: HeaviestSets
    gains: tuple[float, ...]
    counts: tuple[float, ...]
    slack: float = 0.0

    def least(self, items: int) -> float:
        """Give what a set within `items` must count to be part of the weightiest."""
        return self.sets.heaviest(items)[0] - self.slack

    def likely(self, items: int, within: int) -> int | None:
        """Say whether the share of the weightiest set in `within` may be a set within `items`.

        Returns:
            The set within `items` that counts most, if so; None if not.
        """
        found = self.sets.over(items, self.least(within))
        return None if found is None else found[1]


@dataclass(frozen=True, slots=True)
class Relaxed:
    """What tangents tell of the weightiest set.

    Attributes:
        tangent: the tightest, with its slack.
        best: a good set.
        lead: by how much the weightiest can be better than it, at most.
        shares: the weightiest mixture of sets, each with its share.
    """

    tangent: Tangent
    best: int
    lead: float
    shares: Mapping[int, float]

    def knowing(self, items: int, scales: Scales) -> "Relaxed":
        """Take in another set, which may be better than the one known: less may then fall behind."""
        gain = scales.worth(scales.totals(items)) - scales.worth(scales.totals(self.best))
        if gain <= 0:
            return self
        tighter = replace(self.tangent, slack=self.tangent.slack - gain)
        return Relaxed(tighter, items, self.lead - gain, self.shares)


def relax(scales: Scales, everything: int) -> Relaxed:
    """Draw tangents until they close in on a mixture of sets, and take the best of the sets come upon.

    Go to the best set under the tangent at a point, then to the best mixture of the sets found, and draw the next
    tangent there: the fully corrective form of M. Frank and P. Wolfe, *An algorithm for quadratic programming* (1956).
    """
    mixture = _Mixture(scales)
    tightest = tangent = _tangent_at(mixture.point, scales, everything)
    while True:
        _, chosen = tangent.sets.heaviest(everything)
        if tangent.bound - scales.worth(mixture.point) <= _ROUNDING or chosen in mixture.shares:
            break
        mixture.add(chosen)
        tangent = _tangent_at(mixture.point, scales, everything)
        tightest = min(tightest, tangent, key=lambda each: each.bound)
    improved = (_improve(chosen, scales, everything) for chosen in mixture.shares)
    best = max(improved, key=lambda items: scales.worth(scales.totals(items)))
    worth = scales.worth(scales.totals(best))
    lead = tightest.bound - worth
    return Relaxed(replace(tightest, slack=lead + 10 * _ROUNDING), best, lead, mixture.shares)


def _tangent_at(point: Sequence[float], scales: Scales, everything: int) -> Tangent:
    gains = tuple(map(slope, point, scales.agreements))
    counts = tuple(gains[load.category] * load.weight for load in scales.loads)
    sets = HeaviestSets(scales.closed, counts)
    counted, _ = sets.heaviest(everything)
    return Tangent(scales.worth(point) + counted - _product(gains, point), sets, gains, counts)


class _Mixture:
    """A mixture of sets, each with its share; the shares add up to 1."""

    def __init__(self, scales: Scales) -> None:
        self._scales = scales
        self._totals: dict[int, list[float]] = {}
        self.shares: dict[int, float] = {}
        self.point = [0.0] * len(scales.agreements)

    def add(self, items: int) -> None:
        """Take in a set, and find the weightiest mixture anew."""
        self._totals[items] = self._scales.totals(items)
        self.shares[items] = 0.0 if len(self._totals) > 1 else 1.0
        if len(self._totals) == 1:
            self.point = list(self._totals[items])
        for _ in range(_STEPS):
            if not self._shift():
                break

    def _shift(self) -> bool:
        """Give to the set that gains most what the one that gains least has, as far as it helps."""
        gains = tuple(map(slope, self.point, self._scales.agreements))
        counts = {items: _product(gains, totals) for items, totals in self._totals.items()}
        to = max(counts, key=lambda items: (counts[items], items))
        giver = min((items for items in counts if self.shares[items] > 0), key=lambda items: (counts[items], items))
        if counts[to] - counts[giver] <= _ROUNDING / 10:
            return False
        way = [gain - loss for gain, loss in zip(self._totals[to], self._totals[giver], strict=True)]
        length = self._how_far(way, self.shares[giver])
        self.shares[giver] = 0.0 if length == self.shares[giver] else self.shares[giver] - length
        self.shares[to] += length
        self.point = [
            sum(share * self._totals[items][category] for items, share in self.shares.items())
            for category in range(len(self.point))
        ]
        return True

    def _how_far(self, way: Sequence[float], most: float) -> float:
        """Find where on the way the weight is greatest: where it gains nothing more, by false position (Illinois)."""
        here_and_there = zip(way, self.point, self._scales.agreements, strict=True)
        moved = [(step, total, agreement) for step, total, agreement in here_and_there if step]
        low, high = 0.0, most
        gain, loss = _gain_at(0.0, moved), _gain_at(most, moved)
        if loss >= 0:
            return most
        side = 0
        for _ in range(_HALVINGS):
            length = (low * loss - high * gain) / (loss - gain)
            here = _gain_at(length, moved)
            if abs(here) <= _FLAT or not low < length < high:
                return length
            if here > 0:
                low, gain = length, here
                loss = loss / 2 if side > 0 else loss
                side = 1
            else:
                high, loss = length, here
                gain = gain / 2 if side < 0 else gain
                side = -1
        return low


def _gain_at(length: float, moved: Sequence[tuple[float, float, float]]) -> float:
    """Add up what each category gains that far on the way; of each its step, its total here and its agreement."""
    gain = 0.0
    for step, total, agreement in moved:
        gain += step * slope(max(total + length * step, 0.0), agreement)
    return gain


def _improve(chosen: int, scales: Scales, everything: int) -> int:
    """Put single items in place of those that they conflict with, and fill up, as long as the set gains by it."""
    best, gained = scales.worth(scales.totals(chosen)), True
    while gained:
        gained = False
        for number in members(everything & ~chosen):
            changed = _fill(chosen & ~scales.closed[number] | 1 << number, scales, everything)
            weight = scales.worth(scales.totals(changed))
            if weight > best + _ROUNDING:
                chosen, best, gained = changed, weight, True
    return chosen


def _fill(chosen: int, scales: Scales, everything: int) -> int:
    """Add what conflicts with nothing in the set, each time what it gains most by."""
    free = everything
    for number in members(chosen):
        free &= ~scales.closed[number]
    totals = scales.totals(chosen)
    while free:
        gains = {number: scales.gain(number, totals) for number in members(free)}
        number = max(gains, key=lambda number: (gains[number], -number))
        chosen |= 1 << number
        free &= ~scales.closed[number]
        totals[scales.loads[number].category] += scales.loads[number].weight
    return chosen


def _product(gains: Sequence[float], totals: Sequence[float]) -> float:
    return sum(map(float.__mul__, gains, totals))
