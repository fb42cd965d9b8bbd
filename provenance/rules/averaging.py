"""Several figures for one thing made into one, with how sure it is and whether they agree."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, isfinite, sqrt

from provenance.rules.chi_square import upper_tail

CONSISTENT_FROM = 0.05
_SUREST = 1e-50  # of the scale; surer figures count as that sure, so that no square vanishes


@dataclass(frozen=True, slots=True, kw_only=True)
class Average:
    """What figures with their standard uncertainties come to; all but the ratios in the unit of the figures.

    Attributes:
        mean: weighted by inverse variance; where the figures disagree, with `between` added to each.
        standard: its standard uncertainty.
        fixed_mean: weighted by inverse variance, with nothing added.
        fixed_standard: its standard uncertainty, if all figures were as sure as they claim to be.
        chi_square: of the figures about their fixed mean.
        degrees: of freedom, one less than there are figures.
        birge: root of chi-square by degrees; None for one figure.
        consistent: whether the figures agree within their uncertainties.
        between: the standard deviation between sources that was added; 0 where the figures agree.
    """

    mean: float
    standard: float
    fixed_mean: float
    fixed_standard: float
    chi_square: float
    degrees: int
    birge: float | None
    consistent: bool
    between: float


@dataclass(frozen=True, slots=True)
class _Scaled:
    """The figures from the least of them, in units of their spread or widest uncertainty: the unit changes nothing."""

    origin: float
    scale: float
    offsets: tuple[float, ...]
    variances: tuple[float, ...]


def average(figures: Sequence[float], standards: Sequence[float]) -> Average:
    """Average figures by inverse variance, and ask whether they agree.

    They agree if a chi-square so large comes by chance at least one time in twenty (Cox, *Metrologia* 39, 2002, 589,
    procedure A; from memory). The ratio is Birge's (*Physical Review* 40, 1932, 207). Where they do not agree, each
    figure is taken to be off by something of its source's own as well, and the variance of that is added to its own
    (Paule & Mandel, *Journal of Research of the National Bureau of Standards* 87, 1982, 377).

    Args:
        figures: at least one, all in one unit and independent of one another; the order does not matter.
        standards: the standard uncertainty of each, above 0.

    Raises:
        ValueError: no figure, not one uncertainty for each, or one that is not above 0; or infinity.
    """
    are_fit = all(map(isfinite, (*figures, *standards))) and all(standard > 0 for standard in standards)
    if not figures or len(figures) != len(standards) or not are_fit:
        raise ValueError("an average needs figures, and for each of them an uncertainty above 0")
    scaled = _scale(figures, standards)
    degrees = len(figures) - 1
    chi_square = _chi_square(scaled, 0.0)
    consistent = degrees == 0 or upper_tail(chi_square, degrees) >= CONSISTENT_FROM
    added = 0.0 if consistent else _variance_between(scaled, degrees)
    mean, standard = _in_unit(scaled, added)
    fixed_mean, fixed_standard = _in_unit(scaled, 0.0)
    return Average(
        mean=mean,
        standard=standard,
        fixed_mean=fixed_mean,
        fixed_standard=fixed_standard,
        chi_square=chi_square,
        degrees=degrees,
        birge=sqrt(chi_square / degrees) if degrees else None,
        consistent=consistent,
        between=sqrt(added) * scaled.scale,
    )


def _scale(figures: Sequence[float], standards: Sequence[float]) -> _Scaled:
    origin = min(figures)
    scale = max(*standards, max(figures) - origin)
    offsets = tuple((figure - origin) / scale for figure in figures)
    return _Scaled(origin, scale, offsets, tuple(max(standard / scale, _SUREST) ** 2 for standard in standards))


def _in_unit(scaled: _Scaled, added: float) -> tuple[float, float]:
    mean, variance = _weighted_mean(scaled, added)
    return scaled.origin + mean * scaled.scale, sqrt(variance) * scaled.scale


def _weighted_mean(scaled: _Scaled, added: float) -> tuple[float, float]:
    """Give the mean and its variance, with so much added to the variance of every figure."""
    weights = [1 / (variance + added) for variance in scaled.variances]
    total = fsum(weights)
    return fsum(map(float.__mul__, weights, scaled.offsets)) / total, 1 / total


def _chi_square(scaled: _Scaled, added: float) -> float:
    mean, _ = _weighted_mean(scaled, added)
    pairs = zip(scaled.offsets, scaled.variances, strict=True)
    return fsum((offset - mean) * (offset - mean) / (variance + added) for offset, variance in pairs)


def _variance_between(scaled: _Scaled, degrees: int) -> float:
    """Give the variance that brings chi-square down to its degrees of freedom.

    Chi-square falls steadily as the variance grows, from above its degrees towards 0: the one root is first shut in,
    then halved in upon until no number lies between. Nothing here can stop short of the answer.
    """
    low, high = 0.0, min(scaled.variances)
    while _chi_square(scaled, high) > degrees:
        low, high = high, high * 4
    while low < (middle := (low + high) / 2) < high:
        if _chi_square(scaled, middle) > degrees:
            low = middle
        else:
            high = middle
    return high
