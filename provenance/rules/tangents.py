"""Tangents to the weight of a set: linear measures that are never below it, and shut out sets that cannot be the best.

Carrying over is concave, so the weight of any set is at most what the tangent at any point says. Under a tangent the
weightiest set is a heaviest independent set, which is found quickly. A set that under the tangent falls further behind
than the tangent's own lead over a set already known cannot be the weightiest (reduced-cost fixing of integer programming).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from provenance.rules.carrying_over import carry_over, slope
from provenance.rules.independent_sets import HeaviestSets, members

_ROUNDING = 2e-9
_TURNS = 16
_DRAWN = 3


class Loaded(Protocol):
    """An item on the scales."""

    @property
    def category(self) -> int:
        """The number of its category."""

    @property
    def weight(self) -> float:
        """Its weight in decibans before carrying over."""


@dataclass(frozen=True, slots=True)
class Tangent:
    """A linear measure that is never below the weight of a set.

    Attributes:
        sets: the heaviest independent sets under it.
        gains: what one deciban counts under it, by category.
        slack: how far the weightiest set can fall behind under it.
        counts: what each item counts under it.
    """

    sets: HeaviestSets
    gains: tuple[float, ...]
    slack: float
    counts: tuple[float, ...]

    def least(self, items: int) -> float:
        """Give what a set within `items` must count to be part of the weightiest."""
        return self.sets.heaviest(items)[0] - self.slack

    def may_hold(self, items: int, within: int, *beside: int) -> bool:
        """Say whether the share of the weightiest set in `within` may be these items beside a set within `items`."""
        return self.sets.heaviest(items)[0] + sum(self.counts[number] for number in beside) >= self.least(within)


def draw_tangents(
    loads: Sequence[Loaded], closed: Sequence[int], agreements: Sequence[float], everything: int
) -> tuple[Tangent, ...]:
    """Draw the tightest tangents that some turns of the Frank-Wolfe method come upon.

    M. Frank and P. Wolfe, *An algorithm for quadratic programming* (1956): go towards the best set under the tangent at
    a point, draw the next tangent there, and so on.
    """
    point = [0.0] * len(agreements)
    best, drawn = 0.0, []
    for turn in range(_TURNS):
        gains = tuple(map(slope, point, agreements))
        counts = tuple(gains[load.category] * load.weight for load in loads)
        sets = HeaviestSets(closed, counts)
        counted, chosen = sets.heaviest(everything)
        bound = _worth(point, agreements) + counted - sum(map(float.__mul__, gains, point))
        drawn.append((bound, turn, sets, gains, counts))
        totals = _totals(chosen, loads, len(agreements))
        best = max(best, _improve(chosen, everything, loads, closed, agreements))
        point = [at + (to - at) * 2 / (turn + 2) for at, to in zip(point, totals, strict=True)]
    tightest = sorted(drawn, key=lambda each: each[:2])[:_DRAWN]
    return tuple(Tangent(sets, gains, bound - best + _ROUNDING, counts) for bound, _, sets, gains, counts in tightest)


def _improve(
    chosen: int, everything: int, loads: Sequence[Loaded], closed: Sequence[int], agreements: Sequence[float]
) -> float:
    """Put single items in place of those that they conflict with, as long as the set gains by it."""
    best = _worth(_totals(chosen, loads, len(agreements)), agreements)
    gained = True
    while gained:
        gained = False
        for number in members(everything & ~chosen):
            changed = chosen & ~closed[number] | 1 << number
            weight = _worth(_totals(changed, loads, len(agreements)), agreements)
            if weight > best + _ROUNDING:
                chosen, best, gained = changed, weight, True
    return best


def _totals(chosen: int, loads: Sequence[Loaded], categories: int) -> list[float]:
    totals = [0.0] * categories
    for number in members(chosen):
        totals[loads[number].category] += loads[number].weight
    return totals


def _worth(totals: Sequence[float], agreements: Sequence[float]) -> float:
    return sum(map(carry_over, totals, agreements))
