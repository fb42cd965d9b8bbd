"""The dossier of a component or of one feature as a value: everything that somebody who makes it or doubts it asks.

It holds what `evidence` answers, and beside that each line of evidence as it is shown: the picture of its place, who
made the source and who holds it; why other answers lost; what was decided, made and doubted.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

from provenance.records.archive import Archive
from provenance.records.claims import At
from provenance.records.decisions import Decision, Query
from provenance.records.sources import Source
from provenance.reports.descended import Descended
from provenance.reports.document import Picture
from provenance.reports.evidence import Evidence, FeatureEvidence
from provenance.rules.public_values import PublicArchive
from provenance.rules.verdicts import Candidate, JudgedItem

Shown: TypeAlias = tuple[str, At, str | None]
"""What a picture is wanted of: the id of a source, a place in it, and the words that stand there (None: not quoted)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictured:
    """What there is to look at of a place.

    Attributes:
        picture: None where there is none.
        said: what is looked at, or why there is no picture, in words; empty for nothing to say.
    """

    picture: Picture | None = None
    said: str = ""


Pictures: TypeAlias = Mapping[Shown, Pictured]
"""By place; of a place that is not in it there is no picture, and nothing is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Exhibit:
    """One place in a source, and what was made of it.

    Attributes:
        items: what it says, one or more: of what is seen there, and of what signs tell.
        source: where it stands.
        maker: who made the source, as print names them; empty where that is not said.
        shown: what there is to look at.
    """

    items: tuple[JudgedItem, ...]
    source: Source
    maker: str
    shown: Pictured

    @property
    def counts(self) -> bool:
        """Whether the value rests on it: it is in the weightiest set."""
        return any(item.counted for item in self.items)

    @property
    def has_weight(self) -> bool:
        """Whether it takes part in judgement at all."""
        return any(item.weight > 0 for item in self.items)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rival:
    """Another answer than the best one.

    Attributes:
        set_aside: why the team's decision goes against what speaks for it; empty where it does not say.
    """

    candidate: Candidate
    exhibits: tuple[Exhibit, ...]
    set_aside: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureDossier:
    """One feature.

    Attributes:
        exhibits: what speaks for the best value and against it, what counts first; empty where nothing supports any.
        rivals: the likeliest first.
        past: the decisions about it that are not in force: replaced, withdrawn, only proposed; the latest first.
        queries: what is doubted about it or a decision on it, open ones first; empty in public.
        is_queried: whether something is in doubt that has not been answered.
        photographs: pictures of what was made, by the number of the piece in the decision in force, counted from 0.
        descended: what the evidence for the best value goes back to; None where there is nothing to draw.
    """

    feature: FeatureEvidence
    exhibits: tuple[Exhibit, ...] = ()
    rivals: tuple[Rival, ...] = ()
    past: tuple[Decision, ...] = ()
    queries: tuple[Query, ...] = ()
    is_queried: bool = False
    photographs: Mapping[int, Pictured]
    descended: Descended | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dossier:
    """The whole dossier.

    Attributes:
        evidence: what `evidence` answers.
        assembly: the names of the assemblies that the component is part of, the outermost first.
        people: names by id, for those who decided, asked and answered; empty in public.
    """

    evidence: Evidence
    features: tuple[FeatureDossier, ...]
    assembly: tuple[str, ...]
    people: Mapping[str, str]

    def person(self, person_id: str | None) -> str:
        """Name somebody; empty where nobody is named."""
        return self.people.get(person_id, person_id) if person_id else ""


def compose_dossier(
    evidence: Evidence,
    archive: Archive,
    pictures: Pictures,
    descents: Mapping[str, Descended],
) -> Dossier:
    """Put the dossier for the team or the workshop together.

    Args:
        evidence: what `evidence` answers.
        archive: what it was judged on.
        pictures: of the places that `places_shown` names.
        descents: by `component/feature`.
    """
    people = {person.id: person.name for person in archive.people}
    makers = {each: _maker(source, people) for each, source in archive.sources.items()}
    return _composed(evidence, archive, makers, pictures, descents, people=people)


def compose_public_dossier(
    evidence: Evidence, view: PublicArchive, pictures: Pictures, descents: Mapping[str, Descended]
) -> Dossier:
    """Put the dossier for a contractor or the public together, from the public view alone.

    Args:
        evidence: what `evidence` answers to them.
        view: the archive as the public sees it.
        pictures: of the places that `places_shown` names.
        descents: by `component/feature`, of the view's own archive.
    """
    composed = _composed(evidence, view.archive, view.creators, pictures, descents, people={})
    features = tuple(
        replace(each, is_queried=each.feature.verdict.feature in view.queried) for each in composed.features
    )
    return replace(composed, features=features)


def places_shown(evidence: Evidence) -> tuple[Shown, ...]:
    """The places of which a dossier shows a picture, each once: whatever has weight, and photographs of what was made.

    Of a photograph of what was made no place is named.
    """
    wanted: dict[Shown, None] = {}
    for feature in evidence.features:
        for candidate in feature.verdict.candidates:
            wanted.update((shown_of(item), None) for item in candidate.items if item.weight > 0)
        decision = feature.verdict.decision
        wanted.update((_photograph(made.photo), None) for made in (decision.made if decision else ()) if made.photo)
    return tuple(wanted)


def shown_of(item: JudgedItem) -> Shown:
    """What a picture of an item is a picture of."""
    return item.source, item.at, item.quote


def _photograph(source_id: str) -> Shown:
    return source_id, At(), None


def _maker(source: Source, people: Mapping[str, str]) -> str:
    if source.creator is None or source.creator == "unknown":
        return ""
    return people.get(source.creator, source.creator)


def _composed(
    evidence: Evidence,
    archive: Archive,
    makers: Mapping[str, str],
    pictures: Pictures,
    descents: Mapping[str, Descended],
    *,
    people: Mapping[str, str],
) -> Dossier:
    features = tuple(
        _feature(each, archive, makers, pictures, descents.get(each.verdict.feature)) for each in evidence.features
    )
    return Dossier(
        evidence=evidence,
        features=features,
        assembly=tuple(_assembly(archive, evidence.component.part_of)),
        people=people,
    )


def _assembly(archive: Archive, part_of: str | None) -> Iterator[str]:
    """The names on the way down to a component; a part of itself is none."""
    way: list[str] = []
    while part_of is not None and part_of in archive.components and part_of not in way:
        way.append(part_of)
        part_of = archive.components[part_of].part_of
    yield from (archive.components[each].name for each in reversed(way))


def _feature(
    feature: FeatureEvidence,
    archive: Archive,
    makers: Mapping[str, str],
    pictures: Pictures,
    descended: Descended | None,
) -> FeatureDossier:
    verdict = feature.verdict
    decision = verdict.decision
    set_aside = {each.claim: each.why for each in decision.set_aside} if decision else {}
    queries = _queries(archive, verdict.feature)
    made = decision.made if decision else ()
    return FeatureDossier(
        feature=feature,
        exhibits=_exhibits(verdict.best.items, archive, makers, pictures) if verdict.best else (),
        rivals=tuple(
            Rival(
                candidate=each,
                exhibits=_exhibits(each.items, archive, makers, pictures),
                set_aside=tuple(dict.fromkeys(set_aside[claim] for claim in each.claims if claim in set_aside)),
            )
            for each in verdict.candidates
            if each is not verdict.best
        ),
        past=_past(archive, verdict.feature, decision),
        queries=queries,
        is_queried=any(query.open for query in queries),
        photographs={
            number: pictures[_photograph(each.photo)]
            for number, each in enumerate(made)
            if each.photo and _photograph(each.photo) in pictures
        },
        descended=descended,
    )


def _exhibits(
    items: Iterable[JudgedItem], archive: Archive, makers: Mapping[str, str], pictures: Pictures
) -> tuple[Exhibit, ...]:
    """The items, those of one place together: what counts first, then what has weight, then the rest."""
    by_place: dict[Shown, list[JudgedItem]] = {}
    for item in items:
        by_place.setdefault(shown_of(item), []).append(item)
    found = [
        Exhibit(
            items=tuple(told),
            source=archive.sources[place[0]],
            maker=makers.get(place[0], ""),
            shown=pictures.get(place, Pictured()),
        )
        for place, told in by_place.items()
    ]
    return tuple(sorted(found, key=lambda each: (not each.counts, not each.has_weight)))


def _past(archive: Archive, feature: str, in_force: Decision | None) -> tuple[Decision, ...]:
    others = [each for each in archive.decisions.values() if each.about == feature and each is not in_force]
    return tuple(sorted(others, key=lambda each: (each.date.text, each.id), reverse=True))


def _queries(archive: Archive, feature: str) -> tuple[Query, ...]:
    """What is doubted about a feature, or about a decision on it; open ones first, then by id."""
    decisions = {each.id for each in archive.decisions.values() if each.about == feature}
    asked = [each for each in archive.queries.values() if each.about == feature or each.about in decisions]
    return tuple(sorted(asked, key=lambda each: (not each.open, each.id)))
