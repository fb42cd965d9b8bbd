"""What makes sense to be asked of a source about a feature, by the kinds of both."""

from dataclasses import dataclass

from provenance.records.components import Feature
from provenance.records.kinds import Aspect, FeatureKind, SourceKind
from provenance.records.sources import Source
from provenance.rules.applicability import SIGHTS

_THINGS = frozenset({SourceKind.ARTEFACT, SourceKind.SURVEY, SourceKind.ANALYSIS})
_SPOKEN = frozenset({SourceKind.ORAL_HISTORY, SourceKind.FILM})


@dataclass(frozen=True, slots=True, kw_only=True)
class Askable:
    """What makes sense to be asked.

    Attributes:
        uncertainty: give or take how much.
        condition: of the piece that was measured.
        seen: which machine was seen; a statement has none.
        signs: what was seen of the signs that tell the options apart.
        via: through which of its parents the source has it.
        who: who speaks there.
    """

    uncertainty: bool
    condition: bool
    seen: bool
    signs: bool
    via: bool
    who: bool


def askable(feature: Feature | None, source: Source) -> Askable:
    """Say what makes sense to be asked.

    Args:
        feature: None where it was not chosen yet: then whatever may make sense for some feature does.
        source: without a kind, whatever may make sense for some kind does.
    """
    kind = source.kind
    is_figure = feature is None or feature.kind is FeatureKind.QUANTITY
    is_measured = feature is None or is_figure or feature.aspect in {Aspect.DIMENSION, Aspect.FIT}
    is_sight = kind is None or kind in SIGHTS
    return Askable(
        uncertainty=is_figure,
        condition=(kind is None or kind in _THINGS) and is_measured,
        seen=is_sight,
        signs=is_sight and feature is not None and feature.kind is FeatureKind.CHOICE,
        via=bool(source.derives_from),
        who=kind is None or kind in _SPOKEN,
    )
