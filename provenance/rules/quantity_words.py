"""The value of a quantity as it is written: for the answer, and for people with both systems of units."""

import re
from fractions import Fraction

from provenance.records.measures import Measure, MeasureError, parse_measure
from provenance.records.printed_measures import FINEST_INCH, measure_in_words
from provenance.records.units import UNITS, Unit, other_unit, parse_unit
from provenance.rules.quantity_values import Quantity

_FINEST = UNITS["in"].factor / FINEST_INCH
_PIECES = "number"  # four pieces are four, however sure of it anyone is
_METRIC_STEP = Fraction(1, 100)  # of what is made: a hundredth of the unit is lost in the making
_LIMIT = re.compile(r"(\s*(?:plus or minus|plus|minus|\+/-|[±+-])?\s*)([^,;]+)", re.IGNORECASE)


def value_words(quantity: Quantity, fallback: str) -> tuple[str, str]:
    """Write the value of a quantity for the answer, and the same for people with both units.

    The nominal stands as written. Else the mean, to the place of the second figure of its standard uncertainty (JCGM
    100:2008, 7.2.6: at most two significant digits, and the estimate rounded to be consistent with it).

    Args:
        quantity: what the figures come to, as `quantities.quantity_of` made it.
        fallback: the spelling of the claim, for a value that nothing direct and sound sets.
    """
    unit = parse_unit(quantity.unit)
    if quantity.nominal_written is not None:
        return quantity.nominal_written, _nominal_in_both(quantity, unit, quantity.nominal_written)
    if quantity.mean is None or quantity.expanded is None:
        return fallback, fallback
    mean = _plain(Fraction(quantity.mean), unit)
    value = _told(mean, unit, quantity.expanded / 2, exact=unit.dimension == _PIECES)
    other = other_unit(unit)
    if other is None:
        return value, value
    return value, f"{value} ({_beside(mean, other, _spread(quantity.expanded / 2, unit, other))})"


def in_both_units(written: str, unit_id: str | None) -> str:
    """Put behind each figure of what is to be made what it is in the other system, `1/16 in (1.59 mm)`.

    Args:
        written: a figure, or limits such as `plus 1/16 in, minus nothing`; what is no figure stands as it is.
        unit_id: the unit of the feature; None where any will do.
    """
    unit = parse_unit(unit_id) if unit_id else None
    return _LIMIT.sub(lambda part: f"{part[1]}{_figure_in_both(part[2], unit)}", written)


def _figure_in_both(written: str, unit: Unit | None) -> str:
    bare = written.strip()
    if bare.endswith(")"):
        return written
    try:
        measure = parse_measure(bare, unit=unit)
    except MeasureError:
        return written
    built_in = unit or measure.unit
    wanted = [each for each in (built_in, other_unit(built_in)) if each and _is_new(each, measure)]
    told = "; ".join(_as_made(measure, each) for each in wanted)
    return f"{written.rstrip()} ({told})" if told else written


def _as_made(measure: Measure, unit: Unit) -> str:
    step = measure.last_place_in(unit) / 2 if unit.is_imperial else _METRIC_STEP
    return measure_in_words(measure.to(unit), unit, step=step)


def rounded(value: float, standard: float) -> str:
    """Write a value to the place of the second significant figure of its standard uncertainty, which is above 0."""
    places = 1 - int(f"{standard:.1e}".partition("e")[2])
    return f"{value:z.{places}f}" if places >= 0 else f"{round(value, places):z.0f}"


def _nominal_in_both(quantity: Quantity, unit: Unit, written: str) -> str:
    """Put behind a nominal what it is in the unit to build in, and in that of the other system, where not so written.

    Exact conversions lose the zeros that rounding would leave at their end.
    """
    measure = parse_measure(written, unit=unit)
    standard = min(value.standard for value in quantity.values if value.is_nominal and value.written == written)
    wanted = [each for each in (unit, other_unit(unit)) if each and _is_new(each, measure)]
    told = [_beside(measure, each, _spread(standard, unit, each), exact=True) for each in wanted]
    return f"{written} ({'; '.join(told)})" if told else written


def _is_new(unit: Unit, measure: Measure) -> bool:
    return measure.series is not None or unit.is_imperial != measure.unit.is_imperial


def _beside(measure: Measure, unit: Unit, standard: float, *, exact: bool = False) -> str:
    """Write a figure in another unit; feet and inches in fractions, unless known closer than a rule is divided."""
    if unit.is_imperial and unit.dimension == "length" and standard * unit.factor >= _FINEST:
        return measure_in_words(measure.to(unit), unit, step=standard)
    return _told(measure, unit, standard, exact=exact)


def _told(measure: Measure, unit: Unit, standard: float, *, exact: bool = False) -> str:
    figure = rounded(float(measure.to(unit)), standard)
    if exact and "." in figure:
        figure = figure.rstrip("0").rstrip(".")
    return f"{figure} {unit.printed}"


def _plain(value: Fraction, unit: Unit) -> Measure:
    return Measure(written="", value=value, unit=unit, last_place=Fraction(1))


def _spread(standard: float, unit: Unit, other: Unit) -> float:
    return float(_plain(Fraction(standard), unit).spread_to(other))
