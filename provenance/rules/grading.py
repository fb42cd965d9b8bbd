"""The grade of a value: a ladder of rules of which the first that holds decides."""

from collections.abc import Callable
from dataclasses import dataclass

from provenance.records.kinds import SourceKind
from provenance.rules.assessing import Assessed, is_direct_of
from provenance.rules.grades import Category, Grade
from provenance.rules.posterior import at_least
from provenance.rules.weights import Weights

SAW_AS_BUILT = frozenset(
    {
        SourceKind.ARTEFACT,
        SourceKind.PHOTOGRAPH,
        SourceKind.FILM,
        SourceKind.SURVEY,
        SourceKind.ANALYSIS,
        SourceKind.LOGBOOK,
        SourceKind.REPORT,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Witnessed:
    """A supporting item of weight and the kind of its source (None: not known)."""

    assessed: Assessed
    kind: SourceKind | None

    def is_direct_of(self, *categories: Category) -> bool:
        """Whether it speaks directly of one of these categories."""
        return is_direct_of(self.assessed, *categories)

    @property
    def is_the_part_itself(self) -> bool:
        """Whether it is the very part of this machine and tells directly; only its number makes a sighting `itself`."""
        is_sighting = self.assessed.seen is not None
        return self.kind is SourceKind.ARTEFACT and is_sighting and self.is_direct_of(Category.ITSELF)

    @property
    def saw_it_as_built(self) -> bool:
        """Whether it saw the thing as built on this machine or a group with it, and not from late memory."""
        return (
            self.kind in SAW_AS_BUILT
            and not self.assessed.weighed.late_memory
            and self.is_direct_of(Category.ITSELF, Category.COVERED)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where the best value stands.

    Attributes:
        supporting: its supporting items of weight.
        lines: its independent witnesses.
        posterior: its chance.
        has_rivals: whether another value is supported directly and likely enough to reckon with.
        weights: the thresholds.
    """

    supporting: tuple[Witnessed, ...]
    lines: int
    posterior: float
    has_rivals: bool
    weights: Weights

    @property
    def has_the_part_itself(self) -> bool:
        """Whether the part itself is held."""
        return any(each.is_the_part_itself for each in self.supporting)

    @property
    def is_corroborated(self) -> bool:
        """Whether there are two independent witnesses or more, or the part itself, which needs no second."""
        return self.lines >= 2 or self.has_the_part_itself


def is_rival(posterior: float, supporting: tuple[Witnessed, ...], weights: Weights) -> bool:
    """Say whether another value than the best is to be reckoned with: likely enough, and directly of this machine."""
    return at_least(posterior, weights.contested) and any(
        each.is_direct_of(Category.ITSELF, Category.COVERED) for each in supporting
    )


def _is_by_comparison(standing: Standing) -> bool:
    near = (Category.ITSELF, Category.COVERED, Category.SAME_BATCH)
    return not any(each.is_direct_of(*near) for each in standing.supporting)


def _is_established(standing: Standing) -> bool:
    return (
        at_least(standing.posterior, standing.weights.established)
        and standing.is_corroborated
        and any(each.saw_it_as_built for each in standing.supporting)
    )


def _is_probable(standing: Standing) -> bool:
    return at_least(standing.posterior, standing.weights.probable) and standing.is_corroborated


_LADDER: tuple[tuple[Grade, Callable[[Standing], bool]], ...] = (
    (Grade.UNSUPPORTED, lambda standing: not standing.supporting),
    (Grade.CONTESTED, lambda standing: standing.has_rivals),
    (Grade.INFERRED, _is_by_comparison),
    (Grade.UNCORROBORATED, lambda standing: not standing.is_corroborated),
    (Grade.ESTABLISHED, _is_established),
    (Grade.PROBABLE, _is_probable),
    (Grade.POSSIBLE, lambda _: True),
)


def grade_best(standing: Standing) -> Grade:
    """Grade the best value of a feature by the first rule of the ladder that holds."""
    return next(grade for grade, holds in _LADDER if holds(standing))
