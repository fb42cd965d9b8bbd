"""Which sources do not count beside one another, where nothing is common to all of them."""

from collections.abc import Sequence
from itertools import combinations, product

from provenance.rules.assessing import Assessed
from provenance.rules.descent import in_order
from provenance.rules.verdicts import Overlap


def overlaps_of(supporting: Sequence[Assessed]) -> tuple[Overlap, ...]:
    """Name for each two sources what their items have in common, in order of their ids; each two once.

    Where all of them share something, it is named for the first beside each other: of a thousand likely copies of one
    another there are half a million twos.
    """
    descents: dict[str, frozenset[str]] = {}
    for each in supporting:
        descents[each.item.source] = descents.get(each.item.source, frozenset()) | each.descent
    first, *others = sorted(descents)
    twos = product([first], others) if frozenset.intersection(*descents.values()) else combinations(sorted(descents), 2)
    return tuple(
        Overlap(sources=(one, other), shared=tuple(sorted(descents[one] & descents[other], key=in_order)))
        for one, other in twos
        if descents[one] & descents[other]
    )
