"""The figure that is chosen for a measure, in the unit to build in, and how closely it is meant."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from provenance.records.components import Feature
from provenance.records.kinds import FeatureKind
from provenance.records.measures import MeasureError, parse_measure
from provenance.records.units import Unit
from provenance.rules.give_or_take import laid_down_to, unit_of
from provenance.rules.verdicts import Candidate, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenFigure:
    """A figure that something is built to, or that the evidence gives.

    Attributes:
        value: in `unit`.
        unit: the unit of the feature; of other kinds than a quantity the unit written.
        rounding: what a figure that the works lay down is meant to: what is nearer than that is the same.
        give_or_take: how closely it is known; 0 for what was decided.
    """

    value: Fraction
    unit: Unit
    rounding: Fraction
    give_or_take: Fraction = Fraction(0)

    def to(self, unit: Unit) -> "ChosenFigure":
        """The same in another unit of its dimension."""
        by = self.unit.factor / unit.factor
        value = (self.value * self.unit.factor + self.unit.offset - unit.offset) / unit.factor
        return ChosenFigure(value=value, unit=unit, rounding=self.rounding * by, give_or_take=self.give_or_take * by)


def figure_of(feature: Feature, wording: str) -> ChosenFigure | None:
    """Read a wording as a figure of a measure; None for other kinds of feature, and where it is none."""
    unit = unit_of(feature) if feature.kind is FeatureKind.QUANTITY else None
    return None if unit is None else read_figure(wording, unit)


def read_figure(wording: str, unit: Unit | None) -> ChosenFigure | None:
    """Read a wording as a figure in a unit, in its own where that is None; None where it is none."""
    try:
        measure = parse_measure(wording, unit=unit)
        known = unit or measure.unit
        return ChosenFigure(value=measure.to(known), unit=known, rounding=laid_down_to(measure, known))
    except MeasureError:
        return None


def known_figures(verdict: Verdict) -> Iterator[tuple[Candidate, ChosenFigure]]:
    """The values of a measure with the figure that each comes to; those without a figure are passed over."""
    for candidate in verdict.candidates:
        figure = known_figure(verdict.asked, candidate)
        if figure is not None:
            yield candidate, figure


def known_figure(feature: Feature, candidate: Candidate) -> ChosenFigure | None:
    """The figure that a value comes to: the nominal one as written, else the mean, else as the claim has it.

    None where that is no figure, and for other kinds of feature.
    """
    quantity, unit = candidate.quantity, unit_of(feature)
    if unit is None or feature.kind is not FeatureKind.QUANTITY:
        return None
    known = Fraction(quantity.expanded or 0) if quantity else Fraction(0)
    if quantity and quantity.nominal_written is None and quantity.mean is not None:
        return ChosenFigure(value=Fraction(quantity.mean), unit=unit, rounding=Fraction(0), give_or_take=known)
    written = read_figure((quantity.nominal_written if quantity else None) or candidate.value, unit)
    return written and replace(written, give_or_take=known)
