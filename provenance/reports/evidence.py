"""The answer of `evidence`: what the features of a component rest on, and how sure that is."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from provenance.records.archive import Archive, Target
from provenance.records.claims import At
from provenance.records.components import Component
from provenance.records.decisions import Decision
from provenance.reports.cautioned import cautions_json
from provenance.reports.date_words import date_words
from provenance.reports.standing import Standing
from provenance.rules.cautions import StandingCaution, cautions_for
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict
from provenance.rules.weights import changed_weights


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureEvidence:
    """One feature: its verdict, and the ids of the flags that are raised about it."""

    verdict: Verdict
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """What a component, or one feature of it, rests on.

    Attributes:
        place: what was asked for, `component` or `component/feature`.
        without: sources that were left out of judgement for this answer.
        titles: the titles of the sources that are named, by id.
        our_weights: what the team changed of the standard weights: (name, ours, standard); empty for none.
        people: the names of those who released what was decided, by their ids; empty in public.
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
) -> Evidence:
    """Put the verdicts of one component together with the cautions, the weights and the titles that belong to them."""
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
        features=features,
        our_weights=changed_weights(archive),
        titles={source: archive.sources[source].title for source in sorted(named | rested_on)},
        people={person.id: person.name for person in archive.people if person.id in released_by},
    )


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


def evidence_json(evidence: Evidence) -> dict[str, object]:
    """The JSON answer `evidence`."""
    return {
        **evidence.standing.as_json("evidence"),
        "for": evidence.audience,
        "notices": list(evidence.notices),
        "target": {
            "example": evidence.target.example,
            "as_at": evidence.target.as_at.text,
            "why": evidence.target.why,
        },
        "without": list(evidence.without),
        "cautions": cautions_json(evidence.cautions),
        "our_weights": {name: ours for name, ours, _ in evidence.our_weights},
        "features": [_feature_json(feature) for feature in evidence.features],
    }


def _feature_json(feature: FeatureEvidence) -> dict[str, object]:
    verdict = feature.verdict
    decision = verdict.decision
    return {
        "feature": verdict.feature,
        "name": verdict.name,
        "kind": verdict.kind.value,
        "grade": verdict.grade.value,
        "value": verdict.value,
        "quantity": verdict.quantity,
        "posterior": verdict.posterior,
        "lines": verdict.lines,
        "rests_on": list(verdict.rests_on),
        "lines_if_ruled_out": verdict.lines_if_ruled_out,
        "change_over": verdict.change_over,
        "explanation": verdict.explanation,
        "decision": None if decision is None else _decision_json(decision),
        "flags": list(feature.flags),
        "candidates": [_candidate_json(candidate) for candidate in verdict.candidates],
    }


def _decision_json(decision: Decision) -> dict[str, object]:
    released = decision.released
    return {
        "id": decision.id,
        "status": decision.status,
        "build": decision.build,
        "why": decision.why,
        "released": None if released is None else {"by": released.by, "date": released.date.text},
    }


def _candidate_json(candidate: Candidate) -> dict[str, object]:
    return {
        "value": candidate.value,
        "grade": candidate.grade.value,
        "posterior": candidate.posterior,
        "lines": candidate.lines,
        "weight_for": candidate.weight_for,
        "weight_against": candidate.weight_against,
        "items": [_item_json(item) for item in candidate.items],
    }


def _item_json(item: JudgedItem) -> dict[str, object]:
    return {
        "claim": item.claim,
        "source": item.source,
        "at": place_json(item.at),
        "stance": item.stance.value,
        "how": item.how.value,
        "applies": item.applies.value,
        "weight": item.weight,
        "counted": item.counted,
        "quote": item.quote,
    }


def place_json(at: At) -> dict[str, object]:
    """A place in a source; what is not said is left out."""
    said = {
        "page": at.page,
        "page_label": at.page_label,
        "region": None if at.region is None else str(at.region),
        "time": None if at.time is None else str(at.time),
        "file": at.file,
        "who": at.who,
    }
    return {name: value for name, value in said.items() if value is not None}
