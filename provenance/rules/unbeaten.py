"""Which of many totals by category are not beaten: reached by no other ones in every category."""

from collections import defaultdict
from collections.abc import Sequence
from itertools import accumulate
from operator import or_

Totals = tuple[int, ...]
_AT_ONCE = 2000


def unbeaten(falling: Sequence[Totals], *, at_once: int = _AT_ONCE) -> list[int]:
    """Find the totals that no other ones reach in every category.

    Args:
        falling: from the highest in the first category to the lowest, of equal ones by the next category, and so on;
            no two alike. So nothing is beaten by what comes after it.
        at_once: how many to take up at a time, 1 or more; many are quicker, and take more room.

    Returns:
        Their numbers from 0, in order.
    """
    if len(falling) < 2:  # by far the most are
        return list(range(len(falling)))
    found: list[int] = []
    for begin in range(0, len(falling), at_once):
        fresh = falling[begin : begin + at_once]
        found += [begin + number for number in _unbeaten_by([falling[number] for number in found], fresh)]
    return found


def _unbeaten_by(kept: Sequence[Totals], fresh: Sequence[Totals]) -> list[int]:
    """Find among fresh totals those that neither kept ones nor others of the fresh reach in every category.

    Which ones reach a total in one category is held as bits, one for each; what reaches it in all categories is then
    in all of its bits, and nothing but itself may be.
    """
    compared = [*fresh, *kept]
    reached_by = [-1] * len(fresh)
    for category in range(len(fresh[0])):
        having: dict[int, int] = defaultdict(int)
        for number, totals in enumerate(compared):
            having[totals[category]] |= 1 << number
        steps = sorted(having, reverse=True)
        reaching = dict(zip(steps, accumulate(map(having.__getitem__, steps), or_), strict=True))
        for number, totals in enumerate(fresh):
            reached_by[number] &= reaching[totals[category]]
    return [number for number, by in enumerate(reached_by) if by == 1 << number]
