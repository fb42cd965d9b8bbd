"""The figure of a claim as one item gives it: nominal or measured, and give or take how much."""

from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from provenance.records.claims import Claim
from provenance.records.components import Feature
from provenance.records.kinds import How, SourceKind
from provenance.records.measures import Measure, MeasureError, parse_measure
from provenance.records.units import UNITS, Unit, parse_unit
from provenance.rules.assessing import Assessed

_STATING_NOMINALS = frozenset({SourceKind.DRAWING, SourceKind.SPECIFICATION, SourceKind.MANUAL, SourceKind.CATALOGUE})
# What a nominal is good to where it does not say: common practice, no source.
_FEET_AND_INCHES = UNITS["in"].factor / 64
_METRIC = UNITS["mm"].factor / 2
_TOO_FINE = UNITS["um"]


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure in the unit to build in, with how sure it is.

    Attributes:
        value: exact.
        variance: the square of its standard uncertainty, exact.
        half_width: give or take; for a standard uncertainty u it is u times the root of 3.
        is_nominal: a figure that a drawing, specification, manual or catalogue states.
    """

    value: Fraction
    variance: Fraction
    half_width: float
    is_nominal: bool

    @property
    def standard(self) -> float:
        """The standard uncertainty."""
        return sqrt(self.variance)


def unit_of(feature: Feature) -> Unit | None:
    """Give the unit to build in; None where the feature names none that is known."""
    try:
        return parse_unit(feature.unit or "")
    except MeasureError:
        return None


def read_measure(written: str | None, unit: Unit) -> Measure | None:
    """Read a figure that can be told in that unit; None where there is none, or none that can be read."""
    try:
        return parse_measure(written or "", unit=unit)
    except MeasureError:
        return None


def figure_of(assessed: Assessed, unit: Unit) -> Figure | None:
    """Read the figure of an item's claim, as sure as that item gives it; None where it cannot be read.

    The standard uncertainty of a half-width a, within which any value is as likely as another, is a / sqrt 3 (JCGM
    100:2008, *Guide to the expression of uncertainty in measurement*, 4.3.7).
    """
    measure = read_measure(assessed.claim.value, unit)
    if measure is None:
        return None
    is_nominal = is_laid_down(assessed.kind, assessed.weighed.how)
    spread = _given(assessed.claim, unit)
    if spread is not None and assessed.claim.uncertainty_standard:
        return Figure(measure.to(unit), spread * spread, float(spread) * sqrt(3), is_nominal)
    if spread is None:
        spread = laid_down_to(measure, unit) if is_nominal else measure.last_place_in(unit) / 2
    return Figure(measure.to(unit), spread * spread / 3, float(spread), is_nominal)


def is_laid_down(kind: SourceKind | None, how: How) -> bool:
    """Whether a figure is nominal: what a drawing, specification, manual or catalogue states, not what was measured."""
    return kind in _STATING_NOMINALS and how is How.STATES


def _given(claim: Claim, unit: Unit) -> Fraction | None:
    """Give the uncertainty that the claim names; one that cannot be read, or is not above 0, says nothing."""
    measure = read_measure(claim.uncertainty, unit)
    spread = measure.spread_to(unit) if measure else Fraction(0)
    return spread if spread > 0 else None


def laid_down_to(measure: Measure, unit: Unit) -> Fraction:
    """Give the half-width of a figure that the works lay down and that names none.

    1/64 in for feet and inches, .5 mm for metric lengths (common practice, no source); of others half the last place.
    """
    if measure.feet_and_inches:
        return _FEET_AND_INCHES / unit.factor
    is_metric = unit.dimension == "length" and not measure.unit.is_imperial and measure.unit != _TOO_FINE
    if is_metric and measure.series is None:
        return _METRIC / unit.factor
    return measure.last_place_in(unit) / 2
