"""The answer of `evidence`: what the features of a component rest on, and how sure that is."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from provenance.records.archive import Archive, Target
from provenance.records.components import Component
from provenance.records.decisions import Decision
from provenance.reports.date_words import date_words
from provenance.reports.feature_words import feature_name
from provenance.reports.sequence import SequenceFigure, sequence_of
from provenance.reports.standing import Standing
from provenance.rules.cautions import StandingCaution, cautions_for
from provenance.rules.explaining_change import what_would_change
from provenance.rules.flag_values import Flag
from provenance.rules.lifting import Lifter
from provenance.rules.sensitivity import Sensitivity, sensitivity_of
from provenance.rules.verdicts import Verdict
from provenance.rules.weights import changed_weights


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureEvidence:
    """One feature.

    Attributes:
        verdict: what the evidence says of it.
        flags: the ids of the flags that are raised about it.
        raised: these flags themselves, with what each says; empty in public.
        sensitivity: what the verdict hangs on; None until `compose_evidence` has looked.
        hangs_on: the same in a sentence or two, and what would lift a weak grade; empty where nothing would tell.
        sequence: what was seen on each machine in order of production; None where no machine was seen.
    """

    verdict: Verdict
    flags: tuple[str, ...]
    raised: tuple[Flag, ...] = ()
    sensitivity: Sensitivity | None = None
    hangs_on: str = ""
    sequence: SequenceFigure | None = None

    @property
    def explanation(self) -> str:
        """Why the verdict is what it is, and what would change it."""
        return f"{self.verdict.explanation} {self.hangs_on}".rstrip()


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """What a component, or one feature of it, rests on.

    Attributes:
        place: what was asked for, `component` or `component/feature`.
        without: sources that were left out of judgement for this answer.
        titles: the titles of the sources that are named, by id.
        our_weights: what the team changed of the standard weights: (name, ours, standard); empty for none.
        people: the names of those who released what was decided, by their ids; empty in public.
        mates: the names of the features of other parts that these have to fit, by `component/feature`.
        audience: whom it is for: `team`, `workshop`, `contractor` or `public`.
        notices: sentences that stand on every page: that the object is a modern re-creation, that this is a draft.
    """

    standing: Standing
    place: str
    component: Component
    target: Target
    without: tuple[str, ...]
    cautions: tuple[StandingCaution, ...]
    features: tuple[FeatureEvidence, ...]
    our_weights: tuple[tuple[str, float, float], ...]
    titles: Mapping[str, str] = field(default_factory=dict)
    people: Mapping[str, str] = field(default_factory=dict)
    mates: Mapping[str, str] = field(default_factory=dict)
    audience: str = "team"
    notices: tuple[str, ...] = ()


def compose_evidence(
    archive: Archive,
    standing: Standing,
    target: Target,
    place: str,
    features: tuple[FeatureEvidence, ...],
    *,
    without: tuple[str, ...] = (),
    lifter: Lifter | None = None,
) -> Evidence:
    """Put the verdicts of one component together with the cautions, the weights and the titles that belong to them.

    A `lifter` of the same archive and `without`, where one is at hand, spares making one.
    """
    component = archive.components[place.partition("/")[0]]
    items = [item for feature in features for candidate in feature.verdict.candidates for item in candidate.items]
    named = {item.source for item in items}
    hazards = [*component.hazards, *(hazard for source in named for hazard in archive.sources[source].hazards)]
    released_by = {decision.released.by for decision in _decisions(features) if decision.released}
    rested_on = {source for feature in features for source in feature.verdict.rests_on if source in archive.sources}
    return Evidence(
        standing=standing,
        place=place,
        component=component,
        target=target,
        without=without,
        cautions=cautions_for(archive, hazards),
        features=tuple(_looked_into(archive, feature, frozenset(without), lifter) for feature in features),
        our_weights=changed_weights(archive),
        titles={source: archive.sources[source].title for source in sorted(named | rested_on)},
        people={person.id: person.name for person in archive.people if person.id in released_by},
        mates=dict(_mates(archive, features)),
    )


def _looked_into(
    archive: Archive, feature: FeatureEvidence, without: frozenset[str], lifter: Lifter | None
) -> FeatureEvidence:
    """Say what the verdict hangs on, judged again with one source less or another weight, and what was seen where."""
    sensitivity = sensitivity_of(archive, feature.verdict, without=without)
    lifting = (lifter or Lifter(archive, without=without)).lifting_of(feature.verdict)
    hangs_on = what_would_change(feature.verdict, sensitivity, lifting, archive.sources)
    sequence = sequence_of(archive, feature.verdict)
    return replace(feature, sensitivity=sensitivity, hangs_on=hangs_on, sequence=sequence)


def _mates(archive: Archive, features: Iterable[FeatureEvidence]) -> Iterator[tuple[str, str]]:
    for feature in features:
        for mate in feature.verdict.asked.mates:
            if mate.mate in archive.features:
                yield mate.mate, feature_name(mate.mate, archive)


def _decisions(features: Iterable[FeatureEvidence]) -> Iterator[Decision]:
    for feature in features:
        if feature.verdict.decision is not None:
            yield feature.verdict.decision


def release_words(evidence: Evidence, decision: Decision) -> str:
    """Who released a decision for building, and when; empty where its record does not say."""
    if decision.released is None:
        return ""
    by, date = decision.released.by, date_words(decision.released.date)
    return f"Released by {evidence.people.get(by, by)}, {date}."
