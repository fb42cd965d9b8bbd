"""Measures: figures with their units, as people write them.

What is read: figures with a unit (`1029 mm`, `40.5 in`, `1/2 in`, `12 lb/sq in`), parts of falling units
(`3 ft 4 1/2 in`, `2' 6 3/8"`, `3'-4½`, `12° 30'`, `2 cwt 3 qr`), sizes of a series (`16 SWG`, `2 BA`, `1/4 BSF`), one
figure in two systems (`1028.7 mm (3 ft 4 1/2 in)`, which must agree), and numbers of pieces (`4 off`, `four`). Gallons,
pints, hundredweights and tons are imperial unless `US` stands before them. Only temperatures and angles may be
negative. What can be read in two ways is refused with the choices; nothing is guessed.
"""

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from provenance.records.figures import NUMBER, Figure, read_figure
from provenance.records.measure_errors import AmbiguousMeasureError, MeasureError
from provenance.records.measure_parts import read_parts
from provenance.records.measure_refusals import refuse_bare, refuse_text
from provenance.records.measure_text import plain_figure
from provenance.records.series import find_size, gauges_with, refuse_gauge_alone
from provenance.records.sizes import Size
from provenance.records.units import UNITS, Unit, find_unit, kind_of
from provenance.records.wording import quote

__all__ = ["AmbiguousMeasureError", "Measure", "MeasureError", "parse_measure"]

LONGEST = 100
_ONE_FIGURE = re.compile(rf"{NUMBER}\s?(?P<unit>[^0-9].*)?", re.VERBOSE)
_TWO_SYSTEMS = re.compile(r"(?P<first>[^()]+?)\s?\((?P<second>[^()]+)\)")
_DIAMETER = re.compile(
    r"(?:dia|diam|diameter)\.?\s(?P<after>.+)|(?P<before>.+?)\s?(?:dia|diam|diameter)\.?", re.IGNORECASE
)
_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_MAY_BE_NEGATIVE = frozenset({"temperature", "angle"})
_OF_ARC = {"'": "arcmin", "min": "arcmin", "minutes": "arcmin", '"': "arcsec", "sec": "arcsec", "seconds": "arcsec"}
_WEIGHT_AS_FORCE = {"oz": "ozf", "lb": "lbf", "ton": "tonf", "kg": "kgf"}
_FEET_AND_INCHES = frozenset({"ft", "in"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A figure as written, convertible but never converted in place.

    Attributes:
        written: as written.
        value: the figure, exactly, in `unit`.
        unit: the unit of the last part written: of `3 ft 4 1/2 in` the inch, of `12° 30'` the minute, of `2 BA` the mm.
        last_place: one step of the last written place, in `unit`: 1 of 1029 mm, 1/10 of 40.5 in, 1/2 of 3 ft 4 1/2 in;
            of a size of a series the distance to its nearest neighbour in the series.
        series: the series that the size is one of, such as `SWG`, `BA` or `BSF`; None for a plain figure. For a thread
            the value is its major diameter.
        feet_and_inches: a plain length in feet or inches, with or without a fraction. False for metric lengths, sizes
            of a series, thousandths of an inch, and whatever is no length.
    """

    written: str
    value: Fraction
    unit: Unit
    last_place: Fraction
    series: str | None = None
    feet_and_inches: bool = False

    def to(self, unit: Unit) -> Fraction:
        """The figure in another unit of the same dimension, exactly.

        Raises:
            MeasureError: the other unit measures something else.
        """
        self._require_same(unit)
        if unit is self.unit:
            return self.value
        return (self.value * self.unit.factor + self.unit.offset - unit.offset) / unit.factor

    def spread_to(self, unit: Unit) -> Fraction:
        """The figure in another unit, taken as a difference or a give or take: 9 °F are 5 °C.

        Raises:
            MeasureError: the other unit measures something else.
        """
        self._require_same(unit)
        return self.value * self.unit.factor / unit.factor

    def last_place_in(self, unit: Unit) -> Fraction:
        """One step of the last written place in another unit.

        Raises:
            MeasureError: the other unit measures something else.
        """
        self._require_same(unit)
        return self.last_place * self.unit.factor / unit.factor

    def _require_same(self, unit: Unit) -> None:
        if unit.dimension != self.unit.dimension:
            raise MeasureError(
                f"{quote(self.written)} is {kind_of(self.unit)}, and {kind_of(unit)} is wanted, in {unit.id}",
                f"write {kind_of(unit)} with its unit, such as `… {unit.id}`, or correct the `unit` of the feature",
            )


@lru_cache(maxsize=65_536)
def parse_measure(written: str, *, unit: Unit | None = None) -> Measure:
    """Read a figure with its unit as people write it.

    Args:
        written: such as `3 ft 4 1/2 in`, `1029 mm`, `16 SWG`, `2 BA`, `12 lb/sq in`.
        unit: the unit of the feature: a figure of another dimension is refused, minutes are of arc where it is an
            angle, pounds are a force where it is one, and a number of pieces needs no unit. None where any will do.

    Raises:
        MeasureError: it cannot be read, has no unit, or measures something else than `unit` does.
        AmbiguousMeasureError: it can be read in several ways; the choices are named.
    """
    if len(written) > LONGEST:
        raise MeasureError(f"{quote(written)} is too long for a figure", "write the figure with its unit alone")
    measure = _read(plain_figure(written), written, unit)
    if unit is not None:
        measure = _as_force(measure, unit)
        measure._require_same(unit)  # noqa: SLF001 - one thought with the class
    return measure


def _read(text: str, written: str, unit: Unit | None) -> Measure:
    found = _ONE_FIGURE.fullmatch(text)
    if found is not None:
        name = found["unit"]
        own = _unit_named(name, unit) if name else None
        if own is not None:
            if name == "g" and (unit is None or unit.dimension == "length") and gauges_with(text[:-1].rstrip()):
                raise refuse_gauge_alone(text[:-1].rstrip(), written, may_be_grams=unit is None)
            return _measure(read_figure(found, written), own, written)
        if name is None:
            return _bare(found, text, written, unit)
    return _read_otherwise(text, written, unit)


def _unit_named(name: str, unit: Unit | None) -> Unit | None:
    if unit is not None and unit.dimension == "angle" and name in _OF_ARC:
        return UNITS[_OF_ARC[name]]
    return find_unit(name)


def _measure(figure: Figure, unit: Unit, written: str) -> Measure:
    is_length = unit.id in _FEET_AND_INCHES
    if figure.is_dotted and not (unit.is_imperial and unit.dimension == "length"):
        plain = f"{figure.value // 1} {figure.value % 1} {unit.id}"
        raise MeasureError(
            f"{quote(written)} can be read in two ways", f"write it without the point, such as `{plain}`"
        )
    if figure.sign and unit.dimension not in _MAY_BE_NEGATIVE:
        raise MeasureError(
            f"{quote(written)} has a sign, which only temperatures and angles have",
            "write the figure alone; which way it is counted stands in the feature's `datum`",
        )
    if unit.dimension == "number" and figure.value.denominator != 1:
        raise MeasureError(f"{quote(written)} is no whole number of pieces", "write a whole number, such as `4 off`")
    value = -figure.value if figure.sign == "-" else figure.value
    return Measure(written=written, value=value, unit=unit, last_place=figure.step, feet_and_inches=is_length)


def _bare(found: re.Match[str], text: str, written: str, unit: Unit | None) -> Measure:
    figure = read_figure(found, written)
    if unit is None or unit.dimension != "number":
        raise refuse_bare(text, written, unit)
    return _measure(figure, unit, written)


def _read_otherwise(text: str, written: str, unit: Unit | None) -> Measure:
    size = find_size(text, written)
    if size is not None:
        return _of_series(size, written)
    parts = read_parts(text, written, is_angle=unit is not None and unit.dimension == "angle")
    if parts is not None:
        return _measure(*parts, written)
    counted = text.casefold().removesuffix(" off")
    if counted in _WORDS and (unit is None or unit.dimension == "number"):
        value = Fraction(_WORDS.index(counted) + 1)
        return Measure(written=written, value=value, unit=UNITS["off"], last_place=Fraction(1))
    both = _TWO_SYSTEMS.fullmatch(text)
    if both is not None:
        return _agreeing(_read(both["first"], both["first"], unit), both["second"], written, unit)
    diameter = _DIAMETER.fullmatch(text)
    if diameter is not None:
        measure = replace(_read((diameter["after"] or diameter["before"]).strip(), written, unit), written=written)
        if measure.unit.dimension == "length":
            return measure
    raise refuse_text(text, written, unit)


def _of_series(size: Size, written: str) -> Measure:
    return Measure(written=written, value=size.value, unit=size.unit, last_place=size.step, series=size.series)


def _agreeing(first: Measure, second: str, written: str, unit: Unit | None) -> Measure:
    """The first of two figures, where the second is the same within half of the last places of both."""
    other = _read(second.strip(), second, unit)
    apart = abs(first.to(first.unit) - other.to(first.unit))
    if apart > (first.last_place + other.last_place_in(first.unit)) / 2:
        shown = f"{float(other.to(first.unit)):.6g} {first.unit.printed}"
        raise MeasureError(
            f"{quote(written)} contradicts itself: {other.written} is {shown}",
            "write the one that stands in the source; where both do, the one it was made to",
        )
    return replace(first, written=written)


def _as_force(measure: Measure, unit: Unit) -> Measure:
    """Pounds, tons and kilograms are weights where a force is wanted, as the trade writes them."""
    if unit.dimension == "force" and measure.unit.id in _WEIGHT_AS_FORCE:
        return replace(measure, unit=UNITS[_WEIGHT_AS_FORCE[measure.unit.id]])
    return measure
