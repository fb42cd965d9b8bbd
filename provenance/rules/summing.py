"""The items on one side of a value summed up: independent lines, weight, and the weightiest set."""

from collections.abc import Sequence
from dataclasses import dataclass

from provenance.rules.assessing import Assessed
from provenance.rules.independence import conflicts_of, count_lines
from provenance.rules.weightiest_set import Load, weightiest_set
from provenance.rules.weights import CARRIED, Weights

_RANK = {category: rank for rank, category in enumerate(CARRIED)}


@dataclass(frozen=True, slots=True)
class Sum:
    """What items come to together.

    Attributes:
        lines: how many independent lines they are; 0 where that was not asked.
        lines_if_ruled_out: the same with every open pair ruled distinct; None where that changes nothing.
        weight: in decibans for the machine represented.
        chosen: the weightiest set.
    """

    lines: int
    lines_if_ruled_out: int | None
    weight: float
    chosen: tuple[Assessed, ...]


_NOTHING = Sum(0, None, 0.0, ())


def sum_up(items: Sequence[Assessed], weights: Weights, open_pairs: frozenset[str], *, count: bool) -> Sum:
    """Sum up items of weight that speak on one side.

    Args:
        items: in order of claim, source and place.
        weights: the weights in use.
        open_pairs: the shared ancestors of likely copies that nobody has ruled on.
        count: whether the lines are asked for.
    """
    if not items:
        return _NOTHING
    descents = [each.descent for each in items]
    closed = conflicts_of(descents)
    loads = [Load(_RANK[each.reach.category], each.weight) for each in items]
    weight, chosen = weightiest_set(loads, closed, [weights.agreement[category] for category in CARRIED])
    picked = tuple(items[number] for number in chosen)
    if not count:
        return Sum(0, None, weight, picked)
    lines = count_lines(closed)
    lines_if = lines
    if any(not open_pairs.isdisjoint(descent) for descent in descents):
        lines_if = count_lines(conflicts_of([descent - open_pairs for descent in descents]))
    return Sum(lines, lines_if if lines_if != lines else None, weight, picked)
