"""A figure as it will be understood, for whoever is entering it: in both systems, with its give or take."""

from dataclasses import dataclass
from fractions import Fraction
from math import floor, log10

from provenance.records.components import Feature
from provenance.records.kinds import How, SourceKind
from provenance.records.measures import Measure, MeasureError, parse_measure
from provenance.records.printed_measures import measure_in_words
from provenance.records.units import Unit, other_unit
from provenance.records.wording import quote
from provenance.rules.give_or_take import is_laid_down, laid_down_to, unit_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadBack:
    """A figure that was understood.

    Attributes:
        figures: the same figure in the unit to build in and in the other system, where it is not so written.
        give_or_take: the half-width in the unit to build in, and in the other system where there is one.
        why: where the give or take comes from, in words.
    """

    written: str
    figures: tuple[str, ...]
    give_or_take: tuple[str, ...]
    why: str

    @property
    def sentence(self) -> str:
        """All of it, such as `3 ft 4 1/2 in, that is 1028.7 mm, give or take 1/64 in (0.4 mm), as …`."""
        same = f", that is {' or '.join(self.figures)}" if self.figures else ""
        first, *others = self.give_or_take
        beside = f" ({'; '.join(others)})" if others else ""
        return f"{self.written}{same}, give or take {first}{beside}, {self.why}"


def read_back(
    feature: Feature, written: str, uncertainty: str | None, *, kind: SourceKind | None, how: How
) -> ReadBack | None:
    """Read a figure as the judgement will (the give or take is that of `give_or_take.figure_of`).

    Args:
        feature: of the kind `quantity`; without a unit that is known nothing can be read back.
        written: the figure.
        uncertainty: give or take, as written; None or empty where none is given.
        kind: of the source; None where it is not said.
        how: how the source speaks of it.

    Returns:
        None where the feature has no unit that is known.

    Raises:
        MeasureError: the figure or the give or take cannot be read, or in several ways; the mend names the choices.
    """
    unit = unit_of(feature)
    if unit is None:
        return None
    measure = parse_measure(written, unit=unit)
    half, why = _half_width(measure, unit, uncertainty, is_nominal=is_laid_down(kind, how))
    units = [each for each in (unit, other_unit(unit)) if each]
    figures = [
        _in_words(measure.to(each), each, _in(half, unit, each))
        for each in units
        if measure.series is not None or each.is_imperial != measure.unit.is_imperial
    ]
    spread = [_in_words(_in(half, unit, each), each, _in(half, unit, each)) for each in units]
    return ReadBack(written=" ".join(written.split()), figures=tuple(figures), give_or_take=tuple(spread), why=why)


def _half_width(measure: Measure, unit: Unit, uncertainty: str | None, *, is_nominal: bool) -> tuple[Fraction, str]:
    if uncertainty:
        given = parse_measure(uncertainty, unit=unit).spread_to(unit)
        if given <= 0:
            raise MeasureError(
                f"a give or take of {quote(uncertainty)} is not more than nothing",
                "write how far the figure may be off either way, such as `1/4 in`",
            )
        return given, "as you say"
    if is_nominal:
        return laid_down_to(measure, unit), "which is usual for a figure that the works lay down"
    return measure.last_place_in(unit) / 2, "half of its last place, since none is said"


def _in_words(value: Fraction, unit: Unit, half: Fraction) -> str:
    """Feet and inches in fractions; others to the second figure of the half-width, without zeros at the end.

    At most two figures of an uncertainty mean anything (JCGM 100:2008, 7.2.6).
    """
    if unit.is_imperial and unit.dimension == "length":
        return measure_in_words(value, unit, step=half)
    place = Fraction(10) ** (floor(log10(half)) - 1)
    return measure_in_words(round(value / place) * place, unit)


def _in(spread: Fraction, unit: Unit, other: Unit) -> Fraction:
    return spread * unit.factor / other.factor
