"""Quantities: which figures are one value, and what the figures of a value come to."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from provenance.records.components import Feature
from provenance.records.kinds import Condition, Stance
from provenance.records.near_sizes import nearest_sizes
from provenance.records.units import Unit
from provenance.records.wording import fold_wording
from provenance.rules.assessing import Assessed
from provenance.rules.averaging import Average, average
from provenance.rules.candidates import Group
from provenance.rules.clustering import Uncertain, gather
from provenance.rules.give_or_take import Figure, figure_of, read_measure, unit_of
from provenance.rules.grades import Category
from provenance.rules.quantity_values import JUST_WITHIN, MeasuredValue, NearSize, Quantity
from provenance.rules.quantity_words import value_words

__all__ = ["group_quantities", "quantity_of", "value_words"]

_LEADING = frozenset({Category.ITSELF, Category.COVERED})

Taken = tuple[Assessed, Figure]


def group_quantities(feature: Feature, assessed: Mapping[str, Sequence[Assessed]]) -> list[Group]:
    """Gather the claims about a quantity whose figures may well be one and the same.

    A claim without any item of weight joins no others, and one whose figure cannot be read stands as text; of either
    kind those of one wording are together. A group is spelt as by its first claim, until its figures are averaged.

    Args:
        feature: the feature; its unit is the one to compare in.
        assessed: the items of each claim, by claim id; every claim has at least one.
    """
    unit = unit_of(feature)
    named: list[str] = []
    figures: list[Uncertain] = []
    apart: dict[str, list[str]] = defaultdict(list)
    for claim_id in sorted(assessed):
        figure = _widest(assessed[claim_id], unit) if unit else None
        if figure is None:
            apart[fold_wording(assessed[claim_id][0].claim.value)].append(claim_id)
        else:
            named.append(claim_id)
            figures.append(figure)
    together = [sorted(named[number] for number in cluster) for cluster in gather(figures)]
    return [_group_of(claims, assessed) for claims in (*together, *apart.values())]


def _widest(items: Sequence[Assessed], unit: Unit) -> Uncertain | None:
    """Give a claim's figure, as unsure as the least sure of the items of weight that support it.

    Where none supports it, as those that speak against it would have it; None for a claim without weight or figure.
    """
    of_weight = [each for each in items if each.weight > 0]
    supporting = [each for each in of_weight if each.item.stance is Stance.SUPPORTS]
    read = [figure for each in supporting or of_weight if (figure := figure_of(each, unit))]
    return Uncertain(read[0].value, max(figure.variance for figure in read)) if read else None


def _group_of(claims: list[str], assessed: Mapping[str, Sequence[Assessed]]) -> Group:
    spelling = assessed[claims[0]][0].claim.value
    group = Group(spelling, spelling, claims)
    for claim in claims:
        group.add(assessed[claim])
    return group


def quantity_of(feature: Feature, group: Group, chosen: Sequence[Assessed]) -> Quantity | None:
    """Work out what the figures of a value come to.

    A nominal figure of this machine, or of a group with it, is the value as written. Otherwise the value is the mean of
    what is direct and taken from a sound piece, over the weightiest set. Worn, corroded or distorted pieces support a
    value and never set it.

    Args:
        feature: the feature.
        group: the items of the value.
        chosen: the weightiest set of those that support it.

    Returns:
        None where no figure of the value can be read.
    """
    unit = unit_of(feature)
    if unit is None:
        return None
    items = sorted(group.supporting, key=_place)
    taken = [(each, figure) for each in items if (figure := figure_of(each, unit))]
    if not taken:
        return None
    lead = min((each for each in taken if _may_lead(each)), key=_heaviest, default=None)
    in_set = {id(each) for each in chosen}
    counted = [each for each in taken if id(each[0]) in in_set and _may_count(each, beside_nominal=lead is not None)]
    mean = (
        average([float(figure.value) for _, figure in counted], [f.standard for _, f in counted]) if counted else None
    )
    return _quantity(feature, unit, taken, lead, (mean, {id(each) for each, _ in counted}))


def _place(assessed: Assessed) -> tuple[str, int]:
    return assessed.key


def _may_lead(taken: Taken) -> bool:
    assessed, figure = taken
    is_near = assessed.reach.category in _LEADING
    return figure.is_nominal and assessed.weight > 0 and is_near and assessed.item.condition is Condition.SOUND


def _heaviest(taken: Taken) -> tuple[float, tuple[str, int]]:
    return -taken[0].weight, taken[0].key


def _may_count(taken: Taken, *, beside_nominal: bool) -> bool:
    """Beside a nominal that leads only what was measured is averaged."""
    assessed, figure = taken
    is_wanted = not (beside_nominal and figure.is_nominal)
    return is_wanted and assessed.weighed.direct and assessed.item.condition is Condition.SOUND


def _quantity(
    feature: Feature, unit: Unit, taken: Sequence[Taken], lead: Taken | None, averaged: tuple[Average | None, set[int]]
) -> Quantity:
    mean, counted = averaged
    needed = read_measure(feature.needed, unit)
    return Quantity(
        unit=feature.unit or unit.id,
        nominal=float(lead[1].value) if lead else None,
        nominal_written=lead[0].claim.value if lead else None,
        mean=mean.mean if mean else None,
        expanded=2 * mean.standard if mean else lead[1].half_width if lead else None,
        chi_square=mean.chi_square if mean else None,
        degrees=mean.degrees if mean else None,
        birge=mean.birge if mean else None,
        consistent=mean.consistent if mean else None,
        between=mean.between if mean else None,
        needed=float(needed.spread_to(unit)) if needed else None,
        values=tuple(_measured(each, figure, is_counted=id(each) in counted) for each, figure in taken),
        near=_near(mean, unit),
    )


def _measured(assessed: Assessed, figure: Figure, *, is_counted: bool) -> MeasuredValue:
    return MeasuredValue(
        claim=assessed.claim.id,
        source=assessed.item.source,
        written=assessed.claim.value,
        value=float(figure.value),
        half_width=figure.half_width,
        standard=figure.standard,
        is_nominal=figure.is_nominal,
        condition=assessed.item.condition,
        applies=assessed.reach.category,
        weight=assessed.weight,
        counted=is_counted,
    )


def _near(mean: Average | None, unit: Unit) -> tuple[NearSize, ...]:
    """Give the gauge and the fraction of an inch within U of a mean length, in the unit to build in."""
    if mean is None or unit.dimension != "length":
        return ()
    factor = float(unit.factor)
    sizes = nearest_sizes(mean.mean * factor, 2 * mean.standard * factor * JUST_WITHIN)
    return tuple(NearSize(name=size.name, value=float(size.millimetres / unit.factor)) for size in sizes)
