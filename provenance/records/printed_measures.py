"""Measures as they are printed: to a sensible place, feet and inches in fractions.

What is printed can be read again by `parse_measure` and gives the figure that was printed.
"""

import math
from fractions import Fraction

from provenance.records.units import UNITS, Unit

FINEST_INCH = 64  # the finest division of a rule; closer than that the trade writes decimals
_MOST_PLACES = 6
_INCHES = frozenset({"in", "ft"})


def measure_in_words(value: Fraction | float, unit: Unit, *, step: Fraction | float | None = None) -> str:
    """A figure with its unit, rounded to the place of `step`: `1028.7 mm`, `3 ft 4 1/2 in`, `12° 30'`.

    Args:
        value: in `unit`.
        unit: in which it is printed. Feet and inches are printed together, in halves, quarters and so on to 1/64 in,
            where `step` is no finer; under a foot in inches alone.
        step: the smallest difference that means anything, in `unit`: half of the give or take, for instance. A decimal
            is rounded to the place of its first figure, never coarser than the unit; inches to the first power of two
            that divides as finely. None where the figure is exact: then up to six decimals are printed.
    """
    exact = Fraction(value)
    if unit.id in _INCHES and exact >= 0:
        inches = exact * unit.factor / UNITS["in"].factor
        fineness = _division(inches, None if step is None else Fraction(step) * unit.factor / UNITS["in"].factor)
        if fineness:
            return _feet_and_inches(inches, fineness)
    if unit.id in {"arcmin", "arcsec"}:
        return _degrees(exact, unit)
    return _with_unit(_decimal(exact, step), unit)


def _division(inches: Fraction, step: Fraction | None) -> int:
    """Into how many parts the inch is divided; 0 where decimals are wanted."""
    for division in (1, 2, 4, 8, 16, 32, FINEST_INCH):
        if step and Fraction(1, division) <= step:
            return division
        if not step and (inches * division).denominator == 1:
            return division
    return 0


def _feet_and_inches(inches: Fraction, division: int) -> str:
    """The nearest division, halves to the even one; `0 in` for nothing."""
    feet, rest = divmod(Fraction(round(inches * division), division), 12)
    whole, part = divmod(rest, 1)
    shown = " ".join(str(piece) for piece in (whole, part) if piece) or "0"
    return f"{feet} ft {shown} in" if feet else f"{shown} in"


def _degrees(value: Fraction, unit: Unit) -> str:
    """Degrees and minutes, or degrees, minutes and seconds, to the whole unit."""
    count = abs(round(value))
    sign = "-" if value < 0 and count else ""
    if unit.id == "arcmin":
        return f"{sign}{count // 60}° {count % 60}'"
    return f"{sign}{count // 3600}° {count // 60 % 60}' {count % 60}\""


def _decimal(value: Fraction, step: Fraction | float | None) -> str:
    if step:
        places = min(max(0, -math.floor(math.log10(step))), 2 * _MOST_PLACES)
        return _plain(value, places)
    text = _plain(value, _MOST_PLACES).rstrip("0").rstrip(".")
    return "0" if text in {"", "-", "-0"} else text


def _plain(value: Fraction, places: int) -> str:
    """With that many decimals, exactly rounded, halves to the even figure."""
    count = round(value * 10**places)
    digits = str(abs(count)).rjust(places + 1, "0")
    sign = "-" if count < 0 else ""
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else f"{sign}{digits}"


def _with_unit(figure: str, unit: Unit) -> str:
    return f"{figure}{unit.printed}" if unit.id == "deg" else f"{figure} {unit.printed}"
