"""The sizes of the trade near a measurement: what a worn or corroded piece was probably made to."""

from bisect import bisect_left
from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from provenance.records.gauges import GAUGES
from provenance.records.printed_measures import FINEST_INCH, measure_in_words
from provenance.records.threads import THREADS
from provenance.records.units import UNITS

_INCH = UNITS["in"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeSize:
    """A size of the trade.

    Attributes:
        name: as the trade writes it, such as `16 SWG` or `3 ft 4 1/2 in`; it can be read again.
        millimetres: its diameter, thickness or length, exactly.
    """

    name: str
    millimetres: Fraction


def nearest_sizes(
    value_mm: Fraction | float, within_mm: Fraction | float, *, series: Collection[str] = ("SWG",)
) -> tuple[TradeSize, ...]:
    """The nearest size of each series, and the simplest fraction of an inch, within a distance of a length.

    The simplest fraction is the one with the smallest divisor among 1, 2, 4 … 64; of several the nearest.

    Args:
        value_mm: the length, in mm.
        within_mm: how far off they may be, in mm; nothing is near where it is negative.
        series: which series are looked through: `SWG`, `BWG`, `AWG`, `BA`, `BSW`, `BSF`, `BSC`.

    Returns:
        The nearest first; of two as near, the gauge before the fraction. Empty where none is near.
    """
    value, within = Fraction(value_mm), Fraction(within_mm)
    found = [_nearest_of(name, value) for name in series]
    found += _simplest_fraction(value, within)
    near = [size for size in found if abs(size.millimetres - value) <= within]
    return tuple(sorted(near, key=lambda size: abs(size.millimetres - value)))


def _nearest_of(series: str, value: Fraction) -> TradeSize:
    """The nearest size of a series; of two as near the one that stands first in its table."""
    rising = _rising(series)
    place = bisect_left(rising, value, key=_millimetres)
    beside = rising[max(place - 1, 0) : place + 1]
    _, nearest = min(beside, key=lambda numbered: (abs(numbered[1].millimetres - value), numbered[0]))
    return nearest


@cache
def _rising(series: str) -> tuple[tuple[int, TradeSize], ...]:
    """The sizes of a series with their places in its table, the smallest first; of equal ones the first in it."""
    sizes = (GAUGES.get(series) or THREADS[series]).values()
    numbered = [(place, TradeSize(name=size.written, millimetres=size.millimetres)) for place, size in enumerate(sizes)]
    return tuple(sorted(numbered, key=lambda each: (each[1].millimetres, each[0])))


def _millimetres(numbered: tuple[int, TradeSize]) -> Fraction:
    return numbered[1].millimetres


def _simplest_fraction(value: Fraction, within: Fraction) -> list[TradeSize]:
    divisor = 1
    while divisor <= FINEST_INCH:
        inches = Fraction(max(1, round(value / _INCH.factor * divisor)), divisor)
        if abs(inches * _INCH.factor - value) <= within:
            return [TradeSize(name=measure_in_words(inches, _INCH), millimetres=inches * _INCH.factor)]
        divisor *= 2
    return []
