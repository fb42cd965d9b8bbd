"""The weight of one item before anything is carried over, in decibans, and how it speaks after what it can show."""

from dataclasses import dataclass

from provenance.records.claims import EvidenceItem, Seen
from provenance.records.components import Feature
from provenance.records.dates import EdtfDate, certainly_more_than_years
from provenance.records.kinds import Aspect, How, Legibility, SourceKind
from provenance.records.sources import Source
from provenance.rules.weights import Weights

_DIRECT = frozenset({How.MEASURED, How.SHOWS, How.STATES})
_PICTURES = frozenset({SourceKind.PHOTOGRAPH, SourceKind.FILM, SourceKind.ARTWORK})
ACCOUNTS = frozenset(
    {
        SourceKind.LETTER,
        SourceKind.REPORT,
        SourceKind.NOTES,
        SourceKind.NEWSPAPER,
        SourceKind.BOOK,
        SourceKind.OPINION,
        SourceKind.ORAL_HISTORY,
        SourceKind.WEBSITE,
    }
)
"""Kinds of source in which somebody tells what he knows; one made long after is late memory."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """An item on the scales.

    Attributes:
        weight: in decibans, before carrying over.
        how: as taken.
        direct: whether it is measured, shown or stated, as taken.
        late_memory: whether it is an account made long after what it speaks of.
        reasons: what changed its weight, in words; empty for a plain one.
    """

    weight: float
    how: How
    direct: bool
    late_memory: bool
    reasons: tuple[str, ...]


def weigh(
    item: EvidenceItem,
    source: Source | None,
    feature: Feature,
    *,
    speaks_of: EdtfDate | None,
    weights: Weights,
) -> Weighed:
    """Weigh one item: base by kind, times reliability, how it speaks, legibility and late memory.

    Args:
        item: the record.
        source: its source; None for one that the archive does not have.
        feature: what it is held to speak of.
        speaks_of: the date that an account looks back to (see `looks_back_to`); None where none is known.
        weights: the weights to use.
    """
    how = how_taken(item.how, source, feature.aspect)
    late = source is not None and is_late_memory(source, speaks_of, weights.late_years)
    weightless = _why_weightless(source)
    if source is None or source.kind is None or weightless:
        return Weighed(0.0, how, how in _DIRECT, late, (weightless,))
    weight = weights.base[source.kind] * weights.how[how]
    reasons = [] if how is item.how else [f"{_of_kind(source.kind)} cannot show this for certain, so taken as implied"]
    if how is How.ANALOGY:
        reasons.append("by analogy only")
    elif how is How.IMPLIES and how is item.how:
        reasons.append("implied, not shown or stated")
    if source.reliability is not None:
        weight *= weights.reliability[source.reliability]
        reasons.append(f"its source is judged {source.reliability} for reliability")
    if item.legibility is Legibility.DOUBTFUL:
        weight *= weights.doubtful
        reasons.append("the place can hardly be read")
    if late:
        weight *= weights.late_memory
        reasons.append(f"told more than {weights.late_years} years after")
    return Weighed(weight, how, how in _DIRECT, late, tuple(reasons))


def how_taken(how: How, source: Source | None, aspect: Aspect) -> How:
    """Take as implied what a source of that kind cannot show; what is weaker already stays so.

    A photograph, film or artwork for a material; for a finish unless in colour; for a dimension or quantity unless
    measured. An oral history for a dimension.
    """
    if source is None or how not in _DIRECT:
        return how
    if source.kind in _PICTURES:
        beyond = (
            aspect is Aspect.MATERIAL
            or (aspect is Aspect.FINISH and source.process != "colour")
            or (aspect in (Aspect.DIMENSION, Aspect.QUANTITY) and how is not How.MEASURED)
        )
    else:
        beyond = source.kind is SourceKind.ORAL_HISTORY and aspect is Aspect.DIMENSION
    return How.IMPLIES if beyond else how


def looks_back_to(seen: Seen | None, as_at: EdtfDate | None) -> EdtfDate | None:
    """Give the date that an account speaks of: when the machine was seen, else the day represented."""
    return seen.when if seen is not None and seen.when is not None else as_at


def is_late_memory(source: Source, speaks_of: EdtfDate | None, late_years: int) -> bool:
    """Say whether a source is an account made certainly more than so many years after what it speaks of."""
    return (
        source.kind in ACCOUNTS
        and source.created is not None
        and speaks_of is not None
        and certainly_more_than_years(speaks_of, source.created, late_years)
    )


def _why_weightless(source: Source | None) -> str:
    if source is None:
        return "the archive has no such source"
    if source.kind is None:
        return "nobody has said yet what kind of source this is"
    return "an unbuilt design" if source.executed is False else ""


def _of_kind(kind: SourceKind) -> str:
    name = kind.replace("-", " ")
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"
