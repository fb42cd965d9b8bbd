"""The kinds of find that a search may bring, from the slightest to the strongest, and each as a record would have it.

The ladder is common practice, no source; its steps stand in the order of what each is worth for the machine by the
standard weights: a letter of the time 8 points, a photograph of a sister 8.2, a report 9, a manual 10, a drawing 10.8,
a photograph by its caption 12.2, by its number 14, a sample analysed 14, the part itself 16. What is slighter than a
letter of the time (recollections, later books) is not named: nobody plans a journey for it.
"""

from dataclasses import dataclass
from enum import StrEnum

from provenance.records.archive import Target
from provenance.records.claims import AppliesTo, EvidenceItem, Seen
from provenance.records.components import Feature
from provenance.records.examples import ExampleSet
from provenance.records.kinds import Aspect, FeatureKind, How, KnownBy, SourceKind, Stance
from provenance.records.production import Production
from provenance.records.sources import Source


class Bearing(StrEnum):
    """Of which machine a find tells, and how that is known."""

    ALONE = "alone"
    GROUP = "group"
    SISTER = "sister"
    CAPTION = "caption"
    NUMBER = "number"


@dataclass(frozen=True, slots=True, kw_only=True)
class HopedFind:
    """A kind of find that somebody may go and look for.

    Attributes:
        words: what it is; `{machine}` stands for the machine, `{it}` for the value or for `it`, `{agreeing}` for what a
            measurement has to come to, or nothing.
        kind: what the source would be.
        bearing: of which machine it would tell.
        how: how it would speak.
        in_colour: whether a picture would be in colour.
    """

    words: str
    kind: SourceKind
    bearing: Bearing
    how: How
    in_colour: bool = False


_LETTER = HopedFind(
    words="a letter of the time that says {it} of {machine}",
    kind=SourceKind.LETTER,
    bearing=Bearing.ALONE,
    how=How.STATES,
)
_REPORT = HopedFind(
    words="a report of the time that says {it} of {machine}",
    kind=SourceKind.REPORT,
    bearing=Bearing.ALONE,
    how=How.STATES,
)
_MANUAL = HopedFind(
    words="a page of a manual for the batch of {machine} that gives {it}",
    kind=SourceKind.MANUAL,
    bearing=Bearing.GROUP,
    how=How.STATES,
)
_DRAWING = HopedFind(
    words="a works drawing for the batch of {machine} that gives {it}",
    kind=SourceKind.DRAWING,
    bearing=Bearing.GROUP,
    how=How.STATES,
)
_SAMPLE = HopedFind(
    words="a sample from {machine}, analysed, that proves {it}",
    kind=SourceKind.ANALYSIS,
    bearing=Bearing.NUMBER,
    how=How.MEASURED,
)
_OF_SISTER = "a sister of its batch"
_BY_CAPTION = "{machine} by its caption"
_BY_NUMBER = "{machine} by its number"


def hoped_finds(feature: Feature) -> tuple[HopedFind, ...]:
    """List the kinds of find that can show such a feature, from the slightest to the strongest.

    No photograph shows a material; a finish is shown by one in colour; a figure has to be measured on it.
    """
    sister, caption, number = (
        _picture(whom, bearing, feature)
        for whom, bearing in (
            (_OF_SISTER, Bearing.SISTER),
            (_BY_CAPTION, Bearing.CAPTION),
            (_BY_NUMBER, Bearing.NUMBER),
        )
    )
    part = _the_part_itself(feature)
    if feature.aspect is Aspect.MATERIAL:
        return _LETTER, _REPORT, _MANUAL, _DRAWING, _SAMPLE, part
    samples = (_SAMPLE,) if feature.aspect is Aspect.FINISH else ()
    return _LETTER, sister, _REPORT, _MANUAL, _DRAWING, caption, number, *samples, part


def _is_measured(feature: Feature) -> bool:
    return feature.kind is FeatureKind.QUANTITY or feature.aspect in {Aspect.DIMENSION, Aspect.QUANTITY}


def _measured(feature: Feature) -> str:
    return "measured" if feature.kind is FeatureKind.QUANTITY else "counted or measured"


def _picture(whom: str, bearing: Bearing, feature: Feature) -> HopedFind:
    in_colour = feature.aspect is Aspect.FINISH
    measured = _is_measured(feature)
    tells = f"on which it can be {_measured(feature)}{{agreeing}}" if measured else "that shows {it}"
    return HopedFind(
        words=f"a {'colour ' if in_colour else ''}photograph of {whom} {tells}",
        kind=SourceKind.PHOTOGRAPH,
        bearing=bearing,
        how=How.MEASURED if measured else How.SHOWS,
        in_colour=in_colour,
    )


def _the_part_itself(feature: Feature) -> HopedFind:
    measured = _is_measured(feature)
    return HopedFind(
        words="the part itself from {machine}, known by its number, "
        + (f"{_measured(feature)}{{agreeing}}" if measured else "that shows {it}"),
        kind=SourceKind.ARTEFACT,
        bearing=Bearing.NUMBER,
        how=How.MEASURED if measured else How.SHOWS,
    )


def in_words(find: HopedFind, machine: str, value: str | None) -> str:
    """Say what the find is.

    Args:
        find: the kind of find.
        machine: the number of the machine.
        value: the value that it has to speak for, as people read it; None for whichever it is.
    """
    it = "it" if value is None else f"“{value}”"
    of_machine = "what it was on {machine}" if value is None else "{it} of {machine}"
    agreeing = "" if value is None else f" and comes to “{value}”"
    # Not str.format: a value may hold braces.
    text = find.words.replace("{it} of {machine}", of_machine).replace("{machine}", f"No. {machine}")
    return text.replace("{agreeing}", agreeing).replace("{it}", it)


def as_records(
    find: HopedFind, source_id: str, production: Production, target: Target
) -> tuple[Source, EvidenceItem] | None:
    """Give the source and the item that such a find would be entered as; None where there is no such machine.

    Args:
        find: the kind of find.
        source_id: the id for the source; it goes back to nothing else.
        production: the production sequence.
        target: what is represented; the find is of that day.
    """
    batch = production.batch_of(target.example) if target.example in production else None
    seen, applies_to = None, None
    if find.bearing is Bearing.SISTER:
        sister = next((each for each in batch.examples if each != target.example), None) if batch else None
        if sister is None:
            return None
        seen = Seen(example=sister, when=target.as_at, known_by=KnownBy.NUMBER)
    elif find.bearing is Bearing.ALONE:
        applies_to = AppliesTo(examples=ExampleSet((target.example,)))
    elif find.bearing is Bearing.GROUP:
        applies_to = AppliesTo(batch=batch.batch) if batch else AppliesTo(examples=ExampleSet(None))
    else:
        seen = Seen(example=target.example, when=target.as_at, known_by=KnownBy(find.bearing.value))
    source = Source(
        id=source_id,
        title=source_id,
        by="",
        date=target.as_at,
        kind=find.kind,
        created=target.as_at,
        process="colour" if find.in_colour else None,
    )
    return source, EvidenceItem(
        source=source_id, stance=Stance.SUPPORTS, how=find.how, seen=seen, applies_to=applies_to
    )
