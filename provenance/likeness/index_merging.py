"""Which segments of the picture index are to become one, so that there are few and each is written anew seldom."""

from collections import defaultdict
from collections.abc import Sequence

from provenance.likeness.index_segments import MOST_PICTURES

TOGETHER = 4
"""Segments of like size that are made into one: their number of pictures lies between the same powers of this."""


def due_together(staying: Sequence[int], held: Sequence[int]) -> tuple[int, ...]:
    """Name segments that should become one now.

    A picture is written anew once for each power of `TOGETHER` up to the size of its segment, so that adding n pictures
    one by one writes n log n. A segment of which more than half is dropped is due by itself.

    Args:
        staying: for each segment how many of its pictures are to stay.
        held: for each segment how many pictures lie in it.

    Returns:
        Their places in the arguments, in order; empty when all is well. Ask again when they have become one.
    """
    for place, (stays, lie) in enumerate(zip(staying, held, strict=True)):
        if 2 * stays < lie:
            return (place,)
    alike = defaultdict(list)
    for place, stays in enumerate(staying):
        alike[_power(stays)].append(place)
    for power in sorted(alike):
        if len(alike[power]) >= TOGETHER and len(fitting := _fitting(alike[power], staying)) > 1:
            return tuple(sorted(fitting))
    return ()


def _power(number: int) -> int:
    power = 0
    while number >= TOGETHER ** (power + 1):
        power += 1
    return power


def _fitting(places: Sequence[int], staying: Sequence[int]) -> list[int]:
    """The smallest of some segments, as many as fit into one."""
    fitting, together = [], 0
    for place in sorted(places, key=lambda place: (staying[place], place)):
        together += staying[place]
        if together > MOST_PICTURES:
            break
        fitting.append(place)
    return fitting
