"""What the evidence says of a measure: the figures taken, what they come to together, and how sure that is."""

from dataclasses import dataclass

from provenance.records.kinds import Condition
from provenance.rules.grades import Category

JUST_WITHIN = 1 + 1e-9  # widths nearer than this are equal: no last bit and no change of units decides anything


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredValue:
    """One figure as a source gives it, in the unit to build in.

    Attributes:
        claim: id of the claim.
        source: id of the source.
        written: as written.
        value: in the unit of the feature.
        half_width: give or take, in the same unit; for a standard uncertainty u it is u times the root of 3.
        standard: the standard uncertainty, in the same unit.
        is_nominal: a figure that a drawing, specification, manual or catalogue states; any other counts as measured.
        condition: of the piece that was measured; only a sound one sets the value.
        applies: how near it comes to the machine represented.
        weight: in decibans, before carrying over; 0 for one that takes no part.
        counted: whether the mean was taken over it.
    """

    claim: str
    source: str
    written: str
    value: float
    half_width: float
    standard: float
    is_nominal: bool
    condition: Condition
    applies: Category
    weight: float
    counted: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class NearSize:
    """A size of the trade near a mean: a gauge, a thread or a fraction of an inch, in the unit to build in."""

    name: str
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """What the figures of the best value come to.

    Attributes:
        unit: the unit to build in, as the feature names it; all figures are in it.
        nominal: the nominal figure that is the value; None where no nominal of this machine or a group with it leads.
        nominal_written: the same as written.
        mean: of the counted sound measurements; None where there is none.
        expanded: U = 2u, give or take; of the nominal alone its half-width; None only where neither is known.
        chi_square: of the counted measurements about their fixed mean; None where there is none.
        degrees: degrees of freedom, n - 1; None where there is none.
        birge: root of chi-square by degrees; None for fewer than two measurements.
        consistent: whether the measurements agree (p >= .05); None where there is none.
        between: the standard deviation between sources that was added, in the unit; 0 where they agree; None as mean.
        needed: the half-width within which it must be known; None where the feature names none.
        values: all figures of the best value, in order of claim and source.
        near: sizes of the trade within U of the mean, the nearest first; none where there is no mean.
    """

    unit: str
    nominal: float | None
    nominal_written: str | None
    mean: float | None
    expanded: float | None
    chi_square: float | None
    degrees: int | None
    birge: float | None
    consistent: bool | None
    between: float | None
    needed: float | None
    values: tuple[MeasuredValue, ...]
    near: tuple[NearSize, ...] = ()

    @property
    def disagreement(self) -> bool:
        """Whether the measurements differ by more than their uncertainties allow."""
        return self.consistent is False

    @property
    def not_close_enough(self) -> bool:
        """Whether it must be known more closely than it is; so too where nothing says how closely it is known."""
        return self.needed is not None and (self.expanded is None or self.expanded > self.needed * JUST_WITHIN)
