"""The scales of a drawing of figures: in both systems for a length, with the fractions of the trade above."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import floor, log10

from provenance.records.printed_measures import FINEST_INCH, measure_in_words
from provenance.records.units import UNITS, Unit, find_unit, other_unit
from provenance.reports.svg_lettering import width_of

LABEL = 9.5
"""How high the figures on a scale are."""
_MOST_TICKS = 8
_APART = 8.0
_LONGEST, _DIGITS = 14, 17
_INCHES = frozenset({"in", "ft"})
_INCH = UNITS["in"]
_INCHES_WORD = "inches"
_RULE = tuple(Fraction(1, part) for part in (FINEST_INCH, 32, 16, 8, 4, 2)) + tuple(map(Fraction, (1, 2, 3, 6)))
"""The divisions of a rule, in inches; from a foot up they are feet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """A mark on a scale.

    Attributes:
        place: in the unit of the quantity, exactly.
        label: what stands beside it.
    """

    place: Fraction
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """A scale; `unit` is how its unit is printed."""

    unit: str
    ticks: tuple[Tick, ...]


def scales_of(unit_id: str, low: float, high: float, width: float) -> tuple[Scale | None, Scale]:
    """The scale above, which only a length has, and the one below.

    Args:
        unit_id: of the quantity.
        low: where the scales begin, in that unit.
        high: where they end; more than `low`.
        width: how long they are drawn, in pixels.
    """
    unit = find_unit(unit_id)
    other = other_unit(unit) if unit and unit.dimension == "length" else None
    span = (Fraction(low), Fraction(high))
    if unit is None or other is None:
        return None, _decimal_scale(span, unit.printed if unit else unit_id, Fraction(1), width)
    metric, imperial = (other, unit) if unit.is_imperial else (unit, other)
    below = _decimal_scale(span, metric.printed, metric.factor / unit.factor, width)
    if imperial.id in _INCHES:
        return _inch_scale(span, unit, width), below
    return _decimal_scale(span, imperial.printed, imperial.factor / unit.factor, width), below


def _decimal_scale(span: tuple[Fraction, Fraction], printed: str, size: Fraction, width: float) -> Scale:
    """A scale in steps of 1, 2 or 5; `size` is one unit of it in the unit of the quantity."""
    low, high = (end / size for end in span)
    power = floor(log10(high - low)) - 1
    for step, places in _decimal_steps(power):
        marks = _multiples(low, high, step)
        labels = [_written(mark, places) for mark in marks]
        if _fits(labels, float(step / (high - low)) * width, len(marks)):
            break
    return Scale(unit=printed, ticks=_ticks(marks, labels, size))


def _decimal_steps(power: int) -> Iterator[tuple[Fraction, int]]:
    """Steps that grow, each with the decimals that it is written with."""
    for tens in range(power, power + 4):
        for first in (1, 2, 5):
            yield first * Fraction(10) ** tens, max(0, -tens)


def _inch_scale(span: tuple[Fraction, Fraction], unit: Unit, width: float) -> Scale:
    """A scale in fractions of an inch, in feet where it is long, and in decimals where it is finer than a rule."""
    size = _INCH.factor / unit.factor
    low, high = (end / size for end in span)
    for step in _rule_steps(high - low):
        marks = _multiples(low, high, step)
        labels = [measure_in_words(mark, _INCH) for mark in marks]
        if _fits(labels, float(step / (high - low)) * width, len(marks)):
            return Scale(unit=_INCHES_WORD, ticks=_ticks(marks, labels, size))
    return _decimal_scale(span, _INCHES_WORD, size, width)


def _rule_steps(length: Fraction) -> Iterator[Fraction]:
    """The divisions that give at least two marks or so on that length; none where it is shorter than that."""
    feet = (12 * step for step, _ in _decimal_steps(max(0, floor(log10(max(Fraction(1), length / 12))) - 1)))
    yield from (step for step in (*_RULE, *feet) if step * 2 <= length)


def _multiples(low: Fraction, high: Fraction, step: Fraction) -> list[Fraction]:
    """The multiples of a step from `low` to `high`; a few more than can be drawn where there are many."""
    first, last = -(-low // step), high // step
    return [number * step for number in range(first, min(last, first + 4 * _MOST_TICKS) + 1)]


def _fits(labels: list[str], apart: float, many: int) -> bool:
    widest = max((width_of(label, LABEL) for label in labels), default=0.0)
    return many <= _MOST_TICKS and widest + _APART <= apart


def _ticks(marks: list[Fraction], labels: list[str], size: Fraction) -> tuple[Tick, ...]:
    return tuple(Tick(place=mark * size, label=label) for mark, label in zip(marks, labels, strict=True))


def _written(value: Fraction, places: int) -> str:
    """With so many decimals, exactly; a very long figure with a power of ten."""
    digits = str(abs(round(value * 10**places))).rjust(places + 1, "0")
    sign = "-" if value < 0 else ""
    if len(digits) > _LONGEST:
        return f"{float(value):.{len(digits.lstrip('0')[:_DIGITS].rstrip('0') or '0') - 1}e}"
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else f"{sign}{digits}"
