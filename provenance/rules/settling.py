"""Which of very many sets that weigh the same to 1e-9 is taken: the larger, then the first in order."""

from provenance.rules.independent_sets import members
from provenance.rules.tangents import Scales

_EQUAL = 1e-9


def settle(chosen: int, scales: Scales, everything: int) -> int:
    """Exchange single items as long as the set stays as heavy and becomes larger, or comes earlier in order.

    Args:
        chosen: a weightiest set.
        scales: the items.
        everything: the items to choose among.
    """
    enough = scales.worth(scales.totals(chosen)) - _EQUAL
    exchanged = True
    while exchanged:
        exchanged = False
        for number in members(everything & ~chosen):
            changed = chosen & ~scales.closed[number] | 1 << number
            given_up = chosen & ~changed
            earlier = given_up.bit_count() == 1 and given_up > 1 << number
            if (not given_up or earlier) and scales.worth(scales.totals(changed)) >= enough:
                chosen, exchanged = changed, True
    return chosen
